/* SPDX-License-Identifier: GPL-3.0-or-later
 * smallest-size.c - for each face the smallest letter height at which its letters can be cut, and
 * the letter that decides. hold/ says it for one shape; here are the letters of a text.
 *
 * Every width of a letter grows with its height, so "can be cut" is monotonous but for the chords:
 * one question on a fine outline gives a height, and the outline of that height, which is what will
 * be checked, settles it by halving, to PRECISION. Invariant: `least` is the height that all
 * letters so far can do with; most letters need less and are asked once. Result: the height is
 * rounded up, at most 0.2 % and 0.1 mm more than needed. Limits: INFINITY where no size will do (a
 * stroke that vanishes in a point); LEAST_MM where all letters are fine at that.
 */
#include "base/json.h"
#include "base/text.h"
#include "faces/faces.h"
#include <string.h>

#define LEAST_MM  5.0   /* smaller letters are not asked about */
#define FINE_MM   100.0 /* flattened in this size an outline is as good as its curves */
#define NEARLY    0.98
#define PRECISION 1.002

static const char usual[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";

static void
face_smallest_free(gpointer data)
{
  HfFaceSmallest *one = data;
  g_free(one->family);
  g_free(one->style);
  g_free(one->why);
  g_free(one->standing.letter);
  g_free(one->standing.tips);
  g_free(one->cut_through.letter);
  g_free(one->cut_through.tips);
  g_free(one);
}

/* The characters of `usual` that the face has. */
static char *
usual_of(const HfFace *face)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (const char *at = usual; *at != '\0'; at++)
    if (hf_face_has(face, (gunichar)*at))
      g_string_append_c(text, *at);
  return g_string_free(g_steal_pointer(&text), FALSE);
}

/* The shape of the letter whose glyphs are @first .. @end, and a key of it: in a joining script
 * one character has several shapes. */
static HfRegion *
shape_of(const HfLine *line, guint first, guint end, double scale)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  double left = g_array_index(line->glyphs, HfGlyph, first).at.x;
  for (guint i = first; i < end; i++) {
    const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, i);
    HfMatrix place = hf_matrix_then(hf_matrix_move(glyph->at.x - left, glyph->at.y),
                                    hf_matrix_scale(scale, scale));
    hf_outline_append(outline, glyph->outline, place);
  }
  return hf_region_of_outline(outline, HF_NO_SHAPE, HF_FLATTEN_MM);
}

static char *
key_of(const HfLine *line, guint first, guint end)
{
  g_autoptr(GString) key = g_string_new(NULL);
  double left = g_array_index(line->glyphs, HfGlyph, first).at.x;
  for (guint i = first; i < end; i++) {
    const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, i);
    g_string_append_printf(key, "%p", (const void *)glyph->outline);
    hf_text_append(key, glyph->at.x - left, 6);
    g_string_append_c(key, ' ');
    hf_text_append(key, glyph->at.y, 6);
    g_string_append_c(key, ' ');
  }
  return g_string_free(g_steal_pointer(&key), FALSE);
}

/* Up to 0.1 mm: never below what was found. */
static double
rounded_up(double mm)
{
  return isinf(mm) ? mm : ceil(mm * 10 - 1e-9) / 10;
}

/* One letter of a line: its glyphs, and what it is called. */
typedef struct {
  const HfLine *line;
  guint first, end;
  const char *name;
  const HfProcess *process;
  const HfShop *shop;
} Letter;

/* The letter in one size, flattened as the check would flatten it in that size. */
static HfSmallest
ask(const Letter *letter, gboolean cut_through, double height, double at_least)
{
  double scale = height / letter->line->cap_height;
  g_autoptr(HfRegion) shape = shape_of(letter->line, letter->first, letter->end, scale);
  return hf_hold_smallest(shape, cut_through, letter->process, letter->shop, at_least / height);
}

/* The least height between @low, which will not do, and @high, which will; each tried on the
 * outline of just that size. What is found for @high stays true of it. */
static double
halve(const Letter *letter, gboolean cut_through, double low, double high, HfSmallest *found)
{
  while (high > low * PRECISION) {
    double middle = sqrt(low * high);
    HfSmallest here = ask(letter, cut_through, middle, middle);
    if (here.kind == HF_N_LAWS) {
      high = middle;
      found->tip = here.tip;
    } else {
      low = middle;
      found->kind = here.kind;
    }
  }
  return high;
}

/* Only a letter that needs more than all before it matters: most are asked about one size. What one
 * needs is found on a fine outline, and settled on the outline of about that size, since that is
 * what will be checked. */
static HfSmallest
grow(HfFaceLeast *least, const Letter *letter, gboolean cut_through)
{
  double known = fmax(least->height, LEAST_MM);
  HfSmallest found = ask(letter, cut_through, known, known);
  if (found.kind == HF_N_LAWS)
    return found;
  HfLawKind kind = found.kind;
  found = ask(letter, cut_through, FINE_MM, known);
  double height = fmax(known, found.scale * FINE_MM * NEARLY);
  if (found.kind == HF_N_LAWS)
    found.kind = kind;
  if (!isinf(height)) {
    HfSmallest here = ask(letter, cut_through, height, height);
    found.tip = here.tip;
    if (here.kind != HF_N_LAWS) {
      height *= here.scale;
      found.kind = here.kind;
    } else {
      height = halve(letter, cut_through, known, height, &found);
    }
  }
  least->height = height;
  least->kind = found.kind;
  g_free(least->letter);
  least->letter = g_strdup(letter->name);
  return found;
}

static void
weigh(HfFaceLeast *least, const Letter *letter, gboolean cut_through)
{
  /* Once no size will do, only the tips are of interest. */
  HfSmallest found = isinf(least->height) ? ask(letter, cut_through, FINE_MM, FINE_MM)
                                          : grow(least, letter, cut_through);
  if (!found.tip)
    return;
  char *more = g_strconcat(least->tips != NULL ? least->tips : "", letter->name, NULL);
  g_free(least->tips);
  least->tips = more;
}

static gboolean
weigh_line(HfFaceSmallest *one, const HfLine *line, const HfProcess *process, const HfShop *shop,
           const HfCancel *cancel, GError **error)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (guint first = 0, end; first < line->glyphs->len; first = end) {
    guint letter = g_array_index(line->glyphs, HfGlyph, first).letter;
    for (end = first + 1;
         end < line->glyphs->len && g_array_index(line->glyphs, HfGlyph, end).letter == letter;)
      end++;
    if (!g_hash_table_add(seen, key_of(line, first, end)))
      continue;
    if (!hf_cancel_check(cancel, error))
      return FALSE;
    Letter one_letter = {line, first, end, g_ptr_array_index(line->letters, letter), process, shop};
    weigh(&one->standing, &one_letter, FALSE);
    weigh(&one->cut_through, &one_letter, TRUE);
  }
  one->standing.height = rounded_up(one->standing.height);
  one->cut_through.height = rounded_up(one->cut_through.height);
  return TRUE;
}

static HfLine *
line_of(HfFonts *fonts, const HfFontListed *listed, const char *text, GError **error)
{
  HfFaceWanted wanted = {listed->family, listed->style, NULL, NULL};
  const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, error);
  if (face == NULL)
    return NULL;
  g_autofree char *own = text == NULL ? usual_of(face) : NULL;
  /* An alphabet must not run together: "yz" is a ligature in some script faces. */
  static const HfTypeOptions apart = {"-liga,-clig,-calt", NULL, HF_WAY_AUTO, 0};
  g_autoptr(HfLine) line = hf_type_line(fonts, face, text != NULL ? text : own,
                                        text != NULL ? NULL : &apart, NULL, error);
  if (line == NULL)
    return NULL;
  if (hf_box_is_empty(line->ink) || !(line->cap_height > 0)) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, "say which characters with --text",
                 "it has none of A-Z, a-z, 0-9");
    return NULL;
  }
  return g_steal_pointer(&line);
}

GPtrArray *
hf_fonts_smallest(HfFonts *fonts, const GPtrArray *faces, const char *text,
                  const HfProcess *process, const HfShop *shop, HfFontsTold told, gpointer data,
                  const HfCancel *cancel, GError **error)
{
  g_autoptr(GPtrArray) found = g_ptr_array_new_with_free_func(face_smallest_free);
  for (guint i = 0; i < faces->len; i++) {
    const HfFontListed *listed = g_ptr_array_index(faces, i);
    if (!hf_cancel_check(cancel, error))
      return NULL;
    if (told != NULL)
      told(i, faces->len, listed->family, data);
    HfFaceSmallest *one = g_new0(HfFaceSmallest, 1);
    g_ptr_array_add(found, one);
    one->family = g_strdup(listed->family);
    one->style = g_strdup(listed->style);
    g_autoptr(GError) why = NULL;
    g_autoptr(HfLine) line = line_of(fonts, listed, text, &why);
    if (line == NULL)
      one->why = g_strdup(why->message);
    else if (!weigh_line(one, line, process, shop, cancel, error))
      return NULL;
  }
  return g_steal_pointer(&found);
}

/* ---- telling it --------------------------------------------------------------------------------
 */

/* What decides, in a word or two. */
static const char *
reason_of(HfLawKind kind)
{
  switch (kind) {
  case HF_LAW_THIN_WEB:
    return "thin web";
  case HF_LAW_THIN_LONG_WEB:
    return "long thin web";
  case HF_LAW_NARROW_GAP:
    return "narrow gap";
  case HF_LAW_SMALL_OPENING:
    return "no room to pierce";
  default:
    return "";
  }
}

static void
append_least(GString *out, const char *label, const HfFaceLeast *least)
{
  g_string_append_printf(out, "  %-12s ", label);
  if (least->letter == NULL) {
    hf_text_append(out, LEAST_MM, 1);
    g_string_append(out, " mm or less");
  } else if (isinf(least->height)) {
    g_string_append_printf(out, "no size       '%s': %s", least->letter, reason_of(least->kind));
  } else {
    g_autofree char *number = hf_text_fixed(least->height, 1);
    g_string_append_printf(out, "%6s mm     '%s': %s", number, least->letter,
                           reason_of(least->kind));
  }
  if (least->tips != NULL)
    g_string_append_printf(out, "; points burn back at any size: %s", least->tips);
  g_string_append_c(out, '\n');
}

char *
hf_fonts_smallest_report(const GPtrArray *smallest, const char *text, const HfProcess *process)
{
  g_autofree char *thick = hf_text_mm(process->thickness), *kerf = hf_text_mm(process->kerf);
  g_autoptr(GString) out = g_string_new(NULL);
  g_string_append_printf(out,
                         "Smallest letter height in %s %s, kerf %s, and the letter that decides\n",
                         thick, process->metal, kerf);
  if (text != NULL)
    g_string_append_printf(out, "for the letters of \"%s\":\n\n", text);
  else
    g_string_append(out, "for A-Z, a-z, 0-9 (say yours with --text):\n\n");
  for (guint i = 0; i < smallest->len; i++) {
    const HfFaceSmallest *one = g_ptr_array_index(smallest, i);
    g_string_append_printf(out, "%s %s\n", one->family, one->style);
    if (one->why != NULL) {
      g_string_append_printf(out, "  %s\n", one->why);
      continue;
    }
    append_least(out, "standing", &one->standing);
    append_least(out, "cut through", &one->cut_through);
  }
  g_string_append(
      out, "\nIt is the height of H; where a script has no capitals, that of the ink. It is about "
           "widths\n"
           "alone: dots, accents and counters still need something that holds them, and it says\n"
           "nothing of strength.\n");
  return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
json_least(HfJson *json, const char *key, const HfFaceLeast *least)
{
  hf_json_line(json, key, '{');
  hf_json_number(json, "height", least->letter == NULL ? LEAST_MM : least->height, 1);
  hf_json_text(json, "letter", least->letter);
  hf_json_text(json, "finding", least->letter == NULL ? NULL : hf_law(least->kind)->key);
  hf_json_text(json, "tips", least->tips);
  hf_json_close(json);
}

char *
hf_fonts_smallest_json(const GPtrArray *smallest, const char *text, const HfProcess *process)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "metal", process->metal);
  hf_json_number(json, "thickness", process->thickness, 3);
  hf_json_number(json, "kerf", process->kerf, 3);
  hf_json_text(json, "text", text);
  hf_json_open(json, "faces", '[');
  for (guint i = 0; i < smallest->len; i++) {
    const HfFaceSmallest *one = g_ptr_array_index(smallest, i);
    hf_json_open(json, NULL, '{');
    hf_json_text(json, "family", one->family);
    hf_json_text(json, "style", one->style);
    if (one->why != NULL) {
      hf_json_text(json, "why not", one->why);
    } else {
      json_least(json, "standing", &one->standing);
      json_least(json, "cut through", &one->cut_through);
    }
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  return g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
}

gboolean
hf_fonts_process(const char *metal, double thickness, double kerf, const HfShop *shop,
                 HfProcess *ret_process, GError **error)
{
  HfRecipe recipe = {.file = (char *)"--smallest",
                     .metal = (char *)metal,
                     .thickness = thickness,
                     .kerf = kerf,
                     .crater = NAN};
  return hf_process_of(&recipe, shop, ret_process, error);
}
