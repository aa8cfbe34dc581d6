/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-grown.c - at once as large as the narrowest place asks, with all that is loose tied:
 * tried where nothing else makes the sign whole.
 *
 *    stop at 2.4 mm of 4      4 / 2.4 = 1.67      from 1.75 times on, in steps of a tenth
 *
 * A knob that is turned from the smallest change on runs out of work long before that where each
 * run is dear; and no single change is nearer while a counter is loose too.
 */
#include "cure/propose-private.h"

static const double MARGIN = 1.05, MOST = 3, SPAN = 1.6; /* times */

static gboolean
is_stop_about_widths(const HfProposing *asked, guint aim)
{
  const HfFinding *finding = hf_proposing_finding(asked, aim);
  return finding->gravity == HF_STOP && finding->measured > 0 && !isnan(finding->limit) &&
         hf_law(finding->kind)->at_least;
}

/* Those of @aims that are stops; how many times as large all of them would have to be. */
static double
keep_stops(const HfProposing *asked, GArray *aims)
{
  double times = 1;
  for (guint i = aims->len; i-- > 0;) {
    guint aim = g_array_index(aims, guint, i);
    const HfFinding *finding = hf_proposing_finding(asked, aim);
    if (is_stop_about_widths(asked, aim))
      times = fmax(times, finding->limit / finding->measured);
    else
      g_array_remove_index(aims, i);
  }
  return MARGIN * times;
}

static gboolean
is_to_be_tied(const HfProposing *asked)
{
  for (guint i = 0; i < asked->sign->hold->findings->len; i++) {
    const HfFinding *finding = hf_proposing_finding(asked, i);
    if (finding->gravity == HF_STOP && hf_law(finding->kind)->trouble == HF_TROUBLE_HELD)
      return hf_proposing_rule(asked) < 0;
  }
  return FALSE;
}

static const char *
and_ties(const HfProposing *asked)
{
  return is_to_be_tied(asked) ? ", and tie all that is loose" : "";
}

/* As the sentence says. */
static void
tie_too(const HfProposing *asked, HfProposal *proposal)
{
  if (proposal != NULL && is_to_be_tied(asked))
    hf_propose_ties(proposal);
}

static void
grow_letters(HfProposing *asked, const GArray *kin)
{
  GArray *aims = hf_proposing_kin_aims(asked, kin);
  double times = keep_stops(asked, aims);
  if (times > MOST)
    g_array_set_size(aims, 0);
  tie_too(asked, hf_propose_letters(asked, kin, aims, times, SPAN * times, and_ties(asked)));
}

static void
grow_all(HfProposing *asked)
{
  GArray *aims = hf_proposing_aims(asked, -1);
  double times = keep_stops(asked, aims);
  if (times > MOST)
    g_array_set_size(aims, 0);
  HfProposal *proposal =
      hf_propose_scale(asked, aims, "larger", and_ties(asked), times, SPAN * times);
  if (proposal == NULL)
    return;
  proposal->step = 10;
  tie_too(asked, proposal);
}

static void
propose_grown(HfProposing *asked)
{
  hf_proposing_each_kin(asked, grow_letters);
  grow_all(asked);
}

const HfFamily hf_family_grown = {
    .key = "grown", .is_resort = TRUE, .guards = HF_GUARDS_USUAL, .propose = propose_grown};
