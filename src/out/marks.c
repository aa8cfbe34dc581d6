/* SPDX-License-Identifier: GPL-3.0-or-later
 * marks.c - numbered rings at the places of findings.
 *
 *        (1)          The number stands beside its ring, on the free side: of sixteen places round
 *          \__        the ring the one is taken that covers least of the rings, the numbers and the
 *          /  \       metal, and lies in the room.
 *          \__/
 */
#include "out/picture-private.h"
#include "out/taken-private.h"

enum {
  MOST_PLACES = 40, /* rings to a finding */
  MOST_NUMBERS = 2, /* of them carry the number */
  WAYS = 16,
};
static const double NUMBER = 0.85; /* half of the room of a number, in its size */

typedef struct {
  const HfPen *pen;
  const HfSign *what;
  HfView view;
  HfBox room;
  double size;
  HfTaken *taken;         /* rings and numbers so far, page units */
  cairo_surface_t *metal; /* (borrowed) the metal in the room, `cell` page units a pixel */
  double cell;
} Marking;

/* Notes are for reading only; what is about the sign as a whole has no place to point at. */
static gboolean
is_marked(const HfFinding *finding)
{
  return finding->gravity >= HF_CAUTION && finding->where != NULL;
}

static guint
colour_of(const HfFinding *finding)
{
  gboolean hot =
      finding->gravity == HF_STOP || (finding->gravity == HF_CAUTION && finding->accepted == NULL);
  return hot ? HF_HOT : HF_INK;
}

static void
set_dash(cairo_t *cr, const HfFinding *finding, double size)
{
  const double broken[] = {size * 0.35, size * 0.2}, dotted[] = {size * 0.1, size * 0.15};
  if (finding->gravity == HF_STOP)
    cairo_set_dash(cr, NULL, 0, 0);
  else
    cairo_set_dash(cr, finding->accepted != NULL ? dotted : broken, 2, 0);
}

static HfBox
round_box(HfPoint at, double radius)
{
  return hf_box_grow((HfBox){at, at}, radius);
}

void
hf_picture_badge(const HfPen *pen, const HfFinding *finding, guint number, HfPoint at, double size)
{
  cairo_t *cr = pen->cr;
  gboolean filled = finding->gravity == HF_STOP;
  char text[16];
  g_snprintf(text, sizeof text, "%u", number);
  cairo_new_path(cr);
  cairo_arc(cr, at.x, at.y, size * 0.75, 0, 2 * G_PI);
  hf_pen_colour(cr, filled ? HF_HOT : HF_CARD_TONE, 1);
  cairo_fill_preserve(cr);
  cairo_set_line_width(cr, size * 0.08);
  hf_pen_colour(cr, colour_of(finding), finding->gravity >= HF_CAUTION ? 1 : 0);
  set_dash(cr, finding, size);
  cairo_stroke(cr);
  cairo_set_dash(cr, NULL, 0, 0);
  HfPenStyle style = {.size = size * (number > 99  ? 0.62
                                      : number > 9 ? 0.8
                                                   : 0.95),
                      .bold = TRUE,
                      .figures = TRUE};
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &style, text);
  PangoRectangle ink;
  pango_layout_get_extents(layout, &ink, NULL);
  hf_pen_colour(cr, filled ? HF_CARD_TONE : colour_of(finding), 1);
  hf_pen_draw(pen, layout, at.x - (ink.x + ink.width / 2.0) / PANGO_SCALE,
              at.y - (ink.y + ink.height / 2.0) / PANGO_SCALE);
}

/* A ring is light where it crosses metal and dark where it crosses the wall, so it has both. */
static void
draw_ring(const Marking *m, const HfFinding *finding, HfPoint at, double radius)
{
  cairo_t *cr = m->pen->cr;
  cairo_new_path(cr);
  cairo_arc(cr, at.x, at.y, radius, 0, 2 * G_PI);
  cairo_set_dash(cr, NULL, 0, 0);
  cairo_set_line_width(cr, m->size * 0.32);
  hf_pen_colour(cr, HF_CARD_TONE, 0.85);
  cairo_stroke_preserve(cr);
  cairo_set_line_width(cr, m->size * 0.14);
  hf_pen_colour(cr, colour_of(finding), 1);
  set_dash(cr, finding, m->size);
  cairo_stroke(cr);
  cairo_set_dash(cr, NULL, 0, 0);
}

/* Without the metal, which is dear to ask about. More than @least: no matter by how much. */
static double
cheap_cost(const Marking *m, HfPoint at, double least)
{
  HfBox box = round_box(at, m->size * NUMBER);
  gboolean outside = !hf_box_contains(m->room, box.min) || !hf_box_contains(m->room, box.max);
  double square = m->size * m->size;
  return 4 * hf_taken_cover(m->taken, at, least * square / 3) / square + (outside ? 100 : 0);
}

/* The metal in coarse pixels, so that asking costs nothing however fine the outline is. */
static cairo_surface_t *
coarse_metal(const HfSign *what, HfView view, HfBox room, double cell)
{
  int w = MAX(1, (int)(hf_box_width(room) / cell)), h = MAX(1, (int)(hf_box_height(room) / cell));
  HfView small = {view.scale / cell, (view.x - room.min.x) / cell, (view.y - room.min.y) / cell};
  cairo_surface_t *metal = cairo_image_surface_create(CAIRO_FORMAT_A8, w, h);
  HF_AUTO_CAIRO cr = cairo_create(metal);
  hf_picture_path(cr, what, small);
  cairo_fill(cr);
  cairo_surface_flush(metal);
  return metal;
}

static gboolean
on_metal(const Marking *m, HfPoint at)
{
  int x = (int)((at.x - m->room.min.x) / m->cell), y = (int)((at.y - m->room.min.y) / m->cell);
  if (x < 0 || y < 0 || x >= cairo_image_surface_get_width(m->metal) ||
      y >= cairo_image_surface_get_height(m->metal))
    return FALSE;
  return cairo_image_surface_get_data(m->metal)[y * cairo_image_surface_get_stride(m->metal) + x] >
         127;
}

static HfPoint
place_number(const Marking *m, HfPoint ring, double radius)
{
  HfPoint best = hf_point_add(ring, hf_point(radius + m->size, 0));
  double least = INFINITY;
  for (int way = 0; way < 3 * WAYS; way++) {
    int lap = way / WAYS;
    if (least <= 0.3 * lap)
      break; /* no place further out can be better */
    HfPoint at = hf_point_polar(ring, radius + m->size * (1.0 + 0.9 * lap),
                                -G_PI / 4 + 2 * G_PI * (way % WAYS) / WAYS);
    double cost = cheap_cost(m, at, least) + 0.3 * lap;
    if (cost < least && on_metal(m, at))
      cost += 1;
    if (cost < least) {
      least = cost;
      best = at;
    }
  }
  return best;
}

static double
ring_radius(const Marking *m, const HfFinding *finding)
{
  double measured = isfinite(finding->limit) && g_strcmp0(hf_law(finding->kind)->unit, "mm") == 0
                        ? finding->limit
                        : 0;
  return CLAMP(measured * m->view.scale, m->size * 0.6, m->size * 1.6);
}

static void
draw_rings(Marking *m, const HfFinding *finding)
{
  double radius = ring_radius(m, finding);
  for (guint i = 0; i < finding->places->len && i < MOST_PLACES; i++) {
    HfPoint at = hf_view_point(m->view, g_array_index(finding->places, HfPoint, i));
    draw_ring(m, finding, at, radius);
    HfBox box = round_box(at, radius);
    hf_taken_add(m->taken, box);
  }
}

static void
draw_numbers(Marking *m, const HfFinding *finding, guint number)
{
  double radius = ring_radius(m, finding);
  cairo_t *cr = m->pen->cr;
  for (guint i = 0; i < finding->places->len && i < MOST_NUMBERS; i++) {
    HfPoint ring = hf_view_point(m->view, g_array_index(finding->places, HfPoint, i));
    HfPoint at = place_number(m, ring, radius);
    HfPoint away = hf_point_sub(at, ring);
    HfPoint edge = hf_point_add(ring, hf_point_scale(away, radius / hf_point_length(away)));
    cairo_move_to(cr, edge.x, edge.y);
    cairo_line_to(cr, at.x, at.y);
    cairo_set_line_width(cr, m->size * 0.1);
    hf_pen_colour(cr, colour_of(finding), 1);
    cairo_stroke(cr);
    hf_picture_badge(m->pen, finding, number, at, m->size);
    HfBox box = round_box(at, m->size * 0.8);
    hf_taken_add(m->taken, box);
  }
}

static gboolean
anything_marked(const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    if (is_marked(g_ptr_array_index(findings, i)))
      return TRUE;
  return FALSE;
}

/* All rings first, so that the numbers know what to keep clear of; the gravest come last, on top.
 */
void
hf_picture_marks(const HfPen *pen, const HfSign *what, HfView view, HfBox room, const HfBox *kept,
                 guint n_kept, double size, const HfCancel *cancel)
{
  const GPtrArray *findings = what->hold->findings;
  if (!anything_marked(findings))
    return;
  g_autoptr(HfTaken) taken = hf_taken_new(room, 2 * NUMBER * size);
  for (guint i = 0; i < n_kept; i++)
    hf_taken_add(taken, kept[i]);
  HF_AUTO_SURFACE metal = coarse_metal(what, view, room, size / 4);
  Marking m = {pen, what, view, room, size, taken, metal, size / 4};
  for (guint i = findings->len; i-- > 0 && hf_cancel_check(cancel, NULL);)
    if (is_marked(g_ptr_array_index(findings, i)))
      draw_rings(&m, g_ptr_array_index(findings, i));
  for (guint i = findings->len; i-- > 0 && hf_cancel_check(cancel, NULL);)
    if (is_marked(g_ptr_array_index(findings, i)))
      draw_numbers(&m, g_ptr_array_index(findings, i), i + 1);
}
