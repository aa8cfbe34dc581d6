/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.c - proposals: what they say and what they change, with the knob at one place.
 */
#include "cure/cure.h"
#include "base/text.h"
#include <string.h>

/* ---- sentences ----------------------------------------------------------------------------- */

HfPhrase
hf_phrase(const char *format, ...)
{
  va_list what;
  va_start(what, format);
  HfPhrase phrase = {g_strdup_vprintf(format, what), NULL, NULL};
  va_end(what);
  return phrase;
}

HfPhrase
hf_phrase_knob(HfPhrase before, const char *format, ...)
{
  g_assert(before.after == NULL);
  va_list what;
  va_start(what, format);
  before.after = g_strdup_vprintf(format, what);
  va_end(what);
  return before;
}

HfPhrase
hf_phrase_knob_last(HfPhrase before)
{
  return (HfPhrase){before.before, g_strdup(""), NULL};
}

HfPhrase
hf_phrase_turns(HfPhrase before, const char *turns, const char *after)
{
  return (HfPhrase){before.before, g_strdup(after), g_strdup(turns)};
}

void
hf_phrase_clear(HfPhrase *phrase)
{
  g_clear_pointer(&phrase->before, g_free);
  g_clear_pointer(&phrase->after, g_free);
  g_clear_pointer(&phrase->turns, g_free);
}

/* ---- proposals ----------------------------------------------------------------------------- */

HfProposal *
hf_proposal_new(const HfFamily *family, HfPhrase phrase)
{
  HfProposal *proposal = g_new0(HfProposal, 1);
  *proposal = (HfProposal){.family = family, .phrase = phrase, .unit = ""};
  proposal->least = proposal->most = proposal->step = NAN;
  proposal->edits = hf_edits_new();
  proposal->targets = g_array_new(FALSE, FALSE, sizeof(guint));
  return proposal;
}

void
hf_proposal_free(HfProposal *proposal)
{
  if (proposal == NULL)
    return;
  hf_phrase_clear(&proposal->phrase);
  g_array_unref(proposal->edits);
  g_array_unref(proposal->targets);
  g_free(proposal);
}

gboolean
hf_proposal_same(const HfProposal *a, const HfProposal *b)
{
  return strcmp(a->phrase.before, b->phrase.before) == 0 &&
         g_strcmp0(a->phrase.after, b->phrase.after) == 0;
}

/* ---- the knob ------------------------------------------------------------------------------ */

gboolean
hf_proposal_has_knob(const HfProposal *proposal)
{
  return !isnan(proposal->step);
}

/* As many as its step has: 0.25 has two. */
static int
decimals_of(double step)
{
  int decimals = 0;
  while (decimals < 4 && fabs(step - rint(step * pow(10, decimals)) / pow(10, decimals)) > 1e-9)
    decimals++;
  return decimals;
}

HfNode *
hf_proposal_knob(const HfProposal *proposal)
{
  g_assert(hf_proposal_has_knob(proposal));
  return hf_node_new_number(0, 1, decimals_of(proposal->step), proposal->unit);
}

static double
on_its_grid(const HfProposal *proposal, double value)
{
  return hf_proposal_has_knob(proposal) ? rint(value / proposal->step) * proposal->step : 0;
}

GArray *
hf_proposal_edits_at(const HfProposal *proposal, double value)
{
  GArray *edits = hf_edits_new();
  double knob = on_its_grid(proposal, value);
  for (guint i = 0; i < proposal->edits->len; i++) {
    const HfEdit *edit = &g_array_index(proposal->edits, HfEdit, i);
    hf_edits_add(edits, edit->kind, hf_path_new(edit->path->steps, edit->path->n),
                 edit->value != NULL ? hf_node_at(edit->value, knob) : NULL);
  }
  return edits;
}

static void
add_figure(GString *text, const HfProposal *proposal, double value, int decimals)
{
  hf_text_append(text, value, decimals);
  if (proposal->unit[0] != '\0')
    g_string_append_printf(text, " %s", proposal->unit);
}

/* The first figure that hangs on the knob; (nullable). */
static char *
knob_path(const HfProposal *proposal)
{
  for (guint i = 0; hf_proposal_has_knob(proposal) && i < proposal->edits->len; i++)
    if (g_array_index(proposal->edits, HfEdit, i).kind == HF_EDIT_SET)
      return hf_path_say(g_array_index(proposal->edits, HfEdit, i).path);
  return NULL;
}

gboolean
hf_proposal_same_knob(const HfProposal *a, const HfProposal *b)
{
  g_autofree char *of_a = knob_path(a), *of_b = knob_path(b);
  return of_a != NULL && g_strcmp0(of_a, of_b) == 0 && strcmp(a->unit, b->unit) == 0;
}

char *
hf_proposal_sentence_at(const HfProposal *proposal, double value)
{
  return hf_proposal_sentence_from(proposal, proposal->from, value);
}

char *
hf_proposal_sentence_from(const HfProposal *proposal, double from, double value)
{
  GString *text = g_string_new(proposal->phrase.before);
  if (proposal->phrase.after != NULL) {
    g_assert(hf_proposal_has_knob(proposal));
    double there = on_its_grid(proposal, value);
    if (proposal->phrase.turns != NULL) {
      add_figure(text, proposal, from, MAX(decimals_of(proposal->step), 1));
      g_string_append(text, proposal->phrase.turns);
    }
    add_figure(text, proposal, proposal->phrase.turns != NULL ? there : fabs(there - from),
               decimals_of(proposal->step));
    g_string_append(text, proposal->phrase.after);
  }
  return g_string_free(text, FALSE);
}
