/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-dots.c - dots and other small things by a letter that read as marks of it.
 *
 *     o o              Two above an o make an ö of it (Unicode's composition has the table; Unicode
 *    .---.             Standard, section 3.11), one at the lower right of an O, in part outside of
 *   (     )            it, a Q. One dot above a letter is a caution where there is such a letter:
 * it
 *    `---'*  <- Q      may be an ornament. What is smaller than half a stroke or larger than two is
 *                      taken for no mark. Cost: O(letters * small things). No source for the
 * figures.
 */
#include "hold/ink-private.h"

#define LEAST   0.5 /* strokes */
#define MOST    2.0 /* strokes */
#define TAIL    4.0 /* strokes: the longest tail of a Q */
#define ABOVE   1.0 /* strokes over the letter */
#define PLACES  16  /* on each curve of its outline */
#define OUTSIDE 0.3 /* of a tail's outline lies outside of the ink */
#define LOW     0.4 /* of the letter's height */

enum { DOT_ABOVE = 0x307, DIAERESIS = 0x308 };

static gboolean
is_small_thing(const HfCheck *check, const HfShape *shape)
{
  HfEntryKind kind = hf_recipe_at(check->recipe, shape->entry)->kind;
  return shape->letter < 0 && shape->mends == 0 &&
         (kind == HF_ENTRY_BAR || kind == HF_ENTRY_SEPARATOR || kind == HF_ENTRY_PLATE);
}

/* In the letter's own frame, its ems scaled to mm. */
static HfBox
box_in(const HfOutline *outline, const HfShape *own)
{
  double em = hypot(own->em.xy, own->em.yy);
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < outline->curves->len; i++)
    for (int k = 0; k < PLACES; k++) {
      const HfCurve *curve = &g_array_index(outline->curves, HfCurve, i);
      HfPoint p = hf_matrix_undo(own->em, hf_curve_point(curve, (double)k / PLACES));
      box = hf_box_add_point(box, hf_point_scale(p, em));
    }
  return box;
}

static gboolean
is_mark(HfBox thing, double stroke)
{
  double least = fmin(hf_box_width(thing), hf_box_height(thing));
  double most = fmax(hf_box_width(thing), hf_box_height(thing));
  return least > LEAST * stroke && most < MOST * stroke;
}

static gboolean
stands_above(HfBox letter, HfBox thing, double stroke)
{
  double x = hf_box_centre(thing).x, over = thing.min.y - letter.max.y;
  return x > letter.min.x && x < letter.max.x && over > -LEAST * stroke && over < ABOVE * stroke;
}

/* Share of its outline that lies outside of the letter's ink. */
static double
outside(const HfInk *ink, const HfOutline *outline)
{
  guint out = 0, n = outline->curves->len * PLACES;
  for (guint i = 0; i < outline->curves->len; i++)
    for (int k = 0; k < PLACES; k++) {
      const HfCurve *curve = &g_array_index(outline->curves, HfCurve, i);
      if (!hf_region_contains(ink->drawn, hf_curve_point(curve, (double)k / PLACES)))
        out++;
    }
  return (double)out / fmax(n, 1);
}

static gboolean
makes_a_q(const HfInk *ink, const char *letter, HfBox own, const HfShape *shape, HfBox thing)
{
  static const char *const round[] = {"O", "0", "Ο", "О"};
  double stroke = ink->rings[ink->body].width, out;
  HfPoint at = hf_box_centre(thing);
  gboolean is_round = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS(round); i++)
    is_round = is_round || g_str_equal(round[i], letter);
  if (!is_round || at.x < hf_box_centre(own).x || at.y > own.min.y + LOW * hf_box_height(own) ||
      fmin(hf_box_width(thing), hf_box_height(thing)) < LEAST * stroke ||
      fmax(hf_box_width(thing), hf_box_height(thing)) > TAIL * stroke)
    return FALSE;
  out = outside(ink, shape->outline);
  return out >= OUTSIDE && out < 1;
}

static void
report(HfCheck *check, guint s, guint thing, double share, const char *letter, const char *reads,
       const char *why)
{
  HfFinding *finding =
      hf_check_add(check, HF_LAW_CHANGED_LETTER, share,
                   hf_box_centre(hf_outline_box(hf_layout_shape(check->layout, thing)->outline)));
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, s);
  hf_finding_name(check, finding, thing);
  hf_finding_form(finding, "dotted");
  hf_finding_say(finding, "it may read %s where %s was ordered: %s", reads, letter, why);
  hf_finding_fix(finding, "move it away from the letter, or make it smaller or larger than a mark");
}

/* @n marks above the letter, of which one is @thing. */
static void
judge_above(HfCheck *check, guint s, guint n, guint thing, const char *letter)
{
  gunichar base = g_utf8_get_char(letter), reads = 0;
  gboolean plain = letter[0] != '\0' && *g_utf8_next_char(letter) == '\0';
  char utf8[7] = {0};
  if (n == 0 || n > 2 || !plain)
    return;
  if (n == 1 && base == 0x131)
    reads = 'i';
  else if (!g_unichar_compose(base, n == 2 ? DIAERESIS : DOT_ABOVE, &reads))
    return;
  utf8[g_unichar_to_utf8(reads, utf8)] = '\0';
  double caution = check->hold->limits[HF_LAW_CHANGED_LETTER].stop;
  report(check, s, thing, n == 2 || reads == 'i' ? 0 : caution, letter, utf8,
         n == 2 ? "two small things stand above it" : "a small thing stands above it");
}

static void
check_letter(HfCheck *check, guint s, const GArray *things)
{
  const HfShape *own = hf_layout_shape(check->layout, s);
  HfBox reach = hf_box_grow(hf_outline_box(own->outline), own->letter_height / 2);
  g_autofree char *letter = hf_reads_letter(own);
  g_autoptr(HfInk) ink = NULL;
  HfBox box = HF_BOX_EMPTY;
  guint above = 0, mark = 0;
  for (guint i = 0; i < things->len; i++) {
    guint t = g_array_index(things, guint, i);
    const HfShape *shape = hf_layout_shape(check->layout, t);
    if (shape->opening != own->opening || !hf_box_overlaps(reach, hf_outline_box(shape->outline)))
      continue;
    if (ink == NULL && (ink = hf_ink_new(check, s)) == NULL)
      return;
    double stroke = ink->rings[ink->body].width;
    HfBox thing = box_in(shape->outline, own);
    box = box_in(own->outline, own);
    if (is_mark(thing, stroke) && stands_above(box, thing, stroke)) {
      above++;
      mark = t;
    }
    if (makes_a_q(ink, letter, box, shape, thing))
      report(check, s, t, 0, letter, "Q", "something hangs at its lower right");
  }
  judge_above(check, s, above, mark, letter);
}

void
hf_reads_check_dots(HfCheck *check)
{
  guint n = check->layout->shapes->len;
  g_autoptr(GArray) things = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint t = 0; t < n; t++)
    if (is_small_thing(check, hf_layout_shape(check->layout, t)))
      g_array_append_val(things, t);
  for (guint s = 0; things->len > 0 && s < n; s++)
    if (hf_reads_is_of_words(check, hf_layout_shape(check->layout, s)))
      check_letter(check, s, things);
}
