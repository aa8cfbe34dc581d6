/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-pairs.c - two letters that touch and then read as a third one.
 *
 *        .--  .--.            r and n whose edges meet are an m; both letters are all there, so
 *       |    |    |           nothing is said of either. As long as they stand apart, or where the
 *       |    |    |           face itself joins them as a script does, they are read as drawn.
 *
 * Where the recipe asks for letters that touch (spacing: joined) a touch is a caution, and how far
 * they run into each other is told by the area that both cover, in squares of the stroke: half a
 * one is a stop. Where it does not, a touch is one: nobody asked for it. Cost O(letters), and a
 * boolean for each such pair whose boxes meet. Source: rn for m is in the table of Unicode
 * Technical Standard 39 (from memory); the others are common knowledge of readers, no source.
 */
#include "hold/ink-private.h"

#define COARSE_MM 0.05
#define TOUCH     49.0 /* %: less than what a caution asks */
#define UNASKED   0.0

static const struct {
  const char *first, *second, *reads;
} pairs[] = {{"r", "n", "m"}, {"c", "l", "d"}, {"v", "v", "w"}, {"V", "V", "W"}, {"L", "I", "U"},
             {"I", "3", "B"}, {"l", "3", "B"}, {"1", "3", "B"}, {"r", "ı", "n"}, {"с", "l", "d"}};

static const char *
reads_together(const char *first, const char *second)
{
  for (guint i = 0; i < G_N_ELEMENTS(pairs); i++)
    if (g_str_equal(pairs[i].first, first) && g_str_equal(pairs[i].second, second))
      return pairs[i].reads;
  return NULL;
}

/* (nullable) what the two cover both. (transfer full) */
static HfRegion *
shared_by(const HfOutline *a, const HfOutline *b)
{
  if (!hf_box_overlaps(hf_outline_box(a), hf_outline_box(b)))
    return NULL;
  g_autoptr(HfRegion) p = hf_region_of_outline(a, 0, COARSE_MM);
  g_autoptr(HfRegion) q = hf_region_of_outline(b, 1, COARSE_MM);
  g_autoptr(HfRegion) both = hf_region_intersect(p, q);
  return hf_region_is_empty(both) ? NULL : g_steal_pointer(&both);
}

static gboolean
joined_by_face(const HfShape *first, const HfShape *second)
{
  const HfOutline *a = first->drawn != NULL ? first->drawn : first->outline;
  const HfOutline *b = second->drawn != NULL ? second->drawn : second->outline;
  g_autoptr(HfOutline) placed = hf_outline_new();
  hf_outline_append(placed, b, hf_reads_to_native(first, second));
  g_autoptr(HfRegion) both = shared_by(a, placed);
  return both != NULL;
}

static gboolean
shall_touch(const HfCheck *check, const HfShape *shape)
{
  return hf_recipe_at(check->recipe, shape->entry)->words.spacing_rule != HF_SPACING_AS_GIVEN;
}

static double
stroke_of(const HfShape *shape)
{
  g_autoptr(HfRegion) ink = hf_region_of_outline(shape->outline, 0, COARSE_MM);
  return 2 * hf_region_area(ink) / hf_region_perimeter(ink);
}

static void
check_pair(HfCheck *check, guint a, guint b)
{
  const HfShape *first = hf_layout_shape(check->layout, a);
  const HfShape *second = hf_layout_shape(check->layout, b);
  g_autofree char *one = hf_reads_letter(first), *other = hf_reads_letter(second);
  const char *reads = reads_together(one, other);
  if (reads == NULL || first->opening != second->opening)
    return;
  g_autoptr(HfRegion) both = shared_by(first->outline, second->outline);
  if (both == NULL || joined_by_face(first, second))
    return;
  double stroke = fmin(stroke_of(first), stroke_of(second));
  double share = shall_touch(check, first)
                     ? TOUCH * (1 - fmin(hf_region_area(both) / (stroke * stroke), 1))
                     : UNASKED;
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, share, hf_region_centroid(both));
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, a);
  hf_finding_name(check, finding, b);
  hf_finding_form(finding, "pair");
  hf_finding_say(finding, "it may read %s where %s%s was ordered: the two %s", reads, one, other,
                 hf_region_area(both) > stroke * stroke / 2 ? "run into each other" : "touch");
  hf_finding_fix(finding, "let the two stand apart, or take a face that joins its own");
}

/* Letters of a line follow each other in the layout; what mends one or passes over it stands
 * elsewhere. */
void
hf_reads_check_pairs(HfCheck *check)
{
  const HfLayout *layout = check->layout;
  guint before = HF_NO_SHAPE;
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    if (!hf_reads_is_of_words(check, shape))
      continue;
    const HfShape *last = before != HF_NO_SHAPE ? hf_layout_shape(layout, before) : NULL;
    if (last != NULL && hf_reads_are_neighbours(check, last, shape) &&
        shape->letter == last->letter + 1)
      check_pair(check, before, s);
    before = s;
  }
}
