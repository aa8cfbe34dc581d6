/* SPDX-License-Identifier: GPL-3.0-or-later
 * picture.c - the sign on a cairo page: the metal and its sizes.
 */
#include "base/text.h"
#include "out/look-private.h"
#include "out/picture-private.h"

HfBox
hf_view_box(HfView view, HfBox box)
{
  HfPoint a = hf_view_point(view, box.min), b = hf_view_point(view, box.max);
  return (HfBox){{a.x, b.y}, {b.x, a.y}};
}

HfView
hf_view_centred(HfBox box, double scale, double x, double y)
{
  HfPoint middle = hf_box_is_empty(box) ? hf_point(0, 0) : hf_box_centre(box);
  return (HfView){scale, x - middle.x * scale, y + middle.y * scale};
}

/* The page's y runs down, so counter-clockwise becomes cairo's "negative". */
static void
trace_arc(cairo_t *cr, const HfCurve *arc, HfView view)
{
  HfPoint centre = hf_view_point(view, arc->c0);
  double radius = hf_curve_radius(arc) * view.scale;
  double from = -hf_angle_of(hf_point_sub(arc->p0, arc->c0));
  if (arc->sweep > 0)
    cairo_arc_negative(cr, centre.x, centre.y, radius, from, from - arc->sweep);
  else
    cairo_arc(cr, centre.x, centre.y, radius, from, from - arc->sweep);
}

static void
trace_curve(cairo_t *cr, const HfCurve *curve, HfView view)
{
  HfPoint end = hf_view_point(view, curve->p1);
  switch (curve->kind) {
  case HF_CURVE_LINE:
    cairo_line_to(cr, end.x, end.y);
    return;
  case HF_CURVE_ARC:
    trace_arc(cr, curve, view);
    return;
  case HF_CURVE_CUBIC: {
    HfPoint a = hf_view_point(view, curve->c0), b = hf_view_point(view, curve->c1);
    cairo_curve_to(cr, a.x, a.y, b.x, b.y, end.x, end.y);
    return;
  }
  }
}

static void
trace_outline(cairo_t *cr, const HfOutline *outline, HfView view)
{
  guint contours = hf_outline_n_contours(outline);
  for (guint i = 0; i < contours; i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(outline, i, &n);
    HfPoint start = hf_view_point(view, curves[0].p0);
    cairo_move_to(cr, start.x, start.y);
    for (guint j = 0; j < n; j++)
      trace_curve(cr, &curves[j], view);
    cairo_close_path(cr);
  }
}

void
hf_picture_region(cairo_t *cr, const HfRegion *region, HfView view)
{
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    for (guint j = 0; j < ring->n; j++) {
      HfPoint p = hf_view_point(view, hf_grid_point(ring->at[j]));
      cairo_line_to(cr, p.x, p.y); /* the first one begins a path */
    }
    cairo_close_path(cr);
    cairo_new_sub_path(cr);
  }
}

/* The fitted outline is the smaller one; without it the region itself serves. */
void
hf_picture_path(cairo_t *cr, const HfSign *what, HfView view)
{
  cairo_new_path(cr);
  if (what->fit != NULL)
    trace_outline(cr, what->fit->outline, view);
  else
    hf_picture_region(cr, what->metal->region, view);
}

void
hf_picture_studs(const HfPen *pen, const HfSign *what, HfView view, double line)
{
  cairo_t *cr = pen->cr;
  const double dashes[] = {3 * line, 2 * line};
  cairo_save(cr);
  cairo_set_line_width(cr, line);
  hf_pen_colour(cr, HF_CARD_TONE, 0.9);
  for (guint i = 0; i < what->hold->studs->len; i++) {
    const HfStud *stud = &g_array_index(what->hold->studs, HfStud, i);
    HfPoint at = hf_view_point(view, stud->at);
    double radius = stud->diameter / 2 * view.scale, arm = radius * 0.6;
    cairo_set_dash(cr, dashes, 2, 0);
    cairo_new_sub_path(cr);
    cairo_arc(cr, at.x, at.y, radius, 0, 2 * G_PI);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0);
    cairo_move_to(cr, at.x - arm, at.y);
    cairo_line_to(cr, at.x + arm, at.y);
    cairo_move_to(cr, at.x, at.y - arm);
    cairo_line_to(cr, at.x, at.y + arm);
    cairo_stroke(cr);
  }
  cairo_restore(cr);
}

/* How sizes are drawn. */
typedef struct {
  const HfPen *pen;
  const HfSign *what;
  double size, gap; /* of the figures; from the metal to the lines */
  HfOnWall on;
} Sizes;

/* On brick or leaves a figure stands on a ground of its own. */
static void
draw_ground(const Sizes *s, double x, double y, double w, double h)
{
  if (!s->on.busy)
    return;
  hf_pen_colour(s->pen->cr, s->on.ground, 0.82);
  cairo_rectangle(s->pen->cr, x - s->size * 0.3, y + h * 0.06, w + s->size * 0.6, h * 0.9);
  cairo_fill(s->pen->cr);
}

/* One size: two lines out from the metal, a line between them with slanted ends, the figure in a
 * break of it. Drawn along x from 0 to `length`, the metal `gap` away on the side of -y. */
static void
draw_size(const Sizes *s, double length, double mm, double gap)
{
  enum { TICK = 3 };
  const HfPen *pen = s->pen;
  cairo_t *cr = pen->cr;
  double size = s->size;
  g_autofree char *text = hf_text_length(mm, 1);
  HfPenStyle style = {.size = size, .figures = TRUE};
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &style, text);
  double w = hf_pen_width(layout), h = hf_pen_height(layout), tick = size / TICK;
  gboolean inside = w + 4 * tick < length;
  hf_pen_colour(cr, s->on.soft, 1);
  cairo_set_line_width(cr, size * (s->on.busy ? 0.1 : 0.06));
  for (int end = 0; end < 2; end++) {
    cairo_move_to(cr, end * length, -gap + size * 0.3);
    cairo_line_to(cr, end * length, tick);
    cairo_move_to(cr, end * length - tick, tick);
    cairo_line_to(cr, end * length + tick, -tick);
  }
  cairo_move_to(cr, 0, 0);
  if (inside) {
    cairo_line_to(cr, (length - w) / 2 - tick, 0);
    cairo_move_to(cr, (length + w) / 2 + tick, 0);
  }
  cairo_line_to(cr, length, 0);
  cairo_stroke(cr);
  double y = inside ? -h / 2 : tick;
  draw_ground(s, (length - w) / 2, y, w, h);
  hf_pen_colour(cr, s->on.ink, 1);
  hf_pen_draw(pen, layout, (length - w) / 2, y);
}

static void
draw_width(const Sizes *s, HfBox box)
{
  cairo_save(s->pen->cr);
  cairo_translate(s->pen->cr, box.min.x, box.max.y + s->gap);
  draw_size(s, hf_box_width(box), hf_box_width(s->what->hold->box), s->gap);
  cairo_restore(s->pen->cr);
}

/* Beside the sign, read from the right-hand side as on a drawing. */
static void
draw_height(const Sizes *s, HfBox box)
{
  cairo_save(s->pen->cr);
  cairo_translate(s->pen->cr, box.max.x + s->gap, box.max.y);
  cairo_rotate(s->pen->cr, -G_PI / 2);
  draw_size(s, hf_box_height(box), hf_box_height(s->what->hold->box), s->gap);
  cairo_restore(s->pen->cr);
}

/* Further out, or above at the same place: lines from above then cross the least metal. */
static gboolean
is_further(double out, double above)
{
  return out > 0.5 || (out > -0.5 && above > 0);
}

static gboolean
holes_apart(const HfSign *what, HfPoint *ret_left, HfPoint *ret_right)
{
  const GArray *hangs = what->layout->hangs;
  HfPoint left = {INFINITY, -INFINITY}, right = {-INFINITY, -INFINITY};
  for (guint i = 0; i < hangs->len; i++) {
    const HfHang *hang = &g_array_index(hangs, HfHang, i);
    if (hang->kind != HF_HANG_HOLE)
      continue;
    left = is_further(left.x - hang->at.x, hang->at.y - left.y) ? hang->at : left;
    right = is_further(hang->at.x - right.x, hang->at.y - right.y) ? hang->at : right;
  }
  *ret_left = left;
  *ret_right = right;
  return right.x - left.x > 1;
}

/* Above the sign, with lines down to the holes' centres. */
static void
draw_holes(const Sizes *s, HfView view, HfBox box)
{
  HfPoint left, right;
  if (!holes_apart(s->what, &left, &right))
    return;
  HfPoint a = hf_view_point(view, left), b = hf_view_point(view, right);
  double y = box.min.y - s->gap;
  cairo_t *cr = s->pen->cr;
  hf_pen_colour(cr, s->on.soft, 1);
  cairo_set_line_width(cr, s->size * 0.06);
  cairo_move_to(cr, a.x, y);
  cairo_line_to(cr, a.x, a.y);
  cairo_move_to(cr, b.x, y);
  cairo_line_to(cr, b.x, b.y);
  cairo_stroke(cr);
  cairo_save(cr);
  cairo_translate(cr, a.x, y);
  draw_size(s, b.x - a.x, right.x - left.x, 0);
  cairo_restore(cr);
}

void
hf_picture_sizes(const HfPen *pen, const HfSign *what, HfView view, double size, double gap,
                 const HfWall *wall)
{
  static const HfOnWall paper = {HF_INK, HF_SOFT_INK, FALSE, 0xffffff};
  if (hf_box_is_empty(what->hold->box))
    return;
  HfBox box = hf_view_box(view, what->hold->box);
  Sizes sizes = {pen, what, size, gap, wall != NULL ? hf_look_on_wall(wall) : paper};
  draw_width(&sizes, box);
  draw_height(&sizes, box);
  draw_holes(&sizes, view, box);
}

void
hf_picture_sizes_boxes(const HfSign *what, HfView view, double size, double gap,
                       HfBox ret_boxes[HF_SIZES_BOXES])
{
  HfBox box = hf_view_box(view, what->hold->box);
  double near = gap - size, far = gap + size;
  ret_boxes[0] = (HfBox){{box.min.x, box.max.y + near}, {box.max.x, box.max.y + far}};
  ret_boxes[1] = (HfBox){{box.max.x + near, box.min.y}, {box.max.x + far, box.max.y}};
  ret_boxes[2] = (HfBox){{box.min.x, box.min.y - far}, {box.max.x, box.min.y - near}};
}

double
hf_picture_sizes_room(double size, double gap)
{
  return gap + size * 0.9;
}
