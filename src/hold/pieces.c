/* SPDX-License-Identifier: GPL-3.0-or-later
 * pieces.c - the pieces that the metal falls into once weak joints count as open: figures, makers,
 * how each is joined to the others.
 *
 *   region, cut ──> rings by their root ──> pieces, largest first ──> fragment? enclosed? joint?
 *
 * Invariant: every ring belongs to the piece of its root and to no other, so areas add up to that
 * of the region. Area and moment are sums of triangles about a vertex of the ring itself (Green's
 * theorem), so that they lose nothing far from the origin. A piece lies inside another when a point
 * a hundredth of a grid unit inside its edge does. Joints are found by the exact grid points of the
 * cuts' feet. Cost O(edges) and a ray for each piece. Limits: one piece has no joint (NAN); a piece
 * that only openings bound is named by them.
 */
#include "hold/parts-private.h"
#include "recipe/kind.h"

/* The middle of an edge, a hundredth of a grid unit to its left: in the metal beside it. */
static HfPoint
beside(const HfRing *ring, guint v)
{
  HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
  HfPoint along = hf_point_scale(hf_point_sub(b, a), 1e-6 / hf_point_distance(a, b));
  return hf_point_add(hf_point_mix(a, b, 0.5), hf_point(-along.y, along.x));
}

/* ---- figures --------------------------------------------------------------------------------- */

static void
add_figures(HfPiece *piece, const HfRing *ring, double *lengths)
{
  HfPoint o = hf_grid_point(ring->at[0]);
  double area = 0;
  HfPoint moment = {0, 0};
  for (guint v = 0; v < ring->n; v++) {
    HfPoint p = hf_grid_point(ring->at[v]), q = hf_grid_point(ring->at[(v + 1) % ring->n]);
    HfPoint a = hf_point_sub(p, o), b = hf_point_sub(q, o);
    double cross = hf_point_cross(a, b) / 2;
    area += cross;
    moment = hf_point_add(moment, hf_point_scale(hf_point_add(a, b), cross / 3));
    if (ring->from != NULL && ring->from[v].shape != HF_NO_SHAPE)
      lengths[ring->from[v].shape] += hf_point_distance(p, q);
    piece->box = ring->parent < 0 ? hf_box_add_point(piece->box, p) : piece->box;
  }
  piece->area += area;
  piece->moment = hf_point_add(piece->moment, hf_point_add(moment, hf_point_scale(o, area)));
}

static int
longest_first(gconstpointer p, gconstpointer q)
{
  const HfShare *a = p, *b = q;
  if (a->length != b->length)
    return a->length > b->length ? -1 : 1;
  return (a->shape > b->shape) - (a->shape < b->shape);
}

/* Those that put metal there; a piece that only openings bound was made by what they cut. */
static void
add_shares(const HfCheck *check, HfPiece *piece, const double *lengths)
{
  for (int openings = 0; openings < 2 && piece->shares->len == 0; openings++)
    for (guint s = 0; s < check->layout->shapes->len; s++) {
      HfShare share = {s, lengths[s]};
      if (lengths[s] > 0 && hf_layout_shape(check->layout, s)->opening == openings)
        g_array_append_val(piece->shares, share);
    }
  g_array_sort(piece->shares, longest_first);
}

static void
piece_clear(gpointer data)
{
  g_array_unref(((HfPiece *)data)->shares);
}

static int
largest_first(gconstpointer p, gconstpointer q)
{
  const HfPiece *a = p, *b = q;
  if (a->area != b->area)
    return a->area > b->area ? -1 : 1;
  if (a->box.min.x != b->box.min.x)
    return a->box.min.x < b->box.min.x ? -1 : 1;
  return (a->box.min.y > b->box.min.y) - (a->box.min.y < b->box.min.y);
}

static GArray *
measure(const HfCheck *check, const HfRegion *region)
{
  GArray *pieces = g_array_new(FALSE, TRUE, sizeof(HfPiece));
  g_array_set_clear_func(pieces, piece_clear);
  guint n_shapes = check->layout->shapes->len, n = region->rings->len;
  g_autofree double *lengths = g_new0(double, n_shapes + 1);
  g_autofree guint *first = g_new0(guint, n + 2); /* rings by outer ring */
  g_autofree guint *rings = g_new(guint, n + 1);
  for (guint r = 0; r < n; r++)
    first[hf_region_root(region, r) + 2]++;
  for (guint r = 2; r < n + 2; r++)
    first[r] += first[r - 1];
  for (guint r = 0; r < n; r++)
    rings[first[hf_region_root(region, r) + 1]++] = r;
  for (guint r = 0; r < n; r++) {
    if (hf_region_ring(region, r)->parent >= 0)
      continue;
    HfPiece piece = {.outer = r,
                     .box = HF_BOX_EMPTY,
                     .shares = g_array_new(FALSE, FALSE, sizeof(HfShare)),
                     .joint = NAN};
    for (guint i = first[r]; i < first[r + 1]; i++)
      add_figures(&piece, hf_region_ring(region, rings[i]), lengths);
    add_shares(check, &piece, lengths);
    for (guint s = 0; s < n_shapes; s++)
      lengths[s] = 0;
    g_array_append_val(pieces, piece);
  }
  g_array_sort(pieces, largest_first);
  return pieces;
}

/* ---- among each other ------------------------------------------------------------------------ */

gboolean
hf_check_only_holds(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  return !shape->opening && hf_entry_is(entry, HF_KINDS_LAST);
}

/* Pieces come largest first, so a shape that was seen before has a larger piece. What ties scraps
 * together makes no more of them. */
static void
find_fragments(const HfCheck *check, GArray *pieces)
{
  g_autofree gboolean *seen = g_new0(gboolean, check->layout->shapes->len + 1);
  for (guint i = 0; i < pieces->len; i++) {
    HfPiece *piece = &g_array_index(pieces, HfPiece, i);
    gboolean all = TRUE, any = FALSE;
    for (guint s = 0; s < piece->shares->len; s++) {
      guint shape = g_array_index(piece->shares, HfShare, s).shape;
      if (hf_check_only_holds(check, hf_layout_shape(check->layout, shape)))
        continue;
      all = all && seen[shape];
      any = TRUE;
    }
    piece->fragment = all && any;
    for (guint s = 0; s < piece->shares->len; s++)
      seen[g_array_index(piece->shares, HfShare, s).shape] = TRUE;
  }
}

/* The outer rings of the pieces, borrowed, in their order: ring i is piece i's. */
static HfRegion *
outlines_of(const HfRegion *region, const GArray *pieces)
{
  HfRegion *outlines = g_new(HfRegion, 1);
  outlines->rings = g_array_new(FALSE, FALSE, sizeof(HfRing)); /* borrowed: nothing to clear */
  for (guint i = 0; i < pieces->len; i++)
    g_array_append_vals(outlines->rings,
                        hf_region_ring(region, g_array_index(pieces, HfPiece, i).outer), 1);
  return outlines;
}

/* Within a larger piece? */
static void
find_enclosed(const HfRegion *region, GArray *pieces)
{
  if (pieces->len < 2)
    return;
  HfRegion *outlines = outlines_of(region, pieces);
  g_autoptr(HfIndex) index = hf_index_new(outlines, hf_index_cell(outlines));
  HfBox box = hf_region_box(outlines);
  g_autoptr(GArray) round = g_array_new(FALSE, FALSE, sizeof(HfEdgeId));
  for (guint i = 1; i < pieces->len; i++) {
    HfPiece *piece = &g_array_index(pieces, HfPiece, i);
    hf_index_round(index, beside(hf_region_ring(region, piece->outer), 0),
                   hf_box_height(box) < hf_box_width(box), round);
    piece->enclosed = round->len > 0 && g_array_index(round, HfEdgeId, 0).ring < i;
  }
  hf_region_free(outlines);
}

static gint64
key_of(HfGrid g)
{
  return (gint64)(((guint64)(guint32)g.x << 32) | (guint32)g.y);
}

static void
note_place(GHashTable *places, HfPoint at, double width)
{
  gint64 key = key_of(hf_grid_snap(at));
  double *known = g_hash_table_lookup(places, &key);
  if (known != NULL) {
    *known = fmax(*known, width);
    return;
  }
  double *value = g_new(double, 1);
  *value = width;
  g_hash_table_insert(places, g_memdup2(&key, sizeof key), value);
}

/* Widths of the cuts by their feet, 0 for a touch; then every piece that has such a vertex. */
static void
find_joints(const HfCheck *check, const HfRegion *region, GArray *pieces)
{
  g_autoptr(GHashTable) places = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < check->cuts->len; i++) {
    const HfCut *cut = &g_array_index(check->cuts, HfCut, i);
    note_place(places, cut->a, hf_point_distance(cut->a, cut->b));
    note_place(places, cut->b, hf_point_distance(cut->a, cut->b));
  }
  for (guint i = 0; i < check->touches->len; i++)
    note_place(places, g_array_index(check->touches, HfTouch, i).at, 0);
  if (g_hash_table_size(places) == 0)
    return;
  g_autofree guint *piece_of = g_new(guint, region->rings->len + 1); /* by its outer ring */
  for (guint i = 0; i < pieces->len; i++)
    piece_of[g_array_index(pieces, HfPiece, i).outer] = i;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    HfPiece *piece = &g_array_index(pieces, HfPiece, piece_of[hf_region_root(region, r)]);
    for (guint v = 0; v < ring->n; v++) {
      gint64 key = key_of(ring->at[v]);
      const double *width = g_hash_table_lookup(places, &key);
      if (width != NULL && *width > 0)
        piece->joint = fmax(piece->joint, *width);
      else if (width != NULL)
        piece->touches = TRUE;
    }
  }
}

GArray *
hf_pieces_new(const HfCheck *check, const HfRegion *region)
{
  GArray *pieces = measure(check, region);
  find_fragments(check, pieces);
  find_enclosed(region, pieces);
  find_joints(check, region, pieces);
  return pieces;
}

/* ---- names ----------------------------------------------------------------------------------- */

static void
add_others(const HfCheck *check, const HfPiece *piece, GPtrArray *words)
{
  guint n = 0;
  const char *first = NULL;
  for (guint i = 0; i < piece->shares->len; i++) {
    const HfShape *shape =
        hf_layout_shape(check->layout, g_array_index(piece->shares, HfShare, i).shape);
    if (shape->letter >= 0)
      continue;
    if (n++ < 2)
      g_ptr_array_add(words, g_strdup(shape->label));
    first = first != NULL ? first : shape->label;
  }
  if (n > 2)
    g_ptr_array_add(words, g_strdup_printf("%u more", n - 2));
}

static void
add_letters(const HfCheck *check, const HfPiece *piece, GPtrArray *words)
{
  guint n = 0;
  const char *first[2] = {NULL, NULL};
  for (guint i = 0; i < piece->shares->len; i++) {
    const HfShape *shape =
        hf_layout_shape(check->layout, g_array_index(piece->shares, HfShare, i).shape);
    if (shape->letter < 0)
      continue;
    if (n < 2)
      first[n] = shape->label;
    n++;
  }
  for (guint i = 0; n <= 2 && i < n; i++)
    g_ptr_array_add(words, g_strdup(first[i]));
  if (n > 2)
    g_ptr_array_add(words, g_strdup_printf("%u letters", n));
}

static char *
listed(GPtrArray *words)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < words->len; i++) {
    if (i > 0)
      g_string_append(text, i + 1 == words->len ? " and " : ", ");
    g_string_append(text, words->pdata[i]);
  }
  return g_string_free(text, FALSE);
}

char *
hf_piece_name(const HfCheck *check, const HfPiece *piece)
{
  if (piece->shares->len == 0)
    return g_strdup("a piece of metal");
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func(g_free);
  add_others(check, piece, words);
  add_letters(check, piece, words);
  g_autofree char *list = listed(words);
  const HfShape *first =
      hf_layout_shape(check->layout, g_array_index(piece->shares, HfShare, 0).shape);
  if (first->opening)
    return g_strdup_printf("the metal inside %s", list);
  return piece->fragment ? g_strdup_printf("a piece of %s", list) : g_steal_pointer(&list);
}
