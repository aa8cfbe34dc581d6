/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.c - making and freeing what proposals come to.
 */
#include "cure/cure.h"
#include "base/text.h"
#include <string.h>

static void
edit_clear(gpointer data)
{
  HfEdit *edit = data;
  g_free((char *)edit->path);
  g_free((char *)edit->value);
}

static GArray *
edits_new(void)
{
  GArray *edits = g_array_new(FALSE, TRUE, sizeof(HfEdit));
  g_array_set_clear_func(edits, edit_clear);
  return edits;
}

HfProposal *
hf_proposal_new(const char *key, char *sentence)
{
  HfProposal *proposal = g_new0(HfProposal, 1);
  *proposal = (HfProposal){.key = key, .sentence = sentence, .unit = ""};
  proposal->least = proposal->most = proposal->step = NAN;
  proposal->edits = edits_new();
  proposal->targets = g_array_new(FALSE, FALSE, sizeof(guint));
  return proposal;
}

void
hf_proposal_edit(HfProposal *proposal, HfEditKind kind, const char *path, const char *value)
{
  HfEdit edit = {kind, g_strdup(path), g_strdup(value)};
  g_array_append_val(proposal->edits, edit);
}

void
hf_proposal_free(HfProposal *proposal)
{
  if (proposal == NULL)
    return;
  g_free(proposal->sentence);
  g_array_unref(proposal->edits);
  g_array_unref(proposal->targets);
  g_free(proposal);
}

/* Turning the knob. */

static gboolean
has_knob(const HfProposal *proposal)
{
  return !isnan(proposal->step);
}

static double
on_its_grid(const HfProposal *proposal, double value)
{
  return rint(value / proposal->step) * proposal->step;
}

/* A number that is said in @unit: decimals that a rule can show. */
static void
append_value(GString *text, double value, double step, const char *unit)
{
  int decimals = 0;
  while (decimals < 4 && fabs(step - rint(step * pow(10, decimals)) / pow(10, decimals)) > 1e-9)
    decimals++;
  hf_text_append(text, value, decimals);
  if (unit[0] != '\0')
    g_string_append_printf(text, " %s", unit);
}

/* `a;b` or `a;b;unit` up to the brace; %FALSE: it is something else in braces. */
static gboolean
read_slot(const char *at, double *ret_a, double *ret_b, char **ret_unit, const char **ret_end)
{
  const char *end = strchr(at, '}');
  if (end == NULL || !hf_text_parse(at, ret_a, &at) || *at++ != ';' ||
      !hf_text_parse(at, ret_b, &at) || (*at != ';' && *at != '}'))
    return FALSE;
  *ret_unit = *at == ';' ? g_strndup(at + 1, (gsize)(end - at - 1)) : NULL;
  *ret_end = end + 1;
  return TRUE;
}

/* What moves aslant is as fine as matters. */
static void
append_slot(GString *text, double value, const char *unit)
{
  append_value(text, value, strcmp(unit, "in") == 0 ? 0.001 : 0.01, unit);
}

static char *
fill_slots(const HfProposal *proposal, const char *with, double value)
{
  GString *text = g_string_new(NULL);
  for (const char *at = with; *at != '\0';) {
    double a = 0, b = 0;
    g_autofree char *unit = NULL;
    const char *end = NULL;
    if (g_str_has_prefix(at, "{}")) {
      append_value(text, value, proposal->step, proposal->unit);
      at += 2;
    } else if (*at == '{' && read_slot(at + 1, &a, &b, &unit, &end)) {
      append_slot(text, a + b * value, unit != NULL ? unit : proposal->unit);
      at = end;
    } else {
      g_string_append_c(text, *at++);
    }
  }
  return g_string_free(text, FALSE);
}

GArray *
hf_proposal_edits_at(const HfProposal *proposal, double value)
{
  GArray *edits = edits_new();
  for (guint i = 0; i < proposal->edits->len; i++) {
    const HfEdit *edit = &g_array_index(proposal->edits, HfEdit, i);
    HfEdit made = {edit->kind, g_strdup(edit->path), NULL};
    if (edit->value != NULL)
      made.value = has_knob(proposal)
                       ? fill_slots(proposal, edit->value, on_its_grid(proposal, value))
                       : g_strdup(edit->value);
    g_array_append_val(edits, made);
  }
  return edits;
}

char *
hf_proposal_sentence_at(const HfProposal *proposal, double value)
{
  const char *slot = strstr(proposal->sentence, "{}");
  if (slot == NULL || !has_knob(proposal))
    return g_strdup(proposal->sentence);
  g_autoptr(GString) text =
      g_string_new_len(proposal->sentence, (gssize)(slot - proposal->sentence));
  append_value(text, fabs(on_its_grid(proposal, value) - proposal->from), proposal->step,
               proposal->unit);
  g_string_append(text, slot + 2);
  return g_string_free(g_steal_pointer(&text), FALSE);
}
