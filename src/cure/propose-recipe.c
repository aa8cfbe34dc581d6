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

/* Does a later plate lie over all of it? Then it must be laid behind that one to cut it. */
static gboolean
is_covered_later(const HfProposing *asked, guint entry)
{
  HfBox box = hf_proposing_box(asked, entry, -1);
  for (guint i = entry + 1; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    HfBox over = hf_proposing_box(asked, i, -1);
    if (hf_entry_is(e, HF_KIND_AREA) && e->as == HF_AS_METAL && !hf_box_is_empty(box) &&
        hf_box_contains(over, box.min) && hf_box_contains(over, box.max))
      return TRUE;
  }
  return FALSE;
}

/* Where none but it is of its kind, or it has a name of its own, no other is called otherwise when
 * it goes elsewhere. */
static gboolean
may_go_last(const HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  guint alike = 0;
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    alike += hf_proposing_entry(asked, i)->kind == e->kind;
  for (guint i = 0; e->said != NULL && i < e->said->len; i++)
    if (strcmp(g_array_index(e->said, HfSaid, i).key, "name") == 0)
      return TRUE;
  return alike == 1;
}

static void
cut_through_by(HfProposing *asked, guint entry, gboolean later, gboolean with_rules)
{
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims_of(asked, (gint)entry, HF_LAW_HIDDEN),
      hf_phrase("cut %s through the metal that %s%s",
                hf_proposing_called(asked, hf_proposing_entry(asked, entry)),
                later ? "covers it" : "it lies on",
                with_rules ? ", thicken what is too thin, and tie what comes loose" : ""));
  if (proposal == NULL)
    return;
  hf_propose_set(asked, proposal, entry, "as", hf_node_new_word("opening"));
  if (later)
    hf_edits_add(proposal->edits, HF_EDIT_LAST, hf_path(HF_KEY("entries"), HF_ITEM(entry)), NULL);
  if (!with_rules)
    return;
  hf_propose_append(proposal,
                    hf_node_new_entry("mend", hf_table({"thicken", hf_node_new_word("yes")})));
  hf_propose_append(proposal, hf_node_new_entry("ties", hf_node_new_empty_table()));
}

static void
cut_through(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  gboolean later = is_covered_later(asked, entry);
  if (!can_be_opening(e) || (later && !may_go_last(asked, entry)))
    return;
  cut_through_by(asked, entry, later, FALSE);
  if (hf_proposing_font(e) != NULL)
    cut_through_by(asked, entry, later, TRUE);
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
