/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-private.h - what the files of mending share: the axis as a net that can be walked, and the
 * view of one round.
 *
 *   findings --each place--> a shape that mends it --metal, hold check--> kept, or given up
 */
#pragma once
#include "geom/axis.h"
#include "mend/mend.h"

/* ---- mend-net.c: the axis, walked from a place
 * ---------------------------------------------------- */

typedef struct {
  HfRegion *region; /* own copy; turned: edge i of a ring of n is its edge n - 2 - i */
  gboolean turned;
  HfAxis *axis;
  guint *fan, *spokes; /* of each node n its edges are spokes[fan[n]] .. spokes[fan[n + 1]] */
} HfMendNet;

#define HF_NET_MOUTH G_MAXUINT

/* A stretch of one axis edge, in (fractional) numbers of its points, and where it ends. */
typedef struct {
  guint edge;
  double from, to;
  guint end[2]; /* node, or HF_NET_MOUTH */
} HfNetPiece;

/** hf_mend_net_new: of the metal, or (@turned) of what is not metal; empty when stopped. */
HfMendNet *hf_mend_net_new(const HfRegion *metal, gboolean turned, const HfCancel *cancel);
/** hf_mend_net_free: frees it and all that it owns; %NULL: nothing. */
void hf_mend_net_free(HfMendNet *net);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfMendNet, hf_mend_net_free)

/** hf_mend_net_point: the place and width @where along edge @edge of the net. */
HfAxisPoint hf_mend_net_point(const HfMendNet *net, guint edge, double where);
/** hf_mend_net_zone: (transfer full) (element-type HfNetPiece) what of the axis has a radius under
 *  @radius and is connected to the point nearest to @p; empty when nothing within @reach is. */
GArray *hf_mend_net_zone(const HfMendNet *net, HfPoint p, double radius, double reach);

/* ---- one round ------------------------------------------------------------------------------- */

/* What mends one place. */
typedef struct {
  HfLawKind kind; /* the finding */
  HfPoint at;
  HfBox box;
  double over;        /* of a web: times its limit, so wide it was made; else 0 */
  HfShape *shapes[2]; /* second nullable: added after the first */
} HfMending;

typedef struct {
  const HfSign *sign;             /* with all that is kept so far */
  const HfSign *given;            /* before any of it */
  guint entry;                    /* the rule */
  guint n_drawn;                  /* shapes that are not mending's own */
  const GArray *of;               /* (nullable) guint: only what these shapes made */
  HfMendNet *metal_net, *gap_net; /* made when first asked for */
  HfRegion *fixed, *fixed_inner;  /* made when first asked for: mend-spare.c */
  GArray *changed[2];             /* of this round: taken off, added; (nullable) mend-spare.c */
  GArray *mendings;               /* HfMending */
  const HfCancel *cancel;         /* (nullable) */
} HfMendView;

/** hf_mend_metal_net: (transfer full) the middle lines of the metal near thin places. */
const HfMendNet *hf_mend_metal_net(HfMendView *view);
/** hf_mend_gap_net: (transfer full) the middle lines of the gaps. */
const HfMendNet *hf_mend_gap_net(HfMendView *view);

/** hf_mend_maker: the drawn shape that made a site of @net, or that what made it was mended for;
 *  %HF_NO_SHAPE: unknown. */
guint hf_mend_maker(const HfMendView *view, const HfMendNet *net, HfEdgeId id);
/** hf_mend_makers: the two shapes that made most of the edge along @zone. */
void hf_mend_makers(const HfMendView *view, const HfMendNet *net, const GArray *zone, guint *ret_a,
                    guint *ret_b);

/** hf_mend_add: takes @outline. @what: "the mended web of %s", filled with the name of shape @a.
 *  %FALSE (outline freed): neither @a nor @b is one of those meant, or it would move the edge of a
 *  plate, or take from a letter. */
gboolean hf_mend_add(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline,
                     gboolean opening, const char *what, guint a, guint b);

/** hf_mend_bounded: hf_mend(), that does @most units of work, at least 1: then it lays what it has,
 *  and the places that it did not come to are told by the findings there. */
HfSign *hf_mend_bounded(const HfSign *sign, guint entry, HfSignUse use, gint most,
                        const HfCancel *cancel, GError **error);
/** hf_mend_is_letter: is @shape a drawn letter? */
gboolean hf_mend_is_letter(const HfMendView *view, guint shape);
/** hf_mend_is_fixed: is it drawn and neither letter nor tie: a plate, ring, bar, whose edge no
 *  mending moves? */
gboolean hf_mend_is_fixed(const HfMendView *view, guint shape);
/** hf_mend_within_fixed: (transfer full) what of @added, metal, lies within plates, rings and bars,
 *  a hair from their edges; %NULL: it would close what is open at such an edge. */
HfRegion *hf_mend_within_fixed(HfMendView *view, const HfRegion *added);
/** hf_mend_beside_letters: (transfer full) @added less what of it juts out of plates, rings and
 * bars and is beside none of the @n @letters, which stand on them. */
HfRegion *hf_mend_beside_letters(HfMendView *view, const HfRegion *added, const guint *letters,
                                 guint n);
/** hf_mend_spares_letters: does each letter, as far as it showed before any mending, keep each of
 * its pieces and counters in one, and most of it, when @change is added to the metal (@adds) or
 * taken off? Cost a few booleans about each letter that it lies on. */
gboolean hf_mend_spares_letters(const HfMendView *view, const HfRegion *change, gboolean adds);
/** hf_mend_with_corners: mend-corner.c. (transfer full) @metal with those of @corners (element-type
 *  HfRegion, apart from it and from each other) that lie beside @reach and neither join what is
 *  apart nor close or divide an opening; %NULL: none lies beside it. Some are left out when
 *  stopped. */
HfRegion *hf_mend_with_corners(const HfRegion *metal, const GPtrArray *corners,
                               const HfRegion *reach, const HfCancel *cancel);
/** hf_mend_add_smooth: mend-smooth.c. hf_mend_add() of metal, rounded into the metal beside it, on
 *  true curves, by the largest radius that will do. Cost some ten booleans of what is near for each
 *  radius. */
gboolean hf_mend_add_smooth(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline,
                            const char *what, guint maker);
/** hf_mend_fill_smooth: the same of a gap that @outline covers, up to where it is @width wide: its
 * ends are arcs that run into both sides. */
gboolean hf_mend_fill_smooth(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline,
                             double width, const char *what, const guint makers[2]);
/** hf_mend_note_change: from now on @change counts as done. */
void hf_mend_note_change(HfMendView *view, const HfRegion *change, gboolean adds);
/** hf_mend_view_clear: frees what was made when asked for, the mendings not. */
void hf_mend_view_clear(HfMendView *view);

/* Times the limit of a web: where more has no room. */
#define HF_MEND_SLIM 1.02
/** hf_mend_thicken: mend-thicken.c. @limit: mm; @over: times that. Where nothing of it may be done,
 *  by HF_MEND_SLIM times that. */
void hf_mend_thicken(HfMendView *view, HfLawKind kind, HfPoint at, double limit, double over);
/** hf_mend_fill_gap, hf_mend_fill_opening, hf_mend_enlarge: mend-fill.c */
void hf_mend_fill_gap(HfMendView *view, HfLawKind kind, HfPoint at, double limit);
void hf_mend_fill_opening(HfMendView *view, HfLawKind kind, HfPoint at);
void hf_mend_enlarge(HfMendView *view, HfLawKind kind, HfPoint at, double limit);
/** hf_mend_pull_back: mend-round.c. The tail that ends in a point at @tip gets a round end where it
 *  is @wide; %FALSE: it stays. */
gboolean hf_mend_pull_back(HfMendView *view, HfLawKind kind, HfPoint tip, double wide);
/** hf_mend_round: mend-round.c */
void hf_mend_round(HfMendView *view, HfLawKind kind, HfPoint at, double radius);
