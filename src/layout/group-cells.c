/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-cells.c - the cells of a row or stack: a member and what leans on it, and how large they
 * are.
 */
#include "base/text.h"
#include "layout/group-cells-private.h"

static const double ROW_GAP = 1.0 / 3; /* of the letter height: a space between words; ours */
static const double STACK_GAP = 0.5;   /* the same, between lines; ours */

static void
cell_clear(gpointer cell)
{
  g_array_unref(((HfCell *)cell)->leaning);
}

/* ---- cells ------------------------------------------------------------------------------------
 */

#define LEANS (HF_ROLE_STAND | HF_ROLE_BESIDE | HF_ROLE_BAND | HF_ROLE_WINDOW | HF_ROLE_OVER)

/* The member of @members that @member is placed by; itself: by none. */
static guint
leans_on(const HfLaying *laying, const GArray *members, guint member)
{
  for (guint i = 0; i < members->len; i++) {
    guint other = g_array_index(members, guint, i);
    if (other != member &&
        hf_entry_names(hf_lay_entry(laying, member), LEANS, hf_lay_entry(laying, other)->name))
      return other;
  }
  return member;
}

static guint
root_of(const HfLaying *laying, const GArray *members, guint member)
{
  for (guint i = 0; i < members->len; i++) { /* they name each other in no circle */
    guint next = leans_on(laying, members, member);
    if (next == member)
      break;
    member = next;
  }
  return member;
}

GArray *
hf_cells_new(const HfLaying *laying, guint group)
{
  g_autoptr(GArray) members = hf_lay_members(laying, group, FALSE);
  GArray *cells = g_array_new(FALSE, TRUE, sizeof(HfCell));
  g_array_set_clear_func(cells, cell_clear);
  for (guint i = 0; i < members->len; i++) {
    guint member = g_array_index(members, guint, i);
    if (root_of(laying, members, member) != member)
      continue;
    HfCell cell = {.root = member, .grown = 1, .leaning = g_array_new(FALSE, FALSE, sizeof(guint))};
    for (guint k = 0; k < members->len; k++) {
      guint other = g_array_index(members, guint, k);
      if (other != member && root_of(laying, members, other) == member)
        g_array_append_val(cell.leaning, other);
    }
    g_array_append_val(cells, cell);
  }
  return cells;
}

void
hf_lay_add_deep(const HfLaying *laying, guint entry, GArray *all)
{
  if (hf_entry_is(hf_lay_entry(laying, entry), HF_KIND_GROUP)) {
    g_autoptr(GArray) members = hf_lay_members(laying, entry, FALSE);
    for (guint i = 0; i < members->len; i++)
      hf_lay_add_deep(laying, g_array_index(members, guint, i), all);
  }
  g_array_append_val(all, entry); /* a group after its members: its box is theirs */
}

/* (transfer full) all entries of a cell, groups among them behind their members. */
GArray *
hf_cell_entries(const HfLaying *laying, const HfCell *cell)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(guint));
  hf_lay_add_deep(laying, cell->root, all);
  for (guint i = 0; i < cell->leaning->len; i++)
    hf_lay_add_deep(laying, g_array_index(cell->leaning, guint, i), all);
  return all;
}

/* ---- measures ---------------------------------------------------------------------------------
 */

/* Levels of the letters of straight words; of anything else those of its ink. Words along a line
 * have no one baseline: they are a box. */
static void
measure_levels(const HfLaying *laying, guint entry, HfCell *cell)
{
  if (hf_entry_is(hf_lay_entry(laying, entry), HF_KIND_GROUP)) {
    g_autoptr(GArray) members = hf_lay_members(laying, entry, FALSE);
    measure_levels(laying, g_array_index(members, guint, 0), cell);
    return;
  }
  const HfLaid *laid = &laying->laid[entry];
  const HfShape *first = laid->shapes->len > 0 ? g_ptr_array_index(laid->shapes, 0) : NULL;
  if (first == NULL || first->letter < 0) {
    cell->base = cell->foot = laid->box.min.y;
    cell->cap = laid->box.max.y;
    return;
  }
  cell->height = first->letter_height;
  if (!hf_words_are_level(hf_lay_entry(laying, entry))) {
    cell->base = cell->foot = laid->box.min.y;
    cell->cap = laid->box.max.y;
    return;
  }
  const HfShape *last = g_ptr_array_index(laid->shapes, laid->shapes->len - 1);
  cell->base = first->em.y0;
  cell->foot = fmin(first->em.y0, last->em.y0);
  cell->cap = cell->base + cell->height;
}

void
hf_cell_measure(const HfLaying *laying, HfCell *cell)
{
  const HfPlace *place = &hf_lay_entry(laying, cell->root)->place;
  g_autoptr(GArray) all = hf_cell_entries(laying, cell);
  cell->nudge = hf_point(hf_or_zero(place->shift_x), hf_or_zero(place->shift_y));
  cell->ink = HF_BOX_EMPTY;
  for (guint i = 0; i < all->len; i++)
    cell->ink = hf_box_union(cell->ink, laying->laid[g_array_index(all, guint, i)].box);
  cell->height = 0;
  measure_levels(laying, cell->root, cell);
  HfPoint back = hf_point_scale(cell->nudge, -1);
  cell->ink.min = hf_point_add(cell->ink.min, back);
  cell->ink.max = hf_point_add(cell->ink.max, back);
  cell->base += back.y;
  cell->cap += back.y;
  cell->foot += back.y;
}

/* Of the smallest letters; where there are none, the height of the lowest ink. */
static double
letter_height(const HfGrouping *own)
{
  double least = INFINITY, ink = INFINITY;
  for (guint i = 0; i < own->cells->len; i++) {
    const HfCell *cell = hf_cell_at(own, i);
    if (cell->height > 0)
      least = fmin(least, cell->height * cell->grown);
    ink = fmin(ink, hf_box_height(cell->ink) * cell->grown);
  }
  return isfinite(least) ? least : ink;
}

double
hf_group_usual_gap(const HfGrouping *own)
{
  return (own->is_row ? ROW_GAP : STACK_GAP) * letter_height(own);
}
