/* SPDX-License-Identifier: GPL-3.0-or-later
 * interlace.c - two or three letters woven through each other.
 *
 *          under        Where two letters cross, one passes over and the other is cut clear of it.
 *      ___ |  | ___     Which passes over changes from crossing to crossing, from left to right.
 *      ___ |  | ___     Cut pieces would fall out: as few ties as make all pieces one are left
 *          over         across the gaps, each in the middle of its stroke.
 *          |  |
 *
 * Pieces and gaps are a graph, a gap joining the piece that is cut and the one that passes over;
 * ties stand on the gaps of a spanning tree (Kruskal). docs/maths.md#interlaced-letters
 *
 * Made of shapes in order: all letters; the gaps as openings, with a lap on the upper letters; the
 * upper letters once more where the laps are, with their true curves; the ties.
 */
#include "base/text.h"
#include "geom/bolder.h"
#include "geom/index.h"
#include "geom/retrace.h"
#include "layout/cut-private.h"
#include "layout/initial-private.h"

#define FINE_MM 0.001
#define LAP_MM  0.3 /* the opening reaches into the upper letter by this; it is covered again */

enum { MOST_CROSSINGS = 24 };

typedef struct {
  guint over, under; /* shapes */
  HfRegion *overlap; /* one piece of the two letters' overlap */
  HfOutline *edge;   /* of the upper letter, moved by the gap: true curves */
  HfRegion *grown;   /* what lies within that */
  GPtrArray *sides;  /* HfRegion *: pieces of the under letter within the gap beside the overlap */
  double x;          /* of its middle */
} Crossing;

static void
crossing_clear(gpointer data)
{
  Crossing *c = (Crossing *)data;
  hf_region_free(c->overlap);
  hf_outline_free(c->edge);
  hf_region_free(c->grown);
  if (c->sides != NULL)
    g_ptr_array_unref(c->sides);
}

/* ---- regions --------------------------------------------------------------------------------- */

static void
region_free(gpointer region)
{
  hf_region_free((HfRegion *)region);
}

static GPtrArray *
parts_of(const HfRegion *region, double least_area)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func(region_free);
  for (guint i = 0; i < region->rings->len; i++) {
    if (hf_region_ring(region, i)->parent >= 0)
      continue;
    HfRegion *part = hf_region_part(region, i);
    if (hf_region_area(part) > least_area)
      g_ptr_array_add(parts, part);
    else
      hf_region_free(part);
  }
  return parts;
}

static gboolean
touch(const HfRegion *a, const HfRegion *b)
{
  g_autoptr(HfRegion) grown = hf_region_offset(a, 0.01, 0.001);
  g_autoptr(HfRegion) both = hf_region_intersect(grown, b);
  return !hf_region_is_empty(both);
}

/* ---- crossings ------------------------------------------------------------------------------- */

static gint
by_x(gconstpointer a, gconstpointer b)
{
  const Crossing *p = (const Crossing *)a, *q = (const Crossing *)b;
  return p->x < q->x ? -1 : p->x > q->x;
}

static void
find_crossings(GArray *crossings, HfRegion *const *letters, guint a, guint b)
{
  g_autoptr(HfRegion) both = hf_region_intersect(letters[a], letters[b]);
  g_autoptr(GPtrArray) parts = parts_of(both, 0.01);
  for (guint i = 0; i < parts->len && crossings->len < MOST_CROSSINGS; i++) {
    Crossing c = {.over = a, .under = b};
    c.overlap = hf_region_copy((const HfRegion *)g_ptr_array_index(parts, i));
    c.x = hf_region_centroid(c.overlap).x;
    g_array_append_val(crossings, c);
  }
}

/* The stretches of the under letter that lie within the gap beside the upper one, here. */
static void
find_sides(Crossing *c, const GPtrArray *shapes, HfRegion *const *letters, double gap)
{
  const HfShape *over = (const HfShape *)g_ptr_array_index(shapes, c->over);
  c->edge = hf_outline_bolder(over->outline, gap);
  c->grown = hf_region_of_outline(c->edge, 0, FINE_MM);
  g_autoptr(HfRegion) within = hf_region_intersect(c->grown, letters[c->under]);
  g_autoptr(HfRegion) beside = hf_region_subtract(within, letters[c->over]);
  g_autoptr(GPtrArray) parts = parts_of(beside, 0.01);
  c->sides = g_ptr_array_new_with_free_func(region_free);
  for (guint i = 0; i < parts->len; i++) {
    const HfRegion *part = (const HfRegion *)g_ptr_array_index(parts, i);
    if (touch(part, c->overlap))
      g_ptr_array_add(c->sides, hf_region_copy(part));
  }
}

/* ---- what would fall out --------------------------------------------------------------------- */

/* One piece of a letter once it is cut at all its crossings below another. */
typedef struct {
  guint letter;
  HfRegion *region;
  guint group; /* pieces that hang together have one number */
} Piece;

static void
piece_clear(gpointer data)
{
  hf_region_free(((Piece *)data)->region);
}

static HfRegion *
without(HfRegion *from, const HfRegion *what)
{
  HfRegion *rest = hf_region_subtract(from, what);
  hf_region_free(from);
  return rest;
}

static void
add_pieces(GArray *pieces, const GArray *crossings, HfRegion *const *letters, guint letter)
{
  HfRegion *left = hf_region_copy(letters[letter]);
  for (guint i = 0; i < crossings->len; i++) {
    const Crossing *c = &g_array_index(crossings, Crossing, i);
    if (c->under != letter)
      continue;
    left = without(left, c->overlap);
    for (guint k = 0; k < c->sides->len; k++)
      left = without(left, (const HfRegion *)g_ptr_array_index(c->sides, k));
  }
  g_autoptr(GPtrArray) parts = parts_of(left, 0.01);
  hf_region_free(left);
  for (guint i = 0; i < parts->len; i++) {
    Piece piece = {letter, hf_region_copy((const HfRegion *)g_ptr_array_index(parts, i)),
                   pieces->len};
    g_array_append_val(pieces, piece);
  }
}

static Piece *
piece_at(const GArray *pieces, guint letter, const HfRegion *region)
{
  for (guint i = 0; i < pieces->len; i++) {
    Piece *piece = &g_array_index(pieces, Piece, i);
    if (piece->letter == letter && touch(region, piece->region))
      return piece;
  }
  return NULL;
}

/* TRUE when a joint between the two would hold something new; they are one group from then on. */
static gboolean
holds_more(const GArray *pieces, const Piece *a, const Piece *b)
{
  if (a == NULL || b == NULL || a->group == b->group)
    return FALSE;
  guint from = b->group, to = a->group;
  for (guint i = 0; i < pieces->len; i++) {
    Piece *piece = &g_array_index(pieces, Piece, i);
    if (piece->group == from)
      piece->group = to;
  }
  return TRUE;
}

/* ---- shapes ---------------------------------------------------------------------------------- */

static HfPoint
nearest_on(const HfRegion *region, HfPoint p)
{
  HfPoint best = p;
  double least = INFINITY;
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    for (guint k = 0; k < ring->n; k++) {
      HfPoint q = hf_segment_nearest(hf_grid_point(ring->at[k]),
                                     hf_grid_point(ring->at[(k + 1) % ring->n]), p, NULL);
      if (hf_point_distance(p, q) < least) {
        least = hf_point_distance(p, q);
        best = q;
      }
    }
  }
  return best;
}

/* Its centre of area, or the point of it that is nearest to that. */
static HfPoint
inner_point(const HfRegion *region)
{
  HfPoint centre = hf_region_centroid(region);
  return hf_region_contains(region, centre) ? centre : nearest_on(region, centre);
}

/* The cut side with a lap all round, so that no edge of it lies on an edge of a letter; no farther
 * from the upper letter than the gap. */
static HfRegion *
opening_at(const Crossing *c, const HfRegion *side)
{
  g_autoptr(HfRegion) lapped = hf_region_offset(side, LAP_MM, FINE_MM);
  return hf_region_intersect(lapped, c->grown);
}

static void
add_opening(GPtrArray *shapes, const Crossing *c, const HfRegion *side)
{
  const HfShape *over = (const HfShape *)g_ptr_array_index(shapes, c->over);
  const HfShape *under = (const HfShape *)g_ptr_array_index(shapes, c->under);
  g_autoptr(HfRegion) opening = opening_at(c, side);
  char *label = g_strdup_printf("gap where %s passes over %s", over->label, under->label);
  HfOutline *outline = hf_region_curves_of(opening, c->edge, FINE_MM);
  g_ptr_array_add(shapes, hf_shape_new(outline, label, over->entry, -1, TRUE));
}

/* The upper letter once more where the opening has a lap on it, cut out by a box. */
static void
add_cover(GPtrArray *shapes, const Crossing *c, const HfRegion *side, const HfRegion *letter)
{
  const HfShape *over = (const HfShape *)g_ptr_array_index(shapes, c->over);
  g_autoptr(HfRegion) opening = opening_at(c, side);
  g_autoptr(HfRegion) lap = hf_region_intersect(opening, letter);
  HfBox box = hf_box_grow(hf_region_box(lap), LAP_MM);
  g_autoptr(HfOutline) right = hf_cut_line(over->outline, box.min, hf_point(0, -1));
  g_autoptr(HfOutline) left = hf_cut_line(right, box.max, hf_point(0, 1));
  g_autoptr(HfOutline) above = hf_cut_level(left, box.min.y, TRUE);
  HfShape *cover = hf_shape_new(hf_cut_level(above, box.max.y, FALSE), g_strdup(over->label),
                                over->entry, over->letter, FALSE);
  cover->em = over->em;
  cover->letter_height = over->letter_height;
  cover->lean = over->lean;
  g_ptr_array_add(shapes, cover);
}

/* A tie across the gap, about the middle of @side, square to the upper letter's edge. */
static void
add_tie(GPtrArray *shapes, const Crossing *c, const HfRegion *side, const HfRegion *letter,
        double gap, double width)
{
  const HfShape *over = (const HfShape *)g_ptr_array_index(shapes, c->over);
  const HfShape *under = (const HfShape *)g_ptr_array_index(shapes, c->under);
  HfPoint middle = inner_point(side), foot = nearest_on(letter, middle);
  HfPoint way = hf_point_sub(middle, foot);
  double length = hf_point_length(way);
  way = length > 0 ? hf_point_scale(way, 1 / length) : hf_point(0, 1);
  HfMatrix m = {way.y, way.x, -way.x, way.y, foot.x, foot.y}; /* y along the way */
  g_autoptr(HfOutline) bar = hf_outline_new();
  hf_outline_add_rectangle(bar, (HfBox){{-width / 2, -width / 2}, {width / 2, gap + width / 2}}, 0);
  HfOutline *placed = hf_outline_new();
  hf_outline_append(placed, bar, m);
  char *label = g_strdup_printf("tie between %s and %s", over->label, under->label);
  g_ptr_array_add(shapes, hf_shape_new(placed, label, over->entry, -1, FALSE));
}

static void
find_all(GArray *crossings, const GPtrArray *shapes, HfRegion *const *letters, double gap)
{
  guint n = shapes->len;
  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++)
      find_crossings(crossings, letters, a, b);
  g_array_sort(crossings, by_x);
  for (guint i = 0; i < crossings->len; i++) {
    Crossing *c = &g_array_index(crossings, Crossing, i);
    if (i % 2 == 1) {
      guint over = c->over;
      c->over = c->under;
      c->under = over;
    }
    find_sides(c, shapes, letters, gap);
  }
}

/* ---- would it read? -------------------------------------------------------------------------- */

/* Two strokes that cross share a patch that is not much longer than a stroke is wide; in one that
 * is, they run along each other and can't be told apart. Ours, looked at on 40 pairs. */
static const double LONGEST_PATCH = 5.8; /* mean strokes */
/* A piece of a letter that is smaller than this square says nothing of it. Ours. */
static const double CRUMB = 1.5; /* mean strokes */

static double
mean_stroke(const HfRegion *letter)
{
  double round = hf_region_perimeter(letter);
  return round > 0 ? 2 * hf_region_area(letter) / round : 0;
}

static double
extent(const HfRegion *region)
{
  HfBox box = hf_region_box(region);
  return hypot(hf_box_width(box), hf_box_height(box));
}

static const char *
called(const GPtrArray *shapes, guint letter)
{
  return ((const HfShape *)g_ptr_array_index(shapes, letter))->label;
}

static char *
why_crossings_fail(const GPtrArray *shapes, HfRegion *const *letters, const GArray *crossings)
{
  if (crossings->len == 0)
    return g_strdup("the letters don't cross");
  for (guint i = 0; i < crossings->len; i++) {
    const Crossing *c = &g_array_index(crossings, Crossing, i);
    double stroke = MAX(mean_stroke(letters[c->over]), mean_stroke(letters[c->under]));
    g_autofree char *along = hf_text_mm(extent(c->overlap));
    if (extent(c->overlap) > LONGEST_PATCH * stroke)
      return g_strdup_printf("strokes of %s and %s lie on each other for %s",
                             called(shapes, c->over), called(shapes, c->under), along);
  }
  return NULL;
}

static char *
why_pieces_fail(const GPtrArray *shapes, HfRegion *const *letters, const GArray *pieces, double tie)
{
  for (guint i = 0; i < pieces->len; i++) {
    const Piece *piece = &g_array_index(pieces, Piece, i);
    double stroke = MAX(mean_stroke(letters[piece->letter]), tie / CRUMB);
    HfBox box = hf_region_box(piece->region);
    g_autofree char *wide = hf_text_mm(hf_box_width(box));
    g_autofree char *high = hf_text_mm(hf_box_height(box));
    if (hf_region_area(piece->region) < CRUMB * CRUMB * stroke * stroke)
      return g_strdup_printf("a crumb of %s, %s wide and %s high, would be left",
                             called(shapes, piece->letter), wide, high);
  }
  return NULL;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void
add_all(GPtrArray *shapes, HfRegion *const *letters, const GArray *crossings, const GArray *pieces,
        double gap, double tie)
{
  for (int what = 0; what < 3; what++) /* openings, then covers, then ties */
    for (guint i = 0; i < crossings->len; i++) {
      const Crossing *c = &g_array_index(crossings, Crossing, i);
      for (guint k = 0; k < c->sides->len; k++) {
        const HfRegion *side = (const HfRegion *)g_ptr_array_index(c->sides, k);
        if (what == 0)
          add_opening(shapes, c, side);
        else if (what == 1)
          add_cover(shapes, c, side, letters[c->over]);
        else if (holds_more(pieces, piece_at(pieces, c->over, c->overlap),
                            piece_at(pieces, c->under, side)))
          add_tie(shapes, c, side, letters[c->over], gap, tie);
      }
    }
}

char *
hf_interlace(GPtrArray *shapes, double gap, double tie)
{
  guint n = shapes->len;
  g_autofree HfRegion **letters = g_new0(HfRegion *, n);
  g_autoptr(GArray) crossings = g_array_new(FALSE, TRUE, sizeof(Crossing));
  g_autoptr(GArray) pieces = g_array_new(FALSE, TRUE, sizeof(Piece));
  g_array_set_clear_func(crossings, crossing_clear);
  g_array_set_clear_func(pieces, piece_clear);
  for (guint i = 0; i < n; i++)
    letters[i] =
        hf_region_of_outline(((const HfShape *)g_ptr_array_index(shapes, i))->outline, 0, FINE_MM);
  find_all(crossings, shapes, letters, gap);
  for (guint i = 0; i < n; i++)
    add_pieces(pieces, crossings, letters, i);
  char *why = why_crossings_fail(shapes, letters, crossings);
  if (why == NULL)
    why = why_pieces_fail(shapes, letters, pieces, tie);
  if (why == NULL)
    add_all(shapes, letters, crossings, pieces, gap, tie);
  for (guint i = 0; i < n; i++)
    hf_region_free(letters[i]);
  return why;
}

/* ---- where they stand ------------------------------------------------------------------------ */

/* Overlaps are tried of these shares of the narrower letter, and these shares of the letter height
 * up or down. The best has the least overlap for its number of crossings; ours. */
static const double shares[] = {0.3, 0.38, 0.46, 0.54, 0.62};
static const double drops[] = {0.12, 0.2, 0.28, 0.36};

static HfRegion *
coarse_region(const HfLetter *letter, HfPoint at)
{
  const double scale = 100; /* ems of 100 mm: regions lie on a grid */
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_append(outline, letter->outline,
                    hf_matrix_then(hf_matrix_move(at.x, at.y), hf_matrix_scale(scale, scale)));
  return hf_region_of_outline(outline, 0, 0.2);
}

static double
badness(const HfRegion *a, const HfLetter *b, HfPoint at)
{
  g_autoptr(HfRegion) moved = coarse_region(b, at);
  g_autoptr(HfRegion) both = hf_region_intersect(a, moved);
  g_autoptr(GPtrArray) parts = parts_of(both, 1);
  guint crossings = MIN(parts->len, 4);
  if (crossings == 0)
    return INFINITY;
  return hf_region_area(both) / crossings * (crossings < 2 ? 3 : 1);
}

typedef struct {
  HfPoint at;
  double bad;
} Step;

static gint
by_badness(gconstpointer a, gconstpointer b)
{
  const Step *p = (const Step *)a, *q = (const Step *)b;
  return p->bad < q->bad ? -1 : p->bad > q->bad;
}

GArray *
hf_interlace_steps(const HfLetter *a, const HfLetter *b, double cap, gboolean down)
{
  g_autoptr(HfRegion) first = coarse_region(a, hf_point(0, 0));
  g_autoptr(GArray) steps = g_array_new(FALSE, FALSE, sizeof(Step));
  GArray *points = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  double narrower = MIN(hf_box_width(a->ink), hf_box_width(b->ink));
  for (guint i = 0; i < G_N_ELEMENTS(shares); i++)
    for (guint k = 0; k < G_N_ELEMENTS(drops); k++) {
      Step step = {
          {a->ink.max.x - shares[i] * narrower - b->ink.min.x, (down ? -1 : 1) * drops[k] * cap},
          0};
      step.bad = badness(first, b, step.at);
      g_array_append_val(steps, step);
    }
  g_array_sort(steps, by_badness);
  for (guint i = 0; i < steps->len; i++)
    g_array_append_val(points, g_array_index(steps, Step, i).at);
  return points;
}
