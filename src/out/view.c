/* SPDX-License-Identifier: GPL-3.0-or-later
 * view.c - one sign as JSON for the page.
 *
 * The metal is drawn ring by ring: an outer ring with its openings is one path. A part (hold/) is
 * smaller where a joint is too weak to count, so a ring may hold several parts: it is loose when
 * all of them are.
 */
#include "out/view.h"
#include "base/json.h"
#include "base/text.h"
#include "out/handles-private.h"
#include "out/outlines-private.h"
#include "out/path-private.h"
#include "out/picture-private.h"
#include "out/say-private.h"
#include "recipe/kind.h"

enum {
  MM = 4, /* digits behind the point: the grid is 0.1 um */
  DRAWN = 4,
  OUTLINED = 2, /* an entry's own outline only lights up under the pointer */
  MOST_WEBS = 2000,
  MOST_OUTLINED = 1500, /* shapes of all entries together */
};

static void
write_xy(HfJson *json, const char *key, HfPoint at)
{
  hf_json_line(json, key, '[');
  hf_json_number(json, NULL, at.x, MM);
  hf_json_number(json, NULL, at.y, MM);
  hf_json_close(json);
}

static void
write_box(HfJson *json, const char *key, HfBox box)
{
  if (hf_box_is_empty(box)) {
    hf_json_text(json, key, NULL);
    return;
  }
  hf_json_line(json, key, '[');
  hf_json_number(json, NULL, box.min.x, MM);
  hf_json_number(json, NULL, box.min.y, MM);
  hf_json_number(json, NULL, box.max.x, MM);
  hf_json_number(json, NULL, box.max.y, MM);
  hf_json_close(json);
}

/* ---- the metal ----------------------------------------------------------------------------- */

/* What hold/ says of the metal within one outer ring. */
typedef struct {
  const HfPart *largest;
  gboolean body, loose;
} Within;

static Within
find_within(const HfSign *what, const HfRing *ring)
{
  Within within = {NULL, FALSE, TRUE};
  HfBox box = hf_box_grow(hf_ring_box(ring), 0.1);
  for (guint i = 0; i < what->hold->parts->len; i++) { /* the largest first */
    const HfPart *part = &g_array_index(what->hold->parts, HfPart, i);
    if (!hf_box_contains(box, part->box.min) || !hf_box_contains(box, part->box.max) ||
        !hf_outlines_part_made(part, ring))
      continue;
    if (within.largest == NULL)
      within.largest = part;
    within.body |= part->body;
    within.loose &= part->loose;
  }
  within.loose &= within.largest != NULL;
  return within;
}

static double
write_contours(HfPath *path, const HfSign *what, guint ring)
{
  const HfRegion *region = what->metal->region;
  double area = hf_ring_area(hf_region_ring(region, ring));
  hf_path_contour(path, what->fit->outline, ring);
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent == (gint)ring) {
      hf_path_contour(path, what->fit->outline, i);
      area += hf_ring_area(hf_region_ring(region, i)); /* openings run clockwise: less than 0 */
    }
  return area;
}

static void
write_parts(HfJson *json, const HfSign *what)
{
  const HfRegion *region = what->metal->region;
  g_autoptr(GString) text = g_string_sized_new(1 << 16);
  HfPath path = {text, {0, 0}, DRAWN};
  hf_json_open(json, "parts", '[');
  for (guint i = 0; i < region->rings->len; i++) {
    const HfRing *ring = hf_region_ring(region, i);
    if (ring->parent >= 0)
      continue;
    g_string_truncate(text, 0);
    double area = write_contours(&path, what, i);
    Within within = find_within(what, ring);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "d", text->str);
    hf_json_text(json, "name", within.largest != NULL ? within.largest->name : "metal");
    hf_json_number(json, "area", area, MM);
    hf_json_bool(json, "loose", within.loose);
    hf_json_bool(json, "body", within.body);
    write_box(json, "box", hf_ring_box(ring));
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_colour(HfJson *json, const char *key, guint rgb)
{
  g_autofree char *text = g_strdup_printf("#%06x", rgb);
  hf_json_text(json, key, text);
}

/* What the recipe says of the finish of a sheet; null where it doesn't, and the page has its own.
 */
static void
write_surface(HfJson *json, const HfSign *sheet)
{
  HfSurface surface = hf_finish_surface(&sheet->recipe->finish, sheet->hold->process.metal);
  static const char *const textures[] = {
      [HF_TEXTURE_NONE] = "none", [HF_TEXTURE_BRUSHED] = "brushed", [HF_TEXTURE_RUST] = "rust"};
  g_autofree char *finish = hf_finish_text(&sheet->recipe->finish);
  hf_json_text(json, "finish", finish);
  hf_json_line(json, "face", '[');
  for (gsize i = 0; i < G_N_ELEMENTS(surface.tones); i++)
    write_colour(json, NULL, surface.tones[i]);
  hf_json_close(json);
  write_colour(json, "light", surface.light);
  write_colour(json, "dark", surface.dark);
  hf_json_text(json, "texture", textures[surface.texture]);
}

/* Of a sign of several sheets those behind the front, the hindmost first. */
static void
write_behind(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "behind", '[');
  for (guint i = hf_sign_n_layers(what); i-- > 1;) {
    const HfSign *layer = hf_sign_layer(what, i);
    HfLayerAt at = layer->recipe->in_layer;
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "layer", hf_layer_word(at));
    hf_json_bool(json, "whole", layer->hold->whole);
    hf_json_text(json, "metal", layer->hold->process.metal);
    hf_json_number(json, "thickness", layer->hold->process.thickness, MM);
    hf_json_number(json, "behind", what->recipe->layers[at].behind, MM);
    write_surface(json, layer);
    write_parts(json, layer);
    hf_json_close(json);
  }
  hf_json_close(json);
}

/* ---- webs, ties ---------------------------------------------------------------------------- */

static const char *
level_of(const HfHold *hold, const HfWeb *web)
{
  gboolean is_long = web->length > hold->figures[HF_FIGURE_LONG_WEB] * web->width;
  HfLawKind kind = web->joint ? HF_LAW_WEAK_JOINT
                   : is_long  ? HF_LAW_THIN_LONG_WEB
                              : HF_LAW_THIN_WEB;
  HfGravity gravity;
  double limit;
  if (!hf_law_weigh(kind, hold->limits[kind], web->width, &gravity, &limit))
    return "ok";
  return hf_say_gravity(gravity);
}

/* The middle line: [[x, y, width, x, y, width ...], ...], a list for each stretch. */
static void
write_spots(HfJson *json, const HfHold *hold, const HfWeb *web)
{
  g_autoptr(GString) text = g_string_new("[");
  for (guint i = 0; i < web->n_spots; i++) {
    const HfWebSpot *spot = &g_array_index(hold->spots, HfWebSpot, web->first_spot + i);
    g_string_append(text, !spot->first ? "," : i > 0 ? "],[" : "[");
    hf_text_append(text, spot->at.x, 3);
    g_string_append_c(text, ',');
    hf_text_append(text, spot->at.y, 3);
    g_string_append_c(text, ',');
    hf_text_append(text, spot->width, 3);
  }
  g_string_append(text, web->n_spots > 0 ? "]]" : "]");
  hf_json_raw(json, "axis", text->str, text->len);
}

static void
write_webs(HfJson *json, const HfHold *hold)
{
  hf_json_open(json, "webs", '[');
  for (guint i = 0; i < hold->webs->len && i < MOST_WEBS; i++) { /* thinnest first */
    const HfWeb *web = &g_array_index(hold->webs, HfWeb, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "x", web->at.x, MM);
    hf_json_number(json, "y", web->at.y, MM);
    hf_json_number(json, "ax", web->foot_a.x, MM);
    hf_json_number(json, "ay", web->foot_a.y, MM);
    hf_json_number(json, "bx", web->foot_b.x, MM);
    hf_json_number(json, "by", web->foot_b.y, MM);
    hf_json_number(json, "width", web->width, MM);
    hf_json_number(json, "length", web->length, MM);
    hf_json_text(json, "form", web->form);
    hf_json_bool(json, "joint", web->joint);
    hf_json_text(json, "level", level_of(hold, web));
    write_spots(json, hold, web);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_tie(HfJson *json, guint entry, HfPoint from, HfPoint to, double width, const char *label)
{
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "entry", entry, 0);
  hf_json_number(json, "x0", from.x, MM);
  hf_json_number(json, "y0", from.y, MM);
  hf_json_number(json, "x1", to.x, MM);
  hf_json_number(json, "y1", to.y, MM);
  hf_json_number(json, "width", width, MM);
  hf_json_text(json, "label", label);
  hf_json_close(json);
}

/* A pin is a bar of four sides: its middle line runs between the middles of the two short ones. */
static void
write_pin(HfJson *json, const HfShape *shape)
{
  guint n;
  if (hf_outline_n_contours(shape->outline) != 1)
    return;
  const HfCurve *side = hf_outline_contour(shape->outline, 0, &n);
  if (n != 4)
    return;
  double a = hf_point_distance(side[0].p0, side[0].p1);
  double b = hf_point_distance(side[1].p0, side[1].p1);
  guint first = a < b ? 0 : 1;
  write_tie(json, shape->entry, hf_point_mix(side[first].p0, side[first].p1, 0.5),
            hf_point_mix(side[first + 2].p0, side[first + 2].p1, 0.5), fmin(a, b), shape->label);
}

static void
write_ties(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "ties", '[');
  for (guint i = 0; i < what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(what->layout, i);
    const HfEntry *entry = hf_recipe_at(what->recipe, shape->entry);
    if (hf_entry_is(entry, HF_KIND_PIN))
      write_pin(json, shape);
  }
  for (guint i = 0; i < what->works->len; i++) {
    const HfWork *work = hf_sign_work(what, i);
    for (guint j = 0; j < work->ties->len; j++) {
      const HfTie *tie = &g_array_index(work->ties, HfTie, j);
      write_tie(json, work->entry, tie->from, tie->to, tie->width, tie->label);
    }
  }
  hf_json_close(json);
}

/* What the arc burns off at pointed ends, as the proof draws it. */
static void
write_burnt(HfJson *json, const HfSign *what, const HfCancel *cancel)
{
  g_autoptr(GPtrArray) burnt = hf_picture_burnt(what, cancel);
  g_autoptr(GString) text = g_string_new(NULL);
  HfPath path = {text, {0, 0}, OUTLINED};
  hf_json_line(json, "burnt", '[');
  for (guint i = 0; i < burnt->len; i++) {
    g_autoptr(HfOutline) outline = hf_region_chords(g_ptr_array_index(burnt, i));
    g_string_truncate(text, 0);
    for (guint c = 0; c < hf_outline_n_contours(outline); c++)
      hf_path_contour(&path, outline, c);
    hf_json_text(json, NULL, text->str);
  }
  hf_json_close(json);
}

/* ---- what was found ------------------------------------------------------------------------ */

static void
write_finding(HfJson *json, const HfFinding *finding, guint number)
{
  static const char *const about[] = {[HF_MEASURES_METAL] = "metal",
                                      [HF_MEASURES_GAP] = "gap",
                                      [HF_MEASURES_OPENING] = "opening",
                                      [HF_MEASURES_PART] = "part",
                                      [HF_MEASURES_OTHER] = "other"};
  const HfLaw *law = hf_law(finding->kind);
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "id", number, 0);
  hf_json_text(json, "law", law->key);
  hf_json_text(json, "about", about[law->measures]);
  hf_json_text(json, "gravity", hf_say_gravity(finding->gravity));
  hf_json_text(json, "where", finding->where);
  hf_json_text(json, "what", finding->what);
  hf_json_text(json, "fix", finding->fix);
  hf_json_text(json, "text", finding->text);
  hf_json_number(json, "measured", finding->measured, MM);
  hf_json_number(json, "limit", finding->limit, MM);
  hf_json_text(json, "unit", law->unit);
  hf_json_text(json, "bound", law->at_least ? "at least" : "at most");
  hf_json_text(json, "said_by", hf_law_said_by(finding->kind, finding->said_by, finding->coupon));
  hf_json_text(json, "why", law->why);
  g_autofree char *fixed = hf_law_formula(law, finding->gravity == HF_STOP);
  g_autofree char *formula = hf_text_told(fixed);
  hf_json_text(json, "formula", formula);
  hf_json_text(json, "form", finding->form);
  hf_json_text(json, "accepted", finding->accepted);
  write_box(json, "box", finding->box);
  hf_json_line(json, "places", '[');
  for (guint i = 0; i < finding->places->len; i++)
    write_xy(json, NULL, g_array_index(finding->places, HfPoint, i));
  hf_json_close(json);
  hf_json_line(json, "entries", '[');
  for (guint i = 0; i < finding->entries->len; i++)
    hf_json_number(json, NULL, g_array_index(finding->entries, guint, i), 0);
  hf_json_close(json);
  hf_json_line(json, "cures_known", '[');
  for (guint i = 0; law->cures != NULL && law->cures[i] != NULL; i++)
    hf_json_text(json, NULL, law->cures[i]);
  hf_json_close(json);
  hf_json_close(json);
}

static void
write_findings(HfJson *json, const HfHold *hold)
{
  hf_json_open(json, "findings", '[');
  for (guint i = 0; i < hold->findings->len; i++)
    write_finding(json, g_ptr_array_index(hold->findings, i), i);
  hf_json_close(json);
}

static void
write_verdict(HfJson *json, const HfSign *what)
{
  g_autofree char *sentence = hf_say_sentence(what->hold);
  HfTally tally = hf_say_tally(what->hold);
  hf_json_line(json, "verdict", '{');
  hf_json_bool(json, "whole", what->hold->whole);
  hf_json_text(json, "sentence", sentence);
  hf_json_number(json, "stops", tally.stops, 0);
  hf_json_number(json, "cautions", tally.cautions, 0);
  hf_json_number(json, "accepted", tally.accepted, 0);
  hf_json_number(json, "notes", tally.notes, 0);
  hf_json_close(json);
}

static void
write_figures(HfJson *json, const HfHold *hold)
{
  hf_json_line(json, "figures", '{');
  hf_json_number(json, "width", hf_box_width(hold->box), MM);
  hf_json_number(json, "height", hf_box_height(hold->box), MM);
  hf_json_number(json, "mass", hold->mass, 6);
  hf_json_number(json, "area", hold->area, 3);
  hf_json_number(json, "cut_length", hold->cut_length, MM);
  hf_json_number(json, "pierces", hold->pierces, 0);
  hf_json_number(json, "parts", hold->parts->len, 0);
  hf_json_close(json);
}

/* What the quiet scale of web widths runs between. */
static void
write_limits(HfJson *json, const HfHold *hold)
{
  static const struct {
    const char *name;
    HfLawKind kind;
  } shown[] = {{"web", HF_LAW_THIN_WEB},
               {"long_web", HF_LAW_THIN_LONG_WEB},
               {"joint", HF_LAW_WEAK_JOINT},
               {"gap", HF_LAW_NARROW_GAP},
               {"hole", HF_LAW_SMALL_HOLE}};
  hf_json_line(json, "limits", '{');
  for (gsize i = 0; i < G_N_ELEMENTS(shown); i++) {
    const HfLimit *limit = &hold->limits[shown[i].kind];
    hf_json_line(json, shown[i].name, '{');
    hf_json_number(json, "stop", limit->stop, MM);
    hf_json_number(json, "caution", limit->caution, MM);
    hf_json_text(json, "said_by", hf_law_said_by(shown[i].kind, limit->said_by, limit->coupon));
    hf_json_close(json);
  }
  hf_json_close(json);
}

/* ---- the entries --------------------------------------------------------------------------- */

static gboolean
write_outline(HfJson *json, const HfSign *what, guint entry)
{
  g_autoptr(GString) text = g_string_new(NULL);
  HfPath path = {text, {0, 0}, OUTLINED};
  for (guint i = 0; i < what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(what->layout, i);
    for (guint j = 0; shape->entry == entry && j < hf_outline_n_contours(shape->outline); j++)
      hf_path_contour(&path, shape->outline, j);
  }
  hf_json_text(json, "outline", text->len > 0 ? text->str : NULL);
  return text->len > 0;
}

static void
write_entries(HfJson *json, const HfSign *what)
{
  gboolean outlined = what->layout->shapes->len <= MOST_OUTLINED;
  g_autoptr(GArray) sizes = hf_sign_sizes(what, FALSE);
  hf_json_open(json, "entries", '[');
  for (guint i = 0; i < what->recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(what->recipe, i);
    const HfEntrySize *size = &g_array_index(sizes, HfEntrySize, i);
    HfBox box = size->box;
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "index", i, 0);
    hf_json_text(json, "name", entry->name);
    hf_json_text(json, "kind", hf_entry_word(entry));
    write_box(json, "box", box);
    if (hf_box_is_empty(box))
      hf_json_text(json, "centre", NULL);
    else
      write_xy(json, "centre", hf_box_centre(box));
    hf_json_number(json, "clear", size->clear, MM);
    hf_json_text(json, "clear_from",
                 size->from < 0 ? NULL : hf_recipe_at(what->recipe, (guint)size->from)->name);
    if (outlined)
      write_outline(json, what, i);
    else
      hf_json_text(json, "outline", NULL);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_solved(HfJson *json, const HfLayout *layout)
{
  hf_json_open(json, "solved", '[');
  for (guint i = 0; i < layout->solved->len; i++) {
    const HfSolved *solved = &g_array_index(layout->solved, HfSolved, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "entry", solved->entry, 0);
    hf_json_text(json, "what", hf_solved_name(solved->what));
    hf_json_number(json, "value", solved->value, 6);
    hf_json_text(json, "unit", hf_solved_is_share(solved->what) ? "share" : "mm");
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_hangs(HfJson *json, const HfLayout *layout)
{
  static const char *const kinds[] = {
      [HF_HANG_HOLE] = "hole", [HF_HANG_FOOT] = "foot", [HF_HANG_STAKE] = "stake"};
  hf_json_open(json, "hangs", '[');
  for (guint i = 0; i < layout->hangs->len; i++) {
    const HfHang *hang = &g_array_index(layout->hangs, HfHang, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "kind", kinds[hang->kind]);
    hf_json_number(json, "x", hang->at.x, MM);
    hf_json_number(json, "y", hang->at.y, MM);
    hf_json_number(json, "diameter", hang->kind == HF_HANG_HOLE ? hang->diameter : NAN, MM);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_studs(HfJson *json, const HfHold *hold)
{
  hf_json_open(json, "studs", '[');
  for (guint i = 0; i < hold->studs->len; i++) {
    const HfStud *stud = &g_array_index(hold->studs, HfStud, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "x", stud->at.x, MM);
    hf_json_number(json, "y", stud->at.y, MM);
    hf_json_number(json, "diameter", stud->diameter, MM);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_notes(HfJson *json, const HfLayout *layout)
{
  hf_json_line(json, "notes", '[');
  for (guint i = 0; i < layout->notes->len; i++)
    hf_json_text(json, NULL, g_ptr_array_index(layout->notes, i));
  hf_json_close(json);
}

/* How the front looks, and the wall. */
static void
write_look(HfJson *json, const HfSign *what)
{
  const HfWall *wall = &what->recipe->wall;
  g_autofree char *words = hf_wall_text(wall);
  hf_json_line(json, "look", '{');
  write_surface(json, what);
  hf_json_text(json, "wall", wall->kind == HF_WALL_UNSAID ? NULL : words);
  write_colour(json, "wall_tone", hf_wall_tone(wall));
  hf_json_close(json);
}

GBytes *
hf_out_view(const HfSign *what, guint64 revision, const HfCancel *cancel)
{
  g_return_val_if_fail(what != NULL && what->fit != NULL, NULL);
  const HfProcess *process = &what->hold->process;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "revision", (double)revision, 0);
  write_box(json, "box", what->hold->box);
  write_verdict(json, what);
  write_figures(json, what->hold);
  hf_json_text(json, "units", hf_units_are_inches() ? hf_units_word(hf_units_now()) : "mm");
  hf_json_number(json, "thickness", process->thickness, MM);
  hf_json_text(json, "metal", process->metal);
  write_look(json, what);
  hf_json_number(json, "kerf", process->kerf, MM);
  hf_json_text(json, "kerf_said_by", hf_say_kerf_said_by(what));
  write_limits(json, what->hold);
  write_parts(json, what);
  write_behind(json, what);
  write_webs(json, hf_sign_layer(what, 0)->hold);
  write_ties(json, what);
  write_burnt(json, what, cancel);
  write_findings(json, what->hold);
  write_entries(json, what);
  write_solved(json, what->layout);
  write_hangs(json, what->layout);
  write_studs(json, what->hold);
  write_notes(json, what->layout);
  hf_handles_write(json, what);
  hf_json_close(json);
  return hf_json_finish(json);
}
