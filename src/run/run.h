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

typedef struct {
  const char *folder; /* out */
  guint pixels;       /* of the picture */
  HfPaper paper;
  gboolean dxf_inch, dxf_r12_mm, dxf_r12_inch; /* extra outlines */
  const HfCancel *cancel;
  const HfCureTold *cures; /* (nullable) for the report */
  guint n_cures;
  const char *cured; /* (nullable) the recipe that @run was made from, where it is not the user's
                        own: goes into cured.yaml */
  gsize cured_length;
} HfMakeOptions;

/* One file of those that are made. */
typedef struct {
  char *name; /* "metal.svg" */
  GBytes *bytes;
} HfOutput;

/** hf_run_outputs: (transfer full) (element-type HfOutput) all outputs of @run, report.json last;
 *  @options: its folder is of no interest. %NULL with the error. */
GPtrArray *hf_run_outputs(const HfRun *run, const HfMakeOptions *options, GError **error);

/** hf_run_sheetful: what a writer may show of @run; @fit nullable. */
HfSheetful hf_run_sheetful(const HfRun *run, const HfFit *fit);

/**
 * hf_run_write:
 * @ret_kept: (out) (transfer full) (nullable): may be %NULL; where a cured.yaml was put that is not
 *   as the run before left it: somebody works on it. %NULL: there was none
 * All outputs of @run into FOLDER/NAME/. Nothing half written: each file is whole or as it was;
 * report.json comes last. Returns: %FALSE with the error, %HF_ERROR_BAD_VALUE when an output would
 *   take the place of the recipe or the shop file
 */
gboolean hf_run_write(const HfRun *run, const HfMakeOptions *options, char **ret_kept,
                      GError **error);

/** hf_run_view: (transfer full) what the page shows of it (out/view.h); @text: the recipe it was
 * made from, @revision of the document. */
GBytes *hf_run_view(const HfRun *run, guint64 revision);

/** hf_run_thumb: (transfer full) a small SVG of its metal, in one colour, for choosing. */
GBytes *hf_run_thumb(const HfRun *run);

/** hf_run_verdict: (transfer full) the verdict and its findings in plain words, for a terminal. */
char *hf_run_verdict(const HfRun *run, gboolean colour);
