/* SPDX-License-Identifier: GPL-3.0-or-later
 * value-private.h - one value on its way from a node into its field; the readers, one for each
 * HfFieldType. On a mistake a reader says so and leaves the field as it was.
 */
#pragma once
#include "recipe/read-private.h"

typedef struct {
  HfReader *reader;
  const HfTable *table; /* whose field it is, for messages */
  const HfField *field;
  const HfNode *node;
  void *base, *at; /* the struct, and the field in it */
} HfValue;

/** hf_value_want: is @node a @kind, and not empty? Else the mistake is told. */
gboolean hf_value_want(const HfValue *value, const HfNode *node, HfNodeKind kind);
/** hf_value_in_range: is @number in the range of the field? Else the mistake is told. */
gboolean hf_value_in_range(const HfValue *value, const HfNode *node, double number);
/** hf_value_text_fits: is its text at most HF_RECIPE_MAX_TEXT long? Else the mistake is told. */
gboolean hf_value_text_fits(const HfValue *value, const HfNode *node);
/** hf_value_mistake: tells what a value reader of measure-private.h found, with the place. */
void hf_value_mistake(const HfValue *value, const HfNode *node, const GError *error);
/** hf_value_note_unit: the entry says this field in the unit of @text. */
void hf_value_note_unit(const HfValue *value, const char *text);
/** hf_value_length_at, hf_value_number_at: one length (mm) or number of the field, in its range.
 *  hf_value_pair: two of them in a list. %FALSE: a mistake, nothing is returned. */
gboolean hf_value_length_at(const HfValue *value, const HfNode *node, double *ret_mm);
gboolean hf_value_number_at(const HfValue *value, const HfNode *node, double *ret_number);
gboolean hf_value_pair(const HfValue *value, const HfNode *node,
                       gboolean (*one)(const HfValue *, const HfNode *, double *),
                       double *ret_pair);

/** hf_said_instead: (nullable) (static) what to write where people say @said for a choice of the
 *  field @key ("metal": of the kind of metal). said-instead.c */
const char *hf_said_instead(const char *key, const char *said);

/** hf_value_read: the value of any field. */
void hf_value_read(const HfValue *value);

/** Each reads the value of one type of field from its node into @value->at, within its range
 *  and in the unit of the struct (mm, radians, shares of 1). What is wrong is a mistake at
 *  its place, and nothing is written. */
void hf_value_length(const HfValue *value);
void hf_value_share(const HfValue *value);
void hf_value_quantity(const HfValue *value);
void hf_value_number(const HfValue *value);
void hf_value_ratio(const HfValue *value);
void hf_value_whole(const HfValue *value);
void hf_value_yes(const HfValue *value);
void hf_value_maybe(const HfValue *value);
void hf_value_text(const HfValue *value);
void hf_value_texts(const HfValue *value);
void hf_value_path(const HfValue *value);
void hf_value_metal(const HfValue *value);
void hf_value_name(const HfValue *value);
void hf_value_names(const HfValue *value);
void hf_value_choice(const HfValue *value);
void hf_value_choices(const HfValue *value);
void hf_value_direction(const HfValue *value);
void hf_value_point(const HfValue *value);
void hf_value_numbers(const HfValue *value);
void hf_value_margin(const HfValue *value);
void hf_value_points(const HfValue *value);
void hf_value_spots(const HfValue *value);
void hf_value_spacing(const HfValue *value);
void hf_value_colour(const HfValue *value);
void hf_value_finish(const HfValue *value);
void hf_value_wall(const HfValue *value);
