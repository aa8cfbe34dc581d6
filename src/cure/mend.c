/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend.c - thin, small and sharp places put right.
 */
#include "cure/cure.h"

HfWork *
hf_cure_mend(const HfPatient *patient, guint entry, GError **error)
{
  if (!hf_cancel_check(patient->cancel, error))
    return NULL;
  return hf_work_new(entry);
}
