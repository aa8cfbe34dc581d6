/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-studs.c - studs that a piece has room for: thinner, or with less metal left round them;
 * and a rule for studs, where the sign is mounted by some that nobody placed.
 *
 *      ( O )  ->  ( o )          |< edge >O<      ->    >O<
 *      thinner                     edge
 */
#include "base/text.h"
#include "cure/propose-private.h"

static const double THINNEST = 2; /* mm: no stud is thinner */
static const double USUAL = 6, USUAL_EDGE = 3;
static const double LEAST_EDGE = 1; /* mm: less than that the weld shows on the face */

/* ---- thinner ----------------------------------------------------------------------------------
 */

static void
thinner(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = e->studs.diameter;
  if (e->kind != HF_ENTRY_STUDS || now - 1 < THINNEST)
    return;
  HfPhrase phrase = hf_phrase_turns(hf_phrase("make %s thinner: ", hf_proposing_called(asked, e)),
                                    " become ", "");
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry), phrase);
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "diameter", now, now - 1, THINNEST, 1);
  hf_propose_turn(asked, proposal, entry, "diameter");
}

static void
propose_thinner(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    thinner(asked, i);
}

const HfFamily hf_family_thinner = {.key = "thinner", .propose = propose_thinner};

/* ---- less to the edge -------------------------------------------------------------------------
 */

static void
less_edge(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = e->studs.edge;
  if (e->kind != HF_ENTRY_STUDS || now - 0.5 < LEAST_EDGE)
    return;
  HfPhrase phrase = hf_phrase_turns(
      hf_phrase("leave less metal round %s: ", hf_proposing_called(asked, e)), " become ", "");
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry), phrase);
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "edge", now, now - 0.5, LEAST_EDGE, 0.5);
  hf_propose_turn(asked, proposal, entry, "edge");
}

static void
propose_edge(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    less_edge(asked, i);
}

const HfFamily hf_family_edge = {.key = "edge", .propose = propose_edge};

/* ---- a rule -----------------------------------------------------------------------------------
 */

static void
place_studs(HfProposing *asked, const char *how, double diameter)
{
  g_autofree char *wide = hf_text_mm(diameter), *edge = hf_text_mm(USUAL_EDGE);
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, -1),
                                    hf_phrase("place %s %s, %s from every edge", how, wide, edge));
  if (proposal == NULL)
    return;
  HfNode *rule = hf_table({"diameter", hf_say_mm(NULL, NULL, diameter)},
                          {"edge", hf_say_mm(NULL, NULL, USUAL_EDGE)});
  hf_propose_append(proposal, hf_node_new_entry("studs", rule));
}

/* As thick as usual; where a piece has no room for that, thinner ones come first in the list. */
static void
propose_studs(HfProposing *asked)
{
  place_studs(asked, "studs of", USUAL);
  place_studs(asked, "thin studs of", USUAL - 2);
}

const HfFamily hf_family_studs = {.key = "studs", .propose = propose_studs};
