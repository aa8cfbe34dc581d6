/* SPDX-License-Identifier: GPL-3.0-or-later
 * coupon-recipe.c - the coupon as a recipe, which then goes the way of any sign: its marks are
 * words cut through, what is tried is openings of a plate.
 */
#include "base/text.h"
#include "coupon/coupon-private.h"

#define THIRD    1.001 /* of 1/3: not a hair laxer than may be (hold/lax.c) */
#define POINT_MM 25.0
#define SLOT_MM  25.0

/* Key, law, share of its limit that a marked mm is, how to judge it. */
static const struct {
  const char *key;
  HfLawKind law;
  double share;
  const char *says;
} combs[HF_N_COMBS] = {
    [HF_COMB_SLOTS] = {"slots", HF_LAW_NARROW_GAP, 1,
                       "open to the end, no dross across, both edges clean"},
    [HF_COMB_LONG_WEBS] = {"long webs", HF_LAW_THIN_LONG_WEB, 1,
                           "straight, not burnt through, does not bend under a thumb"},
    [HF_COMB_SHORT_WEBS] = {"short webs", HF_LAW_THIN_WEB, 1, "whole, not burnt through"},
    [HF_COMB_HOLES] = {"holes", HF_LAW_SMALL_HOLE, 1, "round enough, top and bottom"},
    [HF_COMB_OPENINGS] = {"openings", HF_LAW_SMALL_OPENING, 0.5,
                          "its drop fell out, the crater of the pierce took none of its edge"},
    [HF_COMB_LETTERS] = {"letters", HF_N_LAWS, 1, "reads well: for your eye"},
    [HF_COMB_POINTS] = {"points", HF_N_LAWS, 1, "how much of each tip is left: for your eye"},
};

char
hf_comb_letter(HfCombKind kind)
{
  return (char)('A' + (int)kind);
}

const char *
hf_comb_key(HfCombKind kind)
{
  return combs[kind].key;
}

const char *
hf_comb_says(HfCombKind kind)
{
  return combs[kind].says;
}

HfLawKind
hf_comb_law(HfCombKind kind, double *ret_share)
{
  *ret_share = combs[kind].share;
  return combs[kind].law;
}

char *
hf_coupon_length(double mm)
{
  return hf_text_length(mm, 4);
}

char *
hf_coupon_figure(HfCombKind kind, double figure)
{
  if (kind == HF_COMB_POINTS)
    return hf_text_number(figure, 0);
  if (!hf_units_are_inches())
    return hf_text_number(figure, 2);
  g_autofree char *number = hf_text_fixed(figure / 25.4, 3);
  return g_strdup(number[0] == '0' ? number + 1 : number);
}

/* ---- entries ----------------------------------------------------------------------------------
 */

typedef struct {
  GString *text;
  const HfCoupon *coupon;
  const char *font, *style;
  HfMarkSize size;
} Writing;

static char *
place_of(HfPoint at)
{
  g_autofree char *x = hf_coupon_length(at.x), *y = hf_coupon_length(at.y);
  return g_strdup_printf("[%s, %s]", x, y);
}

static void
add_opening(Writing *writing, HfPoint at, double width, double height)
{
  g_autofree char *place = place_of(at), *w = hf_coupon_length(width);
  g_autofree char *h = hf_coupon_length(height);
  g_string_append_printf(writing->text,
                         "  - plate: {shape: rectangle, width: %s, height: %s, as: opening, at: "
                         "%s}\n",
                         w, h, place);
}

static void
add_bore(Writing *writing, HfPoint at, double diameter)
{
  g_autofree char *place = place_of(at), *d = hf_coupon_length(diameter);
  g_string_append_printf(writing->text, "  - hole: {diameter: %s, at: %s}\n", d, place);
}

/* The slots of a row's marks: all that lie, that stand, and points, each in one entry. */
static void
add_slots(Writing *writing, HfCombKind kind, const char *what, GArray *places, double width,
          double height)
{
  if (places->len == 0)
    return;
  g_autofree char *w = hf_coupon_length(width), *h = hf_coupon_length(height);
  g_string_append_printf(writing->text,
                         "  - plate: {name: %s %s, shape: rectangle, width: %s, height: %s, as: "
                         "opening, at: [",
                         kind == HF_N_COMBS ? "window" : hf_comb_key(kind), what, w, h);
  for (guint i = 0; i < places->len; i++) {
    g_autofree char *place = place_of(g_array_index(places, HfPoint, i));
    g_string_append_printf(writing->text, "%s%s", i > 0 ? ", " : "", place);
  }
  g_string_append(writing->text, "]}\n");
}

static HfMarks
marks_new(void)
{
  return (HfMarks){
      g_array_new(FALSE, FALSE, sizeof(HfPoint)), g_array_new(FALSE, FALSE, sizeof(HfPoint)),
      g_array_new(FALSE, FALSE, sizeof(HfPoint)), g_array_new(FALSE, FALSE, sizeof(HfPoint))};
}

/* Writes them, and lets them go. */
static void
write_marks(Writing *writing, HfCombKind kind, HfMarks *marks)
{
  const HfMarkSize *size = &writing->size;
  double whole = size->cell + size->slot;
  add_slots(writing, kind, "marks lying", marks->level, whole, size->slot);
  add_slots(writing, kind, "marks standing", marks->upright, size->slot, whole);
  add_slots(writing, kind, "marks lying short", marks->shorter, size->cell - size->web, size->slot);
  add_slots(writing, kind, "points of marks", marks->points, size->slot, size->slot);
  g_array_unref(marks->level);
  g_array_unref(marks->upright);
  g_array_unref(marks->shorter);
  g_array_unref(marks->points);
}

static void
add_letters(Writing *writing, HfPoint at, double height)
{
  g_autofree char *place = place_of(at), *h = hf_coupon_length(height);
  g_autofree char *font = writing->style != NULL ? g_strdup_printf("{family: %s, style: %s}",
                                                                   writing->font, writing->style)
                                                 : g_strdup(writing->font);
  g_string_append_printf(writing->text,
                         "  - words: {text: a, font: %s, height: %s, as: opening, at: %s}\n", font,
                         h, place);
}

static void
add_long_web(Writing *writing, HfPoint at, double web)
{
  double slot = hf_coupon_slot(writing->coupon), off = (slot + web) / 2;
  double length = hf_coupon_web_length(writing->coupon);
  add_opening(writing, hf_point(at.x - off, at.y), slot, length);
  add_opening(writing, hf_point(at.x + off, at.y), slot, length);
}

static void
add_short_web(Writing *writing, HfPoint at, double web)
{
  double bore = hf_coupon_bore(writing->coupon), off = (bore + web) / 2;
  add_bore(writing, hf_point(at.x, at.y - off), bore);
  add_bore(writing, hf_point(at.x, at.y + off), bore);
}

/* Half of it stands out of the plate's lower edge. */
static void
add_point(Writing *writing, HfPoint at, double degrees)
{
  g_autofree char *w = hf_coupon_length(2 * POINT_MM * tan(degrees * G_PI / 360));
  g_autofree char *h = hf_coupon_length(2 * POINT_MM), *place = place_of(at);
  g_string_append_printf(writing->text, "  - diamond: {height: %s, width: %s, at: %s}\n", h, w,
                         place);
}

static void
add_points(Writing *writing)
{
  const HfComb *comb = &writing->coupon->combs[HF_COMB_POINTS];
  for (guint i = 0; i < comb->n; i++)
    add_point(writing, comb->at[i], comb->figure[i]);
}

/* The slot runs over the plate's upper edge by as much as it is wide. */
static void
add_slot(Writing *writing, HfPoint at, double width)
{
  add_opening(writing, hf_point(at.x, at.y + width / 2), width, SLOT_MM + width);
}

static void
add_one(Writing *writing, HfCombKind kind, HfPoint at, double figure)
{
  switch (kind) {
  case HF_COMB_SLOTS:
    add_slot(writing, at, figure);
    break;
  case HF_COMB_LONG_WEBS:
    add_long_web(writing, at, figure);
    break;
  case HF_COMB_SHORT_WEBS:
    add_short_web(writing, at, figure);
    break;
  case HF_COMB_HOLES:
    add_bore(writing, at, figure);
    break;
  case HF_COMB_OPENINGS:
    add_opening(writing, at, figure, figure);
    break;
  case HF_COMB_LETTERS:
    add_letters(writing, at, figure);
    break;
  case HF_COMB_POINTS:
  case HF_N_COMBS:
    break;
  }
}

/* mm from the middle of what is tried down to the middle of its mark; of points up. */
static double
mark_off(const HfCoupon *coupon, HfCombKind kind)
{
  double half = kind == HF_COMB_SLOTS       ? SLOT_MM / 2
                : kind == HF_COMB_LONG_WEBS ? hf_coupon_web_length(coupon) / 2
                : kind == HF_COMB_SHORT_WEBS
                    ? hf_coupon_bore(coupon) + coupon->combs[kind].figure[0] / 2
                : kind == HF_COMB_POINTS ? 0
                                         : coupon->combs[kind].figure[0] / 2;
  return half + 0.75 * hf_coupon_margin(coupon) + coupon->mark / 2;
}

static void
add_comb(Writing *writing, HfCombKind kind)
{
  const HfCoupon *coupon = writing->coupon;
  const HfComb *comb = &coupon->combs[kind];
  HfMarks marks = marks_new();
  gboolean up = kind == HF_COMB_POINTS;
  double off = mark_off(coupon, kind) * (up ? -1 : 1);
  g_string_append_printf(writing->text, "  # %c, %s: %s\n", hf_comb_letter(kind), hf_comb_key(kind),
                         hf_comb_says(kind));
  for (guint i = 0; i < comb->n; i++) {
    g_autofree char *figure = hf_coupon_figure(kind, comb->figure[i]);
    add_one(writing, kind, comb->at[i], comb->figure[i]);
    hf_mark_add(&writing->size, figure, hf_point(comb->at[i].x, comb->at[i].y - off), &marks);
  }
  char letter[2] = {hf_comb_letter(kind), '\0'};
  double x = -coupon->width / 2 + hf_coupon_margin(coupon) + writing->size.cell / 2;
  hf_mark_add(&writing->size, letter, hf_point(x, comb->at[0].y - off), &marks);
  write_marks(writing, kind, &marks);
}

/* ---- the file ---------------------------------------------------------------------------------
 */

static void
add_limits(Writing *writing, const HfProcess *process)
{
  static const HfLawKind laws[] = {HF_LAW_THIN_WEB,   HF_LAW_THIN_LONG_WEB,
                                   HF_LAW_WEAK_JOINT, HF_LAW_SMALL_OPENING,
                                   HF_LAW_SMALL_HOLE, HF_LAW_HOLE_NEAR_EDGE};
  g_string_append(writing->text,
                  "limits: # a third of the usual ones: what may fail is to be cut\n");
  for (guint i = 0; i < G_N_ELEMENTS(laws); i++) {
    g_autofree char *limit = hf_coupon_length(hf_law_usual(laws[i], process).stop / 3 * THIRD);
    g_string_append_printf(writing->text, "  %s: %s\n  %s caution: %s\n", hf_law(laws[i])->key,
                           limit, hf_law(laws[i])->key, limit);
  }
  static const HfLawKind gaps[] = {HF_LAW_NARROW_GAP, HF_LAW_RUN_TOGETHER};
  for (guint i = 0; i < G_N_ELEMENTS(gaps); i++) {
    g_autofree char *kerf = hf_coupon_length(process->kerf);
    g_string_append_printf(writing->text, "  %s caution: %s\n", hf_law(gaps[i])->key, kerf);
  }
}

static void
add_head(Writing *writing, const HfProcess *process)
{
  const HfCoupon *coupon = writing->coupon;
  g_autofree char *t = hf_coupon_length(coupon->thickness), *k = hf_coupon_length(coupon->kerf);
  g_autofree char *c = hf_coupon_length(coupon->crater), *w = hf_coupon_length(coupon->width);
  g_autofree char *h = hf_coupon_length(coupon->height), *called = hf_text_mm(coupon->thickness);
  g_string_append_printf(writing->text,
                         HF_COUPON_HEAD
                         ", and write what came out into the "
                         "file of results.\nholdfast: 1\nsign: Coupon, %s %s\n"
                         "metal: {kind: %s, thickness: %s}\nprocess: {kerf: %s, crater: %s}\n",
                         coupon->metal, called, coupon->metal, t, k, c);
  add_limits(writing, process);
  g_string_append_printf(writing->text,
                         "entries:\n  - plate: {name: coupon, shape: rectangle, width: %s, height: "
                         "%s}\n",
                         w, h);
}

/* The window to measure the kerf by. */
static void
add_window(Writing *writing)
{
  const HfCoupon *coupon = writing->coupon;
  g_autofree char *figure = hf_coupon_figure(HF_COMB_OPENINGS, coupon->window);
  double off = coupon->window / 2 + 0.75 * hf_coupon_margin(coupon) + coupon->mark / 2;
  HfMarks marks = marks_new();
  g_string_append(writing->text, "  # the window to measure the kerf by\n");
  add_opening(writing, coupon->window_at, coupon->window, coupon->window);
  hf_mark_add(&writing->size, figure, hf_point(coupon->window_at.x, coupon->window_at.y - off),
              &marks);
  write_marks(writing, HF_N_COMBS, &marks);
}

char *
hf_coupon_recipe(const HfCoupon *coupon, const char *font, const char *style)
{
  HfProcess process = hf_coupon_process(coupon);
  Writing writing = {g_string_new(NULL), coupon, font, style, hf_mark_size(&process)};
  add_head(&writing, &process);
  add_points(&writing); /* metal: before all that is cut out */
  for (guint kind = 0; kind < HF_N_COMBS; kind++)
    if ((kind != HF_COMB_LETTERS || font != NULL) && coupon->combs[kind].n > 0)
      add_comb(&writing, (HfCombKind)kind);
  add_window(&writing);
  return g_string_free(writing.text, FALSE);
}
