/* SPDX-License-Identifier: GPL-3.0-or-later
 * holes.c - a hole pattern: a grid, a staggered one, or so many holes round a circle.
 *
 *   grid        o  o  o     staggered   o   o   o      every hole one pitch from its neighbours:
 *               o  o  o                   o   o        rows are pitch sin 60 apart, every other
 *               o  o  o                 o   o   o      row has one hole less
 */
#include "layout/layout-private.h"

enum { MOST_HOLES = 10000 };

static void
grid_places(const HfHolesEntry *holes, GArray *places)
{
  double pitch = holes->pitch, row_pitch = holes->staggered ? pitch * sin(G_PI / 3) : pitch;
  for (int row = 0; row < holes->rows; row++) {
    int columns = holes->columns - (holes->staggered && row % 2 == 1 ? 1 : 0);
    for (int column = 0; column < columns; column++) {
      HfPoint at = {(column - (columns - 1) / 2.0) * pitch,
                    ((holes->rows - 1) / 2.0 - row) * row_pitch};
      g_array_append_val(places, at);
    }
  }
}

/* The first at the top, then clockwise, as one reads a clock. */
static void
circle_places(const HfHolesEntry *holes, GArray *places)
{
  for (int i = 0; i < holes->count; i++) {
    HfPoint at =
        hf_point_polar(hf_point(0, 0), holes->circle / 2, G_PI_2 - 2 * G_PI * i / holes->count);
    g_array_append_val(places, at);
  }
}

static void
add_hole(HfLaying *laying, guint entry, guint copy, guint number, HfPoint at)
{
  HfLaid *laid = &laying->laid[entry];
  HfOutline *circle = hf_outline_new();
  HfPoint placed = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, copy), at);
  hf_outline_add_circle(circle, placed, hf_bore_mm(&hf_lay_entry(laying, entry)->holes.bore) / 2);
  g_autofree char *pattern = hf_lay_label(laying, entry, copy);
  char *label = g_strdup_printf("hole %u of %s", number + 1, pattern);
  HfShape *shape = hf_shape_new(circle, label, entry, -1, TRUE);
  shape->copy = copy;
  g_ptr_array_add(laid->shapes, shape);
}

gboolean
hf_lay_holes(HfLaying *laying, guint entry, GError **error)
{
  const HfHolesEntry *holes = &hf_lay_entry(laying, entry)->holes;
  HfLaid *laid = &laying->laid[entry];
  gboolean round = holes->count > 0;
  gint64 n = round ? holes->count : (gint64)holes->columns * holes->rows;
  if (n < 1 || n > MOST_HOLES)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "give columns and rows, or a count and a circle",
                         "a hole pattern has 1 to %d holes, not %" G_GINT64_FORMAT, MOST_HOLES, n);
  g_autoptr(GArray) places = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  if (round)
    circle_places(holes, places);
  else
    grid_places(holes, places);
  HfBox own = HF_BOX_EMPTY;
  for (guint i = 0; i < places->len; i++)
    own = hf_box_add_point(own, g_array_index(places, HfPoint, i));
  if (!hf_lay_frames(laying, entry, hf_box_grow(own, hf_bore_mm(&holes->bore) / 2), error))
    return FALSE;
  if (laid->frames->len * places->len > MOST_HOLES)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "make fewer copies",
                         "copies of a hole pattern have at most %d holes in all", MOST_HOLES);
  for (guint copy = 0; copy < laid->frames->len; copy++)
    for (guint i = 0; i < places->len; i++)
      add_hole(laying, entry, copy, i, g_array_index(places, HfPoint, i));
  return TRUE;
}
