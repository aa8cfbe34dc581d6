/* SPDX-License-Identifier: GPL-3.0-or-later
 * group-move.c - what is laid, moved, grown and copied as one body.
 *
 *   shape, letters' ems, hanging points, joints    go through the matrix
 *   frames                                         stay rigid: (x, y) of the entry's own frame are
 *                                                  mm also of one that has grown
 */
#include "base/text.h"
#include "layout/group-private.h"

static double
growth(HfMatrix m)
{
  return sqrt(fabs(m.xx * m.yy - m.xy * m.yx));
}

static HfMatrix
rigid(HfMatrix frame, HfMatrix m)
{
  double k = growth(m);
  return hf_matrix_then(hf_matrix_then(hf_matrix_scale(1 / k, 1 / k), frame), m);
}

static HfOutline *
moved_outline(const HfOutline *outline, HfMatrix m)
{
  if (outline == NULL)
    return NULL;
  HfOutline *moved = hf_outline_new();
  hf_outline_append(moved, outline, m);
  return moved;
}

HfShape *
hf_shape_moved(const HfShape *shape, HfMatrix m)
{
  HfShape *moved = hf_shape_new(moved_outline(shape->outline, m), g_strdup(shape->label),
                                shape->entry, shape->letter, shape->opening);
  moved->drawn = moved_outline(shape->drawn, m);
  moved->copy = shape->copy;
  moved->em = shape->letter >= 0 ? hf_matrix_then(shape->em, m) : rigid(shape->em, m);
  moved->letter_height = shape->letter_height * growth(m);
  moved->lean = shape->lean;
  moved->pen = shape->pen;
  moved->line = shape->line;
  moved->mends = shape->mends;
  return moved;
}

static void
move_hang(HfHang *hang, HfMatrix m)
{
  hang->at = hf_matrix_apply(m, hang->at);
  hang->diameter *= growth(m);
}

static void
move_joint(HfJoint *joint, HfMatrix m)
{
  joint->at = hf_matrix_apply(m, joint->at);
  joint->width *= growth(m);
  joint->bite *= growth(m);
}

static HfBox
grown_box(HfBox box, double k)
{
  return (HfBox){hf_point_scale(box.min, k), hf_point_scale(box.max, k)};
}

HfBox
hf_shapes_box(const GPtrArray *shapes)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < shapes->len; i++)
    box =
        hf_box_union(box, hf_outline_box(((const HfShape *)g_ptr_array_index(shapes, i))->outline));
  return box;
}

void
hf_laid_move(HfLaid *laid, HfMatrix m)
{
  double k = growth(m);
  for (guint i = 0; i < laid->shapes->len; i++) {
    HfShape *shape = g_ptr_array_index(laid->shapes, i);
    g_ptr_array_index(laid->shapes, i) = hf_shape_moved(shape, m);
    hf_shape_free(shape);
  }
  for (guint i = 0; i < laid->hangs->len; i++)
    move_hang(&g_array_index(laid->hangs, HfHang, i), m);
  for (guint i = 0; i < laid->joints->len; i++)
    move_joint(&g_array_index(laid->joints, HfJoint, i), m);
  for (guint i = 0; i < laid->frames->len; i++) {
    HfMatrix *frame = &g_array_index(laid->frames, HfMatrix, i);
    *frame = rigid(*frame, m);
  }
  laid->own = hf_box_is_empty(laid->own) ? laid->own : grown_box(laid->own, k);
  laid->centre = hf_matrix_apply(m, laid->centre);
  laid->inner *= k;
  laid->outer *= k;
  laid->legs *= k;
  laid->box = hf_shapes_box(laid->shapes);
}

static void
copy_shape(HfLaid *laid, const HfShape *shape, HfMatrix m, guint copies, guint copy)
{
  HfShape *moved = hf_shape_moved(shape, m);
  char *label = g_strdup_printf("%s (copy %u)", moved->label, copy + 1);
  g_free(moved->label);
  moved->label = label;
  moved->copy += copy * copies;
  g_ptr_array_add(laid->shapes, moved);
}

void
hf_laid_copy(HfLaid *laid, guint entry, HfMatrix m, const HfLaidCount *counts, guint copy)
{
  const HfLaidCount *had = &counts[entry];
  guint copies = 1;
  for (guint i = 0; i < had->shapes; i++)
    copies = MAX(copies, ((const HfShape *)g_ptr_array_index(laid->shapes, i))->copy + 1);
  for (guint i = 0; i < had->shapes; i++)
    copy_shape(laid, g_ptr_array_index(laid->shapes, i), m, copies, copy);
  for (guint i = 0; i < had->hangs; i++) {
    HfHang hang = g_array_index(laid->hangs, HfHang, i);
    move_hang(&hang, m);
    hang.shape += had->shapes * copy;
    g_array_append_val(laid->hangs, hang);
  }
  for (guint i = 0; i < had->joints; i++) {
    HfJoint joint = g_array_index(laid->joints, HfJoint, i);
    move_joint(&joint, m);
    joint.a += counts[joint.a >> 16].shapes * copy;
    joint.b += counts[joint.b >> 16].shapes * copy;
    g_array_append_val(laid->joints, joint);
  }
  for (guint i = 0; i < had->frames; i++) {
    HfMatrix frame = rigid(g_array_index(laid->frames, HfMatrix, i), m);
    g_array_append_val(laid->frames, frame);
  }
  laid->box = hf_shapes_box(laid->shapes);
}

GArray *
hf_lay_members(const HfLaying *laying, guint group, gboolean deep)
{
  const GPtrArray *names = hf_lay_entry(laying, group)->group.of;
  GArray *members = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < names->len; i++) {
    guint member;
    hf_lay_named(laying, names->pdata[i], &member);
    if (!deep || !hf_entry_is(hf_lay_entry(laying, member), HF_KIND_GROUP)) {
      g_array_append_val(members, member);
      continue;
    }
    g_autoptr(GArray) inner = hf_lay_members(laying, member, TRUE);
    g_array_append_vals(members, inner->data, inner->len);
  }
  return members;
}

static void
add_ink(const HfLaying *laying, guint entry, GPtrArray *ink)
{
  for (guint i = 0; i < laying->laid[entry].shapes->len; i++)
    g_ptr_array_add(ink, g_ptr_array_index(laying->laid[entry].shapes, i));
}

GPtrArray *
hf_lay_ink(const HfLaying *laying, guint entry)
{
  GPtrArray *ink = g_ptr_array_new();
  if (!hf_entry_is(hf_lay_entry(laying, entry), HF_KIND_GROUP)) {
    add_ink(laying, entry, ink);
    return ink;
  }
  g_autoptr(GArray) members = hf_lay_members(laying, entry, TRUE);
  for (guint i = 0; i < members->len; i++)
    add_ink(laying, g_array_index(members, guint, i), ink);
  return ink;
}

HfOutline *
hf_lay_edge_inside(const HfLaying *laying, const char *name)
{
  guint entry;
  const HfLaid *laid = hf_lay_named(laying, name, &entry);
  HfOutline *edge = hf_outline_new();
  if (hf_lay_entry(laying, entry)->kind == HF_ENTRY_RING) {
    hf_outline_add_circle(edge, laid->centre, laid->inner);
    return edge;
  }
  for (guint i = 0; i < laid->shapes->len; i++)
    hf_outline_append(edge, ((const HfShape *)g_ptr_array_index(laid->shapes, i))->outline,
                      HF_MATRIX_IDENTITY);
  return edge;
}
