/* SPDX-License-Identifier: GPL-3.0-or-later
 * change.c - before and after, side by side; one above the other where what is shown is wide, so
 * that it is shown twice as large.
 *
 *     +-------------+   +-------------+      both panels show the same piece of the sign
 *     |  B   O      | > |  B = O      |      crossed: metal that goes     (before)
 *     |    x        |   |             |      hatched: metal that comes    (after)
 *     +-------------+   +-------------+      ring: something small is there, and nothing large near
 *
 * Colour, pattern and the panel say the same thing, so each alone is enough. Points that lie within
 * a third of a pixel are left out: a picture of 400 pixels need not carry an outline at 5 um.
 */
#include "out/change.h"
#include "base/text.h"
#include "geom/index.h"
#include "out/pen-private.h"

static const double THINNED = 0.33;  /* pixels */
static const double SMALL = 9;       /* pixels: what is smaller gets a ring */
static const double SLIVER = 0.05;   /* mm2: rounding, no change */
static const double CONTEXT = 0.4;   /* of the sign is shown at least: whole letters */
static const double ROOM = 0.15;     /* of what changes, all round */
static const double MARGIN = 0.05;   /* of the sign, of wall round it */
static const double RING_APART = 14; /* pixels */
static const double SEEN = 30;       /* pixels: so near to a large mark a small one needs no ring */
static const double WIDE = 1.6;      /* times as wide as high: one above the other */

enum { GAP = 26, PAD = 6, SHEET_PAD = 14, NUMBER = 20 };

/* One picture: where it stands on the page, which piece of the sign it shows. */
typedef struct {
  GString *svg;
  char id[16];                       /* in front of ids, which are of the whole page */
  HfBox crop;                        /* mm */
  double scale, x, y, width, height; /* of one panel, pixels */
} Panel;

static void
put(GString *svg, const char *before, double value)
{
  g_string_append(svg, before);
  hf_text_append(svg, value, 2);
}

static HfPoint
on_panel(const Panel *panel, HfPoint p)
{
  return hf_point(panel->x + (p.x - panel->crop.min.x) * panel->scale,
                  panel->y + (panel->crop.max.y - p.y) * panel->scale);
}

/* ---- metal ------------------------------------------------------------------------------------
 */

static void
put_ring(const Panel *panel, const HfRing *ring)
{
  HfPoint last = {INFINITY, INFINITY};
  for (guint i = 0; i < ring->n; i++) {
    HfPoint p = on_panel(panel, hf_grid_point(ring->at[i]));
    if (hf_point_distance(p, last) < THINNED)
      continue;
    put(panel->svg, isinf(last.x) ? "M" : "L", p.x);
    put(panel->svg, " ", p.y);
    last = p;
  }
  g_string_append(panel->svg, "Z");
}

static void
put_region(const Panel *panel, const HfRegion *region, const char *style)
{
  g_string_append(panel->svg, "<path d=\"");
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_box_overlaps(hf_ring_box(hf_region_ring(region, i)), panel->crop))
      put_ring(panel, hf_region_ring(region, i));
  g_string_append_printf(panel->svg, "\" fill-rule=\"evenodd\" %s/>\n", style);
}

/* ---- marks ------------------------------------------------------------------------------------
 */

static gboolean
near_one(const GArray *places, HfPoint p)
{
  for (guint i = 0; i < places->len; i++)
    if (hf_point_distance(g_array_index(places, HfPoint, i), p) < RING_APART)
      return TRUE;
  return FALSE;
}

static double
size_of(const Panel *panel, const HfRing *ring)
{
  HfBox box = hf_ring_box(ring);
  return fmax(hf_box_width(box), hf_box_height(box)) * panel->scale;
}

/* Is a mark that is large enough to be seen beside @p (mm)? */
static gboolean
near_large(const Panel *panel, const HfRegion *region, HfPoint p)
{
  double reach = SEEN / panel->scale;
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (size_of(panel, ring) < SMALL || !hf_box_contains(hf_box_grow(hf_ring_box(ring), reach), p))
      continue;
    for (guint v = 0; v < ring->n; v++) {
      HfEdgeId id = {i, v};
      HfPoint on = hf_segment_nearest(hf_edge_start(region, id), hf_edge_end(region, id), p, NULL);
      if (hf_point_distance(on, p) < reach)
        return TRUE;
    }
  }
  return FALSE;
}

/* A ring round each piece that is too small to see, one for those that lie together. */
static void
put_rings(const Panel *panel, const HfRegion *region, const char *dash)
{
  g_autoptr(GArray) places = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    HfPoint centre = hf_box_centre(hf_ring_box(ring)), at = on_panel(panel, centre);
    if (ring->parent >= 0 || hf_ring_area(ring) < SLIVER || size_of(panel, ring) >= SMALL ||
        near_one(places, at) || near_large(panel, region, centre))
      continue;
    g_array_append_val(places, at);
    put(panel->svg, "<circle cx=\"", at.x);
    put(panel->svg, "\" cy=\"", at.y);
    g_string_append_printf(panel->svg,
                           "\" r=\"8\" fill=\"none\" stroke=\"#%06x\" stroke-width=\"1.5\"%s/>\n",
                           HF_HOT, dash);
  }
}

static void
put_mark(const Panel *panel, const HfRegion *region, const char *pattern, const char *dash)
{
  g_autofree char *style =
      g_strdup_printf("fill=\"url(#%s%s)\" stroke=\"#%06x\" stroke-width=\"0.8\"%s", panel->id,
                      pattern, HF_HOT, dash);
  put_region(panel, region, style);
  put_rings(panel, region, dash);
}

/* ---- one picture ------------------------------------------------------------------------------
 */

static void
put_patterns(const Panel *panel)
{
  g_string_append_printf(
      panel->svg,
      "<defs><pattern id=\"%scomes\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\" "
      "patternTransform=\"rotate(45)\"><rect width=\"4\" height=\"4\" fill=\"#%06x\"/>"
      "<rect width=\"1.4\" height=\"4\" fill=\"#%06x\"/></pattern>\n"
      "<pattern id=\"%sgoes\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\">"
      "<rect width=\"5\" height=\"5\" fill=\"#%06x\"/>"
      "<path d=\"M0 0L5 5M5 0L0 5\" stroke=\"#%06x\" stroke-width=\"0.9\"/></pattern></defs>\n",
      panel->id, HF_HOT, HF_CARD_TONE, panel->id, HF_CARD_TONE, HF_HOT);
}

static void
put_frame(const Panel *panel, const char *style)
{
  put(panel->svg, "<rect x=\"", panel->x);
  put(panel->svg, "\" y=\"", panel->y);
  put(panel->svg, "\" width=\"", panel->width);
  put(panel->svg, "\" height=\"", panel->height);
  g_string_append_printf(panel->svg, "\" %s/>\n", style);
}

static void
put_panel(const Panel *panel, const HfRegion *metal, const HfRegion *differs, gboolean after)
{
  const char *clip = after ? "after" : "before";
  g_autofree char *wall = g_strdup_printf("fill=\"#%06x\"", HF_WALL);
  g_autofree char *steel = g_strdup_printf("fill=\"#%06x\"", HF_STEEL);
  g_autofree char *rule = g_strdup_printf("fill=\"none\" stroke=\"#%06x\"", HF_RULE);
  g_string_append_printf(panel->svg, "<clipPath id=\"%s%s\">", panel->id, clip);
  put_frame(panel, "rx=\"3\"");
  g_string_append_printf(panel->svg, "</clipPath>\n<g clip-path=\"url(#%s%s)\">\n", panel->id,
                         clip);
  put_frame(panel, wall);
  put_region(panel, metal, steel);
  put_mark(panel, differs, after ? "comes" : "goes", after ? "" : " stroke-dasharray=\"3 2\"");
  g_string_append(panel->svg, "</g>\n");
  put_frame(panel, rule);
}

/* From before to after: to the right, or down. */
static void
put_arrow(const Panel *panel, gboolean down)
{
  static const HfPoint tips[] = {{-4, -8}, {5, 0}, {-4, 8}};
  double x = panel->x + (down ? panel->width / 2 : panel->width + GAP / 2.0);
  double y = panel->y + (down ? panel->height + GAP / 2.0 : panel->height / 2);
  for (gsize i = 0; i < G_N_ELEMENTS(tips); i++) {
    put(panel->svg, i == 0 ? "<path d=\"M" : "L", x + (down ? tips[i].y : tips[i].x));
    put(panel->svg, " ", y + (down ? tips[i].x : tips[i].y));
  }
  g_string_append_printf(panel->svg,
                         "\" fill=\"none\" stroke=\"#%06x\" stroke-width=\"2.5\" "
                         "stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n",
                         HF_SOFT_INK);
}

/* What differs, without the slivers of rounding. */
static HfBox
box_of_pieces(const HfRegion *region)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (ring->parent < 0 && hf_ring_area(ring) >= SLIVER)
      box = hf_box_union(box, hf_ring_box(ring));
  }
  return box;
}

/* Bare wall tells nothing. */
static HfBox
cut_down(HfBox crop, HfBox most)
{
  return hf_box_is_empty(most)
             ? crop
             : (HfBox){{fmax(crop.min.x, most.min.x), fmax(crop.min.y, most.min.y)},
                       {fmin(crop.max.x, most.max.x), fmin(crop.max.y, most.max.y)}};
}

static HfBox
crop_of(HfBox changed, HfBox sign)
{
  if (hf_box_is_empty(changed))
    changed = sign;
  if (hf_box_is_empty(changed))
    changed = (HfBox){{-1, -1}, {1, 1}};
  double w = hf_box_width(changed), h = hf_box_height(changed);
  double least = fmax(hf_box_width(sign), hf_box_height(sign)) * CONTEXT;
  HfBox crop = hf_box_grow(changed, fmax(ROOM * fmax(w, h), (least - fmax(w, h)) / 2));
  crop = cut_down(crop, hf_box_grow(sign, MARGIN * fmax(hf_box_width(sign), hf_box_height(sign))));
  double wide = hf_box_width(crop), high = hf_box_height(crop);
  double low = wide * 0.3, tall = wide * 1.1; /* neither a slit nor a tower */
  if (high < low) {
    crop.min.y -= (low - high) / 2;
    crop.max.y += (low - high) / 2;
  } else if (high > tall) {
    crop.min.x -= (high / 1.1 - wide) / 2;
    crop.max.x += (high / 1.1 - wide) / 2;
  }
  return crop;
}

/* Draws it with its upper left corner at (@x, @y), @width wide. Returns: its height. */
static double
put_change(GString *svg, const char *id, const HfRegion *before, const HfRegion *after, double x,
           double y, double width)
{
  g_autoptr(HfRegion) comes = hf_region_subtract(after, before);
  g_autoptr(HfRegion) goes = hf_region_subtract(before, after);
  HfBox sign = hf_box_union(hf_region_box(before), hf_region_box(after));
  HfBox crop = crop_of(hf_box_union(box_of_pieces(comes), box_of_pieces(goes)), sign);
  gboolean below = hf_box_width(crop) > WIDE * hf_box_height(crop);
  Panel panel = {
      .svg = svg, .crop = crop, .x = x, .y = y, .width = below ? width : (width - GAP) / 2};
  g_strlcpy(panel.id, id, sizeof panel.id);
  panel.scale = panel.width / hf_box_width(crop);
  panel.height = panel.scale * hf_box_height(crop);
  put_patterns(&panel);
  put_panel(&panel, before, goes, FALSE);
  put_arrow(&panel, below);
  *(below ? &panel.y : &panel.x) += GAP + (below ? panel.height : panel.width);
  put_panel(&panel, after, comes, TRUE);
  return panel.y + panel.height - y;
}

static GBytes *
page_of(GString *body, double width, double height)
{
  g_autoptr(GString) svg = g_string_new("<svg xmlns=\"http://www.w3.org/2000/svg\"");
  put(svg, " width=\"", width);
  put(svg, "\" height=\"", height);
  put(svg, "\" viewBox=\"0 0 ", width);
  put(svg, " ", height);
  g_string_append_printf(svg, "\">\n<rect width=\"100%%\" height=\"100%%\" fill=\"#%06x\"/>\n",
                         HF_PAPER_TONE);
  g_string_append_len(svg, body->str, (gssize)body->len);
  g_string_append(svg, "</svg>\n");
  return g_string_free_to_bytes(g_steal_pointer(&svg));
}

GBytes *
hf_out_change(const HfRegion *before, const HfRegion *after, guint pixels)
{
  g_return_val_if_fail(before != NULL && after != NULL, NULL);
  double width = CLAMP(pixels, 100, 4000);
  g_autoptr(GString) body = g_string_new(NULL);
  double height = put_change(body, "", before, after, PAD, PAD, width - 2 * PAD);
  return page_of(body, width, height + 2 * PAD);
}

/* ---- several ----------------------------------------------------------------------------------
 */

static void
put_number(GString *svg, guint number, double x, double y)
{
  put(svg, "<text x=\"", x);
  put(svg, "\" y=\"", y);
  g_string_append_printf(svg,
                         "\" font-family=\"sans-serif\" font-weight=\"bold\" font-size=\"%d\" "
                         "fill=\"#%06x\">%u</text>\n",
                         NUMBER, HF_INK, number);
}

GBytes *
hf_out_changes(const HfRegion *before, const HfRegion *const *after, guint n, guint pixels)
{
  g_return_val_if_fail(before != NULL && (after != NULL || n == 0), NULL);
  double width = CLAMP(pixels, 400, 4000), column = (width - 3 * SHEET_PAD) / 2;
  double y = SHEET_PAD, row = 0;
  g_autoptr(GString) body = g_string_new(NULL);
  for (guint i = 0; i < n; i++) {
    double x = SHEET_PAD + i % 2 * (column + SHEET_PAD);
    g_autofree char *id = g_strdup_printf("c%u-", i + 1);
    put_number(body, i + 1, x, y + NUMBER);
    row = fmax(row, put_change(body, id, before, after[i], x, y + NUMBER + PAD, column));
    if (i % 2 == 1 || i + 1 == n) {
      y += NUMBER + PAD + row + SHEET_PAD;
      row = 0;
    }
  }
  return page_of(body, width, y);
}
