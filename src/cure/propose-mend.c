/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-mend.c - thin places thickened, small openings filled or enlarged, points rounded: where
 * it hurts, and nowhere else.
 */
#include "cure/propose-private.h"
#include "mend/mend.h"
#include <string.h>

static gint
mend_rule(const HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_MEND)
      return (gint)i;
  return -1;
}

/* The findings that @field answers; those of all fields when @field is %NULL. */
static GArray *
aims_of_field(const HfProposing *asked, const char *field)
{
  HfMendEntry wish = {.thicken = field == NULL || strcmp(field, "thicken") == 0,
                      .fill = field == NULL || strcmp(field, "fill") == 0,
                      .enlarge = field == NULL || strcmp(field, "enlarge") == 0,
                      .round = NAN};
  GArray *aims = hf_proposing_aims(asked, -1);
  for (guint i = aims->len; i-- > 0;)
    if (!hf_mend_answers(&wish, hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind))
      g_array_remove_index(aims, i);
  return aims;
}

static gboolean
has_field(const HfProposing *asked, gint rule, const char *field)
{
  if (rule < 0)
    return FALSE;
  const HfMendEntry *mend = &hf_proposing_entry(asked, (guint)rule)->mend;
  gboolean plain = !mend->fill && !mend->enlarge && !mend->thicken && isnan(mend->round);
  if (strcmp(field, "fill") == 0)
    return mend->fill || plain;
  if (strcmp(field, "thicken") == 0)
    return mend->thicken || plain;
  return mend->enlarge;
}

static void
add_fields(HfProposing *asked, HfProposal *proposal, gint rule, const char *const *fields)
{
  HfNode *mend = rule < 0 ? hf_node_new_empty_table() : NULL;
  for (guint i = 0; fields[i] != NULL; i++)
    if (rule < 0)
      hf_node_put(mend, fields[i], hf_node_new_word("yes"));
    else
      hf_propose_set(asked, proposal, (guint)rule, fields[i], hf_node_new_word("yes"));
  if (rule < 0)
    hf_propose_append(proposal, hf_node_new_entry("mend", mend));
}

static void
mend_by(HfProposing *asked, const char *field, const char *sentence)
{
  gint rule = mend_rule(asked);
  if (has_field(asked, rule, field) ||
      (strcmp(field, "enlarge") == 0 && has_field(asked, rule, "fill")) ||
      (strcmp(field, "fill") == 0 && has_field(asked, rule, "enlarge")))
    return;
  HfProposal *proposal = hf_propose(asked, aims_of_field(asked, field), hf_phrase("%s", sentence));
  if (proposal != NULL)
    add_fields(asked, proposal, rule, (const char *const[]){field, NULL});
}

static void
propose_mend(HfProposing *asked)
{
  g_autoptr(GArray) thin = aims_of_field(asked, "thicken"), small = aims_of_field(asked, "fill");
  gint rule = mend_rule(asked);
  mend_by(asked, "thicken", "thicken the metal where it is too thin");
  mend_by(asked, "fill", "fill what is too small or too narrow to cut");
  mend_by(asked, "enlarge", "enlarge the openings that are too small to pierce");
  if (rule >= 0 || thin->len == 0 || small->len == 0)
    return;
  HfProposal *both =
      hf_propose(asked, aims_of_field(asked, NULL),
                 hf_phrase("thicken what is too thin, and fill what is too small to cut"));
  if (both != NULL)
    add_fields(asked, both, rule, (const char *const[]){"fill", "thicken", NULL});
}

const HfFamily hf_family_mend = {
    .key = "mend", .is_rule = TRUE, .guards = HF_GUARDS_USUAL, .propose = propose_mend};

/* ---- points ------------------------------------------------------------------------------------
 */

static void
propose_round(HfProposing *asked)
{
  double least = asked->sign->hold->figures[HF_FIGURE_POINT_RADIUS];
  gint rule = mend_rule(asked);
  double now = rule >= 0 ? hf_proposing_entry(asked, (guint)rule)->mend.round : NAN;
  if (!(least > 0) || now > 2 * least)
    return;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, -1),
                 hf_phrase_knob_last(hf_phrase("round the sharp points to a radius of ")));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, hf_proposing_entry(asked, rule >= 0 ? (guint)rule : 0), "round", 0,
                  fmax(least, isnan(now) ? 0 : now + 0.5), 3 * least, 0.5);
  if (rule >= 0)
    hf_propose_turn(asked, proposal, (guint)rule, "round");
  else
    hf_propose_append(proposal,
                      hf_node_new_entry("mend", hf_table({"round", hf_proposal_knob(proposal)})));
}

const HfFamily hf_family_round = {
    .key = "round", .guards = HF_GUARDS_USUAL, .propose = propose_round};
