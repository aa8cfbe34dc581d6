/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose.c - changes to the recipe that may take findings away: the table of families, and the
 * order in which they are tried.
 *
 *   finding ──> its law's cures ──> families with these keys ──> proposals
 *
 * The order: gravest finding first; then as its law lists its cures, the least visible first.
 */
#include "cure/propose-private.h"
#include <string.h>

#define FAMILY(name) &hf_family_##name,
static const HfFamily *const families[] = {HF_FAMILIES(FAMILY)};
#undef FAMILY

const HfFamily *
hf_cure_family(const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS(families); i++)
    if (strcmp(families[i]->key, key) == 0)
      return families[i];
  return NULL;
}

/* ---- order ------------------------------------------------------------------------------------
 */

typedef struct {
  HfProposal *proposal;
  guint first; /* finding */
  guint rank, number;
} Ranked;

static guint
rank_of(const HfSign *sign, const HfProposal *proposal, guint finding)
{
  const HfFinding *of = sign->hold->findings->pdata[finding];
  const char *const *cures = hf_law(of->kind)->cures;
  guint rank = 0;
  while (cures[rank] != NULL && strcmp(cures[rank], proposal->family->key) != 0)
    rank++;
  return rank;
}

static int
likeliest_first(gconstpointer p, gconstpointer q)
{
  const Ranked *a = p, *b = q;
  if (a->first != b->first)
    return a->first < b->first ? -1 : 1;
  if (a->rank != b->rank)
    return a->rank < b->rank ? -1 : 1;
  return a->number < b->number ? -1 : 1;
}

/* What aims at a stop comes before what aims at cautions alone. */
static guint
gravity_class(const HfSign *sign, guint finding)
{
  return HF_STOP - ((const HfFinding *)sign->hold->findings->pdata[finding])->gravity;
}

static void
put_in_order(const HfSign *sign, GPtrArray *found)
{
  g_autoptr(GArray) ranked = g_array_new(FALSE, FALSE, sizeof(Ranked));
  for (guint i = 0; i < found->len; i++) {
    HfProposal *proposal = found->pdata[i];
    guint first = g_array_index(proposal->targets, guint, 0);
    Ranked one = {proposal, gravity_class(sign, first), rank_of(sign, proposal, first), i};
    g_array_append_val(ranked, one);
  }
  g_array_sort(ranked, likeliest_first);
  for (guint i = 0; i < found->len; i++)
    found->pdata[i] = g_array_index(ranked, Ranked, i).proposal;
}

/* Of one sheet. */
static GPtrArray *
proposals_of(const HfSign *sign, const HfCancel *cancel)
{
  GPtrArray *found = g_ptr_array_new_with_free_func((GDestroyNotify)hf_proposal_free);
  g_autoptr(GPtrArray) called = hf_say_called(sign->recipe);
  HfProposing asked = {.sign = sign, .cancel = cancel, .found = found, .called = called};
  for (gsize i = 0; i < G_N_ELEMENTS(families); i++) {
    if (!hf_cancel_check(cancel, NULL))
      break;
    asked.family = families[i];
    families[i]->propose(&asked);
  }
  g_clear_pointer(&asked.pieces, g_array_unref);
  return found;
}

/* ---- several sheets ---------------------------------------------------------------------------
 *
 * Each is asked about by itself, where shapes, parts and metal are its own; what is proposed there
 * aims at findings of the whole sign, and what it adds is in that layer.
 */

/* The finding of @sign that @own, one of its layers' findings, was joined as; -1: it was left out.
 */
static gint
joined_finding(const HfSign *sign, const HfFinding *own)
{
  for (guint i = 0; i < sign->hold->findings->len; i++)
    if (hf_sign_finding(sign, i)->places == own->places)
      return (gint)i;
  return -1;
}

static void
aim_at_whole(const HfSign *sign, const HfSign *layer, HfProposal *proposal)
{
  g_autoptr(GArray) own = proposal->targets;
  proposal->targets = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < own->len; i++) {
    gint at = joined_finding(sign, hf_sign_finding(layer, g_array_index(own, guint, i)));
    guint target = (guint)at;
    if (at >= 0)
      g_array_append_val(proposal->targets, target);
  }
}

static void
put_into_layer(HfProposal *proposal, HfLayerAt layer)
{
  for (guint i = 0; layer != HF_LAYER_FRONT && i < proposal->edits->len; i++) {
    const HfEdit *edit = &g_array_index(proposal->edits, HfEdit, i);
    if (edit->kind == HF_EDIT_INSERT)
      hf_node_put_in_entry(edit->value, "layer", hf_node_new_word(hf_layer_word(layer)));
  }
}

static void
take_in(GPtrArray *found, const HfSign *sign, const HfSign *layer, const HfCancel *cancel)
{
  g_autoptr(GPtrArray) own = proposals_of(layer, cancel);
  for (guint i = 0; i < own->len; i++) {
    HfProposal *proposal = g_steal_pointer(&own->pdata[i]);
    aim_at_whole(sign, layer, proposal);
    put_into_layer(proposal, layer->recipe->in_layer);
    if (proposal->targets->len > 0)
      g_ptr_array_add(found, proposal);
    else
      hf_proposal_free(proposal);
  }
}

GPtrArray *
hf_cure_proposals(const HfSign *sign, const HfCancel *cancel)
{
  g_return_val_if_fail(sign->hold != NULL, NULL);
  GPtrArray *found = NULL;
  if (sign->layers == NULL) {
    found = proposals_of(sign, cancel);
  } else {
    found = g_ptr_array_new_with_free_func((GDestroyNotify)hf_proposal_free);
    for (guint i = 0; i < hf_sign_n_layers(sign); i++)
      take_in(found, sign, hf_sign_layer(sign, i), cancel);
  }
  put_in_order(sign, found);
  return found;
}
