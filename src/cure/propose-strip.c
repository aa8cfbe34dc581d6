/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-strip.c - strips made wider and plates larger. Which length
 * makes them so, and how the change is said, says the row of the field (recipe/kind.h).
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"

#define NO_STRIP 10.5 /* thicknesses: wider metal does not bow, see hold/strips.c */

static void
widen(HfProposing *asked, guint entry, const HfField *field, const GArray *aims, double lack)
{
  const HfStrip *strip = &field->strip;
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = hf_entry_length(e, field);
  if (!(now > 0))
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
  hf_propose_knob(proposal, e, field->key, now, least, most, 0.5);
  hf_propose_turn(asked, proposal, entry, field->key);
}

static void
widen_all(HfProposing *asked, guint entry, const GArray *aims, double lack)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (const HfField *field = hf_entry_row(e)->table.fields; field->key != NULL; field++)
    if (field->strip.way != 0)
      widen(asked, entry, field, aims, lack);
}

static void
propose_wider(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    if (aims->len > 0 && e->as == HF_AS_METAL && !hf_entry_is(e, HF_KIND_AREA))
      widen_all(asked, i, aims, fmin(hf_proposing_lack(asked, aims), 30));
  }
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
    if (aims->len == 0 || !hf_entry_is(e, HF_KIND_AREA) || e->as != HF_AS_METAL)
      continue;
    double lack = CLAMP(hf_proposing_lack(asked, aims), 2, 30);
    HfBox box = hf_proposing_box(asked, i, -1);
    if (hf_proposing_has(asked, aims, HF_LAW_HIDDEN) ||
        hf_proposing_has(asked, aims, HF_LAW_OFF_METAL)) /* words that run over its edge */
      lack = fmax(lack, 0.1 * fmax(hf_box_width(box), hf_box_height(box)));
    widen_all(asked, i, aims, lack);
  }
}

const HfFamily hf_family_plate = {
    .key = "plate", .guards = HF_GUARDS_USUAL, .propose = propose_plate};
