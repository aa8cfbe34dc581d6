/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-finish.c - values that are colours, finishes and walls.
 */
#include "base/seen.h"
#include "base/text.h"
#include "recipe/value-private.h"
#include <string.h>

#define COLOUR_FIX "write RAL and a number (RAL 9005), #rrggbb, or a name: "

static void
refuse_colour(const HfValue *value, const HfNode *node, const char *text, const char *near)
{
  g_autofree char *shown = hf_seen_value(text);
  g_autofree char *all = hf_text_list(hf_colour_names(), "or");
  g_autofree char *fix =
      near != NULL ? g_strdup_printf("write \"%s\"", near) : g_strconcat(COLOUR_FIX, all, NULL);
  if (g_ascii_strncasecmp(text, "ral", 3) == 0)
    hf_mistake(value->reader->mistakes, node->mark,
               "look the number up on the card; luminous and pearl colours can't be shown: say "
               "#rrggbb for them",
               "%s is no colour of RAL Classic that can be shown", shown);
  else
    hf_mistake(value->reader->mistakes, node->mark, fix, "\"%s\" is not a colour", shown);
}

void
hf_value_colour(const HfValue *value)
{
  const char *near;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT))
    return;
  if (!hf_colour_read(value->node->text, value->at, &near))
    refuse_colour(value, value->node, value->node->text, near);
}

void
hf_value_wall(const HfValue *value)
{
  const char *near;
  if (!hf_value_want(value, value->node, HF_NODE_TEXT) ||
      hf_wall_read(value->node->text, value->at, &near))
    return;
  g_autofree char *shown = hf_seen_value(value->node->text);
  g_autofree char *all = hf_text_list(hf_wall_words(), "or");
  g_autofree char *fix = near != NULL
                             ? g_strdup_printf("write \"%s\"", near)
                             : g_strdup_printf("write %s, or a colour: RAL 1015, cream", all);
  hf_mistake(value->reader->mistakes, value->node->mark, fix, "wall can't be \"%s\"", shown);
}

static void
refuse_finish(const HfValue *value, const char *text)
{
  const char *words[HF_N_FINISHES] = {NULL};
  for (int kind = HF_FINISH_RAW; kind < HF_N_FINISHES; kind++)
    words[kind - HF_FINISH_RAW] = hf_finish_word((HfFinishKind)kind);
  const char *said = hf_said_instead("finish", text);
  const char *near = said == NULL ? hf_text_nearest(text, words) : NULL;
  g_autofree char *shown = hf_seen_value(text);
  g_autofree char *fix =
      said != NULL   ? g_strdup_printf("write %s", said)
      : near != NULL ? g_strdup_printf("write \"%s\"", near)
                     : g_strdup("write raw, oiled, rusted, brushed, powder coat RAL 9005, or "
                                "paint dark green");
  hf_mistake(value->reader->mistakes, value->node->mark, fix, "finish can't be \"%s\"", shown);
}

/* "powder coat RAL 9005": the word, then its colour. */
static void
read_words(const HfValue *value, HfFinish *finish)
{
  const char *text = value->node->text, *near;
  for (int i = HF_FINISH_RAW; i < HF_N_FINISHES; i++) {
    HfFinishKind kind = (HfFinishKind)i;
    gsize n = strlen(hf_finish_word(kind));
    gboolean colour = hf_finish_takes_colour(kind);
    if (g_ascii_strncasecmp(text, hf_finish_word(kind), n) != 0 ||
        (text[n] != '\0' && (!colour || text[n] != ' ')))
      continue;
    HfFinish read = {.kind = kind, .coat = NAN};
    const char *rest = text + n + strspn(text + n, " ");
    if (colour && *rest == '\0')
      hf_mistake(value->reader->mistakes, value->node->mark, "say it: powder coat RAL 9005",
                 "the %s has no colour", hf_finish_word(kind));
    else if (colour &&
             !hf_colour_read(rest, kind == HF_FINISH_POWDER ? &read.powder : &read.paint, &near))
      refuse_colour(value, value->node, rest, near);
    else
      *finish = read;
    return;
  }
  refuse_finish(value, text);
}

static void
read_table(const HfValue *value, HfFinish *finish)
{
  guint before = value->reader->mistakes->total;
  HfFinish read = {.coat = NAN};
  hf_read_table(value->reader, value->node, value->field->table, &read);
  if (value->reader->mistakes->total != before)
    return;
  if (read.powder.said == read.paint.said) {
    hf_mistake(value->reader->mistakes, value->node->mark,
               "say one of them: {powder coat: RAL 9005}",
               read.paint.said ? "a finish can't be both powder coat and paint"
                               : "a finish in a table needs \"powder coat\" or \"paint\"");
    return;
  }
  read.kind = read.powder.said ? HF_FINISH_POWDER : HF_FINISH_PAINT;
  *finish = read;
}

void
hf_value_finish(const HfValue *value)
{
  if (value->node->kind == HF_NODE_TABLE)
    read_table(value, value->at);
  else if (hf_value_want(value, value->node, HF_NODE_TEXT))
    read_words(value, value->at);
}

static void
check_rusts(HfReader *reader, const HfNode *table, const HfFinish *finish, const char *metal)
{
  const HfNode *said =
      table != NULL && table->kind == HF_NODE_TABLE ? hf_node_get(table, "finish") : NULL;
  if (said != NULL && finish->kind == HF_FINISH_RUSTED && metal != NULL && !hf_finish_rusts(metal))
    hf_mistake(reader->mistakes, said->mark, "take mild or weathering steel, or another finish",
               "%s does not rust", metal);
}

void
hf_check_finish(HfReader *reader, const HfNode *root, const HfRecipe *recipe)
{
  check_rusts(reader, root, &recipe->finish, recipe->metal);
  for (int at = HF_LAYER_MIDDLE; at < HF_N_LAYERS; at++) {
    const HfLayer *layer = &recipe->layers[at];
    check_rusts(reader, hf_node_get(root, hf_layer_word((HfLayerAt)at)), &layer->finish,
                layer->metal != NULL ? layer->metal : recipe->metal);
  }
}
