/* SPDX-License-Identifier: GPL-3.0-or-later
 * schema-private.h - the one table of what a recipe may say.
 *
 * Each row is a key: where its value goes in the struct, what it may be, what it is when it is not
 * given, a line on it and an example. Reading, checking, the printed reference and the JSON Schema
 * all follow from it.
 */
#pragma once
#include "recipe/measure-private.h"

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
  guint kinds;             /* NAME, NAMES: bits of HfEntryKind that it may be; 0: any */
} HfField;

struct HfTable {
  const char *name; /* "words", as in: "heigth" is not a key of words */
  const char *doc;
  const HfField *fields;
  const HfTable *also; /* (nullable) searched after `fields` */
  const char *example; /* whole entry, for the reference */
};

extern const HfTable hf_table_recipe, hf_table_place, hf_table_shop;
/* (array length=HF_N_ENTRY_KINDS) */
extern const HfTable *const hf_table_entries[];

/** hf_table_field: (nullable) the row of @key, `also` included. */
const HfField *hf_table_field(const HfTable *table, const char *key);
/** hf_table_keys: (transfer container) all keys, zero-terminated. */
const char **hf_table_keys(const HfTable *table);
/** hf_field_min, hf_field_max: the range in force; NAN: none. */
double hf_field_min(const HfField *field);
double hf_field_max(const HfField *field);
/** hf_field_say: (transfer full) a value of the field as one would write it: "2 m", "45 %". */
char *hf_field_say(const HfField *field, double value);
/** hf_table_called: (transfer full) "a ring", "an ear", "words", "metal". */
char *hf_table_called(const HfTable *table);
/** hf_table_hint: (nullable) the key that is meant by a word that people also say. */
const char *hf_table_hint(const HfTable *table, const char *key);
