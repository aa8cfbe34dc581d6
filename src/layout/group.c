/* SPDX-License-Identifier: GPL-3.0-or-later
 * group.c - rows and stacks: what is laid is packed, sized, and placed as one body.
 *
 *     row    |TIDE| & |TIMBER|     a member and what leans on it is a cell; cells are put ink to
 * ink,
 *            ---------------- one  their sizes found first (a width, what it stays inside of), then
 *     stack  |BAKERS|    level     all of it goes to its place, and once more for each repeat
 *            |since 1902|
 *
 * Members are laid by themselves before; whoever else is placed by one of them comes after the
 * group (order.c). docs/maths.md#groups
 */
#include "base/text.h"
#include "layout/group-cells-private.h"

static const double ENOUGH = 1e-4; /* mm */

/* ---- packing ----------------------------------------------------------------------------------
 */

static double
level_of(const HfGrouping *own, const HfCell *cell)
{
  switch ((HfRowAlign)own->group->align) {
  case HF_ROW_BASELINE:
    return cell->base;
  case HF_ROW_CAPS:
    return cell->cap;
  case HF_ROW_MIDDLE:
    return (cell->base + cell->cap) / 2;
  case HF_ROW_TOPS:
    return cell->ink.max.y;
  case HF_ROW_FEET:
    return cell->ink.min.y;
  }
  g_assert_not_reached();
}

static void
pack_row(HfGrouping *own)
{
  double at = 0;
  for (guint i = 0; i < own->cells->len; i++) {
    HfCell *cell = hf_cell_at(own, i);
    cell->to = hf_point(at - cell->grown * cell->ink.min.x, -cell->grown * level_of(own, cell));
    at += cell->grown * hf_box_width(cell->ink) + own->gap;
  }
}

/* What of a line stands at 0; its middle is that of its box or of its area. */
static double
side_of(const HfGrouping *own, const HfCell *cell)
{
  switch ((HfAlign)own->group->align) {
  case HF_ALIGN_LEFT:
    return cell->ink.min.x;
  case HF_ALIGN_RIGHT:
    return cell->ink.max.x;
  case HF_ALIGN_CENTRE:
    break;
  }
  return hf_box_centre(cell->ink).x;
}

static void
pack_stack(HfGrouping *own)
{
  double at = 0;
  for (guint i = 0; i < own->cells->len; i++) {
    HfCell *cell = hf_cell_at(own, i);
    cell->to = hf_point(-cell->grown * side_of(own, cell), at - cell->grown * cell->ink.max.y);
    at -= cell->grown * hf_box_height(cell->ink) + own->gap;
  }
}

static void
put_cells(const HfGrouping *own)
{
  for (guint i = 0; i < own->cells->len; i++) {
    const HfCell *cell = hf_cell_at(own, i);
    g_autoptr(GArray) all = hf_cell_entries(own->laying, cell);
    HfPoint nudge = hf_point_scale(cell->nudge, 1 - cell->grown); /* it does not grow */
    HfMatrix m = hf_matrix_then(hf_matrix_scale(cell->grown, cell->grown),
                                hf_matrix_move(cell->to.x + nudge.x, cell->to.y + nudge.y));
    hf_group_move_entries(own, all, m);
  }
}

/* Area and first moments of all ink, openings of letters taken off. */
static HfPoint
middle_of_area(const GPtrArray *ink)
{
  double area = 0;
  HfPoint moment = {0, 0};
  for (guint i = 0; i < ink->len; i++) {
    const HfShape *shape = g_ptr_array_index(ink, i);
    g_autoptr(HfRegion) region = hf_region_of_outline(shape->outline, HF_NO_SHAPE, HF_FLATTEN_MM);
    double own = hf_region_area(region);
    if (own <= 0)
      continue;
    area += own;
    moment = hf_point_add(moment, hf_point_scale(hf_region_centroid(region), own));
  }
  return hf_point_scale(moment, 1 / area);
}

/* Across the middle of the ink; up and down half way between the capitals' tops and the last
 * baseline, as words by themselves are. */
HfPoint
hf_group_middle(const HfGrouping *own)
{
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  if (own->group->by_area)
    return middle_of_area(ink);
  double top = -INFINITY, foot = INFINITY;
  for (guint i = 0; i < own->cells->len; i++) {
    const HfCell *cell = hf_cell_at(own, i);
    top = fmax(top, cell->to.y + cell->grown * cell->cap);
    foot = fmin(foot, cell->to.y + cell->grown * cell->foot);
  }
  return hf_point(hf_box_centre(hf_shapes_box(ink)).x, (top + foot) / 2);
}

/* ---- telling ------------------------------------------------------------------------------------
 */

static void
forget_solved(HfLayout *layout, guint entry, HfSolvedWhat what)
{
  for (guint i = layout->solved->len; i-- > 0;) {
    const HfSolved *solved = &g_array_index(layout->solved, HfSolved, i);
    if (solved->entry == entry && solved->what == what)
      g_array_remove_index(layout->solved, i);
  }
}

/* As high as the recipe says: nothing was worked out. */
static gboolean
keeps_height(const HfGrouping *own, guint entry, const HfShape *shape)
{
  const HfFontWish *font = hf_entry_font(hf_lay_entry(own->laying, entry));
  return font != NULL && fabs(shape->letter_height - font->height) < ENOUGH;
}

static void
tell_heights(const HfGrouping *own)
{
  HfLayout *layout = own->laying->layout;
  g_autoptr(GArray) members = hf_lay_members(own->laying, own->entry, TRUE);
  for (guint i = 0; i < members->len; i++) {
    guint entry = g_array_index(members, guint, i);
    const GPtrArray *shapes = own->laying->laid[entry].shapes;
    const HfShape *shape = shapes->len > 0 ? g_ptr_array_index(shapes, 0) : NULL;
    if (shape == NULL || shape->letter_height <= 0 || keeps_height(own, entry, shape))
      continue;
    forget_solved(layout, entry, HF_SOLVED_LETTER_HEIGHT);
    HfSolved solved = {entry, HF_SOLVED_LETTER_HEIGHT, shape->letter_height};
    g_array_append_val(layout->solved, solved);
  }
}

static void
tell(const HfGrouping *own)
{
  if (!isnan(own->group->width) || own->group->inside != NULL)
    tell_heights(own);
  if (isnan(own->group->gap) && own->cells->len > 1 && own->group->inside == NULL) {
    HfSolved gap = {own->entry, HF_SOLVED_GAP, own->gap};
    g_array_append_val(own->laying->layout->solved, gap);
  }
}

/* `letter 'E' of "CLOSED" in line 3 of "hours"` */
static void
name_lines(const HfGrouping *own)
{
  const char *name = hf_lay_entry(own->laying, own->entry)->name;
  for (guint i = 0; !own->is_row && i < own->cells->len; i++) {
    g_autoptr(GArray) all = hf_cell_entries(own->laying, hf_cell_at(own, i));
    for (guint k = 0; k < all->len; k++) {
      const GPtrArray *shapes = own->laying->laid[g_array_index(all, guint, k)].shapes;
      for (guint s = 0; s < shapes->len; s++) {
        HfShape *shape = g_ptr_array_index(shapes, s);
        char *label = g_strdup_printf("%s in line %u of \"%s\"", shape->label, i + 1, name);
        g_free(shape->label);
        shape->label = label;
      }
    }
  }
}

/* ---- the entry ----------------------------------------------------------------------------------
 */

static gboolean
may_be_mirrored(const HfGrouping *own, GError **error)
{
  g_autoptr(GArray) members = hf_lay_members(own->laying, own->entry, TRUE);
  for (guint i = 0; own->group->mirrored && i < members->len; i++) {
    guint member = g_array_index(members, guint, i);
    if (hf_entry_is(hf_lay_entry(own->laying, member), HF_KIND_LETTERING))
      return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                           "mirror the ornaments only", "letters read backwards in a mirror");
  }
  return TRUE;
}

static gboolean
has_ink(const HfGrouping *own, GError **error)
{
  for (guint i = 0; i < own->cells->len; i++) {
    const HfCell *cell = hf_cell_at(own, i);
    if (hf_box_is_empty(cell->ink) || !(hf_box_width(cell->ink) > 0))
      return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                           "take it out of the list", "\"%s\" has nothing that could be lined up",
                           hf_lay_entry(own->laying, cell->root)->name);
  }
  return TRUE;
}

static gboolean
lay(HfGrouping *own, GError **error)
{
  for (guint i = 0; i < own->cells->len; i++)
    hf_cell_measure(own->laying, hf_cell_at(own, i));
  if (!has_ink(own, error) || !may_be_mirrored(own, error) || !hf_group_may_grow(own, error))
    return FALSE;
  if (!(own->is_row ? hf_group_size_row(own, error) : hf_group_size_stack(own, error)))
    return FALSE;
  if (own->is_row)
    pack_row(own);
  else
    pack_stack(own);
  put_cells(own);
  HfPoint middle = hf_group_middle(own);
  hf_group_move(own, hf_matrix_then(hf_matrix_move(-middle.x, -middle.y),
                                    hf_matrix_scale(own->group->mirrored ? -1 : 1, 1)));
  if (!hf_group_fit_inside(own, error))
    return FALSE;
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  if (!hf_lay_frames(own->laying, own->entry, hf_shapes_box(ink), error))
    return FALSE;
  name_lines(own);
  hf_group_place_copies(own);
  tell(own);
  return TRUE;
}

gboolean
hf_lay_group(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autoptr(GArray) cells = hf_cells_new(laying, entry);
  HfGrouping own = {laying, entry, &e->group, e->kind == HF_ENTRY_ROW, cells, 0};
  if (!lay(&own, error))
    return FALSE;
  g_autoptr(GPtrArray) ink = hf_lay_ink(laying, entry);
  laying->laid[entry].box = hf_shapes_box(ink);
  return TRUE;
}
