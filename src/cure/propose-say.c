/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-say.c - edits and their values, said as the user wrote: 3/4 in stays inches.
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"
#include <string.h>

/* ---- units ----------------------------------------------------------------------------------- */

/* A step that a rule can show: 0.25 mm is 0.01 in. */
static double
step_in(const char *unit, double step_mm)
{
  static const double inches[] = {0.005, 0.01, 0.02, 0.05, 0.1};
  if (strcmp(unit, "in") != 0)
    return fmax(step_mm / hf_unit_mm(unit), 1e-4);
  guint i = 0;
  while (i + 1 < G_N_ELEMENTS(inches) && inches[i] * 25.4 < step_mm)
    i++;
  return inches[i];
}

/* As fine as a rule shows a place; the knob's own step is coarser. */
static int
decimals_in(const char *unit)
{
  return strcmp(unit, "m") == 0 ? 4 : strcmp(unit, "in") == 0 ? 3 : 2;
}

static HfNode *
number(double mm, const char *unit)
{
  return hf_node_new_number(mm / hf_unit_mm(unit), 0, decimals_in(unit), unit);
}

HfNode *
hf_say_mm(const HfEntry *entry, const char *key, double mm)
{
  return number(mm, entry != NULL ? hf_entry_unit(entry, key) : "mm");
}

HfNode *
hf_say_rough(const HfEntry *entry, const char *key, double mm)
{
  double step = strcmp(hf_entry_unit(entry, key), "in") == 0 ? 25.4 / 20 : 1;
  return hf_say_mm(entry, key, ceil(mm / step - 1e-6) * step);
}

HfNode *
hf_say_point(const HfEntry *entry, const char *key, HfPoint at)
{
  return hf_node_new_list(hf_say_mm(entry, key, at.x), hf_say_mm(entry, key, at.y), NULL);
}

HfNode *
hf_say_angle(double angle, int decimals)
{
  return hf_node_new_number(angle * 180 / G_PI, 0, decimals, "deg");
}

/* ---- names and ways ---------------------------------------------------------------------------
 */

static gboolean
is_only_one(const HfRecipe *recipe, const HfEntry *entry)
{
  guint n = 0;
  for (guint i = 0; i < recipe->entries->len; i++)
    n += hf_entry_row(hf_recipe_at(recipe, i)) == hf_entry_row(entry);
  return n == 1;
}

static char *
called(const HfRecipe *recipe, const HfEntry *entry)
{
  if (hf_entry_is_named(entry))
    return entry->kind == HF_ENTRY_INITIAL ? g_strconcat("the initial ", entry->name, NULL)
                                           : g_strdup(entry->name);
  return is_only_one(recipe, entry) ? g_strconcat("the ", hf_entry_word(entry), NULL)
                                    : g_strdup(entry->name);
}

GPtrArray *
hf_say_called(const HfRecipe *recipe)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < recipe->entries->len; i++)
    g_ptr_array_add(names, called(recipe, hf_recipe_at(recipe, i)));
  return names;
}

const char *
hf_proposing_called(const HfProposing *asked, const HfEntry *entry)
{
  for (guint i = 0; i < asked->called->len; i++)
    if (hf_proposing_entry(asked, i) == entry)
      return asked->called->pdata[i];
  g_assert_not_reached();
}

HfNode *
hf_say_names(const char *const *names, guint n)
{
  HfNode *list = hf_node_new_empty_list();
  for (guint i = 0; i < n; i++)
    hf_node_add(list, hf_node_new_text(names[i]));
  return list;
}

char *
hf_say_new_name(const HfProposing *asked, const char *wanted)
{
  char *name = g_strdup(wanted);
  for (guint i = 2; hf_recipe_entry(asked->sign->recipe, name) != NULL; i++) {
    g_free(name);
    name = g_strdup_printf("%s %u", wanted, i);
  }
  return name;
}

HfNode *
hf_say_new(const HfProposing *asked, const char *wanted)
{
  g_autofree char *name = hf_say_new_name(asked, wanted);
  return hf_node_new_text(name);
}

const char *
hf_say_way(HfPoint way)
{
  static const char *const ways[] = {
      "to the right", "up and to the right",  "up",   "up and to the left",
      "to the left",  "down and to the left", "down", "down and to the right"};
  int eighth = (int)rint(hf_angle_of(way) / (G_PI / 4));
  return ways[(eighth + 8) % 8];
}

/* ---- proposals --------------------------------------------------------------------------------
 */

HfProposal *
hf_propose(HfProposing *asked, GArray *aims, HfPhrase phrase)
{
  if (aims->len == 0) {
    g_array_unref(aims);
    hf_phrase_clear(&phrase);
    return NULL;
  }
  HfProposal *proposal = hf_proposal_new(asked->family, phrase);
  g_array_unref(proposal->targets);
  proposal->targets = aims;
  g_ptr_array_add(asked->found, proposal);
  return proposal;
}

void
hf_propose_knob_free(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                     double least, double most, double step)
{
  const char *unit = hf_entry_unit(entry, key);
  double mm = hf_unit_mm(unit), fine = step_in(unit, step), way = most > least ? 1 : -1;
  proposal->unit = unit;
  proposal->step = fine;
  proposal->from = now / mm;
  proposal->least = way * ceil(way * least / mm / fine - 1e-6) * fine;
  proposal->most = way * floor(way * most / mm / fine + 1e-6) * fine;
  if (way * proposal->most < way * proposal->least)
    proposal->most = proposal->least;
}

void
hf_propose_knob(HfProposal *proposal, const HfEntry *entry, const char *key, double now,
                double least, double most, double step)
{
  hf_propose_knob_free(proposal, entry, key, now, CLAMP(least, HF_RECIPE_MIN_MM, HF_RECIPE_MAX_MM),
                       CLAMP(most, HF_RECIPE_MIN_MM, HF_RECIPE_MAX_MM), step);
}

void
hf_propose_knob_share(HfProposal *proposal, double now, double least, double most)
{
  double way = most > least ? 1 : -1;
  proposal->unit = "%";
  proposal->step = 1;
  proposal->from = 100 * now;
  proposal->least = way * ceil(way * 100 * least - 1e-6);
  proposal->most = way * floor(way * 100 * most + 1e-6);
  if (way * proposal->most < way * proposal->least)
    proposal->most = proposal->least;
}

/* ---- edits -------------------------------------------------------------------------------------
 */

static HfPath *
path_of(const HfProposing *asked, guint entry, const char *key)
{
  const char *kind = hf_entry_word(hf_proposing_entry(asked, entry));
  return hf_path(HF_KEY("entries"), HF_ITEM(entry), HF_KEY(kind), HF_KEY(key));
}

void
hf_propose_set(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key,
               HfNode *value)
{
  hf_edits_add(proposal->edits, HF_EDIT_SET, path_of(asked, entry, key), value);
}

void
hf_propose_turn(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key)
{
  hf_propose_set(asked, proposal, entry, key, hf_proposal_knob(proposal));
}

void
hf_propose_place(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy,
                 HfNode *value)
{
  const GArray *at = hf_proposing_entry(asked, entry)->place.at;
  HfPath *path = path_of(asked, entry, "at");
  if (at != NULL && at->len > 1)
    hf_path_add(path, HF_ITEM(copy));
  hf_edits_add(proposal->edits, HF_EDIT_SET, path, value);
}

void
hf_propose_take_out(const HfProposing *asked, HfProposal *proposal, guint entry, const char *key)
{
  hf_edits_add(proposal->edits, HF_EDIT_REMOVE, path_of(asked, entry, key), NULL);
}

void
hf_propose_take_out_entry(HfProposal *proposal, guint entry)
{
  hf_edits_add(proposal->edits, HF_EDIT_REMOVE, hf_path(HF_KEY("entries"), HF_ITEM(entry)), NULL);
}

void
hf_propose_append(HfProposal *proposal, HfNode *entry)
{
  hf_edits_add(proposal->edits, HF_EDIT_INSERT, hf_path(HF_KEY("entries")), entry);
}

/* ---- moving -----------------------------------------------------------------------------------
 */

/* To so many decimals: what is said, and what moves from there, agree. */
static double
rounded(double value, int decimals)
{
  double ten = pow(10, decimals);
  return rint(value * ten) / ten;
}

/* What moves aslant is as fine as matters. */
HfNode *
hf_say_slide(const HfProposal *proposal, double mm, double way, const char *unit)
{
  double at = mm / hf_unit_mm(unit);
  int fine = strcmp(unit, "mm") == 0 ? 2 : 4;
  if (way == 0)
    return hf_node_new_number(at, 0, fine, unit);
  double each = way * hf_unit_mm(proposal->unit) / hf_unit_mm(unit);
  return hf_node_new_number(rounded(at, fine), rounded(each, 6), strcmp(unit, "in") == 0 ? 3 : 2,
                            unit);
}

static HfNode *
pair(const HfProposal *proposal, HfPoint at, HfPoint way, const char *unit)
{
  return hf_node_new_list(hf_say_slide(proposal, at.x, way.x, unit),
                          hf_say_slide(proposal, at.y, way.y, unit), NULL);
}

/* Its own centre is the origin of its frame. */
static gboolean
has_plain_frame(const HfEntry *entry)
{
  gboolean turned = !isnan(entry->place.turn) && entry->place.turn != 0;
  if (turned || (entry->place.at != NULL && entry->place.at->len > 1))
    return FALSE;
  if (entry->kind == HF_ENTRY_PLATE)
    return entry->plate.shape == HF_PLATE_ROUND || entry->plate.shape == HF_PLATE_OVAL ||
           entry->plate.shape == HF_PLATE_RECTANGLE || entry->plate.shape == HF_PLATE_ROUNDED;
  return entry->kind == HF_ENTRY_RING || entry->kind == HF_ENTRY_BAR;
}

/* Where the place on `on` that is called 0, 0 lies in the sign. */
static gboolean
origin_of(const HfProposing *asked, const HfEntry *entry, HfPoint *ret_origin)
{
  *ret_origin = hf_point(0, 0);
  if (entry->place.on == NULL)
    return TRUE;
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (strcmp(hf_proposing_entry(asked, i)->name, entry->place.on) == 0) {
      *ret_origin = hf_box_centre(hf_proposing_box(asked, i, -1));
      return has_plain_frame(hf_proposing_entry(asked, i));
    }
  return FALSE;
}

/* One of several copies: its place in the list. */
static gboolean
move_copy(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy, HfPoint by,
          HfPoint way)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (copy >= e->place.at->len)
    return FALSE;
  const HfSpot *spot = &g_array_index(e->place.at, HfSpot, copy);
  const char *unit = hf_entry_unit(e, "at");
  HfPoint at = spot->point, origin;
  if (spot->kind != HF_SPOT_POINT) {
    if (e->kind != HF_ENTRY_HOLE || !origin_of(asked, e, &origin))
      return FALSE;
    at = hf_point_sub(hf_box_centre(hf_proposing_box(asked, entry, (gint)copy)), origin);
    if (!isnan(e->place.shift_x))
      at = hf_point_sub(at, hf_point(e->place.shift_x, e->place.shift_y));
  }
  hf_propose_place(asked, proposal, entry, copy, pair(proposal, hf_point_add(at, by), way, unit));
  return TRUE;
}

gboolean
hf_propose_move(const HfProposing *asked, HfProposal *proposal, guint entry, guint copy, HfPoint by,
                HfPoint way)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  const HfPlace *place = &e->place;
  guint n = place->at != NULL ? place->at->len : 0;
  gboolean fixture = hf_entry_is(e, HF_KIND_EDGE);
  if (hf_entry_is(e, HF_KINDS_LAST))
    return FALSE;
  if (n > 1)
    return move_copy(asked, proposal, entry, copy, by, way);
  const HfSpot *spot = n == 1 ? &g_array_index(place->at, HfSpot, 0) : NULL;
  if (spot != NULL && spot->kind == HF_SPOT_POINT) {
    hf_propose_place(asked, proposal, entry, copy,
                     pair(proposal, hf_point_add(spot->point, by), way, hf_entry_unit(e, "at")));
    return TRUE;
  }
  if (fixture)
    return FALSE;
  HfPoint shift = {isnan(place->shift_x) ? 0 : place->shift_x,
                   isnan(place->shift_y) ? 0 : place->shift_y};
  hf_propose_set(asked, proposal, entry, "shift",
                 pair(proposal, hf_point_add(shift, by), way, hf_entry_unit(e, "shift")));
  return TRUE;
}
