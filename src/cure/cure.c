/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure.c - making and freeing what rules and proposals come to.
 */
#include "cure/cure.h"

static void
tie_clear(gpointer data)
{
  HfTie *tie = data;
  hf_outline_free(tie->outline);
  g_free(tie->label);
}

static void
untied_clear(gpointer data)
{
  HfUntied *untied = data;
  g_free(untied->name);
  g_free(untied->why);
  g_free(untied->help);
}

HfWork *
hf_work_new(guint entry)
{
  HfWork *work = g_new0(HfWork, 1);
  *work = (HfWork){.entry = entry, .cost = NAN, .area = NAN, .bound = NAN};
  work->shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free);
  work->ties = g_array_new(FALSE, TRUE, sizeof(HfTie));
  g_array_set_clear_func(work->ties, tie_clear);
  work->untied = g_array_new(FALSE, TRUE, sizeof(HfUntied));
  g_array_set_clear_func(work->untied, untied_clear);
  return work;
}

void
hf_work_free(HfWork *work)
{
  if (work == NULL)
    return;
  g_clear_pointer(&work->shapes, g_ptr_array_unref);
  g_array_unref(work->ties);
  g_array_unref(work->untied);
  g_free(work);
}

static void
edit_clear(gpointer data)
{
  HfEdit *edit = data;
  g_free((char *)edit->path);
  g_free((char *)edit->value);
}

HfProposal *
hf_proposal_new(const char *key, char *sentence)
{
  HfProposal *proposal = g_new0(HfProposal, 1);
  *proposal = (HfProposal){.key = key, .sentence = sentence, .unit = ""};
  proposal->least = proposal->most = proposal->step = NAN;
  proposal->edits = g_array_new(FALSE, TRUE, sizeof(HfEdit));
  g_array_set_clear_func(proposal->edits, edit_clear);
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
