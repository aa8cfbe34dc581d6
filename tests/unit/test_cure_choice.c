/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cure_choice.c - which of many possible ties: against all subsets, reckoned here anew.
 */
#include "cure/choice-private.h"
#include <math.h>
#include <string.h>

#define MAX_PARTS 8
#define MAX_TIES  64

/* A random task, small or large. */
typedef struct {
  HfChoiceTask task;
  GArray *candidates, *conflicts; /* HfCandidate, HfConflict */
  HfNeed *needs;
} Case;

static void
case_clear(Case *c)
{
  g_array_unref(c->candidates);
  g_array_unref(c->conflicts);
  g_free(c->needs);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Case, case_clear)

static void
case_seal(Case *c)
{
  c->task.candidates = (const HfCandidate *)(gconstpointer)c->candidates->data;
  c->task.n_candidates = c->candidates->len;
  c->task.conflicts = (const HfConflict *)(gconstpointer)c->conflicts->data;
  c->task.n_conflicts = c->conflicts->len;
  c->task.needs = c->needs;
}

static Case
case_new(guint n_parts)
{
  Case c = {{.n_parts = n_parts}};
  c.candidates = g_array_new(FALSE, FALSE, sizeof(HfCandidate));
  c.conflicts = g_array_new(FALSE, FALSE, sizeof(HfConflict));
  c.needs = g_new0(HfNeed, n_parts + 1);
  return c;
}

static void
random_needs(Case *c, GRand *rand, gboolean plain)
{
  for (guint p = 1; p <= c->task.n_parts; p++) {
    HfNeed *need = &c->needs[p];
    need->ties = (guint)g_rand_int_range(rand, 0, 10) < 6 ? 1 : (guint)g_rand_int_range(rand, 2, 4);
    need->spread = g_rand_boolean(rand) ? 0 : g_rand_int_range(rand, 10, 28) * 0.1;
    if (plain)
      continue;
    need->twins = (guint)g_rand_int_range(rand, 0, 3);
    need->opposed = g_rand_boolean(rand);
    need->direct = g_rand_boolean(rand);
  }
}

static HfCandidate
random_candidate(GRand *rand, guint a, guint b, gboolean coarse)
{
  HfCandidate c = {a, b};
  c.area = coarse ? g_rand_int_range(rand, 2, 6) : g_rand_int_range(rand, 2000, 30000) * 1e-3;
  c.style = g_rand_boolean(rand) ? 0 : g_rand_int_range(rand, 0, 4000) * 1e-3;
  c.angle = g_rand_int_range(rand, 0, 63) * 0.1;
  c.angle_b = g_rand_int_range(rand, 0, 63) * 0.1;
  c.place = (guint)g_rand_int_range(rand, 0, 4);
  c.place_b = (guint)g_rand_int_range(rand, 0, 4);
  c.mirror = (guint)g_rand_int_range(rand, 0, 4);
  c.mirror_b = (guint)g_rand_int_range(rand, 0, 4);
  return c;
}

static Case
random_case(guint32 seed, guint n_parts, guint n_ties)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
  Case c = case_new(n_parts);
  gboolean plain = seed % 3 == 0, coarse = seed % 4 == 1;
  random_needs(&c, rand, plain);
  for (guint i = 0; i < n_ties; i++) {
    guint a = 1 + (guint)g_rand_int_range(rand, 0, (gint32)n_parts), b = 0;
    if (n_parts > 1 && g_rand_int_range(rand, 0, 10) < 4)
      b = 1 + (a + (guint)g_rand_int_range(rand, 0, (gint32)n_parts - 1)) % n_parts;
    HfCandidate tie = random_candidate(rand, a, b, coarse);
    if (g_rand_boolean(rand) && b == 0)
      tie.a = b, tie.b = a;
    if (tie.a != tie.b)
      g_array_append_val(c.candidates, tie);
  }
  guint n_conflicts = c.candidates->len < 2 ? 0 : (guint)g_rand_int_range(rand, 0, (gint32)n_ties);
  for (guint i = 0; i < n_conflicts && seed % 5 != 0; i++) {
    HfConflict conflict = {(guint)g_rand_int_range(rand, 0, (gint32)c.candidates->len),
                           (guint)g_rand_int_range(rand, 0, (gint32)c.candidates->len)};
    if (conflict.a != conflict.b)
      g_array_append_val(c.conflicts, conflict);
  }
  if (!plain)
    c.task.weights = (HfChoiceWeights){1, 3, 4, 1.5, 2.5};
  case_seal(&c);
  return c;
}

/* A choice reckoned the plain way. */
typedef struct {
  gboolean sound; /* no conflicts, no tie that hangs in the air */
  guint unheld, lacks;
  double cost, area;
} Judged;

static void
spread_out(const HfChoiceTask *task, const gboolean *in, guint without, gboolean *held)
{
  memset(held, 0, (task->n_parts + 1) * sizeof *held);
  held[0] = TRUE;
  for (gboolean grown = TRUE; grown;) {
    grown = FALSE;
    for (guint t = 0; t < task->n_candidates; t++) {
      const HfCandidate *c = &task->candidates[t];
      if (!in[t] || t == without || held[c->a] == held[c->b])
        continue;
      held[c->a] = held[c->b] = grown = TRUE;
    }
  }
}

static gboolean
ends_on(const HfCandidate *c, guint part)
{
  return c->a == part || c->b == part;
}

static double
angle_at(const HfCandidate *c, guint part)
{
  return c->a == part ? c->angle : c->angle_b;
}

static guint
place_at(const HfCandidate *c, guint part)
{
  return c->a == part ? c->place : c->place_b;
}

static double
apart(double a, double b)
{
  double d = fmod(fabs(a - b), 2 * G_PI);
  return d > G_PI ? 2 * G_PI - d : d;
}

static void
judge_part(const HfChoiceTask *task, const gboolean *in, guint part, gboolean both, Judged *judged)
{
  const HfNeed *need = &task->needs[part];
  guint n = 0, wanted = MAX(need->ties, 1), odd = 0;
  double widest = 0;
  gboolean direct = FALSE;
  for (guint t = 0; t < task->n_candidates; t++) {
    const HfCandidate *c = &task->candidates[t];
    if (!in[t] || !ends_on(c, part))
      continue;
    n++;
    direct = direct || c->a == 0 || c->b == 0;
    guint mirror = c->a == part ? c->mirror : c->mirror_b;
    gboolean found = mirror == 0;
    for (guint u = 0; u < task->n_candidates; u++) {
      const HfCandidate *d = &task->candidates[u];
      if (!in[u] || !ends_on(d, part))
        continue;
      found = found || place_at(d, part) == mirror;
      if (u != t)
        widest = MAX(widest, apart(angle_at(c, part), angle_at(d, part)));
    }
    odd += !found;
  }
  judged->lacks += wanted > n ? wanted - n : 0;
  judged->lacks += wanted > 1 && need->spread > 0 && (n < 2 || widest < need->spread - 1e-9);
  judged->lacks += wanted > 1 && !both;
  if (need->opposed && n > 1)
    judged->cost += round(task->weights.opposed * (1 - widest / G_PI) * 1e3) * 1e-3;
  judged->cost += task->weights.odd * odd;
  judged->cost += need->direct && !direct ? task->weights.through : 0;
}

static gboolean
sits_at(const HfChoiceTask *task, const gboolean *in, guint part, guint place)
{
  for (guint t = 0; t < task->n_candidates; t++)
    if (in[t] && ends_on(&task->candidates[t], part) &&
        place_at(&task->candidates[t], part) == place)
      return TRUE;
  return FALSE;
}

static double
judge_twins(const HfChoiceTask *task, const gboolean *in, const gboolean *can)
{
  double sum = 0;
  for (guint class = 1; class <= 2; class ++) {
    guint twins = 0, stray = 0;
    for (guint p = 1; p <= task->n_parts; p++) {
      if (task->needs[p].twins != class || !can[p])
        continue;
      twins++;
      for (guint t = 0; t < task->n_candidates; t++)
        stray +=
            in[t] && ends_on(&task->candidates[t], p) && place_at(&task->candidates[t], p) == 0;
    }
    sum += twins > 1 ? stray : 0;
    for (guint place = 1; place <= 4; place++) {
      guint here = 0;
      for (guint p = 1; p <= task->n_parts; p++)
        here += task->needs[p].twins == class && sits_at(task, in, p, place);
      sum += MIN(here, twins - here);
    }
  }
  return sum * task->weights.alike;
}

static Judged
judge(const HfChoiceTask *task, const gboolean *in)
{
  Judged judged = {TRUE, 0, 0, 0, 0};
  gboolean held[MAX_PARTS + 1], rest[MAX_PARTS + 1], both[MAX_PARTS + 1], can[MAX_PARTS + 1];
  gboolean all[MAX_TIES] = {FALSE};
  for (guint i = 0; i < task->n_conflicts; i++)
    if (in[task->conflicts[i].a] && in[task->conflicts[i].b])
      judged.sound = FALSE;
  for (guint t = 0; t < task->n_candidates; t++)
    all[t] = TRUE;
  spread_out(task, all, G_MAXUINT, can);
  spread_out(task, in, G_MAXUINT, held);
  memcpy(both, held, sizeof both);
  for (guint t = 0; t < task->n_candidates; t++) {
    const HfCandidate *c = &task->candidates[t];
    if (!in[t])
      continue;
    judged.sound = judged.sound && held[c->a] && held[c->b];
    judged.area += c->area;
    judged.cost += c->area + task->weights.own * c->style;
    spread_out(task, in, t, rest);
    for (guint p = 1; p <= task->n_parts; p++)
      both[p] = both[p] && rest[p];
  }
  for (guint p = 1; p <= task->n_parts; p++) {
    if (held[p])
      judge_part(task, in, p, both[p], &judged);
    judged.unheld += !held[p];
  }
  judged.cost += judge_twins(task, in, can);
  return judged;
}

static gboolean
is_better(const Judged *a, const Judged *b)
{
  if (!a->sound || !b->sound)
    return a->sound && !b->sound;
  if (a->unheld != b->unheld)
    return a->unheld < b->unheld;
  return a->lacks != b->lacks ? a->lacks < b->lacks : a->cost < b->cost - 1e-7;
}

/* All subsets. */
static Judged
brute_force(const HfChoiceTask *task)
{
  Judged best = {FALSE, 0, 0, 0, 0};
  gboolean in[MAX_TIES];
  for (guint set = 0; set < 1u << task->n_candidates; set++) {
    for (guint t = 0; t < task->n_candidates; t++)
      in[t] = (set >> t & 1) != 0;
    Judged judged = judge(task, in);
    if (is_better(&judged, &best))
      best = judged;
  }
  return best;
}

static void
set_of(const HfChoice *choice, gboolean *in)
{
  memset(in, 0, MAX_TIES * sizeof *in);
  for (guint i = 0; i < choice->chosen->len; i++)
    in[g_array_index(choice->chosen, guint, i)] = TRUE;
}

static guint
lacks_said(const HfChoice *choice)
{
  guint lacks = 0;
  for (guint i = 0; i < choice->lacking->len; i++) {
    const HfLack *lack = &g_array_index(choice->lacking, HfLack, i);
    lacks += lack->ties + (lack->spread != 0) + (lack->one_way != 0);
  }
  return lacks;
}

static void
check_optimum(const HfChoiceTask *task, const HfChoice *choice, const Judged *best)
{
  gboolean in[MAX_TIES];
  set_of(choice, in);
  Judged judged = judge(task, in);
  g_assert_true(judged.sound);
  g_assert_cmpfloat_with_epsilon(judged.cost, choice->cost, 1e-6);
  g_assert_cmpfloat_with_epsilon(judged.area, choice->area, 1e-6);
  g_assert_cmpuint(judged.unheld, ==, choice->unheld->len);
  g_assert_cmpuint(judged.lacks, ==, lacks_said(choice));
  g_assert_true(choice->optimal);
  g_assert_cmpuint(judged.unheld, ==, best->unheld);
  g_assert_cmpuint(judged.lacks, ==, best->lacks);
  g_assert_cmpfloat_with_epsilon(judged.cost, best->cost, 1e-6);
}

static gint
double_compare(gconstpointer a, gconstpointer b)
{
  double p = *(const double *)a, q = *(const double *)b;
  return p < q ? -1 : p > q;
}

/* Up to 4 parts, all subsets; then the same with style off, against the bound. */
static void
test_brute_force(void)
{
  g_autoptr(GArray) ratios = g_array_new(FALSE, FALSE, sizeof(double));
  guint32 n_cases = g_test_slow() ? 40000 : 3000;
  for (guint32 seed = 1; seed <= n_cases; seed++) {
    g_auto(Case) c = random_case(seed, 1 + seed % 4, 2 + seed % 9);
    Judged best = brute_force(&c.task);
    g_autoptr(HfChoice) choice = hf_choice_new(&c.task, NULL, NULL);
    check_optimum(&c.task, choice, &best);
    c.task.weights = (HfChoiceWeights){0};
    Judged plain = brute_force(&c.task);
    g_autoptr(HfChoice) bare = hf_choice_new(&c.task, NULL, NULL);
    check_optimum(&c.task, bare, &plain);
    g_assert_cmpfloat(bare->bound, <=, plain.area + 1e-6);
    if (choice->unheld->len == bare->unheld->len && lacks_said(choice) == lacks_said(bare))
      g_assert_cmpfloat(choice->bound, <=, plain.area + 1e-6);
    double ratio = bare->bound > 0 ? plain.area / bare->bound : 1;
    g_array_append_val(ratios, ratio);
  }
  g_array_sort(ratios, double_compare);
  g_test_message("least area / bound: median %.3f, 95 %% %.3f, worst %.3f",
                 g_array_index(ratios, double, ratios->len / 2),
                 g_array_index(ratios, double, ratios->len * 19 / 20),
                 g_array_index(ratios, double, ratios->len - 1));
  g_assert_cmpfloat(g_array_index(ratios, double, ratios->len / 2), <=, 1.25);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cure/choice/brute-force", test_brute_force);
  return g_test_run();
}
