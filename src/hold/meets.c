/* SPDX-License-Identifier: GPL-3.0-or-later
 * meets.c - entries that only meet edge to edge (metal/meet.c found them): cut as one piece, and
 * told, since a hair's breadth would part them. A slot that is drawn to the very edge of its plate
 * is open to anybody's eye: that is not told.
 */
#include "base/text.h"
#include "hold/hold-private.h"

#define TOLD 0.1 /* mm: less is a point, which the laws of webs and parts judge */

static gboolean
check_meetings(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  const GArray *meetings = check->metal->meetings;
  for (guint i = 0; meetings != NULL && i < meetings->len; i++) {
    const HfMeeting *one = &g_array_index(meetings, HfMeeting, i);
    gboolean opening = hf_layout_shape(check->layout, one->a)->opening;
    if (one->length < TOLD || opening != hf_layout_shape(check->layout, one->b)->opening)
      continue;
    HfFinding *finding = hf_check_add(check, HF_LAW_EDGE_TO_EDGE, NAN, one->at);
    g_autofree char *along = hf_text_mm(one->length), *least = hf_text_length(HF_MEET_MM, 3);
    hf_finding_form(finding, opening ? "openings" : "metal");
    hf_finding_name(check, finding, one->a);
    hf_finding_name(check, finding, one->b);
    hf_finding_say(finding, "only meet edge to edge, along %s, to within %s: cut as one %s", along,
                   least, opening ? "opening" : "piece");
    if (opening)
      hf_finding_fix(finding, "let one overlap the other, or leave a web between them");
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_edge_to_edge_law = {
    .key = "edge-to-edge",
    .quantity = "entries that meet edge to edge, neither a gap nor a bite of more than 0.001 mm",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source; within a hundredth of the accuracy of widths a gap is closed",
    .why = "they are cut as one piece, which a hair's breadth would part",
    .what = "only meet edge to edge",
    .fix = "let one bite into the other, or leave a gap between them",
    .cures = HF_NO_CURES,
    .check = check_meetings,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
