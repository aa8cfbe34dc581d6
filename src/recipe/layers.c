/* SPDX-License-Identifier: GPL-3.0-or-later
 * layers.c - sheets of metal one behind the other: which entry is in which, and the recipe as one
 * of them sees it.
 *
 *   front   M A R S H  27       words that say nothing
 *   middle  ---------------     is cut only where entries say so
 *   back   [     board     ]    layer: back; what is cut into the board, fixed to it or stands on
 *                               it is in the back by itself
 *
 * Invariant: once a recipe is read, each entry that is no rule is in one layer; a rule is in all in
 * which it has work. What one layer holds is in that layer: metal does not bite across a gap.
 */
#include "base/text.h"
#include "recipe/kind-private.h"
#include <string.h>

#define BIT(layer)  (1u << (layer))
#define HOLDS_IT    (HF_ROLE_BAND | HF_ROLE_WINDOW | HF_ROLE_SPLIT)
#define MOST_LINKED 64 /* entries that are placed by each other, in a row */

static const char *const WORDS[HF_N_LAYERS] = {[HF_LAYER_UNSAID] = "",
                                               [HF_LAYER_FRONT] = "front",
                                               [HF_LAYER_MIDDLE] = "middle",
                                               [HF_LAYER_BACK] = "back"};

const char *
hf_layer_word(HfLayerAt layer)
{
  return WORDS[layer];
}

HfLayerAt
hf_layer_of_word(const char *word)
{
  for (guint at = HF_LAYER_FRONT; at < HF_N_LAYERS; at++)
    if (strcmp(WORDS[at], word) == 0)
      return (HfLayerAt)at;
  return HF_LAYER_UNSAID;
}

static guint
bits_of(const HfEntry *entry)
{
  return entry->layers != 0 ? entry->layers : BIT(HF_LAYER_FRONT);
}

gboolean
hf_entry_is_in(const HfEntry *entry, HfLayerAt layer)
{
  return layer == HF_LAYER_UNSAID || (bits_of(entry) & BIT(layer)) != 0;
}

HfLayerAt
hf_entry_layer(const HfEntry *entry)
{
  for (int layer = HF_LAYER_FRONT; layer < HF_N_LAYERS; layer++)
    if ((bits_of(entry) & BIT(layer)) != 0)
      return (HfLayerAt)layer;
  return HF_LAYER_FRONT;
}

/* A group has no metal of its own. */
static gboolean
has_metal(const HfEntry *entry)
{
  return !hf_entry_is(entry, HF_KIND_RULE | HF_KIND_GROUP);
}

guint
hf_recipe_layers(const HfRecipe *recipe)
{
  guint layers = 0;
  for (guint i = 0; i < recipe->entries->len; i++)
    if (has_metal(hf_recipe_at(recipe, i)))
      layers |= bits_of(hf_recipe_at(recipe, i));
  return layers;
}

gboolean
hf_recipe_is_layered(const HfRecipe *recipe)
{
  guint layers = hf_recipe_layers(recipe);
  return recipe->in_layer == HF_LAYER_UNSAID && (layers & (layers - 1)) != 0;
}

/* ---- as one layer sees it ---------------------------------------------------------------------
 */

static gboolean
is_same_sheet(const HfRecipe *recipe, const HfLayer *own)
{
  return (own->metal == NULL || g_strcmp0(own->metal, recipe->metal) == 0) &&
         (isnan(own->thickness) || own->thickness == recipe->thickness);
}

/* A kerf was measured on one sheet and says nothing of another. */
static void
take_process(HfRecipe *seen, const HfRecipe *recipe, const HfLayer *own)
{
  gboolean same = is_same_sheet(recipe, own), silent = isnan(own->kerf) && own->row == NULL;
  seen->kerf = same && silent ? recipe->kerf : own->kerf;
  seen->row = same && silent ? recipe->row : own->row;
  seen->crater = same && isnan(own->crater) ? recipe->crater : own->crater;
  seen->gauge = same ? recipe->gauge : NULL;
  if (own->metal != NULL)
    seen->metal = own->metal;
  if (!isnan(own->thickness))
    seen->thickness = own->thickness;
}

/* Its own; otherwise as the front, where its metal can have that. */
static void
take_finish(HfRecipe *seen, const HfLayer *own)
{
  if (own->finish.kind != HF_FINISH_UNSAID)
    seen->finish = own->finish;
  else if (seen->finish.kind == HF_FINISH_RUSTED && !hf_finish_rusts(seen->metal))
    seen->finish = (HfFinish){.coat = NAN};
}

HfRecipe *
hf_recipe_in_layer(HfRecipe *recipe, HfLayerAt layer, HfMount mount)
{
  g_return_val_if_fail(recipe->of == NULL && layer != HF_LAYER_UNSAID, NULL);
  HfRecipe *seen = g_new(HfRecipe, 1);
  *seen = *recipe;
  seen->of = hf_recipe_ref(recipe);
  seen->others = 0;
  seen->in_layer = layer;
  seen->mount = mount;
  if (layer != HF_LAYER_FRONT) {
    take_process(seen, recipe, &recipe->layers[layer]);
    take_finish(seen, &recipe->layers[layer]);
  }
  return seen;
}

/* ---- which entry is in which ------------------------------------------------------------------
 */

typedef struct {
  HfReader *reader;
  const GPtrArray *entries;
} Sorting;

static HfEntry *
entry_at(const Sorting *s, guint i)
{
  return g_ptr_array_index(s->entries, i);
}

static HfEntry *
called(const Sorting *s, const char *name)
{
  for (guint i = 0; name != NULL && i < s->entries->len; i++)
    if (strcmp(entry_at(s, i)->name, name) == 0)
      return entry_at(s, i);
  return NULL;
}

/* "2nd A of boats" */
static HfEntry *
meant(const Sorting *s, const char *text)
{
  HfEntry *entry = called(s, text);
  const char *of = entry == NULL && text != NULL ? g_strrstr(text, " of ") : NULL;
  return of != NULL ? called(s, of + strlen(" of ")) : entry;
}

static gboolean
stands_on(const HfField *field)
{
  return strcmp(field->key, "stand on") == 0;
}

/* Its place is on metal that it joins or cuts. */
static gboolean
goes_with_ground(const HfEntry *entry)
{
  return entry->as == HF_AS_OPENING || hf_entry_is(entry, HF_KIND_OPENS | HF_KIND_FIXTURE);
}

/* Does what @field of @entry names hold it, so that both are one sheet? */
static gboolean
is_holding(const HfEntry *entry, const HfField *field)
{
  if ((field->roles & HOLDS_IT) != 0 || stands_on(field))
    return TRUE;
  if (hf_entry_is(entry, HF_KIND_PIN))
    return (field->roles & HF_ROLE_PART) != 0;
  return strcmp(field->key, "on") == 0 &&
         (hf_entry_is(entry, HF_KIND_EDGE) || entry->kind == HF_ENTRY_BORDER);
}

/* (nullable) the first that holds it, or that it cuts into. */
static const HfEntry *
ground_of(const Sorting *s, const HfEntry *entry)
{
  for (guint i = 0; i < s->reader->mentions->len; i++) {
    const HfMention *mention = &g_array_index(s->reader->mentions, HfMention, i);
    if (mention->entry < 0 || entry_at(s, (guint)mention->entry) != entry)
      continue;
    gboolean on = strcmp(mention->field->key, "on") == 0 && goes_with_ground(entry);
    const HfEntry *other = on || is_holding(entry, mention->field) ? meant(s, mention->name) : NULL;
    if (other != NULL)
      return other;
  }
  return NULL;
}

/* (nullable) the row or stack that @entry is a member of. */
static const HfEntry *
group_of(const Sorting *s, const HfEntry *entry)
{
  for (guint i = 0; i < s->entries->len; i++)
    if (hf_entry_is(entry_at(s, i), HF_KIND_GROUP) &&
        hf_entry_names(entry_at(s, i), HF_ROLE_MEMBERS, entry->name))
      return entry_at(s, i);
  return NULL;
}

static int
layer_of(const Sorting *s, const HfEntry *entry, guint depth)
{
  if (entry->layer != HF_LAYER_UNSAID || depth > MOST_LINKED)
    return entry->layer;
  const HfEntry *group = group_of(s, entry);
  int layer = group != NULL ? layer_of(s, group, depth + 1) : HF_LAYER_UNSAID;
  const HfEntry *ground = layer == HF_LAYER_UNSAID ? ground_of(s, entry) : NULL;
  return ground != NULL ? layer_of(s, ground, depth + 1) : layer;
}

/* Those of what it names; 0: it names nothing. */
static guint
layers_named(const Sorting *s, const HfEntry *rule)
{
  const GPtrArray *of = rule->kind == HF_ENTRY_TIES   ? rule->ties.of
                        : rule->kind == HF_ENTRY_MEND ? rule->mend.of
                                                      : NULL;
  guint layers = 0;
  for (guint i = 0; of != NULL && i < of->len; i++) {
    const HfEntry *entry = meant(s, of->pdata[i]);
    layers |= entry != NULL ? bits_of(entry) : 0;
  }
  return layers;
}

static void
sort_rules(const Sorting *s, guint there)
{
  for (guint i = 0; i < s->entries->len; i++) {
    HfEntry *rule = entry_at(s, i);
    if (!hf_entry_is(rule, HF_KIND_RULE))
      continue;
    guint named = layers_named(s, rule);
    rule->layers = rule->layer != HF_LAYER_UNSAID ? BIT(rule->layer) : named != 0 ? named : there;
  }
}

/* ---- what can't be ----------------------------------------------------------------------------
 */

static void
check_held(const Sorting *s, const HfMention *mention)
{
  const HfEntry *entry = mention->entry >= 0 ? entry_at(s, (guint)mention->entry) : NULL;
  const HfEntry *other = entry != NULL ? meant(s, mention->name) : NULL;
  if (other == NULL || !is_holding(entry, mention->field) || bits_of(entry) == bits_of(other))
    return;
  hf_mistake(s->reader->mistakes, mention->mark, "put both in one layer",
             "\"%s\" is in the %s and \"%s\" in the %s: metal of one layer can't hold that of "
             "another",
             entry->name, hf_layer_word(hf_entry_layer(entry)), other->name,
             hf_layer_word(hf_entry_layer(other)));
}

/* A gauge is a thickness of one metal only. */
static void
check_sheet(HfReader *reader, const HfNode *root, HfLayerAt layer, guint there)
{
  const char *word = hf_layer_word(layer);
  const HfNode *own = hf_node_get(root, word);
  if (own == NULL || own->kind != HF_NODE_TABLE)
    return;
  if ((there & BIT(layer)) == 0)
    hf_mistake(reader->mistakes, hf_key_mark(root, word), "say \"layer\" in the entries that are",
               "nothing is in the %s", word);
  if ((hf_node_get(own, "metal") != NULL) == (hf_node_get(own, "thickness") != NULL))
    return;
  const char *lacking = hf_node_get(own, "metal") != NULL ? "thickness" : "metal";
  g_autofree char *fix = g_strdup_printf("add %s", lacking);
  hf_mistake(reader->mistakes, own->mark, fix,
             "%s says half of what its sheet is: \"%s\" is missing", word, lacking);
}

static void
check_front(const Sorting *s, guint there)
{
  if (there == 0 || (there & BIT(HF_LAYER_FRONT)) != 0)
    return;
  for (guint i = 0; i < s->entries->len; i++)
    if (entry_at(s, i)->layer != HF_LAYER_UNSAID) {
      hf_mistake(s->reader->mistakes, entry_at(s, i)->mark,
                 "take \"layer\" out: what has one layer has a front", "nothing is in the front");
      return;
    }
}

/* Most signs say nothing of it. */
static gboolean
any_says(const Sorting *s)
{
  for (guint i = 0; i < s->entries->len; i++)
    if (entry_at(s, i)->layer != HF_LAYER_UNSAID)
      return TRUE;
  return FALSE;
}

void
hf_check_layers(HfReader *reader, const HfNode *root, HfRecipe *recipe)
{
  Sorting s = {reader, recipe->entries};
  gboolean said = any_says(&s);
  for (guint i = 0; i < s.entries->len; i++) {
    int layer = said ? layer_of(&s, entry_at(&s, i), 0) : HF_LAYER_FRONT;
    entry_at(&s, i)->layers = BIT(layer != HF_LAYER_UNSAID ? layer : HF_LAYER_FRONT);
  }
  guint there = hf_recipe_layers(recipe);
  sort_rules(&s, there);
  for (guint i = 0; said && i < reader->mentions->len; i++)
    check_held(&s, &g_array_index(reader->mentions, HfMention, i));
  check_front(&s, there);
  check_sheet(reader, root, HF_LAYER_MIDDLE, there);
  check_sheet(reader, root, HF_LAYER_BACK, there);
}
