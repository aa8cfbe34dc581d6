/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-place.c - all of a row or stack moved as one: inside something, to its place, and once more
 * for each repeat.
 */
#include "base/text.h"
#include "geom/clear.h"
#include "layout/group-cells-private.h"
#include "layout/solve-private.h"

static const double CLOSE = 1e-7; /* mm */

/* ---- moving all of it --------------------------------------------------------------------------
 */

void
hf_group_move_entries(const HfGrouping *own, const GArray *all, HfMatrix m)
{
  HfLaid *laid = own->laying->laid;
  for (guint i = 0; i < all->len; i++) {
    guint entry = g_array_index(all, guint, i);
    hf_laid_move(&laid[entry], m);
    if (!hf_entry_is(hf_lay_entry(own->laying, entry), HF_KIND_GROUP))
      continue;
    g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, entry);
    laid[entry].box = hf_shapes_box(ink);
  }
}

void
hf_group_move(const HfGrouping *own, HfMatrix m)
{
  for (guint i = 0; i < own->cells->len; i++) {
    g_autoptr(GArray) all = hf_cell_entries(own->laying, hf_cell_at(own, i));
    hf_group_move_entries(own, all, m);
  }
}

/* ---- inside something --------------------------------------------------------------------------
 */

typedef struct {
  const HfGrouping *own;
  const GPtrArray *ink;
  const HfClear *edge;
  HfBox box;
  guint nearest; /* of the ink, at the try before: looked at first, it spares most of the others */
  GError *error;
} Fit;

static double
over_edge(double k, gpointer data)
{
  Fit *fit = data;
  const HfGrouping *own = fit->own;
  HfBox box = {hf_point_scale(fit->box.min, k), hf_point_scale(fit->box.max, k)};
  if (!hf_lay_frames(own->laying, own->entry, box, fit->error == NULL ? &fit->error : NULL))
    return NAN;
  HfMatrix frame = g_array_index(own->laying->laid[own->entry].frames, HfMatrix, 0);
  HfMatrix m = hf_matrix_then(hf_matrix_scale(k, k), frame);
  double least = INFINITY;
  for (guint n = 0, first = fit->nearest; n < fit->ink->len; n++) {
    guint i = (first + n) % fit->ink->len;
    g_autoptr(HfOutline) there = hf_outline_new();
    hf_outline_append(there, ((const HfShape *)g_ptr_array_index(fit->ink, i))->outline, m);
    double near = hf_clear_least(fit->edge, there, least);
    fit->nearest = near < least ? i : fit->nearest;
    least = near;
  }
  return own->group->margin - least;
}

gboolean
hf_group_fit_inside(const HfGrouping *own, GError **error)
{
  if (own->group->inside == NULL)
    return TRUE;
  g_autoptr(HfOutline) edge_own = hf_lay_edge_inside(own->laying, own->group->inside);
  g_autoptr(HfClear) edge = hf_clear_new(edge_own);
  g_autoptr(GPtrArray) ink = hf_lay_ink(own->laying, own->entry);
  Fit fit = {own, ink, edge, hf_shapes_box(ink), 0, NULL};
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
  hf_group_move(own, hf_matrix_scale(k, k));
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
      HfMatrix m = hf_matrix_move(hf_or_zero(group->pitch_x) * (c - (columns - 1) / 2.0),
                                  -hf_or_zero(group->pitch_y) * (r - (rows - 1) / 2.0));
      g_array_append_val(all, m);
    }
  return all;
}

void
hf_group_place_copies(const HfGrouping *own)
{
  HfLaying *laying = own->laying;
  guint n = laying->recipe->entries->len, copy = 0;
  g_autoptr(GArray) members = g_array_new(FALSE, FALSE, sizeof(guint));
  hf_lay_add_deep(laying, own->entry, members);
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
        hf_group_move(own, to);
        continue;
      }
      HfMatrix m = hf_matrix_then(inverse(first), to);
      for (guint i = 0; i < members->len; i++) {
        guint entry = g_array_index(members, guint, i);
        hf_laid_copy(&laying->laid[entry], entry, m, counts, copy);
      }
    }
}
