/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-scale.c - fills, strokes and clips as closed outlines of true curves.
 *
 * A fill by the non-zero rule that nothing clips is left as it was drawn. All else goes through
 * regions and back to its curves.
 */
#include "drawing/svg-scale-private.h"

#define FARTHEST 200000.0 /* the grid's reach, about: coordinates are whole numbers of 0.1 um */

/* A clip at this scale. */
typedef struct {
  HfRegion *region;
  HfOutline *outline; /* all edges that it may have */
} Cut;

typedef struct {
  HfSvg *svg;
  HfMatrix page;
  GHashTable *cuts; /* HfSvgClip to Cut */
} Scaling;

static void
cut_free(gpointer data)
{
  Cut *cut = (Cut *)data;
  hf_region_free(cut->region);
  hf_outline_free(cut->outline);
  g_free(cut);
}

static gboolean
in_reach(Scaling *own, const HfOutline *outline, guint line)
{
  HfBox box = hf_outline_box(outline);
  if (hf_box_is_empty(box) || (box.min.x > -FARTHEST && box.min.y > -FARTHEST &&
                               box.max.x < FARTHEST && box.max.y < FARTHEST))
    return TRUE;
  hf_svg_refuse(own->svg, HF_ERROR_TOO_BIG, line, "cut it off at the page, or remove it",
                "something reaches %d times as far as all that is seen of the drawing",
                (int)(FARTHEST / HF_DRAWING_LONG));
  return FALSE;
}

static HfOutline *
moved(const HfOutline *outline, HfMatrix m)
{
  HfOutline *to = hf_outline_new();
  hf_outline_append(to, outline, m);
  return to;
}

/* (transfer full) never %NULL: a tangle ends the reading. */
static HfRegion *
region_of(Scaling *own, const HfOutline *outline, gboolean even_odd, guint line)
{
  HfRegion *region = hf_settle_region(outline, even_odd);
  if (region != NULL)
    return region;
  hf_svg_refuse(own->svg, HF_ERROR_TOO_BIG, line, "simplify it, or remove it",
                "its lines cross each other more than 300000 times");
  return hf_region_new();
}

/* ---- clips ----------------------------------------------------------------------------------- */

static const Cut *cut_of(Scaling *own, const HfSvgClip *clip);

static HfRegion *
region_of_part(Scaling *own, const HfSvgClipPart *part, HfOutline *edges)
{
  g_autoptr(HfOutline) outline =
      moved(part->lines->outline, hf_matrix_then(part->matrix, own->page));
  if (!in_reach(own, outline, 0))
    return hf_region_new();
  hf_outline_append(edges, outline, HF_MATRIX_IDENTITY);
  HfRegion *region = region_of(own, outline, part->even_odd, 0);
  if (part->own == NULL)
    return region;
  const Cut *by = cut_of(own, part->own);
  hf_outline_append(edges, by->outline, HF_MATRIX_IDENTITY);
  HfRegion *both = hf_region_intersect(region, by->region);
  hf_region_free(region);
  return both;
}

static const Cut *
cut_of(Scaling *own, const HfSvgClip *clip)
{
  Cut *cut = (Cut *)g_hash_table_lookup(own->cuts, clip);
  if (cut != NULL)
    return cut;
  cut = g_new0(Cut, 1);
  cut->outline = hf_outline_new();
  g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < clip->parts->len; i++)
    g_ptr_array_add(parts,
                    region_of_part(own, (const HfSvgClipPart *)g_ptr_array_index(clip->parts, i),
                                   cut->outline));
  cut->region = hf_region_union((const HfRegion *const *)parts->pdata, parts->len);
  if (clip->outer != NULL) {
    const Cut *outer = cut_of(own, clip->outer);
    HfRegion *both = hf_region_intersect(cut->region, outer->region);
    hf_region_free(cut->region);
    cut->region = both;
    hf_outline_append(cut->outline, outer->outline, HF_MATRIX_IDENTITY);
  }
  g_hash_table_insert(own->cuts, (gpointer)clip, cut);
  return cut;
}

/* Clips that are upright rectangles about all of @box do nothing: the page most of all. */
static const HfSvgClip *
clip_that_cuts(const Scaling *own, const HfSvgClip *clip, HfBox box)
{
  for (; clip != NULL && !hf_box_is_empty(clip->box); clip = clip->outer) {
    HfPoint a = hf_matrix_apply(own->page, clip->box.min);
    HfPoint b = hf_matrix_apply(own->page, clip->box.max);
    HfBox frame = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, a), b);
    if (!hf_box_contains(frame, box.min) || !hf_box_contains(frame, box.max))
      return clip;
  }
  return clip;
}

/* ---- pieces ---------------------------------------------------------------------------------- */

/* (transfer full) what of @outline (taken) its clip leaves. */
static HfOutline *
settled(Scaling *own, const HfSvgItem *item, HfOutline *outline, gboolean even_odd,
        gboolean overlaps)
{
  const HfSvgClip *clip = clip_that_cuts(own, item->clip, hf_outline_box(outline));
  if (!in_reach(own, outline, item->line)) {
    hf_outline_free(outline);
    return hf_outline_new();
  }
  if (clip == NULL && !even_odd && !overlaps)
    return outline;
  g_autoptr(HfOutline) drawn = outline;
  g_autoptr(HfRegion) region = region_of(own, drawn, even_odd, item->line);
  if (clip == NULL)
    return hf_settle_curves(region, (const HfOutline *[]){drawn}, 1);
  if (clip->outer == NULL && !hf_box_is_empty(clip->box))
    hf_drawing_note(own->svg->drawing, item->line,
                    "what reaches beyond the page was cut off there, as the standard has it");
  const Cut *cut = cut_of(own, clip);
  g_autoptr(HfRegion) left = hf_region_intersect(region, cut->region);
  return hf_settle_curves(left, (const HfOutline *[]){drawn, cut->outline}, 2);
}

/* A line there and back goes round nothing. */
static gboolean
goes_round_something(const HfCurve *curves, guint n)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    box = hf_box_union(box, hf_curve_box(&curves[i]));
  gboolean straight = n <= 2;
  for (guint i = 0; i < n; i++)
    straight = straight && curves[i].kind == HF_CURVE_LINE;
  return !straight && hf_box_width(box) > 0 && hf_box_height(box) > 0;
}

static void
add_contour(HfOutline *to, const HfCurve *curves, guint n)
{
  guint start = to->curves->len;
  g_array_append_val(to->starts, start);
  g_array_append_vals(to->curves, curves, n);
}

static HfOutline *
fill_of(Scaling *own, const HfSvgItem *item)
{
  HfMatrix m = hf_matrix_then(item->matrix, own->page);
  const HfOutline *all = item->lines->outline;
  g_autoptr(HfOutline) full = hf_outline_new();
  for (guint i = 0; i < hf_outline_n_contours(all); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(all, i, &n);
    if (goes_round_something(curves, n))
      add_contour(full, curves, n);
  }
  if (hf_outline_n_contours(full) == 0 && !item->strokes)
    hf_drawing_note(own->svg->drawing, item->line,
                    "a line without width and area was left out: there is nothing to cut");
  return settled(own, item, moved(full, m), item->even_odd, FALSE);
}

/* The longer of the two lengths that a circle of radius 1 gets. */
static double
largest_scale(HfMatrix m)
{
  double a = hypot(m.xx + m.yy, m.yx - m.xy), b = hypot(m.xx - m.yy, m.yx + m.xy);
  return (a + b) / 2;
}

static HfOutline *
stroke_of(Scaling *own, const HfSvgItem *item)
{
  HfMatrix m = hf_matrix_then(item->matrix, own->page);
  double scale = largest_scale(m);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfOutline) pen = hf_stroke_outline(item->lines, &item->pen, scale, &error);
  if (pen == NULL) {
    hf_svg_refuse(own->svg, HF_ERROR_TOO_BIG, item->line, hf_error_fix(error),
                  "a line has more than %d "
                  "dashes",
                  HF_MOST_DASHES);
    return hf_outline_new();
  }
  HfMatrix back = hf_matrix_then(hf_matrix_scale(1 / scale, 1 / scale), m);
  return settled(own, item, moved(pen, back), FALSE, TRUE);
}

static void
add_pieces(Scaling *own, const HfSvgItem *item)
{
  HfDrawing *drawing = own->svg->drawing;
  if (item->fills)
    hf_drawing_add(drawing, g_strdup(item->name), g_ptr_array_ref(item->called), fill_of(own, item),
                   item->fill, item->line);
  if (item->strokes)
    hf_drawing_add(drawing,
                   item->fills ? g_strconcat("edge of ", item->name, NULL) : g_strdup(item->name),
                   g_ptr_array_ref(item->called), stroke_of(own, item), item->stroke, item->line);
}

void
hf_svg_to_pieces(HfSvg *svg, HfMatrix page)
{
  Scaling own = {svg, page, g_hash_table_new_full(NULL, NULL, NULL, cut_free)};
  for (guint i = 0; i < svg->items->len && !hf_svg_ended(svg); i++)
    add_pieces(&own, (const HfSvgItem *)g_ptr_array_index(svg->items, i));
  g_hash_table_unref(own.cuts);
}
