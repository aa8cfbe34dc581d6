/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-melted.c - letters that run into their neighbours so far that they read as others.
 *
 *       __ .__            A bay is what lies between a letter and its convex hull: the mouth of a
 *      /  ||  \           c, the two of an E. The part of it that is still open to the outside is
 *     |   ||   |          held against the part that is open where the face itself puts the
 *      \__.|__/           neighbours. A script face that joins its letters loses nothing by it; a
 *       c    o            c that is pressed into its neighbour until its mouth is shut reads o.
 *
 * A bay that is wide and shallow, as beside an L, is never shut off by a letter that reaches into
 * it, it only gets fuller; there the part that is not covered is held against the same.
 *
 * Accuracy: a lattice of some 200 places in each bay. A mouth that the face itself leaves narrower
 * than half a stroke counts as shut there. Cost: a few booleans and an offset for each letter whose
 * neighbours do not stand where the face puts them, or that is bolder or mended. No source.
 */
#include "base/text.h"
#include "geom/hull.h"
#include "hold/ink-private.h"

#define COARSE_MM   0.05
#define DEEP        0.35 /* of the square of its mouth: a bay that can be shut */
#define LEAST       1.0  /* strokes squared: a smaller bay makes no letter */
#define LEAST_WIDE  4.0  /* the same for a wide one */
#define NARROW      0.25 /* strokes on either side: a mouth so narrow is no mouth */
#define OPEN_AT_ALL 0.2  /* of a bay: less of it is open where the face puts the neighbours */
#define PLACES      200
#define ON_HULL     0.02 /* mm */
#define EDGE_WORK   4    /* units of work for each edge of a letter and its neighbours */

typedef struct {
  HfCheck *check;
  guint shape;
  double stroke;
  HfRegion *own;    /* as drawn */
  HfRegion *now;    /* with its neighbours, as laid */
  HfRegion *native; /* with its neighbours where the face puts them */
  HfRegion *narrow; /* that, grown until narrow mouths are shut */
} Melted;

/* ---- neighbours -------------------------------------------------------------------------------
 */

static const HfOutline *
drawn_of(const HfShape *shape)
{
  return shape->drawn != NULL ? shape->drawn : shape->outline;
}

/* From where @other stands to where the face would put it beside @own. */
HfMatrix
hf_reads_to_native(const HfShape *own, const HfShape *other)
{
  HfPoint o = hf_matrix_undo(other->em, hf_point(0, 0));
  HfPoint x = hf_matrix_undo(other->em, hf_point(1, 0));
  HfPoint y = hf_matrix_undo(other->em, hf_point(0, 1));
  HfMatrix undo = {x.x - o.x, y.x - o.x, x.y - o.y, y.y - o.y, o.x, o.y};
  HfMatrix beside = hf_matrix_move(other->pen - own->pen, 0);
  return hf_matrix_then(hf_matrix_then(undo, beside), own->em);
}

/* The letters about @shape, and it too; as laid, or where the face puts them. (transfer full) */
static HfRegion *
with_neighbours(const HfCheck *check, guint shape, gboolean native, gboolean itself)
{
  const HfLayout *layout = check->layout;
  const HfShape *own = hf_layout_shape(layout, shape);
  HfBox box = hf_box_grow(hf_outline_box(drawn_of(own)), own->letter_height);
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(layout, s);
    guint of = other->mends > 0 ? other->mends - 1 : s;
    const HfShape *letter = hf_layout_shape(layout, of);
    gboolean is_own = of == shape;
    if ((is_own ? !itself : !hf_reads_are_neighbours(check, own, letter)) ||
        (other->mends > 0 && (native || other->opening != own->opening)))
      continue;
    g_autoptr(HfOutline) placed = hf_outline_new();
    HfMatrix to = native && !is_own ? hf_reads_to_native(own, other) : HF_MATRIX_IDENTITY;
    hf_outline_append(placed, native ? drawn_of(other) : other->outline, to);
    if (!hf_box_overlaps(hf_outline_box(placed), box))
      continue;
    g_autoptr(HfRegion) one = hf_region_of_outline(placed, s, COARSE_MM);
    for (guint r = 0; r < one->rings->len; r++)
      hf_region_add_ring(rings, hf_region_ring(one, r)->at, NULL, hf_region_ring(one, r)->n);
  }
  return hf_region_clean(rings);
}

HfRegion *
hf_reads_native(const HfCheck *check, guint shape)
{
  const HfShape *own = hf_layout_shape(check->layout, shape);
  return hf_reads_is_of_words(check, own) ? with_neighbours(check, shape, TRUE, FALSE) : NULL;
}

/* ---- bays -------------------------------------------------------------------------------------
 */

/* mm of the edge of a bay that is the hull's. */
static double
mouth_of(const HfRing *bay, const HfRing *hull)
{
  double mouth = 0;
  for (guint v = 0; v < bay->n; v++) {
    HfPoint a = hf_grid_point(bay->at[v]), b = hf_grid_point(bay->at[(v + 1) % bay->n]);
    HfPoint middle = hf_point_mix(a, b, 0.5);
    for (guint h = 0; h < hull->n; h++) {
      HfPoint p = hf_grid_point(hull->at[h]), q = hf_grid_point(hull->at[(h + 1) % hull->n]);
      if (hf_point_distance(hf_segment_nearest(p, q, middle, NULL), middle) > ON_HULL)
        continue;
      mouth += hf_point_distance(a, b);
      break;
    }
  }
  return mouth;
}

typedef enum { COVERED, SHUT_IN, OPEN } Place;

static Place
place_in(const HfRegion *ink, HfPoint p)
{
  if (hf_region_contains(ink, p))
    return COVERED;
  for (guint r = 0; r < ink->rings->len; r++)
    if (hf_region_ring(ink, r)->parent < 0 && hf_ring_holds(hf_region_ring(ink, r), p))
      return SHUT_IN;
  return OPEN;
}

/* Places within a bay, evenly. (transfer full) (element-type HfPoint) */
static GArray *
places_in(const HfRegion *bay)
{
  GArray *places = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  HfBox box = hf_region_box(bay);
  double step = sqrt(hf_region_area(bay) / PLACES);
  for (double y = box.min.y + step / 2; y < box.max.y; y += step)
    for (double x = box.min.x + step / 2; x < box.max.x; x += step)
      if (hf_region_contains(bay, hf_point(x, y)))
        g_array_append_vals(places, &(HfPoint){x, y}, 1);
  return places;
}

static guint
count_places(const HfRegion *ink, const GArray *places, gboolean deep)
{
  guint n = 0;
  for (guint i = 0; i < places->len; i++) {
    Place place = place_in(ink, g_array_index(places, HfPoint, i));
    n += deep ? place == OPEN : place != COVERED;
  }
  return n;
}

/* % of the bay that is open, of what is where the face puts the neighbours; 100: it makes no
 * letter. */
static double
share_open(Melted *own, const HfRegion *bay, const HfRing *hull)
{
  double area = hf_region_area(bay), mouth = mouth_of(hf_region_ring(bay, 0), hull);
  gboolean deep = area >= DEEP * mouth * mouth;
  if (area < (deep ? LEAST : LEAST_WIDE) * own->stroke * own->stroke)
    return 100;
  if (deep && own->narrow == NULL)
    own->narrow = hf_region_offset(own->native, NARROW * own->stroke, COARSE_MM);
  g_autoptr(GArray) places = places_in(bay);
  guint native = count_places(deep ? own->narrow : own->native, places, deep);
  if (native == 0 || native < OPEN_AT_ALL * places->len)
    return 100;
  double share = 100.0 * count_places(own->now, places, deep) / native;
  return fmin(share, 100);
}

/* ---- the letter -------------------------------------------------------------------------------
 */

/* What a letter reads like when its mouth is shut; common knowledge of readers, no source. */
static const struct {
  const char *drawn, *reads;
} shut[] = {{"c", "o"}, {"C", "O"}, {"E", "B"}, {"F", "P"}, {"S", "8"}, {"s", "8"}, {"3", "8"},
            {"G", "O"}, {"с", "о"}, {"С", "О"}, {"З", "8"}, {"Ε", "Β"}, {"Е", "В"}};

static const char *
reads_shut(const char *letter)
{
  for (guint i = 0; i < G_N_ELEMENTS(shut); i++)
    if (g_str_equal(shut[i].drawn, letter))
      return shut[i].reads;
  return NULL;
}

/* The neighbour whose middle is the nearest. */
static guint
nearest_neighbour(const Melted *own, HfPoint at)
{
  const HfLayout *layout = own->check->layout;
  guint nearest = HF_NO_SHAPE;
  double least = INFINITY;
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(layout, s);
    if (!hf_reads_are_neighbours(own->check, hf_layout_shape(layout, own->shape), other))
      continue;
    double away = hf_point_distance(hf_box_centre(hf_outline_box(other->outline)), at);
    if (away < least) {
      least = away;
      nearest = s;
    }
  }
  return nearest;
}

static void
report(Melted *own, double share, HfPoint at)
{
  HfCheck *check = own->check;
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, share, at);
  if (finding == NULL)
    return;
  guint by = nearest_neighbour(own, at);
  g_autofree char *letter = hf_reads_letter(hf_layout_shape(check->layout, own->shape));
  g_autofree char *left = hf_text_number(share, 0), *limit = hf_text_number(finding->limit, 0);
  const char *reads = reads_shut(letter);
  hf_finding_name(check, finding, own->shape);
  if (by != HF_NO_SHAPE)
    hf_finding_name(check, finding, by);
  hf_finding_form(finding, "mouth");
  if (finding->gravity != HF_STOP)
    hf_finding_say(finding,
                   "an open side of it is half closed: only %s %% is left, should be %s %%", left,
                   limit);
  else if (reads != NULL)
    hf_finding_say(finding, "it may read %s where %s was ordered: an open side of it is closed",
                   reads, letter);
  else
    hf_finding_say(finding, "an open side of it is closed: %s %% is left, needs %s %%", left,
                   limit);
  hf_finding_fix(finding, "let the letters stand farther apart, or take a face that joins its own");
}

static void
look_at_bays(Melted *own, const HfRing *piece)
{
  double worst = 100;
  HfPoint at = {0, 0};
  g_autoptr(HfRegion) hull = hf_hull_of(piece->at, piece->n);
  if (hf_region_is_empty(hull))
    return;
  g_autoptr(HfRegion) bays = hf_region_subtract(hull, own->own);
  for (guint r = 0; r < bays->rings->len; r++) {
    if (hf_region_ring(bays, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) bay = hf_region_part(bays, r);
    double share = share_open(own, bay, hf_region_ring(hull, 0));
    if (share >= worst)
      continue;
    worst = share;
    at = hf_region_centroid(bay);
  }
  report(own, worst, at);
}

static void
check_letter(HfCheck *check, guint shape)
{
  g_autoptr(HfInk) ink = hf_ink_new(check, shape);
  if (ink == NULL)
    return;
  g_autoptr(HfRegion) now = with_neighbours(check, shape, FALSE, TRUE);
  g_autoptr(HfRegion) native = with_neighbours(check, shape, TRUE, TRUE);
  hf_cancel_count(check->cancel, EDGE_WORK * hf_region_n_edges(now));
  Melted own = {.check = check,
                .shape = shape,
                .stroke = ink->rings[ink->body].width,
                .own = ink->drawn,
                .now = now,
                .native = native};
  look_at_bays(&own, hf_region_ring(ink->drawn, ink->body));
  hf_region_free(own.narrow);
}

gboolean
hf_reads_check_melted(HfCheck *check, GError **error)
{
  g_autoptr(GArray) touched = hf_reads_touched(check);
  for (guint i = 0; i < touched->len; i++) {
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    check_letter(check, g_array_index(touched, guint, i));
  }
  return TRUE;
}
