/* SPDX-License-Identifier: GPL-3.0-or-later
 * joined.c - the spacing at which neighbouring letters are joined widely enough.
 *
 *      S  a      Sa            for each pair the loosest spacing, never looser than designed, at
 *       |--|     |><|          which the joint is at least as wide as wanted
 *
 * The search starts where the letters just touch, which their profiles tell, goes tighter in steps
 * until the joint is wide enough, and closes in on the place by halving. One spacing for all is
 * the tightest that any pair of letters needs; a pair with punctuation gets its own, so that an
 * apostrophe does not press a whole word together. docs/maths.md#joint-width
 */
#include "base/text.h"
#include "layout/joint-private.h"
#include "layout/words-private.h"

#define FLAT_MM   0.004 /* what the joint is measured on */
#define COARSE_MM 0.05  /* what the search goes over first */

enum { BINS = 64, STEPS = 64, HALVINGS = 40 };

/* Edges that only touch would be wide joints of no depth; letters overlap by at least this. */
static const double OVERLAP = 0.02; /* mm */
static const double CLOSE = 2e-5;   /* mm: how well the spacing is found */
static const double DEEPEST = 0.6;  /* of the narrower letter's width: tighter is not looked for */

typedef struct {
  const HfSetting *setting;
  const HfLetter *a, *b;
  HfPolygons *own_a, *own_b; /* letters' own frames, mm, origin at the pen */
  HfPolygons *moved;         /* b beside a */
  double wanted;
} Pair;

/* b's frame as seen from a's, b's pen being @spacing mm further than a's advance. */
static HfMatrix
beside(const Pair *pair, double spacing)
{
  const HfSetting *s = pair->setting;
  double across = s->size * s->wide, step = pair->a->advance * across + spacing;
  if (s->radius <= 0)
    return hf_matrix_move(step, 0);
  if (s->bent) /* both are bent at the same place about the origin */
    return hf_matrix_turn((s->inward ? step : -step) / s->radius);
  double half_a = pair->a->advance * across / 2, half_b = pair->b->advance * across / 2;
  double turn = (s->inward ? 1 : -1) * (step + half_b - half_a) / s->radius;
  double centre = s->inward ? s->radius : -s->radius; /* a's middle at (half_a, 0) */
  HfMatrix m = hf_matrix_then(hf_matrix_move(-half_b, -centre), hf_matrix_turn(turn));
  return hf_matrix_then(m, hf_matrix_move(half_a, centre));
}

static double
width_at(const Pair *pair, double spacing)
{
  hf_polygons_moved(pair->moved, pair->own_b, beside(pair, spacing));
  return hf_joint_width(pair->own_a, pair->moved, pair->wanted, NULL);
}

/* ---- where they touch ----------------------------------------------------------------------- */

static void
profile(const HfPolygons *p, double low, double high, gboolean right, double *bins)
{
  for (guint i = 0; i < BINS; i++)
    bins[i] = right ? -INFINITY : INFINITY;
  for (guint k = 0; k < p->starts->len; k++) {
    guint first = g_array_index(p->starts, guint, k);
    guint end = k + 1 < p->starts->len ? g_array_index(p->starts, guint, k + 1) : p->points->len;
    for (guint i = first; i < end; i++) {
      HfPoint a = g_array_index(p->points, HfPoint, i);
      HfPoint b = g_array_index(p->points, HfPoint, i + 1 < end ? i + 1 : first);
      double from = (MIN(a.y, b.y) - low) / (high - low) * BINS;
      double to = (MAX(a.y, b.y) - low) / (high - low) * BINS;
      double x = right ? MAX(a.x, b.x) : MIN(a.x, b.x);
      for (int bin = MAX((int)floor(from), 0); bin <= MIN((int)floor(to), BINS - 1); bin++)
        bins[bin] = right ? MAX(bins[bin], x) : MIN(bins[bin], x);
    }
  }
}

/* About the spacing at which they touch; long slanted edges make it too loose, never by more than
 * their width in a bin. %FALSE: nothing of the one is beside the other. */
static gboolean
touching(const Pair *pair, double *ret_spacing)
{
  hf_polygons_moved(pair->moved, pair->own_b, beside(pair, 0));
  double low = MAX(pair->own_a->box.min.y, pair->moved->box.min.y);
  double high = MIN(pair->own_a->box.max.y, pair->moved->box.max.y);
  if (high - low < pair->wanted / 4)
    return FALSE;
  double right[BINS], left[BINS], gap = INFINITY;
  profile(pair->own_a, low, high, TRUE, right);
  profile(pair->moved, low, high, FALSE, left);
  for (guint i = 0; i < BINS; i++)
    gap = MIN(gap, left[i] - right[i]);
  *ret_spacing = -gap;
  return isfinite(gap);
}

/* ---- the spacing of one pair ---------------------------------------------------------------- */

/* From a spacing that is too loose and one that joins to the loosest between them that joins. */
static double
close_in(const Pair *pair, double loose, double tight)
{
  double over_loose = width_at(pair, loose) - pair->wanted;
  double over_tight = width_at(pair, tight) - pair->wanted;
  for (int i = 0; i < HALVINGS && loose - tight > CLOSE; i++) {
    double next = (loose + tight) / 2;
    if (i % 2 == 0 && over_tight > over_loose) /* false position, a little to the tight side */
      next = tight + (loose - tight) * over_tight / (over_tight - over_loose) - CLOSE / 2;
    next = CLAMP(next, tight + CLOSE / 4, loose - CLOSE / 4);
    double over = width_at(pair, next) - pair->wanted;
    if (over >= 0) {
      tight = next;
      over_tight = over;
    } else {
      loose = next;
      over_loose = over;
    }
  }
  return tight;
}

/* The loosest spacing of at most 0 that joins the pair, by steps. %FALSE: none does; then the
 * spacing with the widest joint, and that. */
static gboolean
search(const Pair *pair, double start, double *ret_loose, double *ret_tight, double *ret_widest)
{
  double narrower = MIN(hf_box_width(pair->own_a->box), hf_box_width(pair->own_b->box));
  double first = MIN(start, 0), last = first - DEEPEST * narrower, best = 0;
  double step = MAX(MAX(0.3 * pair->wanted, 0.05), (first - last) / STEPS);
  *ret_widest = 0;
  for (double at = first; at >= last; at -= step) {
    double width = width_at(pair, at);
    *ret_loose = MIN(at + step, 0);
    *ret_tight = at;
    if (width >= pair->wanted)
      return TRUE;
    if (width > *ret_widest) {
      *ret_widest = width;
      best = at;
    }
  }
  *ret_tight = best;
  return FALSE;
}

/* ---- all pairs ------------------------------------------------------------------------------ */

static HfPolygons *
own_polygons(const HfSetting *s, const HfLetter *letter, double tolerance)
{
  HfMatrix flat = hf_matrix_scale(s->size * s->wide, s->size);
  if (s->radius <= 0 || !s->bent)
    return hf_polygons_new(letter->outline, flat, tolerance);
  g_autoptr(HfOutline) bent = hf_bent_outline(letter, s, 0, s->inward ? -G_PI_2 : G_PI_2);
  return hf_polygons_new(bent, HF_MATRIX_IDENTITY, tolerance);
}

static gboolean
is_pair(const HfWording *wording, guint i)
{
  if (i + 1 >= wording->letters->len)
    return FALSE;
  const HfLetter *a = hf_wording_letter(wording, i), *b = hf_wording_letter(wording, i + 1);
  return a->line == b->line && a->outline != NULL && b->outline != NULL;
}

static gboolean
is_word_letter(const HfLetter *letter)
{
  return g_unichar_isalnum(g_utf8_get_char(letter->text));
}

static void
pair_flatten(Pair *pair, double tolerance)
{
  hf_polygons_free(pair->own_a);
  hf_polygons_free(pair->own_b);
  hf_polygons_free(pair->moved);
  pair->own_a = own_polygons(pair->setting, pair->a, tolerance);
  pair->own_b = own_polygons(pair->setting, pair->b, tolerance);
  pair->moved = own_polygons(pair->setting, pair->b, tolerance);
}

static void
pair_clear(Pair *pair)
{
  hf_polygons_free(pair->own_a);
  hf_polygons_free(pair->own_b);
  hf_polygons_free(pair->moved);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Pair, pair_clear)

static gboolean
solve_pair(const HfWording *wording, const HfSetting *setting, guint i, double wanted,
           double *ret_spacing, double *ret_widest)
{
  g_auto(Pair) pair = {.setting = setting, .wanted = wanted};
  pair.a = hf_wording_letter(wording, i);
  pair.b = hf_wording_letter(wording, i + 1);
  *ret_spacing = 0;
  *ret_widest = wanted;
  pair_flatten(&pair, COARSE_MM);
  if (width_at(&pair, 0) >= wanted + 2 * COARSE_MM)
    return TRUE;
  double start, loose = 0, tight = 0;
  gboolean beside_each_other = touching(&pair, &start);
  gboolean found = beside_each_other && search(&pair, start, &loose, &tight, ret_widest);
  pair_flatten(&pair, FLAT_MM);
  if (width_at(&pair, 0) >= wanted)
    return TRUE;
  *ret_spacing = tight;
  if (!found)
    return FALSE;
  if (width_at(&pair, tight) < wanted) /* coarse and fine differ by a little */
    tight -= 4 * COARSE_MM;
  if (width_at(&pair, tight) < wanted)
    return FALSE;
  *ret_spacing = close_in(&pair, loose, tight) - OVERLAP;
  return TRUE;
}

double *
hf_join_letters(const HfWording *wording, const HfSetting *setting, double wanted, gboolean by_pair,
                double **ret_needs, HfTooNarrow *ret_too_narrow)
{
  guint n = wording->letters->len;
  double *spacing = g_new0(double, n + 1), *needs = g_new0(double, n + 1), tightest = 0;
  *ret_too_narrow = (HfTooNarrow){0, 0, INFINITY};
  for (guint i = 0; i < n && hf_wording_goes_on(wording); i++) {
    double widest;
    if (!is_pair(wording, i))
      continue;
    gboolean letters = is_word_letter(hf_wording_letter(wording, i)) &&
                       is_word_letter(hf_wording_letter(wording, i + 1));
    if (solve_pair(wording, setting, i, wanted, &spacing[i], &widest)) {
      needs[i] = letters ? spacing[i] : 0;
      tightest = MIN(tightest, needs[i]);
      continue;
    }
    ret_too_narrow->n++;
    if (widest < ret_too_narrow->widest) {
      ret_too_narrow->widest = widest;
      ret_too_narrow->first = i;
    }
  }
  for (guint i = 0; i < n && !by_pair; i++)
    if (is_pair(wording, i))
      spacing[i] = MIN(spacing[i], tightest);
  *ret_needs = needs;
  return spacing;
}

void
hf_words_add_pairs(HfWordsLaying *own, guint first_shape)
{
  HfLaid *laid = &own->laying->laid[own->entry];
  double wanted = hf_words_joint(own);
  for (guint k = first_shape; k + 1 < laid->shapes->len; k++) {
    const HfShape *a = (const HfShape *)g_ptr_array_index(laid->shapes, k);
    const HfShape *b = (const HfShape *)g_ptr_array_index(laid->shapes, k + 1);
    if (b->letter != a->letter + 1 || !is_pair(own->wording, (guint)a->letter))
      continue;
    g_autoptr(HfPolygons) pa = hf_polygons_new(a->outline, HF_MATRIX_IDENTITY, FLAT_MM);
    g_autoptr(HfPolygons) pb = hf_polygons_new(b->outline, HF_MATRIX_IDENTITY, FLAT_MM);
    HfJoint joint = {HF_LAID_SHAPE(own->entry, k), HF_LAID_SHAPE(own->entry, k + 1),
                     hf_box_centre(hf_box_union(pa->box, pb->box)), 0, NAN};
    joint.width = hf_joint_width(pa, pb, wanted, &joint.at);
    g_array_append_val(laid->joints, joint);
  }
}
