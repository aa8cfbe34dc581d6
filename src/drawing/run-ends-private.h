/* SPDX-License-Identifier: GPL-3.0-or-later
 * run-ends-private.h - runs of curves: end to end, closed, compared.
 */
#pragma once
#include "geom/outline.h"

/** hf_run_append: adds @from to @to, @backwards turned round; the last of @to and the first of
 *  @from are brought together where they do not meet: lines to where they cross, others to the
 *  middle of the gap, or by a line across it. Gaps are small beside the curves. */
void hf_run_append(GArray *to, const GArray *from, gboolean backwards);
/** hf_run_close: likewise the last and the first of @run. */
void hf_run_close(GArray *run);
/** hf_run_heading: unit vector from its start along it, or from its end back along it. */
HfPoint hf_run_heading(const GArray *run, gboolean from_start);
/** hf_runs_alike: do both have the same curves within @tolerance, either way round? */
gboolean hf_runs_alike(const GArray *a, const GArray *b, double tolerance);
