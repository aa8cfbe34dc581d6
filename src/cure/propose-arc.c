/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-arc.c - words on an arc, set by the radius of their arc: those that are cut through a
 * ring or a round plate into the middle of its strip, or so far in that they keep a margin; those
 * that stand on a ring deeper into it.
 *
 *      ,-------.            ,-------.             BOAT               BOAT
 *    /   ,---.   \        /  B O A T  \         ,------.            ,====.
 *   |  B O A T    |  ->  |    ,---.    |       /        \    ->    /      \
 *      over the edge        mid strip          a crack              deeper
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include "geom/index.h"

static const double COARSE = 0.05;  /* mm, of the letters' chords */
static const double STROKE = 0.12;  /* of the letter height: the margin is a stroke at least */
static const double MOVES = 0.3;    /* mm: less is no move */
static const double STANDS = 0.3;   /* letter heights: so near to the ring, words stand on it */
static const double DEEPEST = 0.75; /* of the strip: deeper, they come out behind it */

/* Words, and the ring or round plate about whose centre their arc runs. */
typedef struct {
  guint words, host;
  HfPoint centre;
  double low, high;   /* its metal: radii, mm */
  double near, far;   /* the words' ink */
  double height, way; /* of the letters; 1: their tops point outward, -1: inward */
} Arc;

/* ---- what is there ----------------------------------------------------------------------------
 */

/* %FALSE: neither a ring nor a round plate. */
static gboolean
strip_of(const HfEntry *host, double *ret_low, double *ret_high)
{
  if (host->as != HF_AS_METAL || (host->place.at != NULL && host->place.at->len > 1))
    return FALSE;
  if (host->kind == HF_ENTRY_RING) {
    *ret_high = host->ring.outer / 2;
    *ret_low = isnan(host->ring.inner) ? *ret_high - host->ring.width : host->ring.inner / 2;
    return TRUE;
  }
  if (host->kind != HF_ENTRY_PLATE || host->plate.shape != HF_PLATE_ROUND)
    return FALSE;
  *ret_high = host->plate.diameter / 2;
  *ret_low = 0;
  return TRUE;
}

/* The ink's nearest and farthest point from @centre. */
static void
reach_of(const HfProposing *asked, HfPoint centre, Arc *arc)
{
  const HfLayout *layout = asked->sign->layout;
  arc->near = INFINITY;
  arc->far = 0;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != arc->words || shape->letter < 0)
      continue;
    g_autoptr(HfRegion) ink = hf_region_of_outline(shape->outline, 0, COARSE);
    for (guint r = 0; r < ink->rings->len; r++)
      for (guint v = 0; v < hf_region_ring(ink, r)->n; v++) {
        HfPoint a = hf_edge_start(ink, (HfEdgeId){r, v}), b = hf_edge_end(ink, (HfEdgeId){r, v});
        HfPoint on = hf_segment_nearest(a, b, centre, NULL);
        arc->near = fmin(arc->near, hf_point_distance(on, centre));
        arc->far = fmax(arc->far, hf_point_distance(a, centre));
      }
  }
}

static const HfShape *
first_letter(const HfProposing *asked, guint words)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++)
    if (hf_layout_shape(layout, i)->entry == words && hf_layout_shape(layout, i)->letter >= 0)
      return hf_layout_shape(layout, i);
  return NULL;
}

/* Does the arc of a letter run about the middle of @host, its top outward or inward? Its foot is
 * the pen before it, half an advance off the place where it meets the arc. */
static gboolean
runs_about(const HfShape *letter, double radius, HfPoint middle, double *ret_way)
{
  HfPoint up = {letter->em.xy, letter->em.yy}, foot = {letter->em.x0, letter->em.y0};
  double r = radius / fmax(hf_point_length(up), 1e-9);
  double outward = hf_point_distance(hf_point_sub(foot, hf_point_scale(up, r)), middle);
  double inward = hf_point_distance(hf_point_add(foot, hf_point_scale(up, r)), middle);
  *ret_way = outward < inward ? 1 : -1;
  return fmin(outward, inward) < letter->letter_height;
}

/* %FALSE: no words on an arc about a ring or a round plate. */
static gboolean
find_arc(const HfProposing *asked, guint entry, Arc *arc)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfShape *letter = first_letter(asked, entry);
  if (e->kind != HF_ENTRY_WORDS || !(e->words.arc_radius > 0) || letter == NULL ||
      (e->place.at != NULL && e->place.at->len > 1))
    return FALSE;
  *arc = (Arc){.words = entry, .height = letter->letter_height};
  gboolean found = FALSE;
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    HfPoint middle = hf_box_centre(hf_proposing_box(asked, i, -1));
    if (i == entry || !strip_of(hf_proposing_entry(asked, i), &arc->low, &arc->high) ||
        !runs_about(letter, e->words.arc_radius, middle, &arc->way))
      continue;
    reach_of(asked, middle, arc);
    arc->host = i;
    arc->centre = middle;
    found = TRUE;
    if (arc->near < arc->high + STANDS * arc->height && arc->far > arc->low)
      break;
  }
  return found;
}

/* ---- into the middle of the strip -------------------------------------------------------------
 */

/* (transfer full) (element-type Arc) All words that are cut through @host on arcs about it. */
static GArray *
cut_through(const HfProposing *asked, guint host)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(Arc));
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    Arc arc;
    if (hf_proposing_entry(asked, i)->as == HF_AS_OPENING && find_arc(asked, i, &arc) &&
        arc.host == host)
      g_array_append_val(all, arc);
  }
  return all;
}

static double
margin_for(const HfProposing *asked, const Arc *arc)
{
  return fmax(STROKE * arc->height, hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB));
}

/* How far out the words go: so far that they keep a margin to both edges, or to the @middle; NAN:
 * they have no room. A plate has no inner edge: its middle is no place for words on an arc. */
static double
way_out(const HfProposing *asked, const Arc *arc, gboolean middle)
{
  double margin = margin_for(asked, arc), low = arc->low > 0 ? arc->low + margin : 0;
  double inward = fmin(arc->high - margin - arc->far, 0), outward = fmax(low - arc->near, 0);
  if (arc->far - arc->near > arc->high - margin - low)
    return NAN;
  if (middle)
    return arc->low > 0 ? (arc->low + arc->high) / 2 - (arc->near + arc->far) / 2 : NAN;
  return inward + outward;
}

/* "words to the middle of the strip of ring" */
static HfPhrase
moved(const HfProposing *asked, const GArray *names, guint host, const Arc *arc, gboolean middle)
{
  g_autofree char *called = hf_proposing_kin_called(asked, names);
  const char *on = hf_proposing_called(asked, hf_proposing_entry(asked, host));
  if (middle)
    return hf_phrase("move %s to the middle of the strip of %s", called, on);
  g_autofree char *figure = hf_text_at_least(ceil(margin_for(asked, arc)));
  return hf_phrase("move %s %s from the edge of %s", called, figure, on);
}

/* How much further apart the letters of all of them must be set; NAN: they can't. */
static double
needs_apart(const HfProposing *asked, const GArray *all, gboolean middle)
{
  double web = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB), most = 0;
  for (guint i = 0; i < all->len; i++) {
    const Arc *arc = &g_array_index(all, Arc, i);
    const HfEntry *e = hf_proposing_entry(asked, arc->words);
    if (e->words.spacing_rule != HF_SPACING_AS_GIVEN)
      return NAN;
    double radius = e->words.arc_radius, out = way_out(asked, arc, middle);
    double apart = hf_proposing_spread(asked, arc->words, arc->centre, radius, radius + out, web);
    if (isnan(apart))
      return NAN;
    most = fmax(most, apart);
  }
  return most;
}

/* On a wider arc what was turned into each other opens; what still stands too close is set further
 * apart, and all is tied: one change, as a maker would make it. */
static void
spread(HfProposing *asked, HfProposal *proposal, const GArray *all, double apart)
{
  const HfEntry *e = hf_proposing_entry(asked, g_array_index(all, Arc, 0).words);
  double web = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB);
  hf_propose_knob_free(proposal, e, "spacing", 0, apart, apart + web, 0.5);
  for (guint i = 0; i < all->len; i++) {
    guint words = g_array_index(all, Arc, i).words;
    const HfEntry *each = hf_proposing_entry(asked, words);
    double now = hf_proposing_spacing(asked, words), height = hf_proposing_height(asked, words);
    HfNode *share =
        hf_node_new_number(100 * now / height, 100 * hf_unit_mm(proposal->unit) / height, 1, "%");
    HfNode *length = hf_say_slide(proposal, now, 1, hf_entry_unit(each, "spacing"));
    gboolean as_share = each->words.spacing.is_share;
    hf_propose_set(asked, proposal, words, "spacing", as_share ? share : length);
    hf_node_free(as_share ? length : share);
  }
  if (hf_proposing_rule(asked) < 0)
    hf_propose_ties(proposal);
}

/* Takes @phrase. */
static HfPhrase
and_spread(const HfProposing *asked, HfPhrase phrase)
{
  g_autofree char *before = phrase.before;
  const char *tied = hf_proposing_rule(asked) < 0 ? ", and tie what is loose" : "";
  return hf_phrase_knob(hf_phrase("%s, set their letters ", before), " further apart%s", tied);
}

static gboolean
any_stop(const HfProposing *asked, const GArray *aims)
{
  return aims->len > 0 && /* the gravest first */
         hf_proposing_finding(asked, g_array_index(aims, guint, 0))->gravity == HF_STOP;
}

/* All that is cut through a strip moves as one, each line by its own way. */
static void
move_on(HfProposing *asked, guint host, const GArray *all, gboolean middle, gboolean wider)
{
  g_autoptr(GArray) names = g_array_new(FALSE, FALSE, sizeof(guint));
  double most = 0;
  for (guint i = 0; i < all->len; i++) {
    const Arc *arc = &g_array_index(all, Arc, i);
    double out = way_out(asked, arc, middle);
    if (isnan(out))
      return;
    most = fmax(most, fabs(out));
    g_array_append_val(names, arc->words);
  }
  double apart = wider ? needs_apart(asked, all, middle) : 0;
  if (most <= MOVES || isnan(apart) || (wider && apart <= 0))
    return;
  g_autoptr(GArray) aims = hf_proposing_kin_aims(asked, names);
  if (wider && !any_stop(asked, aims)) /* a caution alone is worth no new spacing */
    return;
  HfPhrase phrase = moved(asked, names, host, &g_array_index(all, Arc, 0), middle);
  HfProposal *proposal =
      hf_propose(asked, g_array_ref(aims), wider ? and_spread(asked, phrase) : phrase);
  for (guint i = 0; proposal != NULL && i < all->len; i++) {
    const Arc *arc = &g_array_index(all, Arc, i);
    const HfEntry *e = hf_proposing_entry(asked, arc->words);
    double radius = e->words.arc_radius + way_out(asked, arc, middle);
    hf_propose_set(asked, proposal, arc->words, "arc radius", hf_say_mm(e, "arc radius", radius));
  }
  if (proposal != NULL && wider)
    spread(asked, proposal, all, apart);
}

/* ---- deeper -----------------------------------------------------------------------------------
 */

/* What is better where they run deeper in: not a web that is thin. */
static GArray *
aims_at_joints(const HfProposing *asked, guint words)
{
  GArray *aims = hf_proposing_aims(asked, (gint)words);
  for (guint i = aims->len; i-- > 0;) {
    HfLawKind kind = hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind;
    if (hf_law(kind)->trouble != HF_TROUBLE_HELD && kind != HF_LAW_WEAK_JOINT &&
        kind != HF_LAW_CRACK && !hf_law_is_of_gap(kind))
      g_array_remove_index(aims, i);
  }
  return aims;
}

/* Words that stand on the outer edge of their ring, or hang from its inner edge: into its metal. */
static void
deepen(HfProposing *asked, const Arc *arc)
{
  double over = arc->near - arc->high, under = arc->low - arc->far;
  gboolean outside = arc->far > arc->high && over < STANDS * arc->height;
  gboolean inside = arc->near < arc->low && under < STANDS * arc->height;
  if (outside == inside)
    return;
  const HfEntry *e = hf_proposing_entry(asked, arc->words);
  double way = outside ? -1 : 1, gap = fmax(outside ? over : under, 0);
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT), now = e->words.arc_radius;
  double least = gap > 0 ? gap + joint / 2 : 0.2;
  double most = fmin(gap + 3 * joint, gap + DEEPEST * (arc->high - arc->low));
  if (most < least)
    return;
  HfProposal *proposal = hf_propose(
      asked, aims_at_joints(asked, arc->words),
      hf_phrase_knob(hf_phrase("let %s run ", hf_proposing_called(asked, e)), " deeper into %s",
                     hf_proposing_called(asked, hf_proposing_entry(asked, arc->host))));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "arc radius", now, now + way * least, now + way * most, 0.2);
  hf_propose_turn(asked, proposal, arc->words, "arc radius");
}

static void
propose_arc(HfProposing *asked)
{
  g_autoptr(GArray) any = hf_proposing_aims(asked, -1);
  for (guint i = 0; any->len > 0 && i < hf_proposing_n(asked); i++) {
    Arc arc;
    double low, high;
    g_autoptr(GArray) all = NULL;
    if (hf_proposing_entry(asked, i)->as == HF_AS_METAL && find_arc(asked, i, &arc))
      deepen(asked, &arc);
    if (strip_of(hf_proposing_entry(asked, i), &low, &high))
      all = cut_through(asked, i);
    if (all == NULL || all->len == 0)
      continue;
    move_on(asked, i, all, low > 0, FALSE);
    move_on(asked, i, all, low > 0, TRUE);
  }
}

const HfFamily hf_family_arc = {.key = "arc", .guards = HF_GUARDS_USUAL, .propose = propose_arc};
