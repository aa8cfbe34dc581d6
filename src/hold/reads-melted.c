/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-melted.c - letters that run into their neighbours so far that they read as others.
 *
 *       __ .__            A bay is what lies between a letter and its convex hull: the mouth of a
 *      /  ||  \           c, the two of an E. The part of it that is still open to the outside is
 *     |   ||   |          held against the part that is open where the face itself puts the
 *      \__.|__/           neighbours. A script face that joins its letters loses nothing by it; a
 *       c    o            c that is pressed into its neighbour until its mouth is shut reads o.
 *
 * A bay that is wide and shallow, as beside an L, only gets fuller by a letter that reaches into
 * it; there the part that is not covered is held against the same. Where a neighbour shuts such a
 * bay off (all arms of an E touch the next stem) and the letter is another one then, it is a
 * caution.
 *
 * Accuracy: a lattice of some 200 places in each bay. A mouth that the face itself leaves narrower
 * than half a stroke counts as shut there. Cost: a few booleans and an offset for each letter whose
 * neighbours do not stand where the face puts them, or that is bolder or mended. No source.
 */
#include "base/text.h"
#include "geom/hull.h"
#include "geom/row.h"
#include "hold/ink-private.h"

#define COARSE_MM   0.05
#define DEEP        0.35 /* of the square of its mouth: a bay that can be shut */
#define LEAST       1.0  /* strokes squared: a smaller bay makes no letter */
#define LEAST_WIDE  4.0  /* the same for a wide one */
#define NARROW      0.25 /* strokes on either side: a mouth so narrow is no mouth */
#define WALLED_UP   45.0 /* %: of a wide bay that a neighbour shuts, which can be made out */
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
  HfRegion *native; /* (nullable) with its neighbours where the face puts them */
  HfRegion *narrow; /* (nullable) that, grown until narrow mouths are shut */
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

/* As far as a neighbour matters. */
static HfBox
reach_of(const HfShape *own)
{
  return hf_box_grow(hf_outline_box(drawn_of(own)), own->letter_height);
}

/* The letters about @shape where the face puts them, and it (@itself) too. (transfer full) */
static HfRegion *
as_native(const HfCheck *check, guint shape, gboolean itself)
{
  const HfShape *own = hf_layout_shape(check->layout, shape);
  HfBox box = reach_of(own);
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(check->layout, s);
    if (other->mends > 0 || (s == shape ? !itself : !hf_reads_are_neighbours(check, own, other)))
      continue;
    g_autoptr(HfOutline) placed = hf_outline_new();
    HfMatrix to = s == shape ? HF_MATRIX_IDENTITY : hf_reads_to_native(own, other);
    hf_outline_append(placed, drawn_of(other), to);
    if (!hf_box_overlaps(hf_outline_box(placed), box))
      continue;
    g_autoptr(HfRegion) one = hf_region_of_outline(placed, s, COARSE_MM);
    hf_region_add_rings(rings, one);
  }
  return hf_region_clean(rings);
}

/* (transfer none) shape @s as it is laid: each is asked for by all its neighbours, so it is kept.
 */
static const HfRegion *
laid_of(GPtrArray *laid, const HfShape *shape, guint s)
{
  if (laid->pdata[s] == NULL)
    laid->pdata[s] = hf_region_of_outline(shape->outline, s, COARSE_MM);
  return laid->pdata[s];
}

/* @shape and the letters about it as they are laid, with what mends them. (transfer full) */
static HfRegion *
as_laid(const HfCheck *check, guint shape, GPtrArray *laid)
{
  const HfShape *own = hf_layout_shape(check->layout, shape);
  HfBox box = reach_of(own);
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(check->layout, s);
    guint of = other->mends > 0 ? other->mends - 1 : s;
    const HfShape *letter = hf_layout_shape(check->layout, of);
    if ((of != shape && !hf_reads_are_neighbours(check, own, letter)) ||
        (other->mends > 0 && other->opening != own->opening))
      continue;
    if (hf_box_overlaps(hf_outline_box(other->outline), box))
      hf_region_add_rings(rings, laid_of(laid, other, s));
  }
  return hf_region_clean(rings);
}

HfRegion *
hf_reads_native(const HfCheck *check, guint shape)
{
  const HfShape *own = hf_layout_shape(check->layout, shape);
  return hf_reads_is_of_words(check, own) ? as_native(check, shape, FALSE) : NULL;
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

/* How many of @places are open: to the outside (@deep), or at least not covered. */
static guint
count_places(const HfRegion *ink, const GArray *places, gboolean deep)
{
  g_autoptr(GArray) row = NULL;
  double y = NAN;
  guint n = 0;
  for (guint i = 0; i < places->len; i++) {
    HfPoint p = g_array_index(places, HfPoint, i);
    if (p.y != y) {
      g_clear_pointer(&row, g_array_unref);
      row = hf_row_of(ink, y = p.y);
    }
    HfWhere where = hf_row_where(row, p.x);
    n += deep ? where == HF_IN_OPEN : where != HF_IN_METAL;
  }
  return n;
}

/* Its neighbours are put where the face does, and grown, only for a letter that needs it: few do.
 */
static const HfRegion *
native_of(Melted *own)
{
  if (own->native == NULL)
    own->native = as_native(own->check, own->shape, TRUE);
  return own->native;
}

static const HfRegion *
narrow_of(Melted *own)
{
  if (own->narrow == NULL)
    own->narrow = hf_region_offset(native_of(own), NARROW * own->stroke, COARSE_MM);
  return own->narrow;
}

/* Is @now within the limit even where @native places, or more than there are, would be open? */
static gboolean
is_plenty(const Melted *own, guint now, guint native)
{
  double least = fmin(100.0 * now / native, 100);
  return native == 0 || hf_check_gravity(own->check, HF_LAW_CHANGED_LETTER, least) < 0;
}

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

/* A wide bay of a letter that is another one without it, as of an E beside a stem that all its arms
 * touch: nothing of it is covered, and no way leads out. Where letters shall join it is meant. */
static gboolean
is_walled_up(Melted *own, const GArray *places)
{
  const HfShape *shape = hf_layout_shape(own->check->layout, own->shape);
  const HfEntry *entry = hf_recipe_at(own->check->recipe, shape->entry);
  g_autofree char *letter = hf_reads_letter(shape);
  return entry->words.spacing_rule == HF_SPACING_AS_GIVEN && reads_shut(letter) != NULL &&
         count_places(own->now, places, TRUE) == 0 &&
         count_places(narrow_of(own), places, TRUE) >= OPEN_AT_ALL * places->len;
}

/* % of the bay that is open, of what is where the face puts the neighbours; 100: it makes no
 * letter, or is open enough. Growing the native letters shuts places and opens none. */
static double
share_open(Melted *own, const HfRegion *bay, const HfRing *hull)
{
  double area = hf_region_area(bay), mouth = mouth_of(hf_region_ring(bay, 0), hull);
  gboolean deep = area >= DEEP * mouth * mouth;
  if (area < (deep ? LEAST : LEAST_WIDE) * own->stroke * own->stroke)
    return 100;
  g_autoptr(GArray) places = hf_row_places(bay, PLACES);
  guint now = count_places(own->now, places, deep);
  double most = !deep && is_walled_up(own, places) ? WALLED_UP : 100;
  if (is_plenty(own, now, places->len))
    return most;
  guint native = count_places(native_of(own), places, deep);
  if (is_plenty(own, now, native))
    return most;
  if (deep)
    native = count_places(narrow_of(own), places, deep);
  if (native == 0 || native < OPEN_AT_ALL * places->len)
    return 100;
  return fmin(100.0 * now / native, most);
}

/* ---- the letter -------------------------------------------------------------------------------
 */

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
  if (finding->gravity != HF_STOP && reads != NULL && share == WALLED_UP)
    hf_finding_say(finding, "it may read %s where %s was ordered: its neighbour shuts it off",
                   reads, letter);
  else if (finding->gravity != HF_STOP)
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
check_letter(HfCheck *check, guint shape, GPtrArray *laid)
{
  g_autoptr(HfInk) ink = hf_ink_new(check, shape);
  if (ink == NULL)
    return;
  g_autoptr(HfRegion) now = as_laid(check, shape, laid);
  hf_cancel_count(check->cancel, EDGE_WORK * hf_region_n_edges(now));
  Melted own = {.check = check,
                .shape = shape,
                .stroke = ink->rings[ink->body].width,
                .own = ink->drawn,
                .now = now};
  look_at_bays(&own, hf_region_ring(ink->drawn, ink->body));
  hf_region_free(own.native);
  hf_region_free(own.narrow);
}

gboolean
hf_reads_check_melted(HfCheck *check, GError **error)
{
  g_autoptr(GArray) touched = hf_reads_touched(check);
  g_autoptr(GPtrArray) laid = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  g_ptr_array_set_size(laid, (gint)check->layout->shapes->len);
  for (guint i = 0; i < touched->len; i++) {
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    check_letter(check, g_array_index(touched, guint, i), laid);
  }
  return TRUE;
}
