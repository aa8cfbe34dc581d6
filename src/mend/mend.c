/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend.c - thin, small and sharp places put right, round by round.
 *
 *   findings -> shapes -> metal -> hold check -> what is left? -> ... at most ROUNDS times
 *
 * A shape that brings a stop that was not there before is taken back, and its place is left as it
 * is; unless the next round can mend that too (a thickened web may leave a gap to be filled).
 * Once it has done what it may, what is found by then is laid and checked, and each place that it
 * did not come to is told.
 * docs/maths.md#mending
 */
#include "mend/mend-private.h"

enum { ROUNDS = 6, TAKE_BACKS = 10 };
/* Units of work (base/cancel.h) that a rule may do in looking for what mends: some three seconds;
 * of them those of an axis, for each edge of the metal (7 to 10 us were measured). Common practice,
 * no source. */
enum { MOST_WORK = 1200000, NET_WORK = 8 };
#define FAR          1000.0 /* mm */
#define BESIDE       30.0   /* mm */
#define SAME_PLACE   3.0    /* mm: two findings of a kind as near as this are one */
#define BESIDE_POINT 0.5    /* mm: a point so near to where one was rounded is what that left */

typedef struct {
  const HfSign *given;
  HfSign *now; /* the given one with what is kept laid; the given one itself to begin with */
  guint entry;
  HfMendEntry wish; /* with what is meant when nothing is said */
  GArray *of;       /* (nullable) guint: shapes */
  GArray *kept;     /* HfMending */
  GArray *given_up; /* HfMending without shapes: kind and place */
  GArray *left;     /* HfMissed: places that it did not come to, without texts */
  HfCancel budget;  /* for looking for what mends, not for checks; hangs on the caller's */
} Mender;

static gboolean
is_over(Mender *own)
{
  return hf_cancel_is_over(&own->budget);
}

/* ---- which finding, which way ------------------------------------------------------------------
 */

static HfMends
mends(HfLawKind kind)
{
  return hf_law(kind)->mends;
}

gboolean
hf_mend_answers(const HfMendEntry *wish, HfLawKind kind)
{
  switch (mends(kind)) {
  case HF_MENDS_WEB:
    return wish->thicken;
  case HF_MENDS_GAP:
    return wish->fill;
  case HF_MENDS_OPENING:
    return wish->fill || wish->enlarge;
  case HF_MENDS_HOLE:
    return wish->enlarge;
  case HF_MENDS_POINT:
    return !isnan(wish->round);
  case HF_MENDS_PART:
  case HF_MENDS_NOTHING:
    break;
  }
  return FALSE;
}

/* Sharp points are cautions as a rule; of all else only what stops the cut is mended. */
static gboolean
is_target(const Mender *own, const HfFinding *finding)
{
  return hf_mend_answers(&own->wish, finding->kind) && finding->accepted == NULL &&
         (finding->gravity == HF_STOP ||
          (mends(finding->kind) == HF_MENDS_POINT && finding->gravity == HF_CAUTION));
}

/* @slim: as it is made where there is little room; a web that was too wide to keep is tried so. */
static gboolean
was_tried(const Mender *own, HfLawKind kind, HfPoint at, gboolean slim)
{
  for (guint i = 0; i < own->given_up->len; i++) {
    const HfMending *one = &g_array_index(own->given_up, HfMending, i);
    if (mends(one->kind) == mends(kind) && hf_point_distance(one->at, at) < SAME_PLACE / 3 &&
        (!slim || one->over <= HF_MEND_SLIM))
      return TRUE;
  }
  return FALSE;
}

static gboolean
was_given_up(const Mender *own, HfLawKind kind, HfPoint at)
{
  return was_tried(own, kind, at, TRUE);
}

/* ---- one round ------------------------------------------------------------------------------ */

static void
mend_place(const Mender *own, HfMendView *view, const HfFinding *finding, HfPoint at)
{
  double limit = own->now->hold->limits[finding->kind].stop;
  switch (mends(finding->kind)) {
  case HF_MENDS_WEB:
    hf_mend_thicken(view, finding->kind, at, limit,
                    was_tried(own, finding->kind, at, FALSE) ? HF_MEND_SLIM : HF_OVER_LIMIT);
    break;
  case HF_MENDS_GAP:
    hf_mend_fill_gap(view, finding->kind, at, limit);
    break;
  case HF_MENDS_OPENING:
    if (own->wish.enlarge && !was_given_up(own, HF_LAW_SMALL_HOLE, at))
      hf_mend_enlarge(view, HF_LAW_SMALL_HOLE, at, limit);
    else if (own->wish.fill)
      hf_mend_fill_opening(view, finding->kind, at);
    break;
  case HF_MENDS_HOLE:
    hf_mend_enlarge(view, finding->kind, at, limit / 2);
    break;
  case HF_MENDS_POINT:
    hf_mend_round(view, finding->kind, at, own->wish.round);
    break;
  case HF_MENDS_PART:
  case HF_MENDS_NOTHING:
    break;
  }
}

/* One place more that is as it was. */
static void
leave(Mender *own, HfPoint at)
{
  HfMissed left = {own->entry, at, NULL, NULL, NULL}; /* hold/findings.c says it */
  g_array_append_val(own->left, left);
}

/* All that is to be mended, until the work that may be done is done. */
static void
propose_all(Mender *own, HfMendView *view)
{
  for (guint i = 0; i < own->now->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(own->now, i);
    if (!is_target(own, finding))
      continue;
    for (guint k = 0; k < finding->places->len; k++) {
      HfPoint at = g_array_index(finding->places, HfPoint, k);
      if (was_given_up(own, finding->kind, at))
        continue;
      if (hf_cancel_check(view->cancel, NULL))
        mend_place(own, view, finding, at);
      if (is_over(own))
        leave(own, at);
    }
  }
}

/* (transfer full) */
static GArray *
propose(Mender *own)
{
  GArray *mendings = g_array_new(FALSE, TRUE, sizeof(HfMending));
  HfMendView view = {.sign = own->now,
                     .given = own->given,
                     .entry = own->entry,
                     .n_drawn = own->given->layout->shapes->len,
                     .of = own->of,
                     .mendings = mendings,
                     .cancel = &own->budget};
  propose_all(own, &view);
  guint edges = hf_region_n_edges(own->now->metal->region);
  hf_cancel_count(view.cancel, view.metal_net != NULL ? NET_WORK * edges : 0);
  hf_cancel_count(view.cancel, view.gap_net != NULL ? NET_WORK * edges : 0);
  hf_mend_view_clear(&view);
  return mendings;
}

/* ---- trying ---------------------------------------------------------------------------------- */

static void
mending_free_shapes(HfMending *mending)
{
  for (int i = 0; i < 2; i++)
    g_clear_pointer(&mending->shapes[i], hf_shape_free);
}

/* (transfer full) (element-type HfShape) All that is kept, in the order in which it is laid. */
static GPtrArray *
kept_shapes(const Mender *own)
{
  GPtrArray *shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free);
  for (guint i = 0; i < own->kept->len; i++)
    for (int k = 0; k < 2; k++) {
      HfShape *shape = g_array_index(own->kept, HfMending, i).shapes[k];
      if (shape != NULL)
        g_ptr_array_add(shapes, hf_shape_ref(shape));
    }
  return shapes;
}

/* Metal and findings with all that is kept. */
static gboolean
check(Mender *own, GError **error)
{
  g_autoptr(GPtrArray) shapes = kept_shapes(own);
  HfLayoutMore more = {.shapes = shapes, .missed = own->left};
  HfSign *next = hf_sign_extended(own->given, &more, FALSE, own->budget.of, error);
  if (next == NULL)
    return FALSE;
  hf_sign_free(own->now);
  own->now = next;
  return TRUE;
}

static gboolean
stops_near(const HfHold *hold, HfLawKind kind, HfPoint at)
{
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = (const HfFinding *)hold->findings->pdata[i];
    if (finding->gravity != HF_STOP || mends(finding->kind) != mends(kind) ||
        (mends(kind) == HF_MENDS_NOTHING && finding->kind != kind))
      continue;
    for (guint k = 0; k < finding->places->len; k++)
      if (hf_point_distance(g_array_index(finding->places, HfPoint, k), at) < SAME_PLACE)
        return TRUE;
  }
  return FALSE;
}

static guint
count_parts(const HfHold *hold)
{
  guint n = 0;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = (const HfFinding *)hold->findings->pdata[i];
    if (finding->gravity == HF_STOP && mends(finding->kind) == HF_MENDS_PART)
      n += finding->places->len;
  }
  return n;
}

typedef struct {
  HfLawKind kind;
  HfPoint at;
} Newcomer;

/* Stops that the sign did not have before it was mended. (transfer full) */
static GArray *
newcomers(const Mender *own, gboolean mendable_too)
{
  GArray *found = g_array_new(FALSE, FALSE, sizeof(Newcomer));
  /* a loose part that was mended may be found at another place of it */
  gboolean looser = count_parts(own->now->hold) > count_parts(own->given->hold);
  for (guint i = 0; i < own->now->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(own->now, i);
    if (finding->gravity != HF_STOP || (!mendable_too && is_target(own, finding)) ||
        (mends(finding->kind) == HF_MENDS_PART && !looser))
      continue;
    for (guint k = 0; k < finding->places->len; k++) {
      Newcomer one = {finding->kind, g_array_index(finding->places, HfPoint, k)};
      if (!stops_near(own->given->hold, one.kind, one.at))
        g_array_append_val(found, one);
    }
  }
  return found;
}

static double
distance_to_box(HfBox box, HfPoint p)
{
  double dx = fmax(fmax(box.min.x - p.x, p.x - box.max.x), 0);
  double dy = fmax(fmax(box.min.y - p.y, p.y - box.max.y), 0);
  return hf_point_length(hf_point(dx, dy));
}

static void
drop(Mender *own, guint i)
{
  mending_free_shapes(&g_array_index(own->kept, HfMending, i));
  g_array_remove_index(own->kept, i);
}

/* Gives up mending number @i; gaps that were filled beside a web since are no more what they were:
 * alone they would be beads. */
static void
take_back(Mender *own, guint i)
{
  HfMending one = g_array_index(own->kept, HfMending, i);
  HfMending place = {.kind = one.kind, .at = one.at, .over = one.over};
  g_array_append_val(own->given_up, place);
  for (guint k = own->kept->len; k-- > i + 1;) {
    const HfMending *later = &g_array_index(own->kept, HfMending, k);
    if (mends(later->kind) != HF_MENDS_WEB && mends(one.kind) == HF_MENDS_WEB &&
        hf_box_overlaps(later->box, one.box))
      drop(own, k);
  }
  drop(own, i);
}

/* What takes metal off loosens parts and leaves thin metal; what adds metal closes gaps. */
static gboolean
may_bring(const HfMending *mending, HfLawKind newcomer)
{
  gboolean takes_off = mending->shapes[0]->opening;
  return !takes_off || !hf_law_is_of_gap(newcomer);
}

/* The mending that is nearest to @newcomer, of two the later; what takes metal off beside it first.
 */
static gint
blame(const Mender *own, const Newcomer *newcomer)
{
  gboolean loose = mends(newcomer->kind) == HF_MENDS_PART;
  gint nearest = -1;
  double least = INFINITY;
  for (guint i = 0; i < own->kept->len; i++) {
    const HfMending *one = &g_array_index(own->kept, HfMending, i);
    double away = distance_to_box(one->box, newcomer->at);
    if (loose && (!one->shapes[0]->opening || away > BESIDE))
      away += one->shapes[0]->opening ? 2 * FAR : FAR;
    if (away > least || !may_bring(one, newcomer->kind))
      continue;
    least = away;
    nearest = (gint)i;
  }
  return nearest;
}

/* One newcomer, one mending; of newcomers side by side the first speaks for all. */
static void
take_back_near(Mender *own, const GArray *found)
{
  g_autoptr(GArray) spoken = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint n = 0; n < found->len; n++) {
    const Newcomer *one = &g_array_index(found, Newcomer, n);
    gboolean heard = FALSE;
    for (guint i = 0; i < spoken->len; i++)
      heard |= hf_point_distance(g_array_index(spoken, HfPoint, i), one->at) < BESIDE;
    gint i = heard ? -1 : blame(own, one);
    if (i < 0)
      continue;
    take_back(own, (guint)i);
    g_array_append_val(spoken, one->at);
  }
}

/* Until nothing new is left; when it does not end, nothing is mended at all. */
static gboolean
settle(Mender *own, gboolean mendable_too, GError **error)
{
  for (int i = 0; i <= TAKE_BACKS; i++) {
    g_autoptr(GArray) found = newcomers(own, mendable_too);
    if (found->len == 0)
      return TRUE;
    if (i == TAKE_BACKS)
      while (own->kept->len > 0)
        take_back(own, own->kept->len - 1);
    else
      take_back_near(own, found);
    if (!check(own, error))
      return FALSE;
  }
  return TRUE;
}

/* Is there a sharp point beside what rounded one? */
static gboolean
left_a_point(const Mender *own, const HfMending *mending)
{
  for (guint i = 0; i < own->now->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(own->now, i);
    for (guint k = 0; mends(finding->kind) == HF_MENDS_POINT && k < finding->places->len; k++)
      if (distance_to_box(mending->box, g_array_index(finding->places, HfPoint, k)) < BESIDE_POINT)
        return TRUE;
  }
  return FALSE;
}

/* A point that only became another one, a whisker, is left as its face has it. */
static gboolean
leave_points(Mender *own, GError **error)
{
  guint n = own->kept->len;
  for (guint i = n; i-- > 0;) {
    const HfMending *one = &g_array_index(own->kept, HfMending, i);
    if (mends(one->kind) == HF_MENDS_POINT && left_a_point(own, one))
      take_back(own, i);
  }
  return own->kept->len == n || check(own, error);
}

static gboolean
mend(Mender *own, GError **error)
{
  for (int round = 0; round < ROUNDS && own->left->len == 0; round++) {
    if (!hf_cancel_check(own->budget.of, error))
      return FALSE;
    g_autoptr(GArray) mendings = propose(own);
    g_array_append_vals(own->kept, mendings->data, mendings->len);
    if (!hf_cancel_check(own->budget.of, error))
      return FALSE;
    if (mendings->len == 0 && own->left->len == 0)
      break;
    if (!check(own, error) || !settle(own, FALSE, error))
      return FALSE;
  }
  return leave_points(own, error) && settle(own, TRUE, error);
}

/* ---- the door ---------------------------------------------------------------------------------
 */

/* (nullable) */
static GArray *
meant_shapes(const HfSign *sign, const HfMendEntry *wish)
{
  if (wish->of == NULL || wish->of->len == 0)
    return NULL;
  GArray *all = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < wish->of->len; i++) {
    g_autoptr(GArray) some =
        hf_layout_meant(sign->recipe, sign->layout, (const char *)g_ptr_array_index(wish->of, i));
    g_array_append_vals(all, some->data, some->len);
  }
  return all;
}

static HfMendEntry
wish_of(const HfMendEntry *said)
{
  HfMendEntry wish = *said;
  if (!wish.fill && !wish.enlarge && !wish.thicken && isnan(wish.round))
    wish.fill = wish.thicken = TRUE;
  return wish;
}

/* (transfer full) */
static HfWork *
work_of(const Mender *own)
{
  HfWork *work = hf_work_new(own->entry);
  g_autoptr(GPtrArray) shapes = kept_shapes(own);
  g_ptr_array_extend_and_steal(work->shapes, g_steal_pointer(&shapes));
  return work;
}

static void
mender_clear(Mender *own)
{
  for (guint i = 0; i < own->kept->len; i++)
    mending_free_shapes(&g_array_index(own->kept, HfMending, i));
  hf_sign_free(own->now);
  g_array_unref(own->kept);
  g_array_unref(own->given_up);
  g_array_unref(own->left);
  g_clear_pointer(&own->of, g_array_unref);
}

HfSign *
hf_mend(const HfSign *sign, guint entry, HfSignUse use, const HfCancel *cancel, GError **error)
{
  return hf_mend_bounded(sign, entry, use, MOST_WORK, cancel, error);
}

HfSign *
hf_mend_bounded(const HfSign *sign, guint entry, HfSignUse use, gint most, const HfCancel *cancel,
                GError **error)
{
  const HfMendEntry *said = &hf_recipe_at(sign->recipe, entry)->mend;
  Mender own = {.given = sign,
                .now = hf_sign_ref(sign),
                .entry = entry,
                .wish = wish_of(said),
                .of = meant_shapes(sign, said),
                .kept = g_array_new(FALSE, TRUE, sizeof(HfMending)),
                .given_up = g_array_new(FALSE, TRUE, sizeof(HfMending)),
                .left = g_array_new(FALSE, FALSE, sizeof(HfMissed)),
                .budget = {.most = most, .of = cancel}};
  HfSign *mended = NULL;
  if (mend(&own, error)) {
    g_autoptr(HfSign) laid = use == HF_SIGN_SHOWN ? hf_sign_fitted(own.now) : hf_sign_ref(own.now);
    mended = hf_sign_worked(laid, work_of(&own));
  }
  mender_clear(&own);
  return mended;
}
