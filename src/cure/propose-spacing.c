/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-spacing.c - letters closer until neighbours join, further apart until the gap can be cut.
 *
 *    B  A  K  E        BAKE          closer: each gap g needs spacing - g - a joint
 *     g1 g2 g3
 */
#include "cure/propose-private.h"
#include "geom/apart.h"
#include "geom/index.h"
#include <string.h>

#define COARSE     0.05 /* mm, of the letters' chords here */
#define MOST_PAIRS 120
#define CLOSEST    0.5 /* letter heights that letters may move together */

/* ---- gaps between neighbours ------------------------------------------------------------------
 */

static HfRegion *
region_of(const HfShape *shape)
{
  return hf_region_of_outline(shape->outline, 0, COARSE);
}

/* The gap from edge @p of @a to ring @s of @b, whose box is @ring_box; @least when it is no less.
 */
static double
gap_from(const HfRegion *a, HfEdgeId p, const HfRegion *b, guint s, HfBox ring_box, double least)
{
  const HfRing *ring = hf_region_ring(b, s);
  HfPoint from = hf_edge_start(a, p), to = hf_edge_end(a, p), on, other;
  HfBox box = hf_box_add_point(hf_box_add_point(HF_BOX_EMPTY, from), to);
  if (!hf_box_overlaps(hf_box_grow(ring_box, least), box))
    return least;
  for (guint w = 0; w < ring->n; w++) {
    HfEdgeId q = {s, w};
    least =
        fmin(least, hf_segment_gap(from, to, hf_edge_start(b, q), hf_edge_end(b, q), &on, &other));
  }
  return least;
}

double
hf_proposing_gap(const HfRegion *a, const HfRegion *b)
{
  double least = INFINITY;
  for (guint s = 0; s < b->rings->len; s++) {
    if (hf_region_ring(b, s)->parent >= 0)
      continue;
    HfBox box = hf_ring_box(hf_region_ring(b, s));
    for (guint r = 0; r < a->rings->len; r++)
      for (guint v = 0; hf_region_ring(a, r)->parent < 0 && v < hf_region_ring(a, r)->n; v++)
        least = gap_from(a, (HfEdgeId){r, v}, b, s, box, least);
  }
  return least;
}

static gboolean
has_neighbours(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  guint letters = 0;
  for (guint i = 0; i < layout->shapes->len && letters < 2; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    letters += shape->entry == entry && shape->letter >= 0 && shape->copy == 0;
  }
  return letters > 1;
}

/* The narrowest and the widest gap between neighbouring letters of @entry, mm; 0 where they touch.
 * %FALSE: it has no two letters beside each other. A gap as wide as the letters are high is a space
 * or the end of a line. */
static gboolean
gaps_of(const HfProposing *asked, guint entry, double *ret_least, double *ret_most)
{
  const HfLayout *layout = asked->sign->layout;
  g_autoptr(HfRegion) last = NULL;
  guint pairs = 0;
  *ret_least = INFINITY;
  *ret_most = 0;
  for (guint i = 0; i < layout->shapes->len && pairs < MOST_PAIRS; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != entry || shape->letter < 0 || shape->copy > 0)
      continue;
    g_autoptr(HfRegion) own = region_of(shape);
    double gap = last != NULL ? hf_proposing_gap(last, own) : INFINITY;
    if (gap < 0.7 * shape->letter_height) {
      *ret_least = fmin(*ret_least, gap);
      *ret_most = fmax(*ret_most, gap);
      pairs++;
    }
    hf_region_free(last);
    last = g_steal_pointer(&own);
  }
  return pairs > 0;
}

/* ---- spacing as it is --------------------------------------------------------------------------
 */

double
hf_proposing_spacing(const HfProposing *asked, guint entry)
{
  double solved = hf_proposing_solved(asked, entry, HF_SOLVED_SPACING);
  const HfWordsEntry *words = &hf_proposing_entry(asked, entry)->words;
  if (!isnan(solved))
    return solved;
  if (isnan(words->spacing.value))
    return 0;
  return words->spacing.is_share ? words->spacing.value * hf_proposing_height(asked, entry)
                                 : words->spacing.value;
}

/* In mm; said as a share where the recipe says it as a share. */
static void
spacing_knob(const HfProposing *asked, HfProposal *proposal, guint entry, double now, double least,
             double most)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double height = hf_proposing_height(asked, entry);
  if (e->words.spacing.is_share && e->words.spacing_rule == HF_SPACING_AS_GIVEN && height > 0)
    hf_propose_knob_share(proposal, now / height, least / height, most / height);
  else
    hf_propose_knob_free(proposal, e, "spacing", now, least, most, 0.1);
  hf_propose_turn(asked, proposal, entry, "spacing");
}

static gboolean
is_words(const HfProposing *asked, guint entry, HfAs as)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  return e->kind == HF_ENTRY_WORDS && e->as == as;
}

/* ---- closer ------------------------------------------------------------------------------------
 */

static void
closer(HfProposing *asked, guint entry, const GArray *aims)
{
  double least = 0, most = 0, now = hf_proposing_spacing(asked, entry);
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double height = hf_proposing_height(asked, entry);
  if (!gaps_of(asked, entry, &least, &most) || !(height > 0))
    return;
  double farthest = fmin(most + 3 * joint, CLOSEST * height);
  HfProposal *proposal = hf_propose(
      asked, g_array_copy((GArray *)aims),
      hf_phrase_knob(hf_phrase("bring the letters of %s ",
                               hf_proposing_called(asked, hf_proposing_entry(asked, entry))),
                     " closer"));
  if (proposal == NULL)
    return;
  double first = fmin(least + 0.2, farthest);
  spacing_knob(asked, proposal, entry, now, now - first, now - farthest);
}

/* A joint that was asked for and is too narrow: deeper. */
static void
deeper_joint(HfProposing *asked, guint entry, const GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double limit = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double now = isnan(e->words.joint) ? HF_OVER_LIMIT * limit : e->words.joint;
  HfProposal *proposal = hf_propose(
      asked, g_array_copy((GArray *)aims),
      hf_phrase_knob(hf_phrase("let the letters of %s run ", hf_proposing_called(asked, e)),
                     " further into each other"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "joint", now, now + 0.2, now + 3 * limit, 0.1);
  hf_propose_turn(asked, proposal, entry, "joint");
}

static double
line_spacing_now(const HfProposing *asked, guint entry)
{
  HfMeasure given = hf_proposing_entry(asked, entry)->words.line_spacing;
  double height = hf_proposing_height(asked, entry);
  return isnan(given.value) ? 1.5 * height : given.is_share ? given.value * height : given.value;
}

/* @way -1: lines closer, 1: further apart; by @least to @most mm. */
static void
lines(HfProposing *asked, guint entry, const GArray *aims, double way, double least, double most)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = line_spacing_now(asked, entry), height = hf_proposing_height(asked, entry);
  if (e->words.lines == NULL || e->words.lines->len < 2 || !(height > 0))
    return;
  HfProposal *proposal =
      hf_propose(asked, g_array_copy((GArray *)aims),
                 hf_phrase_knob(hf_phrase("%s the lines of %s ", way > 0 ? "set" : "bring",
                                          hf_proposing_called(asked, e)),
                                " %s", way > 0 ? "further apart" : "closer"));
  if (proposal == NULL)
    return;
  if (isnan(e->words.line_spacing.value) || e->words.line_spacing.is_share)
    hf_propose_knob_share(proposal, now / height, (now + way * least) / height,
                          (now + way * most) / height);
  else
    hf_propose_knob(proposal, e, "line spacing", now, now + way * least, now + way * most, 0.5);
  hf_propose_turn(asked, proposal, entry, "line spacing");
}

static void
propose_closer(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    if (aims->len == 0 || !is_words(asked, i, HF_AS_METAL))
      continue;
    if (hf_proposing_entry(asked, i)->words.spacing_rule == HF_SPACING_AS_GIVEN)
      closer(asked, i, aims);
    else
      deeper_joint(asked, i, aims);
    lines(asked, i, aims, -1, 0.5, 0.8 * hf_proposing_height(asked, i));
  }
}

const HfFamily hf_family_closer = {
    .key = "closer", .guards = HF_GUARDS_USUAL, .propose = propose_closer};

/* ---- joined ------------------------------------------------------------------------------------
 */

static void
joined(HfProposing *asked, guint entry, const GArray *aims, const char *rule, const char *how)
{
  HfProposal *proposal =
      hf_propose(asked, g_array_copy((GArray *)aims),
                 hf_phrase("join the letters of %s, %s",
                           hf_proposing_called(asked, hf_proposing_entry(asked, entry)), how));
  if (proposal != NULL)
    hf_propose_set(asked, proposal, entry, "spacing", hf_node_new_word(rule));
}

static void
propose_joined(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    if (aims->len == 0 || !is_words(asked, i, HF_AS_METAL))
      continue;
    HfSpacingRule rule = hf_proposing_entry(asked, i)->words.spacing_rule;
    if (rule == HF_SPACING_PAIRS || !has_neighbours(asked, i))
      continue;
    joined(asked, i, aims, "joined pair by pair", "each pair by itself");
    if (rule == HF_SPACING_AS_GIVEN)
      joined(asked, i, aims, "joined", "all at one spacing");
  }
}

const HfFamily hf_family_joined = {
    .key = "joined", .guards = HF_GUARDS_USUAL, .propose = propose_joined};

/* ---- further -----------------------------------------------------------------------------------
 */

/* The other words that take part in @aim beside @entry; -1: there are none. */
static gint
other_words(const HfProposing *asked, guint aim, guint entry)
{
  const HfFinding *finding = hf_proposing_finding(asked, aim);
  for (guint i = 0; i < finding->entries->len; i++) {
    guint other = g_array_index(finding->entries, guint, i);
    if (other != entry && hf_proposing_entry(asked, other)->kind == HF_ENTRY_WORDS)
      return (gint)other;
  }
  return -1;
}

/* Two entries of words that come too near to each other: the narrower one away, straight up, down
 * or to a side, whichever way they are farther apart already. */
static void
words_apart(HfProposing *asked, guint entry, const GArray *aims)
{
  for (guint i = 0; i < aims->len; i++) {
    gint other = other_words(asked, g_array_index(aims, guint, i), entry);
    if (other < 0)
      continue;
    HfBox own = hf_proposing_box(asked, entry, -1), its = hf_proposing_box(asked, (guint)other, -1);
    if (hf_box_width(own) > hf_box_width(its) ||
        (hf_box_width(own) == hf_box_width(its) && (gint)entry > other))
      return;
    HfPoint way = hf_point_sub(hf_box_centre(own), hf_box_centre(its));
    gboolean level = fabs(way.x) / (hf_box_width(own) + hf_box_width(its)) >
                     fabs(way.y) / (hf_box_height(own) + hf_box_height(its));
    way = level ? hf_point(way.x < 0 ? -1 : 1, 0) : hf_point(0, way.y < 0 ? -1 : 1);
    const HfEntry *e = hf_proposing_entry(asked, entry);
    double lack = fmax(hf_proposing_lack(asked, aims), 0.5);
    HfProposal *proposal = hf_propose(
        asked, g_array_copy((GArray *)aims),
        hf_phrase_knob(hf_phrase("move %s ", hf_proposing_called(asked, e)), " %s, away from %s",
                       hf_say_way(way),
                       hf_proposing_called(asked, hf_proposing_entry(asked, (guint)other))));
    hf_propose_knob(proposal, e, "shift", 0, lack,
                    4 * lack + 0.3 * hf_proposing_height(asked, entry), 0.5);
    if (!hf_propose_move(asked, proposal, entry, 0, hf_point(0, 0), way))
      g_ptr_array_remove(asked->found, proposal);
    return;
  }
}

/* Wider spacing helps between letters of the same words alone. */
static gboolean
all_with_others(const HfProposing *asked, guint entry, const GArray *aims)
{
  for (guint i = 0; i < aims->len; i++)
    if (other_words(asked, g_array_index(aims, guint, i), entry) < 0)
      return FALSE;
  return TRUE;
}

/* ---- letters that touch and read as another ----------------------------------------------------
 *
 *     rn   r n        Each pair from where the face puts it: along the line to where the second is
 *                     clear of the first by the narrowest gap that can be cut (geom/apart.h). A
 *                     pair that the face joins stays so.
 */

/* One of @aims is of letters that read as others by how near they stand, or of a point of metal
 * between two that are cut through and run into each other. */
static gboolean
reads_together(const HfProposing *asked, const GArray *aims)
{
  for (guint i = 0; i < aims->len; i++) {
    const HfFinding *finding = hf_proposing_finding(asked, g_array_index(aims, guint, i));
    if (finding->kind == HF_LAW_BURNT_TIP && finding->names->len > 1)
      return TRUE;
    if (finding->kind == HF_LAW_CHANGED_LETTER &&
        (g_strcmp0(finding->form, "pair") == 0 || g_strcmp0(finding->form, "mouth") == 0))
      return TRUE;
  }
  return FALSE;
}

/* mm of spacing, from the face's own on, at which @second is clear of @first by @gap; 0 where the
 * face joins the two. */
static double
clear_spacing(const HfShape *first, const HfShape *second, double gap)
{
  HfPoint along = {first->em.xx, first->em.yx};
  double em = hf_point_length(along);
  HfPoint at = hf_matrix_undo(first->em, hf_point(second->em.x0, second->em.y0));
  double now = (at.x - (second->pen - first->pen)) * em;
  HfPoint way = hf_point_scale(along, 1 / em);
  g_autoptr(HfRegion) a = region_of(first), b = region_of(second);
  g_autoptr(HfRegion) own = hf_region_clean(a), its = hf_region_clean(b);
  g_autoptr(GArray) joined = hf_apart_blocked(its, own, way);
  if (hf_apart_from(joined, -now) > -now)
    return 0;
  g_autoptr(HfRegion) grown = hf_region_offset(own, gap, COARSE);
  g_autoptr(GArray) blocked = hf_apart_blocked(its, grown, way);
  return hf_apart_from(blocked, -now) + now;
}

/* The least spacing at which no two letters of @entry touch but those that the face joins. */
static double
spacing_apart(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  const HfShape *last = NULL;
  double gap = hf_proposing_limit(asked, HF_LAW_NARROW_GAP), most = 0;
  guint pairs = 0;
  for (guint i = 0; i < layout->shapes->len && pairs < MOST_PAIRS; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != entry || shape->letter < 0 || shape->copy > 0 || shape->mends > 0)
      continue;
    if (last != NULL && last->line == shape->line && shape->letter == last->letter + 1) {
      most = fmax(most, clear_spacing(last, shape, gap));
      pairs++;
    }
    last = shape;
  }
  return most;
}

/* Letters that are joined by a rule, no deeper than they must. */
static void
shallower_joint(HfProposing *asked, guint entry, const GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double limit = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double now = isnan(e->words.joint) ? HF_OVER_LIMIT * limit : e->words.joint;
  if (now < limit + 0.2)
    return;
  HfProposal *proposal = hf_propose(
      asked, g_array_copy((GArray *)aims),
      hf_phrase_knob(hf_phrase("let the letters of %s run ", hf_proposing_called(asked, e)),
                     " less far into each other"));
  hf_propose_knob(proposal, e, "joint", now, now - 0.2, limit, 0.1);
  hf_propose_turn(asked, proposal, entry, "joint");
}

/* A joint is said of letters that are joined alone. */
static void
no_joint(const HfProposing *asked, HfProposal *proposal, guint entry)
{
  if (!isnan(hf_proposing_entry(asked, entry)->words.joint))
    hf_propose_take_out(asked, proposal, entry, "joint");
}

/* Not joined any more: as the face spaces them, and as much further as they touch there. */
static void
as_the_face_has(HfProposing *asked, guint entry, const GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const char *called = hf_proposing_called(asked, e);
  double apart = 0.1 * ceil(10 * spacing_apart(asked, entry));
  if (apart <= 0) {
    HfProposal *proposal =
        hf_propose(asked, g_array_copy((GArray *)aims),
                   hf_phrase("let the letters of %s stand as their face has them", called));
    hf_propose_set(asked, proposal, entry, "spacing", hf_say_mm(e, "spacing", 0));
    no_joint(asked, proposal, entry);
    return;
  }
  HfProposal *proposal =
      hf_propose(asked, g_array_copy((GArray *)aims),
                 hf_phrase_knob(hf_phrase("set the letters of %s ", called),
                                " further apart than their face does, so that they do not touch"));
  hf_propose_knob_free(proposal, e, "spacing", 0, apart, apart + 2, 0.1);
  hf_propose_turn(asked, proposal, entry, "spacing");
  no_joint(asked, proposal, entry);
}

static void
further_apart(HfProposing *asked, guint entry, const GArray *aims, double least, double most)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double now = hf_proposing_spacing(asked, entry);
  if (e->words.spacing_rule == HF_SPACING_PAIRS || !has_neighbours(asked, entry) ||
      all_with_others(asked, entry, aims))
    return;
  HfProposal *proposal =
      hf_propose(asked, g_array_copy((GArray *)aims),
                 hf_phrase_knob(hf_phrase("set the letters of %s ", hf_proposing_called(asked, e)),
                                " further apart"));
  spacing_knob(asked, proposal, entry, now, now + fmin(least, most), now + most);
  no_joint(asked, proposal, entry);
}

static void
propose_further(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (aims->len == 0 || e->kind != HF_ENTRY_WORDS)
      continue;
    double lack = fmax(hf_proposing_lack(asked, aims), 0.5), height = hf_proposing_height(asked, i);
    double most = fmin(3 * lack + 0.1 * height, height);
    lines(asked, i, aims, 1, fmax(lack / 2, 0.5), most);
    words_apart(asked, i, aims);
    if (!reads_together(asked, aims)) {
      further_apart(asked, i, aims, lack / 2, most);
      continue;
    }
    double apart = spacing_apart(asked, i) - hf_proposing_spacing(asked, i);
    double room = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
    further_apart(asked, i, aims, lack / 2, fmax(most, apart + room));
    if (e->words.spacing_rule == HF_SPACING_AS_GIVEN)
      continue;
    shallower_joint(asked, i, aims);
    as_the_face_has(asked, i, aims);
  }
}

const HfFamily hf_family_further = {
    .key = "further", .guards = HF_GUARDS_USUAL, .propose = propose_further};
