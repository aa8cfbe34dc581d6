/* SPDX-License-Identifier: GPL-3.0-or-later
 * template.c - template.pdf: what is drilled behind the sign, full size, on pages to be joined.
 *
 *      A1        A2        A3          Each page shows a tile of the sign; neighbours share a strip
 *    +-------+-+-------+-+-------+     of it, with crosses (x) that are laid on each other:
 *    |       |x|       |x|       |
 *    |  (+)  | |  (+)  | |       |         |<--- tile --->|
 *    +-------+-+-------+-+-------+                  |<--- tile --->|
 *      B1        B2                                 overlap
 *
 * Seen from the front, as the sign goes on the wall. A page on which nothing is drawn is left out.
 * Of a sign of several sheets each that has holes or studs has pages of its own, on the same tiles,
 * its holes under their numbers in the whole sign: laid on each other they are one.
 * A measure of 100 mm, or 4 in, stands on every page. docs/maths.md#template
 */
#include "base/text.h"
#include "base/units.h"
#include "out/format.h"
#include "out/mounts-private.h"
#include "out/picture-private.h"
#include "out/sheet-private.h"
#include "stock/cautions.h"
#include <cairo-pdf.h>

/* mm */
static const double EDGE = 10;    /* of the page: printers leave some of it white */
static const double FOOT = 22;    /* of the page, under the tile: measure and words */
static const double OVERLAP = 15; /* of neighbours */
static const double ROUND = 6;    /* left free about the sign */
static const double ARM = 6;      /* of crosses, from the middle */
static const double MEASURE = 100, MEASURE_INCHES = 4 * 25.4;

typedef struct {
  const HfSign *what; /* the sheet at hand */
  const HfSign *sign; /* all of them */
  HfPen *pen;
  HfBox page;  /* points */
  HfBox tile;  /* points, on the page */
  double w, h; /* mm of a tile */
  HfBox all;   /* mm, sign's frame: that is covered */
  guint columns, rows;
  GArray *holes; /* HfMountHole: of the sheet */
  guint *number; /* of each in the whole sign, from 1 */
  guint studs;   /* of the sheets before this one */
  HfView view;   /* of the page at hand */
  HfBox seen;    /* mm, sign's frame: of the page at hand */
} Template;

/* ---- tiles ------------------------------------------------------------------------------------
 */

static guint
tiles_along(double length, double tile)
{
  return (guint)fmax(1, ceil((length - OVERLAP) / (tile - OVERLAP) - 1e-9));
}

static void
lay_tiles(Template *t, HfBox page)
{
  double k = HF_POINTS_PER_MM;
  t->page = page;
  t->tile = (HfBox){{EDGE * k, EDGE * k}, {page.max.x - EDGE * k, page.max.y - (EDGE + FOOT) * k}};
  t->w = hf_box_width(t->tile) / k;
  t->h = hf_box_height(t->tile) / k;
  t->columns = tiles_along(hf_box_width(t->all), t->w);
  t->rows = tiles_along(hf_box_height(t->all), t->h);
}

/* The tiles reach as far beyond the sign on one side as on the other. */
static void
centre_tiles(Template *t)
{
  double w = t->columns * (t->w - OVERLAP) + OVERLAP, h = t->rows * (t->h - OVERLAP) + OVERLAP;
  HfPoint middle = hf_box_centre(t->all);
  t->all = (HfBox){{middle.x - w / 2, middle.y - h / 2}, {middle.x + w / 2, middle.y + h / 2}};
}

/* Upright or on its side, whichever takes fewer pages. */
static void
choose_tiles(Template *t, HfPaper paper)
{
  HfPoint size = hf_paper_page(paper);
  HfBox page = {{0, 0}, size}, aside = {{0, 0}, {size.y, size.x}};
  lay_tiles(t, aside);
  guint n = t->columns * t->rows;
  lay_tiles(t, page);
  if (n < t->columns * t->rows)
    lay_tiles(t, aside);
  centre_tiles(t);
}

static HfBox
tile_of(const Template *t, guint row, guint column)
{
  double x = t->all.min.x + column * (t->w - OVERLAP), y = t->all.max.y - row * (t->h - OVERLAP);
  return (HfBox){{x, y - t->h}, {x + t->w, y}};
}

/* A1, B12, AA3 */
static char *
tile_name(guint row, guint column)
{
  g_autoptr(GString) letters = g_string_new(NULL);
  for (guint n = row + 1; n > 0; n = (n - 1) / 26)
    g_string_prepend_c(letters, (char)('A' + (n - 1) % 26));
  return g_strdup_printf("%s%u", letters->str, column + 1);
}

static gboolean
ring_is_seen(const HfRing *ring, HfBox seen)
{
  return hf_box_overlaps(hf_ring_box(ring), seen);
}

static gboolean
edge_is_seen(const HfRing *ring, HfBox seen)
{
  for (guint v = 0; v < ring->n; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    HfBox box = hf_box_add_point((HfBox){a, a}, b);
    if (hf_box_overlaps(box, seen))
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_blank(const Template *t, HfBox seen)
{
  const HfRegion *region = t->what->metal->region;
  for (guint i = 0; i < t->holes->len; i++)
    if (hf_box_contains(seen, g_array_index(t->holes, HfMountHole, i).at))
      return FALSE;
  for (guint i = 0; i < t->what->hold->studs->len; i++)
    if (hf_box_contains(seen, g_array_index(t->what->hold->studs, HfStud, i).at))
      return FALSE;
  for (guint r = 0; r < region->rings->len; r++)
    if (ring_is_seen(hf_region_ring(region, r), seen) &&
        edge_is_seen(hf_region_ring(region, r), seen))
      return FALSE;
  return TRUE;
}

/* ---- drawing ----------------------------------------------------------------------------------
 */

static void
line(const Template *t, HfPoint a, HfPoint b)
{
  HfPoint p = hf_view_point(t->view, a), q = hf_view_point(t->view, b);
  cairo_move_to(t->pen->cr, p.x, p.y);
  cairo_line_to(t->pen->cr, q.x, q.y);
}

static void
cross(const Template *t, HfPoint at, double arm)
{
  line(t, hf_point(at.x - arm, at.y), hf_point(at.x + arm, at.y));
  line(t, hf_point(at.x, at.y - arm), hf_point(at.x, at.y + arm));
}

static void
ring(const Template *t, HfPoint at, double radius)
{
  HfPoint p = hf_view_point(t->view, at);
  cairo_new_sub_path(t->pen->cr);
  cairo_arc(t->pen->cr, p.x, p.y, radius * t->view.scale, 0, 2 * G_PI);
}

static void
stroke(const Template *t, double mm, guint colour)
{
  hf_pen_colour(t->pen->cr, colour, 1);
  cairo_set_line_width(t->pen->cr, mm * HF_POINTS_PER_MM);
  cairo_stroke(t->pen->cr);
}

static void
draw_outlines(const Template *t)
{
  const HfRegion *region = t->what->metal->region;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *of = hf_region_ring(region, r);
    if (!ring_is_seen(of, t->seen))
      continue;
    for (guint v = 0; v < of->n; v++) {
      HfPoint p = hf_view_point(t->view, hf_grid_point(of->at[v]));
      if (v == 0)
        cairo_move_to(t->pen->cr, p.x, p.y);
      else
        cairo_line_to(t->pen->cr, p.x, p.y);
    }
    cairo_close_path(t->pen->cr);
  }
  stroke(t, 0.15, HF_SOFT_INK);
}

/* To hold it level by. */
static void
draw_level(const Template *t)
{
  static const double dashes[] = {12, 3, 2, 3};
  HfPoint middle = hf_box_centre(t->sign->hold->box);
  cairo_set_dash(t->pen->cr, dashes, 4, 0);
  line(t, hf_point(t->all.min.x, middle.y), hf_point(t->all.max.x, middle.y));
  line(t, hf_point(middle.x, t->all.min.y), hf_point(middle.x, t->all.max.y));
  stroke(t, 0.1, HF_SOFT_INK);
  cairo_set_dash(t->pen->cr, NULL, 0, 0);
}

/* To the upper right of a mark, or to its left where the tile ends. */
static void
write_beside(const Template *t, HfPoint at, double clear, const char *text, double size)
{
  HfPenStyle style = {.size = size, .figures = TRUE};
  HfPoint p = hf_view_point(t->view, at);
  double off = (clear + 1) * t->view.scale;
  g_autoptr(PangoLayout) layout = hf_pen_text(t->pen, &style, text);
  gboolean left = p.x + off + hf_pen_width(layout) > t->tile.max.x - 2;
  hf_pen_colour(t->pen->cr, HF_INK, 1);
  hf_pen_say(t->pen, &style, text, left ? p.x - off : p.x + off, p.y - size * 1.5, left ? 1 : 0);
}

static void
draw_mark(const Template *t, HfPoint at, double diameter, const char *text)
{
  if (!hf_box_contains(hf_box_grow(t->seen, 40), at))
    return;
  cross(t, at, fmax(ARM, diameter / 2 + 2));
  stroke(t, 0.1, HF_INK);
  ring(t, at, diameter / 2);
  stroke(t, 0.2, HF_INK);
  write_beside(t, at, diameter / 2, text, 7.5);
}

static void
draw_marks(const Template *t)
{
  for (guint i = 0; i < t->holes->len; i++) {
    const HfMountHole *hole = &g_array_index(t->holes, HfMountHole, i);
    g_autofree char *size = hf_mount_hole_size(hole);
    g_autofree char *text = g_strdup_printf("hole %u: %s", t->number[i], size);
    draw_mark(t, hole->at, hole->diameter, text);
  }
  for (guint i = 0; i < t->what->hold->studs->len; i++) {
    const HfStud *stud = &g_array_index(t->what->hold->studs, HfStud, i);
    g_autofree char *mm = hf_text_mm(stud->diameter);
    g_autofree char *text = g_strdup_printf("stud %u: %s", t->studs + i + 1, mm);
    draw_mark(t, stud->at, stud->diameter, text);
  }
}

static gboolean
is_near_mark(const Template *t, HfPoint at)
{
  for (guint i = 0; i < t->holes->len; i++)
    if (hf_point_distance(g_array_index(t->holes, HfMountHole, i).at, at) < 3 * ARM)
      return TRUE;
  for (guint i = 0; i < t->what->hold->studs->len; i++)
    if (hf_point_distance(g_array_index(t->what->hold->studs, HfStud, i).at, at) < 3 * ARM)
      return TRUE;
  return FALSE;
}

/* From @at along the strip to where no hole or stud is near; at most a sixth of a tile. */
static HfPoint
off_marks(const Template *t, HfPoint at, gboolean across)
{
  double most = (across ? t->h : t->w) / 6;
  for (double off = 0; off <= most; off += ARM)
    for (int side = -1; side <= 1; side += 2) {
      HfPoint p = across ? hf_point(at.x, at.y + side * off) : hf_point(at.x + side * off, at.y);
      if (!is_near_mark(t, p))
        return p;
    }
  return at;
}

/* Where this page and its neighbour to the right (@across) or below share a strip: two crosses in
 * the middle of it, named after both. The neighbour draws the same two. */
static void
draw_joint(const Template *t, guint row, guint column, gboolean across)
{
  HfBox mine = tile_of(t, row, column);
  HfBox other = across ? tile_of(t, row, column + 1) : tile_of(t, row + 1, column);
  g_autofree char *a = tile_name(row, column);
  g_autofree char *b = across ? tile_name(row, column + 1) : tile_name(row + 1, column);
  g_autofree char *text = g_strdup_printf("%s | %s", a, b);
  HfPoint shared = {(other.min.x + mine.max.x) / 2, (mine.min.y + other.max.y) / 2};
  for (int i = 1; i <= 2; i++) {
    HfPoint at = across ? hf_point(shared.x, mine.min.y + i * t->h / 3)
                        : hf_point(mine.min.x + i * t->w / 3, shared.y);
    at = off_marks(t, at, across);
    cross(t, at, ARM);
    ring(t, at, ARM / 3);
    stroke(t, 0.15, HF_HOT);
    write_beside(t, at, 1, text, 6);
  }
}

static void
draw_joints(const Template *t, guint row, guint column)
{
  if (column + 1 < t->columns)
    draw_joint(t, row, column, TRUE);
  if (column > 0)
    draw_joint(t, row, column - 1, TRUE);
  if (row + 1 < t->rows)
    draw_joint(t, row, column, FALSE);
  if (row > 0)
    draw_joint(t, row - 1, column, FALSE);
}

/* ---- the foot ---------------------------------------------------------------------------------
 */

/* 100 mm from the middle of its first line to that of its last, a line each 10 mm; or 4 in, a line
 * each half inch. */
static void
draw_measure(const Template *t)
{
  cairo_t *cr = t->pen->cr;
  double k = HF_POINTS_PER_MM, x = t->tile.min.x, y = t->tile.max.y + 9 * k;
  double length = hf_units_are_inches() ? MEASURE_INCHES : MEASURE;
  int parts = hf_units_are_inches() ? 8 : 10;
  for (int i = 0; i <= parts; i++) {
    cairo_move_to(cr, x + i * length / parts * k, y);
    cairo_line_to(cr, x + i * length / parts * k, y - (i % (parts / 2) == 0 ? 4 : 2) * k);
  }
  cairo_move_to(cr, x, y);
  cairo_line_to(cr, x + length * k, y);
  stroke(t, 0.2, HF_INK);
  HfPenStyle style = {.size = 8, .width = hf_box_width(t->tile) - (length + 4) * k};
  g_autofree char *says = hf_text_mm(length);
  g_autofree char *text =
      g_strconcat(says, ": measure it. If it is not, print again at actual size, 100 %", NULL);
  hf_pen_say(t->pen, &style, text, x + (length + 4) * k, y - 4 * k, 0);
}

static void
draw_foot(const Template *t, const char *page, const char *more)
{
  double k = HF_POINTS_PER_MM, y = t->tile.max.y + 11 * k;
  const HfRecipe *recipe = t->what->recipe;
  const char *name = recipe->sign != NULL ? recipe->sign : recipe->name != NULL ? recipe->name : "";
  guint n;
  const HfCaution *all = hf_cautions(&n);
  HfPenStyle large = {.size = 14, .bold = TRUE, .figures = TRUE};
  HfPenStyle plain = {.size = 8, .one_line = TRUE, .width = hf_box_width(t->tile) - 60};
  HfPenStyle small = {.size = 6.5, .lines = 2, .width = hf_box_width(t->tile) - 60};
  const char *layer = t->sign->layers != NULL ? hf_layer_word(recipe->in_layer) : NULL;
  g_autofree char *says = g_strjoin("  \302\267  ", name, layer != NULL ? layer : more,
                                    layer != NULL ? more : NULL, NULL);
  g_autofree char *print = g_strdup_printf("%s; %s", all[0].text, all[1].text);
  hf_pen_colour(t->pen->cr, HF_INK, 1);
  hf_pen_say(t->pen, &large, page, t->tile.max.x, y, 1);
  hf_pen_say(t->pen, &plain, says, t->tile.min.x, y, 0);
  hf_pen_colour(t->pen->cr, HF_SOFT_INK, 1);
  hf_pen_say(t->pen, &small, print, t->tile.min.x, y + 12, 0);
}

/* ---- pages ------------------------------------------------------------------------------------
 */

static void
see(Template *t, HfBox seen, double scale)
{
  HfPoint middle = hf_box_centre(t->tile);
  t->seen = seen;
  t->view = hf_view_centred(seen, scale, middle.x, middle.y);
}

static void
frame_tile(const Template *t)
{
  HfBox box = t->tile;
  cairo_rectangle(t->pen->cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
  stroke(t, 0.1, HF_RULE);
}

static void
draw_page(Template *t, guint row, guint column)
{
  static const char says[] = "seen from the front; lay the crosses of neighbours on each other";
  HfBox box = t->tile;
  g_autofree char *name = tile_name(row, column);
  see(t, tile_of(t, row, column), HF_POINTS_PER_MM);
  cairo_save(t->pen->cr);
  cairo_rectangle(t->pen->cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
  cairo_clip(t->pen->cr);
  draw_level(t);
  draw_outlines(t);
  draw_marks(t);
  draw_joints(t, row, column);
  cairo_restore(t->pen->cr);
  frame_tile(t);
  draw_measure(t);
  draw_foot(t, name, t->sign->hold->whole ? says : "NOT TO BE DRILLED: the sign is not whole");
  cairo_show_page(t->pen->cr);
}

/* All of it, small, with the tiles and their names: which page lies where. */
static void
draw_map(Template *t)
{
  double k = fmin(hf_box_width(t->tile) / hf_box_width(t->all),
                  hf_box_height(t->tile) / hf_box_height(t->all));
  see(t, t->all, fmin(k * 0.94, HF_POINTS_PER_MM));
  draw_outlines(t);
  for (guint row = 0; row < t->rows; row++)
    for (guint column = 0; column < t->columns; column++) {
      HfBox tile = tile_of(t, row, column), box = hf_view_box(t->view, tile);
      g_autofree char *name = tile_name(row, column);
      HfPenStyle style = {.size = 9, .bold = TRUE};
      if (is_blank(t, tile))
        continue;
      cairo_rectangle(t->pen->cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
      stroke(t, 0.1, HF_HOT);
      hf_pen_say(t->pen, &style, name, box.min.x + 3, box.min.y + 1, 0);
    }
  for (guint i = 0; i < t->holes->len; i++)
    cross(t, g_array_index(t->holes, HfMountHole, i).at, 2 / t->view.scale);
  for (guint i = 0; i < t->what->hold->studs->len; i++)
    cross(t, g_array_index(t->what->hold->studs, HfStud, i).at, 2 / t->view.scale);
  stroke(t, 0.15, HF_INK);
  g_autofree char *text =
      g_strdup_printf("drilling template, full size from the next page on: %u %s, %u %s", //
                      t->holes->len, t->holes->len == 1 ? "hole" : "holes",
                      t->what->hold->studs->len, t->what->hold->studs->len == 1 ? "stud" : "studs");
  draw_measure(t);
  draw_foot(t, "map", text);
  cairo_show_page(t->pen->cr);
}

static gboolean
draw_all(Template *t, const HfCancel *cancel, GError **error)
{
  draw_map(t);
  for (guint row = 0; row < t->rows; row++)
    for (guint column = 0; column < t->columns; column++) {
      if (!hf_cancel_check(cancel, error))
        return FALSE;
      if (!is_blank(t, tile_of(t, row, column)))
        draw_page(t, row, column);
    }
  return TRUE;
}

/* The numbers of @t's holes among all of the sign. */
static void
number_holes(Template *t, const GArray *all)
{
  t->number = g_new(guint, t->holes->len + 1);
  for (guint i = 0; i < t->holes->len; i++) {
    guint own = g_array_index(t->holes, HfMountHole, i).shape;
    t->number[i] = i + 1;
    for (guint k = 0; k < all->len; k++)
      if (t->sign->layout->shapes->pdata[g_array_index(all, HfMountHole, k).shape] ==
          t->what->layout->shapes->pdata[own])
        t->number[i] = k + 1;
  }
}

static gboolean
draw_sheet(Template *t, guint i, const GArray *all, const HfCancel *cancel, GError **error)
{
  t->what = hf_sign_layer(t->sign, i);
  t->holes = hf_mount_holes(t->what);
  number_holes(t, all);
  gboolean something =
      t->holes->len > 0 || t->what->hold->studs->len > 0 || t->sign->layers == NULL;
  gboolean going = !something || draw_all(t, cancel, error);
  t->studs += t->what->hold->studs->len;
  g_free(t->number);
  g_array_unref(t->holes);
  return going;
}

static GBytes *
write_template(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  g_auto(HfDocument) document = {NULL};
  g_autofree char *title =
      g_strconcat(hf_paper_name(making->sign->recipe), ", drilling template", NULL);
  if (!hf_document_begin(&document, title, error))
    return NULL;
  g_autoptr(GArray) holes = hf_mount_holes(making->sign);
  HfBox box = making->sign->hold->box;
  Template t = {.what = making->sign, .sign = making->sign, .pen = &document.pen};
  t.all = hf_box_grow(hf_box_is_empty(box) ? (HfBox){{0, 0}, {1, 1}} : box, ROUND);
  choose_tiles(&t, making->paper);
  cairo_pdf_surface_set_size(document.surface, t.page.max.x, t.page.max.y);
  for (guint i = 0; i < hf_sign_n_layers(making->sign); i++)
    if (!draw_sheet(&t, i, holes, making->cancel, error))
      return NULL;
  return hf_document_end(&document, "template.pdf", error);
}

HF_FORMATS(template, {.about = HF_ABOUT_TEMPLATE,
                      .ending = ".pdf",
                      .type = "application/pdf",
                      .says = "where to drill, full size, on pages to be joined",
                      .option = "template",
                      .slow = TRUE,
                      .write = write_template});
