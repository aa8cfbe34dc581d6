/* SPDX-License-Identifier: GPL-3.0-or-later
 * voronoi-private.h - C face of the Voronoi diagram of segments (Boost.Polygon).
 *
 *      +-----------+      Sites are the open segments and their ends. Kept are the finite edges
 *      |\         /|      of the diagram between sites that do not belong to each other; the
 *      | >-------< |      edge between a segment and its own end says nothing about the axis.
 *      |/         \|
 *      +-----------+
 * Segments may share ends but must not cross: crossing input gives garbage without a word.
 */
#pragma once
#include <glib.h>

G_BEGIN_DECLS
#include "base/cancel.h"

typedef struct {
  gint32 x0, y0, x1, y1; /* grid units; not of zero length */
} HfVoronoiSegment;

typedef enum { HF_SITE_SEGMENT, HF_SITE_START, HF_SITE_END } HfSiteKind;

typedef struct {
  guint segment; /* index into the input */
  HfSiteKind kind;
} HfSite;

typedef struct {
  double x, y; /* grid units */
} HfVoronoiVertex;

typedef struct {
  guint v0, v1;       /* indices into vertices */
  HfSite left, right; /* nearest sites on either side of the way from v0 to v1 */
} HfVoronoiEdge;

typedef struct {
  GArray *vertices; /* HfVoronoiVertex */
  GArray *edges;    /* HfVoronoiEdge, each once */
} HfVoronoi;

/** hf_voronoi_new: (transfer full). Cost O(n log n), about 17 us a segment. Stopped
 *  by @cancel (nullable): empty. */
HfVoronoi *hf_voronoi_new(const HfVoronoiSegment *segments, guint n, const HfCancel *cancel);
/** hf_voronoi_free: frees it and all that it owns; %NULL: nothing. */
void hf_voronoi_free(HfVoronoi *voronoi);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfVoronoi, hf_voronoi_free)

G_END_DECLS
