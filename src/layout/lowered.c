/* SPDX-License-Identifier: GPL-3.0-or-later
 * lowered.c - dots and accents moved into their letter, where a rule for ties asks for it.
 *
 *      o          A piece above the body goes down, one below it up, along the letter's own
 * upright, o     until it overlaps the body over 1.25 times the joint limit; pieces that stand at
 *     ###  ###    one height by the same way, so that two dots stay level.
 *     ###  ###
 *
 * Over a gap (the arms of an Ü) it goes to the side as well, by the least step that does; two dots
 * at one height by the same. An apostrophe is no dot of a letter: moved into the one beside it, it
 * would read as that letter's accent. It stays, to be tied, and so do dots that find no way: both
 * are noted.
 *
 * Only what lies wholly above or below the body, over it, and is smaller than half of it: dots and
 * accents, not the two halves of a %. A piece that would have to go deeper than six tenths of its
 * own height is left where it is, to be tied, and so are all of a letter when one of them would no
 * longer be told from it: less than half of its edge shows (the dots of ش among its teeth, which
 * then reads س). Degenerate: a letter of one piece is left alone.
 * Accuracy 0.01 mm. Source: common practice, no source.
 */
#include "base/text.h"
#include "layout/layout-private.h"
#include "stock/practice.h"
#include <string.h>

#define DEEPEST 0.6  /* of its height */
#define SMALL   0.5  /* of the body's area */
#define LEVEL   0.02 /* of the letter's height: pieces at one height */

#define MOST_ASIDE 0.6 /* of its width */
#define SHOWS      0.5 /* of its edge */
#define EDGE_STEP  0.5 /* mm along it */

enum { HALVINGS = 14, STEPS_ASIDE = 12 };

/* One piece of a letter, in the frame in which the letter stands upright. */
typedef struct {
  HfRegion *region;
  HfBox box;
  double area, by; /* mm that it goes up; 0: it stays */
  double aside;    /* mm that it goes to the right */
} Piece;

static void
piece_clear(gpointer data)
{
  hf_region_free(((Piece *)data)->region);
}

static HfRegion *
moved(const HfRegion *region, double aside, double by)
{
  HfRegion *made = hf_region_new();
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    g_autofree HfGrid *at = g_new(HfGrid, ring->n);
    for (guint v = 0; v < ring->n; v++)
      at[v] = hf_grid_snap(hf_point_add(hf_grid_point(ring->at[v]), hf_point(aside, by)));
    hf_region_add_ring(made, at, NULL, ring->n);
  }
  g_autoptr(HfRegion) raw = made;
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

/* How wide the two overlap when @piece is @by higher and @aside to the right. */
static double
overlap(const Piece *body, const Piece *piece, double aside, double by)
{
  g_autoptr(HfRegion) there = moved(piece->region, aside, by);
  g_autoptr(HfRegion) both = hf_region_intersect(body->region, there);
  return both->rings->len == 0 ? 0 : hf_box_width(hf_region_box(both));
}

/* The way grows until they overlap enough; then it is halved. Beyond the deepest: 0. */
static double
way_into(const Piece *body, const Piece *piece, double aside, double joint)
{
  gboolean above = piece->box.min.y >= body->box.max.y;
  double gap = above ? piece->box.min.y - body->box.max.y : body->box.min.y - piece->box.max.y;
  double high = hf_box_height(piece->box), sign = above ? -1 : 1;
  double low = 0,
         far = gap + hf_box_height(body->box); /* a dot over the arms of a u goes further */
  double step = high / 8, at = gap;
  while (at < far && overlap(body, piece, aside, sign * at) < joint)
    at += step;
  if (at >= far)
    return 0;
  low = fmax(0, at - step);
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (low + at) / 2;
    if (overlap(body, piece, aside, sign * middle) < joint)
      low = middle;
    else
      at = middle;
  }
  double touches = at;
  for (double back = 0; back <= DEEPEST * high + step; back += high / 40)
    if (overlap(body, piece, aside, sign * (at - back)) > 0)
      touches = at - back;
  return at - touches <= DEEPEST * high ? sign * at : 0;
}

/* Straight into it, or where there is a gap under it (the arms of an Ü) by the least step to the
 * side from which it gets there. */
static void
find_way(const Piece *body, Piece *piece, double joint)
{
  double wide = hf_box_width(piece->box);
  for (guint i = 0; i <= STEPS_ASIDE; i++)
    for (int sign = -1; sign <= 1; sign += 2) {
      double aside = sign * MOST_ASIDE * wide * i / STEPS_ASIDE;
      double by = i > 0 || sign < 0 ? way_into(body, piece, aside, joint) : 0;
      if (by == 0)
        continue;
      piece->by = by;
      piece->aside = aside;
      return;
    }
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
      if (a->by != 0 && b->by != 0 && fabs(a->box.min.y - b->box.min.y) < within &&
          fabs(a->aside) < fabs(b->aside))
        a->aside = copysign(b->aside, a->aside != 0 ? a->aside : -b->aside);
    }
}

/* How much of the edge of piece @i lies in no other, all of them where they go. */
static double
share_shown(const GArray *pieces, guint i)
{
  const Piece *piece = &g_array_index(pieces, Piece, i);
  double edge = 0, shown = 0;
  for (guint r = 0; r < piece->region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(piece->region, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      double length = hf_point_distance(a, b);
      guint steps = (guint)ceil(length / EDGE_STEP);
      for (guint k = 0; k < steps; k++) {
        HfPoint p =
            hf_point_add(hf_point_mix(a, b, (k + 0.5) / steps), hf_point(piece->aside, piece->by));
        gboolean hidden = FALSE;
        for (guint o = 0; o < pieces->len && !hidden; o++) {
          const Piece *other = &g_array_index(pieces, Piece, o);
          hidden = o != i &&
                   hf_region_contains(other->region, hf_point(p.x - other->aside, p.y - other->by));
        }
        edge += length / steps;
        shown += hidden ? 0 : length / steps;
      }
    }
  }
  return edge > 0 ? shown / edge : 1;
}

/* One that could no longer be told leaves all where they are. Returns: how many do not move. */
static guint
stay_where_lost(GArray *pieces)
{
  guint moves = 0;
  gboolean lost = FALSE;
  for (guint i = 0; i < pieces->len; i++) {
    gboolean goes = g_array_index(pieces, Piece, i).by != 0;
    moves += goes ? 1 : 0;
    lost = lost || (goes && share_shown(pieces, i) < SHOWS);
  }
  for (guint i = 0; lost && i < pieces->len; i++)
    g_array_index(pieces, Piece, i).by = g_array_index(pieces, Piece, i).aside = 0;
  return lost ? moves : 0;
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
    double by = 0, aside = 0, nearest = INFINITY;
    for (guint i = 0; i < pieces->len; i++) {
      const Piece *piece = &g_array_index(pieces, Piece, i);
      HfPoint on = hf_point(CLAMP(in.x, piece->box.min.x, piece->box.max.x),
                            CLAMP(in.y, piece->box.min.y, piece->box.max.y));
      double off = hf_point_distance(in, on);
      by = off < nearest ? piece->by : by;
      aside = off < nearest ? piece->aside : aside;
      nearest = fmin(nearest, off);
    }
    g_autoptr(HfOutline) contour = hf_outline_new();
    guint start = 0;
    g_array_append_vals(contour->curves, curves, n);
    g_array_append_val(contour->starts, start);
    hf_outline_append(made, contour, hf_matrix_move(aside, by));
  }
  return made;
}

/* Returns: mm that the farthest piece went; 0: the letter stays as it is.
 * @ret_left: grows by the dots that find no way. */
static double
lower(HfShape *shape, double joint, guint *ret_left)
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
      find_way(largest, piece, joint);
    else if (i != body)
      continue;
    *ret_left += i != body && piece->by == 0;
  }
  level_out(pieces, LEVEL * hf_box_height(hf_outline_box(upright)));
  *ret_left += stay_where_lost(pieces);
  for (guint i = 0; i < pieces->len; i++)
    farthest = fmax(farthest, hf_point_length(hf_point(g_array_index(pieces, Piece, i).aside,
                                                       g_array_index(pieces, Piece, i).by)));
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

/* Apostrophes and quotes that hang: characters of their own, dots of no letter. Labels are
 * `letter 's' of "Quay 7"`. Source: Unicode 15, names of these characters. */
static gboolean
is_apostrophe(const HfShape *shape)
{
  static const gunichar hang[] = {0x22,   0x27,   0x60,   0xb4,   0x2bb,  0x2bc,
                                  0x2018, 0x2019, 0x201b, 0x201c, 0x201d, 0x201f};
  const char *letter = strstr(shape->label, "letter '");
  gunichar is = letter != NULL ? g_utf8_get_char(letter + strlen("letter '")) : 0;
  for (gsize i = 0; i < G_N_ELEMENTS(hang); i++)
    if (is == hang[i])
      return TRUE;
  return FALSE;
}

/* What a rule did with the letters of one entry. */
typedef struct {
  guint entry, letters, left, apostrophes;
  double farthest;
} Done;

static void
note(HfLayout *layout, char *text)
{
  g_ptr_array_add(layout->notes, text);
}

static void
tell(HfLayout *layout, const HfRecipe *recipe, const Done *done)
{
  const char *name = hf_recipe_at(recipe, done->entry)->name;
  g_autofree char *far = hf_text_mm(done->farthest);
  if (done->letters == 1)
    note(layout, g_strdup_printf("%s: the dots or accents of 1 letter are moved into it, by %s",
                                 name, far));
  else if (done->letters > 1)
    note(layout,
         g_strdup_printf("%s: the dots or accents of %u letters are moved into them, by up to %s",
                         name, done->letters, far));
  if (done->left > 0)
    note(layout, g_strdup_printf("%s: %u of the dots or accents %s where %s: to hold, %s would go "
                                 "too deep into the letter; tie %s",
                                 name, done->left, done->left == 1 ? "stays" : "stay",
                                 done->left == 1 ? "it is" : "they are",
                                 done->left == 1 ? "it" : "they", done->left == 1 ? "it" : "them"));
  if (done->apostrophes > 0)
    note(layout,
         g_strdup_printf(
             "%s: %u %s where %s: %s no letter of %s own, and moved into the one beside "
             "%s would read as its accent; tie %s",
             name, done->apostrophes,
             done->apostrophes == 1 ? "apostrophe or quote stays" : "apostrophes or quotes stay",
             done->apostrophes == 1 ? "it is" : "they are",
             done->apostrophes == 1 ? "it has" : "they have",
             done->apostrophes == 1 ? "its" : "their", done->apostrophes == 1 ? "it" : "them",
             done->apostrophes == 1 ? "it" : "them"));
}

/* One rule that asks for it. */
static void
lower_by(HfLayout *layout, const HfRecipe *recipe, const HfTiesEntry *rule, double joint)
{
  Done done = {0};
  for (guint s = 0; s < layout->shapes->len; s++) {
    HfShape *shape = layout->shapes->pdata[s];
    if (shape->entry != done.entry) {
      tell(layout, recipe, &done);
      done = (Done){.entry = shape->entry};
    }
    if (shape->letter < 0 || shape->opening || !is_meant(recipe, layout, rule, s))
      continue;
    if (is_apostrophe(shape)) {
      done.apostrophes++;
      continue;
    }
    double by = lower(shape, joint, &done.left);
    done.letters += by > 0;
    done.farthest = fmax(done.farthest, by);
  }
  tell(layout, recipe, &done);
}

gboolean
hf_layout_lowers_dots(const HfEntry *rule, gboolean usual)
{
  return rule->kind == HF_ENTRY_TIES && (rule->ties.dots == HF_TIE_DOTS_LOWERED ||
                                         (usual && rule->ties.dots == HF_TIE_DOTS_USUAL));
}

void
hf_layout_lower_dots(HfLayout *layout, const HfRecipe *recipe, double joint_limit, gboolean usual)
{
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *rule = hf_recipe_at(recipe, i);
    if (hf_entry_is_in(rule, recipe->in_layer) && hf_layout_lowers_dots(rule, usual))
      lower_by(layout, recipe, &rule->ties, HF_OVER_LIMIT * joint_limit);
  }
}
