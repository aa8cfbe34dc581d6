/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-said.c - wishes for the cutting that can't be, as far as the recipe alone shows it.
 */
#include "recipe/kind-private.h"
#include <string.h>

static void
check_start(HfReader *reader, const HfNode *row, const HfCutWish *wish)
{
  if (wish->start->len == 0)
    return;
  const HfSpot *spot = &g_array_index(wish->start, HfSpot, 0);
  HfMark mark = hf_key_mark(row, "start");
  if (wish->start->len > 1)
    hf_mistake(reader->mistakes, mark, "give each its own line under \"wishes\"",
               "a cut is begun at one place, and %u are said", wish->start->len);
  else if (spot->kind == HF_SPOT_CENTRE)
    hf_mistake(reader->mistakes, mark, "write way in: middle, or a direction: start: top left",
               "no cut goes through its own centre");
}

static gboolean
says_nothing(const HfCutWish *wish)
{
  return wish->start->len == 0 && wish->way.in == HF_WAY_IN_USUAL && isnan(wish->way.length) &&
         isnan(wish->way.leave_off);
}

static void
check_wish(HfReader *reader, const HfNode *row, const HfCutWish *wish)
{
  check_start(reader, row, wish);
  if (says_nothing(wish))
    hf_mistake(reader->mistakes, row->mark, "add start: top, or way in: straight",
               "this wish wants nothing of \"%s\"", wish->of != NULL ? wish->of : "");
}

static gboolean
has(const GPtrArray *names, const char *name)
{
  for (guint i = 0; i < names->len; i++)
    if (strcmp(names->pdata[i], name) == 0)
      return TRUE;
  return FALSE;
}

void
hf_check_cut(HfReader *reader, const HfNode *root, const HfRecipe *recipe)
{
  const HfNode *cut = hf_node_get(root, "cut");
  if (cut == NULL || cut->kind != HF_NODE_TABLE)
    return;
  const HfNode *rows = hf_node_get(cut, "wishes");
  guint n = rows != NULL && rows->kind == HF_NODE_LIST ? hf_node_size(rows) : 0, row = 0;
  for (guint i = 0; i < n && row < recipe->cut.wishes->len; i++) /* what is no table made no row */
    if (hf_node_item(rows, i)->kind == HF_NODE_TABLE)
      check_wish(reader, hf_node_item(rows, i),
                 &g_array_index(recipe->cut.wishes, HfCutWish, row++));
  for (guint i = 0; i < recipe->cut.first->len; i++)
    if (has(recipe->cut.last, recipe->cut.first->pdata[i]))
      hf_mistake(reader->mistakes, hf_key_mark(cut, "last"), "take it out of one of them",
                 "\"%s\" can't be cut first and last", (char *)recipe->cut.first->pdata[i]);
}
