/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-neighbours.c - what of a letter may lie in others: letters of the same words, the bar that
 * its tails run into, and letters that stand elsewhere.
 *
 * Shapes whose boxes meet the letter's are looked for once, and flattened once for all letters.
 * Cost O(shapes) a letter, then O(edges of a neighbour) a place.
 */
#include "hold/reads-private.h"

#define COARSE_MM 0.1 /* lengths are compared, not drawn */

const HfRegion *
hf_reading_region(const HfReading *reading, guint s)
{
  if (reading->regions->pdata[s] == NULL)
    reading->regions->pdata[s] =
        hf_region_of_outline(hf_layout_shape(reading->check->layout, s)->outline, s, COARSE_MM);
  return reading->regions->pdata[s];
}

/* What the recipe lets a letter's tails end in: the bar that its words stand on. */
const char *
hf_reads_joined_bar(const HfEntry *entry)
{
  gboolean tails = entry->kind == HF_ENTRY_WORDS && entry->words.descenders == HF_DESCENDER_JOINS;
  return tails ? entry->words.stand_on : NULL;
}

static gboolean
may_join(const HfCheck *check, const HfShape *own, const HfShape *other)
{
  const GPtrArray *entries = check->recipe->entries;
  const char *bar = hf_reads_joined_bar(entries->pdata[own->entry]);
  return (other->letter >= 0 && other->entry == own->entry) ||
         (bar != NULL &&
          g_strcmp0(bar, ((const HfEntry *)entries->pdata[other->entry])->name) == 0);
}

/* A letter of the same kind that stands elsewhere: of other words, or of another line of these. */
static gboolean
is_elsewhere(const HfShape *own, const HfShape *other)
{
  return (other->entry != own->entry || other->copy != own->copy || other->line != own->line) &&
         other->letter >= 0 && other->mends == 0 && other->opening == own->opening;
}

/* Other letters of the same words and the bar that tails run into, or letters that stand elsewhere:
 * where one of its spots can lie in them. */
static const GArray *
shapes_reached(HfReading *reading, gboolean elsewhere)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape);
  GArray **reached = elsewhere ? &reading->crossed : &reading->reached;
  if (*reached != NULL)
    return *reached;
  HfBox box = hf_box_grow(hf_region_box(reading->ink->drawn), 1);
  *reached = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(layout, s);
    if (s != reading->shape && hf_box_overlaps(reading->boxes[s], box) &&
        (elsewhere ? is_elsewhere(own, other) : may_join(reading->check, own, other)))
      g_array_append_val(*reached, s);
  }
  return *reached;
}

static gboolean
is_within(HfReading *reading, guint s, HfPoint p)
{
  return hf_box_contains(reading->boxes[s], p) &&
         hf_region_contains(hf_reading_region(reading, s), p);
}

gboolean
hf_reading_in_neighbour(HfReading *reading, HfPoint p, gboolean letters_only)
{
  const GArray *reached = shapes_reached(reading, FALSE);
  for (guint i = 0; i < reached->len; i++) {
    guint s = g_array_index(reached, guint, i);
    if ((!letters_only || hf_layout_shape(reading->check->layout, s)->letter >= 0) &&
        is_within(reading, s, p))
      return TRUE;
  }
  return FALSE;
}

gboolean
hf_reading_in_other_words(HfReading *reading, HfPoint p)
{
  const GArray *crossed = shapes_reached(reading, TRUE);
  for (guint i = 0; i < crossed->len; i++)
    if (is_within(reading, g_array_index(crossed, guint, i), p))
      return TRUE;
  return FALSE;
}

static const GArray *
shapes_about(HfReading *reading)
{
  const HfLayout *layout = reading->check->layout;
  if (reading->about != NULL)
    return reading->about;
  HfBox box = hf_box_grow(hf_region_box(reading->ink->drawn), 1);
  reading->about = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint s = 0; s < layout->shapes->len; s++)
    if (s != reading->shape && hf_layout_shape(layout, s)->mends != reading->shape + 1 &&
        hf_box_overlaps(reading->boxes[s], box))
      g_array_append_val(reading->about, s);
  return reading->about;
}

/* The last one that holds it says. */
gboolean
hf_reading_without(HfReading *reading, HfPoint p)
{
  const GArray *about = shapes_about(reading);
  for (guint i = about->len; i-- > 0;) {
    guint s = g_array_index(about, guint, i);
    if (is_within(reading, s, p))
      return !hf_layout_shape(reading->check->layout, s)->opening;
  }
  return FALSE;
}
