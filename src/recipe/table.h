/* SPDX-License-Identifier: GPL-3.0-or-later
 * table.h - the schema engine for whoever has a file of the same kind: a table of what the file may
 * say, from which reading, freeing, the printed reference and the JSON Schema follow.
 *
 *   HfTable ─> HfField {"kerf", LENGTH, where it goes in the struct, a line on it, 0.1 .. 10 mm}
 *              HfField {"chart", ROWS, ...} ─> HfTable of one row
 *
 * The recipe's own tables are in schema.c, the shop file's in shop/schema-shop.c.
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
  HF_FIELD_NUMBERS,   /* two doubles */
  HF_FIELD_SPACING,   /* of words: a length or share, or a rule; fills two fields */
  HF_FIELD_FONT,      /* HfFontWish: a family, or a table */
  HF_FIELD_TABLE,     /* fields of the same struct in a table of their own */
  HF_FIELD_ROWS,      /* GArray of structs: list of tables */
  HF_FIELD_LIMITS,    /* GArray of HfLimitOverride: table with free keys */
  HF_FIELD_ENTRIES,   /* the entries */
  HF_N_FIELD_TYPES
} HfFieldType;

typedef struct {
  const char *word; /* NULL ends the list */
  int value;
} HfChoice;

typedef struct HfTable HfTable;

enum { HF_REQUIRED = 1, HF_PLACES = 2 }; /* flags; PLACES: the entry's place depends on it */

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
  const HfTable *table;    /* FONT, TABLE, ROWS */
  gsize row_size;          /* ROWS */
  gsize row_mark;          /* ROWS: offset of the HfMark that its place goes to; 0: nowhere */
  guint kinds;             /* NAME, NAMES: bits of HfEntryKind that it may be; 0: any */
} HfField;

struct HfTable {
  const char *name; /* "words", as in: "heigth" is not a key of words */
  const char *doc;
  const HfField *fields;
  const HfTable *also; /* (nullable) searched after `fields` */
  const char *example; /* whole entry, for the reference */
};

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
