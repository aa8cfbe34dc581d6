/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-ties.c - ties and bars that read as strokes: in scripts whose letters are set together from
 * separate strokes, a bar about as wide as they are makes another letter. Of a bar laid across a
 * letter both sides must show within its box: of what it stands on only one does.
 *
 *        ___                A Hangul ring that hangs beside a stem is one vowel; held from below by
 * a (   )  |            bar as wide as the stem, it is another. A tie that shows for most of a
 *        ---  -|            stroke's width and is nearly as wide as one counts as a stroke; one
 * that |    |            is half as wide or less is seen to be a tie.
 *       ==========
 */
#include "base/text.h"
#include "hold/ink-private.h"

#define FAR_MM 1e4 /* of a tie all of it */
#define PLACES 64  /* along a side: bars are long */
#define SHOWS  0.6 /* strokes: a tie that shows for less only joins what all but touches */

gboolean
hf_reads_is_built_of_strokes(const HfShape *shape)
{
  static const GUnicodeScript scripts[] = {G_UNICODE_SCRIPT_HANGUL,   G_UNICODE_SCRIPT_HAN,
                                           G_UNICODE_SCRIPT_HIRAGANA, G_UNICODE_SCRIPT_KATAKANA,
                                           G_UNICODE_SCRIPT_BOPOMOFO, G_UNICODE_SCRIPT_YI};
  g_autofree char *letter = hf_reads_letter(shape);
  GUnicodeScript script = g_unichar_get_script(g_utf8_get_char(letter));
  for (guint i = 0; i < G_N_ELEMENTS(scripts); i++)
    if (script == scripts[i])
      return TRUE;
  return FALSE;
}

static gboolean
is_bar(const HfCheck *check, const HfShape *shape)
{
  return hf_recipe_at(check->recipe, shape->entry)->kind == HF_ENTRY_BAR;
}

/* A tie, or a bar that somebody laid across letters. */
static gboolean
is_tie(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
  return !shape->opening &&
         (entry->kind == HF_ENTRY_TIES || entry->kind == HF_ENTRY_TIE || is_bar(check, shape)) &&
         hf_outline_n_contours(shape->outline) == 1 && shape->outline->curves->len == 4;
}

/* How much of each side of the tie is an edge of the metal within the letter's box, mm. */
static void
measure_sides(const HfCheck *check, guint tie, HfBox box, double shown[4])
{
  const HfRegion *metal = check->metal->region;
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    for (guint v = 0; ring->from != NULL && v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      if (ring->from[v].shape == tie && ring->from[v].curve < 4 &&
          hf_box_contains(box, hf_point_mix(a, b, 0.5)))
        shown[ring->from[v].curve] += hf_point_distance(a, b);
    }
  }
}

static double
side_of(const HfShape *tie, guint i)
{
  const HfCurve *side = &g_array_index(tie->outline->curves, HfCurve, i);
  return hf_point_distance(side->p0, side->p1);
}

static gboolean
touches(const HfShape *tie, const HfInk *ink)
{
  for (guint i = 0; i < 4; i++) {
    const HfCurve *side = &g_array_index(tie->outline->curves, HfCurve, i);
    for (int k = 0; k <= PLACES; k++)
      if (hf_region_contains(ink->drawn, hf_point_mix(side->p0, side->p1, (double)k / PLACES)))
        return TRUE;
  }
  return FALSE;
}

static void
check_tie(HfCheck *check, guint s, guint t)
{
  const HfShape *letter = hf_layout_shape(check->layout, s),
                *tie = hf_layout_shape(check->layout, t);
  if (!hf_box_overlaps(hf_outline_box(letter->outline), hf_outline_box(tie->outline)))
    return;
  g_autoptr(HfInk) ink = hf_ink_new(check, s);
  if (ink == NULL || !touches(tie, ink))
    return;
  double shown[4] = {0}, stroke = ink->rings[ink->body].width;
  measure_sides(check, t,
                hf_box_grow(hf_outline_box(letter->outline), is_bar(check, tie) ? 0 : FAR_MM),
                shown);
  guint along = shown[0] + shown[2] > shown[1] + shown[3] ? 0 : 1;
  double length = (shown[along] + shown[along + 2]) / 2, width = side_of(tie, 1 - along);
  if (is_bar(check, tie)) /* of what letters stand on one side shows among them */
    length = fmin(shown[along], shown[along + 2]);
  if (length < SHOWS * stroke)
    return;
  HfPoint at = hf_box_centre(hf_outline_box(tie->outline));
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CHANGED_LETTER, 100 * fmax(1 - width / fmax(stroke, 1e-9), 0), at);
  if (finding == NULL)
    return;
  g_autofree char *wide = hf_text_mm(width), *strokes = hf_text_mm(stroke);
  hf_finding_name(check, finding, s);
  hf_finding_form(finding, "tie");
  hf_finding_say(finding, "a %s of %s reads as one of its strokes, which are %s wide",
                 is_bar(check, tie) ? "bar" : "tie", wide, strokes);
  hf_finding_fix(finding, is_bar(check, tie)
                              ? "lay it where no stroke can be meant, or take a bar half as high"
                              : "hold it where no stroke can be meant, or by a tie half as wide");
}

void
hf_reads_check_ties(HfCheck *check)
{
  guint n = check->layout->shapes->len;
  for (guint s = 0; s < n; s++) {
    const HfShape *letter = hf_layout_shape(check->layout, s);
    if (letter->letter < 0 || letter->mends > 0 || letter->opening ||
        !hf_reads_is_built_of_strokes(letter))
      continue;
    for (guint t = 0; t < n; t++)
      if (is_tie(check, hf_layout_shape(check->layout, t)))
        check_tie(check, s, t);
  }
}
