/* SPDX-License-Identifier: GPL-3.0-or-later
 * twins.c - equal parts of equal letters, equal places in them, and mirror images.
 *
 *      e   e        the counters are twins: same letter of the same words, same box and outline in
 *      ^   ^        ems. A bar's place is where its foot is in the part and which way it leaves.
 */
#include "recipe/kind.h"
#include "tie/offers-private.h"
#include <string.h>

#define SAME_EM    0.004 /* ems that twins may differ by */
#define SAME_PLACE 0.01  /* ems between feet that are at one place: the same letter and opening */
#define SAME_WAY   0.05  /* rad */
#define SYMMETRIC  0.01  /* of its size */

/* ---- twins ----------------------------------------------------------------------------------- */

/* `letter 'e' of "..."` and the face. */
static char *
letter_key(const HfOffers *offers, guint part)
{
  const HfGround *ground = offers->ground;
  guint of = ground->views[part].shape;
  if (of == HF_NO_SHAPE)
    return NULL;
  const HfShape *shape = hf_layout_shape(ground->sign->layout, of);
  if (shape->letter < 0)
    return g_strdup_printf("%u", shape->entry);
  const char *end = strstr(shape->label, "' of ");
  int length = end == NULL ? (int)strlen(shape->label) : (int)(end - shape->label);
  return g_strdup_printf("%u %.*s", offers->kin[shape->entry], length, shape->label);
}

void
hf_offers_kin(HfOffers *offers)
{
  const HfRecipe *recipe = offers->ground->sign->recipe;
  offers->kin = g_new(guint, recipe->entries->len + 1);
  for (guint i = 0; i < recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(recipe, i);
    const HfFontWish *font = hf_entry_font(entry);
    guint first = font == NULL ? i : 0;
    for (; first < i; first++) {
      const HfEntry *other = hf_recipe_at(recipe, first);
      const HfFontWish *its = hf_entry_font(other);
      if (its != NULL && entry->as == other->as && hf_font_is_face(font, its))
        break;
    }
    offers->kin[i] = first;
  }
}

static HfPoint
em_of(const HfView *view, HfPoint p)
{
  HfPoint from = {p.x - view->em.x0, p.y - view->em.y0};
  return hf_point(hf_point_dot(from, view->level) / view->size,
                  hf_point_dot(from, view->up) / view->size);
}

static gboolean
are_twins(const HfGround *ground, guint a, guint b)
{
  const HfView *u = &ground->views[a], *v = &ground->views[b];
  gboolean letter = hf_layout_shape(ground->sign->layout, u->shape)->letter >= 0;
  double tolerance = letter ? SAME_EM : SAME_EM * hf_box_width(u->box);
  if (letter && hf_point_distance(em_of(u, u->middle), em_of(v, v->middle)) > tolerance)
    return FALSE;
  for (guint k = 0; k < HF_VIEW_WAYS; k++)
    if (fabs(u->support[k] / u->size - v->support[k] / v->size) > tolerance)
      return FALSE;
  return TRUE;
}

void
hf_offers_twins(HfOffers *offers)
{
  g_autoptr(GHashTable) letters =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_array_unref);
  guint classes = 0;
  offers->twins = g_new0(guint, offers->needy->len + 1);
  for (guint i = 0; i < offers->needy->len; i++) {
    guint part = g_array_index(offers->needy, guint, i);
    char *key = letter_key(offers, part);
    if (key == NULL)
      continue;
    GArray *firsts = g_hash_table_lookup(letters, key); /* needy numbers, one a class */
    if (firsts == NULL) {
      firsts = g_array_new(FALSE, FALSE, sizeof(guint));
      g_hash_table_insert(letters, key, firsts);
    } else
      g_free(key);
    for (guint k = 0; k < firsts->len && offers->twins[i] == 0; k++) {
      guint other = g_array_index(firsts, guint, k);
      if (are_twins(offers->ground, g_array_index(offers->needy, guint, other), part))
        offers->twins[i] = offers->twins[other];
    }
    if (offers->twins[i] == 0) {
      offers->twins[i] = ++classes;
      g_array_append_val(firsts, i);
    }
  }
}

/* ---- places ---------------------------------------------------------------------------------- */

/* A foot and a direction, in the part's frame, in ems from its middle. */
typedef struct {
  guint of; /* class of twins */
  HfPoint foot;
  double way;
} Spot;

typedef struct {
  GHashTable *cells; /* gint64 of class and cell -> GArray of guint: numbers of spots there */
  GArray *spots;     /* Spot; its number + 1 is the place */
} Book;

static gint64
cell_key(guint of, gint64 x, gint64 y)
{
  return (gint64)of << 40 ^ (x & 0xfffff) << 20 ^ (y & 0xfffff);
}

static guint
find_spot(const Book *book, const Spot *spot)
{
  gint64 x = (gint64)floor(spot->foot.x / SAME_PLACE), y = (gint64)floor(spot->foot.y / SAME_PLACE);
  for (int k = 0; k < 9; k++) {
    gint64 key = cell_key(spot->of, x + k % 3 - 1, y + k / 3 - 1);
    const GArray *there = g_hash_table_lookup(book->cells, &key);
    for (guint i = 0; there != NULL && i < there->len; i++) {
      guint number = g_array_index(there, guint, i);
      const Spot *known = &g_array_index(book->spots, Spot, number);
      if (known->of == spot->of && hf_point_distance(known->foot, spot->foot) < SAME_PLACE &&
          fabs(remainder(known->way - spot->way, 2 * G_PI)) < SAME_WAY)
        return number + 1;
    }
  }
  return 0;
}

static guint
note_spot(Book *book, const Spot *spot)
{
  guint place = find_spot(book, spot);
  if (place > 0)
    return place;
  guint number = book->spots->len;
  g_array_append_val(book->spots, *spot);
  gint64 *key = g_new(gint64, 1);
  *key = cell_key(spot->of, (gint64)floor(spot->foot.x / SAME_PLACE),
                  (gint64)floor(spot->foot.y / SAME_PLACE));
  GArray *there = g_hash_table_lookup(book->cells, key);
  if (there == NULL) {
    there = g_array_new(FALSE, FALSE, sizeof(guint));
    g_hash_table_insert(book->cells, key, there);
  } else
    g_free(key);
  g_array_append_val(there, number);
  return number + 1;
}

static Spot
spot_of(const HfOffers *offers, const HfBar *bar, int which)
{
  const HfView *view = &offers->ground->views[bar->part[which]];
  double along = which == 0 ? -bar->end[0].middle : bar->end[1].middle;
  HfPoint way = which == 0 ? bar->way : hf_point_scale(bar->way, -1);
  HfPoint foot = hf_view_point(view, hf_bar_point(bar, along, 0));
  double size = view->size > 1 ? view->size : fmax(hf_box_width(view->box), 1);
  return (Spot){.of = offers->twins[offers->node[bar->part[which]] - 1],
                .foot = hf_point_scale(foot, 1 / size),
                .way = atan2(hf_point_dot(way, view->up), hf_point_dot(way, view->level))};
}

HfBarPlace (*hf_offers_places(const HfOffers *offers))[2]
{
  HfBarPlace(*places)[2] = g_malloc0_n(offers->bars->len + 1, sizeof *places);
  Book book = {
      g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, (GDestroyNotify)g_array_unref),
      g_array_new(FALSE, FALSE, sizeof(Spot))};
  g_autofree gint8 *symmetric = g_new0(gint8, offers->needy->len + 2); /* 0: not asked */
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < offers->bars->len; i++)
      for (int which = 0; which < 2; which++) {
        const HfBar *bar = &g_array_index(offers->bars, HfBar, i);
        guint node = offers->node[bar->part[which]];
        if (node == 0)
          continue;
        Spot spot = spot_of(offers, bar, which);
        if (pass == 0) {
          places[i][which].place = note_spot(&book, &spot);
          continue;
        }
        if (symmetric[node] == 0)
          symmetric[node] =
              hf_view_mirrored(offers->ground, bar->part[which], HF_MIRROR_SIDES, SYMMETRIC) ? 1
                                                                                             : -1;
        spot.foot.x = -spot.foot.x;
        spot.way = G_PI - spot.way;
        if (symmetric[node] > 0)
          places[i][which].mirror = find_spot(&book, &spot);
      }
  g_hash_table_unref(book.cells);
  g_array_unref(book.spots);
  return places;
}
