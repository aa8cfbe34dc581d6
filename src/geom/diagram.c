/* SPDX-License-Identifier: GPL-3.0-or-later
 * diagram.c - the Voronoi diagram of edges of a region: what lies nearest to which, on either side.
 *
 * It is worked out once and read from both sides, for the axis of the metal and for that of what is
 * not metal: half of it belongs to each.
 */
#include "geom/diagram-private.h"

/* Four segments far round all others: without them an axis that runs on for ever, as between two
 * corners with nothing beyond, would not be in the diagram. Edges next to them are left out. */
#define N_FRAME 4

static void
put_frame(HfVoronoiSegment *segments, guint n)
{
  gint32 x0 = segments[0].x0, x1 = x0, y0 = segments[0].y0, y1 = y0;
  for (guint i = 0; i < n; i++) {
    x0 = MIN(x0, MIN(segments[i].x0, segments[i].x1));
    x1 = MAX(x1, MAX(segments[i].x0, segments[i].x1));
    y0 = MIN(y0, MIN(segments[i].y0, segments[i].y1));
    y1 = MAX(y1, MAX(segments[i].y0, segments[i].y1));
  }
  gint32 far = MAX(x1 - x0, y1 - y0) + 100 * HF_GRID_PER_MM;
  x0 -= far, y0 -= far, x1 += far, y1 += far;
  segments[n] = (HfVoronoiSegment){x0, y0, x1, y0};
  segments[n + 1] = (HfVoronoiSegment){x1, y0, x1, y1};
  segments[n + 2] = (HfVoronoiSegment){x1, y1, x0, y1};
  segments[n + 3] = (HfVoronoiSegment){x0, y1, x0, y0};
}

static HfVoronoiSegment
segment_of(const HfRegion *region, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(region, id.ring);
  HfGrid a = ring->at[id.vertex], b = ring->at[(id.vertex + 1) % ring->n];
  return (HfVoronoiSegment){a.x, a.y, b.x, b.y};
}

static GArray *
all_edges(const HfRegion *region)
{
  GArray *edges = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfEdgeId id = {r, v};
      g_array_append_val(edges, id);
    }
  return edges;
}

HfDiagram *
hf_diagram_new(const HfRegion *region, const GArray *edges, const HfCancel *cancel)
{
  HfDiagram *diagram = g_new0(HfDiagram, 1);
  g_autoptr(GArray) all = edges == NULL ? all_edges(region) : NULL;
  const GArray *from = edges == NULL ? all : edges;
  guint n = diagram->n = from->len;
  diagram->ids = g_new(HfEdgeId, n + 1);
  g_autofree HfVoronoiSegment *segments = g_new(HfVoronoiSegment, n + N_FRAME);
  for (guint i = 0; i < n; i++) {
    diagram->ids[i] = g_array_index(from, HfEdgeId, i);
    segments[i] = segment_of(region, diagram->ids[i]);
  }
  if (n > 0)
    put_frame(segments, n);
  diagram->voronoi = hf_voronoi_new(segments, n > 0 ? n + N_FRAME : 0, cancel);
  return diagram;
}

void
hf_diagram_free(HfDiagram *diagram)
{
  if (diagram == NULL)
    return;
  g_free(diagram->ids);
  hf_voronoi_free(diagram->voronoi);
  g_free(diagram);
}
