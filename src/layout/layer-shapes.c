/* SPDX-License-Identifier: GPL-3.0-or-later
 * layer-shapes.c - the one layout of a sign of several layers, taken apart by layer, and put
 * together again once each was made and checked by itself.
 *
 *   all       F1 F2 B1 h(B) F3          h: a hole in the back that meets metal of the front
 *   front     F1 F2 F3 h    back  B1 h
 *   joined    F1 F2 F3 h | B1 h         what counts shapes is moved by those before it
 */
#include "layout/layout-private.h"

/* ---- apart ------------------------------------------------------------------------------------
 */

/* index[s]: what shape @s of the whole is in the layer; -1: it is not in it. */
static void
take_shapes(HfLayout *own, const HfLayout *all, const HfRecipe *recipe, HfLayerAt layer,
            gint *index)
{
  for (guint s = 0; s < all->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(all, s);
    index[s] = -1;
    if (!hf_entry_is_in(hf_recipe_at(recipe, shape->entry), layer))
      continue;
    index[s] = (gint)own->shapes->len;
    g_ptr_array_add(own->shapes, hf_shape_ref((HfShape *)shape));
  }
}

static void
take_marks(HfLayout *own, const HfLayout *all, const gint *index)
{
  for (guint i = 0; i < all->hangs->len; i++) {
    HfHang hang = g_array_index(all->hangs, HfHang, i);
    if (index[hang.shape] < 0)
      continue;
    hang.shape = (guint)index[hang.shape];
    g_array_append_val(own->hangs, hang);
  }
  for (guint i = 0; i < all->joints->len; i++) {
    HfJoint joint = g_array_index(all->joints, HfJoint, i);
    if (index[joint.a] < 0 || index[joint.b] < 0)
      continue;
    joint.a = (guint)index[joint.a];
    joint.b = (guint)index[joint.b];
    g_array_append_val(own->joints, joint);
  }
}

/* What is said of an entry is said once: in its layer, or in the first that it works in. */
static gboolean
is_told_in(const HfRecipe *recipe, guint entry, HfLayerAt layer)
{
  return hf_entry_layer(hf_recipe_at(recipe, entry)) == layer;
}

/* Every layer has the list of the whole, which is shared. */
static void
share_drawings(HfLayout *to, const HfLayout *from)
{
  if (from->drawings->len == 0 || to->drawings == from->drawings)
    return;
  g_ptr_array_unref(to->drawings);
  to->drawings = g_ptr_array_ref(from->drawings);
}

static void
take_words(HfLayout *own, const HfLayout *all, const HfRecipe *recipe, HfLayerAt layer)
{
  for (guint i = 0; i < all->solved->len; i++) {
    HfSolved solved = g_array_index(all->solved, HfSolved, i);
    if (is_told_in(recipe, solved.entry, layer))
      g_array_append_val(own->solved, solved);
  }
  for (guint i = 0; i < all->missed->len; i++) {
    const HfMissed *one = &g_array_index(all->missed, HfMissed, i);
    if (is_told_in(recipe, one->entry, layer))
      hf_layout_add_missed(own, one->entry, one->at, one->part, one->why, one->fix);
  }
  for (guint i = 0; layer == HF_LAYER_FRONT && i < all->notes->len; i++)
    g_ptr_array_add(own->notes, g_strdup(all->notes->pdata[i]));
  for (guint i = 0; i < all->faces->len; i++)
    g_ptr_array_add(own->faces, all->faces->pdata[i]);
  share_drawings(own, all);
}

HfLayout *
hf_layout_of_layer(const HfLayout *all, const HfRecipe *recipe, HfLayerAt layer)
{
  HfLayout *own = hf_lay_layout_new();
  g_autofree gint *index = g_new(gint, all->shapes->len + 1);
  own->centre = all->centre;
  take_shapes(own, all, recipe, layer, index);
  take_marks(own, all, index);
  take_words(own, all, recipe, layer);
  return own;
}

static void
join_words(HfLayout *all, const HfLayout *one)
{
  g_array_append_vals(all->solved, one->solved->data, one->solved->len);
  for (guint i = 0; i < one->missed->len; i++) {
    const HfMissed *missed = &g_array_index(one->missed, HfMissed, i);
    hf_layout_add_missed(all, missed->entry, missed->at, missed->part, missed->why, missed->fix);
  }
  for (guint i = 0; i < one->notes->len; i++)
    g_ptr_array_add(all->notes, g_strdup(one->notes->pdata[i]));
  for (guint i = 0; i < one->faces->len; i++)
    if (!g_ptr_array_find(all->faces, one->faces->pdata[i], NULL))
      g_ptr_array_add(all->faces, one->faces->pdata[i]);
  share_drawings(all, one);
}

/* ---- drilled ----------------------------------------------------------------------------------
 */

HfLayout *
hf_layout_drilled(const HfLayout *own, const HfLayout *from, const guint *shapes, guint n)
{
  g_autoptr(GPtrArray) added = g_ptr_array_new();
  for (guint i = 0; i < n; i++)
    g_ptr_array_add(added, from->shapes->pdata[shapes[i]]);
  HfLayoutMore more = {.shapes = added};
  HfLayout *next = hf_layout_extended(own, &more);
  GArray *hangs = g_array_copy(own->hangs);
  for (guint h = 0; h < from->hangs->len; h++)
    for (guint i = 0; i < n; i++) {
      HfHang hang = g_array_index(from->hangs, HfHang, h);
      if (hang.shape != shapes[i])
        continue;
      hang.shape = own->shapes->len + i;
      g_array_append_val(hangs, hang);
    }
  g_array_unref(next->hangs);
  next->hangs = hangs;
  return next;
}

HfLayout *
hf_layout_without(const HfLayout *layout, const gboolean *left_out)
{
  HfLayout *next = hf_lay_layout_new();
  g_autofree gint *index = g_new(gint, layout->shapes->len + 1);
  for (guint s = 0; s < layout->shapes->len; s++) {
    index[s] = left_out[s] ? -1 : (gint)next->shapes->len;
    if (!left_out[s])
      g_ptr_array_add(next->shapes, hf_shape_ref(layout->shapes->pdata[s]));
  }
  take_marks(next, layout, index);
  join_words(next, layout);
  next->centre = layout->centre;
  return next;
}

/* ---- together ---------------------------------------------------------------------------------
 */

static void
join_marks(HfLayout *all, const HfLayout *one, guint first, gboolean carries)
{
  for (guint i = 0; i < one->shapes->len; i++)
    g_ptr_array_add(all->shapes, hf_shape_ref(one->shapes->pdata[i]));
  for (guint i = 0; carries && i < one->hangs->len; i++) {
    HfHang hang = g_array_index(one->hangs, HfHang, i);
    hang.shape += first;
    g_array_append_val(all->hangs, hang);
  }
  for (guint i = 0; i < one->joints->len; i++) {
    HfJoint joint = g_array_index(one->joints, HfJoint, i);
    joint.a += first;
    joint.b += first;
    g_array_append_val(all->joints, joint);
  }
}

static gboolean
has_hang(const HfLayout *layout, HfMount mount)
{
  for (guint i = 0; i < layout->hangs->len; i++) {
    gboolean hole = g_array_index(layout->hangs, HfHang, i).kind == HF_HANG_HOLE;
    if (mount == HF_MOUNT_STAKE ? !hole : mount != HF_MOUNT_HOLES || hole)
      return TRUE;
  }
  return FALSE;
}

guint
hf_layout_carrier(const HfLayout *const *layouts, guint n, HfMount mount)
{
  for (guint i = n; i-- > 0;)
    if (has_hang(layouts[i], mount))
      return i;
  return n - 1;
}

HfLayout *
hf_layout_joined(const HfLayout *const *layouts, guint n, guint carrier)
{
  HfLayout *all = hf_lay_layout_new();
  for (guint i = 0; i < n; i++) {
    join_marks(all, layouts[i], all->shapes->len, i == carrier);
    join_words(all, layouts[i]);
    all->centre = layouts[0]->centre;
  }
  return all;
}
