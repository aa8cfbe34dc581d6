/* SPDX-License-Identifier: GPL-3.0-or-later
 * measure-private.h - lengths, quantities and directions as people write them.
 *
 *   1200 mm   12 cm   1.2 m   18 in   1-1/2 in   3/16"   5' 6-1/2"   10 ga   60 %
 *   top left   11 o'clock   30 deg   left end   centre
 *
 * Each reader takes one value's text whole. On a mistake it returns %FALSE with what was found as
 * message and what would be right as hf_error_fix(); the place is the caller's to add.
 */
#pragma once
#include "recipe/recipe.h"
#include "recipe/table.h"
#include "stock/metals.h"

/* A gauge is understood where a metal's thickness is asked for. */
typedef enum { HF_NO_GAUGE, HF_GAUGE_ALLOWED } HfGaugeUse;

/** hf_measure_length: mm. @metal: (nullable) whose gauge is meant. */
gboolean hf_measure_length(const char *text, HfGaugeUse gauge_use, const HfMetalKind *metal,
                           double *ret_mm, GError **error);
/** hf_measure_unit: (transfer none) "mm", "cm", "m" or "in" (feet too): what @text, a length that
 *  can be read, is written in. */
const char *hf_measure_unit(const char *text);
/** hf_measure_quantity: @text in @units; @example stands in the fix. */
gboolean hf_measure_quantity(const char *text, const HfUnit *units, const char *example,
                             double *ret_value, GError **error);
/** hf_measure_share: a length, or a share written `60 %`. */
gboolean hf_measure_share(const char *text, HfMeasure *ret_measure, GError **error);
/** hf_measure_number: a bare number, fractions allowed. */
gboolean hf_measure_number(const char *text, double *ret_value, GError **error);
/** hf_measure_limit: a number with any unit of the law table; @ret_unit: (transfer none) "mm",
 *  "mm2", "deg", "K" or "". */
gboolean hf_measure_limit(const char *text, double *ret_value, const char **ret_unit,
                          GError **error);
/** hf_measure_spot: a direction or a named place. */
gboolean hf_measure_spot(const char *text, HfSpot *ret_spot, GError **error);
/** hf_measure_looks_like_length: starts with a number and is no angle and no hour. */
gboolean hf_measure_looks_like_length(const char *text);
