/* SPDX-License-Identifier: GPL-3.0-or-later
 * starts.c - the places where a path may be begun, and what each costs.
 *
 *      o-----.        candidates: the middles of straight lines and of arcs, outer corners (there
 * the |      o       path is an arc of half a kerf), and enough beside them on a long contour; the
 *      o--o---'       best MOST_STARTS that have a way in are kept
 *
 * The cost is in mm of travel: what a start would be given up for. docs/maths.md#starts
 */
#include "base/text.h"
#include "geom/axis.h"
#include "lead/lead-private.h"
#include <stdlib.h>

enum { MOST_TRIED = 24, MOST_STARTS = 16, LEAST_TRIED = 8 };

/* mm of travel; the ranks are common practice without a source, the figures ours. */
#define COST_CORNER 2.0  /* on an outer corner; the middle of a long straight: 0 */
#define COST_SHORT  6.0  /* on a straight of less than LONG_MM */
#define COST_ROUND  5.0  /* on an arc */
#define COST_TOP    10.0 /* in the upper sixth of what stands: where people look first */
#define COST_THIN   60.0 /* beside what is thin, or a tie */
#define LONG_MM     12.0
#define ACCURACY_MM 0.05 /* of the largest circle */
#define BESIDE_MM   1.0  /* so far beside a wished place is told */
#define SHORTER_MM  0.1  /* as is a way in that is so much shorter than wished */

typedef struct {
  const HfCurve *curves;
  guint n;
  HfBox box;
  gboolean is_opening;
  double length;
} Contour;

static gboolean
is_corner(const HfLeadWork *work, const HfCurve *curve)
{
  return curve->kind == HF_CURVE_ARC &&
         hf_curve_radius(curve) < work->options->kerf / 2 * 1.01 + 1e-3;
}

static double
place_cost(const HfLeadWork *work, const Contour *contour, const HfCurve *curve, HfPoint at)
{
  double cost = is_corner(work, curve)            ? COST_CORNER
                : curve->kind == HF_CURVE_ARC     ? COST_ROUND
                : hf_lead_length(curve) < LONG_MM ? COST_SHORT
                                                  : 0;
  double high = contour->box.max.y - contour->box.min.y;
  if (!contour->is_opening && at.y > contour->box.max.y - high / 6)
    cost += COST_TOP;
  if (work->options->keep_clear != NULL && hf_region_contains(work->options->keep_clear, at))
    cost += COST_THIN;
  return cost;
}

static void
add_place(const HfLeadWork *work, const Contour *contour, guint curve, double t, GArray *places)
{
  HfPoint at = hf_curve_point(&contour->curves[curve], t);
  HfLeadPlace place = {curve, t, place_cost(work, contour, &contour->curves[curve], at)};
  g_array_append_val(places, place);
}

static int
compare_places(gconstpointer a, gconstpointer b)
{
  const HfLeadPlace *x = a, *y = b;
  if (x->cost != y->cost)
    return x->cost < y->cost ? -1 : 1;
  return x->curve != y->curve ? (x->curve > y->curve) - (x->curve < y->curve)
                              : (x->t > y->t) - (x->t < y->t);
}

/* A middle for each curve that is long enough to be worth one, or is a corner. */
static void
add_middles(const HfLeadWork *work, const Contour *contour, GArray *places)
{
  double worth = fmax(contour->length / (4 * MOST_TRIED), work->options->kerf);
  for (guint i = 0; i < contour->n; i++)
    if (is_corner(work, &contour->curves[i]) || hf_lead_length(&contour->curves[i]) >= worth)
      add_place(work, contour, i, 0.5, places);
}

/* Evenly along it. */
static void
add_even(const HfLeadWork *work, const Contour *contour, guint n, GArray *places)
{
  double step = contour->length / n, next = step / 3, gone = 0;
  for (guint i = 0; i < contour->n; i++) {
    double length = hf_lead_length(&contour->curves[i]);
    for (; next < gone + length; next += step)
      add_place(work, contour, i, (next - gone) / length, places);
    gone += length;
  }
}

/* So many of them, spread along the contour: the cheapest of each stretch of it. */
static void
thin_out(GArray *places)
{
  if (places->len <= MOST_TRIED)
    return;
  g_autoptr(GArray) kept = g_array_new(FALSE, FALSE, sizeof(HfLeadPlace));
  for (guint s = 0; s < MOST_TRIED; s++) {
    guint from = s * places->len / MOST_TRIED, to = (s + 1) * places->len / MOST_TRIED;
    guint best = from;
    for (guint i = from + 1; i < to; i++)
      if (g_array_index(places, HfLeadPlace, i).cost <
          g_array_index(places, HfLeadPlace, best).cost)
        best = i;
    g_array_append_val(kept, g_array_index(places, HfLeadPlace, best));
  }
  g_array_set_size(places, 0);
  g_array_append_vals(places, kept->data, kept->len);
}

static GArray *
find_places(const HfLeadWork *work, const Contour *contour)
{
  GArray *places = g_array_new(FALSE, FALSE, sizeof(HfLeadPlace));
  add_middles(work, contour, places);
  thin_out(places);
  if (places->len < LEAST_TRIED)
    add_even(work, contour, LEAST_TRIED, places);
  return places;
}

static int
compare_starts(gconstpointer a, gconstpointer b)
{
  const HfStart *x = a, *y = b;
  if (x->cost != y->cost)
    return x->cost < y->cost ? -1 : 1;
  return x->curve != y->curve ? (x->curve > y->curve) - (x->curve < y->curve)
                              : (x->t > y->t) - (x->t < y->t);
}

/* The starts of one path while they are found. */
typedef struct {
  GArray *starts; /* HfStart, in any order */
  double most_has;
  HfPoint most_at;
} Found;

static void
try_place(HfLeadWork *work, const Contour *contour, const HfLeadPlace *place, HfPoint centre,
          double room, Found *found)
{
  const HfCurve *curve = &contour->curves[place->curve];
  HfPoint at = hf_curve_point(curve, place->t);
  HfLeadWay way;
  double cost, has;
  if (!hf_lead_best_way(work, at, hf_lead_along(curve, place->t), centre, room, &way, &cost, &has))
    return;
  HfStart start = {way.in[0].p0, place->curve, place->t, work->ways->len, place->cost + cost};
  g_array_append_val(work->ways, way);
  g_array_append_val(found->starts, start);
  if (has > found->most_has) {
    found->most_has = has;
    found->most_at = start.pierce;
  }
}

/* A short one is told where the best that will be used is short. */
static void
tell_short(HfLeadWork *work, const Contour *contour, const Found *found)
{
  double needs = hf_lead_needs(work->options);
  gboolean none = found->starts->len == 0;
  if (!none && found->most_has >= needs - 0.01)
    return;
  HfLeadShort one = {hf_torch_path(work->paths, work->path)->ring,
                     (gint)work->path,
                     none ? hf_curve_point(&contour->curves[0], 0.5) : found->most_at,
                     needs,
                     none ? 0 : found->most_has,
                     none};
  g_array_append_val(work->paths->shorts, one);
}

static Contour
contour_of(const HfLeadWork *work, const HfTorchPath *path)
{
  Contour contour = {.box = HF_BOX_EMPTY, .is_opening = path->is_opening};
  contour.curves = hf_outline_contour(work->paths->outline, path->contour, &contour.n);
  for (guint i = 0; i < contour.n; i++) {
    contour.box = hf_box_union(contour.box, hf_curve_box(&contour.curves[i]));
    contour.length += hf_lead_length(&contour.curves[i]);
  }
  return contour;
}

/* What is wider is no small hole, and has room for any way in. */
static double
enough_room(const HfLeadOptions *options)
{
  return fmax(2 * hf_lead_needs(options), hf_lead_small_hole(options) / 2);
}

static void
try_places(HfLeadWork *work, const Contour *contour, const GArray *places, HfPoint centre,
           double room, gboolean first_only, Found *found)
{
  for (guint i = 0; i < places->len && !(first_only && found->starts->len > 0); i++)
    try_place(work, contour, &g_array_index(places, HfLeadPlace, i), centre, room, found);
}

/* Where the recipe wants it begun. */
static void
try_wished(HfLeadWork *work, const Contour *contour, const HfSpot *spot, HfPoint centre,
           double room, Found *found)
{
  g_autoptr(GArray) places = hf_lead_wished_places(contour->curves, contour->n, spot);
  try_places(work, contour, places, centre, room, TRUE, found);
  const HfLeadPlace *wished = &g_array_index(places, HfLeadPlace, 0);
  HfPoint at = hf_curve_point(&contour->curves[wished->curve], wished->t);
  if (found->starts->len == 0) {
    hf_lead_tell_unmet(work, at, g_strdup("there is no room to begin it where that is wished for"));
    return;
  }
  const HfStart *start = &g_array_index(found->starts, HfStart, 0);
  double off = hf_point_distance(at, hf_curve_point(&contour->curves[start->curve], start->t));
  if (off > BESIDE_MM) {
    g_autofree char *beside = hf_text_mm(off);
    hf_lead_tell_unmet(work, at,
                       g_strdup_printf("is begun %s beside the place that is wished for", beside));
  }
}

/* The ways that are wished for where there is one, else any. */
static void
try_all(HfLeadWork *work, const Contour *contour, HfPoint centre, double room, Found *found)
{
  HfLeadWish wish = hf_lead_wished(work);
  work->way = wish.way;
  if (wish.start.kind != HF_SPOT_NONE)
    try_wished(work, contour, &wish.start, centre, room, found);
  if (found->starts->len > 0)
    return;
  g_autoptr(GArray) places = find_places(work, contour);
  g_array_sort(places, compare_places);
  try_places(work, contour, places, centre, room, FALSE, found);
  if (found->starts->len > 0 || wish.way.in == HF_WAY_IN_USUAL)
    return;
  work->way.in = HF_WAY_IN_USUAL;
  try_places(work, contour, places, centre, room, FALSE, found);
  hf_lead_tell_unmet(work, hf_curve_point(&contour->curves[0], 0),
                     g_strdup("has no room for the way in that is wished for"));
}

/* Of those that are left the longest way in is shorter than was wished for. */
static void
tell_shorter(HfLeadWork *work, const Found *found)
{
  double wanted = work->way.length, longest = 0;
  if (isnan(wanted) || work->way.in == HF_WAY_IN_MIDDLE)
    return;
  for (guint i = 0; i < found->starts->len; i++) {
    const HfStart *start = &g_array_index(found->starts, HfStart, i);
    longest =
        fmax(longest, hf_lead_length(&g_array_index(work->ways, HfLeadWay, start->way).in[0]));
  }
  if (found->starts->len == 0 || longest > wanted - SHORTER_MM)
    return;
  g_autofree char *has = hf_text_mm(longest), *want = hf_text_mm(wanted);
  hf_lead_tell_unmet(work, g_array_index(found->starts, HfStart, 0).pierce,
                     g_strdup_printf("has room for a way in of %s, %s is wished for", has, want));
}

void
hf_lead_find_starts(HfLeadWork *work)
{
  HfTorchPath *path = &g_array_index(work->paths->paths, HfTorchPath, work->path);
  Contour contour = contour_of(work, path);
  HfPoint centre = {NAN, NAN};
  double room = path->is_opening ? path->room : NAN;
  if (path->is_opening) {
    g_autoptr(HfOutline) alone = hf_outline_new();
    guint zero = 0;
    g_array_append_val(alone->starts, zero);
    g_array_append_vals(alone->curves, contour.curves, contour.n);
    g_autoptr(HfRegion) inside = hf_region_of_outline(alone, HF_NO_SHAPE, ACCURACY_MM);
    room = hf_region_is_empty(inside)
               ? 0
               : hf_region_inscribed_until(inside, 0, ACCURACY_MM, enough_room(work->options),
                                           &centre);
    path->room = room + work->options->kerf / 2;
  }
  Found found = {g_array_new(FALSE, FALSE, sizeof(HfStart)), 0, {0, 0}};
  try_all(work, &contour, centre, room, &found);
  tell_shorter(work, &found);
  g_array_sort(found.starts, compare_starts);
  path->first = work->paths->starts->len;
  path->n = MIN(found.starts->len, MOST_STARTS);
  g_array_append_vals(work->paths->starts, found.starts->data, path->n);
  tell_short(work, &contour, &found);
  g_array_free(found.starts, TRUE);
}
