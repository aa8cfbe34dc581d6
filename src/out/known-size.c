/* SPDX-License-Identifier: GPL-3.0-or-later
 * known-size.c - a person, a sheet of paper or a card beside the sign.
 *
 *    o   +---------+      to the left, clear of the sign; paper hangs at the sign's middle, a
 * person
 *   /|\  |  sign   |      stands so that the sign is at eye height, or on the sign's own floor
 *   / \  +---------+
 *
 * Sizes: ISO 216 A4 and A6; US Letter 8.5 x 11 in and an index card of 4 x 6 in. The person is the
 * page's own (page/client/src/sign/silhouettes.ts), 1.7 m.
 */
#include "out/known-size-private.h"
#include "out/look-private.h"

struct HfKnown {
  double w, h;
  double share; /* of its size that the sign keeps at least; a card is the last resort */
  const char *words;
  const char *on_it[2]; /* written on it; a person: %NULL */
};

#define TIMES  " \303\227 "               /* multiplication sign */
#define CLOSED "\302\240\303\227\302\240" /* the same, in one piece */
static const HfKnown in_mm[] = {
    {500, 1700, 0.76, "a person of 1.7 m", {NULL}},
    {210, 297, 0.76, "a sheet of A4, 210" TIMES "297 mm", {"A4", "210" CLOSED "297"}},
    {148, 105, 0.6, "a card of A6, 148" TIMES "105 mm", {"A6", "148" CLOSED "105"}},
};
static const HfKnown in_inches[] = {
    {500, 1700, 0.76, "a person of 5 ft 7 in", {NULL}},
    {215.9,
     279.4,
     0.76,
     "a sheet of paper, 8-1/2" TIMES "11 in",
     {"paper", "8-1/2" CLOSED "11 in"}},
    {152.4, 101.6, 0.6, "a card, 6" TIMES "4 in", {"card", "6" CLOSED "4 in"}},
};

#define EYE_HEIGHT   1500 /* mm: the middle of what hangs on a wall */
#define TALL         1200 /* mm: what is higher stands on the ground */
#define MOST_HIGH    0.62 /* of the sign's longer side */
#define LEAST_POINTS 20   /* page units high */

const char *
hf_known_words(const HfKnown *known)
{
  return known->words;
}

static HfBox
place_of(const HfKnown *known, HfBox sign)
{
  double gap = 0.05 * fmax(hf_box_width(sign), hf_box_height(sign)) + 0.06 * known->w;
  double right = sign.min.x - gap, foot = hf_box_centre(sign).y - known->h / 2;
  if (known->on_it[0] == NULL)
    foot = hf_box_height(sign) > TALL ? sign.min.y : hf_box_centre(sign).y - EYE_HEIGHT;
  return (HfBox){{right - known->w, foot}, {right, foot + known->h}};
}

static double
scale_of(HfBox box, HfBox room)
{
  return fmin(hf_box_width(room) / fmax(hf_box_width(box), 1e-3),
              hf_box_height(room) / fmax(hf_box_height(box), 1e-3));
}

HfKnownScene
hf_known_scene(HfBox sign, HfBox room)
{
  const HfKnown *all = hf_units_are_inches() ? in_inches : in_mm;
  HfPoint middle = hf_box_centre(room);
  double alone = scale_of(sign, room);
  for (guint i = 0; i < G_N_ELEMENTS(in_mm); i++) {
    HfBox place = place_of(&all[i], sign), both = hf_box_union(sign, place);
    double scale = scale_of(both, room);
    double longer = fmax(hf_box_width(sign), hf_box_height(sign));
    if (scale >= all[i].share * alone && scale * all[i].h >= LEAST_POINTS &&
        all[i].h <= MOST_HIGH * longer)
      return (HfKnownScene){hf_view_centred(both, scale, middle.x, middle.y), &all[i], place};
  }
  return (HfKnownScene){hf_view_centred(sign, alone, middle.x, middle.y), NULL, HF_BOX_EMPTY};
}

/* ---- drawing ------------------------------------------------------------------------------- */

/* A walker in a coat, y down, feet on 0: neck, shoulder, sleeve, hand, the coat's hem at the knee.
 * Half of it; six numbers a curve, after the first point. */
static const double half[][6] = {
    {46, -1462, 54, -1442, 84, -1430},    {140, -1412, 186, -1398, 200, -1342},
    {216, -1262, 232, -1090, 240, -930},  {244, -890, 246, -850, 238, -812},
    {234, -786, 214, -784, 208, -806},    {198, -840, 192, -880, 188, -930},
    {180, -1030, 168, -1130, 152, -1212}, {146, -1120, 152, -1030, 166, -930},
    {182, -800, 192, -690, 200, -540},    {180, -526, 150, -520, 124, -518},
    {120, -400, 112, -200, 100, -64},     {112, -40, 138, -26, 140, 0},
};

static void
trace_half(cairo_t *cr, double side)
{
  cairo_move_to(cr, 0, -1494);
  cairo_line_to(cr, side * 46, -1492);
  for (guint i = 0; i < G_N_ELEMENTS(half); i++)
    cairo_curve_to(cr, side * half[i][0], half[i][1], side * half[i][2], half[i][3],
                   side * half[i][4], half[i][5]);
  cairo_line_to(cr, side * 40, 0);
  cairo_curve_to(cr, side * 36, -180, side * 20, -380, side * 6, -520);
  cairo_line_to(cr, 0, -520);
  cairo_close_path(cr);
  cairo_move_to(cr, 0, -1700);
  cairo_curve_to(cr, side * 48, -1700, side * 80, -1664, side * 79, -1604);
  cairo_curve_to(cr, side * 78, -1544, side * 42, -1476, 0, -1476);
  cairo_close_path(cr);
}

static void
draw_person(cairo_t *cr, HfBox box, double scale, guint colour)
{
  cairo_save(cr);
  cairo_translate(cr, hf_box_centre(box).x, box.max.y);
  cairo_scale(cr, scale, scale);
  trace_half(cr, 1);
  trace_half(cr, -1);
  cairo_restore(cr);
  hf_pen_colour(cr, colour, 1);
  cairo_fill(cr);
}

static void
draw_paper(const HfPen *pen, HfBox box)
{
  cairo_t *cr = pen->cr;
  double w = hf_box_width(box), h = hf_box_height(box), u = w / 60;
  for (int i = 3; i > 0; i--) { /* a soft shadow of three */
    hf_pen_colour(cr, 0x1a120a, 0.09);
    cairo_rectangle(cr, box.min.x + u - i * u / 3, box.min.y + 1.4 * u - i * u / 3,
                    w + 2 * i * u / 3, h + 2 * i * u / 3);
    cairo_fill(cr);
  }
  hf_pen_colour(cr, 0xfffefb, 1);
  cairo_rectangle(cr, box.min.x, box.min.y, w, h);
  cairo_fill(cr);
}

/* What it is, on the paper itself, as far as it has room. */
static void
write_on_paper(const HfPen *pen, const HfKnown *known, HfBox box)
{
  double size = fmin(8.5, hf_box_width(box) / 6.5);
  if (size < 4)
    return;
  HfPenStyle style = {.size = size, .figures = TRUE};
  double y = hf_box_centre(box).y - size * 1.35;
  hf_pen_colour(pen->cr, HF_SOFT_INK, 1);
  for (guint i = 0; i < G_N_ELEMENTS(known->on_it); i++)
    y += hf_pen_say(pen, &style, known->on_it[i], hf_box_centre(box).x, y, 0.5);
}

void
hf_known_draw(const HfPen *pen, const HfKnownScene *scene, const HfWall *wall)
{
  if (scene->known == NULL)
    return;
  HfBox box = hf_view_box(scene->view, scene->place);
  guint tone = hf_wall_tone(wall);
  if (scene->known->on_it[0] == NULL) {
    draw_person(pen->cr, box, scene->view.scale,
                hf_colour_mix(tone, hf_look_on_wall(wall).ink, 0.42));
    return;
  }
  draw_paper(pen, box);
  write_on_paper(pen, scene->known, box);
}
