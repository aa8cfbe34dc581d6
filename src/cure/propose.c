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

GPtrArray *
hf_cure_proposals(const HfSign *sign, const HfCancel *cancel)
{
  g_return_val_if_fail(sign->hold != NULL, NULL);
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
  put_in_order(sign, found);
  return found;
}
