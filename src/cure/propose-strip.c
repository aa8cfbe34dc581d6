/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-strip.c - strips made wider and plates larger: ring, bar, gate arch, ear, foot, stake.
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"

#define NO_STRIP 10.5 /* thicknesses: wider metal does not bow, see hold/strips.c */

typedef struct {
  HfEntryKind kind;
  const char *key;
  gsize offset;         /* of a double in HfEntry */
  double way;           /* mm of this length for each mm of metal */
  const char *words[3]; /* before its name, behind it, and behind how much */
} Strip;

#define AT(member) offsetof(HfEntry, member)
static const Strip strips[] = {
    {HF_ENTRY_RING, "width", AT(ring.width), 1, {"make the strip of ", " ", " wider"}},
    {HF_ENTRY_RING, "inner", AT(ring.inner), -2, {"make the opening of ", " ", " smaller"}},
    {HF_ENTRY_BAR, "height", AT(bar.height), 1, {"make ", " ", " wider"}},
    {HF_ENTRY_ARCH, "width", AT(arch.width), 1, {"make the strip of ", " ", " wider"}},
    {HF_ENTRY_EAR, "width", AT(ear.width), 2, {"make ", " ", " wider"}},
    {HF_ENTRY_FOOT, "height", AT(foot.height), 1, {"make ", " ", " higher"}},
    {HF_ENTRY_STAKE, "width", AT(stake.width), 1, {"make ", " ", " wider"}},
    {HF_ENTRY_SEPARATOR, "diameter", AT(separator.size), 2, {"make ", " ", " larger"}},
    {HF_ENTRY_SEPARATOR, "height", AT(separator.size), 2, {"make ", " ", " larger"}},
};

static const Strip plates[] = {
    {HF_ENTRY_PLATE, "diameter", AT(plate.diameter), 2, {"make ", " ", " larger across"}},
    {HF_ENTRY_PLATE, "width", AT(plate.width), 2, {"make ", " ", " wider"}},
    {HF_ENTRY_PLATE, "height", AT(plate.height), 2, {"make ", " ", " higher"}},
    {HF_ENTRY_PLATE,
     "grow",
     AT(plate.grow),
     1,
     {"let ", " reach ", " further round what stands on it"}},
};
#undef AT

static void
widen(HfProposing *asked, guint entry, const Strip *strip, const GArray *aims, double lack)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = G_STRUCT_MEMBER(double, e, strip->offset);
  if (e->kind != strip->kind || isnan(now) || !(now > 0) ||
      hf_table_field(&hf_entry_row(e)->table, strip->key) == NULL)
    return;
  double least = now + strip->way * fmax(lack / 2, 0.5),
         most = now + strip->way * fmax(4 * lack, 4);
  if (strip->way > 0 && hf_proposing_has(asked, aims, HF_LAW_BOWING_STRIP)) /* no strip any more */
    most = fmax(most, NO_STRIP * asked->sign->hold->process.thickness);
  if (strip->way < 0)
    most = fmax(most, now * 0.3);
  HfProposal *proposal =
      hf_propose(asked, g_array_copy((GArray *)aims),
                 hf_phrase_knob(hf_phrase("%s%s%s", strip->words[0], hf_proposing_called(asked, e),
                                          strip->words[1]),
                                "%s", strip->words[2]));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, strip->key, now, least, most, 0.5);
  hf_propose_turn(asked, proposal, entry, strip->key);
}

static void
each(HfProposing *asked, const Strip *table, gsize n, HfAs as)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    if (aims->len == 0 || e->as != as)
      continue;
    double lack = fmin(hf_proposing_lack(asked, aims), 30);
    for (gsize k = 0; k < n; k++)
      widen(asked, i, &table[k], aims, lack);
  }
}

static void
propose_wider(HfProposing *asked)
{
  each(asked, strips, G_N_ELEMENTS(strips), HF_AS_METAL);
}

const HfFamily hf_family_wider = {
    .key = "wider", .guards = HF_GUARDS_USUAL, .propose = propose_wider};

/* Openings alone: a plate that goes round them all, before them so that they cut it. */
static void
plate_round_all(HfProposing *asked)
{
  guint n = hf_proposing_n(asked);
  g_autofree const char **names = g_new0(const char *, n + 1);
  guint n_names = 0;
  for (guint i = 0; i < n; i++)
    if (!hf_box_is_empty(hf_proposing_box(asked, i, -1)))
      names[n_names++] = hf_proposing_entry(asked, i)->name;
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims_of(asked, -1, HF_LAW_NO_METAL),
      hf_phrase_knob(hf_phrase("add a plate round all that is cut out, "), " beyond it"));
  if (proposal == NULL)
    return;
  double margin = 4 * hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB);
  /* words apart from each other, or a hole, must come to lie on one plate */
  hf_propose_knob(proposal, hf_proposing_entry(asked, 0), "grow", 0, ceil(margin), 8 * margin, 1);
  HfNode *plate =
      hf_table({"name", hf_say_new(asked, "board")}, {"shape", hf_node_new_word("outline")},
               {"grow", hf_proposal_knob(proposal)}, {"around", hf_say_names(names, n_names)});
  hf_edits_add(proposal->edits, HF_EDIT_INSERT, hf_path(HF_KEY("entries"), HF_ITEM(0)),
               hf_node_new_entry("plate", plate));
}

static gboolean
names_no_plate(HfLawKind kind)
{
  return kind == HF_LAW_HIDDEN || kind == HF_LAW_OFF_METAL || kind == HF_LAW_HOLE_NEAR_EDGE;
}

/* What @plate takes part in, and holes and words that leave it. */
static GArray *
aims_at_plate(const HfProposing *asked, guint plate)
{
  GArray *aims = hf_proposing_aims(asked, -1);
  for (guint i = aims->len; i-- > 0;) {
    const HfFinding *finding = hf_proposing_finding(asked, g_array_index(aims, guint, i));
    gboolean part = FALSE;
    for (guint k = 0; k < finding->entries->len; k++)
      part = part || g_array_index(finding->entries, guint, k) == plate;
    if (finding->kind == HF_LAW_NO_METAL || (!part && !names_no_plate(finding->kind)))
      g_array_remove_index(aims, i);
  }
  return aims;
}

/* The plate under a hole, a word or an opening that comes too near its edge. */
static void
propose_plate(HfProposing *asked)
{
  if (hf_proposing_n(asked) > 0)
    plate_round_all(asked);
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    g_autoptr(GArray) aims = aims_at_plate(asked, i);
    if (aims->len == 0 || e->kind != HF_ENTRY_PLATE || e->as != HF_AS_METAL)
      continue;
    double lack = CLAMP(hf_proposing_lack(asked, aims), 2, 30);
    HfBox box = hf_proposing_box(asked, i, -1);
    if (hf_proposing_has(asked, aims, HF_LAW_HIDDEN) ||
        hf_proposing_has(asked, aims, HF_LAW_OFF_METAL)) /* words that run over its edge */
      lack = fmax(lack, 0.1 * fmax(hf_box_width(box), hf_box_height(box)));
    for (gsize k = 0; k < G_N_ELEMENTS(plates); k++)
      widen(asked, i, &plates[k], aims, lack);
  }
}

const HfFamily hf_family_plate = {
    .key = "plate", .guards = HF_GUARDS_USUAL, .propose = propose_plate};
