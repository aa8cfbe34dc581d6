/* SPDX-License-Identifier: GPL-3.0-or-later
 * sample.h - hand-made signs with hand-made findings, for the tests of writers: what they are given
 * is known to the last figure and doesn't hang on the stages before.
 */
#pragma once
#include "out/out.h"
#include <cairo.h>
#include <string.h>

typedef struct {
  HfRecipe recipe;
  HfShop shop;
  HfLayout layout;
  HfMetal metal;
  HfHold hold;
  HfSign what;
} Sample;

static inline void
sample_free_shape(gpointer data)
{
  HfShape *shape = data;
  hf_outline_free(shape->outline);
  g_free(shape->label);
  g_free(shape);
}

static inline void
sample_free_finding(gpointer data)
{
  HfFinding *finding = data;
  g_array_unref(finding->places);
  g_ptr_array_unref(finding->names);
  g_free(finding->where);
  g_free(finding->what);
  g_free(finding->fix);
  g_array_unref(finding->entries);
  g_free(finding->text);
  g_free(finding->accepted);
  g_free(finding);
}

static inline void
sample_free_entry(gpointer data)
{
  HfEntry *entry = data;
  if (entry->kind == HF_ENTRY_WORDS) {
    g_clear_pointer(&entry->words.lines, g_ptr_array_unref);
    g_free(entry->words.font.family);
  }
  g_free(entry->name);
  g_free(entry);
}

static inline Sample *
sample_new(const char *sign, const char *metal)
{
  Sample *s = g_new0(Sample, 1);
  s->recipe = (HfRecipe){.file = g_strdup("sample.yaml"),
                         .name = g_strdup("sample"),
                         .sign = g_strdup(sign),
                         .format = 1,
                         .metal = g_strdup(metal),
                         .thickness = 3,
                         .kerf = 1.4,
                         .crater = NAN,
                         .limits = g_array_new(FALSE, FALSE, sizeof(HfLimitOverride)),
                         .mount = HF_MOUNT_HOLES,
                         .read_from = NAN,
                         .quantity = 1,
                         .entries = g_ptr_array_new_with_free_func(sample_free_entry)};
  s->recipe.alone = g_ptr_array_new();
  s->recipe.accept = g_array_new(FALSE, FALSE, sizeof(HfAccepted));
  s->shop = (HfShop){.kerf = NAN,
                     .crater = NAN,
                     .chart = g_array_new(FALSE, FALSE, sizeof(HfChartRow)),
                     .limits = g_array_new(FALSE, FALSE, sizeof(HfLimitOverride)),
                     .table_width = NAN,
                     .table_height = NAN,
                     .sheet_width = NAN,
                     .sheet_height = NAN};
  s->layout.shapes = g_ptr_array_new_with_free_func(sample_free_shape);
  s->layout.hangs = g_array_new(FALSE, FALSE, sizeof(HfHang));
  s->layout.joints = g_array_new(FALSE, FALSE, sizeof(HfJoint));
  s->layout.solved = g_array_new(FALSE, FALSE, sizeof(HfSolved));
  s->layout.faces = g_ptr_array_new();
  s->layout.drawings = g_ptr_array_new();
  s->layout.notes = g_ptr_array_new_with_free_func(g_free);
  s->layout.missed = g_array_new(FALSE, TRUE, sizeof(HfMissed));
  s->metal.region = hf_region_new();
  s->hold.findings = g_ptr_array_new_with_free_func(sample_free_finding);
  s->hold.parts = g_array_new(FALSE, TRUE, sizeof(HfPart));
  s->hold.webs = g_array_new(FALSE, TRUE, sizeof(HfWeb));
  s->hold.hanging.shares = g_array_new(FALSE, FALSE, sizeof(double));
  s->hold.studs = g_array_new(FALSE, FALSE, sizeof(HfStud));
  s->hold.hanging.turn = NAN;
  s->hold.box = HF_BOX_EMPTY;
  s->hold.centroid = hf_point(NAN, NAN);
  s->hold.whole = TRUE;
  s->hold.process = (HfProcess){.thickness = 3,
                                .kerf = 1.4,
                                .crater = 1.4,
                                .density = 7850,
                                .expansion = 12e-6,
                                .metal = s->recipe.metal};
  for (guint i = 0; i < HF_N_LAWS; i++)
    s->hold.limits[i] = hf_law_limit((HfLawKind)i, &s->hold.process, &s->shop, &s->recipe);
  for (guint i = 0; i < HF_N_FIGURES; i++)
    s->hold.figures[i] = hf_law_figure((HfFigure)i, &s->shop, &s->recipe, NULL);
  s->what = (HfSign){.recipe = &s->recipe,
                     .shop = &s->shop,
                     .layout = &s->layout,
                     .metal = &s->metal,
                     .hold = &s->hold,
                     .works = g_ptr_array_new()};
  return s;
}

static inline void
sample_free(Sample *s)
{
  g_ptr_array_unref((GPtrArray *)s->what.works);
  g_ptr_array_unref(s->recipe.entries);
  g_ptr_array_unref(s->recipe.alone);
  g_array_unref(s->recipe.accept);
  g_array_unref(s->recipe.limits);
  g_free(s->recipe.file);
  g_free(s->recipe.name);
  g_free(s->recipe.sign);
  g_free(s->recipe.metal);
  g_free(s->recipe.customer);
  g_free(s->recipe.order_number);
  g_free(s->recipe.date);
  g_array_unref(s->shop.chart);
  g_array_unref(s->shop.limits);
  g_ptr_array_unref(s->layout.shapes);
  g_array_unref(s->layout.hangs);
  g_array_unref(s->layout.joints);
  g_array_unref(s->layout.solved);
  g_ptr_array_unref(s->layout.faces);
  g_ptr_array_unref(s->layout.drawings);
  g_ptr_array_unref(s->layout.notes);
  g_array_unref(s->layout.missed);
  hf_region_free(s->metal.region);
  g_ptr_array_unref(s->hold.findings);
  for (guint i = 0; i < s->hold.parts->len; i++) {
    HfPart *part = &g_array_index(s->hold.parts, HfPart, i);
    g_free(part->name);
    g_array_unref(part->shapes);
  }
  g_array_unref(s->hold.parts);
  g_array_unref(s->hold.webs);
  g_array_unref(s->hold.hanging.shares);
  g_array_unref(s->hold.studs);
  g_free(s);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Sample, sample_free)

static inline guint
sample_entry(Sample *s, HfEntryKind kind, const char *name)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = kind;
  entry->name = g_strdup(name);
  g_ptr_array_add(s->recipe.entries, entry);
  return s->recipe.entries->len - 1;
}

static inline guint
sample_words(Sample *s, const char *text, const char *family)
{
  guint i = sample_entry(s, HF_ENTRY_WORDS, "words");
  HfEntry *entry = g_ptr_array_index(s->recipe.entries, i);
  entry->words.lines = g_ptr_array_new_with_free_func(g_free);
  g_ptr_array_add(entry->words.lines, g_strdup(text));
  entry->words.font.family = g_strdup(family);
  return i;
}

/* Takes @outline; adds it to, or cuts it from, the metal. */
static inline void
sample_shape(Sample *s, HfOutline *outline, gboolean opening, guint entry, const char *label)
{
  HfShape *shape = g_new0(HfShape, 1);
  *shape = (HfShape){.outline = outline,
                     .opening = opening,
                     .entry = entry,
                     .letter = -1,
                     .label = g_strdup(label)};
  g_autoptr(HfRegion) rough = hf_region_new();
  hf_region_flatten(rough, outline, s->layout.shapes->len, HF_FLATTEN_MM);
  g_autoptr(HfRegion) clean = hf_region_clean(rough);
  g_ptr_array_add(s->layout.shapes, shape);
  const HfRegion *both[] = {s->metal.region, clean};
  HfRegion *made = opening ? hf_region_subtract(s->metal.region, clean) : hf_region_union(both, 2);
  hf_region_free(s->metal.region);
  s->metal.region = made;
}

static inline HfOutline *
sample_box(double x0, double y0, double x1, double y1, double corner)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{x0, y0}, {x1, y1}}, corner);
  return outline;
}

static inline HfOutline *
sample_disc(double x, double y, double radius)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(x, y), radius);
  return outline;
}

/* Letters, roughly: cairo's own simple text, good enough to look at. */
static inline HfOutline *
sample_letters(const char *family, double size, const char *text, double x, double y)
{
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create(surface);
  HfOutline *outline = hf_outline_new();
  cairo_select_font_face(cr, family, CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr, size);
  cairo_text_path(cr, text);
  cairo_path_t *path = cairo_copy_path(cr);
  for (int i = 0; i < path->num_data; i += path->data[i].header.length) {
    const cairo_path_data_t *d = &path->data[i];
#define AT(k) hf_point(x + d[k].point.x, y - d[k].point.y)
    if (d->header.type == CAIRO_PATH_MOVE_TO)
      hf_outline_begin(outline, AT(1));
    else if (d->header.type == CAIRO_PATH_LINE_TO)
      hf_outline_line_to(outline, AT(1));
    else if (d->header.type == CAIRO_PATH_CURVE_TO)
      hf_outline_cubic_to(outline, AT(1), AT(2), AT(3));
    else
      hf_outline_close(outline);
#undef AT
  }
  cairo_path_destroy(path);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
  return outline;
}

static inline void
sample_hole(Sample *s, double x, double y, double diameter, double share)
{
  guint entry = sample_entry(s, HF_ENTRY_HOLE, "hole");
  sample_shape(s, sample_disc(x, y, diameter / 2), TRUE, entry, "hole");
  HfHang hang = {HF_HANG_HOLE, {x, y}, diameter, s->layout.shapes->len - 1};
  g_array_append_val(s->layout.hangs, hang);
  g_array_append_val(s->hold.hanging.shares, share);
  s->hold.hanging.n++;
  s->hold.hanging.turn = 0;
}

static inline HfFinding *
sample_finding(Sample *s, HfLawKind kind, HfGravity gravity, double measured, double x, double y,
               const char *text)
{
  HfFinding *f = g_new0(HfFinding, 1);
  HfLimit limit = s->hold.limits[kind];
  *f = (HfFinding){
      .kind = kind,
      .gravity = gravity,
      .measured = measured,
      .limit = isfinite(measured) ? gravity == HF_STOP ? limit.stop : limit.caution : NAN,
      .said_by = limit.said_by,
      .at = {x, y},
      .places = g_array_new(FALSE, FALSE, sizeof(HfPoint)),
      .entries = g_array_new(FALSE, FALSE, sizeof(guint)),
      .count = 1,
      .names = g_ptr_array_new_with_free_func(g_free),
      .area = NAN,
      .mass = NAN,
      .reach = NAN,
      .box = HF_BOX_EMPTY,
      .where =
          strstr(text, ": ") != NULL ? g_strndup(text, (gsize)(strstr(text, ": ") - text)) : NULL,
      .what = g_strdup(text),
      .fix = g_strdup("do something about it"),
      .text = g_strconcat(text, "; do something about it", NULL)};
  g_array_append_val(f->places, f->at);
  g_ptr_array_add(s->hold.findings, f);
  s->hold.whole = s->hold.whole && gravity != HF_STOP;
  return f;
}

/* Figures as the hold check would give them, and one part. */
static inline void
sample_finish(Sample *s)
{
  const HfRegion *region = s->metal.region;
  s->hold.area = hf_region_area(region);
  s->hold.mass = s->hold.area * s->hold.process.thickness * s->hold.process.density * 1e-9;
  s->hold.cut_length = hf_region_perimeter(region);
  s->hold.pierces = region->rings->len;
  s->hold.box = hf_region_box(region);
  s->hold.centroid = hf_region_centroid(region);
  if (hf_region_is_empty(region))
    return;
  HfPart part = {s->hold.area,
                 s->hold.mass,
                 s->hold.centroid,
                 s->hold.box,
                 TRUE,
                 FALSE,
                 FALSE,
                 g_strdup("plate 1"),
                 g_array_new(FALSE, FALSE, sizeof(guint))};
  for (guint i = 0; i < s->layout.shapes->len; i++)
    g_array_append_val(part.shapes, i);
  g_array_append_val(s->hold.parts, part);
}

/* A name on a bar with two ears: whole, one caution accepted, one to look at, one note. */
static inline Sample *
sample_boat_yard(void)
{
  Sample *s = sample_new("Boat yard", "mild steel");
  s->recipe.customer = g_strdup("the harbour office");
  s->recipe.order_number = g_strdup("SQ-17");
  s->recipe.date = g_strdup("12 December");
  s->recipe.quantity = 2;
  guint bar = sample_entry(s, HF_ENTRY_BAR, "rail");
  sample_shape(s, sample_box(-600, 0, 600, 20, 0), FALSE, bar, "bar \"rail\"");
  sample_shape(s, sample_disc(-600, 10, 21), FALSE, bar, "ear (left end)");
  sample_shape(s, sample_disc(600, 10, 21), FALSE, bar, "ear (right end)");
  guint words = sample_words(s, "Saltmarsh Boats", "Lobster Two");
  sample_shape(s, sample_letters("Lobster Two", 200, "Saltmarsh Boats", -560, 12), FALSE, words,
               "\"Saltmarsh Boats\"");
  sample_hole(s, -600, 10, 16, 0.52);
  sample_hole(s, 600, 10, 16, 0.48);
  sample_finding(s, HF_LAW_THIN_WEB, HF_CAUTION, 3.4, -310, 90,
                 "letter 'm' of \"Saltmarsh Boats\": the web is thin");
  sample_finding(s, HF_LAW_OUT_OF_LEVEL, HF_CAUTION, 1.2, 0, 10,
                 "the sign hangs 1.2 deg out of level")
      ->accepted = g_strdup("hung on a rail that is out of level itself");
  sample_finding(s, HF_LAW_LOST_DETAIL, HF_NOTE, 3, 200, 60, "inside corners come out rounded");
  sample_finish(s);
  return s;
}

/* A plate with cut-through words: two counters fall out, some webs are thin, one tail. */
static inline Sample *
sample_bakery(void)
{
  Sample *s = sample_new("Bakery on the Quay", "mild steel");
  guint plate = sample_entry(s, HF_ENTRY_PLATE, "plate");
  sample_shape(s, sample_box(-210, -120, 210, 120, 18), FALSE, plate, "plate 1");
  guint words = sample_words(s, "BAKERY", "Bebas Neue");
  sample_shape(s, sample_letters("Bebas Neue", 150, "BAKERY", -168, -20), TRUE, words,
               "\"BAKERY\"");
  guint small = sample_words(s, "ON THE QUAY", "Bebas Neue");
  sample_shape(s, sample_letters("Bebas Neue", 62, "ON THE QUAY", -118, -88), TRUE, small,
               "\"ON THE QUAY\"");
  sample_hole(s, -190, 100, 8, 0.5);
  sample_hole(s, 190, 100, 8, 0.5);
  HfFinding *loose = sample_finding(s, HF_LAW_LOOSE_PART, HF_STOP, NAN, -137, 50,
                                    "counter of letter 'B' of \"BAKERY\": nothing holds it");
  static const HfPoint more[] = {{-137, 8}, {-74, 20}, {58, 50}};
  g_array_append_vals(loose->places, more, 3);
  loose->count = 4;
  loose->area = 61.25;
  loose->mass = 0.0015;
  loose->box = (HfBox){{-145, 40}, {-130, 60}};
  HfFinding *web = sample_finding(s, HF_LAW_THIN_WEB, HF_STOP, 1.2, -105, 40,
                                  "between letters 'A' and 'K' of \"BAKERY\": the web is 1.2 mm, "
                                  "needs 3 mm");
  web->form = "neck";
  g_ptr_array_add(web->names, g_strdup("letter 'A' of \"BAKERY\""));
  g_ptr_array_add(web->names, g_strdup("letter 'K' of \"BAKERY\""));
  sample_finding(s, HF_LAW_THIN_WEB, HF_CAUTION, 3.3, 125, 30,
                 "between letters 'R' and 'Y' of \"BAKERY\": the web is near its limit");
  sample_finding(s, HF_LAW_SHARP_POINT, HF_CAUTION, 40, -210, -120, "a corner that can hurt")
      ->accepted = g_strdup("hangs out of reach");
  HfWeb thin = {{-105, 40}, {-105.6, 40}, {-104.4, 40}, 1.2, 3, "neck", FALSE, 1, 1};
  g_array_append_val(s->hold.webs, thin);
  HfJoint joint = {0, 1, {0, 0}, 3.5, NAN};
  g_array_append_val(s->layout.joints, joint);
  HfSolved solved = {words, HF_SOLVED_LETTER_HEIGHT, 104.2125};
  g_array_append_val(s->layout.solved, solved);
  g_ptr_array_add(s->layout.notes, g_strdup("ring \"outer\" gave way by 2 mm"));
  sample_finish(s);
  return s;
}

/* Nothing at all. */
static inline Sample *
sample_nothing(void)
{
  Sample *s = sample_new(NULL, "mild steel");
  sample_finding(s, HF_LAW_NO_METAL, HF_STOP, NAN, 0, 0, "there is no metal");
  sample_finish(s);
  return s;
}

/* What foreign text can do to a writer; more findings than a page holds. */
static inline Sample *
sample_awkward(void)
{
  Sample *s = sample_new("\"Quay\\\" \x01\t\xff <&> \xd9\x85\xd8\xb1\xd9\x81\xd8\xa3", "aluminium");
  guint tie = sample_entry(s, HF_ENTRY_TIE, "tie \"1\"");
  HfEntry *entry = g_ptr_array_index(s->recipe.entries, tie);
  entry->tie.letter = (char *)"2nd A of name";
  entry->tie.width = NAN;
  guint plate = sample_entry(s, HF_ENTRY_PLATE, "plate");
  sample_shape(s, sample_box(-15, -200, 15, 200, 3), FALSE, plate, "plate \"\xc3\x85\"");
  sample_shape(s, sample_box(-20, -5, 20, 5, 0), FALSE, tie, "tie \"1\"");
  sample_words(s, "\xd9\x85\xd8\xb1\xd9\x81\xd8\xa3", "DejaVu Sans");
  sample_words(s, "\xe6\xb8\xaf\xe7\x94\xba", "Noto Sans CJK JP");
  sample_words(s, "L\xc3\xa5ngviks B\xc3\xa5tar, \xc3\x89t\xc3\xa9 & \xc3\x91u\xc5\xa0",
               "Vollkorn");
  for (int i = 0; i < 45; i++) {
    g_autofree char *text = g_strdup_printf("place %d: the gap is narrow", i);
    sample_finding(s, HF_LAW_NARROW_GAP, i < 12 ? HF_STOP : HF_CAUTION, 1.1, i % 2 ? 10 : -10,
                   -190 + i * 8.5, text);
  }
  sample_finish(s);
  return s;
}
