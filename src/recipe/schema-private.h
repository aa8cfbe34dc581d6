/* SPDX-License-Identifier: GPL-3.0-or-later
 * schema-private.h - the one table of what a recipe may say.
 *
 * Each row is a key: where its value goes in the struct, what it may be, what it is when it is not
 * given, a line on it and an example. Reading, checking, the printed reference and the JSON Schema
 * all follow from it.
 */
#pragma once
#include "recipe/measure-private.h"
#include "recipe/table.h"

extern const HfTable hf_table_recipe, hf_table_place;
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
