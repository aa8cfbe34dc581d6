/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie-bar.c - may a bar be laid here?
 *
 * Proof that it holds: a circle as wide as the web limit fits into the metal behind either end, its
 * centre on the bar's own middle line and no deeper than the bar runs; so that circle can be moved
 * from one part to the other without leaving the metal. docs/maths.md#ties
 */
#include "tie/tie-bar-private.h"

#define MARGIN      0.02  /* mm that a tie is wider than its limit, so that rounding never tells */
#define DEEPEST     2.0   /* widths that one edge of the bar may meet metal later than its middle */
#define SHALLOWEST  0.5   /* tan of the least angle at which a bar and an edge part: about 27 deg */
#define STRAIGHT    0.985 /* cosine of 10 deg: still upright, level or straight across */
#define CORNER_TURN 0.7   /* rad: less is a curve's chord or a slight bend */
#define SAME_PLACE  1e-6  /* mm */
#define AT_VERTEX   0.05  /* mm: an end so near a vertex meets both its edges */
#define KEPT_FREE   (G_PI / 4 + 1e-6)

/* Widths that are tried, over the limit: the default, then less where there is no room. */
static const double widths[] = {HF_OVER_LIMIT, 1.12, 1.0};

/* What the rule does not say is as the shop has it. */
static void
take_habit(HfTieLaw *law, const HfShop *shop)
{
  if (shop == NULL)
    return;
  if (law->direction == HF_TIE_USUAL)
    law->direction = (HfTieDirection)shop->tie_direction;
  if (law->along == HF_TIE_ALONG_USUAL)
    law->along = (HfTieAlong)shop->tie_along;
  if (isnan(law->given) && shop->tie_width > 0)
    law->given = shop->tie_width;
  if (law->keep_free == NULL || law->keep_free->len == 0)
    law->keep_free = shop->tie_free;
}

HfTieLaw
hf_tie_law(const HfSign *sign, const HfTiesEntry *rule)
{
  const HfLimit *limits = sign->hold->limits;
  double joint = limits[HF_LAW_WEAK_JOINT].stop;
  HfTieLaw law = {.short_web = fmax(limits[HF_LAW_THIN_WEB].stop, joint),
                  .long_web = fmax(limits[HF_LAW_THIN_LONG_WEB].stop, joint),
                  .long_after = sign->hold->figures[HF_FIGURE_LONG_WEB],
                  .bite = joint,
                  .gap = limits[HF_LAW_NARROW_GAP].stop,
                  .pierce = limits[HF_LAW_SMALL_OPENING].stop,
                  .reach = limits[HF_LAW_ONE_TIE].caution,
                  .given = rule->width,
                  .direction = (HfTieDirection)rule->direction,
                  .along = (HfTieAlong)rule->along,
                  .keep_free = rule->keep_free};
  take_habit(&law, sign->shop);
  law.long_web = fmax(law.long_web, law.short_web);
  law.long_caution = fmax(limits[HF_LAW_THIN_LONG_WEB].caution, law.long_web);
  law.caution = fmax(limits[HF_LAW_THIN_WEB].caution, law.short_web);
  law.gap_caution = fmax(limits[HF_LAW_NARROW_GAP].caution, law.gap);
  return law;
}

HfPoint
hf_bar_point(const HfBar *bar, double along, double off)
{
  HfPoint left = {-bar->way.y, bar->way.x};
  return hf_point_add(bar->at,
                      hf_point_add(hf_point_scale(bar->way, along), hf_point_scale(left, off)));
}

HfOutline *
hf_bar_outline(const HfBar *bar)
{
  HfMatrix frame = {bar->way.x, -bar->way.y, bar->way.y, bar->way.x, bar->at.x, bar->at.y};
  HfBox own = {{-bar->end[0].bar, -bar->width / 2}, {bar->end[1].bar, bar->width / 2}};
  g_autoptr(HfOutline) plain = hf_outline_new();
  hf_outline_add_rectangle(plain, own, 0);
  HfOutline *outline = hf_outline_new();
  hf_outline_append(outline, plain, frame);
  return outline;
}

/* ---- the edges near a bar ---------------------------------------------------------------------
 */

/* An edge in the bar's own frame: x along its way from `at`, y to the left. */
typedef struct {
  HfPoint p, q;
  HfEdgeId id;
  gboolean seam; /* a cut's own: no edge of metal, but it tells where a part begins */
} Near;

/* Units of work for each bar that is tried, with @n edges near it: a quarter of one for each. */
#define EDGE_WORK(n) (1 + (n) / 4)

/* Looked up once for all widths that are tried. */
typedef struct {
  HfGround *ground;
  const HfTieLaw *law;
  GArray *near; /* Near */
  double far;   /* mm: nothing is known beyond, either way */
} Patch;

static void
patch_fill(Patch *patch, HfPoint at, HfPoint way, double gap)
{
  HfGround *ground = patch->ground;
  const HfTieLaw *law = patch->law;
  double most = isnan(law->given) ? HF_OVER_LIMIT * law->long_web : law->given;
  most = fmax(most, law->long_web + MARGIN);
  double wide = most / 2 + fmax(law->gap_caution + 2 * HF_SLACK, most);
  patch->far = gap / 2 + DEEPEST * most + law->bite + law->caution;
  HfBar frame = {.at = at, .way = way};
  HfBox box = HF_BOX_EMPTY;
  for (int k = 0; k < 4; k++)
    box = hf_box_add_point(
        box, hf_bar_point(&frame, k & 1 ? patch->far : -patch->far, k & 2 ? wide : -wide));
  hf_index_query(ground->index, box, ground->ids);
  hf_cancel_count(ground->cancel, EDGE_WORK(ground->ids->len));
  HfPoint left = {-way.y, way.x};
  g_array_set_size(patch->near, 0);
  for (guint i = 0; i < ground->ids->len; i++) {
    HfEdgeId id = g_array_index(ground->ids, HfEdgeId, i);
    HfPoint p = hf_point_sub(hf_edge_start(ground->region, id), at);
    HfPoint q = hf_point_sub(hf_edge_end(ground->region, id), at);
    Near near = {{hf_point_dot(p, way), hf_point_dot(p, left)},
                 {hf_point_dot(q, way), hf_point_dot(q, left)},
                 id,
                 FALSE};
    if ((near.p.y > wide && near.q.y > wide) || (near.p.y < -wide && near.q.y < -wide))
      continue;
    near.seam = hf_ground_is_seam(ground, id);
    g_array_append_val(patch->near, near);
  }
}

/* Where one line along the bar leaves part a and enters part b. Seen from the bar's middle, against
 * its way and along it; a gap that lies all on one side of the middle has one that is negative. */
typedef struct {
  double begins[2], ends[2]; /* of the metal at either end; INFINITY: it ends out of sight */
  const Near *edge[2];
} Gap;

typedef struct {
  double x;
  gboolean enters;
  const Near *edge;
} Crossing;

enum { MOST_CROSSINGS = 32 };

/* In order; where two parts meet along a cut the one is left before the other is entered. */
static guint
crossings_of(const Patch *patch, double off, Crossing *crossings)
{
  guint n = 0;
  for (guint i = 0; i < patch->near->len && n < MOST_CROSSINGS; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    if ((near->p.y > off) == (near->q.y > off))
      continue;
    double t = (off - near->p.y) / (near->q.y - near->p.y);
    /* metal is on the left of an edge: one that runs up from below has it behind */
    Crossing new = {near->p.x + (near->q.x - near->p.x) * t, near->q.y <= off, near};
    guint at = n++;
    for (; at > 0 && (crossings[at - 1].x > new.x + SAME_PLACE ||
                      (fabs(crossings[at - 1].x - new.x) <= SAME_PLACE &&
                       crossings[at - 1].enters && !new.enters));
         at--)
      crossings[at] = crossings[at - 1];
    crossings[at] = new;
  }
  return n;
}

/* @b HF_NO_PART: any but @a. The gap that is the nearest to the middle of the bar. */
static gboolean
find_gap(const Patch *patch, double off, guint a, guint b, double within, Gap *ret_gap)
{
  Crossing all[MOST_CROSSINGS];
  guint n = crossings_of(patch, off, all);
  double nearest = within;
  gboolean found = FALSE;
  for (guint i = 0; i + 1 < n; i++) {
    const Crossing *out = &all[i], *in = &all[i + 1];
    guint from = patch->ground->part[out->edge->id.ring];
    guint to = patch->ground->part[in->edge->id.ring];
    double away = fmax(fmax(out->x, -in->x), 0);
    if (out->enters || !in->enters || from != a || to == a || (b != HF_NO_PART && to != b) ||
        away >= nearest)
      continue;
    nearest = away;
    found = TRUE;
    *ret_gap =
        (Gap){.begins = {-out->x, in->x},
              .ends = {i > 0 ? -all[i - 1].x : INFINITY, i + 2 < n ? all[i + 2].x : INFINITY},
              .edge = {out->edge, in->edge}};
  }
  return found;
}

static double
square_to(const Near *edge)
{
  HfPoint along = hf_point_sub(edge->q, edge->p);
  double length = hf_point_length(along);
  return length > 0 ? fabs(along.y) / length : 1;
}

/* At a vertex (the nearest place of a neighbour often is one) the edge that it is squarer to: which
 * of the two the middle line meets is for the grid to say, and changes when a sign is turned. */
static double
square_at(const Patch *patch, double x)
{
  double square = 0;
  for (guint i = 0; i < patch->near->len; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    HfPoint at = {x, 0};
    if (!near->seam && fmin(near->p.x, near->q.x) <= x + AT_VERTEX &&
        fmax(near->p.x, near->q.x) >= x - AT_VERTEX &&
        hf_point_distance(at, hf_segment_nearest(near->p, near->q, at, NULL)) <= AT_VERTEX)
      square = fmax(square, square_to(near));
  }
  return square;
}

/* No edge is nearer than @radius to the place @x along the middle line. */
static gboolean
has_room(const Patch *patch, double x, double radius)
{
  HfPoint at = {x, 0};
  for (guint i = 0; i < patch->near->len; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    if (near->seam || fmin(near->p.x, near->q.x) > x + radius ||
        fmax(near->p.x, near->q.x) < x - radius)
      continue;
    if (hf_point_distance(at, hf_segment_nearest(near->p, near->q, at, NULL)) < radius)
      return FALSE;
  }
  return TRUE;
}

/* ---- both ends ------------------------------------------------------------------------------- */

/* A round hole to be fastened by, or another tie: nothing is tied there. */
static gboolean
may_end_on(const HfGround *ground, const HfTieLaw *law, HfEdgeId edge)
{
  guint of = hf_ground_shape(ground, edge);
  if (of == HF_NO_SHAPE)
    return TRUE;
  const HfShape *shape = hf_layout_shape(ground->sign->layout, of);
  HfEntryKind kind = hf_recipe_at(ground->sign->recipe, shape->entry)->kind;
  if (law->barred != NULL && law->barred[of])
    return FALSE;
  if (kind == HF_ENTRY_TIE || kind == HF_ENTRY_TIES)
    return FALSE;
  return !shape->opening ||
         !(kind == HF_ENTRY_HOLE || kind == HF_ENTRY_HOLES || kind == HF_ENTRY_SLOT ||
           kind == HF_ENTRY_KEYHOLE || kind == HF_ENTRY_EAR);
}

/* Room in the metal behind the end, see the top. */
static HfBarFault
find_hold(const Patch *patch, HfBarEnd *end, int which)
{
  const HfTieLaw *law = patch->law;
  double radius = law->short_web / 2 - HF_SLACK / 2, wide = law->caution / 2 - HF_SLACK / 2;
  double deep[] = {(end->middle + end->ends) / 2, end->begins + radius,         end->begins + wide,
                   end->middle + radius,          (end->begins + end->bar) / 2, end->bar};
  gboolean holds = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS(deep) && !end->solid; i++) {
    if (!(deep[i] <= end->bar && deep[i] >= end->middle))
      continue;
    double x = which == 0 ? -deep[i] : deep[i];
    end->solid = has_room(patch, x, wide);
    holds = holds || end->solid || has_room(patch, x, radius);
  }
  return holds ? HF_BAR_FITS : HF_BAR_THIN;
}

static void
take_middle(const Patch *patch, const Gap *gap, HfBar *bar)
{
  for (int which = 0; which < 2; which++) {
    HfBarEnd *end = &bar->end[which];
    *end =
        (HfBarEnd){.middle = gap->begins[which],
                   .begins = gap->begins[which],
                   .ends = gap->ends[which],
                   .edge = gap->edge[which]->id,
                   .part = patch->ground->part[gap->edge[which]->id.ring],
                   .square = gap->edge[which]->seam
                                 ? 1
                                 : square_at(patch, which == 0 ? -gap->begins[0] : gap->begins[1])};
    bar->part[which] = end->part;
  }
  bar->length = gap->begins[0] + gap->begins[1];
}

static HfBarFault
take_line(const Patch *patch, const Gap *gap, HfBar *bar)
{
  for (int which = 0; which < 2; which++) {
    HfBarEnd *end = &bar->end[which];
    if (gap->begins[which] > end->middle + DEEPEST * bar->width || gap->ends[which] <= end->middle)
      return HF_BAR_EDGE;
    if (!may_end_on(patch->ground, patch->law, gap->edge[which]->id))
      return HF_BAR_HOLE;
    end->begins = fmax(end->begins, gap->begins[which]);
    end->ends = fmin(end->ends, gap->ends[which]);
  }
  bar->length = fmax(bar->length, gap->begins[0] + gap->begins[1]);
  return HF_BAR_FITS;
}

/* Both ends, line by line, the middle one first: the same bar as tie.c of layout/ lays. */
static HfBarFault
find_ends(const Patch *patch, guint a, HfBar *bar)
{
  guint b = HF_NO_PART;
  for (int i = 0; i < HF_BAR_LINES; i++) {
    int line = (i + HF_BAR_LINES / 2) % HF_BAR_LINES;
    double off = bar->width * (line / (HF_BAR_LINES - 1.0) - 0.5) * (1 - 1e-6);
    Gap gap;
    if (!find_gap(patch, off, a, b, i == 0 ? bar->width : DEEPEST * bar->width, &gap))
      return i == 0 ? HF_BAR_NOTHING : HF_BAR_EDGE;
    if (i == 0) {
      take_middle(patch, &gap, bar);
      b = bar->part[1];
    }
    bar->straight = bar->straight && gap.begins[0] > 1e-3 && gap.begins[1] > 1e-3;
    HfBarFault fault = take_line(patch, &gap, bar);
    if (fault != HF_BAR_FITS)
      return fault;
    for (int which = 0; which < 2 && (line == 0 || line == HF_BAR_LINES - 1); which++)
      bar->end[which].side[line > 0] = gap.begins[which];
  }
  for (int which = 0; which < 2; which++) {
    HfBarEnd *end = &bar->end[which];
    if (!(end->ends > end->begins))
      return HF_BAR_EDGE;
    end->bar = fmin(end->begins + patch->law->bite, end->ends);
    HfBarFault fault = find_hold(patch, end, which);
    if (fault != HF_BAR_FITS)
      return fault;
  }
  return HF_BAR_FITS;
}

/* Its axis stays narrower than what a long web should have a little way into the metal at either
 * end. */
static gboolean
is_long(const HfTieLaw *law, const HfBar *bar)
{
  double missing = law->long_caution * law->long_caution - bar->width * bar->width;
  double within = missing > 0 ? sqrt(missing) : 0;
  return bar->length + within > law->long_after * bar->width - MARGIN;
}

/* ---- beside it ------------------------------------------------------------------------------- */

/* The share of segment p-q whose distance y from the bar's edge is within 0 and @wide. */
static gboolean
clip_beside(HfPoint *p, HfPoint *q, double wide)
{
  for (int i = 0; i < 2; i++) {
    double a = i == 0 ? p->y : wide - p->y, b = i == 0 ? q->y : wide - q->y;
    if (a < 0 && b < 0)
      return FALSE;
    if (a < 0)
      *p = hf_point_mix(*p, *q, a / (a - b));
    else if (b < 0)
      *q = hf_point_mix(*q, *p, b / (b - a));
  }
  return TRUE;
}

/* Metal beside the bar may only recede from its two ends; @from, @to: where the bar's edge is
 * free. */
static gboolean
is_beside(HfPoint p, double from, double to)
{
  return (p.x - from) * SHALLOWEST > p.y + HF_SLACK && (to - p.x) * SHALLOWEST > p.y + HF_SLACK;
}

/* The distance of the nearest metal from either edge of the bar; @wide: none nearer. */
static double
room_beside(const Patch *patch, const HfBar *bar, double wide)
{
  double half = bar->width / 2, room = wide;
  for (guint i = 0; i < patch->near->len; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    for (int side = -1; !near->seam && side <= 1; side += 2) {
      HfPoint p = {near->p.x, side * near->p.y - half}, q = {near->q.x, side * near->q.y - half};
      if (!clip_beside(&p, &q, room))
        continue;
      double from = -bar->end[0].side[side > 0], to = bar->end[1].side[side > 0];
      HfPoint three[] = {p, hf_point_mix(p, q, 0.5), q};
      for (int k = 0; k < 3; k++)
        if (is_beside(three[k], from, to))
          room = fmin(room, three[k].y);
    }
  }
  return room;
}

/* A weak joint of the same two parts beside the bar, not covered by it: what lies between the two
 * is a pocket too small to pierce. */
static gboolean
leaves_pocket(const Patch *patch, HfBar *bar)
{
  double half = bar->width / 2, far = half + 2 * patch->law->pierce;
  for (guint i = 0; i < patch->near->len; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    guint part = near->seam ? patch->ground->part[near->id.ring] : HF_NO_PART;
    if (part == HF_NO_PART || (part != bar->part[0] && part != bar->part[1]))
      continue;
    double low = fmin(near->p.y, near->q.y), high = fmax(near->p.y, near->q.y);
    gboolean covered = low > -half && high < half &&
                       fmin(near->p.x, near->q.x) > -bar->end[0].bar &&
                       fmax(near->p.x, near->q.x) < bar->end[1].bar;
    bar->covers = bar->covers || covered;
    if (!covered && low < far && high > -far)
      return TRUE;
  }
  return FALSE;
}

/* How much the outline turns at the beginning of an edge. */
static double
turn_at(const HfGround *ground, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(ground->region, id.ring);
  HfPoint p = hf_grid_point(ring->at[(id.vertex + ring->n - 1) % ring->n]);
  HfPoint at = hf_grid_point(ring->at[id.vertex]);
  HfPoint q = hf_grid_point(ring->at[(id.vertex + 1) % ring->n]);
  HfPoint in = hf_point_sub(at, p), out = hf_point_sub(q, at);
  return fabs(atan2(hf_point_cross(in, out), hf_point_dot(in, out)));
}

/* 1: a corner of the outline lies on the edge of the bar; 0: none within its width of it. */
static double
near_corner(const Patch *patch, const HfBar *bar, int which)
{
  double x = which == 0 ? -bar->end[0].middle : bar->end[1].middle, nearest = 0;
  for (guint i = 0; i < patch->near->len; i++) {
    const Near *near = &g_array_index(patch->near, Near, i);
    double beside = fabs(near->p.y) - bar->width / 2;
    if (near->seam || fabs(near->p.x - x) > bar->width || beside > bar->width)
      continue;
    double this = 1 - fmax(beside, 0) / bar->width;
    this *= fmin(1, 4 * (1 - fabs(near->p.x - x) / bar->width)); /* no step at a width */
    if (this > nearest && turn_at(patch->ground, near->id) > CORNER_TURN)
      nearest = this;
  }
  return nearest;
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* Simpson's rule over the five lines would need them again: the mean of middle and sides, which is
 * exact where the edges are straight. */
static double
area_of(const HfBar *bar)
{
  double middle = bar->end[0].middle + bar->end[1].middle;
  double right = bar->end[0].side[0] + bar->end[1].side[0];
  double left = bar->end[0].side[1] + bar->end[1].side[1];
  return bar->width * (right + left + 4 * middle) / 6;
}

static gboolean
runs(const HfTieLaw *law, const HfView *view, const HfBar *bar)
{
  switch (law->direction) {
  case HF_TIE_UPRIGHT:
    return fabs(hf_view_way(view, bar->way).y) > STRAIGHT;
  case HF_TIE_LEVEL:
    return fabs(hf_view_way(view, bar->way).x) > STRAIGHT;
  case HF_TIE_STROKE:
    return fmax(bar->end[0].square, bar->end[1].square) > STRAIGHT;
  default:
    return TRUE;
  }
}

static double
seen_from(const HfView *view, HfPoint p)
{
  HfPoint q = hf_view_point(view, p);
  return q.x == 0 && q.y == 0 ? 0 : atan2(q.y, q.x);
}

static gboolean
is_kept_free(const HfTieLaw *law, double angle)
{
  for (guint i = 0; law->keep_free != NULL && i < law->keep_free->len; i++) {
    double off = angle - g_array_index(law->keep_free, HfSpot, i).angle;
    if (fabs(remainder(off, 2 * G_PI)) < KEPT_FREE)
      return TRUE;
  }
  return FALSE;
}

static double
reach_of(const HfView *view, const HfBar *bar)
{
  HfPoint end = hf_bar_point(bar, -bar->end[0].bar, 0);
  double far = 0;
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    far = fmax(far, hf_point_distance(end, view->extreme[k]));
  return far;
}

static HfBarFault
measure(const Patch *patch, HfBar *bar)
{
  const HfGround *ground = patch->ground;
  const HfTieLaw *law = patch->law;
  const HfView *view = &ground->views[bar->part[0]], *other = &ground->views[bar->part[1]];
  bar->angle[0] = seen_from(view, hf_bar_point(bar, -bar->end[0].middle, 0));
  bar->angle[1] = seen_from(other, hf_bar_point(bar, bar->end[1].middle, 0));
  if (!runs(law, view, bar))
    return HF_BAR_DIRECTION;
  if (is_kept_free(law, bar->angle[0]))
    return HF_BAR_KEPT_FREE;
  double room = room_beside(patch, bar, law->gap_caution + HF_SLACK);
  if (room < law->gap || leaves_pocket(patch, bar))
    return HF_BAR_CLOSE;
  bar->crowd = CLAMP((law->gap_caution - room) / (law->gap_caution - law->gap + HF_SLACK), 0, 1);
  bar->area = area_of(bar);
  bar->off = hf_view_off(view, hf_bar_point(bar, -bar->end[0].middle, 0), bar->way);
  bar->reach = reach_of(view, bar);
  for (int which = 0; which < 2; which++)
    bar->corner[which] = near_corner(patch, bar, which);
  return HF_BAR_FITS;
}

static HfBarFault
try_width(const Patch *patch, guint a, HfPoint at, HfPoint way, double over, HfBar *ret_bar)
{
  const HfTieLaw *law = patch->law;
  HfBar bar = {.at = at, .way = way};
  HfBarFault fault = HF_BAR_EDGE;
  for (int is = 0; is < 2; is++) {
    bar.straight = TRUE;
    bar.limit = is ? law->long_web : law->short_web;
    bar.width = fmax(isnan(law->given) ? over * bar.limit : law->given, bar.limit + MARGIN);
    fault = find_ends(patch, a, &bar);
    if (fault != HF_BAR_FITS || is || !is_long(law, &bar))
      break;
  }
  if (fault == HF_BAR_FITS)
    fault = measure(patch, &bar);
  if (fault == HF_BAR_FITS)
    *ret_bar = bar;
  return fault;
}

HfBarFault
hf_bar_try(HfGround *ground, const HfTieLaw *law, guint a, HfPoint at, HfPoint way, double gap,
           HfBar *ret_bar)
{
  g_autoptr(GArray) near = g_array_sized_new(FALSE, FALSE, sizeof(Near), 64);
  Patch patch = {ground, law, near, 0};
  patch_fill(&patch, at, way, gap);
  HfBarFault fault = HF_BAR_NOTHING;
  for (guint i = 0; i < G_N_ELEMENTS(widths); i++) {
    fault = try_width(&patch, a, at, way, widths[i], ret_bar);
    if (fault == HF_BAR_FITS || fault == HF_BAR_NOTHING || fault == HF_BAR_DIRECTION ||
        fault == HF_BAR_KEPT_FREE || fault == HF_BAR_HOLE || !isnan(law->given))
      break;
  }
  return fault;
}
