/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind.h - what kinds of entry there are, and what each may say: one row each, in a file each.
 *
 *   kinds.def        one line a kind, in the order of the reference
 *   kind-ring.c      its row:  word, fields, what can't be said together, checks, sentence
 *     outer: 600 mm   a field:  where its value goes, what it may be, its ROLES
 *
 * Whoever changes, draws or tells a sign goes through rows and roles and never through a list of
 * kinds: a kind that has a length of the picture scales, one that may stand in a band makes room
 * there. Only what lays a kind out, and solvers about one kind, know it by HfEntryKind.
 *
 * All rows are constant and live as long as the program; nothing here is freed by the caller.
 */
#pragma once
#include "geom/outline.h"
#include "recipe/table.h"

/* What a kind is: bits. */
typedef enum {
  HF_KIND_GROUND = 1 << 0,    /* what the rest stands on and hangs from */
  HF_KIND_LETTERING = 1 << 1, /* is set in a font */
  HF_KIND_PLURAL = 1 << 2,    /* "words need", not "a ring needs" */
  HF_KIND_FIXTURE = 1 << 3,   /* fixed to an edge or cut into it: no part of the picture */
  HF_KIND_EDGE = 1 << 4,      /* a fixture that stands out from an edge */
  HF_KIND_OPENS = 1 << 5,     /* cuts an opening whatever it says */
  HF_KIND_PIN = 1 << 6,       /* a tie put by hand: laid after all the metal there is */
  HF_KIND_RULE = 1 << 7,      /* has no shape until there is metal */
  HF_KIND_ENDS = 1 << 8,      /* a straight strip: it has a left and a right end */
  HF_KIND_AREA = 1 << 9,      /* a sheet that openings are cut from */
  HF_KIND_GROUP = 1 << 10,    /* has no shape of its own: it places its members as one */
} HfKindFlags;

#define HF_KINDS_LAST        (HF_KIND_PIN | HF_KIND_RULE) /* look at all the metal there is */
#define HF_KINDS_PICTURE_NOT (HF_KIND_FIXTURE | HF_KINDS_LAST)

/* Which way ties run, and what becomes of dots: the recipe's rule and the shop file say it alike.
 */
extern const HfChoice hf_choices_tie_direction[], hf_choices_tie_along[], hf_choices_tie_dots[];
extern const HfChoice hf_choices_ornament[]; /* by HfOrnamentForm */

/* How sharp the tips of a separator are, and where: for the solver of the band that it fills. */
typedef struct {
  double half_angle;  /* rad, of a tip; 0: round, of the shape's own half height */
  double beta;        /* rad: the tips at its foot lie this far off its axis */
  gboolean tip_below; /* it has its one tip at its foot, and two beside its axis on top */
} HfTips;

/* A shape of separator. */
typedef struct {
  void (*draw)(HfOutline *own, const HfSeparatorEntry *separator); /* half height 1, middle 0 0 */
  HfTips (*tips)(const HfSeparatorEntry *separator);
} HfSeparatorShape;

typedef struct HfReader HfReader;
typedef struct HfNode HfNode;

/* A sentence, as in `a ring, {outer} across[, {inner} inside]{place}`:
 *
 *   {outer}        the value of a field          {a shape}      with its article
 *   [one|other]    the first alternative all of whose fields the recipe says, or nothing; a field
 *                  that an entry needs counts as said
 *   {?as=opening}  only the condition that `as` says so; {?over}: that it is said; {!fill}: is not
 *   {place}        where it goes, alike for all kinds
 *   {rest}         here whatever is said and stands nowhere else; without it at the end
 *
 * A field that no sentence says is said by its own words (HfFieldWords), so nothing is left out. */

/* What the page writes for a new entry of a kind beyond the usual figures of its fields. */
typedef struct {
  const char *name;     /* (nullable) what it is called; NULL: nothing */
  const char *text;     /* (nullable) LETTERING: what it says when nothing is quoted */
  const char *choice;   /* (nullable) of the field that decides which sizes there are */
  gboolean on_ground;   /* it is placed on what is named, or on the first ground */
  const char *at;       /* (nullable) where, as in a recipe */
  const char *at_ends;  /* (nullable) on a straight strip; NULL: as `at` */
  const char *at_alone; /* (nullable) where there is no ground; NULL: as `at` */
} HfBegin;

struct HfKind {
  HfTable table; /* its word, a line on it, what it may say, an example */
  HfEntryKind kind;
  guint flags;           /* HfKindFlags */
  const char *one_of[8]; /* at least one of these must be said; none: no matter */
  void (*check)(HfReader *reader, const HfNode *node,
                const HfEntry *entry); /* (nullable) figures */
  const HfSeparatorShape *shape;       /* separators */
  const char *called;                  /* in a list of kinds: "a pattern of holes" */
  const char *heard;    /* (nullable) what people also call it, as a pattern; NULL: its word */
  const char *first;    /* field that is typed first when it is new */
  const char *sentence; /* how the page says it, see above */
  HfBegin begin;
  char *(*more)(void); /* (nullable) (transfer full) what the reference says besides its fields */
};

/** hf_kinds: every row, in the order of the reference, %NULL at the end. */
extern const HfKind *const hf_kinds[];

/** hf_kind_of_word: (nullable) the row of @word: "gate arch". */
const HfKind *hf_kind_of_word(const char *word);
/** hf_kind: the first row of @kind. */
const HfKind *hf_kind(HfEntryKind kind);
/** hf_entry_row: the row of @entry; of one that was not read the first of its kind. */
const HfKind *hf_entry_row(const HfEntry *entry);
/** hf_entry_word: "ring", "gate arch": what the recipe calls @entry's kind. */
const char *hf_entry_word(const HfEntry *entry);
/** hf_entry_is: is its kind one of @flags (HfKindFlags)? */
gboolean hf_entry_is(const HfEntry *entry, guint flags);

/** hf_entry_says: does the recipe say the length @key of it? What was worked out or stays by
 *  default is not said. */
gboolean hf_entry_says(const HfEntry *entry, const char *key);
/** hf_entry_on: (nullable) (transfer none) the name of the entry that it is placed on: as its place
 *  says, or words inside it. */
const char *hf_entry_on(const HfEntry *entry);
/** hf_words_are_level: words on straight level lines, as their face has them: along no arc, band or
 *  other line, and not drawn out to a shape. %FALSE of what is no words. */
gboolean hf_words_are_level(const HfEntry *entry);
/** hf_entry_role: (nullable) the first field of @entry with one of @roles. */
const HfField *hf_entry_role(const HfEntry *entry, guint roles);
/** hf_entry_length: mm of @field, a LENGTH; NAN: not given. */
double hf_entry_length(const HfEntry *entry, const HfField *field);
/** hf_entry_names: does a field with one of @roles (NAME, NAMES) name @name? */
gboolean hf_entry_names(const HfEntry *entry, guint roles, const char *name);
/** hf_entry_all_names: (transfer full) (element-type char *) all that fields of NAME and NAMES say,
 *  borrowed from @entry; may be empty. */
GHashTable *hf_entry_all_names(const HfEntry *entry);
/** hf_entry_band: (nullable) (element-type char*) the rings of its band; %NULL: it is in none. */
const GPtrArray *hf_entry_band(const HfEntry *entry);
/** hf_entry_font: (nullable) what it is set in; %NULL: no lettering. */
const HfFontWish *hf_entry_font(const HfEntry *entry);
/** hf_font_is_face: do both ask for the same face, at whatever size? */
gboolean hf_font_is_face(const HfFontWish *a, const HfFontWish *b);
/** hf_entry_line: (nullable) line @i, from 0, of what it says, UTF-8; %NULL: it has no such line,
 * or is no lettering. */
const char *hf_entry_line(const HfEntry *entry, guint i);
