/* SPDX-License-Identifier: GPL-3.0-or-later
 * handed-on.c - shapes and layouts as later stages get them: made, shared, let go.
 *
 *   laid out:  S a l t m ...            lists and shapes of the first are shared by the second,
 * which tied:      S a l t m ... | | |      has its own list of pointers where something is added
 *
 * Invariant: a layout that was handed on is never changed; nor is a shape with two owners.
 */
#include "layout/layout-private.h"

HfShape *
hf_shape_new(HfOutline *outline, char *label, guint entry, gint letter, gboolean opening)
{
  HfShape *shape = g_new0(HfShape, 1);
  shape->outline = outline;
  shape->label = label;
  shape->entry = entry;
  shape->letter = letter;
  shape->opening = opening;
  shape->em = HF_MATRIX_IDENTITY;
  return shape;
}

HfShape *
hf_shape_ref(HfShape *shape)
{
  g_atomic_int_inc(&shape->others);
  return shape;
}

void
hf_shape_free(HfShape *shape)
{
  if (shape == NULL || g_atomic_int_add(&shape->others, -1) > 0)
    return;
  hf_outline_free(shape->outline);
  hf_outline_free(shape->drawn);
  g_free(shape->label);
  g_free(shape);
}

static void
shape_free(gpointer shape)
{
  hf_shape_free((HfShape *)shape);
}

static void
missed_clear(gpointer missed)
{
  HfMissed *one = missed;
  g_free(one->why);
  g_free(one->part);
  g_free(one->fix);
}

static void
used_free(gpointer data)
{
  HfUsedDrawing *used = data;
  g_free(used->file);
  g_free(used->digest);
  g_free(used->size);
  g_free(used->doubt);
  g_ptr_array_unref(used->notes);
  g_free(used);
}

HfLayout *
hf_lay_layout_new(void)
{
  HfLayout *layout = g_new0(HfLayout, 1);
  layout->shapes = g_ptr_array_new_with_free_func(shape_free);
  layout->hangs = g_array_new(FALSE, FALSE, sizeof(HfHang));
  layout->joints = g_array_new(FALSE, FALSE, sizeof(HfJoint));
  layout->solved = g_array_new(FALSE, FALSE, sizeof(HfSolved));
  layout->missed = g_array_new(FALSE, FALSE, sizeof(HfMissed));
  g_array_set_clear_func(layout->missed, missed_clear);
  layout->faces = g_ptr_array_new();
  layout->drawings = g_ptr_array_new_with_free_func(used_free);
  layout->notes = g_ptr_array_new_with_free_func(g_free);
  return layout;
}

HfLayout *
hf_layout_ref(HfLayout *layout)
{
  g_atomic_int_inc(&layout->others);
  return layout;
}

void
hf_layout_free(HfLayout *layout)
{
  if (layout == NULL || g_atomic_int_add(&layout->others, -1) > 0)
    return;
  g_ptr_array_unref(layout->shapes);
  g_array_unref(layout->hangs);
  g_array_unref(layout->joints);
  g_array_unref(layout->solved);
  g_array_unref(layout->missed);
  g_ptr_array_unref(layout->faces);
  g_ptr_array_unref(layout->drawings);
  g_ptr_array_unref(layout->notes);
  g_free(layout);
}

void
hf_layout_add_missed(HfLayout *layout, guint entry, HfPoint at, const char *part, const char *why,
                     const char *fix)
{
  HfMissed missed = {entry, at, g_strdup(why), g_strdup(part), g_strdup(fix)};
  g_array_append_val(layout->missed, missed);
}

/* ---- a layout with more in it -----------------------------------------------------------------
 */

static GPtrArray *
more_shapes(const GPtrArray *shapes, const GPtrArray *more)
{
  if (more == NULL || more->len == 0)
    return g_ptr_array_ref((GPtrArray *)shapes);
  GPtrArray *all = g_ptr_array_new_full(shapes->len + more->len, shape_free);
  for (guint i = 0; i < shapes->len; i++)
    g_ptr_array_add(all, hf_shape_ref(shapes->pdata[i]));
  for (guint i = 0; i < more->len; i++)
    g_ptr_array_add(all, hf_shape_ref(more->pdata[i]));
  return all;
}

static void
add_missed(GArray *all, const GArray *some)
{
  for (guint i = 0; i < some->len; i++) {
    const HfMissed *one = &g_array_index(some, HfMissed, i);
    HfMissed copy = {one->entry, one->at, g_strdup(one->why), g_strdup(one->part),
                     g_strdup(one->fix)};
    g_array_append_val(all, copy);
  }
}

static GArray *
more_missed(const GArray *missed, const GArray *more)
{
  if (more == NULL || more->len == 0)
    return g_array_ref((GArray *)missed);
  GArray *all = g_array_new(FALSE, FALSE, sizeof(HfMissed));
  g_array_set_clear_func(all, missed_clear);
  add_missed(all, missed);
  add_missed(all, more);
  return all;
}

static GArray *
more_solved(const GArray *solved, const GArray *more)
{
  if (more == NULL || more->len == 0)
    return g_array_ref((GArray *)solved);
  GArray *all = g_array_copy((GArray *)solved);
  g_array_append_vals(all, more->data, more->len);
  return all;
}

static void
add_notes(GPtrArray *all, const GPtrArray *some)
{
  for (guint i = 0; i < some->len; i++)
    g_ptr_array_add(all, g_strdup(some->pdata[i]));
}

static GPtrArray *
more_notes(const GPtrArray *notes, const GPtrArray *more)
{
  if (more == NULL || more->len == 0)
    return g_ptr_array_ref((GPtrArray *)notes);
  GPtrArray *all = g_ptr_array_new_with_free_func(g_free);
  add_notes(all, notes);
  add_notes(all, more);
  return all;
}

HfLayout *
hf_layout_extended(const HfLayout *layout, const HfLayoutMore *more)
{
  HfLayout *next = g_new0(HfLayout, 1);
  *next = (HfLayout){.shapes = more_shapes(layout->shapes, more->shapes),
                     .hangs = g_array_ref(layout->hangs),
                     .joints = g_array_ref(layout->joints),
                     .solved = more_solved(layout->solved, more->solved),
                     .missed = more_missed(layout->missed, more->missed),
                     .faces = g_ptr_array_ref(layout->faces),
                     .drawings = g_ptr_array_ref(layout->drawings),
                     .notes = more_notes(layout->notes, more->notes),
                     .centre = layout->centre,
                     .load = layout->load,
                     .load_at = layout->load_at};
  return next;
}
