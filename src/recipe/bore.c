/* SPDX-License-Identifier: GPL-3.0-or-later
 * bore.c - openings that screws go through: what holes, patterns of them and slots say alike.
 */
#include "recipe/kind-private.h"

#define SCREW(key, said, i)                                                                        \
  {                                                                                                \
    key, i, key, "ISO 273", "\\b" said "\\b"                                                       \
  }
const HfChoice hf_choices_screw[] = {
    SCREW("M3", "m3", 1),   SCREW("M4", "m4", 2),   SCREW("M5", "m5", 3),
    SCREW("M6", "m6", 4),   SCREW("M8", "m8", 5),   SCREW("M10", "m10", 6),
    SCREW("M12", "m12", 7), SCREW("M16", "m16", 8), {NULL, 0}};
#undef SCREW

const HfChoice hf_choices_fit[] = {
    {"coarse", HF_FIT_COARSE, "coarse", "ISO 273 coarse series: for holes cut by the arc"},
    {"medium", HF_FIT_MEDIUM, "medium", "ISO 273 medium series"},
    {"fine", HF_FIT_FINE, "fine", "ISO 273 fine series: for holes that are drilled"},
    {NULL, 0}};

double
hf_bore_mm(const HfBore *bore)
{
  const HfScrew *screw = hf_screw(bore->screw);
  return screw != NULL && isnan(bore->diameter) ? screw->hole[bore->fit] : bore->diameter;
}

double
hf_keyhole_length(const HfKeyholeEntry *keyhole)
{
  return isnan(keyhole->length) ? keyhole->head : keyhole->length;
}

const HfBore *
hf_entry_bore(const HfEntry *entry)
{
  switch (entry->kind) {
  case HF_ENTRY_HOLE:
    return &entry->hole.bore;
  case HF_ENTRY_HOLES:
    return &entry->holes.bore;
  case HF_ENTRY_SLOT:
    return &entry->slot.bore;
  default:
    return NULL;
  }
}
