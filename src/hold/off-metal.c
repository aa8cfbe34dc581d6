/* SPDX-License-Identifier: GPL-3.0-or-later
 * off-metal.c - cut-through letters that run off the metal that they are cut from.
 *
 *      +------------+         The E is open at the plate's edge: all that is left is held, and
 * still |  LAN       E=        nobody reads it. What lies off is the share of the letter's outline
 *      +------------+         with neither metal nor another letter outside of it.
 *
 * Letters that are joined open into each other, and a tie lies across them: both are as meant. A
 * window or a pattern that a letter opens into is not. What a rule or a tie adds beyond the plate
 * does not bring a letter back onto it: where one lies it is asked what was there without them.
 */
#include "hold/checks-private.h"

#define COARSE_MM 0.1   /* lengths are compared, not drawn */
#define BESIDE_MM 0.2   /* so far outside the outline it is asked what is there */
#define PIECE_MM  2.0   /* chords are asked in pieces of at most so much */
#define LEAST     0.1   /* %: said of a letter that is open, however little */
#define ALL       0.998 /* a letter of which so much is edge of the metal is not asked further */

typedef struct {
  HfCheck *check;
  GPtrArray *letters; /* HfRegion *, by shape; NULL: neither cut-through letter nor mended place */
  GArray *boxes;      /* HfBox, by shape */
  GArray *rings;      /* HfBox, by ring of the metal */
  GPtrArray *others;  /* HfRegion *, by shape, of all others; NULL: not asked for yet */
  GArray *rules;      /* guint: shapes that a rule or a tie added */
  GArray *ids;        /* HfEdgeId: of the last query */
  GArray *near;       /* guint: shapes whose boxes reach the letter that is asked about, */
  GArray *near_rules; /* those of them that a rule added, */
  GArray *near_rings; /* and rings of the metal */
} Beside;

static HfRegion *
letter_region(const HfShape *shape, guint s)
{
  return hf_region_of_outline(shape->outline, s, COARSE_MM);
}

static void
region_free(gpointer region)
{
  hf_region_free(region);
}

static gboolean
is_rules(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
  return shape->mends > 0 || entry->kind == HF_ENTRY_TIES || entry->kind == HF_ENTRY_MEND ||
         entry->kind == HF_ENTRY_TIE;
}

static Beside
beside_new(HfCheck *check)
{
  Beside beside = {.check = check,
                   .letters = g_ptr_array_new_with_free_func(region_free),
                   .boxes = g_array_new(FALSE, FALSE, sizeof(HfBox)),
                   .rings = g_array_new(FALSE, FALSE, sizeof(HfBox)),
                   .others = g_ptr_array_new_with_free_func(region_free),
                   .rules = g_array_new(FALSE, FALSE, sizeof(guint)),
                   .ids = g_array_new(FALSE, FALSE, sizeof(HfEdgeId)),
                   .near = g_array_new(FALSE, FALSE, sizeof(guint)),
                   .near_rules = g_array_new(FALSE, FALSE, sizeof(guint)),
                   .near_rings = g_array_new(FALSE, FALSE, sizeof(guint))};
  g_ptr_array_set_size(beside.others, (gint)check->layout->shapes->len);
  for (guint r = 0; r < check->metal->region->rings->len; r++) {
    HfBox box = hf_ring_box(hf_region_ring(check->metal->region, r));
    g_array_append_val(beside.rings, box);
  }
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    gboolean rules = is_rules(check, shape);
    gboolean wanted = shape->opening && (shape->letter >= 0 || shape->mends > 0);
    if (rules && !shape->opening)
      g_array_append_val(beside.rules, s);
    HfBox box = hf_outline_box(shape->outline);
    g_ptr_array_add(beside.letters, wanted ? letter_region(shape, s) : NULL);
    g_array_append_val(beside.boxes, box);
  }
  return beside;
}

static void
beside_clear(Beside *beside)
{
  g_ptr_array_unref(beside->letters);
  g_array_unref(beside->boxes);
  g_array_unref(beside->rings);
  g_ptr_array_unref(beside->others);
  g_array_unref(beside->rules);
  g_array_unref(beside->ids);
  g_array_unref(beside->near);
  g_array_unref(beside->near_rules);
  g_array_unref(beside->near_rings);
}

/* Numbers of @boxes that reach @box, in order. */
static void
take_near(const GArray *boxes, HfBox box, GArray *near)
{
  g_array_set_size(near, 0);
  for (guint i = 0; i < boxes->len; i++)
    if (hf_box_overlaps(box, g_array_index(boxes, HfBox, i)))
      g_array_append_val(near, i);
}

/* Of all that there is, what a place beside letter @s can lie in. */
static void
look_about(const Beside *beside, guint s)
{
  HfBox box = hf_box_grow(g_array_index(beside->boxes, HfBox, s), 4 * BESIDE_MM);
  take_near(beside->boxes, box, beside->near);
  take_near(beside->rings, box, beside->near_rings);
  g_array_set_size(beside->near_rules, 0);
  for (guint i = 0; i < beside->rules->len; i++) {
    guint rule = g_array_index(beside->rules, guint, i);
    if (hf_box_overlaps(box, g_array_index(beside->boxes, HfBox, rule)))
      g_array_append_val(beside->near_rules, rule);
  }
}

/* Is this stretch of the letter an edge of the metal? Spares asking what lies beside most of it. */
static gboolean
is_edge(const Beside *beside, guint s, HfPoint p)
{
  const HfRegion *metal = beside->check->metal->region;
  HfBox box = hf_box_grow(hf_box_add_point(HF_BOX_EMPTY, p), COARSE_MM);
  hf_index_query(beside->check->index, box, beside->ids);
  for (guint i = 0; i < beside->ids->len; i++) {
    HfEdgeId id = g_array_index(beside->ids, HfEdgeId, i);
    HfPoint on = hf_segment_nearest(hf_edge_start(metal, id), hf_edge_end(metal, id), p, NULL);
    if (hf_point_distance(on, p) <= COARSE_MM && hf_check_shape_at(beside->check, id) == s)
      return TRUE;
  }
  return FALSE;
}

/* Its own too: beside a sharp inner corner one is in the letter again. */
static gboolean
in_a_letter(const Beside *beside, HfPoint p)
{
  for (guint i = 0; i < beside->near->len; i++) {
    guint s = g_array_index(beside->near, guint, i);
    if (beside->letters->pdata[s] != NULL &&
        hf_box_contains(g_array_index(beside->boxes, HfBox, s), p) &&
        hf_region_contains(beside->letters->pdata[s], p))
      return TRUE;
  }
  return FALSE;
}

/* Rings lie within each other and never cross: within an odd number of them is metal. */
static gboolean
in_any_metal(const Beside *beside, HfPoint p)
{
  gboolean inside = FALSE;
  for (guint i = 0; i < beside->near_rings->len; i++) {
    guint r = g_array_index(beside->near_rings, guint, i);
    if (hf_box_contains(g_array_index(beside->rings, HfBox, r), p) &&
        hf_ring_holds(hf_region_ring(beside->check->metal->region, r), p))
      inside = !inside;
  }
  return inside;
}

static gboolean
in_shape(const Beside *beside, guint s, HfPoint p)
{
  if (!hf_box_contains(g_array_index(beside->boxes, HfBox, s), p))
    return FALSE;
  if (beside->letters->pdata[s] != NULL)
    return hf_region_contains(beside->letters->pdata[s], p);
  if (beside->others->pdata[s] == NULL)
    beside->others->pdata[s] = letter_region(hf_layout_shape(beside->check->layout, s), s);
  return hf_region_contains(beside->others->pdata[s], p);
}

static gboolean
in_rules(const Beside *beside, HfPoint p)
{
  for (guint i = 0; i < beside->near_rules->len; i++)
    if (in_shape(beside, g_array_index(beside->near_rules, guint, i), p))
      return TRUE;
  return FALSE;
}

/* The last shape there decides, as they add and remove in order. */
static gboolean
in_metal_without_rules(const Beside *beside, HfPoint p)
{
  for (guint i = beside->near->len; i-- > 0;) {
    guint s = g_array_index(beside->near, guint, i);
    const HfShape *shape = hf_layout_shape(beside->check->layout, s);
    if (!is_rules(beside->check, shape) && in_shape(beside, s, p))
      return !shape->opening;
  }
  return FALSE;
}

static gboolean
in_metal(const Beside *beside, HfPoint p)
{
  return in_rules(beside, p) ? in_metal_without_rules(beside, p) : in_any_metal(beside, p);
}

/* Asked near and a little farther off: where outlines of joined letters all but coincide, the
 * chords may leave a hair between them. The letter lies to the left of its edges. */
static gboolean
lies_off(const Beside *beside, guint s, HfPoint a, HfPoint b, gboolean ruled)
{
  HfPoint middle = hf_point_mix(a, b, 0.5), along = hf_point_sub(b, a);
  if (!ruled && is_edge(beside, s, middle))
    return FALSE;
  HfPoint outward = hf_point_scale(hf_point(along.y, -along.x), 1 / hf_point_length(along));
  for (int i = 1; i <= 3; i += 2) {
    HfPoint p = hf_point_add(middle, hf_point_scale(outward, i * BESIDE_MM));
    if (in_a_letter(beside, p) || in_metal(beside, p))
      return FALSE;
  }
  return TRUE;
}

/* mm of the edge @from-@to of letter @s; @ret_at: the first place of it, if there is any. */
static double
edge_off(const Beside *beside, guint s, HfPoint from, HfPoint to, gboolean ruled, HfPoint *ret_at)
{
  double off = 0;
  guint pieces = (guint)ceil(hf_point_distance(from, to) / PIECE_MM);
  for (guint i = 0; i < pieces; i++) {
    HfPoint a = hf_point_mix(from, to, (double)i / pieces);
    HfPoint b = hf_point_mix(from, to, (i + 1.0) / pieces);
    if (!lies_off(beside, s, a, b, ruled))
      continue;
    if (off == 0)
      *ret_at = hf_point_mix(a, b, 0.5);
    off += hf_point_distance(a, b);
  }
  return off;
}

/* % of the outline of letter @s. */
static double
share_off(const Beside *beside, guint s, HfPoint *ret_at)
{
  const HfRegion *letter = beside->letters->pdata[s];
  double off = 0, whole = hf_region_perimeter(letter);
  look_about(beside, s);
  gboolean ruled = beside->near_rules->len > 0;
  if (whole == 0)
    return 0;
  if (!ruled && g_array_index(beside->check->hold->shown, double, s) > ALL * whole)
    return 0;
  for (guint r = 0; r < letter->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(letter, r)->n; v++) {
      HfPoint at;
      HfEdgeId id = {r, v};
      double here =
          edge_off(beside, s, hf_edge_start(letter, id), hf_edge_end(letter, id), ruled, &at);
      if (off == 0 && here > 0)
        *ret_at = at;
      off += here;
    }
  return 100 * off / whole;
}

/* An outer edge of the metal that both a letter and something else made: the letter is open there,
 * however little. What falls out of letters alone has an outer edge too. */
static void
find_open(const HfCheck *check, gboolean *open, HfPoint *at)
{
  const HfRegion *metal = check->metal->region;
  for (guint r = 0; r < metal->rings->len; r++) {
    const HfRing *ring = hf_region_ring(metal, r);
    gboolean others = FALSE;
    for (guint v = 0; v < ring->n && !others && ring->parent < 0; v++) {
      guint s = hf_check_shape_at(check, (HfEdgeId){r, v});
      others = s < check->layout->shapes->len && hf_layout_shape(check->layout, s)->letter < 0 &&
               !is_rules(check, hf_layout_shape(check->layout, s));
    }
    for (guint v = 0; v < ring->n && others; v++) {
      guint s = hf_check_shape_at(check, (HfEdgeId){r, v});
      if (s < check->layout->shapes->len && !open[s]) {
        open[s] = TRUE;
        at[s] = hf_grid_point(ring->at[v]);
      }
    }
  }
}

static gboolean
check_off_metal(HfCheck *check, GError **error)
{
  Beside beside = beside_new(check);
  gboolean going = TRUE;
  g_autofree gboolean *open = g_new0(gboolean, beside.letters->len + 1);
  g_autofree HfPoint *open_at = g_new0(HfPoint, beside.letters->len + 1);
  find_open(check, open, open_at);
  for (guint s = 0; going && s < beside.letters->len; s++) {
    if (beside.letters->pdata[s] == NULL || hf_layout_shape(check->layout, s)->letter < 0)
      continue;
    going = hf_cancel_check(check->cancel, error);
    HfPoint at = {0, 0};
    double share = going ? share_off(&beside, s, &at) : 0;
    if (share < LEAST && open[s]) {
      share = LEAST;
      at = open_at[s];
    }
    if (share >= 100 - check->hold->limits[HF_LAW_HIDDEN].stop)
      continue; /* nothing of it shows: that is said already */
    HfFinding *finding = share > 0 ? hf_check_add(check, HF_LAW_OFF_METAL, share, at) : NULL;
    if (finding == NULL)
      continue;
    hf_finding_name(check, finding, s);
    hf_room_say(check, finding, s);
  }
  beside_clear(&beside);
  return going;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_off_metal_law = {
    .key = "off-the-metal",
    .quantity = "share of the outline of a cut-through letter that lies off the metal, whatever "
                "rules add",
    .unit = "%",
    .gravity = HF_STOP,
    .stop = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "open at the metal's edge, it does not read",
    .what = "it runs off the metal: {measured} of its outline{worst} has no metal beside it",
    .fix = "make it smaller, or the plate larger",
    .cures = HF_CURES("middle", "arc", "fit", "plate", "smaller"),
    .check = check_off_metal,
    .after = &hf_hidden_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
