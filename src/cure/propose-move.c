/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-move.c - an entry moved: nearer until it runs into other metal, or away from what it is
 * too near to.
 */
#include "cure/propose-private.h"
#include "geom/index.h"
#include "recipe/kind.h"

#define FAR_AWAY 0.6 /* of the sign: what is farther off is not moved there */

/* ---- nearer ------------------------------------------------------------------------------------
 */

static const HfShape *
shape_of(const HfProposing *asked, const HfAdrift *piece)
{
  return hf_layout_shape(asked->sign->layout, piece->shape);
}

static HfPoint
way_of(const HfAdrift *piece, const HfShape *shape)
{
  HfPoint way = hf_point_sub(piece->to, piece->from);
  double length = hf_point_length(way);
  if (length > 1e-6)
    return hf_point_scale(way, 1 / length);
  way = hf_point_sub(piece->to, hf_box_centre(hf_outline_box(shape->outline)));
  length = hf_point_length(way);
  return length > 1e-6 ? hf_point_scale(way, 1 / length) : hf_point(0, -1);
}

/* Beside another entry: the gap between the two is what the user said. */
static gboolean
narrow_gap(HfProposing *asked, const HfAdrift *piece, guint entry)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfPlace *place = &e->place;
  const char *beside = hf_proposing_beside(place);
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  if (beside == NULL)
    return FALSE;
  double now = isnan(place->gap) ? 0 : place->gap;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase_knob(hf_phrase("bring %s ", hf_proposing_called(asked, e)),
                                " nearer to %s", beside));
  if (proposal == NULL)
    return TRUE;
  double least = now - piece->gap - 0.2;
  hf_propose_knob_free(proposal, e, "gap", now, least, least - 3 * joint, 0.2);
  hf_propose_turn(asked, proposal, entry, "gap");
  return TRUE;
}

/* Rings of a band must stay about one centre, a ring with an initial in its window keeps it. */
static gboolean
is_ring_of_others(const HfProposing *asked, const HfEntry *ring)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    if (hf_entry_names(e, HF_ROLE_BAND | HF_ROLE_WINDOW, ring->name))
      return TRUE;
  }
  return FALSE;
}

/* Of words only a letter hangs in the air; what fills a window or a band stands where it must. */
static gboolean
is_fitted(const HfEntry *e)
{
  return e->kind == HF_ENTRY_WORDS || hf_entry_band(e) != NULL ||
         (e->kind == HF_ENTRY_INITIAL && (e->initial.fill != NULL || e->initial.split_by != NULL));
}

/* A piece that openings cut off a plate lies in the air; the plate does not. */
static gboolean
is_all_of(const HfProposing *asked, const HfAdrift *piece)
{
  HfBox part = g_array_index(asked->sign->hold->parts, HfPart, piece->part).box;
  HfBox own = hf_outline_box(shape_of(asked, piece)->outline);
  part = hf_box_grow(part, 0.5);
  return hf_box_contains(part, own.min) && hf_box_contains(part, own.max);
}

static void
move_nearer(HfProposing *asked, const HfAdrift *piece)
{
  const HfShape *shape = shape_of(asked, piece);
  const HfEntry *e = hf_proposing_entry(asked, shape->entry);
  HfBox sign = asked->sign->hold->box;
  double joint = hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  double size = fmax(hf_box_width(sign), hf_box_height(sign));
  if (shape->opening || piece->gap > FAR_AWAY * size || narrow_gap(asked, piece, shape->entry) ||
      is_ring_of_others(asked, e) || is_fitted(e))
    return;
  HfPoint way = way_of(piece, shape);
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)shape->entry),
                 hf_phrase_knob(hf_phrase("move %s ", hf_proposing_called(asked, e)),
                                " %s, into the metal there", hf_say_way(way)));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "shift", 0, piece->gap + 0.2, piece->gap + 4 * joint, 0.2);
  if (!hf_propose_move(asked, proposal, shape->entry, shape->copy, hf_point(0, 0), way))
    g_ptr_array_remove(asked->found, proposal);
}

/* A joint that is too narrow: the smaller of the two goes on in the direction in which it touches.
 */
static void
press_on(HfProposing *asked, guint aim)
{
  const HfSign *sign = asked->sign;
  HfPoint at = hf_proposing_finding(asked, aim)->at;
  for (guint i = 0; i < sign->hold->webs->len; i++) {
    const HfWeb *web = &g_array_index(sign->hold->webs, HfWeb, i);
    guint n = sign->layout->shapes->len;
    if (hf_point_distance(web->at, at) > 0.01 || web->shape_a >= n || web->shape_b >= n)
      continue;
    const HfShape *a = hf_layout_shape(sign->layout, web->shape_a),
                  *b = hf_layout_shape(sign->layout, web->shape_b);
    HfBox box_a = hf_outline_box(a->outline), box_b = hf_outline_box(b->outline);
    gboolean a_is_less =
        hf_box_width(box_a) + hf_box_height(box_a) < hf_box_width(box_b) + hf_box_height(box_b);
    HfPoint middle = hf_box_centre(a_is_less ? box_a : box_b);
    HfAdrift piece = {.shape = a_is_less ? web->shape_a : web->shape_b, .from = middle, .to = at};
    if (a->entry != b->entry)
      move_nearer(asked, &piece);
    return;
  }
}

static void
propose_nearer(HfProposing *asked)
{
  g_autoptr(GArray) joints = hf_proposing_aims_of(asked, -1, HF_LAW_WEAK_JOINT);
  for (guint i = 0; i < joints->len; i++)
    press_on(asked, g_array_index(joints, guint, i));
  const GArray *pieces = hf_proposing_pieces(asked);
  gint last_words = -1;
  for (guint i = 0; i < pieces->len; i++) {
    const HfAdrift *piece = &g_array_index(pieces, HfAdrift, i);
    guint entry = shape_of(asked, piece)->entry;
    if (hf_proposing_entry(asked, entry)->kind == HF_ENTRY_WORDS) {
      if ((gint)entry == last_words)
        continue; /* once for all its letters */
      last_words = (gint)entry;
    } else if (!is_all_of(asked, piece)) {
      continue;
    }
    move_nearer(asked, piece);
  }
}

const HfFamily hf_family_nearer = {
    .key = "nearer", .guards = HF_GUARDS_USUAL, .propose = propose_nearer};

/* ---- inward: away from an edge ------------------------------------------------------------------
 */

typedef struct {
  HfPoint at;      /* of the edge */
  double distance; /* mm from the place asked about */
  guint shape;
} Near;

/* The nearest edge of metal that @not did not make. */
static Near
nearest_edge(const HfProposing *asked, HfPoint p, guint not_by)
{
  const HfRegion *region = asked->sign->metal->region;
  Near near = {p, INFINITY, HF_NO_SHAPE};
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; ring->from != NULL && v < ring->n; v++) {
      HfEdgeId id = {r, v};
      if (ring->from[v].shape == not_by)
        continue;
      HfPoint on = hf_segment_nearest(hf_edge_start(region, id), hf_edge_end(region, id), p, NULL);
      double distance = hf_point_distance(on, p);
      if (distance < near.distance)
        near = (Near){on, distance, ring->from[v].shape};
    }
  }
  return near;
}

/* The hole of @entry that lies at @at, and its radius. */
static gint
hole_at(const HfProposing *asked, guint entry, HfPoint at, double *ret_radius)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    HfBox box = hf_outline_box(shape->outline);
    if (shape->entry != entry || !shape->opening ||
        hf_point_distance(hf_box_centre(box), at) > 0.01)
      continue;
    *ret_radius = hf_box_width(box) / 2;
    return (gint)i;
  }
  return -1;
}

/* `the hole`; of several copies which one, as the findings call it: `hole 1 (copy 2)`. */
static const char *
called_copy(const HfProposing *asked, guint shape)
{
  const HfShape *of = hf_layout_shape(asked->sign->layout, shape);
  const HfEntry *e = hf_proposing_entry(asked, of->entry);
  gboolean several = e->place.at != NULL && e->place.at->len > 1;
  return several ? of->label : hf_proposing_called(asked, e);
}

static void
move_inward(HfProposing *asked, guint entry, guint aim)
{
  const HfFinding *finding = hf_proposing_finding(asked, aim);
  const HfEntry *e = hf_proposing_entry(asked, entry);
  HfLimit limit = asked->sign->hold->limits[HF_LAW_HOLE_NEAR_EDGE];
  double radius = 0;
  gint shape = hole_at(asked, entry, finding->at, &radius);
  if (shape < 0)
    return;
  Near near = nearest_edge(asked, finding->at, (guint)shape);
  if (isinf(near.distance))
    return;
  gboolean inside =
      hf_region_contains(asked->sign->metal->region, finding->at) || finding->measured > 0;
  HfPoint way = hf_point_sub(finding->at, near.at);
  way = hf_point_scale(way, (inside ? 1 : -1) / fmax(near.distance, 1e-9));
  double reached = inside ? near.distance : -near.distance;
  double least = radius + finding->limit - reached, most = radius + limit.caution + 2 - reached;
  GArray *aims = g_array_new(FALSE, FALSE, sizeof(guint));
  g_array_append_val(aims, aim);
  const char *called = called_copy(asked, (guint)shape);
  HfProposal *proposal =
      hf_propose(asked, aims,
                 hf_phrase_knob(hf_phrase("move %s ", called), " %s, %s", hf_say_way(way),
                                inside ? "away from the edge" : "into the metal"));
  hf_propose_knob(proposal, e, "at", 0, fmax(least, 0.1), fmax(most, least + 1), 0.1);
  guint copy = hf_layout_shape(asked->sign->layout, (guint)shape)->copy;
  if (!hf_propose_move(asked, proposal, entry, copy, hf_point(0, 0), way))
    g_ptr_array_remove(asked->found, proposal);
}

/* Two openings, or two pieces of metal, that come too near to each other: along the web's own
 * width. */
static void
move_apart(HfProposing *asked, const HfWeb *web, guint aim, guint shape, double side)
{
  const HfShape *of = hf_layout_shape(asked->sign->layout, shape);
  const HfEntry *e = hf_proposing_entry(asked, of->entry);
  const HfFinding *finding = hf_proposing_finding(asked, aim);
  double width = hf_point_distance(web->foot_a, web->foot_b);
  if (!of->opening || of->letter >= 0 || width < 1e-3)
    return;
  HfPoint way = hf_point_scale(hf_point_sub(web->foot_b, web->foot_a), side / width);
  double lack = finding->limit - finding->measured;
  GArray *aims = g_array_new(FALSE, FALSE, sizeof(guint));
  g_array_append_val(aims, aim);
  const char *called = called_copy(asked, shape);
  HfProposal *proposal = hf_propose(
      asked, aims,
      hf_phrase_knob(hf_phrase("move %s ", called), " %s, off the thin metal", hf_say_way(way)));
  hf_propose_knob(proposal, e, "at", 0, fmax(lack, 0.1), fmax(4 * lack, lack + 2), 0.1);
  if (!hf_propose_move(asked, proposal, of->entry, of->copy, hf_point(0, 0), way))
    g_ptr_array_remove(asked->found, proposal);
}

static void
move_off_web(HfProposing *asked, guint aim)
{
  const HfSign *sign = asked->sign;
  HfPoint at = hf_proposing_finding(asked, aim)->at;
  for (guint i = 0; i < sign->hold->webs->len; i++) {
    const HfWeb *web = &g_array_index(sign->hold->webs, HfWeb, i);
    if (hf_point_distance(web->at, at) > 0.01 || web->shape_a == web->shape_b ||
        web->shape_a >= sign->layout->shapes->len || web->shape_b >= sign->layout->shapes->len)
      continue;
    move_apart(asked, web, aim, web->shape_a, -1);
    move_apart(asked, web, aim, web->shape_b, 1);
    return;
  }
}

static void
propose_inward(HfProposing *asked)
{
  g_autoptr(GArray) aims = hf_proposing_aims(asked, -1);
  for (guint i = 0; i < aims->len; i++) {
    guint aim = g_array_index(aims, guint, i);
    const HfFinding *finding = hf_proposing_finding(asked, aim);
    if (finding->kind == HF_LAW_HOLE_NEAR_EDGE && finding->entries->len > 0)
      move_inward(asked, g_array_index(finding->entries, guint, 0), aim);
    else if (finding->kind == HF_LAW_THIN_WEB || finding->kind == HF_LAW_THIN_LONG_WEB)
      move_off_web(asked, aim);
  }
}

const HfFamily hf_family_inward = {
    .key = "inward", .guards = HF_GUARDS_USUAL, .propose = propose_inward};
