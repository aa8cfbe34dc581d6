/* SPDX-License-Identifier: GPL-3.0-or-later
 * ties.c - bars of metal that hold the loose parts.
 */
#include "cure/cure.h"

HfWork *
hf_cure_ties(const HfPatient *patient, guint entry, GError **error)
{
  if (!hf_cancel_check(patient->cancel, error))
    return NULL;
  return hf_work_new(entry);
}
