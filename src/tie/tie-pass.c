/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie-pass.c - the pass of the rule: what it came to is laid, and said where it is not as was
 * asked.
 */
#include "base/text.h"
#include "tie/offers-private.h"
#include "tie/tie.h"

/* (transfer full) (element-type HfMissed) What could not be tied; the texts are the work's. */
static GArray *
missed_of(const HfWork *work)
{
  GArray *missed = g_array_new(FALSE, FALSE, sizeof(HfMissed));
  for (guint i = 0; i < work->untied->len; i++) {
    const HfUntied *one = &g_array_index(work->untied, HfUntied, i);
    HfMissed as = {work->entry, one->at, one->why, one->name, one->help};
    g_array_append_val(missed, as);
  }
  return missed;
}

/* A tie is never narrower than its limit, whatever the rule asks for: said with the width taken. */
static void
tell_wider(const HfEntry *rule, double wanted, const HfWork *work, GArray *solved, GPtrArray *notes)
{
  double least = INFINITY;
  for (guint i = 0; i < work->ties->len; i++)
    least = fmin(least, g_array_index(work->ties, HfTie, i).width);
  if (work->ties->len == 0 || !(least > wanted + 0.005))
    return;
  HfSolved one = {work->entry, HF_SOLVED_TIE_WIDTH, least};
  g_array_append_val(solved, one);
  g_autofree char *asked = hf_text_mm(wanted), *taken = hf_text_mm(least);
  g_ptr_array_add(notes, g_strdup_printf("%s: ties of %s were asked for, and their limit is more: "
                                         "they are %s wide",
                                         rule->name, asked, taken));
}

static HfSign *
lay(const HfSign *sign, const HfWork *work, HfSignUse use, const HfCancel *cancel, GError **error)
{
  g_autoptr(GArray) missed = missed_of(work), solved = g_array_new(FALSE, FALSE, sizeof(HfSolved));
  g_autoptr(GPtrArray) notes = g_ptr_array_new_with_free_func(g_free);
  const HfEntry *rule = hf_recipe_at(sign->recipe, work->entry);
  tell_wider(rule, hf_tie_law(sign, &rule->ties).given, work, solved, notes);
  HfLayoutMore more = {work->shapes, missed, solved, notes};
  return hf_sign_extended(sign, &more, use, cancel, error);
}

HfSign *
hf_tie(const HfSign *sign, guint entry, HfSignUse use, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfWork) work = hf_tie_work(sign, entry, 1, cancel, error);
  if (work == NULL)
    return NULL;
  if (work->shapes->len == 0 && work->untied->len == 0)
    return hf_sign_worked(sign, g_steal_pointer(&work));
  g_autoptr(HfSign) laid = lay(sign, work, use, cancel, error);
  return laid != NULL ? hf_sign_worked(laid, g_steal_pointer(&work)) : NULL;
}
