/* SPDX-License-Identifier: GPL-3.0-or-later
 * report.c - report.json: everything that was found out, for other programs and for later runs.
 *
 * docs/report.md explains each key, docs/schema/report.schema.json is its schema; a test holds all
 * three together. A key is never taken away or given another meaning without a new version.
 * It carries nothing of the order: no customer, number or date.
 */
#include "base/json.h"
#include "out/format.h"
#include "out/mounts-private.h"
#include "out/say-private.h"
#include "recipe/kind.h"
#include "stock/cautions.h"

enum {
  VERSION = 1,
  MOST_WEBS = 200,
  MM = 4, /* digits behind the point: the grid is 0.1 um */
  MM2 = 3,
  KG = 6,
  DEGREES = 4,
  PLAIN = 6,
};

static void
write_point(HfJson *json, const char *key, HfPoint at)
{
  hf_json_line(json, key, '{');
  hf_json_number(json, "x", at.x, MM);
  hf_json_number(json, "y", at.y, MM);
  hf_json_close(json);
}

/* null when there is none */
static void
write_box(HfJson *json, const char *key, HfBox box)
{
  if (hf_box_is_empty(box)) {
    hf_json_text(json, key, NULL);
    return;
  }
  hf_json_line(json, key, '{');
  hf_json_number(json, "x", box.min.x, MM);
  hf_json_number(json, "y", box.min.y, MM);
  hf_json_number(json, "width", hf_box_width(box), MM);
  hf_json_number(json, "height", hf_box_height(box), MM);
  hf_json_close(json);
}

static void
write_texts(HfJson *json, const char *key, const GPtrArray *texts)
{
  hf_json_line(json, key, '[');
  for (guint i = 0; texts != NULL && i < texts->len; i++)
    hf_json_text(json, NULL, g_ptr_array_index(texts, i));
  hf_json_close(json);
}

static const char *
shape_label(const HfSign *what, guint shape)
{
  return shape < what->layout->shapes->len ? hf_layout_shape(what->layout, shape)->label : NULL;
}

static void
write_head(HfJson *json, const HfSign *what)
{
  g_autofree char *says = hf_say_sentence(what->hold);
  HfTally tally = hf_say_tally(what->hold);
  hf_json_number(json, "report", VERSION, 0);
  hf_json_line(json, "tool", '{');
  hf_json_text(json, "name", "holdfast");
  hf_json_text(json, "version", HF_VERSION);
  hf_json_close(json);
  hf_json_text(json, "sign", what->recipe->sign);
  hf_json_line(json, "recipe", '{');
  hf_json_text(json, "name", what->recipe->name);
  hf_json_number(json, "format", what->recipe->format, 0);
  hf_json_close(json);
  hf_json_text(json, "verdict", hf_say_verdict(what->hold));
  hf_json_text(json, "says", says);
  hf_json_line(json, "tally", '{');
  hf_json_number(json, "stops", tally.stops, 0);
  hf_json_number(json, "cautions", tally.cautions, 0);
  hf_json_number(json, "accepted", tally.accepted, 0);
  hf_json_number(json, "notes", tally.notes, 0);
  hf_json_close(json);
  hf_json_text(json, "outlines", HF_SAY_OUTLINES);
  hf_json_line(json, "units", '{');
  hf_json_text(json, "length", "mm");
  hf_json_text(json, "area", "mm2");
  hf_json_text(json, "mass", "kg");
  hf_json_text(json, "angle", "deg");
  HfUnits told = what->recipe->units;
  hf_json_text(json, "told", hf_units_word(told != HF_UNITS_UNSAID ? told : HF_UNITS_MM));
  hf_json_close(json);
}

static void
write_finish(HfJson *json, const HfSign *what)
{
  const HfFinish *finish = &what->recipe->finish;
  const HfColour *colour = hf_finish_colour(finish);
  g_autofree char *says = hf_finish_text(finish);
  g_autofree char *rgb = colour->said ? g_strdup_printf("#%06x", colour->rgb) : NULL;
  hf_json_line(json, "finish", '{');
  hf_json_text(json, "kind", hf_finish_word(finish->kind));
  hf_json_text(json, "says", says);
  hf_json_number(json, "ral", colour->ral != 0 ? (double)colour->ral : NAN, 0);
  hf_json_text(json, "colour", rgb);
  hf_json_number(json, "coat", hf_finish_coat(finish), MM);
  hf_json_close(json);
}

/* Which paper it will be agreed on, what was agreed, and whether it is the same. */
static void
write_proof(HfJson *json, const HfSign *what)
{
  const HfRecipe *recipe = what->recipe;
  g_autofree char *digest = hf_sign_digest(what);
  hf_json_open(json, "proof", '{');
  hf_json_text(json, "number", recipe->proof);
  hf_json_text(json, "revision", recipe->revision);
  hf_json_text(json, "digest", digest);
  hf_json_line(json, "agreed", '{');
  hf_json_text(json, "number", recipe->agreed.proof);
  hf_json_text(json, "revision", recipe->agreed.revision);
  hf_json_text(json, "digest", recipe->agreed.digest);
  if (recipe->agreed.digest != NULL)
    hf_json_bool(json, "same", hf_hold_is_agreed(recipe, digest));
  else
    hf_json_text(json, "same", NULL);
  hf_json_close(json);
  hf_json_close(json);
}

static void
write_figures(HfJson *json, const HfSign *what)
{
  const HfHold *hold = what->hold;
  hf_json_open(json, "figures", '{');
  hf_json_number(json, "parts", hold->parts->len, 0);
  hf_json_number(json, "area", hold->area, MM2);
  hf_json_number(json, "mass", hold->mass, KG);
  hf_json_number(json, "cut_length", hold->cut_length, MM);
  hf_json_number(json, "pierces", hold->pierces, 0);
  write_box(json, "box", hold->box);
  write_point(json, "centroid", hold->centroid);
  double slivers = 0;
  for (guint i = 0; i < hf_sign_n_layers(what); i++)
    slivers += hf_sign_layer(what, i)->metal->sliver_area;
  hf_json_number(json, "sliver_area", slivers, PLAIN);
  hf_json_close(json);
}

static void
write_said(HfJson *json, const char *key, double value, const char *said_by)
{
  hf_json_line(json, key, '{');
  hf_json_number(json, "value", value, MM);
  hf_json_text(json, "said_by", said_by);
  hf_json_close(json);
}

static void
write_process(HfJson *json, const HfSign *what)
{
  const HfProcess *process = &what->hold->process;
  hf_json_open(json, "process", '{');
  hf_json_text(json, "metal", process->metal);
  hf_json_number(json, "density", process->density, MM);
  write_said(json, "thickness", process->thickness,
             hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_RECIPE, NULL));
  write_said(json, "kerf", process->kerf, hf_say_kerf_said_by(what));
  write_said(json, "crater", process->crater, hf_say_crater_said_by(what));
  hf_json_close(json);
}

static void
write_limits(HfJson *json, const HfHold *hold)
{
  hf_json_open(json, "limits", '[');
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    const HfLimit *limit = &hold->limits[i];
    g_autofree char *quantity = hf_law_quantity(law);
    g_autofree char *stop = hf_law_formula(law, TRUE), *caution = hf_law_formula(law, FALSE);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "key", law->key);
    hf_json_text(json, "quantity", quantity);
    hf_json_text(json, "unit", law->unit);
    hf_json_text(json, "trouble", law->at_least ? "below" : "above");
    hf_json_text(json, "gravity", hf_say_gravity(law->gravity));
    hf_json_number(json, "stop", limit->stop, MM);
    hf_json_number(json, "caution", limit->caution, MM);
    hf_json_text(json, "stop_formula", stop);
    hf_json_text(json, "caution_formula", caution);
    hf_json_text(json, "said_by", hf_law_said_by((HfLawKind)i, limit->said_by, limit->coupon));
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_law_figures(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "law_figures", '[');
  for (guint i = 0; i < HF_N_FIGURES; i++) {
    HfSaidBy said_by;
    hf_law_figure((HfFigure)i, what->shop, what->recipe, &said_by);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "key", hf_law_figure_row((HfFigure)i)->key);
    hf_json_number(json, "value", what->hold->figures[i], MM);
    hf_json_text(json, "said_by",
                 hf_law_said_by(hf_law_figure_row((HfFigure)i)->law, said_by, NULL));
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_cures(HfJson *json, const HfLaw *law)
{
  hf_json_line(json, "cures", '[');
  for (guint i = 0; law->cures != NULL && law->cures[i] != NULL; i++)
    hf_json_text(json, NULL, law->cures[i]);
  hf_json_close(json);
}

/* Of a sign that is one sheet: null. */
static void
write_layer_word(HfJson *json, HfLayerAt layer)
{
  hf_json_text(json, "layer", layer != HF_LAYER_UNSAID ? hf_layer_word(layer) : NULL);
}

/* `number` is the one that the ring in the picture carries. */
static void
write_finding(HfJson *json, const HfFinding *finding, guint number)
{
  const HfLaw *law = hf_law(finding->kind);
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "number", number, 0);
  hf_json_text(json, "key", law->key);
  hf_json_text(json, "gravity", hf_say_gravity(finding->gravity));
  write_layer_word(json, finding->layer);
  hf_json_text(json, "text", finding->text);
  hf_json_text(json, "where", finding->where);
  hf_json_text(json, "what", finding->what);
  hf_json_text(json, "fix", finding->fix);
  write_point(json, "place", finding->at);
  hf_json_number(json, "measured", finding->measured, MM);
  hf_json_number(json, "limit", finding->limit, MM);
  hf_json_text(json, "unit", law->unit);
  hf_json_text(json, "said_by", hf_law_said_by(finding->kind, finding->said_by, finding->coupon));
  hf_json_text(json, "form", finding->form);
  write_texts(json, "names", finding->names);
  hf_json_number(json, "area", finding->area, MM2);
  hf_json_number(json, "mass", finding->mass, KG);
  hf_json_number(json, "reach", finding->reach, MM);
  write_box(json, "box", finding->box);
  write_cures(json, law);
  hf_json_text(json, "accepted", finding->accepted);
  hf_json_number(json, "count", finding->places->len, 0);
  hf_json_open(json, "places", '[');
  for (guint i = 0; i < finding->places->len; i++)
    write_point(json, NULL, g_array_index(finding->places, HfPoint, i));
  hf_json_close(json);
  hf_json_close(json);
}

static void
write_findings(HfJson *json, const HfHold *hold)
{
  hf_json_open(json, "findings", '[');
  for (guint i = 0; i < hold->findings->len; i++)
    write_finding(json, g_ptr_array_index(hold->findings, i), i + 1);
  hf_json_close(json);
}

static void
write_parts(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "parts", '[');
  for (guint i = 0; i < what->hold->parts->len; i++) {
    const HfPart *part = &g_array_index(what->hold->parts, HfPart, i);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "name", part->name);
    hf_json_bool(json, "body", part->body);
    hf_json_bool(json, "loose", part->loose);
    hf_json_bool(json, "alone", part->alone);
    hf_json_number(json, "area", part->area, MM2);
    hf_json_number(json, "mass", part->mass, KG);
    write_box(json, "box", part->box);
    write_point(json, "centroid", part->centroid);
    hf_json_line(json, "made_of", '[');
    for (guint j = 0; part->shapes != NULL && j < part->shapes->len; j++)
      hf_json_text(json, NULL, shape_label(what, g_array_index(part->shapes, guint, j)));
    hf_json_close(json);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_between(HfJson *json, const HfSign *what, guint a, guint b)
{
  hf_json_line(json, "between", '[');
  hf_json_text(json, NULL, shape_label(what, a));
  hf_json_text(json, NULL, shape_label(what, b));
  hf_json_close(json);
}

static void
write_joints(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "joints", '[');
  for (guint i = 0; i < what->layout->joints->len; i++) {
    const HfJoint *joint = &g_array_index(what->layout->joints, HfJoint, i);
    hf_json_line(json, NULL, '{');
    write_between(json, what, joint->a, joint->b);
    write_point(json, "place", joint->at);
    hf_json_number(json, "width", joint->width, MM);
    hf_json_number(json, "bite", joint->bite, MM);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_pin(HfJson *json, const HfShape *shape, const HfEntry *entry)
{
  HfBox box = hf_outline_box(shape->outline);
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "name", shape->label);
  hf_json_text(json, "placed_by", "pin");
  hf_json_text(json, "rule", NULL);
  hf_json_text(json, "letter", entry->tie.letter);
  hf_json_number(json, "opening", entry->tie.opening, 0);
  hf_json_number(json, "width", entry->tie.width, MM);
  hf_json_number(json, "length", entry->tie.length, MM);
  hf_json_number(json, "area", NAN, MM2);
  write_point(json, "place", hf_box_is_empty(box) ? hf_point(NAN, NAN) : hf_box_centre(box));
  write_box(json, "box", box);
  hf_json_close(json);
}

static void
write_rule_tie(HfJson *json, const HfSign *what, const HfWork *work, const HfTie *tie)
{
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "name", tie->label);
  hf_json_text(json, "placed_by", "rule");
  hf_json_text(json, "rule", hf_recipe_at(what->recipe, work->entry)->name);
  hf_json_text(json, "letter", shape_label(what, tie->shape));
  hf_json_number(json, "opening", tie->opening, 0);
  hf_json_number(json, "width", tie->width, MM);
  hf_json_number(json, "length", hf_point_distance(tie->from, tie->to), MM);
  hf_json_number(json, "area", tie->area, MM2);
  write_point(json, "place", hf_point_mix(tie->from, tie->to, 0.5));
  write_box(json, "box", hf_outline_box(tie->outline));
  hf_json_close(json);
}

/* Pins first, then what the rules chose. */
static void
write_ties(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "ties", '[');
  for (guint i = 0; i < what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(what->layout, i);
    const HfEntry *entry = hf_recipe_at(what->recipe, shape->entry);
    if (hf_entry_is(entry, HF_KIND_PIN))
      write_pin(json, shape, entry);
  }
  for (guint i = 0; i < what->works->len; i++)
    for (guint j = 0; j < hf_sign_work(what, i)->ties->len; j++)
      write_rule_tie(json, what, hf_sign_work(what, i),
                     &g_array_index(hf_sign_work(what, i)->ties, HfTie, j));
  hf_json_close(json);
}

static void
write_untied(HfJson *json, const HfWork *work)
{
  hf_json_open(json, "untied", '[');
  for (guint i = 0; i < work->untied->len; i++) {
    const HfUntied *one = &g_array_index(work->untied, HfUntied, i);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "name", one->name);
    hf_json_text(json, "why", one->why);
    hf_json_text(json, "help", one->help);
    write_point(json, "place", one->at);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_rules(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "rules", '[');
  for (guint i = 0; i < what->works->len; i++) {
    const HfWork *work = hf_sign_work(what, i);
    const HfEntry *entry = hf_recipe_at(what->recipe, work->entry);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "entry", entry->name);
    hf_json_text(json, "kind", hf_entry_word(entry));
    hf_json_number(json, "ties", work->ties->len, 0);
    hf_json_number(json, "cost", work->cost, MM2);
    hf_json_number(json, "area", work->area, MM2);
    hf_json_number(json, "bound", work->bound, MM2);
    write_untied(json, work);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_cure(HfJson *json, const HfCureTold *cure, guint number)
{
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "number", number, 0);
  hf_json_text(json, "key", cure->key);
  hf_json_text(json, "sentence", cure->sentence);
  hf_json_bool(json, "whole", cure->whole);
  hf_json_bool(json, "taken", cure->taken);
  hf_json_number(json, "added", cure->added, MM2);
  hf_json_number(json, "removed", cure->removed, MM2);
  hf_json_number(json, "shift", cure->shift, MM);
  hf_json_number(json, "cost", cure->cost, PLAIN);
  hf_json_number(json, "ties", cure->ties, 0);
  hf_json_line(json, "left", '{');
  hf_json_number(json, "stops", cure->stops, 0);
  hf_json_number(json, "cautions", cure->cautions, 0);
  hf_json_number(json, "notes", cure->notes, 0);
  hf_json_close(json);
  hf_json_open(json, "takes", '[');
  for (guint i = 0; cure->takes[i] != NULL; i++)
    hf_json_text(json, NULL, cure->takes[i]);
  hf_json_close(json);
  hf_json_close(json);
}

/* Left out where nobody asked. */
static void
write_cures_found(HfJson *json, const HfReportMore *told)
{
  if (told->cures == NULL)
    return;
  hf_json_open(json, "cures", '[');
  for (guint i = 0; i < told->n_cures; i++)
    write_cure(json, &told->cures[i], i + 1);
  hf_json_close(json);
}

static void
write_webs(HfJson *json, const HfSign *what)
{
  const GArray *webs = what->hold->webs;
  hf_json_open(json, "webs", '{');
  hf_json_number(json, "count", webs->len, 0);
  hf_json_open(json, "thinnest", '[');
  for (guint i = 0; i < webs->len && i < MOST_WEBS; i++) {
    const HfWeb *web = &g_array_index(webs, HfWeb, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "width", web->width, MM);
    hf_json_number(json, "length", web->length, MM);
    hf_json_text(json, "form", web->form);
    hf_json_bool(json, "joint", web->joint);
    write_point(json, "place", web->at);
    write_between(json, what, web->shape_a, web->shape_b);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
}

static const char *
mount_name(HfMount mount)
{
  static const char *const names[] = {[HF_MOUNT_NONE] = "none",
                                      [HF_MOUNT_HOLES] = "holes",
                                      [HF_MOUNT_STUDS] = "studs",
                                      [HF_MOUNT_STAKE] = "stake",
                                      [HF_MOUNT_WELDED] = "welded"};
  return names[mount];
}

static void
write_hanging(HfJson *json, const HfSign *what)
{
  static const char *const kinds[] = {
      [HF_HANG_HOLE] = "hole", [HF_HANG_FOOT] = "foot", [HF_HANG_STAKE] = "stake"};
  const HfHanging *hanging = &what->hold->hanging;
  hf_json_open(json, "hanging", '{');
  hf_json_text(json, "mount", mount_name(what->recipe->mount));
  hf_json_number(json, "turn", hanging->turn * 180 / G_PI, DEGREES);
  hf_json_open(json, "points", '[');
  for (guint i = 0; i < what->layout->hangs->len; i++) {
    const HfHang *hang = &g_array_index(what->layout->hangs, HfHang, i);
    gboolean shared = hanging->shares != NULL && i < hanging->shares->len;
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "kind", kinds[hang->kind]);
    hf_json_text(json, "on", shape_label(what, hang->shape));
    write_point(json, "place", hang->at);
    hf_json_number(json, "diameter", hang->kind == HF_HANG_HOLE ? hang->diameter : NAN, MM);
    hf_json_number(json, "share", shared ? g_array_index(hanging->shares, double, i) : NAN, PLAIN);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
}

static void
write_solved(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "solved", '[');
  for (guint i = 0; i < what->layout->solved->len; i++) {
    const HfSolved *solved = &g_array_index(what->layout->solved, HfSolved, i);
    gboolean share = hf_solved_is_share(solved->what);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "entry", hf_recipe_at(what->recipe, solved->entry)->name);
    hf_json_text(json, "what", hf_solved_name(solved->what));
    hf_json_number(json, "value", solved->value, share ? PLAIN : MM);
    hf_json_text(json, "unit", share ? "" : "mm");
    hf_json_close(json);
  }
  hf_json_close(json);
}

/* Only the file's name: where fonts lie on this machine is nobody's business. */
static void
write_sizes(HfJson *json, const HfSign *what)
{
  g_autoptr(GArray) sizes = hf_sign_sizes(what, FALSE);
  hf_json_open(json, "sizes", '[');
  for (guint i = 0; i < sizes->len; i++) {
    const HfEntrySize *size = &g_array_index(sizes, HfEntrySize, i);
    const HfEntry *entry = hf_recipe_at(what->recipe, size->entry);
    gboolean none = hf_box_is_empty(size->box);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "entry", entry->name);
    hf_json_text(json, "kind", hf_entry_word(entry));
    hf_json_number(json, "width", none ? NAN : hf_box_width(size->box), MM);
    hf_json_number(json, "height", none ? NAN : hf_box_height(size->box), MM);
    write_box(json, "box", size->box);
    hf_json_number(json, "clear", size->clear, MM);
    hf_json_text(json, "clear_from",
                 size->from < 0 ? NULL : hf_recipe_at(what->recipe, (guint)size->from)->name);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_fonts(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "fonts", '[');
  for (guint i = 0; i < what->layout->faces->len; i++) {
    const HfFace *face = g_ptr_array_index(what->layout->faces, i);
    g_autofree char *file = g_path_get_basename(hf_face_file(face));
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "family", hf_face_family(face));
    hf_json_text(json, "style", hf_face_style(face));
    hf_json_text(json, "file", file);
    hf_json_text(json, "sha256", hf_face_digest(face));
    hf_json_bool(json, "may_embed", hf_face_may_embed(face));
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_drawings(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "drawings", '[');
  for (guint i = 0; i < what->layout->drawings->len; i++) {
    const HfUsedDrawing *used = hf_layout_drawing(what->layout, i);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "file", used->file);
    hf_json_text(json, "sha256", used->digest);
    hf_json_text(json, "size", used->size);
    write_texts(json, "notes", used->notes);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_cautions(HfJson *json, const HfSign *what)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  hf_json_open(json, "cautions", '[');
  for (guint i = 0; i < n; i++) {
    if (!(all[i].carried_by & HF_CARRY_REPORT) || !hf_say_caution(what, &all[i]))
      continue;
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "key", all[i].key);
    hf_json_text(json, "text", all[i].text);
    hf_json_text(json, "said_by", all[i].says);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_files(HfJson *json, const HfReportMore *told)
{
  hf_json_open(json, "files", '[');
  for (guint i = 0; i < told->n_written; i++) {
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "name", told->written[i].name);
    hf_json_text(json, "sha256", told->written[i].digest);
    hf_json_close(json);
  }
  hf_json_close(json);
}

/* Empty where nothing was made, or it must not be cut. */
static void
write_cut(HfJson *json, const HfReportMore *told)
{
  hf_json_open(json, "cut", '[');
  for (guint i = 0; told->cuttings != NULL && i < told->cuttings->len; i++)
    hf_cutting_write(json, told->cuttings->pdata[i]);
  hf_json_close(json);
}

/* Each sheet by itself; the rest of the report is of all of them, but for `process` and `limits`,
 * which are the front's. */
static void
write_layers(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "layers", '[');
  for (guint i = 0; what->layers != NULL && i < what->layers->len; i++) {
    const HfSign *layer = hf_sign_layer(what, i);
    HfLayerAt at = layer->recipe->in_layer;
    hf_json_open(json, NULL, '{');
    write_layer_word(json, at);
    hf_json_text(json, "verdict", hf_say_verdict(layer->hold));
    hf_json_number(json, "behind", at == HF_LAYER_FRONT ? 0 : what->recipe->layers[at].behind, MM);
    write_figures(json, layer);
    write_process(json, layer);
    write_limits(json, layer->hold);
    write_finish(json, layer);
    hf_json_close(json);
  }
  hf_json_close(json);
}

GBytes *
hf_out_report(const HfSign *what, const HfReportMore *told)
{
  g_return_val_if_fail(what != NULL && told != NULL, NULL);
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  write_head(json, what);
  write_figures(json, what);
  write_process(json, what);
  write_layers(json, what);
  write_finish(json, what);
  write_proof(json, what);
  write_findings(json, what->hold);
  write_limits(json, what->hold);
  write_law_figures(json, what);
  write_parts(json, what);
  write_joints(json, what);
  write_ties(json, what);
  write_rules(json, what);
  write_cures_found(json, told);
  write_webs(json, what);
  write_hanging(json, what);
  hf_mounts_write(json, what);
  write_solved(json, what);
  write_sizes(json, what);
  write_texts(json, "notes", what->layout->notes);
  write_fonts(json, what);
  write_drawings(json, what);
  write_cautions(json, what);
  write_cut(json, told);
  write_files(json, told);
  hf_json_close(json);
  return hf_json_finish(json);
}

static GBytes *
write_report(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  return hf_out_report(making->sign, &making->told);
}

HF_FORMATS(report, {.about = HF_ABOUT_REPORT,
                    .ending = ".json",
                    .type = "application/json",
                    .says = "all figures and findings, for scripts",
                    .write = write_report});
