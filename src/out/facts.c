/* SPDX-License-Identifier: GPL-3.0-or-later
 * facts.c - what is written beside the drawing on the shop sheet: findings with close-ups, figures,
 * holes with their places, limits and who set them, words, fonts, cautions.
 */
#include "base/text.h"
#include "out/mounts-private.h"
#include "out/sheet-private.h"
#include "recipe/kind.h"
#include "stock/cautions.h"
#include <string.h>

enum { MOST_CLOSE_UPS = 8, MOST_HOLES = 60 };
static const HfPenStyle plain = {.size = 9.5}, small = {.size = 8.5};

static void
tell_findings(HfFlow *flow, const HfSign *what)
{
  const HfHold *hold = what->hold;
  hf_flow_heading(flow, "What was found");
  if (hold->findings->len == 0)
    hf_flow_text(flow, &plain, HF_INK, "nothing: no stop, no caution, no note");
  for (guint i = 0, shown = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(hold->findings, i);
    hf_flow_finding(flow, finding, i + 1);
    if (finding->gravity < HF_CAUTION || finding->accepted != NULL || shown++ >= MOST_CLOSE_UPS)
      continue;
    hf_close_up(flow, what, finding, i + 1);
  }
}

static char *
area_text(double mm2)
{
  if (hf_units_are_inches())
    return hf_text_area(mm2);
  g_autofree char *number = hf_text_number(mm2 / 100, 1);
  return g_strconcat(number, " cm\302\262", NULL);
}

char *
hf_facts_weight(const HfSign *what)
{
  g_autofree char *each = hf_text_grams(what->hold->mass);
  int quantity = what->recipe->quantity;
  if (quantity < 2)
    return g_steal_pointer(&each);
  g_autofree char *all = hf_text_grams(what->hold->mass * quantity);
  return g_strdup_printf("%s each, %s all %d", each, all, quantity);
}

static char *
kerf_text(const HfSign *what)
{
  g_autofree char *kerf = hf_text_mm(what->hold->process.kerf);
  return g_strdup_printf("%s, %s", kerf, hf_say_kerf_said_by(what));
}

static gboolean
is_alike(const HfHang *a, const HfHang *b)
{
  return a->kind == b->kind && (a->kind != HF_HANG_HOLE || a->diameter == b->diameter);
}

/* "4 holes of 9 mm, 1 foot" */
static void
append_hangs(GString *text, const GArray *hangs)
{
  static const char *const one[] = {
      [HF_HANG_HOLE] = "hole", [HF_HANG_FOOT] = "foot", [HF_HANG_STAKE] = "stake"};
  static const char *const many[] = {
      [HF_HANG_HOLE] = "holes", [HF_HANG_FOOT] = "feet", [HF_HANG_STAKE] = "stakes"};
  for (guint i = 0; i < hangs->len; i++) {
    const HfHang *hang = &g_array_index(hangs, HfHang, i);
    guint before = 0, alike = 0;
    for (guint j = 0; j < hangs->len; j++) {
      gboolean same = is_alike(&g_array_index(hangs, HfHang, j), hang);
      before += same && j < i ? 1 : 0;
      alike += same ? 1 : 0;
    }
    if (before > 0)
      continue;
    g_string_append_printf(text, "%s%u %s", text->len > 0 ? ", " : "", alike,
                           alike == 1 ? one[hang->kind] : many[hang->kind]);
    if (hang->kind == HF_HANG_HOLE) {
      g_autofree char *mm = hf_text_mm(hang->diameter);
      g_string_append_printf(text, " of %s", mm);
    }
  }
}

/* "; weight 52 % and 48 %", of those that carry any; in the order of the report */
static void
append_shares(GString *text, const GArray *shares)
{
  guint n = 0;
  for (guint i = 0; shares != NULL && i < shares->len; i++) {
    double share = g_array_index(shares, double, i);
    if (!isfinite(share) || share < 0.005)
      continue;
    g_string_append(text, n++ == 0 ? "; weight " : " and ");
    hf_text_append(text, 100 * share, 0);
    g_string_append(text, " %");
  }
}

char *
hf_facts_hanging(const HfSign *what)
{
  if (what->layout->hangs->len == 0)
    return NULL;
  GString *text = g_string_new(NULL);
  append_hangs(text, what->layout->hangs);
  append_shares(text, what->hold->hanging.shares);
  double turn = what->hold->hanging.turn * 180 / G_PI;
  if (isfinite(turn) && fabs(turn) >= 0.05) {
    g_string_append(text, "; hangs ");
    hf_text_append(text, fabs(turn), 1);
    g_string_append_printf(text, "\302\260 out of level, %s side down",
                           turn > 0 ? "left" : "right");
  }
  return g_string_free(text, FALSE);
}

/* "4 of 6.6 mm, for M6 (medium); 12 of 10 mm": each size once, in the order of the report. */
char *
hf_facts_holes(const HfSign *what)
{
  g_autoptr(GArray) holes = hf_mount_holes(what);
  g_autoptr(GPtrArray) sizes = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GArray) counts = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < holes->len; i++) {
    g_autofree char *size = hf_mount_hole_size(&g_array_index(holes, HfMountHole, i));
    guint at, one = 1;
    if (g_ptr_array_find_with_equal_func(sizes, size, g_str_equal, &at)) {
      g_array_index(counts, guint, at)++;
      continue;
    }
    g_ptr_array_add(sizes, g_steal_pointer(&size));
    g_array_append_val(counts, one);
  }
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < sizes->len; i++)
    g_string_append_printf(text, "%s%u of %s", i > 0 ? "; " : "", g_array_index(counts, guint, i),
                           (const char *)g_ptr_array_index(sizes, i));
  return g_string_free(text, sizes->len == 0);
}

/* "12 of 6 mm": each thickness once. */
static char *
studs_text(const HfSign *what)
{
  const GArray *studs = what->hold->studs;
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < studs->len; i++) {
    double diameter = g_array_index(studs, HfStud, i).diameter;
    guint before = 0, alike = 0;
    for (guint j = 0; j < studs->len; j++) {
      gboolean same = g_array_index(studs, HfStud, j).diameter == diameter;
      before += same && j < i ? 1 : 0;
      alike += same ? 1 : 0;
    }
    g_autofree char *mm = hf_text_mm(diameter);
    if (before == 0)
      g_string_append_printf(text, "%s%u of %s", i > 0 ? ", " : "", alike, mm);
  }
  return g_string_free(text, studs->len == 0);
}

const char *
hf_facts_hanging_word(const HfSign *what)
{
  for (guint i = 0; i < what->layout->hangs->len; i++)
    if (g_array_index(what->layout->hangs, HfHang, i).kind == HF_HANG_HOLE)
      return what->recipe->mount == HF_MOUNT_STAKE ? "stands on" : "hangs by";
  return "stands on";
}

/* "powder coat RAL 9005 (jet black), 0.08 mm a side" */
static char *
finish_of_sheet(const HfSign *what)
{
  g_autofree char *text = hf_finish_text(&what->recipe->finish);
  double coat = hf_finish_coat(&what->recipe->finish);
  if (text == NULL || !(coat > 0))
    return g_steal_pointer(&text);
  g_autofree char *thick = hf_text_length(coat, 3);
  return g_strdup_printf("%s, %s a side", text, thick);
}

static char *
finish_text(const HfSign *what)
{
  return hf_say_sheets(what, finish_of_sheet, "; ", "bare metal");
}

static void
tell_figures(HfFlow *flow, const HfSign *what)
{
  const HfHold *hold = what->hold;
  g_autofree char *metal = hf_say_metal(what), *size = hf_say_size(hold);
  g_autofree char *weight = hf_facts_weight(what), *area = area_text(hold->area);
  g_autofree char *cut = hf_text_run(hold->cut_length, 2), *kerf = kerf_text(what);
  g_autofree char *pierces = g_strdup_printf("%u", hold->pierces);
  g_autofree char *parts = g_strdup_printf("%u", hold->parts->len);
  g_autofree char *hanging = hf_facts_hanging(what), *holes = hf_facts_holes(what);
  g_autofree char *finish = finish_text(what);
  g_autofree char *studs = studs_text(what);
  hf_flow_heading(flow, "The sign");
  hf_flow_row(flow, "metal", metal);
  hf_flow_row(flow, "finish", finish);
  hf_flow_row(flow, "size", size);
  hf_flow_row(flow, "weight", weight);
  hf_flow_row(flow, "area of metal", area);
  hf_flow_row(flow, "parts", parts);
  hf_flow_row(flow, "cut length", cut);
  hf_flow_row(flow, "pierces", pierces);
  if (what->layers == NULL)
    hf_flow_row(flow, "kerf", kerf);
  hf_facts_layers(flow, what);
  hf_flow_row(flow, hf_facts_hanging_word(what), hanging);
  hf_flow_row(flow, "holes", holes);
  hf_flow_row(flow, "studs", studs);
}

/* Characters as a reader counts them (an accent belongs to its letter), spaces left out. */
static guint
count_characters(const HfPen *pen, const char *text)
{
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &plain, text);
  int n;
  const PangoLogAttr *attrs = pango_layout_get_log_attrs_readonly(layout, &n);
  guint count = 0;
  for (int i = 0; i + 1 < n; i++)
    count += attrs[i].is_cursor_position && !attrs[i].is_white;
  return count;
}

static double
letter_height(const HfSign *what, guint entry)
{
  for (guint i = 0; i < what->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(what->layout, i);
    if (shape->entry == entry && shape->letter >= 0 && shape->letter_height > 0)
      return shape->letter_height;
  }
  return NAN;
}

static void
append_font(GString *text, const HfFontWish *font)
{
  g_autofree char *file = font->file != NULL ? g_path_get_basename(font->file) : NULL;
  const char *name = font->family != NULL ? font->family : file;
  if (name != NULL)
    g_string_append_printf(text, ", %s", name);
  if (font->style != NULL)
    g_string_append_printf(text, " %s", font->style);
}

/* One line of words as the customer wrote it, and what to check about it. */
static void
tell_line(HfFlow *flow, const HfPen *pen, const HfSign *what, guint entry, const char *line,
          const HfFontWish *font)
{
  HfPenStyle large = {.size = 14, .bold = TRUE};
  guint count = count_characters(pen, line);
  g_autoptr(GString) about = g_string_new(NULL);
  double height = letter_height(what, entry);
  g_string_append_printf(about, "%u %s", count, count == 1 ? "character" : "characters");
  append_font(about, font);
  if (isfinite(height)) {
    g_autofree char *mm = hf_text_mm(height);
    g_string_append_printf(about, ", %s high", mm);
  }
  hf_flow_text(flow, &large, HF_INK, line);
  hf_flow_text(flow, &small, HF_SOFT_INK, about->str);
}

void
hf_facts_words(HfFlow *flow, const HfPen *pen, const HfSign *what)
{
  gboolean headed = FALSE;
  for (guint i = 0; i < what->recipe->entries->len; i++) {
    const HfEntry *entry = hf_recipe_at(what->recipe, i);
    if (!hf_entry_is(entry, HF_KIND_LETTERING))
      continue;
    if (!headed)
      hf_flow_heading(flow, "The words: please check every letter");
    headed = TRUE;
    for (guint j = 0; hf_entry_line(entry, j) != NULL; j++)
      tell_line(flow, pen, what, i, hf_entry_line(entry, j), hf_entry_font(entry));
  }
}

static void
tell_fonts(HfFlow *flow, const HfSign *what)
{
  if (what->layout->faces->len == 0)
    return;
  hf_flow_heading(flow, "Fonts of the sign");
  for (guint i = 0; i < what->layout->faces->len; i++) {
    const HfFace *face = g_ptr_array_index(what->layout->faces, i);
    g_autofree char *text =
        g_strdup_printf("%s %s: drawn as outlines; embedding %s", hf_face_family(face),
                        hf_face_style(face), hf_face_may_embed(face) ? "allowed" : "not allowed");
    hf_flow_text(flow, &small, HF_INK, text);
  }
}

/* ---- holes --------------------------------------------------------------------------------- */

/* From the left edge and from the lower edge, as one measures at the bench. */
static void
tell_hole(HfFlow *flow, const HfSign *what, const HfMountHole *hole)
{
  double coat = hf_say_coat(what);
  g_autofree char *size = hf_mount_hole_size(hole);
  g_autofree char *x = hf_text_length(hole->at.x - what->hold->box.min.x, 1);
  g_autofree char *y = hf_text_length(hole->at.y - what->hold->box.min.y, 1);
  g_autofree char *clear = hf_text_length(fmax(hole->diameter - 2 * coat, 0), 2);
  g_autofree char *coated =
      coat > 0 ? g_strdup_printf(", %s clear when coated", clear) : g_strdup("");
  g_autofree char *text = g_strdup_printf("%s from the left, %s up: %s%s", x, y, size, coated);
  hf_flow_row(flow, hole->kind, text);
}

static void
tell_holes(HfFlow *flow, const HfSign *what)
{
  g_autoptr(GArray) holes = hf_mount_holes(what);
  if (holes->len > 0)
    hf_flow_heading(flow, "Holes, from the lower left corner");
  for (guint i = 0; i < MIN(holes->len, MOST_HOLES); i++)
    tell_hole(flow, what, &g_array_index(holes, HfMountHole, i));
  if (holes->len > MOST_HOLES) {
    g_autofree char *more =
        g_strdup_printf("and %u more, all in report.json", holes->len - MOST_HOLES);
    hf_flow_text(flow, &small, HF_SOFT_INK, more);
  }
}

/* ---- limits -------------------------------------------------------------------------------- */

/* Of metal, gaps and openings, as far as they have a figure; others only where somebody changed
 * them. */
static gboolean
is_told(const HfLaw *law, const HfLimit *limit)
{
  gboolean cut = law->measures == HF_MEASURES_METAL || law->measures == HF_MEASURES_GAP ||
                 law->measures == HF_MEASURES_OPENING;
  gboolean has = isfinite(limit->stop) || isfinite(limit->caution);
  return has && ((cut && strcmp(law->unit, "mm") == 0) || limit->said_by >= HF_SAID_BY_SHOP);
}

static char *
bound_text(const HfLaw *law, double bound)
{
  if (!isfinite(bound))
    return g_strdup("\342\200\223"); /* en dash */
  if (strcmp(law->unit, "mm") == 0)
    return hf_text_length(bound, 2);
  g_autofree char *number = hf_text_number(bound, 2);
  return g_strconcat(number, " ", law->unit, NULL);
}

static void
tell_limits(HfFlow *flow, const HfSign *what)
{
  hf_flow_heading(flow, "Limits: stop, caution, and who says so");
  for (guint i = 0; i < HF_N_LAWS; i++) {
    const HfLaw *law = hf_law((HfLawKind)i);
    const HfLimit *limit = &what->hold->limits[i];
    if (!is_told(law, limit))
      continue;
    g_autofree char *stop = bound_text(law, limit->stop);
    g_autofree char *caution = bound_text(law, limit->caution);
    g_autofree char *text = g_strdup_printf(
        "%s, %s [%s]", stop, caution, hf_law_said_by((HfLawKind)i, limit->said_by, limit->coupon));
    hf_flow_row(flow, law->key, text);
  }
}

void
hf_facts_cautions(HfFlow *flow, const char *heading, const HfPenStyle *style, guint carried_by,
                  const HfSign *what)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  hf_flow_heading(flow, heading);
  for (guint i = 1; i < n; i++) { /* the first stands at the foot of every page */
    if (!(all[i].carried_by & carried_by) || !hf_say_caution(what, &all[i]))
      continue;
    g_autofree char *text = g_strdup_printf("%s [%s]", all[i].text, all[i].says);
    hf_flow_text(flow, style, HF_INK, text);
  }
}

void
hf_facts(HfFlow *flow, const HfPen *pen, const HfSign *what)
{
  tell_findings(flow, what);
  tell_figures(flow, what);
  tell_holes(flow, what);
  tell_limits(flow, what);
  hf_facts_words(flow, pen, what);
  tell_fonts(flow, what);
  hf_facts_cautions(flow, "Cautions", &small, HF_CARRY_SHEET, what);
  for (guint i = 0; i < what->layout->notes->len; i++)
    hf_flow_text(flow, &small, HF_SOFT_INK, g_ptr_array_index(what->layout->notes, i));
}
