/* SPDX-License-Identifier: GPL-3.0-or-later
 * job.h - what is made in one go: the outputs of a sign, in memory and on disk.
 */
#pragma once
#include "out/format.h"
#include "run/run.h"

typedef struct {
  const char *folder; /* out */
  guint pixels;       /* of the picture */
  HfPaper paper;
  guint64 also;           /* a bit for each format on request that was asked for (hf_wish_also()) */
  const HfCancel *cancel; /* (nullable) */
  const HfCureTold *cures; /* (nullable) for the report */
  guint n_cures;
  const char *cured; /* (nullable) the recipe that the sign was made from, where it is not the
                        user's own: goes into cured.yaml */
  gsize cured_length;
} HfMakeOptions;

/* One file of those that are made. */
typedef struct {
  char *name; /* "metal.svg" */
  GBytes *bytes;
  const HfFormat *format;
  const char *type;     /* media type */
  const char *says;     /* what is in it, in a few words */
  const char *shown_by; /* (nullable) the name of the output that a browser can show for it */
} HfOutput;

/** hf_run_outputs: (transfer full) (element-type HfOutput) all outputs of @sign, report.json last;
 *  @options: its folder is of no interest. %NULL with the error. */
GPtrArray *hf_run_outputs(const HfSign *sign, const HfMakeOptions *options, GError **error);

/**
 * hf_run_write:
 * @ret_kept: (out) (transfer full) (nullable): may be %NULL; where a cured.yaml was put that is not
 *   as the run before left it: somebody works on it. %NULL: there was none
 * All outputs of @sign into FOLDER/NAME/. Nothing half written: each file is whole or as it was;
 * report.json comes last. Returns: %FALSE with the error, %HF_ERROR_BAD_VALUE when an output would
 *   take the place of the recipe or the shop file
 */
gboolean hf_run_write(const HfSign *sign, const HfMakeOptions *options, char **ret_kept,
                      GError **error);

/* ---- what may be wished for, as words (wishes.c) ------------------------------------------- */

/** hf_wish_words: (transfer container) zero-terminated: the outputs that are made on request. */
const char **hf_wish_words(void);
/** hf_wish_also: asks for @word of them. %FALSE: there is no such word. */
gboolean hf_wish_also(HfMakeOptions *options, const char *word);
/** hf_wish_all: asks for all of them. */
void hf_wish_all(HfMakeOptions *options);
/** hf_wish_help: (transfer full) of an option that takes such a word: "more outlines: ...". */
char *hf_wish_help(void);
/** hf_wish_outputs_help: (transfer full) lines that tell what is made without being asked. */
char *hf_wish_outputs_help(void);
