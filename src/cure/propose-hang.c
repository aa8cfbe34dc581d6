/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-hang.c - hanging points moved so that the sign hangs level, feet so that it stands, what
 * it hangs by where there is nothing, holes that are large enough to cut.
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include <string.h>

/* ---- level -------------------------------------------------------------------------------------
 */

static const HfHang *
hang(const HfProposing *asked, guint i)
{
  return &g_array_index(asked->sign->layout->hangs, HfHang, i);
}

static guint
n_hangs(const HfProposing *asked)
{
  return asked->sign->layout->hangs->len;
}

/* What the hanging point is on, its centre and how far the edge is in that direction. An ear at a
 * direction is moved by turning that direction. */
static gboolean
turn_seat(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy, HfPoint at,
          HfPoint to)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfPlace *place = &e->place;
  const HfEntry *on = place->on != NULL ? hf_recipe_entry(asked->sign->recipe, place->on) : NULL;
  guint n = place->at != NULL ? place->at->len : 0;
  gboolean at_top = n == 0;
  if (on == NULL || (n > 0 && copy >= n) ||
      (!at_top && g_array_index(place->at, HfSpot, copy).kind != HF_SPOT_DIRECTION))
    return FALSE;
  guint carrier = 0;
  while (hf_proposing_entry(asked, carrier) != on)
    carrier++;
  HfPoint centre = hf_box_centre(hf_proposing_box(asked, carrier, 0));
  double r = hf_point_distance(at, centre), x = to.x - centre.x;
  if (!(fabs(x) < r))
    return FALSE;
  double angle = (at.y >= centre.y ? 1 : -1) * acos(x / r);
  double wide = hf_box_width(hf_proposing_box(asked, carrier, 0)),
         high = hf_box_height(hf_proposing_box(asked, carrier, 0));
  if (fabs(wide - high) > 0.01) { /* not round: straight above its middle lies straight above */
    HfBox box = hf_proposing_box(asked, carrier, 0);
    double y = (at.y >= centre.y ? box.max.y : box.min.y) - centre.y;
    angle = atan2(y, x);
  }
  hf_propose_place(asked, proposal, entry, copy, hf_say_angle(angle, 2));
  return TRUE;
}

static gboolean
move_hang(const HfProposing *asked, HfProposal *proposal, const HfHang *one, HfPoint to)
{
  const HfShape *shape = hf_layout_shape(asked->sign->layout, one->shape);
  return turn_seat(asked, proposal, shape->entry, shape->copy, one->at, to) ||
         hf_propose_move(asked, proposal, shape->entry, shape->copy, hf_point_sub(to, one->at),
                         hf_point(0, 0));
}

static const char *
called(const HfProposing *asked, const HfHang *one)
{
  return hf_layout_shape(asked->sign->layout, one->shape)->label;
}

static void
move_one(HfProposing *asked, const HfHang *one, HfPoint to, const char *why)
{
  double x = to.x - one->at.x, y = to.y - one->at.y;
  g_autofree char *far = hf_text_mm(hf_point_distance(to, one->at));
  if (hf_point_distance(to, one->at) < 0.05)
    return;
  HfProposal *proposal = hf_propose(
      asked, hf_proposing_aims(asked, -1),
      hf_phrase("move %s %s %s, %s", called(asked, one), far, hf_say_way(hf_point(x, y)), why));
  if (proposal != NULL && !move_hang(asked, proposal, one, to))
    g_ptr_array_remove(asked->found, proposal);
}

/* The outer two, as hold/hanging.c takes them. */
static void
outer_two(const HfProposing *asked, const HfHang **ret_left, const HfHang **ret_right)
{
  const HfHang *left = NULL, *right = NULL;
  for (guint i = 0; i < n_hangs(asked); i++) {
    const HfHang *one = hang(asked, i);
    if (one->kind != HF_HANG_HOLE)
      continue;
    if (left == NULL || one->at.x < left->at.x - 0.1 ||
        (one->at.x < left->at.x + 0.1 && one->at.y > left->at.y))
      left = one;
    if (right == NULL || one->at.x > right->at.x + 0.1 ||
        (one->at.x > right->at.x - 0.1 && one->at.y > right->at.y))
      right = one;
  }
  *ret_left = left;
  *ret_right = right;
}

static void
level_two(HfProposing *asked, const HfHang *left, const HfHang *right, HfPoint centre)
{
  HfPoint a = left->at, b = right->at;
  double middle = (a.x + b.x) / 2;
  if (fabs(b.y - a.y) > fabs(b.x - a.x)) { /* one above the other */
    const HfHang *upper = a.y > b.y ? left : right, *lower = a.y > b.y ? right : left;
    move_one(asked, lower, hf_point(upper->at.x, lower->at.y), "straight under the other");
    move_one(asked, upper, hf_point(lower->at.x, upper->at.y), "straight above the other");
    return;
  }
  if (centre.x < a.x || centre.x > b.x) {
    if (middle > centre.x)
      move_one(asked, left, hf_point(2 * centre.x - b.x, b.y), "so that the mass lies between");
    else
      move_one(asked, right, hf_point(2 * centre.x - a.x, a.y), "so that the mass lies between");
    return;
  }
  move_one(asked, a.y > b.y ? left : right, a.y > b.y ? hf_point(a.x, b.y) : hf_point(b.x, a.y),
           "level with the other");
  move_one(asked, a.y > b.y ? right : left, a.y > b.y ? hf_point(b.x, a.y) : hf_point(a.x, b.y),
           "level with the other");
}

/* The hole itself weighs nothing: where it goes, the centre of mass moves a little the other way.
 *     x' = c - (m / M) (x' - x)      M the metal, m what the hole lacks */
static double
straight_above(const HfProposing *asked, const HfHang *one, double centre)
{
  const HfShape *shape = hf_layout_shape(asked->sign->layout, one->shape);
  double share = G_PI * one->diameter * one->diameter / 4 / asked->sign->hold->area;
  if (!shape->opening || !(asked->sign->hold->area > 0))
    return centre;
  return (centre + share * one->at.x) / (1 + share);
}

static void
propose_level(HfProposing *asked)
{
  g_autoptr(GArray) aims = hf_proposing_aims(asked, -1);
  HfPoint centre = asked->sign->hold->hanging.centre;
  const HfHang *left = NULL, *right = NULL;
  outer_two(asked, &left, &right);
  if (aims->len == 0 || left == NULL)
    return;
  if (left != right) {
    level_two(asked, left, right, centre);
    return;
  }
  double x = straight_above(asked, left, centre.x);
  move_one(asked, left, hf_point(x, left->at.y), "straight above the centre of mass");
  if (fabs(left->at.x - centre.x) < 1) { /* at the centre of mass itself */
    double up = fmax(hf_box_height(asked->sign->hold->box) / 4, 3 * left->diameter);
    move_one(asked, left, hf_point(centre.x, left->at.y + up), "well above the centre of mass");
  }
}

const HfFamily hf_family_level = {
    .key = "level", .guards = HF_GUARDS_USUAL, .propose = propose_level};

/* ---- feet --------------------------------------------------------------------------------------
 */

static void
widen_foot(HfProposing *asked, const HfHang *one, double centre)
{
  const HfShape *shape = hf_layout_shape(asked->sign->layout, one->shape);
  const HfEntry *e = hf_proposing_entry(asked, shape->entry);
  if (e->kind != HF_ENTRY_FOOT)
    return;
  double now = e->foot.width, least = 2 * fabs(centre - one->at.x);
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, -1),
                 hf_phrase_knob(hf_phrase("make %s ", hf_proposing_called(asked, e)), " wider"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, "width", now, least + 1, 2 * least + 20, 1);
  hf_propose_turn(asked, proposal, shape->entry, "width");
}

static void
second_foot(HfProposing *asked, const HfHang *one, double centre)
{
  const HfShape *shape = hf_layout_shape(asked->sign->layout, one->shape);
  const HfEntry *e = hf_proposing_entry(asked, shape->entry);
  HfBox box = hf_outline_box(shape->outline);
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, -1),
                 hf_phrase("give the sign a second foot on the other side of its centre of mass"));
  if (proposal == NULL)
    return;
  double x = 2 * centre - one->at.x;
  HfPoint origin = {0, 0};
  const HfEntry *on =
      e->place.on != NULL ? hf_recipe_entry(asked->sign->recipe, e->place.on) : NULL;
  for (guint i = 0; on != NULL && i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i) == on)
      origin = hf_box_centre(hf_proposing_box(asked, i, 0));
  HfPoint at = hf_point_sub(hf_point(x, box.max.y), origin);
  HfNode *foot = hf_table(
      {"name", hf_say_new(asked, "second foot")}, {"width", hf_say_mm(e, "width", e->foot.width)},
      {"height", hf_say_mm(e, "width", e->foot.height)},
      {"on", on != NULL ? hf_node_new_text(on->name) : NULL}, {"at", hf_say_point(e, "width", at)});
  hf_propose_append(proposal, hf_node_new_entry("foot", foot));
}

static void
propose_feet(HfProposing *asked)
{
  g_autoptr(GArray) aims = hf_proposing_aims(asked, -1);
  double centre = asked->sign->hold->hanging.centre.x, nearest = INFINITY;
  const HfHang *near = NULL;
  for (guint i = 0; i < n_hangs(asked); i++) {
    const HfHang *one = hang(asked, i);
    if (one->kind == HF_HANG_HOLE || fabs(one->at.x - centre) >= nearest)
      continue;
    nearest = fabs(one->at.x - centre);
    near = one;
  }
  if (aims->len == 0 || near == NULL)
    return;
  move_one(asked, near, hf_point(centre, near->at.y), "under the centre of mass");
  widen_foot(asked, near, centre);
  if (hf_proposing_entry(asked, hf_layout_shape(asked->sign->layout, near->shape)->entry)->kind ==
      HF_ENTRY_FOOT)
    second_foot(asked, near, centre);
}

const HfFamily hf_family_feet = {.key = "feet", .guards = HF_GUARDS_USUAL, .propose = propose_feet};

/* ---- something to hang by
 * ------------------------------------------------------------------------
 */

static gint
carrier_of(const HfProposing *asked)
{
  double most = 0;
  gint best = -1;
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    HfBox box = hf_proposing_box(asked, i, -1);
    gboolean carries = hf_entry_is(e, HF_KIND_GROUND);
    if (!carries || e->as != HF_AS_METAL || hf_box_width(box) * hf_box_height(box) <= most)
      continue;
    most = hf_box_width(box) * hf_box_height(box);
    best = (gint)i;
  }
  return best;
}

/* Takes @phrase and @body. */
static void
add_fixture(HfProposing *asked, HfPhrase phrase, const char *kind, HfNode *body)
{
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, -1), phrase);
  if (proposal != NULL)
    hf_propose_append(proposal, hf_node_new_entry(kind, body));
  else
    hf_node_free(body);
}

static HfNode *
two_angles(double left, double right)
{
  return hf_node_new_list(hf_node_new_number(left, 0, 0, "deg"),
                          hf_node_new_number(right, 0, 0, "deg"), NULL);
}

static HfNode *
both_ends(void)
{
  return hf_node_new_list(hf_node_new_word("left end"), hf_node_new_word("right end"), NULL);
}

static void
hang_it(HfProposing *asked, const HfEntry *carrier)
{
  double least = asked->sign->hold->limits[HF_LAW_SMALL_HOLE].caution;
  double hole = fmax(8, least);
  gboolean is_round = carrier->kind == HF_ENTRY_RING ||
                      (carrier->kind == HF_ENTRY_PLATE && (carrier->plate.shape == HF_PLATE_ROUND ||
                                                           carrier->plate.shape == HF_PLATE_OVAL));
  const char *called = hf_proposing_called(asked, carrier);
  gboolean by_angle = is_round || carrier->kind == HF_ENTRY_ARCH;
  add_fixture(asked, hf_phrase("add two ears to %s", called), "ear",
              hf_table({"name", hf_say_new(asked, "hooks")},
                       {"hole", hf_say_rough(carrier, "width", hole)},
                       {"on", hf_node_new_text(carrier->name)},
                       {"at", by_angle ? two_angles(110, 70) : both_ends()}));
  if (carrier->kind != HF_ENTRY_PLATE)
    return;
  add_fixture(asked, hf_phrase("add two holes to %s", called), "hole",
              hf_table({"name", hf_say_new(asked, "hooks")},
                       {"diameter", hf_say_rough(carrier, "width", hole)},
                       {"on", hf_node_new_text(carrier->name)},
                       {"at", is_round ? two_angles(150, 30) : both_ends()}));
}

static void
stand_it(HfProposing *asked, guint entry)
{
  const HfEntry *carrier = hf_proposing_entry(asked, entry);
  HfBox box = hf_proposing_box(asked, entry, -1);
  double limit = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB);
  HfNode *stake =
      hf_table({"name", hf_say_new(asked, "stake")},
               {"width", hf_say_rough(carrier, "width", fmax(16, 3 * limit))},
               {"length", hf_say_rough(carrier, "width", fmax(200, hf_box_height(box) / 2))},
               {"on", hf_node_new_text(carrier->name)}, {"at", hf_node_new_word("bottom")});
  HfNode *feet =
      hf_table({"name", hf_say_new(asked, "feet")},
               {"width", hf_say_rough(carrier, "width", fmax(40, hf_box_width(box) / 8))},
               {"height", hf_say_mm(carrier, "width", 20)}, {"on", hf_node_new_text(carrier->name)},
               {"at", both_ends()});
  add_fixture(asked, hf_phrase("add a stake at the bottom"), "stake", stake);
  add_fixture(asked, hf_phrase("add two feet"), "foot", feet);
}

static void
propose_ear(HfProposing *asked)
{
  gint carrier = carrier_of(asked);
  if (carrier < 0)
    return;
  if (asked->sign->recipe->mount == HF_MOUNT_STAKE)
    stand_it(asked, (guint)carrier);
  else
    hang_it(asked, hf_proposing_entry(asked, (guint)carrier));
}

const HfFamily hf_family_ear = {.key = "ear", .guards = HF_GUARDS_USUAL, .propose = propose_ear};

/* ---- holes -------------------------------------------------------------------------------------
 */

static void
enlarge_hole(HfProposing *asked, guint entry, GArray *aims)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  HfLimit limit = asked->sign->hold->limits[HF_LAW_SMALL_HOLE];
  const HfField *bore = hf_entry_role(e, HF_ROLE_BORE);
  double now = bore != NULL ? hf_entry_length(e, bore) : NAN;
  if (bore == NULL || isnan(now)) {
    g_array_unref(aims);
    return;
  }
  HfProposal *proposal = hf_propose(asked, aims,
                                    hf_phrase_knob_last(hf_phrase("make the holes of %s larger by ",
                                                                  hf_proposing_called(asked, e))));
  if (proposal == NULL)
    return;
  const HfFinding *first = hf_proposing_finding(asked, g_array_index(proposal->targets, guint, 0));
  double lack = 2 * (first->limit - first->measured); /* it may be of a radius */
  hf_propose_knob(proposal, e, bore->key, now, now + fmax(lack / 2, 0.1),
                  fmax(limit.caution + 1, now + 3 * lack), 0.1);
  hf_propose_turn(asked, proposal, entry, bore->key);
}

static void
propose_hole(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    enlarge_hole(asked, i, hf_proposing_aims(asked, (gint)i));
}

const HfFamily hf_family_hole = {.key = "hole", .guards = HF_GUARDS_USUAL, .propose = propose_hole};
