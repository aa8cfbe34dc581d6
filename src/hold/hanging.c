/* SPDX-License-Identifier: GPL-3.0-or-later
 * hanging.c - what the sign hangs by or stands on, and how it comes to rest. Statics of a rigid
 * plate without friction; docs/maths.md#hanging.
 *
 *   one hole                   two or more                          feet
 *
 *       o  h                   a o-----------------o b              ___________
 *      /|                           u ->    |                       | |  *  | |
 *     / | turn                        c *                           | |  |  | |
 *    * c                       share of b = (c - a).u / |b - a|      from .. to
 *   turns until c is           turns until a-b is level              c lies between
 *   under h
 */
#include "base/text.h"
#include "hold/hold-private.h"

/* Nearer together than this, two points are one to a hook. */
#define SAME_PLACE 0.1
/* An outer pair steeper than this is one above the other: the upper one carries. */
#define STEEP (G_PI / 4)

static double
degrees(double angle)
{
  return angle * 180 / G_PI;
}

/* The turn that brings @below under @above, -pi..pi, counter-clockwise. */
static double
turn_under(HfPoint above, HfPoint below)
{
  return remainder(-G_PI / 2 - hf_angle_of(hf_point_sub(below, above)), 2 * G_PI);
}

static const char *
way(double turn)
{
  return turn > 0 ? "counter-clockwise" : "clockwise";
}

static HfHang *
hang(const HfCheck *check, guint i)
{
  return &g_array_index(check->layout->hangs, HfHang, i);
}

/* Indices of the layout's hanging points of the given kinds. (transfer full) */
static GArray *
hangs_of(const HfCheck *check, gboolean holes)
{
  GArray *found = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < check->layout->hangs->len; i++)
    if ((hang(check, i)->kind == HF_HANG_HOLE) == holes)
      g_array_append_val(found, i);
  return found;
}

static void
carry(HfCheck *check, guint i, double share)
{
  g_array_index(check->hold->hanging.shares, double, i) = share;
}

/* With what this layer carries of others. */
static HfPoint
loaded(const HfLayout *layout, HfPoint centre, double mass)
{
  if (!(layout->load > 0) || !(mass > 0))
    return centre;
  return hf_point_mix(centre, layout->load_at, layout->load / (mass + layout->load));
}

/* What falls out, or stands alone beside it, does not pull on the hook. */
static HfPoint
centre_of_hung(const HfHold *hold, const HfLayout *layout)
{
  const HfPart *hung = NULL;
  for (guint i = 0; i < hold->parts->len; i++) {
    const HfPart *part = &g_array_index(hold->parts, HfPart, i);
    if (!part->hung)
      continue;
    if (hung != NULL)
      return loaded(layout, hold->centroid, hold->mass);
    hung = part;
  }
  return hung != NULL ? loaded(layout, hung->centroid, hung->mass)
                      : loaded(layout, hold->centroid, hold->mass);
}

/* One point. */

static void
hang_by_one(HfCheck *check, guint i)
{
  HfHold *hold = check->hold;
  HfPoint at = hang(check, i)->at;
  carry(check, i, 1);
  if (hf_point_distance(at, hold->hanging.centre) < SAME_PLACE) {
    HfFinding *finding = hf_check_add(check, HF_LAW_OUT_OF_LEVEL, 180, at);
    if (finding != NULL) {
      hf_finding_name(check, finding, hang(check, i)->shape);
      hf_finding_say(finding,
                     "the only hole is at the centre of mass: the sign stays however it is "
                     "turned");
    }
    return;
  }
  hold->hanging.turn = turn_under(at, hold->hanging.centre);
  HfFinding *finding =
      hf_check_add(check, HF_LAW_OUT_OF_LEVEL, fabs(degrees(hold->hanging.turn)), at);
  if (finding == NULL)
    return;
  g_autofree char *turn = hf_text_angle(fabs(hold->hanging.turn));
  hf_finding_name(check, finding, hang(check, i)->shape);
  hf_finding_say(finding, "hung by this one hole, the sign turns %s %s", turn,
                 way(hold->hanging.turn));
  hf_finding_fix(finding, "place the hole above the centre of mass, or give it two");
}

/* Two or more: the outer two carry. */

/* The upper one of those that lie as far to the left (@side -1) or right (+1) as any, give or take
 * a twentieth: of four holes at the corners the upper two carry. */
static guint
outermost(const HfCheck *check, const GArray *of, double side)
{
  guint best = g_array_index(of, guint, 0);
  double far = -INFINITY, near = INFINITY;
  for (guint k = 0; k < of->len; k++) {
    double x = side * hang(check, g_array_index(of, guint, k))->at.x;
    far = fmax(far, x);
    near = fmin(near, x);
  }
  double least = far - SAME_PLACE - (far - near) / 20, top = -INFINITY;
  for (guint k = 0; k < of->len; k++) {
    guint i = g_array_index(of, guint, k);
    HfPoint at = hang(check, i)->at;
    if (side * at.x >= least && at.y > top) {
      best = i;
      top = at.y;
    }
  }
  return best;
}

static void
highest_and_lowest(const HfCheck *check, const GArray *of, guint *ret_high, guint *ret_low)
{
  *ret_high = *ret_low = g_array_index(of, guint, 0);
  for (guint k = 1; k < of->len; k++) {
    guint i = g_array_index(of, guint, k);
    double y = hang(check, i)->at.y;
    *ret_high = y > hang(check, *ret_high)->at.y ? i : *ret_high;
    *ret_low = y < hang(check, *ret_low)->at.y ? i : *ret_low;
  }
}

static void
say_turn(HfCheck *check, guint a, guint b, const char *what)
{
  double turn = check->hold->hanging.turn;
  HfFinding *finding = hf_check_add(check, HF_LAW_OUT_OF_LEVEL, fabs(degrees(turn)),
                                    hf_point_mix(hang(check, a)->at, hang(check, b)->at, 0.5));
  if (finding == NULL)
    return;
  g_autofree char *angle = hf_text_angle(fabs(turn));
  hf_finding_name(check, finding, hang(check, a)->shape);
  hf_finding_name(check, finding, hang(check, b)->shape);
  hf_finding_say(finding, "%s: hung by them, the sign turns %s %s", what, angle, way(turn));
}

static void
hang_one_above_other(HfCheck *check, const GArray *of)
{
  guint upper, lower;
  highest_and_lowest(check, of, &upper, &lower);
  HfPoint top = hang(check, upper)->at, bottom = hang(check, lower)->at;
  if (hf_point_distance(top, bottom) < SAME_PLACE) {
    hang_by_one(check, upper);
    return;
  }
  carry(check, upper, 1);
  check->hold->hanging.turn = turn_under(top, bottom);
  say_turn(check, upper, lower, "one hole is not straight above the other");
}

/* Beyond the outer points nothing pulls down on the far one: the sign tips about the near one. */
static void
say_tips(HfCheck *check, guint about)
{
  HfPoint at = hang(check, about)->at;
  double turn = turn_under(at, check->hold->hanging.centre);
  HfFinding *finding = hf_check_add(check, HF_LAW_OUT_OF_LEVEL, fabs(degrees(turn)), at);
  if (finding == NULL)
    return;
  g_autofree char *angle = hf_text_angle(fabs(turn));
  hf_finding_name(check, finding, hang(check, about)->shape);
  hf_finding_say(
      finding,
      "the centre of mass is not between the hanging points: on hooks the sign lifts off "
      "the far one and turns %s %s",
      angle, way(turn));
}

static void
hang_by_more(HfCheck *check, const GArray *of)
{
  guint a = outermost(check, of, -1), b = outermost(check, of, 1);
  HfPoint from_a = hf_point_sub(hang(check, b)->at, hang(check, a)->at);
  double apart = hf_point_length(from_a), slope = hf_angle_of(from_a);
  if (apart < SAME_PLACE || fabs(slope) > STEEP) {
    hang_one_above_other(check, of);
    return;
  }
  HfHold *hold = check->hold;
  HfPoint u = hf_point_scale(from_a, 1 / apart);
  double share = hf_point_dot(hf_point_sub(hold->hanging.centre, hang(check, a)->at), u) / apart;
  carry(check, a, 1 - share);
  carry(check, b, share);
  hold->hanging.turn = -slope;
  if (share < 0 || share > 1)
    say_tips(check, share < 0 ? a : b);
  else
    say_turn(check, a, b, "the outer two holes are not level");
}

static void
check_hung(HfCheck *check)
{
  g_autoptr(GArray) holes = hangs_of(check, TRUE);
  check->hold->hanging.n = holes->len;
  if (holes->len == 0)
    hf_check_add(check, HF_LAW_NOTHING_TO_HANG_BY, NAN, check->hold->centroid);
  else if (holes->len == 1)
    hang_by_one(check, g_array_index(holes, guint, 0));
  else
    hang_by_more(check, holes);
}

/* Standing. */

static HfBox
box_of_feet(const HfCheck *check, const GArray *feet)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint k = 0; k < feet->len; k++) {
    const HfHang *foot = hang(check, g_array_index(feet, guint, k));
    box = hf_box_union(box, hf_outline_box(hf_layout_shape(check->layout, foot->shape)->outline));
  }
  return box;
}

static void
check_stands(HfCheck *check)
{
  g_autoptr(GArray) feet = hangs_of(check, FALSE);
  HfHold *hold = check->hold;
  hold->hanging.n = feet->len;
  if (feet->len == 0) {
    HfFinding *finding = hf_check_add(check, HF_LAW_NOTHING_TO_HANG_BY, NAN, hold->centroid);
    hf_finding_say(finding, "the sign is mounted by a stake, and has neither stake nor foot");
    hf_finding_fix(finding, "add a stake or feet, or say how it is mounted");
    return;
  }
  guint a = outermost(check, feet, -1), b = outermost(check, feet, 1);
  HfBox base = box_of_feet(check, feet);
  double from = base.min.x, to = base.max.x, x = hold->hanging.centre.x;
  double apart = hang(check, b)->at.x - hang(check, a)->at.x;
  double share = apart > SAME_PLACE ? (x - hang(check, a)->at.x) / apart : 0;
  carry(check, b, share);
  carry(check, a, 1 - share);
  HfFinding *finding =
      hf_check_add(check, HF_LAW_FEET, fmax(fmax(from - x, x - to), 0), hold->hanging.centre);
  if (finding == NULL)
    return;
  hf_finding_name(check, finding, hang(check, x < from ? a : b)->shape);
  if (feet->len == 1)
    hf_finding_fix(finding, "place it under the centre of mass, or give it a second one");
}

static gboolean
check_hanging(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  g_array_set_size(check->hold->hanging.shares, check->layout->hangs->len);
  check->hold->hanging.centre = centre_of_hung(check->hold, check->layout);
  switch (check->recipe->mount) {
  case HF_MOUNT_HOLES:
    check_hung(check);
    break;
  case HF_MOUNT_STAKE:
    check_stands(check);
    break;
  case HF_MOUNT_NONE:
  case HF_MOUNT_STUDS:
  case HF_MOUNT_WELDED: /* nobody knows which of them carries how much */
    g_array_set_size(check->hold->hanging.shares, 0);
    break;
  }
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_nothing_to_hang_by_law = {
    .key = "nothing-to-hang-by",
    .quantity = "hanging points",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the recipe says that it hangs, and there is no hole",
    .what = "the sign is mounted by holes, and has nothing to hang by",
    .fix = "add an ear or a hole, or say how it is mounted",
    .cures = HF_CURES("ear"),
    .check = check_hanging,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_out_of_level_law = {
    .key = "out-of-level",
    .quantity = "how far the sign hangs out of level",
    .unit = "deg",
    .gravity = HF_CAUTION,
    .caution = {"1 deg"},
    .source = HF_COMMON_PRACTICE,
    .reference = "statics: see docs/maths.md",
    .why = "it hangs crooked",
    .what = "the sign hangs {measured} out of level, {needs} {limit}",
    .fix = "move a hanging point",
    .cures = HF_CURES("level"),
    .check = check_hanging,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_feet_law = {
    .key = "feet",
    .quantity = "how far the centre of mass lies outside the feet",
    .unit = "mm",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "statics",
    .why = "it topples",
    .what = "the centre of mass lies {measured} outside the feet: the sign topples",
    .fix = "move a foot, or make it wider",
    .cures = HF_CURES("feet"),
    .check = check_hanging,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
