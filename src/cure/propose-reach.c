/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-reach.c - what stands in a band, a window or on a bar reaches what holds it: deeper bite,
 * letters that fill, a ring that comes to meet them.
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include <string.h>

/* ---- bite --------------------------------------------------------------------------------------
 */

typedef struct {
  double now;
  gboolean has;
} Bite;

static Bite
bite_of(const HfEntry *entry)
{
  switch (entry->kind) {
  case HF_ENTRY_WORDS:
    return (Bite){entry->words.bite, entry->words.fill || entry->words.stand_on != NULL};
  case HF_ENTRY_INITIAL:
    return (Bite){entry->initial.bite,
                  (entry->initial.fill != NULL && isnan(entry->initial.clear)) ||
                      !isnan(entry->initial.split_bar)};
  case HF_ENTRY_SEPARATOR:
    return (Bite){entry->separator.bite, hf_entry_band(entry) != NULL};
  default:
    return (Bite){NAN, FALSE};
  }
}

static void
propose_bite(HfProposing *asked)
{
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    Bite bite = bite_of(e);
    if (!bite.has)
      continue;
    double now = hf_proposing_bite(asked, bite.now);
    HfProposal *proposal =
        hf_propose(asked, hf_proposing_aims(asked, (gint)i),
                   hf_phrase_knob(hf_phrase("let %s run ", hf_proposing_called(asked, e)),
                                  " deeper into what holds it"));
    if (proposal == NULL)
      continue;
    hf_propose_knob(proposal, e, "bite", now, now + 0.2, now + 3 * joint, 0.2);
    hf_propose_turn(asked, proposal, i, "bite");
  }
}

const HfFamily hf_family_bite = {.key = "bite", .guards = HF_GUARDS_USUAL, .propose = propose_bite};

static const double MOST_FANNED = 3; /* common practice, no source */

/* ---- fill --------------------------------------------------------------------------------------
 */

/* How much wider a letter that is bent with the band is at the larger ring than at the smaller. */
static double
fans_out(const HfProposing *asked, const GPtrArray *band)
{
  double least = INFINITY, most = 0;
  for (guint i = 0; i < band->len; i++) {
    gint ring = hf_proposing_named(asked, band->pdata[i]);
    double size = ring >= 0 ? hf_box_width(hf_proposing_box(asked, (guint)ring, 0)) : 0;
    least = fmin(least, size);
    most = fmax(most, size);
  }
  return most / fmax(least, 1e-3);
}

/* Bent letters are as wide at their tops as the band is there: they meet both rings all along. In a
 * wide band about a small ring nobody reads them. */
static void
fill_band(HfProposing *asked, guint entry, gboolean bent)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (e->words.band == NULL || e->words.band->len != 2 || (bent && e->words.letters == HF_BENT) ||
      (!bent && e->words.fill) || (bent && fans_out(asked, e->words.band) > MOST_FANNED))
    return;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase("let the letters of %s fill the band, %sbiting both of its rings",
                           hf_proposing_called(asked, e), bent ? "bent with it and " : ""));
  if (proposal == NULL)
    return;
  if (!isnan(e->words.font.height))
    hf_propose_take_out(asked, proposal, entry, "height");
  if (!isnan(e->words.font.size))
    hf_propose_take_out(asked, proposal, entry, "font size");
  if (bent)
    hf_propose_set(asked, proposal, entry, "letters", hf_node_new_word("bent"));
  hf_propose_set(asked, proposal, entry, "fill band", hf_node_new_word("yes"));
}

/* A separator of a size of its own: as large as the band is wide. */
static void
fill_with_separator(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const GPtrArray *band = hf_entry_band(e);
  if (band == NULL || band->len != 2 || isnan(e->separator.size))
    return;
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims(asked, (gint)entry),
      hf_phrase("let %s fill the band, biting both of its rings", hf_proposing_called(asked, e)));
  if (proposal == NULL)
    return;
  for (const HfField *field = hf_entry_row(e)->table.fields; field->key != NULL; field++)
    if ((field->roles & HF_ROLE_SIZE) != 0 && !isnan(hf_entry_length(e, field)))
      hf_propose_take_out(asked, proposal, entry, field->key);
}

/* The ring in whose window the entry stands, the narrowest; -1: none. */
static gint
ring_round(const HfProposing *asked, guint entry)
{
  HfBox own = hf_proposing_box(asked, entry, -1);
  double least = INFINITY;
  gint best = -1;
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *ring = hf_proposing_entry(asked, i);
    HfBox box = hf_proposing_box(asked, i, -1);
    if (ring->kind != HF_ENTRY_RING || ring->as != HF_AS_METAL || i == entry ||
        ring->ring.outer >= least || (ring->place.at != NULL && ring->place.at->len > 1))
      continue;
    if (hf_point_distance(hf_box_centre(own), hf_box_centre(box)) < hf_box_width(box) / 4 &&
        hf_box_width(own) < 1.2 * hf_box_width(box)) {
      least = ring->ring.outer;
      best = (gint)i;
    }
  }
  return best;
}

static void
reach_ring(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  gint ring = ring_round(asked, entry);
  if (e->initial.fill != NULL || e->initial.split_by != NULL || ring < 0)
    return;
  const char *name = hf_proposing_entry(asked, (guint)ring)->name;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase("enlarge %s until it bites %s", hf_proposing_called(asked, e), name));
  if (proposal == NULL)
    return;
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  if (!isnan(e->initial.font.height))
    hf_propose_take_out(asked, proposal, entry, "height");
  if (!isnan(e->initial.font.size))
    hf_propose_take_out(asked, proposal, entry, "font size");
  hf_propose_set(asked, proposal, entry, "fill window of", hf_node_new_text(name));
  hf_propose_set(asked, proposal, entry, "bite", hf_say_rough(e, "height", fmax(joint, 2)));
}

/* It stays clear of its ring because the recipe says so. */
static void
bite_instead_of_clear(HfProposing *asked, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (e->initial.fill == NULL || isnan(e->initial.clear))
    return;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase_knob_last(hf_phrase("let %s bite %s by ", hf_proposing_called(asked, e),
                                               e->initial.fill)));
  if (proposal == NULL)
    return;
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  hf_propose_knob(proposal, e, "clear", 0, fmax(joint / 2, 1), 4 * joint, 0.5);
  hf_propose_take_out(asked, proposal, entry, "clear");
  hf_propose_turn(asked, proposal, entry, "bite");
}

static void
propose_fill(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    HfEntryKind kind = hf_proposing_entry(asked, i)->kind;
    if (kind == HF_ENTRY_WORDS) {
      fill_band(asked, i, FALSE);
      fill_band(asked, i, TRUE);
    }
    if (kind == HF_ENTRY_SEPARATOR)
      fill_with_separator(asked, i);
    if (kind != HF_ENTRY_INITIAL)
      continue;
    bite_instead_of_clear(asked, i);
    reach_ring(asked, i);
  }
}

const HfFamily hf_family_fill = {.key = "fill", .guards = HF_GUARDS_USUAL, .propose = propose_fill};

/* ---- ring --------------------------------------------------------------------------------------
 */

/* The ring is inside out of what it should meet: its inner edge comes in, or its outer edge out. */
static void
ring_in(HfProposing *asked, guint ring, GArray *aims, double gap, double joint)
{
  const HfEntry *e = hf_proposing_entry(asked, ring);
  gboolean by_width = isnan(e->ring.inner);
  double now = by_width ? e->ring.width : e->ring.inner, way = by_width ? 1 : -2;
  HfProposal *proposal =
      hf_propose(asked, aims,
                 hf_phrase_knob(hf_phrase("make the %s of %s ", by_width ? "strip" : "opening",
                                          hf_proposing_called(asked, e)),
                                "%s", by_width ? " wider, inward" : " smaller"));
  if (proposal == NULL)
    return;
  const char *key = by_width ? "width" : "inner";
  hf_propose_knob(proposal, e, key, now, now + way * (gap + 0.2), now + way * (gap + 3 * joint),
                  0.5);
  hf_propose_turn(asked, proposal, ring, key);
}

static void
ring_out(HfProposing *asked, guint ring, GArray *aims, double gap, double joint)
{
  const HfEntry *e = hf_proposing_entry(asked, ring);
  HfProposal *proposal =
      hf_propose(asked, aims,
                 hf_phrase_knob(hf_phrase("make %s ", hf_proposing_called(asked, e)),
                                " larger across, outward"));
  if (proposal == NULL)
    return;
  double now = e->ring.outer;
  hf_propose_knob(proposal, e, "outer", now, now + 2 * (gap + 0.2), now + 2 * (gap + 3 * joint),
                  0.5);
  hf_propose_turn(asked, proposal, ring, "outer");
  if (!isnan(e->ring.inner))
    return;
  /* the inner edge stays: the strip grows by half of what the diameter does */
  hf_propose_take_out(asked, proposal, ring, "width");
  hf_propose_set(asked, proposal, ring, "inner", hf_say_mm(e, "width", now - 2 * e->ring.width));
}

/* The same strip, about a circle that is smaller or larger. */
static void
ring_moved(HfProposing *asked, guint ring, GArray *aims, double gap, double joint, double way)
{
  const HfEntry *e = hf_proposing_entry(asked, ring);
  if (!isnan(e->ring.inner)) {
    g_array_unref(aims);
    return;
  }
  HfProposal *proposal = hf_propose(
      asked, aims,
      hf_phrase_knob(hf_phrase("make %s ", hf_proposing_called(asked, e)),
                     " %s across, its strip as wide as it is", way < 0 ? "smaller" : "larger"));
  if (proposal == NULL)
    return;
  double now = e->ring.outer;
  hf_propose_knob(proposal, e, "outer", now, now + way * 2 * (gap + 0.2),
                  now + way * 2 * (gap + 3 * joint), 0.5);
  hf_propose_turn(asked, proposal, ring, "outer");
}

/* The largest gap between @ring and what hangs inside it (or outside); < 0: nothing does. */
static double
gap_at_ring(HfProposing *asked, guint ring, gboolean inside, guint *ret_entry)
{
  const HfSign *sign = asked->sign;
  const GArray *pieces = hf_proposing_pieces(asked);
  HfBox box = hf_proposing_box(asked, ring, 0);
  HfPoint centre = hf_box_centre(box);
  double most = -1;
  for (guint i = 0; i < pieces->len; i++) {
    const HfAdrift *piece = &g_array_index(pieces, HfAdrift, i);
    const HfShape *shape = hf_layout_shape(sign->layout, piece->shape);
    gboolean is_ring = shape->entry == ring;
    if (!is_ring && (piece->to_shape >= sign->layout->shapes->len ||
                     hf_layout_shape(sign->layout, piece->to_shape)->entry != ring))
      continue;
    HfPoint off = is_ring ? piece->to : piece->from, on = is_ring ? piece->from : piece->to;
    gboolean within = hf_point_distance(off, centre) < hf_point_distance(on, centre);
    if (within != inside || piece->gap <= most || piece->gap > hf_box_width(box) / 4)
      continue;
    most = piece->gap;
    *ret_entry = shape->entry;
  }
  return most;
}

static void
propose_ring(HfProposing *asked)
{
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (e->kind != HF_ENTRY_RING || e->as != HF_AS_METAL)
      continue;
    guint other = i;
    double gap = gap_at_ring(asked, i, TRUE, &other);
    if (gap >= 0) {
      ring_in(asked, i, hf_proposing_aims(asked, (gint)other), gap, joint);
      ring_moved(asked, i, hf_proposing_aims(asked, (gint)other), gap, joint, -1);
    }
    gap = gap_at_ring(asked, i, FALSE, &other);
    if (gap >= 0) {
      ring_out(asked, i, hf_proposing_aims(asked, (gint)other), gap, joint);
      ring_moved(asked, i, hf_proposing_aims(asked, (gint)other), gap, joint, 1);
    }
  }
}

const HfFamily hf_family_ring = {.key = "ring", .guards = HF_GUARDS_USUAL, .propose = propose_ring};
