/* SPDX-License-Identifier: GPL-3.0-or-later
 * sizes.c - how large each entry is, and how far from the nearest edge that is not its own.
 *
 *      ,------ board ------.      The finished metal knows of each edge what made it. Of those that
 *     (  H U L L  <- d ->   )     another entry made, the one that is nearest: first among chords,
 * in
 *      `-------------------'      runs whose boxes tell which can't be as near, then on true
 * curves.
 */
#include "geom/clear.h"
#include "geom/index.h"
#include "recipe/kind.h"
#include "sign/sign.h"

enum {
  RUN = 16,     /* chords that share a box, at most */
  CLOSEST = 32, /* pairs of chords that are looked at on true curves: those of two circles about
                   one centre are all as near, and any will do to twice HF_FLATTEN_MM */
  MOST_WORK = 1500000 /* pairs of boxes and chords, a tenth of a second */
};
#define LONG 20.0 /* mm: so long a chord has a box of its own */
#define BLURRED                                                                                    \
  (4 * HF_FLATTEN_MM + 0.0005) /* mm: two gaps of chords may change places by this                 \
                                */

typedef struct {
  HfPoint a, b;
  HfEdge from;
} Chord;

typedef struct {
  HfBox box;
  guint first, n; /* of the chords */
  guint shape;    /* that made all of them, */
  guint entry;    /* and whose it is */
  gboolean is_long;
} Run;

typedef struct {
  GArray *chords, *runs;
} Chords;

static void
chords_clear(Chords *chords)
{
  g_array_unref(chords->chords);
  g_array_unref(chords->runs);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Chords, chords_clear)

static void
add_chord(Chords *to, const Chord *chord, guint entry, gboolean goes_on)
{
  Run *last = to->runs->len > 0 ? &g_array_index(to->runs, Run, to->runs->len - 1) : NULL;
  gboolean is_long = hf_point_distance(chord->a, chord->b) > LONG;
  if (last == NULL || !goes_on || is_long || last->is_long || last->n == RUN ||
      last->shape != chord->from.shape) {
    Run run = {HF_BOX_EMPTY, to->chords->len, 0, chord->from.shape, entry, is_long};
    g_array_append_val(to->runs, run);
    last = &g_array_index(to->runs, Run, to->runs->len - 1);
  }
  last->n++;
  last->box = hf_box_add_point(hf_box_add_point(last->box, chord->a), chord->b);
  g_array_append_val(to->chords, *chord);
}

/* All edges of @region that a shape made. */
static Chords
chords_of(const HfRegion *region, const HfLayout *layout)
{
  Chords all = {g_array_new(FALSE, FALSE, sizeof(Chord)), g_array_new(FALSE, FALSE, sizeof(Run))};
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0; ring->from != NULL && i < ring->n; i++) {
      Chord chord = {hf_grid_point(ring->at[i]), hf_grid_point(ring->at[(i + 1) % ring->n]),
                     ring->from[i]};
      if (chord.from.shape != HF_NO_SHAPE)
        add_chord(&all, &chord, hf_layout_shape(layout, chord.from.shape)->entry, i > 0);
    }
  }
  return all;
}

static double
boxes_apart(HfBox a, HfBox b)
{
  double x = fmax(0, fmax(a.min.x - b.max.x, b.min.x - a.max.x));
  double y = fmax(0, fmax(a.min.y - b.max.y, b.min.y - a.max.y));
  return sqrt(x * x + y * y);
}

/* ---- whose ink, whose edge ----------------------------------------------------------------- */

typedef struct {
  const HfSign *sign;
  Chords ink, edges; /* of every shape; of the metal */
  guint entry;
  HfBox box;        /* of its ink */
  gboolean cut;     /* it is cut out: what it is cut from counts, not what else is */
  gboolean *is_own; /* one an entry: of it */
  GArray *own_runs; /* guint: of `ink`, those of it */
  gint64 left;      /* pairs of boxes and chords that may still be looked at */
  gint *group;      /* one an entry: whose member it is; -1: nobody's */
} Looking;

static const HfShape *
shape_at(const Looking *looking, guint shape)
{
  return hf_layout_shape(looking->sign->layout, shape);
}

static gboolean
is_other(const Looking *looking, guint shape)
{
  const HfShape *s = shape_at(looking, shape);
  const HfEntry *entry = hf_recipe_at(looking->sign->recipe, s->entry);
  return !looking->is_own[s->entry] && !(looking->cut && s->opening) &&
         !hf_entry_is(entry, HF_KINDS_LAST);
}

static void
find_own(Looking *looking)
{
  looking->cut = FALSE;
  for (guint i = 0; i < looking->sign->recipe->entries->len; i++) {
    gint up = (gint)i;
    while (up >= 0 && (guint)up != looking->entry)
      up = looking->group[up];
    looking->is_own[i] = up >= 0;
  }
  g_array_set_size(looking->own_runs, 0);
  for (guint i = 0; i < looking->ink.runs->len; i++)
    if (looking->is_own[g_array_index(looking->ink.runs, Run, i).entry])
      g_array_append_val(looking->own_runs, i);
  const GPtrArray *shapes = looking->sign->layout->shapes;
  for (guint i = 0; i < shapes->len && !looking->cut; i++)
    looking->cut = looking->is_own[shape_at(looking, i)->entry] && shape_at(looking, i)->opening;
}

/* ---- the nearest --------------------------------------------------------------------------- */

static void
add_curve(const Looking *looking, HfOutline *to, const Chord *chord)
{
  const HfOutline *outline = shape_at(looking, chord->from.shape)->outline;
  const HfCurve *curve = &g_array_index(outline->curves, HfCurve, chord->from.curve);
  HfCurve stretch = hf_curve_between(curve, chord->from.t0, chord->from.t1);
  g_array_append_val(to->curves, stretch);
}

typedef struct {
  double gap; /* of the nearest chords so far */
  guint edge; /* of `edges` */
} Nearest;

static void
look_at_runs(Looking *looking, const Run *ink, const Run *edge, Nearest *nearest)
{
  looking->left -= ink->n * edge->n;
  for (guint i = 0; i < ink->n; i++)
    for (guint k = 0; k < edge->n; k++) {
      const Chord *a = &g_array_index(looking->ink.chords, Chord, ink->first + i);
      const Chord *b = &g_array_index(looking->edges.chords, Chord, edge->first + k);
      double gap = hf_segment_gap(a->a, a->b, b->a, b->b, NULL, NULL);
      if (gap < nearest->gap)
        *nearest = (Nearest){gap, edge->first + k};
    }
}

typedef void (*PairFunc)(Looking *looking, const Run *ink, const Run *edge, gpointer data);

/* Every pair of runs whose boxes are as near as @within, which may become less meanwhile. */
static void
each_pair(Looking *looking, const double *within, PairFunc func, gpointer data)
{
  for (guint k = 0; k < looking->edges.runs->len && looking->left > 0; k++) {
    const Run *edge = &g_array_index(looking->edges.runs, Run, k);
    if (!is_other(looking, edge->shape) || boxes_apart(looking->box, edge->box) > *within)
      continue;
    looking->left -= looking->own_runs->len;
    for (guint i = 0; i < looking->own_runs->len && looking->left > 0; i++) {
      const Run *ink =
          &g_array_index(looking->ink.runs, Run, g_array_index(looking->own_runs, guint, i));
      if (boxes_apart(ink->box, edge->box) <= *within)
        func(looking, ink, edge, data);
    }
  }
}

typedef struct {
  double apart; /* of their boxes */
  const Run *ink, *edge;
} Pair;

static void
take_nearest_boxes(Looking *looking, const Run *ink, const Run *edge, gpointer data)
{
  Pair *best = data;
  best->apart = boxes_apart(ink->box, edge->box);
  best->ink = ink;
  best->edge = edge;
  (void)looking;
}

static void
take_nearest(Looking *looking, const Run *ink, const Run *edge, gpointer data)
{
  look_at_runs(looking, ink, edge, data);
}

typedef struct {
  double gap;
  guint ink, edge; /* chords */
} ClosePair;

typedef struct {
  double within;
  GArray *pairs; /* ClosePair */
} Close;

static gint
by_gap(gconstpointer a, gconstpointer b)
{
  const ClosePair *p = a, *q = b;
  if (p->gap != q->gap)
    return p->gap < q->gap ? -1 : 1;
  if (p->ink != q->ink)
    return p->ink < q->ink ? -1 : 1;
  return (p->edge > q->edge) - (p->edge < q->edge);
}

/* The closest of them; what is farther than all of those can't become one any more. */
static void
keep_closest(Close *close)
{
  g_array_sort(close->pairs, by_gap);
  if (close->pairs->len < CLOSEST)
    return;
  g_array_set_size(close->pairs, CLOSEST);
  close->within = g_array_index(close->pairs, ClosePair, CLOSEST - 1).gap;
}

static void
take_close(Looking *looking, const Run *ink, const Run *edge, gpointer data)
{
  Close *close = data;
  looking->left -= ink->n * edge->n;
  for (guint i = 0; i < ink->n; i++)
    for (guint k = 0; k < edge->n; k++) {
      const Chord *a = &g_array_index(looking->ink.chords, Chord, ink->first + i);
      const Chord *b = &g_array_index(looking->edges.chords, Chord, edge->first + k);
      ClosePair pair = {hf_segment_gap(a->a, a->b, b->a, b->b, NULL, NULL), ink->first + i,
                        edge->first + k};
      if (pair.gap > close->within)
        continue;
      g_array_append_val(close->pairs, pair);
      if (close->pairs->len == 8 * CLOSEST)
        keep_closest(close);
    }
}

/* @gap between chords, on the true curves; those that are nearly as near are looked at. */
static double
true_gap(Looking *looking, double gap)
{
  g_autoptr(HfOutline) ink = hf_outline_new(), edge = hf_outline_new();
  g_autoptr(GArray) pairs = g_array_new(FALSE, FALSE, sizeof(ClosePair));
  Close close = {gap + BLURRED, pairs};
  each_pair(looking, &close.within, take_close, &close);
  keep_closest(&close);
  for (guint i = 0; i < pairs->len; i++) {
    const ClosePair *pair = &g_array_index(pairs, ClosePair, i);
    add_curve(looking, ink, &g_array_index(looking->ink.chords, Chord, pair->ink));
    add_curve(looking, edge, &g_array_index(looking->edges.chords, Chord, pair->edge));
  }
  g_autoptr(HfClear) clear = hf_clear_new(edge);
  return hf_clear_apart(clear, ink, gap + BLURRED);
}

static void
measure_clear(Looking *looking, HfEntrySize *size)
{
  Pair first = {INFINITY, NULL, NULL};
  each_pair(looking, &first.apart, take_nearest_boxes, &first);
  if (first.ink == NULL || looking->left <= 0)
    return;
  Nearest nearest = {INFINITY, 0};
  look_at_runs(looking, first.ink, first.edge, &nearest);
  each_pair(looking, &nearest.gap, take_nearest, &nearest);
  const Chord *edge = &g_array_index(looking->edges.chords, Chord, nearest.edge);
  size->from = (gint)shape_at(looking, edge->from.shape)->entry;
  size->clear = nearest.gap > 0 ? true_gap(looking, nearest.gap) : 0;
  if (looking->left <= 0) /* it broke off anywhere */
    *size = (HfEntrySize){size->entry, size->box, NAN, -1};
}

static HfBox
box_of(const Looking *looking)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < looking->sign->layout->shapes->len; i++)
    if (looking->is_own[shape_at(looking, i)->entry])
      box = hf_box_union(box, hf_outline_box(shape_at(looking, i)->outline));
  return box;
}

static Chords
ink_of(const HfLayout *layout)
{
  g_autoptr(HfRegion) flat = hf_region_new();
  for (guint i = 0; i < layout->shapes->len; i++)
    hf_region_flatten(flat, hf_layout_shape(layout, i)->outline, i, HF_FLATTEN_MM);
  return chords_of(flat, layout);
}

static GArray *
sizes_in(const HfSign *sign, gboolean whatever_it_takes)
{
  guint n = sign->recipe->entries->len;
  g_autofree gboolean *is_own = g_new0(gboolean, n + 1);
  g_autofree gint *group = g_new(gint, n + 1);
  for (guint i = 0; i < n; i++)
    group[i] = hf_recipe_group(sign->recipe, i);
  g_autoptr(GArray) own_runs = g_array_new(FALSE, FALSE, sizeof(guint));
  Looking looking = {.sign = sign, .is_own = is_own, .group = group, .own_runs = own_runs};
  looking.left = whatever_it_takes ? G_MAXINT64 : MOST_WORK;
  g_auto(Chords) ink = ink_of(sign->layout), edges = chords_of(sign->metal->region, sign->layout);
  looking.ink = ink;
  looking.edges = edges;
  GArray *sizes = g_array_sized_new(FALSE, FALSE, sizeof(HfEntrySize), n);
  for (guint i = 0; i < n; i++) {
    HfEntrySize size = {i, HF_BOX_EMPTY, NAN, -1};
    looking.entry = i;
    find_own(&looking);
    looking.box = size.box = box_of(&looking);
    gboolean has_ink =
        !hf_box_is_empty(size.box) && !hf_entry_is(hf_recipe_at(sign->recipe, i), HF_KINDS_LAST);
    if (has_ink && looking.left > 0)
      measure_clear(&looking, &size);
    g_array_append_val(sizes, size);
  }
  return sizes;
}

/* Of a hole that goes through several layers, the nearest edge in any of them; of a group the box
 * of what it has in all. */
static void
take_in(HfEntrySize *size, const HfEntrySize *other)
{
  size->box = hf_box_union(size->box, other->box);
  if (other->from < 0 || (size->from >= 0 && !(other->clear < size->clear)))
    return;
  size->clear = other->clear;
  size->from = other->from;
}

GArray *
hf_sign_sizes(const HfSign *sign, gboolean whatever_it_takes)
{
  GArray *sizes = sizes_in(hf_sign_layer(sign, 0), whatever_it_takes);
  for (guint i = 1; i < hf_sign_n_layers(sign); i++) {
    g_autoptr(GArray) more = sizes_in(hf_sign_layer(sign, i), whatever_it_takes);
    for (guint k = 0; k < sizes->len; k++)
      take_in(&g_array_index(sizes, HfEntrySize, k), &g_array_index(more, HfEntrySize, k));
  }
  return sizes;
}
