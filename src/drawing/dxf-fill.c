/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-fill.c - what is painted, as loops that do not cross, on their true curves.
 *
 * Each painted thing covers what its own rule says; together they cover what any of them does:
 * neighbours of a mesh, segments of a wide line become one. Which thing a loop came from is seen by
 * the curve that its first edge lies on.
 */
#include "drawing/dxf-private.h"
#include "drawing/settle-private.h"

HfDxfLoops *
hf_dxf_loops_new(void)
{
  HfDxfLoops *loops = g_new0(HfDxfLoops, 1);
  *loops = (HfDxfLoops){hf_outline_new(), g_array_new(FALSE, FALSE, sizeof(guint))};
  return loops;
}

void
hf_dxf_loops_free(HfDxfLoops *loops)
{
  if (loops == NULL)
    return;
  hf_outline_free(loops->outline);
  g_array_unref(loops->sources);
  g_free(loops);
}

static void
draw_on(HfOutline *to, const HfCurve *curve)
{
  switch (curve->kind) {
  case HF_CURVE_LINE:
    hf_outline_line_to(to, curve->p1);
    break;
  case HF_CURVE_ARC:
    hf_outline_arc_to(to, curve->c0, curve->sweep, curve->p1);
    break;
  case HF_CURVE_CUBIC:
    hf_outline_cubic_to(to, curve->c0, curve->c1, curve->p1);
  }
}

void
hf_dxf_loops_add(HfDxfLoops *loops, const HfCurve *curves, guint n, gboolean backwards,
                 guint source)
{
  guint had = hf_outline_n_contours(loops->outline);
  hf_outline_begin(loops->outline, backwards ? curves[n - 1].p1 : curves[0].p0);
  for (guint i = 0; i < n; i++) {
    HfCurve curve = backwards ? hf_curve_between(&curves[n - 1 - i], 1, 0) : curves[i];
    draw_on(loops->outline, &curve);
  }
  hf_outline_close(loops->outline);
  if (hf_outline_n_contours(loops->outline) > had)
    g_array_append_val(loops->sources, source);
}

static gboolean
refuse_tangle(const HfDxfReader *reader, guint place, GError **error)
{
  g_autofree char *where = place > 0 ? hf_dxf_place(reader->document->tags, place)
                                     : g_strdup(reader->document->tags->name);
  hf_error_set(error, HF_ERROR_TOO_BIG, where, "leave out what is not to be cut",
               "lines that cross each other more than 100000 times");
  return FALSE;
}

/* ---- booleans -------------------------------------------------------------------------------- */

/* The rings of @region as loops on the curves of @sources; @owner: of each curve of all of them. */
static HfDxfLoops *
loops_of(HfRegion *region, const HfOutline *const *sources, guint n, const GArray *owner)
{
  g_autoptr(HfOutline) edge = hf_settle_curves(region, sources, n);
  HfDxfLoops *loops = hf_dxf_loops_new();
  for (guint r = 0; r < hf_outline_n_contours(edge); r++) {
    const HfRing *ring = hf_region_ring(region, r);
    guint n_curves, known = 0;
    const HfCurve *curves = hf_outline_contour(edge, r, &n_curves);
    while (known + 1 < ring->n && ring->from[known].shape == HF_NO_SHAPE)
      known++;
    guint curve = MIN(ring->from[known].curve, owner->len - 1);
    hf_dxf_loops_add(loops, curves, n_curves, FALSE, g_array_index(owner, guint, curve));
  }
  return loops;
}

static void
own_curves(GArray *owner, const HfOutline *outline, guint source)
{
  for (guint i = 0; i < outline->curves->len; i++)
    g_array_append_val(owner, source);
}

static HfOutline *
outline_of(const HfDxfPiece *piece)
{
  g_autoptr(HfDxfLoops) loops = hf_dxf_loops_new();
  for (guint i = 0; i < piece->runs->len; i++) {
    const GArray *run = (const GArray *)piece->runs->pdata[i];
    hf_dxf_loops_add(loops, (const HfCurve *)(gpointer)run->data, run->len, FALSE, 0);
  }
  return g_steal_pointer(&loops->outline);
}

static gboolean
add_painted(const HfDxfReader *reader, GPtrArray *outlines, GPtrArray *regions, GArray *owner,
            GError **error)
{
  for (guint i = 0; i < reader->pieces->len; i++) {
    const HfDxfPiece *piece = (const HfDxfPiece *)reader->pieces->pdata[i];
    if (piece->how != HF_DXF_FILLED || piece->runs->len == 0)
      continue;
    HfOutline *outline = outline_of(piece);
    g_ptr_array_add(outlines, outline);
    own_curves(owner, outline, i);
    HfRegion *region = hf_settle_region(outline, piece->even_odd);
    if (region == NULL)
      return refuse_tangle(reader, piece->place, error);
    g_ptr_array_add(regions, region);
  }
  return TRUE;
}

HfDxfLoops *
hf_dxf_fills(const HfDxfReader *reader, GError **error)
{
  g_autoptr(GPtrArray) outlines = g_ptr_array_new_with_free_func((GDestroyNotify)hf_outline_free);
  g_autoptr(GPtrArray) regions = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  g_autoptr(GArray) owner = g_array_new(FALSE, FALSE, sizeof(guint));
  if (!add_painted(reader, outlines, regions, owner, error))
    return NULL;
  if (owner->len == 0)
    return hf_dxf_loops_new();
  g_autoptr(HfRegion) all =
      hf_region_union((const HfRegion *const *)(gpointer)regions->pdata, regions->len);
  return loops_of(all, (const HfOutline *const *)(gpointer)outlines->pdata, outlines->len, owner);
}

HfDxfLoops *
hf_dxf_even_odd(const HfDxfReader *reader, const HfDxfLoops *loops, GError **error)
{
  g_autoptr(GArray) owner = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < hf_outline_n_contours(loops->outline); i++) {
    guint n;
    hf_outline_contour(loops->outline, i, &n);
    for (guint j = 0; j < n; j++)
      g_array_append_val(owner, g_array_index(loops->sources, guint, i));
  }
  g_autoptr(HfRegion) region = hf_settle_region(loops->outline, TRUE);
  if (region == NULL) {
    refuse_tangle(reader, 0, error);
    return NULL;
  }
  const HfOutline *source = loops->outline;
  return loops_of(region, &source, 1, owner);
}
