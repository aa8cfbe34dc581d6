/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose.c - changes to the recipe that may take findings away.
 */
#include "cure/cure.h"

GPtrArray *
hf_cure_proposals(const HfPatient *patient)
{
  g_return_val_if_fail(patient->hold != NULL, NULL);
  return g_ptr_array_new_with_free_func((GDestroyNotify)hf_proposal_free);
}
