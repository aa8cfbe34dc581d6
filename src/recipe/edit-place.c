/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-place.c - where a path leads in one tree.
 */
#include "base/text.h"
#include "recipe/edit-private.h"
#include <string.h>

static char *
step_text(const HfStep *step)
{
  return step->key != NULL ? g_strdup(step->key) : g_strdup_printf("%u", step->index);
}

gboolean
hf_edit_refuse_path(const HfPath *path, const HfStep *step, const HfNode *holder, GError **error)
{
  g_autofree char *where = hf_path_say(path), *part = step_text(step), *fix = NULL;
  if (holder->kind == HF_NODE_TABLE) {
    g_autofree const char **keys = g_new0(const char *, hf_node_size(holder) + 1);
    for (guint i = 0; i < hf_node_size(holder); i++)
      keys[i] = hf_node_key(holder, i)->text;
    const char *near = hf_text_nearest(part, keys);
    fix = near != NULL ? g_strdup_printf("is it \"%s\"?", near) : g_strdup("name what is there");
  } else if (holder->kind == HF_NODE_LIST) {
    fix = g_strdup_printf("the list has %u items, counted from 0", hf_node_size(holder));
  } else {
    fix = g_strdup("a value has nothing inside it");
  }
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "there is no \"%s\"", part);
  return FALSE;
}

enum { NOT_THERE = -1, NO_PLACE = -2 };

static int
index_of(const HfNode *holder, const HfStep *step)
{
  if (step->key == NULL) {
    if (holder->kind != HF_NODE_LIST)
      return NO_PLACE;
    return step->index < hf_node_size(holder) ? (int)step->index : NOT_THERE;
  }
  if (holder->kind != HF_NODE_TABLE)
    return NO_PLACE;
  for (guint i = 0; i < hf_node_size(holder); i++)
    if (strcmp(hf_node_key(holder, i)->text, step->key) == 0)
      return (int)i;
  return NOT_THERE;
}

gboolean
hf_edit_find(HfNode *root, const HfPath *path, HfTarget *ret_target, GError **error)
{
  HfTarget at = {.node = root, .index = -1, .parent_index = -1};
  for (guint i = 0; i < path->n; i++) {
    const HfStep *step = &path->steps[i];
    gboolean last = i + 1 == path->n;
    HfNode *holder = at.node;
    int index = index_of(holder, step);
    gboolean fresh = last && hf_node_is_empty(holder);
    if ((index == NO_PLACE && !fresh) || (index < 0 && !last))
      return hf_edit_refuse_path(path, step, holder, error);
    at = (HfTarget){.grand = at.parent,
                    .parent_index = at.index,
                    .parent = holder,
                    .index = MAX(index, -1),
                    .node = index >= 0 ? hf_node_item(holder, (guint)index) : NULL,
                    .key = step->key};
  }
  *ret_target = at;
  return TRUE;
}
