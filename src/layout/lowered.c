/* SPDX-License-Identifier: GPL-3.0-or-later
 * lowered.c - dots and accents moved into their letter, where a rule for ties asks for it.
 *
 *      o          A piece above the body goes down, one below it up, along the letter's own
 * upright, o     until it overlaps the body over 1.25 times the joint limit; pieces that stand at
 *     ###  ###    one height by the same way, so that two dots stay level.
 *     ###  ###
 *
 * Only what lies wholly above or below the body, over it, and is smaller than half of it: dots and
 * accents, not the two halves of a %. A piece that would have to go deeper than six tenths of its
 * own height is left where it is, to be tied. Degenerate: a letter of one piece is left alone.
 * Accuracy 0.01 mm. Source: common practice, no source.
 */
#include "base/text.h"
#include "layout/layout-private.h"
#include "stock/practice.h"
#include <string.h>

#define DEEPEST 0.6  /* of its height */
#define SMALL   0.5  /* of the body's area */
#define LEVEL   0.02 /* of the letter's height: pieces at one height */

enum { HALVINGS = 14 };

/* One piece of a letter, in the frame in which the letter stands upright. */
typedef struct {
  HfRegion *region;
  HfBox box;
  double area, by; /* mm that it goes up; 0: it stays */
} Piece;

static void
piece_clear(gpointer data)
{
  hf_region_free(((Piece *)data)->region);
}

static HfRegion *
moved_up(const HfRegion *region, double by)
{
  HfRegion *moved = hf_region_new();
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    g_autofree HfGrid *at = g_new(HfGrid, ring->n);
    for (guint v = 0; v < ring->n; v++)
      at[v] = hf_grid_snap(hf_point_add(hf_grid_point(ring->at[v]), hf_point(0, by)));
    hf_region_add_ring(moved, at, NULL, ring->n);
  }
  g_autoptr(HfRegion) raw = moved;
  return hf_region_clean(raw);
}

static GArray *
pieces_of(const HfOutline *upright)
{
  GArray *pieces = g_array_new(FALSE, FALSE, sizeof(Piece));
  g_array_set_clear_func(pieces, piece_clear);
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, upright, HF_NO_SHAPE, HF_FLATTEN_MM);
  g_autoptr(HfRegion) clean = hf_region_clean(raw);
  for (guint r = 0; r < clean->rings->len; r++) {
    if (hf_region_ring(clean, r)->parent >= 0)
      continue;
    Piece piece = {.region = hf_region_part(clean, r)};
    piece.box = hf_region_box(piece.region);
    piece.area = hf_region_area(piece.region);
    g_array_append_val(pieces, piece);
  }
  return pieces;
}

/* How wide the two overlap when @piece is @by higher. */
static double
overlap(const Piece *body, const Piece *piece, double by)
{
  g_autoptr(HfRegion) moved = moved_up(piece->region, by);
  g_autoptr(HfRegion) both = hf_region_intersect(body->region, moved);
  return both->rings->len == 0 ? 0 : hf_box_width(hf_region_box(both));
}

/* The way grows until they overlap enough; then it is halved. Beyond the deepest: 0. */
static double
way_into(const Piece *body, const Piece *piece, double joint)
{
  gboolean above = piece->box.min.y >= body->box.max.y;
  double gap = above ? piece->box.min.y - body->box.max.y : body->box.min.y - piece->box.max.y;
  double high = hf_box_height(piece->box), sign = above ? -1 : 1;
  double low = 0,
         far = gap + hf_box_height(body->box); /* a dot over the arms of a u goes further */
  double step = high / 8, at = gap;
  while (at < far && overlap(body, piece, sign * at) < joint)
    at += step;
  if (at >= far)
    return 0;
  low = fmax(0, at - step);
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (low + at) / 2;
    if (overlap(body, piece, sign * middle) < joint)
      low = middle;
    else
      at = middle;
  }
  double touches = at;
  for (double back = 0; back <= DEEPEST * high + step; back += high / 40)
    if (overlap(body, piece, sign * (at - back)) > 0)
      touches = at - back;
  return at - touches <= DEEPEST * high ? sign * at : 0;
}

static gboolean
may_move(const Piece *body, const Piece *piece)
{
  gboolean clear = piece->box.min.y >= body->box.max.y || piece->box.max.y <= body->box.min.y;
  return clear && piece->area < SMALL * body->area && piece->box.min.x < body->box.max.x &&
         piece->box.max.x > body->box.min.x;
}

static void
level_out(GArray *pieces, double within)
{
  for (guint i = 0; i < pieces->len; i++)
    for (guint k = 0; k < pieces->len; k++) {
      Piece *a = &g_array_index(pieces, Piece, i), *b = &g_array_index(pieces, Piece, k);
      if (a->by != 0 && b->by != 0 && fabs(a->box.min.y - b->box.min.y) < within &&
          fabs(a->by) < fabs(b->by))
        a->by = b->by;
    }
}

/* The outline with each contour moved as its piece is. */
static HfOutline *
put_together(const HfOutline *upright, const GArray *pieces)
{
  HfOutline *made = hf_outline_new();
  for (guint c = 0; c < hf_outline_n_contours(upright); c++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(upright, c, &n);
    HfPoint in = hf_curve_point(&curves[0], 0.5);
    double by = 0, nearest = INFINITY;
    for (guint i = 0; i < pieces->len; i++) {
      const Piece *piece = &g_array_index(pieces, Piece, i);
      HfPoint on = hf_point(CLAMP(in.x, piece->box.min.x, piece->box.max.x),
                            CLAMP(in.y, piece->box.min.y, piece->box.max.y));
      double off = hf_point_distance(in, on);
      by = off < nearest ? piece->by : by;
      nearest = fmin(nearest, off);
    }
    g_autoptr(HfOutline) contour = hf_outline_new();
    guint start = 0;
    g_array_append_vals(contour->curves, curves, n);
    g_array_append_val(contour->starts, start);
    hf_outline_append(made, contour, hf_matrix_move(0, by));
  }
  return made;
}

/* Returns: mm that the farthest piece went; 0: the letter stays as it is. */
static double
lower(HfShape *shape, double joint)
{
  HfMatrix turn = hf_matrix_turn(-atan2(shape->em.yx, shape->em.xx));
  g_autoptr(HfOutline) upright = hf_outline_new();
  hf_outline_append(upright, shape->outline, turn);
  g_autoptr(GArray) pieces = pieces_of(upright);
  guint body = 0;
  double farthest = 0;
  for (guint i = 1; i < pieces->len; i++)
    if (g_array_index(pieces, Piece, i).area > g_array_index(pieces, Piece, body).area)
      body = i;
  const Piece *largest = pieces->len > 1 ? &g_array_index(pieces, Piece, body) : NULL;
  for (guint i = 0; largest != NULL && i < pieces->len; i++) {
    Piece *piece = &g_array_index(pieces, Piece, i);
    if (i != body && may_move(largest, piece))
      piece->by = way_into(largest, piece, joint);
  }
  level_out(pieces, LEVEL * hf_box_height(hf_outline_box(upright)));
  for (guint i = 0; i < pieces->len; i++)
    farthest = fmax(farthest, fabs(g_array_index(pieces, Piece, i).by));
  if (farthest == 0)
    return 0;
  g_autoptr(HfOutline) made = put_together(upright, pieces);
  hf_outline_free(shape->outline);
  shape->outline = hf_outline_new();
  hf_outline_append(shape->outline, made, hf_matrix_turn(atan2(shape->em.yx, shape->em.xx)));
  return farthest;
}

static gboolean
is_meant(const HfRecipe *recipe, const HfLayout *layout, const HfTiesEntry *rule, guint shape)
{
  gboolean any = rule->of == NULL || rule->of->len == 0;
  for (guint i = 0; !any && i < rule->of->len; i++) {
    g_autoptr(GArray) meant = hf_layout_meant(recipe, layout, rule->of->pdata[i]);
    for (guint k = 0; k < meant->len; k++)
      any = any || g_array_index(meant, guint, k) == shape;
  }
  return any;
}

static void
tell(HfLayout *layout, const HfRecipe *recipe, guint entry, guint n, double farthest)
{
  const char *name = hf_recipe_at(recipe, entry)->name;
  g_autofree char *far = hf_text_mm(farthest);
  g_ptr_array_add(
      layout->notes,
      n == 1 ? g_strdup_printf("%s: the dots or accents of 1 letter are moved into it, by %s", name,
                               far)
             : g_strdup_printf(
                   "%s: the dots or accents of %u letters are moved into them, by up to %s", name,
                   n, far));
}

void
hf_layout_lower_dots(HfLayout *layout, const HfRecipe *recipe, double joint_limit, gboolean usual)
{
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *rule = hf_recipe_at(recipe, i);
    gboolean lowered =
        rule->kind == HF_ENTRY_TIES &&
        (rule->ties.dots == HF_TIE_DOTS_LOWERED || (usual && rule->ties.dots == HF_TIE_DOTS_USUAL));
    if (!lowered)
      continue;
    guint n = 0, entry = 0;
    double farthest = 0;
    for (guint s = 0; s < layout->shapes->len; s++) {
      HfShape *shape = layout->shapes->pdata[s];
      if (n > 0 && shape->entry != entry) {
        tell(layout, recipe, entry, n, farthest);
        n = 0;
        farthest = 0;
      }
      entry = shape->entry;
      if (shape->letter < 0 || shape->opening || !is_meant(recipe, layout, &rule->ties, s))
        continue;
      double by = lower(shape, HF_OVER_LIMIT * joint_limit);
      n += by > 0;
      farthest = fmax(farthest, by);
    }
    if (n > 0)
      tell(layout, recipe, entry, n, farthest);
  }
}
