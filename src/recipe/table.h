/* SPDX-License-Identifier: GPL-3.0-or-later
 * table.h - the schema engine for whoever has a file of the same kind: a table of what the file may
 * say, from which reading, freeing, the printed reference and the JSON Schema follow.
 *
 *   HfTable ─> HfField {"kerf", LENGTH, where it goes in the struct, a line on it, 0.1 .. 10 mm}
 *              HfField {"chart", ROWS, ...} ─> HfTable of one row
 *
 * The recipe's own tables are in schema-recipe.c and, one file a kind of entry, in kind-*.c
 * (kind.h); the shop file's is in shop/schema-shop.c. Roles, grips and strips are for fields of
 * entries.
 */
#pragma once
#include "recipe/recipe.h"

/* What a number may be followed by. The empty unit allows a bare number. */
typedef struct {
  const char *unit;
  double factor; /* to our own unit */
} HfUnit;

extern const HfUnit hf_units_angle[];  /* rad */
extern const HfUnit hf_units_feed[];   /* mm/min */
extern const HfUnit hf_units_time[];   /* s */
extern const HfUnit hf_units_faster[]; /* mm/s2 */
extern const HfUnit hf_units_ampere[]; /* A */

typedef enum {
  HF_FIELD_LENGTH,    /* double, mm */
  HF_FIELD_THICKNESS, /* double, mm; a gauge is understood */
  HF_FIELD_SHARE,     /* HfMeasure: length or share */
  HF_FIELD_QUANTITY,  /* double, in `units` */
  HF_FIELD_NUMBER,    /* double */
  HF_FIELD_RATIO,     /* double: number or share */
  HF_FIELD_WHOLE,     /* int */
  HF_FIELD_YES,       /* gboolean */
  HF_FIELD_MAYBE,     /* double: 0 no, 1 yes */
  HF_FIELD_TEXT,      /* char * */
  HF_FIELD_TEXTS,     /* GPtrArray of char *: a text or a list of texts, one a line */
  HF_FIELD_PATH,      /* char *: a file in the recipe's own folder */
  HF_FIELD_METAL,     /* char *: key of a metal */
  HF_FIELD_NAME,      /* char *: name of an entry */
  HF_FIELD_NAMES,     /* GPtrArray of char * */
  HF_FIELD_PIN,       /* char *: a name, or "2nd A of NAME" */
  HF_FIELD_PINS,      /* GPtrArray of char *: names, or "2nd A of NAME" */
  HF_FIELD_CHOICE,    /* int: one of `choices` */
  HF_FIELD_CHOICES,   /* GArray of int */
  HF_FIELD_SPOT,      /* double, rad: a direction */
  HF_FIELD_SPOTS,     /* GArray of HfSpot */
  HF_FIELD_POINT,     /* two doubles, mm */
  HF_FIELD_POINTS,    /* GArray of HfPoint, mm */
  HF_FIELD_NUMBERS,   /* two doubles */
  HF_FIELD_MARGIN,    /* four doubles, mm: left, right, top, bottom; said by one, two or four */
  HF_FIELD_SPACING,   /* of words: a length or share, or a rule; fills two fields */
  HF_FIELD_FONT,      /* HfFontWish: a family, or a table */
  HF_FIELD_COLOUR,    /* HfColour: RAL number, a name, #rrggbb */
  HF_FIELD_FINISH,    /* HfFinish: words, or a table */
  HF_FIELD_WALL,      /* HfWall: a material or a colour */
  HF_FIELD_TABLE,     /* fields of the same struct in a table of their own */
  HF_FIELD_ROWS,      /* GArray of structs: list of tables */
  HF_FIELD_LIMITS,    /* GArray of HfLimitOverride: table with free keys */
  HF_FIELD_ENTRIES,   /* the entries */
  HF_N_FIELD_TYPES
} HfFieldType;

/* Flags. PLACES: the entry's place depends on it; PICTURED: its choices are shapes, so the page
 * shows each of them (recipe/choice-shown.c). */
enum { HF_REQUIRED = 1, HF_PLACES = 2, HF_PICTURED = 4 };

/* What a field of an entry is to whoever changes the sign: bits. Each field says at least one. */
typedef enum {
  HF_ROLE_NONE = 1 << 0,     /* none of these, and that on purpose */
  HF_ROLE_PICTURE = 1 << 1,  /* mm of the picture: grows with the whole sign */
  HF_ROLE_KEPT = 1 << 2,     /* mm that do not: hook, screw and limit do not grow with the sign */
  HF_ROLE_IN_EMS = 1 << 3,   /* numbers: ems of a letter, which grow by themselves; else mm */
  HF_ROLE_BITE = 1 << 4,     /* how deep it runs into what holds it */
  HF_ROLE_CLEAR = 1 << 5,    /* a gap that stays free of metal */
  HF_ROLE_BORE = 1 << 6,     /* diameter of a round opening, or of what may be one */
  HF_ROLE_SIZE = 1 << 7,     /* left out, the entry is as large as fills its band or window */
  HF_ROLE_STAND = 1 << 8,    /* names what it stands on */
  HF_ROLE_BESIDE = 1 << 9,   /* names what it is beside */
  HF_ROLE_BAND = 1 << 10,    /* names the two rings between which it is */
  HF_ROLE_WINDOW = 1 << 11,  /* names the ring whose window it fills */
  HF_ROLE_SPLIT = 1 << 12,   /* names the words that run across it */
  HF_ROLE_OVER = 1 << 13,    /* names what it runs round, about the same centre */
  HF_ROLE_AROUND = 1 << 14,  /* names what its outline goes round: they come before it */
  HF_ROLE_PART = 1 << 15,    /* names whose parts, or which letter, it is about */
  HF_ROLE_SPARED = 1 << 16,  /* names what it must not touch */
  HF_ROLE_FILL = 1 << 17,    /* yes: it is as large as fills its band */
  HF_ROLE_MEMBERS = 1 << 18, /* names what it places as one */
} HfRole;

/* mentions that hold an entry back until what they name is laid, but for what it stands on */
#define HF_ROLES_WAIT                                                                              \
  (HF_ROLE_BESIDE | HF_ROLE_BAND | HF_ROLE_WINDOW | HF_ROLE_SPLIT | HF_ROLE_OVER | HF_ROLE_MEMBERS)

/* Where on the sign one grips a length (out/handles.c works out the point). */
typedef enum {
  HF_GRIP_NONE,
  HF_GRIP_OUTER,  /* on its round edge, top right */
  HF_GRIP_INNER,  /* on its round edge, top left: both can be caught */
  HF_GRIP_RIGHT,  /* half of it to the right of its middle, turned along */
  HF_GRIP_TOP,    /* half of it above its middle, turned along */
  HF_GRIP_LETTER, /* on top of a letter */
  HF_GRIP_ARC,    /* at the foot of a letter that stands on an arc */
  HF_GRIP_HOLE,   /* on the rim of the hole that it hangs by */
  HF_GRIP_CIRCLE, /* half of it to the right of the middle of all its shapes */
  HF_GRIP_CROWN,  /* at the inner crown of an arch */
  HF_GRIP_POINT,  /* at its lower end */
  HF_GRIP_CREST,  /* of a wave: at a crest, half of it above its middle */
  HF_GRIP_WAVE,   /* half of it to the right of its middle: where the wave falls */
  HF_GRIP_RISE,   /* of an arch: at the foot of its middle letter; may be less than 0 */
  HF_GRIP_AXES,   /* two lengths: half of each to the right of and above what it goes round */
  HF_GRIP_SIDES,  /* two lengths: to the right of and above its own middle */
  HF_N_GRIPS
} HfGripAt;

typedef struct {
  HfGripAt at;
  const char *name; /* "outer diameter" */
} HfGrip;

/* A length that makes metal wider. */
typedef struct {
  double way;           /* mm of this length for one mm of metal; < 0: the smaller it is; 0: none */
  const char *words[3]; /* "make the strip of ", " ", " wider": before the entry's name, behind it,
                           behind how much */
} HfStrip;

/* What two figures in one field are to each other: how they are said together. */
typedef enum {
  HF_PAIR_PLACE, /* 30 mm across and -10 mm up */
  HF_PAIR_SIZE,  /* 900 mm by 200 mm */
  HF_PAIR_STEP,  /* 300 mm across and 200 mm down */
} HfTwo;

/* How a field is said on the page and understood from a phrase. All may be left out. */
typedef struct {
  const char *label;          /* what it is called beside its value; NULL: its key */
  const char *before, *after; /* about the value where it is said by itself; before NULL: its key */
  const char *yes, *no;       /* YES, MAYBE: said so */
  const char *heard;          /* words beside a figure that mean it, as `across|diameter|of`; `of`:
                                 its main size */
  HfTwo pair;                 /* POINT: what its two figures are */
  double usual; /* > 0: what a new entry says when it must say something: mm, or a number */
} HfFieldWords;

typedef struct {
  const char *word; /* NULL ends the list. The same value as the row above: another spelling */
  int value;
  const char *said, *about;     /* (nullable) on the page: in a sentence, and what it means */
  const char *heard;            /* (nullable) what a phrase says for it, as a pattern */
  const char *must[4], *may[4]; /* fields that it must and may have; of fields that no choice
                                   lists each may be said */
  const char *unless; /* (nullable) said, no length among `must` is asked for: it follows */
  double tall;        /* > 0: the page gives it a height of this share of its width at the least */
} HfChoice;

typedef struct HfTable HfTable;

typedef struct {
  const char *key; /* NULL ends the table */
  HfFieldType type;
  guint flags;
  gsize offset;
  const char *doc, *example;
  const char *otherwise;   /* value that is read when none is given */
  double min, max;         /* both 0: the usual range of the type */
  const HfChoice *choices; /* CHOICE, CHOICES */
  const HfUnit *units;     /* QUANTITY */
  const HfTable *table;    /* FONT, FINISH, TABLE, ROWS */
  gsize row_size;          /* ROWS */
  gsize row_mark;          /* ROWS: offset of the HfMark that its place goes to; 0: nowhere */
  guint kinds;             /* NAME, NAMES: bits of HfEntryKind that it may be; 0: any */
  guint roles;             /* HfRole; of an entry's fields at least one */
  HfGrip grip;
  HfStrip strip;
  HfFieldWords words;
} HfField;

/* Two keys that say the same thing twice or contradict each other. */
typedef struct {
  const char *a, *b; /* a NULL ends the list */
} HfClash;

/* A key that says nothing without one of the others. */
typedef struct {
  const char *key; /* NULL ends the list */
  const char *needs[5];
} HfNeed;

struct HfTable {
  const char *name; /* "words", as in: "heigth" is not a key of words */
  const char *doc;
  const HfField *fields;
  const HfTable *also;    /* (nullable) searched after `fields` */
  const char *example;    /* whole entry, for the reference */
  const HfClash *clashes; /* (nullable) */
  const HfNeed *needs;    /* (nullable) */
};

/** hf_table_field: (nullable) the row of @key, `also` included. */
const HfField *hf_table_field(const HfTable *table, const char *key);

/** hf_table_init: every field of @table in @base as when nothing was given.
 *  hf_table_clear: frees what they own. */
void hf_table_init(const HfTable *table, void *base);
void hf_table_clear(const HfTable *table, void *base);

/* A file that was read without a mistake, for checks that look at several of its values. */
typedef struct HfTold HfTold;
/** hf_told_says: does the file say @key? */
gboolean hf_told_says(const HfTold *told, const char *key);
/** hf_told_refuse: a mistake at the value of @key, or at item @row of that value; @row < 0: at the
 *  value itself. @fix is what would be right; both are sentences without end. */
void hf_told_refuse(HfTold *told, const char *key, int row, const char *fix, const char *format,
                    ...) G_GNUC_PRINTF(5, 6);

/**
 * hf_table_read:
 * @what: what such a file is called: "a shop file"
 * @file: (nullable) name to call it by in messages
 * @check: (nullable) run when every value was right by itself
 * @base: the struct, which hf_table_init() has prepared
 * Reads YAML or JSON of at most %HF_RECIPE_MAX_BYTES. Returns: %FALSE with the mistakes as
 *   hf_recipe_read() gives them; @base is then still the caller's to clear
 */
gboolean hf_table_read(const HfTable *table, const char *what, const char *text, gsize length,
                       const char *file, void (*check)(HfTold *told, const void *base), void *base,
                       GError **error);

/** hf_table_reference: (transfer full) the printed reference of @table and the tables in it,
 *  Markdown under @heading. */
char *hf_table_reference(const HfTable *table, const char *heading);
/** hf_table_schema: (transfer full) the JSON Schema (draft 2020-12) of a file that has no entries.
 */
char *hf_table_schema(const HfTable *table, const char *title);
