/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-size.c - how large the members of a row or stack become: what of W = sum of widths and gaps
 * is not said follows. docs/maths.md#groups
 */
#include "base/text.h"
#include "layout/group-cells-private.h"

static const double ENOUGH = 1e-4; /* mm */

/* ---- sizes ------------------------------------------------------------------------------------
 */

/* Whether the sizes of what stands in an entry are said, or left to the group. */
typedef enum { SIZED = 1, SIZELESS = 2, MIXED = 3 } Sized;

static gboolean
is_fitted(const HfEntry *e)
{
  if (e->kind == HF_ENTRY_INITIAL)
    return e->initial.fill != NULL;
  return e->kind == HF_ENTRY_WORDS && (e->words.fill || e->words.inside != NULL ||
                                       !isnan(e->words.width) || !isnan(e->words.box_width));
}

static Sized
sized(const HfLaying *laying, guint entry)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  if (!hf_entry_is(e, HF_KIND_GROUP)) {
    const HfFontWish *font = hf_entry_font(e);
    gboolean said = font == NULL || !isnan(font->height) || !isnan(font->size) || is_fitted(e);
    return said ? SIZED : SIZELESS;
  }
  if (!isnan(e->group.width) || e->group.inside != NULL)
    return SIZED;
  g_autoptr(GArray) members = hf_lay_members(laying, entry, FALSE);
  guint all = 0;
  for (guint i = 0; i < members->len; i++)
    all |= sized(laying, g_array_index(members, guint, i));
  return (Sized)all;
}

static guint
sized_cells(const HfGrouping *own)
{
  guint all = 0;
  for (guint i = 0; i < own->cells->len; i++)
    all |= sized(own->laying, hf_cell_at(own, i)->root);
  return all;
}

/* Beside what has a size it must be known how large the rest is, where all of it grows alike. */
gboolean
hf_group_may_grow(const HfGrouping *own, GError **error)
{
  gboolean inside = own->group->inside != NULL && sized_cells(own) == MIXED;
  for (guint i = 0; i < own->cells->len; i++) {
    guint root = hf_cell_at(own, i)->root;
    if (sized(own->laying, root) == (inside ? SIZED : SIZELESS) ||
        (!inside && sized(own->laying, root) == SIZED))
      continue;
    return hf_lay_refuse(
        own->laying, own->entry, error, HF_ERROR_BAD_VALUE, "give all of them a height, or none",
        "how large \"%s\" is beside the others is not said", hf_lay_entry(own->laying, root)->name);
  }
  return TRUE;
}

static gboolean
refuse_width(const HfGrouping *own, double least, const char *fix, GError **error)
{
  g_autofree char *wanted = hf_text_mm(own->group->width), *has = hf_text_mm(least);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "it is to be %s wide, and what stands in it takes %s", wanted, has);
}

/* Those whose size is left to the group; where all are sized, all. */
static gboolean
grows(const HfGrouping *own, const HfCell *cell, guint all)
{
  return all == SIZED || sized(own->laying, cell->root) != SIZED;
}

static void
grow(const HfGrouping *own, double k)
{
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++)
    if (grows(own, hf_cell_at(own, i), all))
      hf_cell_at(own, i)->grown = k;
}

/* W = sum of widths and gaps: what of it is not said follows. */
gboolean
hf_group_size_row(HfGrouping *own, GError **error)
{
  double kept = 0, growing = 0, n = own->cells->len - 1.0;
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++) {
    double wide = hf_box_width(hf_cell_at(own, i)->ink);
    *(grows(own, hf_cell_at(own, i), all) ? &growing : &kept) += wide;
  }
  gboolean said = !isnan(own->group->gap);
  own->gap = said ? own->group->gap : hf_group_usual_gap(own);
  if (isnan(own->group->width))
    return TRUE;
  if (!said && n > 0 && all == SIZED) {
    own->gap = (own->group->width - growing) / n;
    return own->gap >= 0 ||
           refuse_width(own, growing, "take smaller letters, or say a gap and let them grow",
                        error);
  }
  double fixed = kept + (said ? n * own->gap : 0);
  double k = (own->group->width - fixed) / (growing + (said ? 0 : n * own->gap));
  if (!(k > 0))
    return refuse_width(own, fixed, "take smaller gaps", error);
  grow(own, k);
  own->gap *= said ? 1 : k;
  return TRUE;
}

/* A line of words is laid anew with so wide a spacing; a row is drawn apart; else it stays. */
static gboolean
space_cell(HfGrouping *own, HfCell *cell, double width, GError **error)
{
  HfLaying *laying = own->laying;
  const HfEntry *e = hf_lay_entry(laying, cell->root);
  double lacks = width - hf_box_width(cell->ink);
  if (fabs(lacks) <= ENOUGH)
    return TRUE;
  if (e->kind == HF_ENTRY_WORDS) {
    laying->changed[cell->root].width = width;
    if (!hf_lay_anew(laying, cell->root, error))
      return FALSE;
    for (guint i = 0; i < cell->leaning->len; i++)
      if (!hf_lay_anew(laying, g_array_index(cell->leaning, guint, i), error))
        return FALSE;
    hf_cell_measure(laying, cell);
    return TRUE;
  }
  if (e->kind != HF_ENTRY_ROW)
    return TRUE;
  g_autoptr(GArray) cells = hf_cells_new(laying, cell->root);
  for (guint i = 0; cells->len > 1 && i < cells->len; i++) {
    g_autoptr(GArray) all = hf_cell_entries(laying, &g_array_index(cells, HfCell, i));
    HfMatrix m = hf_matrix_move(lacks * (i / (cells->len - 1.0) - 0.5), 0);
    for (guint k = 0; k < all->len; k++)
      hf_laid_move(&laying->laid[g_array_index(all, guint, k)], m);
  }
  hf_cell_measure(laying, cell);
  return TRUE;
}

/* Lines of letters are justified; an ornament between them keeps its size. */
static gboolean
justify(HfGrouping *own, HfCell *cell, GError **error)
{
  if (own->group->justify == HF_LINES_EQUAL || cell->height <= 0)
    return TRUE;
  if (own->group->justify == HF_LINES_BY_HEIGHT) {
    cell->grown = own->group->width / hf_box_width(cell->ink);
    return TRUE;
  }
  return space_cell(own, cell, own->group->width / cell->grown, error);
}

gboolean
hf_group_size_stack(HfGrouping *own, GError **error)
{
  double widest = 0, width = own->group->width;
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++)
    if (grows(own, hf_cell_at(own, i), all))
      widest = fmax(widest, hf_box_width(hf_cell_at(own, i)->ink));
  gboolean spaced = own->group->justify == HF_LINES_BY_SPACING;
  if (!isnan(width) && !(spaced && all == SIZED))
    grow(own, width / widest);
  for (guint i = 0; !isnan(width) && i < own->cells->len; i++)
    if (!justify(own, hf_cell_at(own, i), error))
      return FALSE;
  own->gap = isnan(own->group->gap) ? hf_group_usual_gap(own) : own->group->gap;
  return TRUE;
}
