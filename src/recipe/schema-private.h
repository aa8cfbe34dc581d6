/* SPDX-License-Identifier: GPL-3.0-or-later
 * schema-private.h - the tables of what a recipe may say, see kind.h.
 *
 * Reading, checking, the printed reference, the JSON Schema and what the page is told all follow
 * from them.
 */
#pragma once
#include "recipe/kind.h"
#include "recipe/measure-private.h"
#include "recipe/table.h"

extern const HfTable hf_table_recipe, hf_table_place;

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

/** hf_patterns: names of the patterns of values, %NULL at the end. hf_pattern: (transfer full)
 *  (nullable) the regular expression of one, for ECMAScript with the flag u; %NULL: no such name.
 *  hf_field_ref: (nullable) what a value of @type is by itself, one of those or "text" or
 *  "yes-or-no"; %NULL: it is made of others. */
extern const char *const hf_patterns[];
char *hf_pattern(const char *name);
const char *hf_field_ref(HfFieldType type);
