/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-scale.c - the whole sign larger or smaller: every length that makes its picture, by one
 * factor. Holes, ears, feet and stakes stay as they are: hooks and screws do not grow.
 */
#include "cure/propose-private.h"
#include <string.h>

#define MOST_TIMES  3.0
#define LEAST_TIMES 0.4

typedef struct {
  HfEntryKind kind; /* HF_N_ENTRY_KINDS: any */
  const char *key;
  gsize offset; /* of a double in HfEntry, NAN: not given */
} Length;

#define AT(member) offsetof(HfEntry, member)
static const Length lengths[] = {
    {HF_ENTRY_RING, "outer", AT(ring.outer)},
    {HF_ENTRY_RING, "inner", AT(ring.inner)},
    {HF_ENTRY_RING, "width", AT(ring.width)},
    {HF_ENTRY_PLATE, "width", AT(plate.width)},
    {HF_ENTRY_PLATE, "height", AT(plate.height)},
    {HF_ENTRY_PLATE, "diameter", AT(plate.diameter)},
    {HF_ENTRY_PLATE, "corner", AT(plate.corner)},
    {HF_ENTRY_PLATE, "rise", AT(plate.rise)},
    {HF_ENTRY_PLATE, "grow", AT(plate.grow)},
    {HF_ENTRY_BAR, "length", AT(bar.length)},
    {HF_ENTRY_BAR, "height", AT(bar.height)},
    {HF_ENTRY_BAR, "corner", AT(bar.corner)},
    {HF_ENTRY_ARCH, "chord", AT(arch.chord)},
    {HF_ENTRY_ARCH, "rise", AT(arch.rise)},
    {HF_ENTRY_ARCH, "legs", AT(arch.legs)},
    {HF_ENTRY_ARCH, "width", AT(arch.width)},
    {HF_ENTRY_ARCH, "clear", AT(arch.clear)},
    {HF_ENTRY_WORDS, "height", AT(words.font.height)},
    {HF_ENTRY_WORDS, "font size", AT(words.font.size)},
    {HF_ENTRY_WORDS, "arc radius", AT(words.arc_radius)},
    {HF_ENTRY_INITIAL, "height", AT(initial.font.height)},
    {HF_ENTRY_INITIAL, "font size", AT(initial.font.size)},
    {HF_ENTRY_SEPARATOR, "diameter", AT(separator.size)},
    {HF_ENTRY_SEPARATOR, "height", AT(separator.size)},
    {HF_ENTRY_SEPARATOR, "width", AT(separator.width)},
    {HF_ENTRY_HOLES, "pitch", AT(holes.pitch)},
    {HF_ENTRY_HOLES, "circle", AT(holes.circle)},
    {HF_N_ENTRY_KINDS, "gap", AT(place.gap)},
};
#undef AT

/* Said in the recipe; what is worked out or stays by default is not set. */
static gboolean
says(const HfEntry *entry, const char *key)
{
  for (guint i = 0; entry->said != NULL && i < entry->said->len; i++)
    if (strcmp(g_array_index(entry->said, HfSaid, i).key, key) == 0)
      return TRUE;
  return FALSE;
}

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
  const HfPlace *place = &e->place;
  for (guint i = 0; place->at != NULL && i < place->at->len; i++) {
    const HfSpot *spot = &g_array_index(place->at, HfSpot, i);
    if (spot->kind == HF_SPOT_POINT)
      hf_propose_place(asked, proposal, entry, i, share_point(e, "at", spot->point));
  }
  if (says(e, "shift"))
    hf_propose_set(asked, proposal, entry, "shift",
                   share_point(e, "shift", hf_point(place->shift_x, place->shift_y)));
}

/* A spacing as a length grows too; as a share it does by itself. */
static void
scale_measures(const HfProposing *asked, HfProposal *proposal, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (e->kind != HF_ENTRY_WORDS)
    return;
  const struct {
    const char *key;
    HfMeasure measure;
  } measures[] = {{"spacing", e->words.spacing}, {"line spacing", e->words.line_spacing}};
  for (gsize i = 0; i < G_N_ELEMENTS(measures); i++) {
    if (!says(e, measures[i].key) || measures[i].measure.is_share)
      continue;
    hf_propose_set(asked, proposal, entry, measures[i].key,
                   share(e, measures[i].key, measures[i].measure.value));
  }
}

static void
scale_entry(const HfProposing *asked, HfProposal *proposal, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (gsize i = 0; i < G_N_ELEMENTS(lengths); i++) {
    double mm = G_STRUCT_MEMBER(double, e, lengths[i].offset);
    if ((lengths[i].kind != e->kind && lengths[i].kind != HF_N_ENTRY_KINDS) ||
        !says(e, lengths[i].key) || isnan(mm))
      continue;
    if (lengths[i].kind == HF_N_ENTRY_KINDS && mm <= 0) /* an overlap is a matter of limits */
      continue;
    hf_propose_set(asked, proposal, entry, lengths[i].key, share(e, lengths[i].key, mm));
  }
  scale_measures(asked, proposal, entry);
  if (e->kind < HF_ENTRY_TIE)
    scale_places(asked, proposal, entry);
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

static void
scale_by(HfProposing *asked, GArray *aims, const char *how, double least, double most)
{
  HfProposal *proposal =
      hf_propose(asked, aims, hf_phrase_knob(hf_phrase("make the whole sign "), " %s", how));
  if (proposal == NULL)
    return;
  hf_propose_knob_share(proposal, 1, least, most);
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    scale_entry(asked, proposal, i);
}

static void
propose_scale(HfProposing *asked)
{
  GArray *large = hf_proposing_aims_of(asked, -1, HF_LAW_TOO_LARGE);
  scale_by(asked, large, "smaller", 0.99, LEAST_TIMES);
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
  scale_by(asked, aims, "larger", 1.01, fmax(1.2 * most, 1.1));
}

const HfFamily hf_family_scale = {
    .key = "scale", .guards = HF_GUARDS_USUAL, .propose = propose_scale};
