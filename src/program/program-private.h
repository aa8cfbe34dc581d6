/* SPDX-License-Identifier: GPL-3.0-or-later
 * program-private.h - what the files of the program reader share.
 *
 *   read-block.c   one line to its words      code-words.c  G and M words, their groups
 *   expression.c   one value                  zero-point.c  offsets, G10, G92
 *   interpret.c    a block, step by step      motion.c      lines and arcs
 *
 * Places in messages are columns of the line, from 1, in bytes.
 */
#pragma once
#include "program/program.h"

enum {
  HF_LINE_LONGEST = 256,      /* NISTIR 6556, 3.3 */
  HF_PARAMETERS = 5400,       /* 3.2.1: numbers 1 to 5399 */
  HF_SETTINGS_MOST = 64,      /* on a line: none shorter than `#1=1` fits more often */
  HF_EXPRESSION_DEEPEST = 32, /* brackets, functions and # in each other; ours */
  HF_M_WORDS_MOST = 4,        /* 3.3.5 */
  HF_AXES = 6,                /* X Y Z A B C */
  HF_SYSTEMS = 9,             /* G54 to G59.3 */
};

typedef enum { /* Table 4 of the report; one word of each on a line */
               HF_GROUP_ONCE,
               HF_GROUP_MOTION,
               HF_GROUP_PLANE,
               HF_GROUP_DISTANCE,
               HF_GROUP_FEED_MODE,
               HF_GROUP_UNITS,
               HF_GROUP_RADIUS,
               HF_GROUP_LENGTH,
               HF_GROUP_RETURN,
               HF_GROUP_SYSTEM,
               HF_GROUP_PATH,
               HF_GROUP_STOP,
               HF_GROUP_TOOL,
               HF_GROUP_SPINDLE,
               HF_GROUP_COOLANT,
               HF_GROUP_OVERRIDE,
               HF_GROUPS
} HfGroup;

/* A word of a group, as written: tenths of its number; column 0: none. */
typedef struct {
  int code;
  guint column;
} HfCode;

typedef struct {
  guint number;
  double value;
} HfSetting;

/* One line, read but not done. */
typedef struct {
  double value[26]; /* of letter 'A' + i, but G, M and N */
  guint column[26]; /* where the letter stands; 0: it doesn't */
  HfCode of[HF_GROUPS];
  guint n_m;
  HfSetting settings[HF_SETTINGS_MOST];
  guint n_settings;
  const char *comment; /* (borrowed) (nullable) in the line */
  guint n_comment;
} HfBlock;

typedef struct {
  HfProgram *program;
  guint line;
  double unit; /* mm; 0: not said yet */
  double feed; /* as said, in the unit and mode said; NAN: not said */
  int motion;  /* tenths: 0, 10, 20, 30; 800: none */
  HfPlane plane;
  gboolean incremental, inverse, lit, over;
  double at[HF_AXES];                   /* mm, degrees; the machine's frame */
  double shift[HF_AXES], kept[HF_AXES]; /* G92, and what G92.3 brings back */
  double origin[HF_SYSTEMS][HF_AXES];
  guint system; /* 0: G54 */
  guint named;
  double parameters[HF_PARAMETERS];
  guint8 set[HF_PARAMETERS];
} HfReader;

/* A line while it is read. */
typedef struct {
  const HfReader *reader;
  const char *text; /* not zero-terminated */
  guint n, at, depth;
} HfLine;

/** hf_reader_refuse: always %FALSE. @column 0: the line as a whole. */
gboolean hf_reader_refuse(const HfReader *reader, guint column, const char *fix, GError **error,
                          const char *format, ...) G_GNUC_PRINTF(5, 6);

/** hf_reader_figure: (transfer full) a number of the program as text for a message. */
char *hf_reader_figure(double value);

/** hf_line_peek: the next character but blanks, small letters for large; 0 at the end. */
char hf_line_peek(HfLine *line);
/** hf_line_take: is @c, not a letter, next? It is passed then. */
gboolean hf_line_take(HfLine *line, char c);
/** hf_line_here: column of what is next. */
guint hf_line_here(HfLine *line);
/** hf_line_value: a number, parameter, expression or function (3.3.2). */
gboolean hf_line_value(HfLine *line, double *ret_value, GError **error);
/** hf_line_parameter: the number of a parameter, behind its #. */
gboolean hf_line_parameter(HfLine *line, guint *ret_number, GError **error);

/** hf_block_read: @line to its words; @block is cleared first. */
gboolean hf_block_read(HfLine *line, HfBlock *block, GError **error);
/** hf_block_add_code: a G or M word. */
gboolean hf_block_add_code(const HfReader *reader, HfBlock *block, char letter, double number,
                           guint column, GError **error);

static inline gboolean
hf_block_has(const HfBlock *block, char letter)
{
  return block->column[letter - 'A'] != 0;
}
static inline double
hf_block_value(const HfBlock *block, char letter)
{
  return block->value[letter - 'A'];
}
static inline guint
hf_block_column(const HfBlock *block, char letter)
{
  return block->column[letter - 'A'];
}
/** hf_block_first_axis: column of the first axis word in the order X Y Z A B C; 0: there is none.
 */
guint hf_block_first_axis(const HfBlock *block);
extern const char hf_axis_letters[HF_AXES + 1];

/** hf_reader_whole: the value of @letter as a whole number within 0.0001 (3.3.2.1) and from @least
 *  to @most. */
gboolean hf_reader_whole(const HfReader *reader, const HfBlock *block, char letter, int least,
                         int most, int *ret_value, GError **error);

/** hf_reader_do: the block, in the order of Table 8. */
gboolean hf_reader_do(HfReader *reader, const HfBlock *block, GError **error);
/** hf_reader_move: its motion, if it has one. */
gboolean hf_reader_move(HfReader *reader, const HfBlock *block, GError **error);
/** hf_reader_zero: G10, G92 and its like, if it has one. */
gboolean hf_reader_zero(HfReader *reader, const HfBlock *block, GError **error);
/** hf_reader_system_parameter: what the interpreter itself keeps in @number (3.2.1), in the unit
 *  said; %FALSE: nothing. */
gboolean hf_reader_system_parameter(const HfReader *reader, guint number, double *ret_value);
/** hf_reader_unit: mm or degrees in one unit of @axis. %FALSE: G20 or G21 is missing. */
gboolean hf_reader_unit(const HfReader *reader, guint axis, guint column, double *ret_unit,
                        GError **error);
/** hf_reader_put: adds a move of @kind from where the torch is to @to, and takes it there.
 *  Returns: (transfer none) it, until the next one. */
HfMove *hf_reader_put(HfReader *reader, HfMoveKind kind, const double *to);
