/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-recipe.c - slips of the recipe put right: cut through what lies on metal, and no
 * acceptance of what is not there.
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include <string.h>

static gboolean
can_be_opening(const HfEntry *e)
{
  return e->as == HF_AS_METAL && !hf_entry_is(e, HF_KINDS_PICTURE_NOT) &&
         !(e->kind == HF_ENTRY_WORDS && (e->words.stand_on != NULL || e->words.fill));
}

static void
cut_through(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (!can_be_opening(e))
    return;
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims_of(asked, (gint)entry, HF_LAW_HIDDEN),
      hf_phrase("cut %s through the metal that it lies on", hf_proposing_called(asked, e)));
  if (proposal == NULL)
    return;
  hf_propose_set(asked, proposal, entry, "as", hf_node_new_word("opening"));
  if (hf_proposing_font(e) == NULL)
    return;
  HfProposal *tied = hf_propose(asked, hf_proposing_aims_of(asked, (gint)entry, HF_LAW_HIDDEN),
                                hf_phrase("cut %s through the metal that it lies on, thicken what "
                                          "is too thin, and tie what comes loose",
                                          hf_proposing_called(asked, e)));
  hf_propose_set(asked, tied, entry, "as", hf_node_new_word("opening"));
  hf_propose_append(tied,
                    hf_node_new_entry("mend", hf_table({"thicken", hf_node_new_word("yes")})));
  hf_propose_append(tied, hf_node_new_entry("ties", hf_node_new_empty_table()));
}

static void
propose_opening(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    cut_through(asked, i);
}

const HfFamily hf_family_opening = {
    .key = "opening", .guards = HF_GUARDS_USUAL, .propose = propose_opening};

/* ---- acceptances -------------------------------------------------------------------------------
 */

/* A finding of that kind, of that entry, that is a caution or a note: it has an effect. */
static gboolean
has_effect(const HfProposing *asked, const HfAccepted *accepted)
{
  const GPtrArray *findings = asked->sign->hold->findings;
  for (guint i = 0; i < findings->len; i++) {
    const HfFinding *finding = findings->pdata[i];
    if (finding->accepted != NULL &&
        g_ascii_strcasecmp(hf_law(finding->kind)->key, accepted->finding) == 0 &&
        g_strcmp0(finding->accepted, accepted->reason) == 0)
      return TRUE;
  }
  return FALSE;
}

static void
propose_acceptance(HfProposing *asked)
{
  const GArray *accept = asked->sign->recipe->accept;
  for (guint i = 0; accept != NULL && i < accept->len; i++) {
    const HfAccepted *one = &g_array_index(accept, HfAccepted, i);
    if (has_effect(asked, one))
      continue;
    HfProposal *proposal =
        hf_propose(asked, hf_proposing_aims(asked, -1),
                   hf_phrase("take the acceptance of %s out of the recipe", one->finding));
    if (proposal == NULL)
      return;
    HfPath *path = hf_path(HF_KEY("accept"));
    if (accept->len > 1)
      hf_path_add(path, HF_ITEM(i));
    hf_edits_add(proposal->edits, HF_EDIT_REMOVE, path, NULL);
  }
}

const HfFamily hf_family_acceptance = {.key = "acceptance", .propose = propose_acceptance};
