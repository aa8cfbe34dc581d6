/* SPDX-License-Identifier: GPL-3.0-or-later
 * cures.h - which changes to the recipe make the sign hold, proven by checking again.
 *
 *   sign ──> proposals ──> each: knob turned to the least that cures, recipe changed, read and run
 *                         ──> kept only if it cures ──> ranked by how little it changes what is
 * seen
 *
 * Nothing is taken on trust: every cure in the list has been through all stages, and its figures
 * and findings are those of that run. docs/maths.md#cures
 */
#pragma once
#include "run/run.h"

typedef struct {
  char *key;                    /* "ties"; of a combination all of them: "closer+ties" */
  char *sentence;               /* "tie the loose parts of bakery"; "A, and B" */
  GPtrArray *steps;             /* char *: the same one by one, in the order they are made */
  char *recipe;                 /* the changed recipe's text: comments kept */
  gsize length;                 /* bytes of it */
  double added, removed;        /* mm2 of metal against the given sign, as it lies */
  double shift;                 /* mm: farthest that a point of either outline is from the other */
  guint ties;                   /* bars in it, pinned or by rule */
  guint stops, cautions, notes; /* findings left */
  gboolean whole;
  gboolean as_is; /* the metal stays as it is: only what is asked of it changes */
  GArray *takes;  /* guint: findings of the given sign that are gone */
  double cost;    /* per cent: what it is ranked by (docs/maths.md#cures-ranking) */
  HfSign *sign;   /* the cured sign */
  GArray *links;  /* of the search; %NULL in what is handed out */
} HfCured;

void hf_cured_free(HfCured *cured);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCured, hf_cured_free)

/* Both are called in the thread that called hf_cures_find(). @cured is borrowed for the call. */
typedef void (*HfCuredFunc)(const HfCured *cured, gpointer data);
typedef void (*HfCuresProgress)(guint tried, guint of, gpointer data);

typedef struct {
  const HfCancel *cancel;   /* (nullable) */
  guint hands;              /* threads; 0: as many as there are processors, at most 4 */
  HfCuredFunc found;        /* (nullable) each cure as it comes, in no certain order */
  HfCuresProgress progress; /* (nullable) how many changes were tried; @of may grow */
  gpointer data;
} HfCuresOptions;

/**
 * hf_cures_find:
 * @sign: the given sign
 * @text: the recipe that it was made from
 * Returns: (transfer full) (element-type HfCured) ranked: whole first, then by stops left, then by
 *   cost, but what leaves the metal as it is behind all that does as much; of several that give the
 *   same metal the first proposed. The same list whatever the number
 *   of hands. Empty: nothing cures. %NULL with %HF_ERROR_CANCELLED.
 *
 * A single change is in it when it takes away a finding that it was proposed for, or a stop, and
 * there is no stop that was not there before; not when it leaves stops and costs above 100. When no
 * single change makes the sign whole, changes are combined, at most four, and those combinations
 * are in it that do.
 */
GPtrArray *hf_cures_find(const HfSign *sign, const char *text, gsize length,
                         const HfCuresOptions *options, GError **error);

/** hf_cures_best: (transfer none) (nullable) the cheapest of them that is whole and changes the
 *  metal. To ask less of a sign is for its maker to say. */
const HfCured *hf_cures_best(const GPtrArray *cures);
/** hf_cured_picture: (transfer full) an SVG of two panels, before and after, both
 *  cropped to what changes; metal that comes and metal that goes are hatched. No text in it.
 *  @pixels: its width. */
GBytes *hf_cured_picture(const HfSign *before, const HfCured *cured, guint pixels);
