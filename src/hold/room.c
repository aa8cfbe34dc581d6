/* SPDX-License-Identifier: GPL-3.0-or-later
 * room.c - words that are too large for what they are cut from: how wide they are, how much room
 * there is, and which letters fit.
 *
 *      ,------- plate -------.       room: the shortest level line through the plate within the
 *     (   H A R B O U R   Q U|AY     height of the words; for letters that stay about their own
 *      `---------------------'       middle, twice the nearer side
 *
 * Level words on one piece of metal only; elsewhere nothing is said. What is said to fit keeps the
 * stop of thin webs to the edge on each side.
 */
#include "base/text.h"
#include "hold/checks-private.h"
#include "hold/hold-private.h"
#include "recipe/kind.h"
#include <string.h>

enum { LEVELS = 9 };
#define COARSE_MM 0.1 /* chords of the plate */

typedef struct {
  HfBox words; /* of all letters of this copy */
  HfBox room;  /* of the plate's chords at the levels of the words, the tightest; empty: none */
  const char *plate;
  double height, fixed; /* mm: of the letters; of the spacing, which does not shrink with them */
} Room;

static gboolean
is_level(const HfEntry *entry, const HfShape *letter)
{
  return hf_words_are_level(entry) && fabs(letter->em.yx) < 1e-9 * fabs(letter->em.xx);
}

/* What the words are cut from: the entry that they are on, else the largest piece under their
 * middle. */
static const HfShape *
plate_of(const HfCheck *check, const HfEntry *entry, HfPoint middle)
{
  const HfShape *best = NULL;
  double largest = 0;
  const char *on = hf_entry_on(entry);
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    if (shape->opening || shape->letter >= 0 || shape->mends > 0)
      continue;
    const char *name = hf_recipe_at(check->recipe, shape->entry)->name;
    HfBox box = hf_outline_box(shape->outline);
    if (on != NULL && strcmp(on, name) == 0)
      return shape;
    double area = hf_box_width(box) * hf_box_height(box);
    if (area > largest && middle.x > box.min.x && middle.x < box.max.x && middle.y > box.min.y &&
        middle.y < box.max.y) {
      largest = area;
      best = shape;
    }
  }
  return on == NULL ? best : NULL;
}

/* Leftmost and rightmost edge of @region at level @y. */
static gboolean
chord_at(const HfRegion *region, double y, double *left, double *right)
{
  *left = INFINITY;
  *right = -INFINITY;
  for (guint r = 0; r < region->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(region, r)->n; v++) {
      HfEdgeId id = {r, v};
      HfPoint a = hf_edge_start(region, id), b = hf_edge_end(region, id);
      if ((a.y > y) == (b.y > y))
        continue;
      double x = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
      *left = fmin(*left, x);
      *right = fmax(*right, x);
    }
  return *left < *right;
}

static void
measure_room(Room *room, const HfShape *plate)
{
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, plate->outline, 0, COARSE_MM);
  g_autoptr(HfRegion) region = hf_region_clean(chords);
  HfBox box = hf_outline_box(plate->outline);
  room->room = box;
  for (int i = 0; i < LEVELS; i++) {
    double t = (i + 0.5) / LEVELS, left, right;
    double y = room->words.min.y * (1 - t) + room->words.max.y * t;
    if (y <= box.min.y || y >= box.max.y || !chord_at(region, y, &left, &right))
      continue;
    room->room.min.x = fmax(room->room.min.x, left);
    room->room.max.x = fmin(room->room.max.x, right);
  }
}

static HfBox
words_box(const HfCheck *check, const HfShape *letter, guint *ret_n)
{
  HfBox box = HF_BOX_EMPTY;
  *ret_n = 0;
  for (guint s = 0; s < check->layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    if (shape->entry != letter->entry || shape->copy != letter->copy || shape->letter < 0 ||
        shape->mends > 0)
      continue;
    box = hf_box_union(box, hf_outline_box(shape->outline));
    (*ret_n)++;
  }
  return box;
}

/* The letters that fit with @margin clear on either side, whole mm; 0: none. */
static double
height_that_fits(const Room *room, double margin)
{
  HfPoint middle = hf_box_centre(room->words);
  double wide = 2 * (fmin(middle.x - room->room.min.x, room->room.max.x - middle.x) - margin);
  double high = 2 * (fmin(middle.y - room->room.min.y, room->room.max.y - middle.y) - margin);
  double width = hf_box_width(room->words) - room->fixed;
  double share = fmin((wide - room->fixed) / width, high / hf_box_height(room->words));
  return fmax(0, floor(room->height * fmin(share, 1) - 1e-9));
}

/* `14.5 mm to the left`: what brings the words in by @margin; NULL: they are in that way. */
static char *
way_in(double low, double high, double min, double max, double margin, const char *up,
       const char *down)
{
  double by = low < min + margin    ? min + margin - low
              : high > max - margin ? high - max + margin
                                    : 0;
  g_autofree char *length = hf_text_at_least(ceil(10 * by) / 10);
  return by > 0 ? g_strdup_printf("%s %s", length, low < min + margin ? up : down) : NULL;
}

/* Where they would fit as they are. (transfer full) */
static char *
move_fix(const Room *room, double margin)
{
  const HfBox *w = &room->words, *r = &room->room;
  g_autofree char *x =
      way_in(w->min.x, w->max.x, r->min.x, r->max.x, margin, "to the right", "to the left");
  g_autofree char *y = way_in(w->min.y, w->max.y, r->min.y, r->max.y, margin, "up", "down");
  return g_strdup_printf("move the words %s%s%s, or make the plate larger", x != NULL ? x : "",
                         x != NULL && y != NULL ? " and " : "", y != NULL ? y : "");
}

static void
say(HfFinding *finding, const Room *room, double margin)
{
  gboolean wide = hf_box_width(room->words) > hf_box_width(room->room) - 2 * margin;
  gboolean high = hf_box_height(room->words) > hf_box_height(room->room) - 2 * margin;
  g_autofree char *has = hf_text_mm(wide ? hf_box_width(room->room) : hf_box_height(room->room));
  g_autofree char *needs =
      hf_text_mm(wide ? hf_box_width(room->words) : hf_box_height(room->words));
  double fits = height_that_fits(room, margin);
  g_autofree char *letters = hf_text_at_most(fits);
  g_autofree char *fix =
      !wide && !high ? move_fix(room, margin)
      : fits >= 1 ? g_strdup_printf("take %s letters, which fit, or make the plate larger", letters)
                  : g_strdup("shorten the text, or make the plate larger");
  if (wide || high)
    hf_finding_say(finding, "it runs off the metal: the words are %s %s, %s is %s there", needs,
                   wide ? "wide" : "high", room->plate, has);
  hf_finding_fix(finding, fix);
}

void
hf_room_say(const HfCheck *check, HfFinding *finding, guint shape)
{
  const HfShape *letter = hf_layout_shape(check->layout, shape);
  const HfEntry *entry = hf_recipe_at(check->recipe, letter->entry);
  if (letter->letter < 0 || !letter->opening || !is_level(entry, letter))
    return;
  guint n;
  Room room = {.words = words_box(check, letter, &n), .height = letter->letter_height};
  const HfShape *plate = plate_of(check, entry, hf_box_centre(room.words));
  if (plate == NULL || !(room.height > 0))
    return;
  HfMeasure spacing = entry->words.spacing;
  room.fixed = !isnan(spacing.value) && !spacing.is_share ? fmax(0, spacing.value) * n : 0;
  room.plate = plate->label;
  measure_room(&room, plate);
  HfBox inside = room.room, words = room.words;
  if (words.min.x >= inside.min.x && words.max.x <= inside.max.x && words.min.y >= inside.min.y &&
      words.max.y <= inside.max.y)
    return; /* it is not for want of room */
  say(finding, &room, check->hold->limits[HF_LAW_THIN_WEB].stop);
}
