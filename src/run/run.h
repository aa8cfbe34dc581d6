/* SPDX-License-Identifier: GPL-3.0-or-later
 * run.h - calls the stages in order; the only place that knows them all (the door of run/).
 */
#pragma once
#include "cure/cure.h"
#include "out/out.h"
#include "recipe/edit.h"
#include "recipe/tree.h"

/* One recipe taken through the stages. Owns everything it holds. */
typedef struct {
  HfRecipe *recipe;
  HfShop *shop;
  HfFonts *fonts;
  HfLayout *layout;
  HfMetal *metal;
  HfHold *hold;
  HfFit *fit;       /* (nullable) of the metal, where it was asked for */
  GPtrArray *works; /* HfWork *: what each rule of the recipe came to, in recipe order */
} HfRun;

typedef struct {
  const char *shop_file;  /* (nullable) instead of the one found */
  const HfCancel *cancel; /* (nullable) */
  gboolean shown;         /* hf_run_view comes next: finds what it needs beside the check */
} HfRunOptions;

/** hf_run_file: recipe to verdict. (transfer full) or %NULL with the stage's error. */
HfRun *hf_run_file(const char *file, const HfRunOptions *options, GError **error);
/** hf_run_text: the same from memory; @file names it and says where `shop.yaml` and fonts lie. */
HfRun *hf_run_text(const char *text, gsize length, const char *file, const HfRunOptions *options,
                   GError **error);
void hf_run_free(HfRun *run);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfRun, hf_run_free)

/** hf_run_sheetful: what a writer may show of @run; @fit nullable. */
HfSheetful hf_run_sheetful(const HfRun *run, const HfFit *fit);

/** hf_run_view: (transfer full) what the page shows of it (out/view.h); @revision: of the document.
 */
GBytes *hf_run_view(const HfRun *run, guint64 revision);

/** hf_run_thumb: (transfer full) a small SVG of its metal, in one colour, for choosing. */
GBytes *hf_run_thumb(const HfRun *run);

/** hf_run_verdict: (transfer full) the verdict and its findings in plain words, for a terminal. */
char *hf_run_verdict(const HfRun *run, gboolean colour);
