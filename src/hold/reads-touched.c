/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-touched.c - the letters whose neighbours could shut a bay of theirs.
 *
 *       ____   ____
 *      / .__| / .__|     A bay lies within the hull of its letter. As long as no neighbour that
 *     | /    | /         stands otherwise than the face has it reaches into that hull, all that is
 *     | \__. | \__.      covered or shut in there is so by the letter itself, and so it is where
 *      \____| \____|     the face puts the neighbours: the share that is open is all of it.
 *
 * Invariant: a letter that is left out would have no finding. A letter that is bolder or mended is
 * always named. Cost O(n log n) for n letters, and for each pair whose boxes overlap and that does
 * not stand as drawn the edges of the one times those of the other's hull.
 */
#include "geom/hull.h"
#include "hold/ink-private.h"
#include <stdlib.h>

#define COARSE_MM 0.05
#define FARTHEST  2    /* letters to either side that may reach in */
#define MOVED     0.01 /* ems: a neighbour no farther from its place stands where it should */
#define ROUNDED   0.01 /* mm: more than booleans move a corner */

gboolean
hf_reads_is_of_words(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  return entry->kind == HF_ENTRY_WORDS && shape->letter >= 0 && shape->mends == 0;
}

gboolean
hf_reads_are_neighbours(const HfCheck *check, const HfShape *a, const HfShape *b)
{
  return hf_reads_is_of_words(check, b) && a->entry == b->entry && a->copy == b->copy &&
         a->line == b->line && a->letter != b->letter && abs(a->letter - b->letter) <= FARTHEST;
}

static gboolean
stands_as_drawn(const HfShape *own, const HfShape *other)
{
  HfPoint at = hf_matrix_undo(own->em, hf_point(other->em.x0, other->em.y0));
  HfPoint along =
      hf_matrix_undo(own->em, hf_point(other->em.x0 + other->em.xx, other->em.y0 + other->em.yx));
  HfPoint wanted = hf_point(other->pen - own->pen, 0);
  return hf_point_distance(at, wanted) < MOVED &&
         hf_point_distance(along, hf_point_add(wanted, hf_point(1, 0))) < MOVED;
}

/* A letter of some words: each line's together, from its first to its last. */
typedef struct {
  const HfShape *shape;
  guint number;
  gboolean mended;
  HfBox box;
  HfRegion *chords; /* its outline, not cleaned; %NULL: not asked for yet */
} Letter;

static int
along_lines(gconstpointer a, gconstpointer b)
{
  const HfShape *p = ((const Letter *)a)->shape, *q = ((const Letter *)b)->shape;
  const guint keys[2][4] = {{p->entry, p->copy, p->line, (guint)p->letter},
                            {q->entry, q->copy, q->line, (guint)q->letter}};
  for (guint k = 0; k < 4; k++)
    if (keys[0][k] != keys[1][k])
      return keys[0][k] < keys[1][k] ? -1 : 1;
  return 0;
}

static void
clear_letter(gpointer data)
{
  hf_region_free(((Letter *)data)->chords);
}

/* (transfer full) (element-type Letter) */
static GArray *
all_lines(const HfCheck *check)
{
  const HfLayout *layout = check->layout;
  GArray *letters = g_array_new(FALSE, FALSE, sizeof(Letter));
  g_autofree gboolean *mended = g_new0(gboolean, layout->shapes->len + 1);
  for (guint s = 0; s < layout->shapes->len; s++)
    mended[hf_layout_shape(layout, s)->mends] = TRUE;
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    Letter letter = {shape, s, mended[s + 1], HF_BOX_EMPTY, NULL};
    if (!hf_reads_is_of_words(check, shape))
      continue;
    letter.box = hf_outline_box(shape->outline);
    g_array_append_val(letters, letter);
  }
  g_array_set_clear_func(letters, clear_letter);
  g_array_sort(letters, along_lines);
  return letters;
}

static const HfRegion *
chords_of(Letter *letter)
{
  if (letter->chords == NULL) {
    letter->chords = hf_region_new();
    hf_region_flatten(letter->chords, letter->shape->outline, letter->number, COARSE_MM);
  }
  return letter->chords;
}

/* The hull of all that the letter has. (transfer full) */
static HfRegion *
hull_about(Letter *letter)
{
  const HfRegion *chords = chords_of(letter);
  g_autoptr(GArray) at = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  for (guint r = 0; r < chords->rings->len; r++)
    g_array_append_vals(at, hf_region_ring(chords, r)->at, hf_region_ring(chords, r)->n);
  return hf_hull_of((const HfGrid *)at->data, at->len);
}

/* Does @other, which stands otherwise than the face has it, reach into the hull of @own? If none
 * does, what is covered or shut in of a bay is by the letter itself, and is so in the face. */
static gboolean
reaches_in(const HfCheck *check, Letter *own, Letter *other, HfRegion **hull)
{
  if (!hf_reads_are_neighbours(check, own->shape, other->shape) ||
      !hf_box_overlaps(own->box, other->box) || stands_as_drawn(own->shape, other->shape))
    return FALSE;
  if (*hull == NULL)
    *hull = hull_about(own);
  return !hf_region_is_empty(*hull) &&
         hf_hull_is_reached(hf_region_ring(*hull, 0), chords_of(other), ROUNDED);
}

/* Does anything stand or look otherwise than the face has it? */
static gboolean
is_touched(const HfCheck *check, GArray *letters, guint i)
{
  Letter *own = &g_array_index(letters, Letter, i);
  g_autoptr(HfRegion) hull = NULL;
  gboolean touched = own->shape->drawn != NULL || own->mended;
  for (int way = -1; way <= 1; way += 2)
    for (guint k = i + (guint)way; !touched && k < letters->len; k += (guint)way) {
      Letter *other = &g_array_index(letters, Letter, k);
      if (other->shape->line != own->shape->line || other->shape->entry != own->shape->entry ||
          other->shape->copy != own->shape->copy ||
          abs(other->shape->letter - own->shape->letter) > FARTHEST)
        break;
      touched = reaches_in(check, own, other, &hull);
    }
  return touched;
}

/* In the order of the shapes, as findings of one place stand in that order. */
static int
by_number(gconstpointer a, gconstpointer b)
{
  return (*(const guint *)a > *(const guint *)b) - (*(const guint *)a < *(const guint *)b);
}

GArray *
hf_reads_touched(const HfCheck *check)
{
  g_autoptr(GArray) letters = all_lines(check);
  GArray *touched = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < letters->len; i++)
    if (is_touched(check, letters, i))
      g_array_append_val(touched, g_array_index(letters, Letter, i).number);
  g_array_sort(touched, by_number);
  return touched;
}
