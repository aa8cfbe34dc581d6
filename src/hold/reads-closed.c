/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-closed.c - letters that are open at the foot or the head, and another letter where they are
 * closed there: a ח on a rail is all but a ם.
 *
 *      ______              Of most scripts the reader closes nothing: an n or an H on a rail stays
 *      |    |  <- hole     one, as no letter is an n with a floor. Where there is one (the table),
 * a |    |              hole of the metal within the letter's box that it and a shape that is no
 *   ===+====+===  rail     letter make together is named. The rail that runs on to both sides is
 *                          seen to be one: a caution; one that ends with the letter is its stroke:
 * a stop. Cut through it is an island. Cost: O(rings) for a letter of the table. No source.
 */
#include "hold/reads-private.h"

#define LEAST   1.0 /* strokes squared: a smaller hole closes nothing */
#define RUNS_ON 1.0 /* strokes that a rail shows beyond the letter */
#define LOOSE   0.5 /* mm */

static const struct {
  const char *drawn, *reads;
} closed[] = {{"ח", "ם"}, {"ת", "ם"}, {"Λ", "Δ"}, {"Л", "Д"}, {"月", "目"}, {"冂", "口"}};

static const char *
reads_closed(const char *letter)
{
  for (guint i = 0; i < G_N_ELEMENTS(closed); i++)
    if (g_str_equal(closed[i].drawn, letter))
      return closed[i].reads;
  return NULL;
}

/* The shape that is no letter and made some of this ring together with letter @own. */
static guint
made_with(const HfCheck *check, guint r, guint own)
{
  const HfRing *ring = hf_region_ring(check->metal->region, r);
  gboolean by_letter = FALSE;
  guint other = HF_NO_SHAPE;
  for (guint v = 0; v < ring->n; v++) {
    guint s = hf_check_shape_at(check, (HfEdgeId){r, v});
    if (s >= check->layout->shapes->len)
      continue;
    const HfShape *shape = hf_layout_shape(check->layout, s);
    by_letter = by_letter || s == own;
    if (shape->letter < 0 && shape->mends == 0 &&
        shape->opening == hf_layout_shape(check->layout, own)->opening)
      other = s;
  }
  return by_letter ? other : HF_NO_SHAPE;
}

static gboolean
lies_within(HfBox within, HfBox box)
{
  return hf_box_contains(within, box.min) && hf_box_contains(within, box.max);
}

/* mm of the shape beyond the letter, on the side where there is less. */
static double
beyond(const HfCheck *check, guint rail, HfBox letter)
{
  HfBox box = hf_outline_box(hf_layout_shape(check->layout, rail)->outline);
  double level = fmin(letter.min.x - box.min.x, box.max.x - letter.max.x);
  double upright = fmin(letter.min.y - box.min.y, box.max.y - letter.max.y);
  return fmax(level, upright);
}

static void
report(HfReading *reading, const char *letter, guint rail, HfPoint at)
{
  HfCheck *check = reading->check;
  double stroke = reading->ink->rings[reading->ink->body].width;
  gboolean runs_on = beyond(check, rail, hf_region_box(reading->ink->drawn)) > RUNS_ON * stroke;
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CHANGED_LETTER,
                   runs_on ? check->hold->limits[HF_LAW_CHANGED_LETTER].stop : 0, at);
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, reading->shape);
  hf_finding_name(check, finding, rail);
  hf_finding_form(finding, "closed");
  hf_finding_say(finding,
                 "it may read %s where %s was ordered: what it stands on closes its open side",
                 reads_closed(letter), letter);
  hf_finding_fix(finding, "let it stand clear, or hold it by ties");
}

void
hf_reading_check_closed(HfReading *reading)
{
  HfCheck *check = reading->check;
  const HfRegion *metal = check->metal->region;
  g_autofree char *letter = hf_reads_letter(hf_layout_shape(check->layout, reading->shape));
  if (reads_closed(letter) == NULL)
    return;
  double stroke = reading->ink->rings[reading->ink->body].width;
  HfBox within = hf_box_grow(hf_region_box(reading->ink->drawn), LOOSE);
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    gboolean hole = ring->parent >= 0;
    if (hole == reading->ink->opening || !lies_within(within, hf_ring_box(ring)) ||
        fabs(hf_ring_area(ring)) < LEAST * stroke * stroke)
      continue;
    guint rail = made_with(check, r, reading->shape);
    if (rail != HF_NO_SHAPE) {
      report(reading, letter, rail, hf_box_centre(hf_ring_box(ring)));
      return;
    }
  }
}
