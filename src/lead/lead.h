/* SPDX-License-Identifier: GPL-3.0-or-later
 * lead.h - where the torch's middle goes: the contours of a sign's metal moved out by half the
 * kerf, and for each the places where it may be begun (the door of lead/).
 *
 *        metal            path, cut so that the metal is on the good side
 *      +--------+       .----------.
 *      |  +--+  |       | +--+ ..  |    way in: from the pierce point, all in scrap
 *      |  |  |  |  ──>  | |  |   \ |
 *      |  +--+  |       | +<-+    `|-- pierce
 *      +--------+       `----------'
 *
 * Nothing is chosen here but what is possible and how good it is; the order of cuts, and with it
 * the start of each, is chosen in cut/. Lengths mm, sign's frame (y up). Figures: common practice,
 * no source, unless one is named.
 */
#pragma once
#include "metal/fit.h"

/* What a stretch of a cut is there for. */
typedef enum {
  HF_STRETCH_IN,      /* the way in: pierce point to contour */
  HF_STRETCH_CONTOUR, /* once round */
  HF_STRETCH_PAST,    /* on along the contour, over the start */
  HF_STRETCH_OUT,     /* the way out, into the scrap */
} HfCutStretchKind;

/* A line or an arc that the torch burns along. */
typedef struct {
  HfCurve curve;    /* HF_CURVE_LINE or HF_CURVE_ARC; each begins where the one before it ends */
  guint8 kind;      /* HfCutStretchKind */
  gboolean is_slow; /* at the feed for small holes, not that of the chart */
  gboolean is_held; /* the torch's height is held: no height control by arc voltage */
} HfCutStretch;

/* A place where a path may be begun. Its stretches come from hf_paths_cut(). */
typedef struct {
  HfPoint pierce; /* where the arc strikes; on the contour where there is no way in */
  guint curve;    /* of the path's contour, that is begun at... */
  double t;       /* ...this parameter, 0..1 */
  guint way;      /* lead/'s own: which way in */
  double cost;    /* mm of travel that a better start would be worth, >= 0; docs/maths.md#starts */
} HfStart;

/* One contour as it is cut. */
typedef struct {
  guint contour;       /* of HfPaths.outline, wound as it is cut */
  guint ring;          /* of the metal's region */
  gboolean is_opening; /* what it cuts loose is a drop, else the part */
  gint parent;         /* the path whose contour goes just round it; -1: none */
  guint depth;         /* how many go round it */
  guint first, n;      /* of HfPaths.starts, the best first; none: there is no room (a finding) */
  double room;         /* mm, radius of the largest circle in an opening's metal edge; else 0 */
  char *name;          /* "letter 'A' of BAKERY", for comments of the program and sentences */
} HfTorchPath;

typedef struct {
  double kerf;
  gboolean mirrored;  /* metal lies to the left of travel, else to the right */
  HfOutline *outline; /* the torch's middle: closed contours of lines and arcs */
  GArray *paths;      /* HfTorchPath */
  GArray *starts;     /* HfStart */
  GArray *shorts;     /* HfLeadShort: where room was short */
  GArray *unmet;      /* HfLeadUnmet */
  HfBox box;          /* all that may be burnt, half the kerf added */
  gpointer own;       /* of lead/ */
} HfPaths;

/* A path whose way in has less room than it should have. */
typedef struct {
  guint ring; /* of the metal's region */
  gint path;  /* -1: there is none: the torch has no room in all of the ring, or it falls into
                 several */
  HfPoint at;
  double needs, has; /* mm, pierce point to the nearest metal that stays */
  gboolean has_none; /* there is no start at all: it can't be cut so */
} HfLeadShort;

/* What the recipe wants of the paths of one ring. */
typedef struct {
  HfWayWish way;
  HfSpot start; /* NONE: wherever; a point is in the sign's frame */
} HfLeadWish;

/* A wish that there is no room for: what was done instead. */
typedef struct {
  guint path;
  HfPoint at;
  char *says; /* "begins 12 mm beside the place that is wished for" */
} HfLeadUnmet;

/* What the paths hang on. All mm. */
typedef struct {
  double kerf;      /* > 0 */
  double crater;    /* > 0, radius of what the pierce leaves */
  double thickness; /* > 0 */
  gboolean
      mirrored; /* the good side is the left one of travel: everything goes round the other way */
  const HfRegion
      *keep_clear;          /* (nullable) where starts are dear: ties, thin webs, tops of letters */
  const HfLeadWish *wishes; /* (nullable) one for each ring of the metal */
} HfLeadOptions;

/**
 * hf_paths_new:
 * @metal, @fit: of one sign, borrowed while it lives; @names: (nullable) one for each ring of the
 *   metal, copied
 * Returns: (transfer full), or %NULL with %HF_ERROR_CANCELLED. No metal: no paths. A path without
 *   a start is told in `shorts`, and is no error here. The outline lies within 0.01 mm of half a
 *   kerf from the true edge; where a round kerf can't reach, an inside corner of the metal keeps
 *   some. Cost O(n log n), n the edges.
 */
HfPaths *hf_paths_new(const HfMetal *metal, const HfFit *fit, const HfLayout *layout,
                      const char *const *names, const HfLeadOptions *options,
                      const HfCancel *cancel, GError **error);
/** hf_paths_free: with all that it owns; %NULL: nothing. */
void hf_paths_free(HfPaths *paths);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPaths, hf_paths_free)

/**
 * hf_paths_cut: adds to @stretches (HfCutStretch) what is cut when path @path is begun at @start
 * (of HfPaths.starts): way in, once round, past the start, way out; in the sign's frame moved by
 * @by. Returns: where the torch goes off.
 */
HfPoint hf_paths_cut(const HfPaths *paths, guint path, guint start, HfPoint by, GArray *stretches);

/* Where on its contour a start is. */
typedef enum { HF_PLACE_STRAIGHT, HF_PLACE_CORNER, HF_PLACE_ROUND } HfStartPlace;

/** hf_start_place: of start @start (of HfPaths.starts) of path @path. */
HfStartPlace hf_start_place(const HfPaths *paths, guint path, guint start);
/** hf_start_is_arc: does its way in come by an arc? Else it is straight. */
gboolean hf_start_is_arc(const HfPaths *paths, guint start);

static inline const HfTorchPath *
hf_torch_path(const HfPaths *paths, guint i)
{
  return &g_array_index(paths->paths, HfTorchPath, i);
}
static inline const HfStart *
hf_start(const HfPaths *paths, guint i)
{
  return &g_array_index(paths->starts, HfStart, i);
}

/* mm along a stretch: a line or an arc. */
static inline double
hf_lead_length(const HfCurve *curve)
{
  return curve->kind == HF_CURVE_ARC ? hf_curve_radius(curve) * fabs(curve->sweep)
                                     : hf_point_distance(curve->p0, curve->p1);
}
