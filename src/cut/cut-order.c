/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-order.c - starts and order, as clusters for tour/: a cluster is a path, a node one of its
 * starts.
 *
 * The cost from one to the next, in seconds: travel from where the one ends to where the other is
 * pierced; what a better start would be worth; and on thin sheet, when neighbours are cut one right
 * after the other, what the heat that both leave is worth (docs/maths.md#order). A path comes after
 * all that lies in it: nothing is cut on what is loose already.
 */
#include "cut/plan-private.h"
#include "tour/tour.h"

enum {
  MOST_NODES = 1000, /* so that tour/ keeps all costs, while there is a choice of starts */
  LEAST_STARTS = 4,  /* of each path, where it has them */
};
/* Two cuts with less than this between them heat the same metal: heat spreads 2 sqrt(a t), 10 mm in
 * 2 s in steel (a = 12 mm2/s; Carslaw and Jaeger, Conduction of Heat in Solids, from memory). */
#define HEAT_REACH_MM 10.0
/* What it is worth to let the sheet cool first, at the least on sheet of THIN_MM; common practice
 * says so of thin sheet, and no figure. */
#define HEAT_SECONDS 2.0
/* What it is worth not to travel over what was just cut loose and can tip; ours. */
#define OVER_SECONDS 3.0
#define THIN_MM      1.0
#define THICK_MM     3.0

typedef struct {
  guint job, start;
  HfPoint pierce, end;
  HfPoint away; /* at its end, off what was cut loose: a unit, where that can tip; else 0 0 */
  double cost;  /* s: of this start */
} Node;

typedef struct {
  const HfPlanWork *work;
  GArray *nodes; /* Node; the first is home */
  double heat;   /* s */
} Order;

double
hf_plan_travel_seconds(const HfPlanTable *table, double length)
{
  double v = table->travel_speed, a = table->acceleration;
  return length < v * v / a ? 2 * sqrt(length / a) : length / v + v / a;
}

/* mm that @inner, which lies in @outer, is off the nearest side of that; less than 0: it does not.
 */
static double
gap_within(HfBox inner, HfBox outer)
{
  return fmin(fmin(inner.min.x - outer.min.x, outer.max.x - inner.max.x),
              fmin(inner.min.y - outer.min.y, outer.max.y - inner.max.y));
}

/* mm between the sides of two boxes; 0 where they cross. */
static double
box_gap(HfBox a, HfBox b)
{
  double within = fmax(gap_within(a, b), gap_within(b, a));
  if (within > 0)
    return within;
  double dx = fmax(fmax(a.min.x - b.max.x, b.min.x - a.max.x), 0);
  double dy = fmax(fmax(a.min.y - b.max.y, b.min.y - a.max.y), 0);
  return sqrt(dx * dx + dy * dy);
}

double
hf_plan_warm(HfBox a, HfBox b)
{
  return fmax(0, 1 - box_gap(a, b) / HEAT_REACH_MM);
}

static HfBox
box_of(const HfPlan *plan, const HfCut *cut)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < cut->n; i++) {
    const HfCutStretch *stretch = hf_plan_stretch(plan, cut->first + i);
    if (stretch->kind == HF_STRETCH_CONTOUR)
      box = hf_box_union(box, hf_curve_box(&stretch->curve));
  }
  return box;
}

double
hf_plan_warmth(const HfPlan *plan, guint i)
{
  return i == 0 ? 0
                : hf_plan_warm(box_of(plan, hf_plan_cut(plan, i - 1)),
                               box_of(plan, hf_plan_cut(plan, i)));
}

static double
cost_of(guint from, guint to, gconstpointer data)
{
  const Order *order = data;
  const Node *a = &g_array_index(order->nodes, Node, from);
  const Node *b = &g_array_index(order->nodes, Node, to);
  double seconds =
      hf_plan_travel_seconds(order->work->table, hf_point_distance(a->end, b->pierce)) + b->cost;
  if (hf_point_dot(a->away, hf_point_sub(b->pierce, a->end)) < 0)
    seconds += OVER_SECONDS;
  if (order->heat > 0 && from != 0 && to != 0) {
    seconds += order->heat * hf_plan_warm(hf_plan_job(order->work, a->job)->box,
                                          hf_plan_job(order->work, b->job)->box);
  }
  return seconds;
}

/* Where the torch has to leave so that it does not go over what it cut loose: from a drop to the
 * side of the metal, from a part to the side of the scrap. */
static HfPoint
away_of(const HfPlanJob *job, const HfPaths *paths, const GArray *cut)
{
  if (job->drop != HF_DROP_TIPS || cut->len == 0)
    return hf_point(0, 0);
  const HfCutStretch *last = &g_array_index(cut, HfCutStretch, cut->len - 1);
  HfPoint along = hf_curve_derivative(&last->curve, 1);
  double length = hf_point_length(along), side = paths->mirrored == job->is_part ? -1 : 1;
  return length > 0 ? hf_point(-along.y * side / length, along.x * side / length) : hf_point(0, 0);
}

/* Of job @job, at most @most starts. %FALSE: it has none. */
static gboolean
add_nodes(Order *order, guint job, guint most, GArray *scratch)
{
  const HfPlanJob *of = hf_plan_job(order->work, job);
  const HfPaths *paths = hf_plan_paths(order->work, of);
  const HfTorchPath *path = hf_torch_path(paths, of->path);
  HfPoint at = order->work->placed[of->sign].at;
  for (guint i = 0; i < MIN(path->n, most); i++) {
    const HfStart *start = hf_start(paths, path->first + i);
    g_array_set_size(scratch, 0);
    HfPoint end = hf_paths_cut(paths, of->path, path->first + i, at, scratch);
    Node node = {job,
                 path->first + i,
                 hf_point_add(start->pierce, at),
                 end,
                 away_of(of, paths, scratch),
                 start->cost / order->work->table->travel_speed};
    g_array_append_val(order->nodes, node);
  }
  return path->n > 0;
}

static gboolean
find_nodes(Order *order, GError **error)
{
  const HfPlanWork *work = order->work;
  guint most = MAX(MOST_NODES / MAX(work->jobs->len, 1), LEAST_STARTS);
  g_autoptr(GArray) scratch = g_array_new(FALSE, FALSE, sizeof(HfCutStretch));
  Node home = {.pierce = {0, 0}, .end = {0, 0}};
  g_array_append_val(order->nodes, home);
  for (guint job = 0; job < work->jobs->len; job++) {
    if (!hf_cancel_check(work->cancel, error))
      return FALSE;
    if (add_nodes(order, job, most, scratch))
      continue;
    const HfPlanJob *of = hf_plan_job(work, job);
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "make it larger, or cut it by hand",
                 "%s has no room for the torch to start",
                 hf_torch_path(hf_plan_paths(work, of), of->path)->name);
    return FALSE;
  }
  return TRUE;
}

static GArray *
find_before(const HfPlanWork *work)
{
  GArray *before = g_array_new(FALSE, FALSE, sizeof(HfTourBefore));
  for (guint job = 0; job < work->jobs->len; job++)
    if (hf_plan_job(work, job)->parent >= 0) {
      HfTourBefore pair = {job + 1, (guint)hf_plan_job(work, job)->parent + 1};
      g_array_append_val(before, pair);
    }
  guint first = 1; /* job of the sign's first path, home counted */
  for (guint sign = 0; sign < work->n_placed; sign++) {
    const HfPlaced *placed = &work->placed[sign];
    for (guint i = 0; i < placed->n_before; i++) {
      HfTourBefore pair = {first + placed->before[i].first, first + placed->before[i].then};
      g_array_append_val(before, pair);
    }
    first += placed->paths->paths->len;
  }
  return before;
}

static GArray *
turns_of(const Order *order, const HfTour *tour)
{
  GArray *turns = g_array_new(FALSE, FALSE, sizeof(HfPlanTurn));
  for (guint i = 1; i < tour->n; i++) {
    const Node *node = &g_array_index(order->nodes, Node, tour->node[i]);
    HfPlanTurn turn = {node->job, node->start};
    g_array_append_val(turns, turn);
  }
  return turns;
}

static GArray *
solve(const Order *order, guint64 effort, GError **error)
{
  guint n = order->nodes->len, clusters = order->work->jobs->len + 1;
  g_autofree guint *cluster_of = g_new(guint, n);
  cluster_of[0] = 0;
  for (guint i = 1; i < n; i++)
    cluster_of[i] = g_array_index(order->nodes, Node, i).job + 1;
  g_autoptr(GArray) before = find_before(order->work);
  HfTourProblem problem = {.n_nodes = n,
                           .n_clusters = clusters,
                           .cluster_of = cluster_of,
                           .cost = cost_of,
                           .data = order,
                           .before = (const HfTourBefore *)(void *)before->data,
                           .n_before = before->len};
  g_autoptr(GError) inner = NULL;
  g_autoptr(HfTour) tour = hf_tour_find(&problem, effort, order->work->cancel, &inner);
  if (inner != NULL && inner->code == HF_ERROR_BAD_VALUE) /* containment alone makes no ring */
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "take one of them out of it",
                 "the order that is wished for goes round in a ring");
  else if (inner != NULL)
    g_propagate_error(error, g_steal_pointer(&inner));
  return tour != NULL && hf_cancel_check(order->work->cancel, error) ? turns_of(order, tour) : NULL;
}

GArray *
hf_plan_order(const HfPlanWork *work, guint64 effort, GError **error)
{
  double thin = CLAMP((THICK_MM - work->thickness) / (THICK_MM - THIN_MM), 0, 1);
  Order order = {work, g_array_new(FALSE, FALSE, sizeof(Node)), HEAT_SECONDS * thin};
  GArray *turns = find_nodes(&order, error) ? solve(&order, effort, error) : NULL;
  g_array_free(order.nodes, TRUE);
  return turns;
}
