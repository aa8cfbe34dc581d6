/* SPDX-License-Identifier: GPL-3.0-or-later
 * clip.cpp - shim over polyclipping 6.4.2: nothing here but moving points in and out.
 */
#include <new>
#include <polyclipping/clipper.hpp>

#include "geom/clip-private.h"

using namespace ClipperLib;

static void
add_rings(Paths &paths, const HfRegion *region)
{
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    Path path;
    path.reserve(ring->n);
    for (guint j = 0; j < ring->n; j++)
      path.push_back(IntPoint(ring->at[j].x, ring->at[j].y));
    paths.push_back(std::move(path));
  }
}

static void
put_rings(HfRegion *result, const Paths &paths)
{
  for (const Path &path : paths) {
    HfRing ring = {};
    ring.n = (guint)path.size();
    ring.at = g_new(HfGrid, ring.n);
    for (guint i = 0; i < ring.n; i++)
      ring.at[i] = HfGrid{(gint32)path[i].X, (gint32)path[i].Y};
    ring.parent = -1;
    g_array_append_val(result->rings, ring);
  }
}

static gboolean
clipped(Clipper &clipper, ClipType kind, PolyFillType fill, HfRegion *result)
{
  Paths out;
  if (!clipper.Execute(kind, out, fill, fill))
    return FALSE;
  put_rings(result, out);
  return TRUE;
}

gboolean
hf_clip(HfClipKind kind, const HfRegion *const *subject, guint n_subject,
        const HfRegion *const *clip, guint n_clip, HfRegion *result)
{
  try {
    Paths subjects, clips;
    for (guint i = 0; i < n_subject; i++)
      add_rings(subjects, subject[i]);
    for (guint i = 0; i < n_clip; i++)
      add_rings(clips, clip[i]);
    static const ClipType types[] = {ctUnion, ctIntersection, ctDifference};
    Clipper clipper;
    bool some = clipper.AddPaths(subjects, ptSubject, true);
    some = clipper.AddPaths(clips, ptClip, true) || some;
    if (!some)
      return TRUE; /* Execute() calls nothing at all a failure */
    return clipped(clipper, types[kind], pftNonZero, result);
  } catch (const std::bad_alloc &) {
    g_error("failed to allocate the edges of a boolean"); /* as GLib says it */
  } catch (const std::exception &) {
    return FALSE;
  }
}

gboolean
hf_clip_even_odd(const HfRegion *region, HfRegion *result)
{
  try {
    Paths paths;
    add_rings(paths, region);
    Clipper clipper;
    if (!clipper.AddPaths(paths, ptSubject, true))
      return TRUE;
    return clipped(clipper, ctUnion, pftEvenOdd, result);
  } catch (const std::bad_alloc &) {
    g_error("failed to allocate the edges of a boolean"); /* as GLib says it */
  } catch (const std::exception &) {
    return FALSE;
  }
}

gboolean
hf_clip_offset(const HfRegion *region, double delta, double arc, HfRegion *result)
{
  try {
    Paths paths;
    add_rings(paths, region);
    ClipperOffset offset(2.0, arc);
    offset.AddPaths(paths, jtRound, etClosedPolygon);
    Paths out;
    offset.Execute(out, delta);
    put_rings(result, out);
    return TRUE;
  } catch (const std::bad_alloc &) {
    g_error("failed to allocate the edges of a boolean"); /* as GLib says it */
  } catch (const std::exception &) {
    return FALSE;
  }
}
