/* SPDX-License-Identifier: GPL-3.0-or-later
 * shaped.c - words drawn out to fill a shape: their tops reach one line, their feet another.
 *
 *        _.-----._  top(x)          (x, y) -> (x, bottom(x) + v (top(x) - bottom(x)))
 *      .' D  I  N '.                v = how far y is on the way from the lowest ink to the highest
 *      '._ R  G  Y_.'
 *         '-----'  bottom(x)        upright stems stay upright; what is level follows the lines
 *
 * The words are set straight first, as wide as the shape and as high as it is at most. Then all
 * curves go through that map as true curves (bend.c). docs/maths.md#shaped-words
 */
#include "base/text.h"
#include "layout/bend-private.h"
#include "layout/shaped-private.h"

enum { ROUNDS = 60 };
static const double CLOSE = 1e-10; /* of a size */
static const double USUAL = 0.25;  /* depth, of the height; ours */

/* ---- the lines ------------------------------------------------------------------------------ */

/* A profile: 0 at its lowest, 1 at its highest, and its slope. */
typedef struct {
  double v, slope;
} Profile;

/* An arc over the whole width that rises by the depth. */
static Profile
arc(const HfShaping *own, double x)
{
  double depth = fabs(own->depth), half = own->wide / 2;
  double radius = (half * half + depth * depth) / (2 * depth);
  double root = sqrt(fmax(radius * radius - x * x, 0));
  return (Profile){(root - radius + depth) / depth, -x / root / depth};
}

static Profile
ramp(const HfShaping *own, double x)
{
  return (Profile){0.5 + x / own->wide, 1 / own->wide};
}

static Profile
roof(const HfShaping *own, double x)
{
  return (Profile){1 - fabs(2 * x / own->wide), x < 0 ? 2 / own->wide : -2 / own->wide};
}

/* What the bottom line does where the top one follows the profile. */
typedef enum { MIRRORED, LEVEL, ALONGSIDE } Bottom;

static const struct {
  Profile (*profile)(const HfShaping *own, double x);
  Bottom bottom;
} forms[] = {
    [HF_SHAPE_OVAL] = {arc, MIRRORED},     [HF_SHAPE_ARCH] = {arc, LEVEL},
    [HF_SHAPE_BANNER] = {arc, ALONGSIDE},  [HF_SHAPE_RISING] = {ramp, LEVEL},
    [HF_SHAPE_DIAMOND] = {roof, MIRRORED},
};

HfShapingAt
hf_shaping_at(const HfShaping *own, double x)
{
  double depth = fabs(own->depth), half = own->high / 2;
  Profile p = depth > 0 ? forms[own->form].profile(own, x) : (Profile){1, 0};
  if (own->depth < 0)
    p = (Profile){1 - p.v, -p.slope};
  double top = half - depth * (1 - p.v), slope = depth * p.slope;
  switch (forms[own->form].bottom) {
  case MIRRORED:
    return (HfShapingAt){-top, top, -slope, slope};
  case LEVEL:
    return (HfShapingAt){-half, top, 0, slope};
  case ALONGSIDE:
    return (HfShapingAt){-half + depth * p.v, top, slope, slope};
  }
  g_assert_not_reached();
}

double
hf_shaping_highest(const HfShaping *own)
{
  return own->high - (forms[own->form].bottom == ALONGSIDE ? fabs(own->depth) : 0);
}

static HfShaping
shaping_of(const HfWordsEntry *words)
{
  double depth = isnan(words->depth) ? USUAL * words->box_high : words->depth;
  return (HfShaping){(HfWordsShape)words->shaped, words->box_width, words->box_high, depth};
}

/* ---- size ----------------------------------------------------------------------------------- */

/* mm of the straight width that spacing takes. */
static double
spacing_takes(HfWordsLaying *own, double width)
{
  HfSetting tight = own->setting;
  tight.spacing = 0;
  return width - hf_box_width(hf_box_straight(own->wording, &tight, own->leading));
}

static gboolean
is_close(double ratio)
{
  return fabs(ratio - 1) <= CLOSE;
}

/* Height and width follow from each other only by what is said in mm (bolder, spacing). */
gboolean
hf_words_shape_size(HfWordsLaying *own, GError **error)
{
  HfShaping shaping = shaping_of(own->words);
  HfSetting *s = &own->setting;
  s->size = HF_FIRST_EM;
  for (int i = 0; i < ROUNDS && hf_cancel_check(own->laying->cancel, NULL); i++) {
    if (!hf_wording_bolder(own->laying, own->entry, own->wording, own->words->font.bolder, s->size,
                           s->wide, error))
      return FALSE;
    hf_words_settle_spacing(own);
    HfBox box = hf_box_straight(own->wording, s, own->leading);
    double spacing = spacing_takes(own, hf_box_width(box));
    double high = hf_shaping_highest(&shaping) / hf_box_height(box);
    double wide = (shaping.wide - spacing) / (hf_box_width(box) - spacing);
    if (!(wide > 0) || !isfinite(high))
      return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                           "take a smaller spacing or a wider box",
                           "the spacing alone takes the width");
    if (is_close(high) && is_close(wide))
      break;
    s->wide *= wide / high; /* of the new size */
    s->size *= high;
  }
  hf_words_solved(own, HF_SOLVED_LETTER_HEIGHT, s->size * own->wording->cap);
  hf_words_solved(own, HF_SOLVED_LETTER_WIDTH, s->wide);
  return TRUE;
}

/* ---- the map -------------------------------------------------------------------------------- */

typedef struct {
  HfBend bend; /* takes mm of the straight words */
  HfShaping shaping;
  HfBox from; /* of their ink */
} Shaper;

static HfShapingAt
lines_at(const Shaper *own, double x)
{
  double half = own->shaping.wide / 2;
  return hf_shaping_at(&own->shaping, CLAMP(x - hf_box_centre(own->from).x, -half, half));
}

static HfPoint
shaped_point(const HfBend *bend, HfPoint p)
{
  const Shaper *own = (const Shaper *)bend;
  HfShapingAt at = lines_at(own, p.x);
  double v = (p.y - own->from.min.y) / hf_box_height(own->from);
  return hf_point(p.x - hf_box_centre(own->from).x, at.bottom + v * (at.top - at.bottom));
}

static HfPoint
shaped_derivative(const HfBend *bend, HfPoint p, HfPoint d)
{
  const Shaper *own = (const Shaper *)bend;
  HfShapingAt at = lines_at(own, p.x);
  double high = hf_box_height(own->from), v = (p.y - own->from.min.y) / high;
  double slope = at.bottom_slope + v * (at.top_slope - at.bottom_slope);
  return hf_point(d.x, slope * d.x + (at.top - at.bottom) / high * d.y);
}

/* A letter's own frame where its middle is: stems stay upright, so it only grows and moves. */
static void
shape_frame(const Shaper *own, HfPlacedLetter *at, double cap)
{
  double x = hf_box_centre(hf_outline_box(at->outline)).x;
  HfShapingAt lines = lines_at(own, x);
  double taller = (lines.top - lines.bottom) / hf_box_height(own->from);
  HfPoint pen = shaped_point(&own->bend, hf_point(x, at->em.y0));
  at->em.x0 -= hf_box_centre(own->from).x;
  at->em.y0 = pen.y;
  at->em.yy *= taller;
  at->height = at->em.yy * cap;
}

static void
shape_outline(const Shaper *own, HfOutline **outline)
{
  if (*outline == NULL)
    return;
  HfOutline *shaped = hf_bend_outline(&own->bend, *outline);
  hf_outline_free(*outline);
  *outline = shaped;
}

static void
shape_letters(HfPlaced *placed, const HfShaping *shaping, double cap)
{
  double kink = hf_box_centre(placed->box).x;
  g_autoptr(GArray) breaks = g_array_new(FALSE, FALSE, sizeof(double));
  if (forms[shaping->form].profile == roof)
    g_array_append_val(breaks, kink);
  Shaper own = {{shaped_point, shaped_derivative, NULL, breaks}, *shaping, placed->box};
  placed->box = HF_BOX_EMPTY;
  for (guint i = 0; i < placed->letters->len; i++) {
    HfPlacedLetter *at = hf_placed_letter(placed, i);
    if (at->outline == NULL)
      continue;
    shape_frame(&own, at, cap);
    shape_outline(&own, &at->outline);
    shape_outline(&own, &at->drawn);
    placed->box = hf_box_union(placed->box, hf_outline_box(at->outline));
  }
}

/* What drawing them out made of their strokes. */
static void
tell_strokes(HfWordsLaying *own, const HfPlaced *placed)
{
  double thinnest = INFINITY;
  for (guint i = 0; i < placed->letters->len && hf_wording_goes_on(own->wording); i++) {
    const HfOutline *letter = hf_placed_letter(placed, i)->outline;
    if (letter != NULL)
      thinnest = fmin(thinnest, hf_thinnest_stroke(letter, own->laying->cancel));
  }
  if (isfinite(thinnest))
    hf_words_solved(own, HF_SOLVED_THINNEST_STROKE, thinnest);
}

gboolean
hf_lay_shaped(HfWordsLaying *own, GError **error)
{
  HfShaping shaping = shaping_of(own->words);
  hf_words_settle_spacing(own);
  g_autoptr(HfPlaced) placed =
      hf_place_straight(own->wording, &own->setting, own->leading, own->words->align);
  shape_letters(placed, &shaping, own->wording->cap);
  tell_strokes(own, placed);
  return hf_words_put(own, placed, HF_MATRIX_IDENTITY, error);
}
