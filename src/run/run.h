/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.h - calls the stages in order; the only place that knows them all (the door of run/).
 */
#pragma once
#include "out/out.h"
#include "recipe/edit.h"
#include "recipe/order.h"
#include "recipe/tree.h"

typedef struct {
  const char *shop_file;  /* (nullable) instead of the one found */
  const HfCancel *cancel; /* (nullable) */
  gboolean shown;         /* hf_run_view comes next: finds what it needs beside the check */
  const HfOrder *order;   /* (nullable) of a file that is a drawing by itself */
} HfRunOptions;

/** hf_run_given: (transfer full) the text of the recipe @file; of a drawing, that of @order.
 *  %HF_ERROR_NOT_FOUND, %HF_ERROR_IO, %HF_ERROR_TOO_BIG; %HF_ERROR_BAD_VALUE: an order without
 * metal or thickness, or beside a recipe. */
GBytes *hf_run_given(const char *file, const HfOrder *order, GError **error);

/** hf_run_drawings: (transfer full) (element-type char *) the files of drawings that the recipe
 * @file names, as the caller reaches them; none where it can't be read. */
GPtrArray *hf_run_drawings(const char *file);

/** hf_run_file: recipe, or drawing, to verdict. (transfer full) or %NULL with the stage's error. */
HfSign *hf_run_file(const char *file, const HfRunOptions *options, GError **error);
/** hf_run_text: the same from memory; @file names it and says where `shop.yaml` and fonts lie. */
HfSign *hf_run_text(const char *text, gsize length, const char *file, const HfRunOptions *options,
                    GError **error);

/** hf_run_view: (transfer full) what the page shows of it (out/view.h); @revision: of the document.
 *  Not all of it when @cancel (nullable) said stop. */
GBytes *hf_run_view(const HfSign *sign, guint64 revision, const HfCancel *cancel);

/** hf_run_thumb: (transfer full) a small SVG of its metal, in one colour, for choosing. */
GBytes *hf_run_thumb(const HfSign *sign);

/** hf_run_verdict: (transfer full) the verdict and its findings in plain words, for a terminal;
 *  @all: with every place of a finding that was gathered from several. */
char *hf_run_verdict(const HfSign *sign, gboolean colour, gboolean all);
/** hf_run_sizes: (transfer full) a table for a terminal, a line an entry: how wide and high it is,
 *  where its box begins, how far it is from the nearest edge (hf_sign_sizes()). */
char *hf_run_sizes(const HfSign *sign);
