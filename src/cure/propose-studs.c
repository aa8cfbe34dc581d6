/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-studs.c - studs that a piece has room for: thinner, or with less metal left round them;
 * and a rule for studs, where the sign is mounted by some that nobody placed.
 *
 *      ( O )  ->  ( o )          |< edge >O<      ->    >O<
 *      thinner                     edge
 */
#include "base/text.h"
#include "cure/propose-private.h"

#define THINNEST   2.0 /* mm: no stud is thinner */
#define LEAST_EDGE 1.0 /* mm: less than that the weld shows on the face */
static const double USUAL = 6, USUAL_EDGE = 3;

/* ---- thinner, or less to the edge -------------------------------------------------------------
 */

typedef struct {
  const char *key, *before, *after; /* "make ", " thinner: " */
  double step, least;               /* mm */
} Less;

static const Less less_wide = {"diameter", "make ", " thinner: ", 1, THINNEST};
static const Less less_edge = {"edge", "leave less metal round ", ": ", 0.5, LEAST_EDGE};

static void
propose_less(HfProposing *asked, guint entry, double now, const Less *less)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (now - less->step < less->least)
    return;
  HfPhrase does =
      hf_phrase_turns(hf_phrase("%s%s%s", less->before, hf_proposing_called(asked, e), less->after),
                      " become ", "");
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry), does);
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, less->key, now, now - less->step, less->least, less->step);
  hf_propose_turn(asked, proposal, entry, less->key);
}

static void
propose_thinner(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_STUDS)
      propose_less(asked, i, hf_proposing_entry(asked, i)->studs.diameter, &less_wide);
}

static void
propose_edge(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_STUDS)
      propose_less(asked, i, hf_proposing_entry(asked, i)->studs.edge, &less_edge);
}

const HfFamily hf_family_thinner = {.key = "thinner", .propose = propose_thinner};
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
