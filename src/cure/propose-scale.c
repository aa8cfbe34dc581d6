/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-scale.c - the whole sign larger or smaller: every length that belongs to its picture, by
 * one factor. Which those are the row of each field says (HF_ROLE_PICTURE); holes, ears, feet,
 * stakes and the width of ties stay as they are: hooks, screws and limits do not grow.
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include <string.h>

#define MOST_TIMES  3.0
#define LEAST_TIMES 0.4

/* So much for each percent. */
static HfNode *
share(const HfEntry *entry, const char *key, double mm)
{
  const char *unit = hf_entry_unit(entry, key);
  double each = rint(mm / hf_unit_mm(unit) / 100 * 1e9) / 1e9;
  return hf_node_new_number(0, each, strcmp(unit, "in") == 0 ? 3 : 2, unit);
}

static HfNode *
share_point(const HfEntry *entry, const char *key, HfPoint at)
{
  return hf_node_new_list(share(entry, key, at.x), share(entry, key, at.y), NULL);
}

static void
scale_places(const HfProposing *asked, HfProposal *proposal, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (guint i = 0; e->place.at != NULL && i < e->place.at->len; i++) {
    const HfSpot *spot = &g_array_index(e->place.at, HfSpot, i);
    if (spot->kind == HF_SPOT_POINT)
      hf_propose_place(asked, proposal, entry, i, share_point(e, "at", spot->point));
  }
}

/* A pin on a letter is placed in its ems, which grow with it; on anything else in mm. */
static gboolean
is_in_ems(const HfProposing *asked, const HfEntry *tie)
{
  g_autoptr(GArray) meant =
      hf_layout_meant(asked->sign->recipe, asked->sign->layout, tie->tie.letter);
  return meant->len == 0 ||
         hf_layout_shape(asked->sign->layout, g_array_index(meant, guint, 0))->letter >= 0;
}

static HfNode *
share_points(const HfEntry *entry, const char *key, const GArray *points)
{
  HfNode *list = hf_node_new_empty_list();
  for (guint i = 0; i < points->len; i++)
    hf_node_add(list, share_point(entry, key, g_array_index(points, HfPoint, i)));
  return list;
}

/* Said in the recipe; what is worked out or stays by default is not set. A share grows by itself.
 */
static HfNode *
scaled(const HfProposing *asked, const HfEntry *e, const HfField *field)
{
  const double *mm = G_STRUCT_MEMBER_P(e, field->offset);
  const HfMeasure *measure = G_STRUCT_MEMBER_P(e, field->offset);
  switch (field->type) {
  case HF_FIELD_LENGTH:
    return hf_entry_says(e, field->key) && mm[0] != 0 ? share(e, field->key, mm[0]) : NULL;
  case HF_FIELD_SHARE:
  case HF_FIELD_SPACING:
    return hf_entry_says(e, field->key) && !measure->is_share ? share(e, field->key, measure->value)
                                                              : NULL;
  case HF_FIELD_POINT:
    return hf_entry_says(e, field->key) ? share_point(e, field->key, hf_point(mm[0], mm[1])) : NULL;
  case HF_FIELD_POINTS:
    return hf_entry_says(e, field->key)
               ? share_points(e, field->key, G_STRUCT_MEMBER(GArray *, e, field->offset))
               : NULL;
  case HF_FIELD_MARGIN:
    return hf_entry_says(e, field->key)
               ? hf_node_new_list(share(e, field->key, mm[0]), share(e, field->key, mm[1]),
                                  share(e, field->key, mm[2]), share(e, field->key, mm[3]), NULL)
               : NULL;
  case HF_FIELD_NUMBERS:
    return (mm[0] != 0 || mm[1] != 0) && !is_in_ems(asked, e)
               ? hf_node_new_list(hf_node_new_number(0, mm[0] / 100, 2, ""),
                                  hf_node_new_number(0, mm[1] / 100, 2, ""), NULL)
               : NULL;
  default:
    g_assert_not_reached(); /* tests/unit/test_kinds.c */
  }
}

static void
scale_entry(const HfProposing *asked, HfProposal *proposal, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (const HfTable *part = &hf_entry_row(e)->table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      if ((field->roles & (HF_ROLE_PICTURE | HF_ROLE_IN_EMS)) == 0)
        continue;
      HfNode *value = field->type == HF_FIELD_SPOTS ? NULL : scaled(asked, e, field);
      if (value != NULL)
        hf_propose_set(asked, proposal, entry, field->key, value);
      if (field->type == HF_FIELD_SPOTS)
        scale_places(asked, proposal, entry);
    }
}

static double
times(const HfFinding *finding)
{
  if (finding->kind == HF_LAW_LOST_DETAIL)
    return sqrt(finding->measured / finding->limit);
  if (isnan(finding->limit) || !(finding->measured > 0) ||
      strcmp(hf_law(finding->kind)->unit, "mm") != 0 || !hf_law(finding->kind)->at_least)
    return 1;
  return finding->limit / finding->measured;
}

HfProposal *
hf_propose_scale(HfProposing *asked, GArray *aims, const char *how, const char *after, double least,
                 double most)
{
  HfProposal *proposal = hf_propose(
      asked, aims, hf_phrase_knob(hf_phrase("make the whole sign "), " %s%s", how, after));
  if (proposal == NULL)
    return NULL;
  hf_propose_knob_share(proposal, 1, least, most);
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    scale_entry(asked, proposal, i);
  return proposal;
}

static void
propose_scale(HfProposing *asked)
{
  GArray *large = hf_proposing_aims_of(asked, -1, HF_LAW_TOO_LARGE);
  hf_propose_scale(asked, large, "smaller", "", 0.99, LEAST_TIMES);
  GArray *aims = hf_proposing_aims(asked, -1);
  double most = 1;
  for (guint i = aims->len; i-- > 0;) {
    const HfFinding *finding = hf_proposing_finding(asked, g_array_index(aims, guint, i));
    if (finding->kind == HF_LAW_TOO_LARGE)
      g_array_remove_index(aims, i);
    else
      most = fmax(most, times(finding));
  }
  if (most > MOST_TIMES) { /* another sign altogether */
    g_array_unref(aims);
    return;
  }
  hf_propose_scale(asked, aims, "larger", "", 1.01, fmax(1.2 * most, 1.1));
}

const HfFamily hf_family_scale = {
    .key = "scale", .guards = HF_GUARDS_USUAL, .propose = propose_scale};
