/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie-rule.c - bars of metal that hold the loose parts.
 *
 *   loose parts -> bars that could hold them -> the cheapest set that holds all -> ties
 *                  offers.c, bar.c              choice.c
 *                         ^                        |
 *                         +-- conflicts <- openings left too small (rooms.c)
 */
#include "tie/set-private.h"

#define ROUNDS 6 /* of choosing, when bars together leave an opening too small */

/* Style of a set, in square ties; of single bars see style.c. docs/maths.md#ties has the reasons.
 */
#define UNLIKE   0.5  /* a place that differs from that of most of its twins */
#define ONE_SIDE 1.0  /* two ties on the same side of a part, none when opposite */
#define ODD      0.25 /* an end whose mirror image has no tie */
#define THROUGH  1.0  /* what hangs on another loose part alone: together they reach farther */

#define EVEN_AREA 0.05 /* mm2, mm */
#define EVEN_TURN 3200 /* steps of a full turn: upright and level are in the middle of one */
#define APART     1.4  /* rad, 80 deg: bars that are spread wider stand apart */
#define SPREAD    2.0  /* rad: two ties of one part leave it at least so far apart (115 deg) */

/* ---- who needs ties -------------------------------------------------------------------------- */

static const HfPart *
part_at(const HfSign *sign, guint i)
{
  return &g_array_index(sign->hold->parts, HfPart, i);
}

/* (nullable) of each shape: is it among @texts? NULL: there are none. */
static gboolean *
shapes_among(const HfSign *sign, const GPtrArray *texts)
{
  if (texts == NULL || texts->len == 0)
    return NULL;
  gboolean *among = g_new0(gboolean, sign->layout->shapes->len + 1);
  for (guint i = 0; i < texts->len; i++) {
    g_autoptr(GArray) meant = hf_layout_meant(sign->recipe, sign->layout, texts->pdata[i]);
    for (guint k = 0; k < meant->len; k++)
      among[g_array_index(meant, guint, k)] = TRUE;
  }
  return among;
}

static gboolean
is_of(const HfPart *part, const gboolean *among)
{
  gboolean any = among == NULL;
  for (guint i = 0; i < part->shapes->len && !any; i++)
    any = among[g_array_index(part->shapes, guint, i)];
  return any;
}

/* The body is node 0, and so is what may stand alone, for its own dots. Of several parts with
 * hanging points the largest is the body and the others are tied to it. */
static void
number_nodes(HfOffers *offers, const HfSign *sign)
{
  guint n = sign->hold->parts->len;
  g_autofree gboolean *among = shapes_among(sign, offers->rule->of);
  gboolean has_body = FALSE;
  offers->node = g_new(guint, n + 1);
  offers->apart = g_new0(gboolean, n + 1);
  for (guint i = 0; i < n; i++) {
    offers->apart[i] = part_at(sign, i)->of_alone && !part_at(sign, i)->hung;
    has_body = has_body || part_at(sign, i)->body;
  }
  gboolean found = FALSE; /* parts are the largest first */
  for (guint i = 0; i < n; i++) {
    const HfPart *part = part_at(sign, i);
    gboolean carries = part->body || !has_body;
    offers->node[i] = HF_NO_PART;
    if (part->alone || (carries && !found)) {
      offers->node[i] = 0;
      found = found || !part->alone;
    } else if (is_of(part, among)) {
      g_array_append_val(offers->needy, i);
      offers->node[i] = offers->needy->len;
    }
  }
}

/* By letter, from the top, then from the left: the same however the sign is turned. */
static int
in_order(gconstpointer p, gconstpointer q, gpointer data)
{
  const HfGround *ground = data;
  const HfView *a = &ground->views[*(const guint *)p], *b = &ground->views[*(const guint *)q];
  if (a->shape != b->shape)
    return a->shape < b->shape ? -1 : 1;
  HfPoint from = hf_point_sub(b->middle, a->middle);
  double up = rint(hf_point_dot(from, a->up) / EVEN_AREA);
  double level = rint(hf_point_dot(from, a->level) / EVEN_AREA);
  if (up != 0)
    return up < 0 ? -1 : 1;
  return (level < 0) - (level > 0);
}

static void
order_nodes(HfOffers *offers)
{
  g_array_sort_with_data(offers->needy, in_order, offers->ground);
  for (guint i = 0; i < offers->needy->len; i++)
    offers->node[g_array_index(offers->needy, guint, i)] = i + 1;
}

/* Parts are the largest first: of those of one standing letter the first is its body. */
static void
find_dots(HfOffers *offers, const HfSign *sign)
{
  g_autofree gboolean *seen = g_new0(gboolean, sign->layout->shapes->len + 1);
  offers->dot = g_new0(gboolean, sign->hold->parts->len + 1);
  for (guint i = 0; i < sign->hold->parts->len; i++) {
    guint own = offers->ground->views[i].shape;
    const GArray *shapes = part_at(sign, i)->shapes;
    const HfShape *shape = own == HF_NO_SHAPE ? NULL : hf_layout_shape(sign->layout, own);
    offers->dot[i] = shape != NULL && shape->letter >= 0 && !shape->opening && seen[own];
    for (guint k = 0; k < shapes->len; k++)
      seen[g_array_index(shapes, guint, k)] = TRUE;
  }
}

/* ---- what each needs ------------------------------------------------------------------------- */

/* How far apart two ties can be at most, of those offered. */
static double
widest_spread(const HfOffers *offers, guint first, guint end, gboolean spares)
{
  double widest = 0;
  for (guint i = first; i < end; i++)
    for (guint k = first; k < i; k++) {
      const HfBar *a = &g_array_index(offers->bars, HfBar, i);
      const HfBar *b = &g_array_index(offers->bars, HfBar, k);
      if (!a->struck && !b->struck && (spares || (!a->spare && !b->spare)))
        widest = fmax(widest, fabs(remainder(a->angle[0] - b->angle[0], 2 * G_PI)));
    }
  return widest;
}

/* Two on one side hold no better than a wide one and look worse: those don't count as two. */
static double
spread_of(const HfOffers *offers, guint first, guint end)
{
  double widest = widest_spread(offers, first, end, FALSE);
  if (widest < APART)
    widest = widest_spread(offers, first, end, TRUE);
  return fmax(fmin(SPREAD, widest - 1e-6), 0);
}

static HfNeed
need_of(const HfOffers *offers, guint node, guint first, guint end)
{
  guint part = g_array_index(offers->needy, guint, node - 1);
  const HfHabit *habit = &offers->habits[node - 1];
  double reach = INFINITY;
  for (guint i = first; i < end; i++)
    reach = fmin(reach, g_array_index(offers->bars, HfBar, i).reach);
  HfNeed need = {.ties = 1, .twins = offers->twins[node - 1]};
  if (habit->ties == 2 || (habit->ties == 0 && first < end && reach > offers->law.reach))
    need.ties = 2;
  need.ties = MAX(need.ties, (guint)MAX(offers->rule->count, 0));
  if (need.ties > 1) {
    need.opposed = TRUE;
    need.spread = fmin(spread_of(offers, first, end), habit->strokes ? APART : SPREAD);
  }
  need.direct = !offers->dot[part]; /* a dot belongs on its stem */
  return need;
}

static HfNeed *
needs_of(const HfOffers *offers)
{
  HfNeed *needs = g_new0(HfNeed, offers->needy->len + 1);
  guint first = 0;
  for (guint node = 1; node <= offers->needy->len; node++) {
    guint part = g_array_index(offers->needy, guint, node - 1), end = first;
    while (end < offers->bars->len && g_array_index(offers->bars, HfBar, end).part[0] == part)
      end++;
    needs[node] = need_of(offers, node, first, end);
    first = end;
  }
  return needs;
}

/* ---- choosing -------------------------------------------------------------------------------- */

/* Bars that are not struck out, as candidates. */
typedef struct {
  GArray *candidates; /* HfCandidate */
  GArray *conflicts;  /* HfConflict between them */
  GArray *bars;       /* guint: of each candidate its bar */
} Slate;

static void
slate_clear(Slate *slate)
{
  g_array_unref(slate->candidates);
  g_array_unref(slate->conflicts);
  g_array_unref(slate->bars);
}

/* A sign that is turned has its points elsewhere on the grid: what differs by less is even. */
static double
rounded(double value, double even)
{
  return rint(value / even) * even;
}

/* 0 and a full turn are one. */
static double
rounded_angle(double angle)
{
  double step = rint(angle / (2 * G_PI) * EVEN_TURN);
  step -= EVEN_TURN * floor(step / EVEN_TURN);
  return step * (2 * G_PI / EVEN_TURN);
}

static HfCandidate
candidate_of(const HfOffers *offers, const HfBar *bar, const HfBarPlace places[2])
{
  return (HfCandidate){.a = offers->node[bar->part[0]],
                       .b = offers->node[bar->part[1]],
                       .area = fmax(rounded(bar->area, EVEN_AREA), EVEN_AREA),
                       .style = rounded(bar->style, EVEN_AREA),
                       .angle = rounded_angle(bar->angle[0]),
                       .angle_b = rounded_angle(bar->angle[1]),
                       .place = places[0].place,
                       .place_b = places[1].place,
                       .mirror = places[0].mirror,
                       .mirror_b = places[1].mirror};
}

static Slate
slate_of(const HfOffers *offers, HfBarPlace (*places)[2], const GArray *conflicts, gboolean spares)
{
  Slate slate = {g_array_new(FALSE, FALSE, sizeof(HfCandidate)),
                 g_array_new(FALSE, FALSE, sizeof(HfConflict)),
                 g_array_new(FALSE, FALSE, sizeof(guint))};
  g_autofree guint *number = g_new(guint, offers->bars->len + 1);
  for (guint i = 0; i < offers->bars->len; i++) {
    const HfBar *bar = &g_array_index(offers->bars, HfBar, i);
    gboolean out = bar->struck || (bar->spare && !spares);
    number[i] = out ? G_MAXUINT : slate.bars->len;
    if (out)
      continue;
    HfCandidate candidate = candidate_of(offers, bar, places[i]);
    g_array_append_val(slate.candidates, candidate);
    g_array_append_val(slate.bars, i);
  }
  for (guint i = 0; i < conflicts->len; i++) {
    HfConflict one = g_array_index(conflicts, HfConflict, i);
    one = (HfConflict){number[one.a], number[one.b]};
    if (one.a != G_MAXUINT && one.b != G_MAXUINT)
      g_array_append_val(slate.conflicts, one);
  }
  return slate;
}

/* The choice among what is not struck out, in numbers of bars. */
static HfChoice *
choose_once(const HfOffers *offers, HfBarPlace (*places)[2], const GArray *conflicts,
            gboolean spares, GError **error)
{
  Slate slate = slate_of(offers, places, conflicts, spares);
  g_autofree HfNeed *needs = needs_of(offers);
  double unit = offers->unit * offers->style;
  HfChoiceTask task = {.n_parts = offers->needy->len,
                       .candidates = (const HfCandidate *)(gconstpointer)slate.candidates->data,
                       .n_candidates = slate.candidates->len,
                       .needs = needs,
                       .conflicts = (const HfConflict *)(gconstpointer)slate.conflicts->data,
                       .n_conflicts = slate.conflicts->len,
                       .weights = {.own = offers->style,
                                   .alike = UNLIKE * unit,
                                   .opposed = ONE_SIDE * unit,
                                   .odd = ODD * unit,
                                   .through = THROUGH * unit}};
  HfChoice *choice = hf_choice_new(&task, offers->ground->cancel, error);
  for (guint i = 0; choice != NULL && i < choice->chosen->len; i++) {
    guint *chosen = &g_array_index(choice->chosen, guint, i);
    *chosen = g_array_index(slate.bars, guint, *chosen);
  }
  slate_clear(&slate);
  return choice;
}

/* Is there something that is not held, and bars that are no habit? */
static gboolean
lacks_without_spares(const HfOffers *offers, const HfChoice *choice)
{
  gboolean any = FALSE;
  for (guint i = 0; i < offers->bars->len && !any; i++)
    any = g_array_index(offers->bars, HfBar, i).spare;
  return any && choice->unheld->len > 0;
}

/* Chooses, looks at the openings that are left, chooses again without what left one too small. */
static HfChoice *
choose(HfOffers *offers, GError **error)
{
  g_autofree HfBarPlace(*places)[2] = hf_offers_places(offers);
  g_autoptr(GArray) conflicts = hf_bars_conflicts(offers);
  gboolean spares = FALSE;
  for (guint round = 0;; round++) {
    hf_habit_spare(offers, conflicts);
    g_autoptr(HfChoice) choice = choose_once(offers, places, conflicts, spares, error);
    if (choice == NULL || round >= ROUNDS)
      return g_steal_pointer(&choice);
    if (hf_bars_prove(offers, choice->chosen, conflicts) > 0)
      continue;
    if (spares || !lacks_without_spares(offers, choice))
      return g_steal_pointer(&choice);
    spares = TRUE;
  }
}

static gboolean
work_out(HfOffers *offers, HfWork *work, GError **error)
{
  hf_offers_kin(offers);
  hf_offers_twins(offers);
  hf_offers_habits(offers);
  if (!hf_offers_find(offers, error))
    return FALSE;
  g_autoptr(HfChoice) choice = choose(offers, error);
  if (choice == NULL)
    return FALSE;
  hf_bars_tell(offers, choice->chosen, work);
  for (guint i = 0; i < choice->unheld->len; i++)
    hf_untied_tell(offers, &g_array_index(choice->unheld, HfUnheld, i), work);
  work->cost = choice->cost;
  work->area = choice->area;
  work->bound = choice->bound;
  return TRUE;
}

static void
offers_clear(HfOffers *offers)
{
  hf_ground_free(offers->ground);
  g_free(offers->node);
  g_free(offers->apart);
  g_array_unref(offers->needy);
  g_array_unref(offers->bars);
  g_free(offers->faults);
  g_free(offers->twins);
  g_free(offers->habits);
  g_free(offers->dot);
  g_free(offers->kin);
}

HfWork *
hf_tie_work(const HfSign *sign, guint entry, double style, const HfCancel *cancel, GError **error)
{
  if (!hf_cancel_check(cancel, error))
    return NULL;
  g_autoptr(HfWork) work = hf_work_new(entry);
  const HfTiesEntry *rule = &hf_recipe_at(sign->recipe, entry)->ties;
  HfOffers offers = {.rule = rule,
                     .style = style,
                     .needy = g_array_new(FALSE, FALSE, sizeof(guint)),
                     .bars = g_array_new(FALSE, FALSE, sizeof(HfBar))};
  number_nodes(&offers, sign);
  gboolean done = TRUE;
  if (offers.needy->len > 0) {
    g_autofree gboolean *barred = shapes_among(sign, rule->not_on);
    offers.law = hf_tie_law(sign, rule);
    offers.law.barred = barred;
    offers.unit = HF_OVER_LIMIT * offers.law.short_web * HF_OVER_LIMIT * offers.law.short_web;
    offers.ground = hf_ground_new(sign, offers.law.along == HF_TIE_ALONG_LETTER, cancel);
    order_nodes(&offers);
    offers.faults = g_new0(guint, offers.needy->len * HF_N_BAR_FAULTS);
    find_dots(&offers, sign);
    done = work_out(&offers, work, error);
  } else
    work->cost = work->area = work->bound = 0;
  offers_clear(&offers);
  return done ? g_steal_pointer(&work) : NULL;
}
