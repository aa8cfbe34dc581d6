/* SPDX-License-Identifier: GPL-3.0-or-later
 * job.h - what is made in one go: signs, all that is written of them, and its report.
 *
 *   signs ───────────┐
 *   wishes ──────────┼──> job ── hf_job_make() ──> outputs in memory ── hf_job_write() ──> disk
 *   cures told of ───┘
 *
 * Command and page both go through a job, so that a file is the same from either. The signs are
 * shared: what was looked at is what is made, and nothing is worked out twice. Today a job is one
 * sign; sheets and programs of many will lie beside them in it.
 */
#pragma once
#include "out/format.h"
#include "run/proven.h"
#include "run/run.h"

/* How the outputs are wished for. */
typedef struct {
  guint pixels; /* of the picture's longer side, 200..8000 */
  HfPaper paper;
  HfFromCut from; /* a program more, that goes on from there */
  guint64 also;   /* a bit for each format on request that was asked for (hf_wish_also()) */
} HfWishes;

/* One file of those that are made. */
typedef struct {
  char *name; /* "metal.svg" */
  GBytes *bytes;
  const HfFormat *format;
  HfLayerAt layer;      /* that it shows; UNSAID: all of the sign */
  const char *type;     /* media type */
  const char *says;     /* what is in it, in a few words */
  const char *shown_by; /* (nullable) the name of the output that a browser can show for it */
} HfOutput;

typedef struct {
  GPtrArray *signs; /* HfSign *, a share of each, in the order of their recipes; today one */
  HfWishes wishes;
  GArray *cures; /* (nullable) HfCureTold, for the report; %NULL: not looked for */
  GBytes *cured; /* (nullable) the recipe, where it is not the user's own: cured.yaml */
  GPtrArray
      *cuttings; /* (nullable) HfCutting, one a sheet: made with the outputs of what is whole */
  GPtrArray *outputs; /* (nullable) HfOutput, report.json last; %NULL: not made yet */
} HfJob;

/** hf_job_new: of one sign. Cures may be told of, and the recipe given, before it is made.
 *  Returns: (transfer full) */
HfJob *hf_job_new(const HfSign *sign, HfWishes wishes);
/** hf_job_free: its outputs go, and its share of the signs. */
void hf_job_free(HfJob *job);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfJob, hf_job_free)

/** hf_job_sign: sign @i, from 0. */
static inline const HfSign *
hf_job_sign(const HfJob *job, guint i)
{
  return (const HfSign *)g_ptr_array_index(job->signs, i);
}

/** hf_job_make: all outputs, in memory; once, and kept. %FALSE with the error. */
gboolean hf_job_make(HfJob *job, const HfCancel *cancel, GError **error);

/** hf_job_words: (transfer full) (nullable) of its programs, lines for a terminal; %NULL: there are
 *  none, as nothing is whole or made. */
char *hf_job_words(const HfJob *job);

/** hf_job_report: (transfer full) its report, as of a job that writes no files. */
GBytes *hf_job_report(const HfJob *job);

/* What lay in the folder that somebody wants to hear of. */
typedef struct {
  char *kept;      /* (nullable) where a cured.yaml was put that is not as the run before left it:
                      somebody works on it */
  char *half_done; /* (nullable) the folder, where it had files but no report: a run was stopped
                      half way */
} HfLeft;
/** hf_left_clear: frees what it tells. */
void hf_left_clear(HfLeft *left);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfLeft, hf_left_clear)

/**
 * hf_job_write:
 * @job: has been made
 * @ret_left: may be %NULL; to be cleared
 * All outputs into FOLDER/NAME/. Whenever it ends, the folder is wholly as it was, wholly new, or
 * has no report; the message says which. Returns: %FALSE with the error, %HF_ERROR_BAD_VALUE when
 * an output would take the place of the recipe or the shop file
 */
gboolean hf_job_write(const HfJob *job, const char *folder, const HfCancel *cancel,
                      HfLeft *ret_left, GError **error);

/* ---- what may be wished for, as words (wishes.c) ------------------------------------------- */

/** hf_wish_words: (transfer container) zero-terminated: the outputs that are made on request. */
const char **hf_wish_words(void);
/** hf_wish_also: asks for @word of them. %FALSE: there is no such word. */
gboolean hf_wish_also(HfWishes *wishes, const char *word);
/** hf_wish_all: asks for all of them. */
void hf_wish_all(HfWishes *wishes);
/** hf_wish_help: (transfer full) of an option that takes such a word: "more outputs: ...". */
char *hf_wish_help(void);
/** hf_wish_outputs_help: (transfer full) lines that tell what is made without being asked. */
char *hf_wish_outputs_help(void);
