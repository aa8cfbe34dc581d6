/* SPDX-License-Identifier: GPL-3.0-or-later
 * lead.c - all paths of a sign's metal.
 */
#include "lead/lead-private.h"

void
hf_paths_free(HfPaths *paths)
{
  if (paths == NULL)
    return;
  for (guint i = 0; i < paths->paths->len; i++)
    g_free(g_array_index(paths->paths, HfTorchPath, i).name);
  HfLeadOwn *own = paths->own;
  g_array_free(own->ways, TRUE);
  g_free(own);
  hf_outline_free(paths->outline);
  g_array_free(paths->paths, TRUE);
  g_array_free(paths->starts, TRUE);
  g_array_free(paths->shorts, TRUE);
  for (guint i = 0; i < paths->unmet->len; i++)
    g_free(g_array_index(paths->unmet, HfLeadUnmet, i).says);
  g_array_free(paths->unmet, TRUE);
  g_free(paths);
}

static HfPaths *
paths_empty(const HfLeadOptions *options)
{
  HfPaths *paths = g_new0(HfPaths, 1);
  HfLeadOwn *own = g_new0(HfLeadOwn, 1);
  own->ways = g_array_new(FALSE, FALSE, sizeof(HfLeadWay));
  own->options = *options;
  own->options.keep_clear = NULL;
  own->options.wishes = NULL;
  paths->kerf = options->kerf;
  paths->mirrored = options->mirrored;
  paths->outline = hf_outline_new();
  paths->paths = g_array_new(FALSE, FALSE, sizeof(HfTorchPath));
  paths->starts = g_array_new(FALSE, FALSE, sizeof(HfStart));
  paths->shorts = g_array_new(FALSE, FALSE, sizeof(HfLeadShort));
  paths->unmet = g_array_new(FALSE, FALSE, sizeof(HfLeadUnmet));
  paths->box = HF_BOX_EMPTY;
  paths->own = own;
  return paths;
}

/* The opening that an outer ring lies in, the smallest; -1: none. */
static gint
opening_round(const HfRegion *metal, const HfBox *boxes, guint outer)
{
  HfPoint p = hf_grid_point(hf_region_ring(metal, outer)->at[0]);
  gint round = -1;
  double least = INFINITY;
  for (guint i = 0; i < metal->rings->len; i++) {
    const HfRing *ring = hf_region_ring(metal, i);
    if (ring->parent < 0 || ring->parent == (gint)outer || !hf_box_contains(boxes[i], p) ||
        !hf_ring_holds(ring, p))
      continue;
    double area = fabs(hf_ring_area(ring));
    if (area < least) {
      least = area;
      round = (gint)i;
    }
  }
  return round;
}

/* For each ring the one just round it; -1: none. */
static gint *
find_round(const HfRegion *metal)
{
  guint n = metal->rings->len;
  g_autofree HfBox *boxes = g_new(HfBox, MAX(n, 1));
  for (guint i = 0; i < n; i++)
    boxes[i] = hf_ring_box(hf_region_ring(metal, i));
  gint *round = g_new(gint, MAX(n, 1));
  for (guint i = 0; i < n; i++) {
    gint parent = hf_region_ring(metal, i)->parent;
    round[i] = parent >= 0 ? parent : opening_round(metal, boxes, i);
  }
  return round;
}

static guint
depth_of(const gint *round, guint ring)
{
  guint depth = 0;
  for (gint i = round[ring]; i >= 0; i = round[i])
    depth++;
  return depth;
}

/* A gap of an outside that is narrower at its mouth than the kerf leaves a path of its own within:
 * a drop, wound as openings are. */
static gboolean
is_pocket(const HfOutline *outline, guint contour, gboolean mirrored)
{
  guint n = 0;
  const HfCurve *curves = hf_outline_contour(outline, contour, &n);
  HfOutline one = {g_array_new(FALSE, FALSE, sizeof(HfCurve)),
                   g_array_new(FALSE, TRUE, sizeof(guint))};
  g_array_append_vals(one.curves, curves, n);
  g_array_set_size(one.starts, 1);
  double area = hf_outline_area(&one);
  g_array_free(one.curves, TRUE);
  g_array_free(one.starts, TRUE);
  return (area > 0) != mirrored;
}

/* Where nothing came of a ring, it is told; where several did, each is a path. */
static void
add_paths(HfPaths *paths, const HfFit *fit, const HfRegion *metal, guint ring, const char *name,
          const gint *round, const gint *first)
{
  gboolean is_opening = hf_region_ring(metal, ring)->parent >= 0;
  const HfLeadOptions *options = &((HfLeadOwn *)paths->own)->options;
  guint before = hf_outline_n_contours(paths->outline);
  guint n = hf_half_kerf(fit, ring, is_opening, options, paths->outline);
  gint outside = (gint)paths->paths->len;
  for (guint i = 0; i < n && !is_opening; i++)
    if (!is_pocket(paths->outline, before + i, options->mirrored))
      outside = (gint)(paths->paths->len + i);
  for (guint i = 0; i < n; i++) {
    gboolean pocket = !is_opening && outside != (gint)paths->paths->len;
    gint parent = round[ring] < 0 ? -1 : first[round[ring]];
    HfTorchPath path = {.contour = before + i,
                        .ring = ring,
                        .is_opening = is_opening || pocket,
                        .parent = pocket ? outside : parent,
                        .depth = depth_of(round, ring) + (pocket ? 1 : 0),
                        .name = g_strdup(name != NULL ? name : "")};
    g_array_append_val(paths->paths, path);
  }
  if (n == 1 || (n > 1 && !is_opening))
    return;
  guint count = 0;
  const HfCurve *curves = hf_outline_contour(fit->outline, ring, &count);
  HfLeadShort one = {ring, -1, curves[0].p0, options->kerf, 0, n == 0};
  g_array_append_val(paths->shorts, one);
}

/* Parents first, so that a path knows the number of its own. */
static guint *
by_depth(const gint *round, guint n)
{
  guint *order = g_new(guint, MAX(n, 1)), k = 0;
  g_autofree guint *depth = g_new(guint, MAX(n, 1));
  guint deepest = 0;
  for (guint i = 0; i < n; i++) {
    depth[i] = depth_of(round, i);
    deepest = MAX(deepest, depth[i]);
  }
  for (guint d = 0; d <= deepest && n > 0; d++)
    for (guint i = 0; i < n; i++)
      if (depth[i] == d)
        order[k++] = i;
  return order;
}

static gboolean
find_paths(HfPaths *paths, const HfFit *fit, const HfRegion *metal, const char *const *names,
           const HfCancel *cancel, GError **error)
{
  guint n = metal->rings->len;
  g_autofree gint *round = find_round(metal), *first = g_new(gint, MAX(n, 1));
  g_autofree guint *order = by_depth(round, n);
  for (guint i = 0; i < n; i++) {
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    first[order[i]] = (gint)paths->paths->len;
    add_paths(paths, fit, metal, order[i], names != NULL ? names[order[i]] : NULL, round, first);
    if ((guint)first[order[i]] == paths->paths->len) /* nothing came of it */
      first[order[i]] = round[order[i]] < 0 ? -1 : first[round[order[i]]];
  }
  return TRUE;
}

static gboolean
find_starts(HfPaths *paths, const HfRegion *metal, const HfLeadOptions *options,
            const HfCancel *cancel, GError **error)
{
  HfLeadOwn *own = paths->own;
  g_autoptr(HfIndex) index = hf_index_new(metal, hf_lead_needs(options));
  g_autoptr(GArray) ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  HfLeadWork work = {.paths = paths,
                     .options = options,
                     .metal = metal,
                     .index = index,
                     .ids = ids,
                     .ways = own->ways,
                     .side = options->mirrored ? -1 : 1};
  for (work.path = 0; work.path < paths->paths->len; work.path++) {
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    hf_lead_find_starts(&work);
  }
  return TRUE;
}

HfPaths *
hf_paths_new(const HfMetal *metal, const HfFit *fit, const HfLayout *layout G_GNUC_UNUSED,
             const char *const *names, const HfLeadOptions *options, const HfCancel *cancel,
             GError **error)
{
  g_autoptr(HfPaths) paths = paths_empty(options);
  if (!find_paths(paths, fit, metal->region, names, cancel, error) ||
      !find_starts(paths, metal->region, options, cancel, error))
    return NULL;
  HfBox box = hf_outline_box(paths->outline);
  paths->box = hf_box_is_empty(box) ? box : hf_box_grow(box, options->kerf / 2);
  for (guint i = 0; i < paths->starts->len; i++)
    paths->box = hf_box_union(
        paths->box,
        hf_box_grow(hf_box_add_point(HF_BOX_EMPTY, hf_start(paths, i)->pierce), options->crater));
  return g_steal_pointer(&paths);
}
