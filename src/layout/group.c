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
#include "geom/clear.h"
#include "layout/group-private.h"
#include "layout/solve-private.h"

#include <string.h>

static const double ROW_GAP = 1.0 / 3; /* of the letter height: a space between words; ours */
static const double STACK_GAP = 0.5;   /* the same, between lines; ours */
static const double CLOSE = 1e-7;      /* mm */
static const double ENOUGH = 1e-4;     /* mm */

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
} Cell;

typedef struct {
  HfLaying *laying;
  guint entry;
  const HfGroupEntry *group;
  gboolean is_row;
  GArray *cells; /* Cell */
  double gap;    /* mm */
} Own;

static Cell *
cell_at(const Own *own, guint i)
{
  return &g_array_index(own->cells, Cell, i);
}

static void
cell_clear(gpointer cell)
{
  g_array_unref(((Cell *)cell)->leaning);
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

static GArray *
cells_new(const HfLaying *laying, guint group)
{
  g_autoptr(GArray) members = hf_lay_members(laying, group, FALSE);
  GArray *cells = g_array_new(FALSE, TRUE, sizeof(Cell));
  g_array_set_clear_func(cells, cell_clear);
  for (guint i = 0; i < members->len; i++) {
    guint member = g_array_index(members, guint, i);
    if (root_of(laying, members, member) != member)
      continue;
    Cell cell = {.root = member, .grown = 1, .leaning = g_array_new(FALSE, FALSE, sizeof(guint))};
    for (guint k = 0; k < members->len; k++) {
      guint other = g_array_index(members, guint, k);
      if (other != member && root_of(laying, members, other) == member)
        g_array_append_val(cell.leaning, other);
    }
    g_array_append_val(cells, cell);
  }
  return cells;
}

static void
add_deep(const HfLaying *laying, guint entry, GArray *all)
{
  if (hf_entry_is(hf_lay_entry(laying, entry), HF_KIND_GROUP)) {
    g_autoptr(GArray) members = hf_lay_members(laying, entry, FALSE);
    for (guint i = 0; i < members->len; i++)
      add_deep(laying, g_array_index(members, guint, i), all);
  }
  g_array_append_val(all, entry); /* a group after its members: its box is theirs */
}

/* (transfer full) all entries of a cell, groups among them behind their members. */
static GArray *
cell_entries(const HfLaying *laying, const Cell *cell)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(guint));
  add_deep(laying, cell->root, all);
  for (guint i = 0; i < cell->leaning->len; i++)
    add_deep(laying, g_array_index(cell->leaning, guint, i), all);
  return all;
}

/* ---- measures ---------------------------------------------------------------------------------
 */

static double
or_zero(double given)
{
  return isnan(given) ? 0 : given;
}

static HfBox
ink_box(const GPtrArray *ink)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < ink->len; i++)
    box = hf_box_union(box, hf_outline_box(((const HfShape *)g_ptr_array_index(ink, i))->outline));
  return box;
}

/* Levels of the letters of straight words; of anything else those of its ink. */
static void
measure_levels(const HfLaying *laying, guint entry, Cell *cell)
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
  const HfShape *last = g_ptr_array_index(laid->shapes, laid->shapes->len - 1);
  cell->base = first->em.y0;
  cell->foot = fmin(first->em.y0, last->em.y0);
  cell->height = first->letter_height;
  cell->cap = cell->base + cell->height;
}

static void
measure_cell(const HfLaying *laying, Cell *cell)
{
  const HfPlace *place = &hf_lay_entry(laying, cell->root)->place;
  g_autoptr(GArray) all = cell_entries(laying, cell);
  cell->nudge = hf_point(or_zero(place->shift_x), or_zero(place->shift_y));
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
letter_height(const Own *own)
{
  double least = INFINITY, ink = INFINITY;
  for (guint i = 0; i < own->cells->len; i++) {
    const Cell *cell = cell_at(own, i);
    if (cell->height > 0)
      least = fmin(least, cell->height * cell->grown);
    ink = fmin(ink, hf_box_height(cell->ink) * cell->grown);
  }
  return isfinite(least) ? least : ink;
}

static double
usual_gap(const Own *own)
{
  return (own->is_row ? ROW_GAP : STACK_GAP) * letter_height(own);
}

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
sized_cells(const Own *own)
{
  guint all = 0;
  for (guint i = 0; i < own->cells->len; i++)
    all |= sized(own->laying, cell_at(own, i)->root);
  return all;
}

/* Beside what has a size it must be known how large the rest is, where all of it grows alike. */
static gboolean
may_grow(const Own *own, GError **error)
{
  gboolean inside = own->group->inside != NULL && sized_cells(own) == MIXED;
  for (guint i = 0; i < own->cells->len; i++) {
    guint root = cell_at(own, i)->root;
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
refuse_width(const Own *own, double least, const char *fix, GError **error)
{
  g_autofree char *wanted = hf_text_mm(own->group->width), *has = hf_text_mm(least);
  return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM, fix,
                       "it is to be %s wide, and what stands in it takes %s", wanted, has);
}

/* Those whose size is left to the group; where all are sized, all. */
static gboolean
grows(const Own *own, const Cell *cell, guint all)
{
  return all == SIZED || sized(own->laying, cell->root) != SIZED;
}

static void
grow(const Own *own, double k)
{
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++)
    if (grows(own, cell_at(own, i), all))
      cell_at(own, i)->grown = k;
}

/* W = sum of widths and gaps: what of it is not said follows. */
static gboolean
size_row(Own *own, GError **error)
{
  double kept = 0, growing = 0, n = own->cells->len - 1.0;
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++) {
    double wide = hf_box_width(cell_at(own, i)->ink);
    *(grows(own, cell_at(own, i), all) ? &growing : &kept) += wide;
  }
  gboolean said = !isnan(own->group->gap);
  own->gap = said ? own->group->gap : usual_gap(own);
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
space_cell(Own *own, Cell *cell, double width, GError **error)
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
    measure_cell(laying, cell);
    return TRUE;
  }
  if (e->kind != HF_ENTRY_ROW)
    return TRUE;
  g_autoptr(GArray) cells = cells_new(laying, cell->root);
  for (guint i = 0; cells->len > 1 && i < cells->len; i++) {
    g_autoptr(GArray) all = cell_entries(laying, &g_array_index(cells, Cell, i));
    HfMatrix m = hf_matrix_move(lacks * (i / (cells->len - 1.0) - 0.5), 0);
    for (guint k = 0; k < all->len; k++)
      hf_laid_move(&laying->laid[g_array_index(all, guint, k)], m);
  }
  measure_cell(laying, cell);
  return TRUE;
}

/* Lines of letters are justified; an ornament between them keeps its size. */
static gboolean
justify(Own *own, Cell *cell, GError **error)
{
  if (own->group->justify == HF_LINES_EQUAL || cell->height <= 0)
    return TRUE;
  if (own->group->justify == HF_LINES_BY_HEIGHT) {
    cell->grown = own->group->width / hf_box_width(cell->ink);
    return TRUE;
  }
  return space_cell(own, cell, own->group->width / cell->grown, error);
}

static gboolean
size_stack(Own *own, GError **error)
{
  double widest = 0, width = own->group->width;
  guint all = sized_cells(own);
  for (guint i = 0; i < own->cells->len; i++)
    if (grows(own, cell_at(own, i), all))
      widest = fmax(widest, hf_box_width(cell_at(own, i)->ink));
  gboolean spaced = own->group->justify == HF_LINES_BY_SPACING;
  if (!isnan(width) && !(spaced && all == SIZED))
    grow(own, width / widest);
  for (guint i = 0; !isnan(width) && i < own->cells->len; i++)
    if (!justify(own, cell_at(own, i), error))
      return FALSE;
  own->gap = isnan(own->group->gap) ? usual_gap(own) : own->group->gap;
  return TRUE;
}

/* ---- packing ----------------------------------------------------------------------------------
 */

static double
level_of(const Own *own, const Cell *cell)
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
pack_row(Own *own)
{
  double at = 0;
  for (guint i = 0; i < own->cells->len; i++) {
    Cell *cell = cell_at(own, i);
    cell->to = hf_point(at - cell->grown * cell->ink.min.x, -cell->grown * level_of(own, cell));
    at += cell->grown * hf_box_width(cell->ink) + own->gap;
  }
}

/* What of a line stands at 0; its middle is that of its box or of its area. */
static double
side_of(const Own *own, const Cell *cell)
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
pack_stack(Own *own)
{
  double at = 0;
  for (guint i = 0; i < own->cells->len; i++) {
    Cell *cell = cell_at(own, i);
    cell->to = hf_point(-cell->grown * side_of(own, cell), at - cell->grown * cell->ink.max.y);
    at -= cell->grown * hf_box_height(cell->ink) + own->gap;
  }
}

/* ---- moving all of it --------------------------------------------------------------------------
 */

static void
move_entries(const Own *own, const GArray *all, HfMatrix m)
{
  HfLaid *laid = own->laying->laid;
  for (guint i = 0; i < all->len; i++) {
    guint entry = g_array_index(all, guint, i);
    hf_laid_move(&laid[entry], m);
    if (!hf_entry_is(hf_lay_entry(own->laying, entry), HF_KIND_GROUP))
      continue;
    g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, entry);
    laid[entry].box = ink_box(ink);
  }
}

static void
move_all(const Own *own, HfMatrix m)
{
  for (guint i = 0; i < own->cells->len; i++) {
    g_autoptr(GArray) all = cell_entries(own->laying, cell_at(own, i));
    move_entries(own, all, m);
  }
}

static void
put_cells(const Own *own)
{
  for (guint i = 0; i < own->cells->len; i++) {
    const Cell *cell = cell_at(own, i);
    g_autoptr(GArray) all = cell_entries(own->laying, cell);
    HfPoint nudge = hf_point_scale(cell->nudge, 1 - cell->grown); /* it does not grow */
    HfMatrix m = hf_matrix_then(hf_matrix_scale(cell->grown, cell->grown),
                                hf_matrix_move(cell->to.x + nudge.x, cell->to.y + nudge.y));
    move_entries(own, all, m);
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
static HfPoint
middle_of(const Own *own)
{
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  if (own->group->by_area)
    return middle_of_area(ink);
  double top = -INFINITY, foot = INFINITY;
  for (guint i = 0; i < own->cells->len; i++) {
    const Cell *cell = cell_at(own, i);
    top = fmax(top, cell->to.y + cell->grown * cell->cap);
    foot = fmin(foot, cell->to.y + cell->grown * cell->foot);
  }
  return hf_point(hf_box_centre(ink_box(ink)).x, (top + foot) / 2);
}

/* ---- inside something --------------------------------------------------------------------------
 */

typedef struct {
  const Own *own;
  const GPtrArray *ink;
  const HfClear *edge;
  HfBox box;
  GError *error;
} Fit;

static double
over_edge(double k, gpointer data)
{
  Fit *fit = data;
  const Own *own = fit->own;
  HfBox box = {hf_point_scale(fit->box.min, k), hf_point_scale(fit->box.max, k)};
  if (!hf_lay_frames(own->laying, own->entry, box, fit->error == NULL ? &fit->error : NULL))
    return NAN;
  HfMatrix frame = g_array_index(own->laying->laid[own->entry].frames, HfMatrix, 0);
  HfMatrix m = hf_matrix_then(hf_matrix_scale(k, k), frame);
  double least = INFINITY;
  for (guint i = 0; i < fit->ink->len; i++) {
    g_autoptr(HfOutline) there = hf_outline_new();
    hf_outline_append(there, ((const HfShape *)g_ptr_array_index(fit->ink, i))->outline, m);
    least = hf_clear_least(fit->edge, there, least);
  }
  return own->group->margin - least;
}

static gboolean
fit_inside(const Own *own, GError **error)
{
  if (own->group->inside == NULL)
    return TRUE;
  g_autoptr(HfOutline) edge_own = hf_lay_edge_inside(own->laying, own->group->inside);
  g_autoptr(HfClear) edge = hf_clear_new(edge_own);
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  Fit fit = {own, ink, edge, ink_box(ink), NULL};
  double guess = hf_box_width(hf_outline_box(edge_own)) / hf_box_width(fit.box);
  double k = hf_solve_size(over_edge, &fit, guess, guess * 1000, CLOSE, own->laying->cancel);
  if (!hf_cancel_check(own->laying->cancel, error))
    k = 0;
  else if (fit.error != NULL)
    g_propagate_error(error, g_steal_pointer(&fit.error));
  else if (isnan(k))
    hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_NO_ROOM,
                  "take a smaller margin, or place it where there is more room",
                  "nothing of it stays so far inside the edge of \"%s\"", own->group->inside);
  g_clear_error(&fit.error);
  if (!(k > 0))
    return FALSE;
  move_all(own, hf_matrix_scale(k, k));
  return TRUE;
}

/* ---- repeats ------------------------------------------------------------------------------------
 */

static HfMatrix
inverse(HfMatrix m)
{
  double det = m.xx * m.yy - m.xy * m.yx;
  HfMatrix back = {m.yy / det, -m.xy / det, -m.yx / det, m.xx / det, 0, 0};
  HfPoint zero = hf_matrix_apply(back, hf_point(m.x0, m.y0));
  back.x0 = -zero.x;
  back.y0 = -zero.y;
  return back;
}

/* Where the copies of it stand about the middle of them all. (transfer full) (HfMatrix) */
static GArray *
repeats_new(const HfGroupEntry *group)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(HfMatrix));
  int columns = MAX(group->columns, 1), rows = MAX(group->rows, 1);
  for (int i = 0; i < group->count; i++) {
    double out = G_PI_2 - 2 * G_PI * i / group->count;
    HfPoint at = hf_point_polar(hf_point(0, 0), group->circle / 2, out);
    HfMatrix m = hf_matrix_then(hf_matrix_turn(out - G_PI_2), hf_matrix_move(at.x, at.y));
    g_array_append_val(all, m);
  }
  for (int r = 0; group->count == 0 && r < rows; r++)
    for (int c = 0; c < columns; c++) {
      HfMatrix m = hf_matrix_move(or_zero(group->pitch_x) * (c - (columns - 1) / 2.0),
                                  -or_zero(group->pitch_y) * (r - (rows - 1) / 2.0));
      g_array_append_val(all, m);
    }
  return all;
}

static void
place_copies(const Own *own)
{
  HfLaying *laying = own->laying;
  guint n = laying->recipe->entries->len, copy = 0;
  g_autoptr(GArray) members = g_array_new(FALSE, FALSE, sizeof(guint));
  add_deep(laying, own->entry, members);
  g_array_set_size(members, members->len - 1); /* the last is the group itself */
  g_autofree HfLaidCount *counts = g_new0(HfLaidCount, n);
  for (guint i = 0; i < n; i++)
    counts[i] = (HfLaidCount){laying->laid[i].shapes->len, laying->laid[i].hangs->len,
                              laying->laid[i].joints->len, laying->laid[i].frames->len};
  g_autoptr(GArray) repeats = repeats_new(own->group);
  GArray *frames = laying->laid[own->entry].frames;
  HfMatrix first = HF_MATRIX_IDENTITY;
  for (guint f = 0; f < frames->len; f++)
    for (guint r = 0; r < repeats->len; r++, copy++) {
      HfMatrix to =
          hf_matrix_then(g_array_index(repeats, HfMatrix, r), g_array_index(frames, HfMatrix, f));
      if (copy == 0) {
        first = to;
        move_all(own, to);
        continue;
      }
      HfMatrix m = hf_matrix_then(inverse(first), to);
      for (guint i = 0; i < members->len; i++) {
        guint entry = g_array_index(members, guint, i);
        hf_laid_copy(&laying->laid[entry], entry, m, counts, copy);
      }
    }
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
keeps_height(const Own *own, guint entry, const HfShape *shape)
{
  const HfFontWish *font = hf_entry_font(hf_lay_entry(own->laying, entry));
  return font != NULL && fabs(shape->letter_height - font->height) < ENOUGH;
}

static void
tell_heights(const Own *own)
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
tell(const Own *own)
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
name_lines(const Own *own)
{
  const char *name = hf_lay_entry(own->laying, own->entry)->name;
  for (guint i = 0; !own->is_row && i < own->cells->len; i++) {
    g_autoptr(GArray) all = cell_entries(own->laying, cell_at(own, i));
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
may_be_mirrored(const Own *own, GError **error)
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
has_ink(const Own *own, GError **error)
{
  for (guint i = 0; i < own->cells->len; i++) {
    const Cell *cell = cell_at(own, i);
    if (hf_box_is_empty(cell->ink) || !(hf_box_width(cell->ink) > 0))
      return hf_lay_refuse(own->laying, own->entry, error, HF_ERROR_BAD_VALUE,
                           "take it out of the list", "\"%s\" has nothing that could be lined up",
                           hf_lay_entry(own->laying, cell->root)->name);
  }
  return TRUE;
}

static gboolean
lay(Own *own, GError **error)
{
  for (guint i = 0; i < own->cells->len; i++)
    measure_cell(own->laying, cell_at(own, i));
  if (!has_ink(own, error) || !may_be_mirrored(own, error) || !may_grow(own, error))
    return FALSE;
  if (!(own->is_row ? size_row(own, error) : size_stack(own, error)))
    return FALSE;
  if (own->is_row)
    pack_row(own);
  else
    pack_stack(own);
  put_cells(own);
  HfPoint middle = middle_of(own);
  move_all(own, hf_matrix_then(hf_matrix_move(-middle.x, -middle.y),
                               hf_matrix_scale(own->group->mirrored ? -1 : 1, 1)));
  if (!fit_inside(own, error))
    return FALSE;
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  if (!hf_lay_frames(own->laying, own->entry, ink_box(ink), error))
    return FALSE;
  name_lines(own);
  place_copies(own);
  tell(own);
  return TRUE;
}

gboolean
hf_lay_group(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autoptr(GArray) cells = cells_new(laying, entry);
  Own own = {laying, entry, &e->group, e->kind == HF_ENTRY_ROW, cells, 0};
  if (!lay(&own, error))
    return FALSE;
  g_autoptr(GPtrArray) ink = hf_lay_ink(laying, entry);
  laying->laid[entry].box = ink_box(ink);
  return TRUE;
}
