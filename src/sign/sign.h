/* SPDX-License-Identifier: GPL-3.0-or-later
 * sign.h - one sign with all that the stages made of it (the door of sign/).
 *
 *   recipe, shop, fonts ──> layout ──> metal ──> hold check      hf_sign_new()
 *
 *      sign ──rule──> sign ──rule──> sign      each shares with the one before what is unchanged
 *   as drawn         tied           mended
 *
 * A sign never changes: a rule (tie/, mend/) makes another one of it. So it may be looked at in any
 * number of threads, and kept as long as anyone needs it.
 */
#pragma once
#include "hold/hold.h"
#include "metal/fit.h"

/* A bar of metal that a rule chose. */
typedef struct {
  HfPoint from, to; /* where its middle line leaves metal, and where it meets metal again */
  double width;     /* mm */
  double length;    /* as a pin says it: NAN: from metal to metal; else all of it, centred on em */
  double area;      /* mm2 that shows: outside the metal that was there */
  guint part_a, part_b; /* of hold->parts: what it joins; part_a is the one that needed it */
  guint shape;          /* of the layout: letter or entry that it is pinned to */
  int opening;          /* as a pin says it: which opening of that letter, from 1; 0: its outside */
  HfPoint em;   /* as a pin says it: place in the letter's ems, or mm from the entry's centre */
  double angle; /* rad, in the letter's or entry's own frame */
  HfOutline *outline; /* the bar, run into metal at both ends */
  char *label;        /* `tie 2 of letter 'A' of "BAKERY"` */
} HfTie;

/* A part that no tie can hold. Parts are numbered anew by the next check: it is kept by name. */
typedef struct {
  guint part; /* of hold->parts of the sign that was to be tied */
  HfPoint at;
  char *name, *why, *help; /* "the metal inside letter 'e' of \"rte\"", why not, what would help */
} HfUntied;

/* What one rule of the recipe came to. */
typedef struct {
  guint entry;       /* the rule */
  GPtrArray *shapes; /* HfShape *, added to the layout of the next sign */
  GArray *ties;      /* HfTie; of a mending rule empty */
  GArray *untied;    /* HfUntied */
  double cost;  /* mm2: what was minimised, style included (docs/maths.md#ties); NAN: mending */
  double area;  /* mm2 of ties that shows: the same with the style weights off */
  double bound; /* mm2: no admissible choice shows less (docs/maths.md#ties-bound) */
  gint others;  /* owners beside the first; atomic */
} HfWork;

HfWork *hf_work_new(guint entry); /* empty, figures NAN */
/** hf_work_ref: one more owner, in any thread; each lets go by hf_work_free(). */
HfWork *hf_work_ref(HfWork *work);
void hf_work_free(HfWork *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfWork, hf_work_free)

/* Owns a share of each of its parts. */
typedef struct {
  const HfRecipe *recipe;
  const HfShop *shop;
  const HfFonts *fonts; /* that the layout's faces are of */
  const HfLayout *layout;
  const HfMetal *metal;
  const HfHold *hold;
  const HfFit *fit;        /* (nullable) the metal's true arcs, where they were asked for */
  const GPtrArray *works;  /* const HfWork *: what each rule came to, in the recipe's order */
  const GPtrArray *layers; /* (nullable) const HfSign *: of a sign of several sheets, one behind the
                              other: each of them by itself, the front first. Layout, check and
                              works are then of all of them, metal and fit of the front */
  HfBox frame;             /* of files of outlines, mm; 0 wide: that of its own outlines */
  guint work;              /* units that it took to make, see base/cancel.h; 0: not counted */
  gint others;             /* owners beside the first; atomic */
} HfSign;

/* What a sign is made for: that says how much of it is looked at. */
typedef enum {
  HF_SIGN_CHECKED,
  HF_SIGN_SHOWN, /* its true arcs too; they are found beside the check */
  HF_SIGN_TIED,  /* a rule for ties goes on from it: of the check only the parts */
} HfSignUse;

/**
 * hf_sign_new:
 * @recipe, @shop, @fonts: shared
 * Lays the recipe out, makes the metal and checks it; no rule is worked out yet.
 * Returns: (transfer full), or %NULL with the error of the stage, or %HF_ERROR_CANCELLED
 */
HfSign *hf_sign_new(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, HfSignUse use,
                    const HfCancel *cancel, GError **error);
/** HfSignUseFunc: what the sign of one layer is made for; @seen: the recipe as it sees it. */
typedef HfSignUse (*HfSignUseFunc)(const HfRecipe *seen, gpointer data);
/**
 * hf_sign_new_layers:
 * @recipe: of several layers
 * Lays the recipe out in one frame, and makes the metal of each layer by itself; openings that
 * something goes through are cut in every layer that they meet. Each is checked, no rule is worked
 * out. Returns: (transfer full) (element-type HfSign) the layers, the front first; %NULL as
 * hf_sign_new(). Cost: as many signs, and the metal of those that are drilled twice.
 */
GPtrArray *hf_sign_new_layers(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, HfSignUseFunc use,
                              gpointer data, const HfCancel *cancel, GError **error);
/** hf_sign_joined: (transfer full) the sign of @recipe of these @layers (element-type HfSign),
 *  taken: whole when each of them is; each finding says in which it is. */
HfSign *hf_sign_joined(const HfRecipe *recipe, GPtrArray *layers);
/** hf_sign_n_layers: 1 where it has one sheet. */
static inline guint
hf_sign_n_layers(const HfSign *sign)
{
  return sign->layers != NULL ? sign->layers->len : 1;
}
/** hf_sign_layer: layer @i by itself, from 0; @sign itself where it has one sheet. */
static inline const HfSign *
hf_sign_layer(const HfSign *sign, guint i)
{
  return sign->layers != NULL ? (const HfSign *)g_ptr_array_index(sign->layers, i) : sign;
}
/** hf_sign_layer_words: (transfer full) "front, middle and back"; "" where it has one sheet. */
char *hf_sign_layer_words(const HfSign *sign);
/** hf_sign_digest: (transfer full) hf_hold_digest() of the sign; of several sheets the digest of
 *  their digests, the front first. */
char *hf_sign_digest(const HfSign *sign);
/** hf_sign_spread: (transfer full) the metal of all layers side by side, for pictures of what
 *  changes: each @apart mm below the one before it. */
HfRegion *hf_sign_spread(const HfSign *sign, double apart);
/** hf_sign_layer_to_cut: (transfer full) layer @i of @sign, which has its true arcs, for a file of
 *  outlines: with the verdict and findings of all of @sign, and in its frame. */
HfSign *hf_sign_layer_to_cut(const HfSign *sign, guint i);

/** hf_sign_ref: one more owner, in any thread; each lets go by hf_sign_free(). */
HfSign *hf_sign_ref(const HfSign *sign);
void hf_sign_free(HfSign *sign);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfSign, hf_sign_free)

/**
 * hf_sign_extended:
 * @more: (nullable) for the layout
 * Returns: (transfer full) the sign with @more laid, its metal made and checked anew; what its
 * rules came to stays. Shares all but layout, metal and check. %NULL as hf_sign_new().
 */
HfSign *hf_sign_extended(const HfSign *sign, const HfLayoutMore *more, HfSignUse use,
                         const HfCancel *cancel, GError **error);

/** hf_sign_of: (transfer full) @sign as the sign of @recipe, which must lay out and check as the
 * recipe of @sign does: that with rules behind it that are still to be worked out. Shares all else.
 */
HfSign *hf_sign_of(const HfSign *sign, const HfRecipe *recipe);

/** hf_sign_worked: (transfer full) the sign with @work behind its works, and nothing else of it:
 * for a rule that has laid its shapes, or has none. Takes @work. */
HfSign *hf_sign_worked(const HfSign *sign, HfWork *work);

/** hf_sign_with_found: (transfer full) @sign with @n findings more, hf_hold_with_found(). */
HfSign *hf_sign_with_found(const HfSign *sign, const HfCutFound *found, guint n);

/** hf_sign_checked: (transfer full) the sign with all of its check: @sign itself where it has it;
 *  %NULL with %HF_ERROR_CANCELLED. */
HfSign *hf_sign_checked(const HfSign *sign, const HfCancel *cancel, GError **error);

/** hf_sign_fitted: (transfer full) the sign with its true arcs: @sign itself where it has them. */
HfSign *hf_sign_fitted(const HfSign *sign);

/** hf_sign_work: what rule @i came to, from 0. */
static inline const HfWork *
hf_sign_work(const HfSign *sign, guint i)
{
  return (const HfWork *)g_ptr_array_index(sign->works, i);
}

/** hf_sign_finding: finding @i of its check. */
static inline const HfFinding *
hf_sign_finding(const HfSign *sign, guint i)
{
  return (const HfFinding *)g_ptr_array_index(sign->hold->findings, i);
}

/* How large an entry is: of a group all of its members together. */
typedef struct {
  guint entry;
  HfBox box;    /* mm, of its ink, all copies, sign's frame; empty: it has none */
  double clear; /* mm, >= 0, from its ink to the nearest edge of the metal that another entry made:
                   of what is cut out the nearest of what is not; 0: they touch; NAN: there is none,
                   or it is a tie or a rule, or it was not measured */
  gint from;    /* the entry that made that edge; -1: none */
} HfEntrySize;

/**
 * hf_sign_sizes:
 * @whatever_it_takes: else no more entries are measured after some tenths of a second's work; the
 *   rest have a box, and `clear` is NAN
 * Returns: (transfer full) (element-type HfEntrySize) one an entry, in the recipe's order; lengths
 * are those of true curves, to 0.001 mm, where hundreds of chords are as near to 0.01 mm. Cost
 * O(runs of 16 chords, squared). Clear distances are within a layer.
 */
GArray *hf_sign_sizes(const HfSign *sign, gboolean whatever_it_takes);
