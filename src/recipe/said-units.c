/* SPDX-License-Identifier: GPL-3.0-or-later
 * said-units.c - in which unit a recipe speaks: that in which most of its lengths are
 * written.
 *
 * Found on the nodes, before any value is read, so that what is refused is told in it too.
 */
#include "recipe/measure-private.h"
#include "recipe/read-private.h"
#include <string.h>

typedef struct {
  guint metric, inches;
} Count;

/* What is written to be read by people is no length, whatever it looks like. */
static gboolean
is_prose(const char *key)
{
  static const char *const keys[] = {"text", "name", "sign", "order", "reason", "lines", NULL};
  return g_strv_contains(keys, key);
}

static void
count(const HfNode *node, Count *found)
{
  double mm = 0;
  if (node->kind == HF_NODE_TEXT && hf_measure_length(node->text, HF_NO_GAUGE, NULL, &mm, NULL)) {
    gboolean inches = strcmp(hf_measure_unit(node->text), "in") == 0;
    found->inches += inches ? 1 : 0;
    found->metric += inches ? 0 : 1;
  }
  if (node->kind != HF_NODE_TABLE && node->kind != HF_NODE_LIST)
    return;
  for (guint i = 0; i < hf_node_size(node); i++)
    if (node->kind == HF_NODE_LIST || !is_prose(hf_node_key(node, i)->text))
      count(hf_node_item(node, i), found);
}

HfUnits
hf_said_units(const HfNode *root)
{
  Count found = {0, 0};
  count(root, &found);
  return found.inches > found.metric ? HF_UNITS_INCH : HF_UNITS_MM;
}

char *
hf_said_gauge(const HfNode *root)
{
  const HfNode *metal = root->kind == HF_NODE_TABLE ? hf_node_get(root, "metal") : NULL;
  const HfNode *thick =
      metal != NULL && metal->kind == HF_NODE_TABLE ? hf_node_get(metal, "thickness") : NULL;
  if (thick == NULL || thick->kind != HF_NODE_TEXT || strpbrk(thick->text, "gG") == NULL)
    return NULL;
  return g_strdup_printf("%d ga", atoi(thick->text));
}
