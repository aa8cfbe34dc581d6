/* SPDX-License-Identifier: GPL-3.0-or-later
 * offers.c - the bars that could hold a part: where to look for them, and which to keep.
 *
 *        |   |          lines upright and level through the part: its middle, quarters, flat ends
 *      --+---+--        square from its edge, at even steps from its top on
 *        | o |          from the nearest of its neighbours
 *      --+---+--        over each joint that is too weak; aslant from a dot
 *
 * All places are found in the part's own frame, so that a sign that is turned gets the same ones.
 * They are tried in order of what they would show, an eighth of the circle not before the others
 * have had theirs.
 */
#include "tie/offers-private.h"

#define CLOSE_PLACE  0.25 /* of its width: bars nearer than this, */
#define CLOSE_ANGLE  0.07 /* rad: and within 4 degrees, are one */
#define TRUE_ANGLE   0.05 /* rad: a bar that is so nearly upright or level is made so */
#define LATER        0.02 /* square ties that a place of the next kind is put back by */
#define JOINT_INSIDE 0.5  /* mm that the edge of a bar goes over a joint that it covers */
#define CORNER       0.7  /* rad: what turns less is no corner, what turns nearly round a tip */
#define ON_EDGE      1e-4 /* mm: of the part's own edge */
#define EVEN         0.01 /* mm2: guesses no further apart are even */
#define EVEN_GAP     0.02 /* mm: so are gaps */

enum {
  MOST_KEPT = 16, /* bars kept of one part, */
  LEAST_KEPT = 8, /* when there are very many parts, so that all together stay below */
  ALL_KEPT = 8000,
  SECTORS = 8,
  PLACE_WORK = 20, /* units of work for each place that is looked at */
  MOST_STEPS = 48, /* round the edge */
  LEAST_STEPS = 16,
};

/* How a place was found; where two are the same, the one found first in this order stands. */
typedef enum { ON_LINE, AT_STEM, AT_NEAREST, ON_STEP } Kind;

/* A place to try. */
typedef struct {
  HfPoint at, way;
  double gap; /* mm of nothing on the middle line */
  double guess;
  Kind kind;
  guint sector;
} Place;

typedef struct {
  HfOffers *offers;
  HfGround *ground;
  guint part;
  const HfView *view;
  GArray *places; /* Place */
} Looking;

static guint
sector_of(const HfView *view, HfPoint p)
{
  HfPoint q = hf_view_point(view, p);
  /* bounds lie between the compass points, where no symmetric place is */
  double turn = atan2(q.y, q.x) / (2 * G_PI) + 1.0 / (2 * SECTORS);
  return (guint)floor((turn - floor(turn)) * SECTORS) % SECTORS;
}

static HfPoint
made_true(const HfView *view, HfPoint way)
{
  HfPoint seen = hf_view_way(view, way);
  if (fabs(seen.x) < TRUE_ANGLE)
    return hf_point_scale(hf_view_upright(view), seen.y < 0 ? -1 : 1);
  if (fabs(seen.y) < TRUE_ANGLE)
    return hf_point_scale(view->level, seen.x < 0 ? -1 : 1);
  return way;
}

/* A dot of what may stand alone goes to its own kind or to the body; all else to the body, and not
 * by way of such a dot. */
gboolean
hf_offers_may_join(const HfOffers *offers, guint part, guint other)
{
  if (offers->node[other] == HF_NO_PART)
    return FALSE;
  return offers->apart[part] == offers->apart[other] ||
         (offers->node[other] == 0 && !offers->apart[other]);
}

/* From @from, on the part's edge, along @way. Returns: mm of nothing there; INFINITY: there is
 * nothing to be tied to. */
static double
look(Looking *looking, HfPoint from, HfPoint way, Kind kind)
{
  HfMet met;
  way = made_true(looking->view, way);
  if (!hf_ground_ray(looking->ground, from, way, ON_EDGE, &met) || met.part == looking->part ||
      met.part == HF_NO_PART || !hf_offers_may_join(looking->offers, looking->part, met.part) ||
      !met.enters)
    return INFINITY;
  HfPoint seen = hf_view_way(looking->view, way);
  double slant = 2 * seen.x * seen.y;
  double width = sqrt(looking->offers->unit), off = hf_view_off(looking->view, from, way);
  Place place = {.at = hf_point_add(from, hf_point_scale(way, met.at / 2)),
                 .way = way,
                 .kind = kind,
                 .gap = met.at,
                 .guess =
                     met.at * width + looking->offers->unit *
                                          (slant * slant + 0.3 * off * off + LATER * (double)kind),
                 .sector = sector_of(looking->view, from)};
  g_array_append_val(looking->places, place);
  return met.at;
}

/* ---- lines through the part ------------------------------------------------------------------ */

/* Every place where the line leaves the part, either way. */
static void
look_along_line(Looking *looking, HfPoint way, double off)
{
  HfPoint left = {-way.y, way.x};
  HfPoint on = hf_point_add(looking->view->middle, hf_point_scale(left, off));
  const HfRegion *region = looking->ground->region;
  for (guint i = 0; i < looking->view->rings->len; i++) {
    guint r = g_array_index(looking->view->rings, guint, i);
    const HfRing *ring = hf_region_ring(region, r);
    HfPoint p = hf_point_sub(hf_grid_point(ring->at[ring->n - 1]), on);
    double side_p = hf_point_cross(way, p);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint q = hf_point_sub(hf_grid_point(ring->at[v]), on);
      double side_q = hf_point_cross(way, q);
      if ((side_p > 0) != (side_q > 0)) {
        HfPoint at = hf_point_add(on, hf_point_mix(p, q, side_p / (side_p - side_q)));
        look(looking, at, side_q > 0 ? way : hf_point_scale(way, -1), ON_LINE);
      }
      p = q;
      side_p = side_q;
    }
  }
}

/* Stems end in straight edges across them: a line through the middle of each. */
static void
look_along_stems(Looking *looking, HfPoint way, double least)
{
  HfPoint left = {-way.y, way.x};
  for (guint i = 0; i < looking->view->rings->len; i++) {
    guint r = g_array_index(looking->view->rings, guint, i);
    for (guint v = 0; v < hf_region_ring(looking->ground->region, r)->n; v++) {
      HfPoint a = hf_edge_start(looking->ground->region, (HfEdgeId){r, v});
      HfPoint b = hf_edge_end(looking->ground->region, (HfEdgeId){r, v});
      HfPoint along = hf_point_sub(b, a);
      double length = hf_point_length(along);
      if (length < least || fabs(hf_point_dot(along, way)) > 0.02 * length)
        continue;
      HfPoint from = hf_point_mix(a, b, 0.5);
      look(looking, from, hf_point_scale(way, hf_point_dot(along, left) > 0 ? 1 : -1), AT_STEM);
    }
  }
}

static void
look_along_lines(Looking *looking)
{
  static const double shares[] = {0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75};
  const HfView *view = looking->view;
  HfPoint upright = hf_view_upright(view);
  double least = 0.8 * sqrt(looking->offers->unit);
  double across = hf_box_width(view->box) / 2, high = hf_box_height(view->box) / 2;
  for (guint i = 0; i < G_N_ELEMENTS(shares); i++) {
    look_along_line(looking, upright, shares[i] * across);
    look_along_line(looking, view->level, shares[i] * high);
  }
  look_along_stems(looking, upright, least);
  look_along_stems(looking, view->level, least);
}

/* ---- round the edge -------------------------------------------------------------------------- */

/* The vertex of @ring from which to step: where it crosses the upward line through the middle
 * highest; a ring that does not: the highest one. */
static guint
first_step(const Looking *looking, const HfRing *ring, double *ret_into)
{
  guint best = 0;
  double highest = -INFINITY;
  gboolean crossed = FALSE;
  *ret_into = 0;
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_view_point(looking->view, hf_grid_point(ring->at[v]));
    HfPoint q = hf_view_point(looking->view, hf_grid_point(ring->at[(v + 1) % ring->n]));
    gboolean crosses = (p.x > 0) != (q.x > 0);
    double t = crosses ? p.x / (p.x - q.x) : 0, y = p.y + (q.y - p.y) * t;
    if ((crosses && !crossed) || (crosses == crossed && y > highest)) {
      crossed = crosses;
      highest = y;
      best = v;
      *ret_into = t * hf_point_distance(p, q);
    }
  }
  return best;
}

/* Back and forth until both are nearest to each other. */
static void
look_nearest(Looking *looking, HfPoint from, double within)
{
  HfPoint at, own = from;
  guint other, part;
  for (int i = 0; i < 4; i++) {
    if (!hf_ground_nearest(looking->ground, own, looking->part, within, &at, &other))
      return;
    HfPoint back;
    within = hf_point_distance(own, at) + 1e-3;
    if (!hf_ground_nearest(looking->ground, at, other, within, &back, &part) ||
        part != looking->part || hf_point_distance(back, own) < 1e-3)
      break;
    own = back;
  }
  HfPoint between = hf_point_sub(at, own);
  double gap = hf_point_length(between);
  if (gap > 1e-3 && hf_offers_may_join(looking->offers, looking->part, other))
    look(looking, own, hf_point_scale(between, 1 / gap), AT_NEAREST);
}

/* Where the gap is no wider than at the steps on either side, the nearest place is looked for. */
static void
look_near_steps(Looking *looking, const HfPoint *from, const double *gap, guint n)
{
  for (guint i = 0; i < n; i++)
    if (gap[i] < INFINITY && gap[i] <= gap[(i + 1) % n] + EVEN_GAP &&
        gap[i] <= gap[(i + n - 1) % n] + EVEN_GAP)
      look_nearest(looking, from[i], gap[i] + 0.01);
}

static void
step_round(Looking *looking, const HfRing *ring, double step)
{
  double length = hf_ring_perimeter(ring), into = 0;
  guint n = (guint)fmax(1, floor(length / step)), v = first_step(looking, ring, &into);
  g_autofree HfPoint *starts = g_new(HfPoint, n);
  g_autofree double *gaps = g_new(double, n);
  double next = into; /* mm from vertex v on */
  guint told = 0;
  for (guint walked = 0; told < n && walked <= 2 * ring->n; walked++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    double edge = hf_point_distance(a, b);
    for (; told < n && next <= edge && edge > 0; next += length / n) {
      starts[told] = hf_point_mix(a, b, next / edge);
      HfPoint normal = hf_point_scale(hf_point(b.y - a.y, a.x - b.x), 1 / edge);
      gaps[told] = look(looking, starts[told], normal, ON_STEP);
      told++;
    }
    next -= edge;
    v = (v + 1) % ring->n;
  }
  look_near_steps(looking, starts, gaps, told);
}

static void
look_round(Looking *looking, guint most)
{
  double step = fmax(2 * sqrt(looking->offers->unit), looking->view->girth / most);
  step = fmin(step, looking->view->girth / LEAST_STEPS);
  for (guint i = 0; i < looking->view->rings->len; i++)
    step_round(
        looking,
        hf_region_ring(looking->ground->region, g_array_index(looking->view->rings, guint, i)),
        step);
}

/* ---- across corners ------------------------------------------------------------------------- */

/* Along the line that halves each corner that stands out, of a script of strokes: tried first. */
static void
look_across_corners(Looking *looking)
{
  const HfRegion *region = looking->ground->region;
  for (guint i = 0; i < looking->view->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, g_array_index(looking->view->rings, guint, i));
    for (guint v = 0; v < ring->n; v++) {
      HfPoint at = hf_grid_point(ring->at[v]);
      HfPoint in = hf_point_sub(at, hf_grid_point(ring->at[(v + ring->n - 1) % ring->n]));
      HfPoint out = hf_point_sub(hf_grid_point(ring->at[(v + 1) % ring->n]), at);
      double turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out));
      if (!(turn > CORNER && turn < G_PI - CORNER))
        continue;
      double angle = hf_angle_of(in) + turn / 2 - G_PI / 2;
      if (look(looking, at, hf_point(cos(angle), sin(angle)), AT_STEM) < INFINITY)
        g_array_index(looking->places, Place, looking->places->len - 1).guess = 0;
    }
  }
}

/* ---- from a dot ------------------------------------------------------------------------------ */

/* Through its middle, aslant: the stem of an i, the arms of a U lie beside the line straight down.
 */
static void
look_from_dot(Looking *looking)
{
  static const double angles[] = {0.3, 0.55, 0.8, 1.05}; /* rad from upright */
  HfPoint up = hf_view_upright(looking->view), level = looking->view->level;
  for (guint i = 0; i < G_N_ELEMENTS(angles); i++)
    for (int side = -1; side <= 1; side += 2)
      look_along_line(looking,
                      hf_point_add(hf_point_scale(up, cos(angles[i])),
                                   hf_point_scale(level, side * sin(angles[i]))),
                      0);
}

/* ---- over weak joints ------------------------------------------------------------------------ */

/* In its middle, and so that one edge of the bar just covers it: a joint at a corner has solid
 * metal to one side only. */
static void
look_over_joint(Looking *looking, HfPoint at, HfPoint across)
{
  double width = sqrt(looking->offers->unit);
  for (int k = 0; k < 6; k++) {
    int side = k / 2 - 1; /* one edge, the middle, the other edge */
    double off = side * (width / 2 - JOINT_INSIDE);
    HfPoint way = hf_point_scale(hf_point(-across.y, across.x), k % 2 == 0 ? 1 : -1);
    Place place = {.at = hf_point_add(at, hf_point_scale(across, off)),
                   .way = way,
                   .gap = 2 * fabs(off),
                   .guess = fabs(off),
                   .sector = sector_of(looking->view, at)};
    g_array_append_val(looking->places, place);
  }
}

static void
look_over_joints(Looking *looking)
{
  const HfHold *hold = looking->ground->sign->hold;
  HfBox box = g_array_index(hold->parts, HfPart, looking->part).box;
  for (guint i = 0; hold->cut != NULL && i < hold->webs->len; i++) {
    const HfWeb *web = &g_array_index(hold->webs, HfWeb, i);
    HfPoint across = hf_point_sub(web->foot_b, web->foot_a);
    double width = hf_point_length(across);
    if (!web->joint || !(width > 0) || width >= looking->offers->law.bite ||
        !hf_box_contains(hf_box_grow(box, 1), web->at))
      continue;
    look_over_joint(looking, web->at, hf_point_scale(across, 1 / width));
  }
}

/* ---- keeping the best ------------------------------------------------------------------------ */

/* Ties of the guess are broken in the part's own frame: upright first, then downwards, leftwards.
 */
static int
cheapest_first(gconstpointer p, gconstpointer q, gpointer data)
{
  const Place *a = p, *b = q;
  const HfView *view = data;
  double more = rint(a->guess / EVEN) - rint(b->guess / EVEN);
  if (more != 0)
    return more < 0 ? -1 : 1;
  HfPoint u = hf_view_point(view, a->at), v = hf_view_point(view, b->at);
  more = rint(u.y / EVEN) - rint(v.y / EVEN);
  if (more != 0)
    return more < 0 ? -1 : 1;
  return u.x < v.x ? -1 : u.x > v.x;
}

static gboolean
is_same(const HfBar *bar, const Place *place)
{
  if (fabs(hf_point_cross(bar->way, place->way)) > CLOSE_ANGLE ||
      hf_point_dot(bar->way, place->way) < 0)
    return FALSE;
  HfPoint between = hf_point_sub(place->at, bar->at);
  double close = CLOSE_PLACE * bar->width;
  return fabs(hf_point_cross(bar->way, between)) < close &&
         hf_point_length(between) < bar->length / 2 + close;
}

static gboolean
is_kept(const HfOffers *offers, guint first, const Place *place)
{
  for (guint i = first; i < offers->bars->len; i++)
    if (is_same(&g_array_index(offers->bars, HfBar, i), place))
      return TRUE;
  return FALSE;
}

static void
try_place(Looking *looking, const Place *place, guint *faults)
{
  HfOffers *offers = looking->offers;
  HfBar bar;
  HfBarFault fault = hf_bar_try(looking->ground, &offers->law, looking->part, place->at, place->way,
                                place->gap, &bar);
  faults[fault]++;
  if (fault != HF_BAR_FITS || !hf_offers_may_join(offers, looking->part, bar.part[1]))
    return;
  bar.style = hf_bar_style(offers, &bar) + LATER / 2 * (double)place->kind * offers->unit;
  g_array_append_val(offers->bars, bar);
}

/* First each sector its share, then whatever is left while there is room. */
static void
keep_best(Looking *looking, guint most, guint *faults)
{
  GArray *places = looking->places, *bars = looking->offers->bars;
  guint first = bars->len, kept[SECTORS] = {0}, share = most / SECTORS + 1;
  g_autofree gboolean *tried = g_new0(gboolean, places->len + 1);
  g_array_sort_with_data(places, cheapest_first, (gpointer)looking->view);
  hf_cancel_count(looking->ground->cancel, PLACE_WORK * places->len);
  for (int round = 0; round < 2; round++)
    for (guint i = 0; i < places->len && bars->len - first < most; i++) {
      const Place *place = &g_array_index(places, Place, i);
      if (tried[i] || (round == 0 && kept[place->sector] >= share))
        continue;
      tried[i] = TRUE;
      guint before = bars->len;
      if (!is_kept(looking->offers, first, place))
        try_place(looking, place, faults);
      kept[place->sector] += bars->len - before;
    }
}

gboolean
hf_offers_find(HfOffers *offers, GError **error)
{
  guint n = offers->needy->len;
  guint most = (guint)CLAMP(ALL_KEPT / fmax(n, 1), LEAST_KEPT, MOST_KEPT);
  guint steps = (guint)CLAMP(2 * ALL_KEPT / fmax(n, 1), LEAST_STEPS, MOST_STEPS);
  g_autoptr(GArray) places = g_array_new(FALSE, FALSE, sizeof(Place));
  for (guint i = 0; i < n; i++) {
    guint part = g_array_index(offers->needy, guint, i);
    if (!hf_cancel_check(offers->ground->cancel, error))
      return FALSE;
    g_array_set_size(places, 0);
    Looking looking = {offers, offers->ground, part, &offers->ground->views[part], places};
    look_over_joints(&looking);
    look_along_lines(&looking);
    look_round(&looking, steps);
    if (offers->dot[part])
      look_from_dot(&looking);
    if (hf_habit_at(offers, part)->strokes)
      look_across_corners(&looking);
    keep_best(&looking, most, offers->faults + i * HF_N_BAR_FAULTS);
  }
  return TRUE;
}
