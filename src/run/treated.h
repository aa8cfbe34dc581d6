/* SPDX-License-Identifier: GPL-3.0-or-later
 * treated.h - a recipe file with its cures: told, drawn, taken, made. What the commands do.
 */
#pragma once
#include "run/cures.h"
#include "run/job.h"

typedef struct {
  char *file;
  GBytes *text; /* the recipe as it was read */
  HfSign *given;
  GPtrArray *cures; /* HfCured *, ranked; empty: not looked for, or there is none */
  gboolean searched;
  gboolean no_further; /* the search ended before all was tried */
} HfTreated;

typedef enum {
  HF_SEARCH_ALWAYS,   /* also for what a caution says */
  HF_SEARCH_FOR_WHOLE /* only when the sign is not whole */
} HfSearch;

/** hf_treated_file: reads, runs, searches. (transfer full) or %NULL with the stage's error. */
HfTreated *hf_treated_file(const char *file, const HfRunOptions *options, HfSearch search,
                           const HfCuresOptions *cures, GError **error);
/** hf_treated_free: frees it and all that it owns; %NULL: nothing. */
void hf_treated_free(HfTreated *treated);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTreated, hf_treated_free)

/** hf_treated_list: (transfer full) the cures in plain words, numbered from 1. */
char *hf_treated_list(const HfTreated *treated, gboolean colour);
/** hf_treated_line: (transfer full) one cure: what it does, and what is seen of it. */
char *hf_treated_line(const HfCured *cured);
/** hf_treated_beside: what is looked for beside a recipe, and would not be found beside @file:
 *  "shop.yaml", "the font files", "the drawings"; %NULL: nothing. */
const char *hf_treated_beside(const HfTreated *treated, const char *file);

/**
 * hf_treated_save:
 * @over: an existing file may be replaced; the recipe itself never, by whatever name
 * Writes the text of @cured (%NULL: the recipe as it is) into @file. %FALSE with
 *   %HF_ERROR_BAD_VALUE (it is the recipe, or it is there already), %HF_ERROR_IO
 */
gboolean hf_treated_save(const HfTreated *treated, const HfCured *cured, const char *file,
                         gboolean over, GError **error);

/** hf_treated_draw: cure-1.svg, cure-2.svg, ... and cures.svg, a sheet of all, into @folder; those
 *  of earlier runs that this one does not make are removed. */
gboolean hf_treated_draw(const HfTreated *treated, const char *folder, GError **error);

/** hf_treated_job: (transfer full) the job that makes @cured (%NULL: the given sign): its report
 * tells of all cures, and the recipe of @cured goes into cured.yaml. Borrows from @treated. */
HfJob *hf_treated_job(const HfTreated *treated, const HfCured *cured, HfWishes wishes);
