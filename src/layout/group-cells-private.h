/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-cells-private.h - what the files of rows and stacks share: cells, and the group while it is
 * laid.
 */
#pragma once
#include "layout/group-private.h"

/* A member, and the members that are placed by it. All levels as laid, before it is moved. */
typedef struct {
  guint root;
  GArray *leaning; /* guint */
  HfPoint nudge;   /* its own shift: it moves it out of line, not the line */
  HfBox ink;
  double base, cap; /* levels: first baseline and its capitals; of other shapes foot and top */
  double foot;      /* last baseline */
  double height;    /* letter height; 0: no letters */
  double grown;     /* by what it grows */
  HfPoint to;       /* where its origin goes, when it has grown */
} HfCell;

typedef struct {
  HfLaying *laying;
  guint entry;
  const HfGroupEntry *group;
  gboolean is_row;
  GArray *cells; /* HfCell */
  double gap;    /* mm */
} HfGrouping;

static inline HfCell *
hf_cell_at(const HfGrouping *own, guint i)
{
  return &g_array_index(own->cells, HfCell, i);
}

/** hf_cells_new: (transfer full) (element-type HfCell) the cells of @group, from the left or the
 * top, not measured yet. */
GArray *hf_cells_new(const HfLaying *laying, guint group);
/** hf_lay_add_deep: adds @entry to @all (guint), of a group its members before it. */
void hf_lay_add_deep(const HfLaying *laying, guint entry, GArray *all);
/** hf_cell_entries: (transfer full) (element-type guint) all entries of a cell, groups among them
 *  behind their members. */
GArray *hf_cell_entries(const HfLaying *laying, const HfCell *cell);
/** hf_cell_measure: box, levels and shift, as it is laid now. */
void hf_cell_measure(const HfLaying *laying, HfCell *cell);
/** hf_group_usual_gap: mm between members where none is said, for the sizes that they have now. */
double hf_group_usual_gap(const HfGrouping *own);

/** hf_group_may_grow: %FALSE with %HF_ERROR_BAD_VALUE: how large one is beside the others is not
 * said. */
gboolean hf_group_may_grow(const HfGrouping *own, GError **error);
/** hf_group_size_row, hf_group_size_stack: by what each cell grows, and the gap. %FALSE with
 *  %HF_ERROR_NO_ROOM. */
gboolean hf_group_size_row(HfGrouping *own, GError **error);
gboolean hf_group_size_stack(HfGrouping *own, GError **error);

/** hf_group_move_entries: moves all of @all (hf_cell_entries()) through @m. */
void hf_group_move_entries(const HfGrouping *own, const GArray *all, HfMatrix m);
/** hf_group_move: moves all cells through @m. */
void hf_group_move(const HfGrouping *own, HfMatrix m);
/** hf_group_middle: its own middle, once its cells are packed. */
HfPoint hf_group_middle(const HfGrouping *own);
/** hf_group_fit_inside: grows all of it to stay inside what it names; else nothing. %FALSE with
 *  %HF_ERROR_NO_ROOM. */
gboolean hf_group_fit_inside(const HfGrouping *own, GError **error);
/** hf_group_place_copies: brings it to the first of its places, and copies of it to all others. */
void hf_group_place_copies(const HfGrouping *own);
