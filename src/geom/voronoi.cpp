/* SPDX-License-Identifier: GPL-3.0-or-later
 * voronoi.cpp - the only C++ of the axis: hands Boost.Polygon's diagram over as plain arrays.
 *
 * Its traits take 32-bit integers, which is our grid, and are exact in their predicates there; the
 * whole numbers that they need are our own (wide-private.hpp).
 */
#include "geom/queue-private.hpp" /* before Boost makes queues of its own */

#include <new>

#include "geom/circles-private.hpp"
#include "geom/voronoi-private.h"
#include <cstdint>
#include <vector>

namespace bp = boost::polygon;
struct Stopped {
};

/* Boost's diagram, in which each edge that is added first looks whether to go on: construct() can
 * be left by nothing but an exception. */
class Diagram : public bp::voronoi_diagram<double>
{
public:
  explicit Diagram(const HfCancel *cancel) : cancel_(cancel)
  {
  }

  template <typename Site> std::pair<void *, void *> _insert_new_edge(const Site &a, const Site &b)
  {
    look();
    return bp::voronoi_diagram<double>::_insert_new_edge(a, b);
  }
  template <typename Site, typename Circle>
  std::pair<void *, void *> _insert_new_edge(const Site &a, const Site &b, const Circle &circle,
                                             void *left, void *right)
  {
    look();
    return bp::voronoi_diagram<double>::_insert_new_edge(a, b, circle, left, right);
  }

private:
  void look()
  {
    if (++edges_ % 64 == 0 && !hf_cancel_check(cancel_, nullptr))
      throw Stopped();
  }

  const HfCancel *cancel_;
  unsigned edges_ = 0;
};

using Builder = bp::voronoi_builder<std::int32_t, holdfast::WideTraits, holdfast::Predicates>;

static HfSite
site_of(const Diagram::cell_type &cell)
{
  HfSite site = {(guint)cell.source_index(), HF_SITE_SEGMENT};
  if (cell.source_category() == bp::SOURCE_CATEGORY_SEGMENT_START_POINT)
    site.kind = HF_SITE_START;
  else if (cell.source_category() == bp::SOURCE_CATEGORY_SEGMENT_END_POINT)
    site.kind = HF_SITE_END;
  return site;
}

static void
make_room(GArray *array, std::size_t n)
{
  g_array_set_size(array, (guint)n);
  g_array_set_size(array, 0);
}

static void
copy_diagram(const Diagram &diagram, HfVoronoi *voronoi)
{
  const auto *first = diagram.vertices().data();
  g_array_set_size(voronoi->vertices, (guint)diagram.num_vertices());
  make_room(voronoi->edges, diagram.num_edges() / 2);
  HfVoronoiVertex *to = &g_array_index(voronoi->vertices, HfVoronoiVertex, 0);
  for (const auto &vertex : diagram.vertices())
    *to++ = {vertex.x(), vertex.y()};
  for (const auto &edge : diagram.edges()) {
    if (!edge.is_primary() || !edge.is_finite() || &edge > edge.twin())
      continue;
    HfVoronoiEdge e = {(guint)(edge.vertex0() - first), (guint)(edge.vertex1() - first),
                       site_of(*edge.cell()), site_of(*edge.twin()->cell())};
    g_array_append_val(voronoi->edges, e);
  }
}

HfVoronoi *
hf_voronoi_new(const HfVoronoiSegment *segments, guint n, const HfCancel *cancel)
{
  HfVoronoi *voronoi = g_new0(HfVoronoi, 1);
  voronoi->vertices = g_array_new(FALSE, FALSE, sizeof(HfVoronoiVertex));
  voronoi->edges = g_array_new(FALSE, FALSE, sizeof(HfVoronoiEdge));
  try {
    Builder builder;
    for (guint i = 0; i < n; i++)
      builder.insert_segment(segments[i].x0, segments[i].y0, segments[i].x1, segments[i].y1);
    Diagram diagram(cancel);
    builder.construct(&diagram);
    copy_diagram(diagram, voronoi);
  } catch (const std::bad_alloc &) {
    g_error("failed to allocate the diagram of an axis"); /* as GLib says it */
  } catch (const Stopped &) {
  }
  return voronoi;
}

void
hf_voronoi_free(HfVoronoi *voronoi)
{
  if (voronoi == nullptr)
    return;
  g_array_unref(voronoi->vertices);
  g_array_unref(voronoi->edges);
  g_free(voronoi);
}
