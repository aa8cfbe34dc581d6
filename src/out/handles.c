/* SPDX-License-Identifier: GPL-3.0-or-later
 * handles.c - the points of a sign that one drags.
 *
 *                 at                radius, height: the value grows as the distance of `at` from
 *               .o                                  `centre` does
 *             .'                    turn:           the value is the direction of `at`
 *    centre +'                      move:           the value goes along with `at`
 *
 * Which lengths have a handle, and where on the sign it is gripped, says the row of the field
 * (recipe/kind.h); a table here works out the point. Places (`at`, `shift`) are the same for all
 * kinds.
 */
#include "out/handles-private.h"
#include "recipe/kind.h"
#include <string.h>

enum { MM = 4, MOST = 400 };

typedef struct {
  HfPoint at, centre;
} Grip;

typedef struct {
  HfJson *json;
  const HfSign *what;
  guint index; /* of the entry */
  const HfEntry *entry;
  const HfShape *shape; /* its first, or its middle letter; (nullable) of a group */
  HfBox box;            /* of all its shapes */
  gint *group_of;       /* of each entry: the group that places it; -1: none */
  HfBox *boxes;         /* of each entry; of a group of all its members */
  guint written;
} Handling;

/* ---- where grips stand --------------------------------------------------------------------- */

/* %FALSE: this entry has none there. */
typedef gboolean (*Place)(const Handling *h, double value, Grip *ret_grip);

static double
turn_of(const HfEntry *entry)
{
  return isnan(entry->place.turn) ? 0 : entry->place.turn;
}

static HfPoint
shift_of(const HfEntry *entry)
{
  const HfPlace *place = &entry->place;
  return hf_point(isnan(place->shift_x) ? 0 : place->shift_x,
                  isnan(place->shift_y) ? 0 : place->shift_y);
}

static HfPoint
middle(const Handling *h)
{
  return hf_box_centre(hf_outline_box(h->shape->outline));
}

static gboolean
grip_round(const Handling *h, double diameter, double angle, Grip *ret_grip)
{
  HfPoint centre = middle(h);
  *ret_grip = (Grip){hf_point_polar(centre, diameter / 2, angle), centre};
  return TRUE;
}

static gboolean
on_outer(const Handling *h, double value, Grip *ret_grip)
{
  return grip_round(h, value, G_PI / 4, ret_grip);
}

/* Away from the outer one, so that both can be caught. */
static gboolean
on_inner(const Handling *h, double value, Grip *ret_grip)
{
  return grip_round(h, value, 3 * G_PI / 4, ret_grip);
}

static gboolean
on_right(const Handling *h, double value, Grip *ret_grip)
{
  return grip_round(h, value, turn_of(h->entry), ret_grip);
}

static gboolean
on_top(const Handling *h, double value, Grip *ret_grip)
{
  return grip_round(h, value, turn_of(h->entry) + G_PI_2, ret_grip);
}

/* From the foot of a letter to the height of its capitals. */
static gboolean
on_letter(const Handling *h, double value, Grip *ret_grip)
{
  (void)value;
  HfMatrix em = h->shape->em;
  double size = hf_point_length(hf_point(em.xy, em.yy));
  if (!(h->shape->letter_height > 0) || size == 0)
    return FALSE;
  HfPoint foot = {em.x0, em.y0};
  HfPoint up = hf_point_scale(hf_point(em.xy, em.yy), h->shape->letter_height / size);
  *ret_grip = (Grip){hf_point_add(foot, up), foot};
  return TRUE;
}

static gboolean
goes_round(const HfEntry *entry)
{
  return entry->kind == HF_ENTRY_WORDS &&
         (!isnan(entry->words.arc_radius) || !isnan(entry->words.ellipse_wide) ||
          entry->words.edge_of != NULL || hf_entry_band(entry) != NULL);
}

/* What words on an arc go round. */
static HfPoint
middle_of_round(const Handling *h)
{
  const HfPlace *place = &h->entry->place;
  const GPtrArray *band = goes_round(h->entry) ? hf_entry_band(h->entry) : NULL;
  const char *on = place->on;
  if (on == NULL && band != NULL)
    on = g_ptr_array_index(band, 0);
  if (on == NULL && goes_round(h->entry))
    on = h->entry->words.edge_of;
  for (guint i = 0; on != NULL && i < h->what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(h->what->layout, i);
    const HfEntry *entry = hf_recipe_at(h->what->recipe, shape->entry);
    if (strcmp(entry->name, on) == 0 && shape->letter < 0)
      return hf_box_centre(hf_outline_box(shape->outline));
  }
  return h->what->layout->centre;
}

static gboolean
on_arc(const Handling *h, double value, Grip *ret_grip)
{
  HfPoint centre = middle_of_round(h), foot = {h->shape->em.x0, h->shape->em.y0};
  if (fabs(hf_point_distance(centre, foot) - value) > 0.02 * value)
    return FALSE; /* an arc about another centre */
  *ret_grip = (Grip){foot, centre};
  return TRUE;
}

static gboolean
on_hanging_hole(const Handling *h, double value, Grip *ret_grip)
{
  const GArray *hangs = h->what->layout->hangs;
  for (guint i = 0; i < hangs->len; i++) {
    const HfHang *hang = &g_array_index(hangs, HfHang, i);
    if (hf_layout_shape(h->what->layout, hang->shape)->entry != h->index ||
        hang->kind != HF_HANG_HOLE)
      continue;
    *ret_grip = (Grip){hf_point(hang->at.x + value / 2, hang->at.y), hang->at};
    return TRUE;
  }
  return FALSE;
}

/* A pattern has many shapes: it is about the middle of them all. */
static gboolean
on_circle(const Handling *h, double value, Grip *ret_grip)
{
  HfPoint centre = hf_box_centre(h->box);
  *ret_grip = (Grip){hf_point_polar(centre, value / 2, turn_of(h->entry)), centre};
  return TRUE;
}

/* ---- lines that words follow ----------------------------------------------------------------- */

/* The wave rises through the middle of the words, so it is highest a quarter of its length on. */
static gboolean
on_crest(const Handling *h, double value, Grip *ret_grip)
{
  HfPoint centre = hf_box_centre(h->box);
  double quarter = fmin(h->entry->words.wave_length / 4, (h->box.max.x - h->box.min.x) / 2);
  centre.x += quarter;
  *ret_grip = (Grip){hf_point(centre.x, centre.y + value / 2), centre};
  return turn_of(h->entry) == 0;
}

static gboolean
on_wave(const Handling *h, double value, Grip *ret_grip)
{
  HfPoint centre = hf_box_centre(h->box);
  *ret_grip = (Grip){hf_point(centre.x + value / 2, centre.y), centre};
  return turn_of(h->entry) == 0;
}

static gboolean
on_rise(const Handling *h, double value, Grip *ret_grip)
{
  HfPoint foot = {hf_box_centre(h->box).x, value > 0 ? h->box.max.y : h->box.min.y};
  *ret_grip = (Grip){foot, hf_point(foot.x, foot.y - value)};
  return turn_of(h->entry) == 0;
}

/* From where the arch springs to its inner crown. */
static gboolean
on_crown(const Handling *h, double value, Grip *ret_grip)
{
  if (turn_of(h->entry) != 0)
    return FALSE;
  HfPoint crown = {hf_box_centre(h->box).x, h->box.max.y - h->entry->arch.width};
  *ret_grip = (Grip){crown, hf_point(crown.x, crown.y - value)};
  return TRUE;
}

static gboolean
on_point(const Handling *h, double value, Grip *ret_grip)
{
  if (turn_of(h->entry) != 0)
    return FALSE;
  HfPoint tip = {hf_box_centre(h->box).x, h->box.min.y};
  *ret_grip = (Grip){tip, hf_point(tip.x, tip.y + value)};
  return TRUE;
}

/* ---- lengths ------------------------------------------------------------------------------- */

static const struct {
  const char *kind; /* how its value follows `at` */
  Place place;
} GRIPS[HF_N_GRIPS] = {
    [HF_GRIP_OUTER] = {"radius", on_outer},       [HF_GRIP_INNER] = {"radius", on_inner},
    [HF_GRIP_RIGHT] = {"radius", on_right},       [HF_GRIP_TOP] = {"radius", on_top},
    [HF_GRIP_LETTER] = {"height", on_letter},     [HF_GRIP_ARC] = {"radius", on_arc},
    [HF_GRIP_HOLE] = {"radius", on_hanging_hole}, [HF_GRIP_CIRCLE] = {"radius", on_circle},
    [HF_GRIP_CROWN] = {"radius", on_crown},       [HF_GRIP_POINT] = {"radius", on_point},
    [HF_GRIP_CREST] = {"radius", on_crest},       [HF_GRIP_WAVE] = {"radius", on_wave},
    [HF_GRIP_RISE] = {"radius", on_rise},
};

static void
write_xy(HfJson *json, const char *key, double x, double y)
{
  hf_json_line(json, key, '[');
  hf_json_number(json, NULL, x, MM);
  hf_json_number(json, NULL, y, MM);
  hf_json_close(json);
}

/* All but the value. @copy: which of several places; -1: there is one. */
static void
begin_handle(Handling *h, const char *key, int copy, const char *kind, const char *name,
             const Grip *grip, const char *unit)
{
  HfJson *json = h->json;
  const char *entry = hf_entry_word(h->entry);
  g_autofree char *place = copy >= 0 ? g_strdup_printf("[%d]", copy) : g_strdup("");
  g_autofree char *path = g_strdup_printf("entries[%u].%s.%s%s", h->index, entry, key, place);
  g_autofree char *said = g_strdup_printf("%s of %s", name, h->entry->name);
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "entry", h->index, 0);
  hf_json_text(json, "path", path);
  hf_json_text(json, "kind", kind);
  hf_json_text(json, "name", said);
  write_xy(json, "at", grip->at.x, grip->at.y);
  write_xy(json, "centre", grip->centre.x, grip->centre.y);
  hf_json_text(json, "unit", unit);
  h->written++;
}

static void
write_length(Handling *h, const HfField *field)
{
  Grip grip;
  double value = hf_entry_length(h->entry, field);
  gboolean may_hang = field->grip.at == HF_GRIP_RISE;
  if (!(may_hang ? value != 0 : value > 0) || !GRIPS[field->grip.at].place(h, value, &grip))
    return;
  const char *unit = hf_entry_unit(h->entry, field->key);
  begin_handle(h, field->key, -1, GRIPS[field->grip.at].kind, field->grip.name, &grip, unit);
  hf_json_number(h->json, "value", value / hf_unit_mm(unit), MM);
  hf_json_close(h->json);
}

/* Where on what it goes round its middle lies; the top unless it is said. */
static double
direction_of(const HfEntry *entry)
{
  const GArray *spots = entry->place.at;
  const HfSpot *first = spots != NULL && spots->len > 0 ? &g_array_index(spots, HfSpot, 0) : NULL;
  return first != NULL && first->kind == HF_SPOT_DIRECTION ? first->angle : G_PI_2;
}

/* Two lengths of one field: each has a handle, on the side of the middle where no letters are. */
static void
write_two(Handling *h, const HfField *field)
{
  static const char *const sides[] = {"width", "height"};
  const double *two = (const double *)(const void *)G_STRUCT_MEMBER_P(h->entry, field->offset);
  HfPoint centre = field->grip.at == HF_GRIP_AXES
                       ? hf_point_add(middle_of_round(h), shift_of(h->entry))
                       : hf_box_centre(h->box);
  const char *unit = hf_entry_unit(h->entry, field->key);
  double way = direction_of(h->entry);
  gboolean round = field->grip.at == HF_GRIP_AXES;
  double right = round && cos(way) > 0.5 ? -0.5 : 0.5, up = round && sin(way) > 0.5 ? -0.5 : 0.5;
  for (int i = 0; i < 2 && turn_of(h->entry) == 0; i++) {
    HfPoint off = i == 0 ? hf_point(right * two[i], 0) : hf_point(0, up * two[i]);
    Grip grip = {hf_point_add(centre, off), centre};
    g_autofree char *name = g_strdup_printf("%s %s", sides[i], field->grip.name);
    begin_handle(h, field->key, i, "radius", name, &grip, unit);
    hf_json_number(h->json, "value", two[i] / hf_unit_mm(unit), MM);
    hf_json_close(h->json);
  }
}

static void
write_lengths(Handling *h)
{
  for (const HfField *field = hf_entry_row(h->entry)->table.fields; field->key != NULL; field++) {
    if (field->grip.at == HF_GRIP_NONE || !hf_entry_says(h->entry, field->key))
      continue;
    if (field->type == HF_FIELD_POINT)
      write_two(h, field);
    else
      write_length(h, field);
  }
}

/* ---- places -------------------------------------------------------------------------------- */

static void
write_move(Handling *h, const char *key, int copy, HfPoint at, double x, double y)
{
  const char *unit = hf_entry_unit(h->entry, key);
  Grip grip = {at, at};
  begin_handle(h, key, copy, "move", "place", &grip, unit);
  write_xy(h->json, "value", x / hf_unit_mm(unit), y / hf_unit_mm(unit));
  hf_json_close(h->json);
}

static void
write_turn(Handling *h, int copy, HfPoint at, double angle)
{
  HfPoint centre = middle_of_round(h);
  Grip grip = {hf_point_polar(centre, hf_point_distance(centre, at), angle), centre};
  begin_handle(h, "at", copy, "turn", "place", &grip, "deg");
  hf_json_number(h->json, "value", angle * 180 / G_PI, MM);
  hf_json_close(h->json);
}

/* Where copy @copy of the entry stands. */
static gboolean
place_of_copy(const Handling *h, guint copy, HfPoint *ret_at)
{
  HfBox box = HF_BOX_EMPTY;
  if (hf_entry_is(h->entry, HF_KIND_GROUP))
    box = copy == 0 ? h->box : HF_BOX_EMPTY;
  for (guint i = 0; i < h->what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(h->what->layout, i);
    if (shape->entry == h->index && shape->copy == copy)
      box = hf_box_union(box, hf_outline_box(shape->outline));
  }
  *ret_at = hf_box_centre(box);
  return !hf_box_is_empty(box);
}

static void
write_spots(Handling *h)
{
  const GArray *spots = h->entry->place.at;
  HfPoint at;
  if (goes_round(h->entry)) {
    at = hf_point(h->shape->em.x0, h->shape->em.y0);
    if (spots == NULL || spots->len == 0)
      write_turn(h, -1, at, G_PI_2);
    else if (spots->len == 1 && g_array_index(spots, HfSpot, 0).kind == HF_SPOT_DIRECTION)
      write_turn(h, -1, at, g_array_index(spots, HfSpot, 0).angle);
    return;
  }
  for (guint i = 0; spots != NULL && i < spots->len && h->written < MOST; i++) {
    const HfSpot *spot = &g_array_index(spots, HfSpot, i);
    int copy = spots->len > 1 ? (int)i : -1;
    if (!place_of_copy(h, i, &at))
      continue;
    if (spot->kind == HF_SPOT_DIRECTION)
      write_turn(h, copy, at, spot->angle);
    else if (spot->kind == HF_SPOT_POINT)
      write_move(h, "at", copy, at, spot->point.x, spot->point.y);
  }
}

static gboolean
has_point(const HfEntry *entry)
{
  const GArray *spots = entry->place.at;
  for (guint i = 0; spots != NULL && i < spots->len; i++)
    if (g_array_index(spots, HfSpot, i).kind == HF_SPOT_POINT)
      return TRUE;
  return FALSE;
}

/* What has a place of its own; what goes round something or stands at a point is moved by that.
 * Rings and plates are what the rest stands on, members are placed by their group: only where it is
 * said already. */
static void
write_shift(Handling *h)
{
  const HfEntry *entry = h->entry;
  gboolean ground = hf_entry_is(entry, HF_KIND_GROUND) || h->group_of[h->index] >= 0;
  ground = ground && !hf_entry_says(entry, "shift");
  if (hf_table_field(&hf_entry_row(entry)->table, "shift") == NULL)
    return;
  if (goes_round(entry) || has_point(entry) || hf_entry_is(entry, HF_KIND_PIN) || ground)
    return;
  HfPoint shift = shift_of(entry);
  write_move(h, "shift", -1, hf_box_centre(h->box), shift.x, shift.y);
}

/* ---- all ----------------------------------------------------------------------------------- */

/* Of each entry its group and its box, that of a group about all that it places. */
static void
look_round(Handling *h)
{
  const HfRecipe *recipe = h->what->recipe;
  h->group_of = g_new(gint, recipe->entries->len);
  h->boxes = g_new(HfBox, recipe->entries->len);
  for (guint i = 0; i < recipe->entries->len; i++) {
    h->group_of[i] = hf_recipe_group(recipe, i);
    h->boxes[i] = HF_BOX_EMPTY;
  }
  for (guint i = 0; i < h->what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(h->what->layout, i);
    HfBox box = hf_outline_box(shape->outline);
    gint at = (gint)shape->entry;
    for (guint depth = 0; at >= 0 && depth <= recipe->entries->len; depth++) {
      h->boxes[at] = hf_box_union(h->boxes[at], box);
      at = h->group_of[at];
    }
  }
}

/* The middle letter stands for words; else the first shape. */
static gboolean
find_shape(Handling *h)
{
  guint first = 0, n = 0;
  h->box = h->boxes[h->index];
  if (hf_entry_is(h->entry, HF_KIND_GROUP))
    return !hf_box_is_empty(h->box);
  for (guint i = 0; i < h->what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(h->what->layout, i);
    if (shape->entry != h->index)
      continue;
    if (n++ == 0)
      first = i;
  }
  if (n == 0 || hf_box_is_empty(h->box))
    return FALSE;
  gboolean letters = h->entry->kind == HF_ENTRY_WORDS;
  h->shape = hf_layout_shape(h->what->layout, first + (letters ? (n - 1) / 2 : 0));
  return h->shape->entry == h->index;
}

void
hf_handles_write(HfJson *json, const HfSign *what)
{
  Handling h = {.json = json, .what = what};
  look_round(&h);
  hf_json_open(json, "handles", '[');
  for (guint i = 0; i < what->recipe->entries->len && h.written < MOST; i++) {
    h.index = i;
    h.entry = hf_recipe_at(what->recipe, i);
    if (hf_entry_is(h.entry, HF_KIND_RULE) || !find_shape(&h))
      continue;
    write_lengths(&h);
    write_spots(&h);
    write_shift(&h);
  }
  hf_json_close(json);
  g_free(h.group_of);
  g_free(h.boxes);
}
