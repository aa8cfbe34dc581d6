/* SPDX-License-Identifier: GPL-3.0-or-later
 * found-list.c - what is in a drawing's file, in words.
 *
 *   heron.svg: SVG, metal 204 x 352 mm: as its file says
 *     7 pieces
 *       path "body"          148 x 240 mm   #24323c   line 8
 *     white paint: ...
 *     1  line 12: a picture of dots was left out
 */
#include "base/file.h"
#include "base/seen.h"
#include "base/text.h"
#include "drawing/drawing.h"
#include "out/found-picture.h"
#include "run/found.h"
#include <stdlib.h>
#include <string.h>

#define MOST_BYTES (32u << 20)
enum { SHOWN = 40, PIXELS = 1000, NAME_COLUMN = 34 };

struct HfFound {
  char *file;
  const HfOrder *order; /* borrowed */
  const char *format;
  HfDrawing *drawing;
  HfDrawingWhite white; /* as said, or METAL where it makes no difference */
  double area[HF_N_DRAWING_WHITES];
};

/* ---- reading --------------------------------------------------------------------------------- */

/* What the order says, by the rules of a recipe. */
static gboolean
read_order(const char *file, const HfOrder *order, HfDrawingWish *wish, HfDrawingWhite *white,
           char **font, GError **error)
{
  HfOrder with_sheet = *order;
  if (with_sheet.metal == NULL)
    with_sheet.metal = (char *)"mild steel";
  if (with_sheet.thickness == NULL)
    with_sheet.thickness = (char *)"3 mm";
  g_autofree char *base = g_path_get_basename(file);
  g_autofree char *text = hf_order_text(&with_sheet, base, NULL);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), file, error);
  if (recipe == NULL)
    return FALSE;
  const HfDrawingEntry *entry = &hf_recipe_at(recipe, 0)->drawing;
  wish->unit_mm = hf_drawing_unit_mm(entry->unit);
  *font = g_strdup(entry->font);
  wish->page = (guint)entry->page;
  *white = (HfDrawingWhite)entry->white;
  return TRUE;
}

static gboolean
read_file(HfFound *found, const HfDrawingWish *wish, GError **error)
{
  g_autoptr(GBytes) bytes = hf_file_read(found->file, MOST_BYTES, error);
  if (bytes == NULL)
    return FALSE;
  gsize length;
  const void *data = g_bytes_get_data(bytes, &length);
  if (data == NULL)
    data = "";
  found->format = hf_drawing_format(data, length);
  found->drawing = hf_drawing_open(found->file, data, length, wish, error);
  return found->drawing != NULL;
}

HfFound *
hf_found_read(const char *file, const HfOrder *order, GError **error)
{
  g_autoptr(HfFound) found = g_new0(HfFound, 1);
  found->file = g_strdup(file);
  found->order = order;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autofree char *font = NULL;
  HfDrawingWish wish = {.fonts = fonts};
  if (!read_order(file, order, &wish, &found->white, &font, error))
    return NULL;
  HfFaceWanted face = {.family = font};
  wish.face = font != NULL ? &face : NULL;
  if (!read_file(found, &wish, error))
    return NULL;
  if (order->piece != NULL && !hf_drawing_has(found->drawing, order->piece)) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, file, "look at it without --piece: it lists them",
                 "the drawing has no piece called \"%s\"", order->piece);
    return NULL;
  }
  HfDrawingWhite white = hf_drawing_white(found->drawing, order->piece, found->area);
  if (found->white == HF_DRAWING_WHITE_UNSAID)
    found->white = white;
  return g_steal_pointer(&found);
}

void
hf_found_free(HfFound *found)
{
  if (found == NULL)
    return;
  hf_drawing_free(found->drawing);
  g_free(found->file);
  g_free(found);
}

/* ---- words ----------------------------------------------------------------------------------- */

static gboolean
is_size_said(const HfFound *found)
{
  return found->order->width != NULL || found->order->height != NULL;
}

/* Of what is metal by the reading at hand, as the file has it; "200 x 352 mm". */
static char *
size_of(const HfFound *found, HfBox box)
{
  double mm = found->drawing->mm;
  return hf_text_size(hf_box_width(box) * mm, hf_box_height(box) * mm);
}

static HfBox
metal_box(const HfFound *found)
{
  HfDrawingWhite white =
      found->white == HF_DRAWING_WHITE_UNSAID ? HF_DRAWING_WHITE_METAL : found->white;
  return hf_drawing_metal_box(hf_drawing_metal(found->drawing, white, found->order->piece));
}

static void
add_head(GString *text, const HfFound *found)
{
  g_autofree char *size = size_of(found, metal_box(found)), *file = hf_seen(found->file, FALSE);
  g_string_append_printf(text, "%s: %s, its metal is %s: %s\n", file, found->format, size,
                         found->drawing->size_rule);
  if (found->drawing->guessed && !is_size_said(found))
    g_string_append(text, "  how large is it? say --unit mm or --unit in, or --width \"400 mm\"\n");
}

static void
add_piece(GString *text, const HfFound *found, const HfDrawingPiece *piece)
{
  g_autofree char *size = size_of(found, hf_outline_box(piece->outline));
  g_autofree char *name = hf_seen_message(piece->name, FALSE);
  g_string_append_printf(text, "    %s", name);
  for (glong i = g_utf8_strlen(name, -1); i < NAME_COLUMN; i++)
    g_string_append_c(text, ' ');
  g_string_append_printf(text, "  %s", size);
  if (piece->white)
    g_string_append(text, ", white");
  else
    g_string_append_printf(text, ", #%06x", piece->colour);
  if (piece->line > 0)
    g_string_append_printf(text, ", line %u", piece->line);
  g_string_append_c(text, '\n');
}

static void
add_pieces(GString *text, const HfFound *found, gboolean all)
{
  guint n = 0, most = all ? G_MAXUINT : SHOWN;
  g_autoptr(GString) list = g_string_new(NULL);
  for (guint i = 0; i < found->drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(found->drawing, i);
    if (hf_drawing_piece_is_called(piece, found->order->piece) && n++ < most)
      add_piece(list, found, piece);
  }
  g_string_append_printf(text, "  %u piece%s\n%s", n, n == 1 ? "" : "s", list->str);
  if (n > most)
    g_string_append_printf(text, "    and %u more; --all lists them\n", n - most);
}

/* What a recipe may call metal, openings or left out. */
static void
add_layers(GString *text, const HfFound *found)
{
  const GPtrArray *groups = found->drawing->groups;
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < groups->len; i++)
    g_ptr_array_add(names, hf_seen_value((const char *)groups->pdata[i]));
  g_ptr_array_add(names, NULL);
  if (groups->len == 0)
    return;
  g_autofree char *list =
      hf_text_list_some((const char *const *)names->pdata, groups->len, SHOWN, "and");
  g_string_append_printf(text, "  layers and blocks: %s\n", list);
}

/* Names that stand for more than one piece, or for one that has another name too: groups, layers,
 * blocks; what --piece takes. */
static void
add_groups(GString *text, const HfFound *found)
{
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < found->drawing->pieces->len; i++) {
    const GPtrArray *called = hf_drawing_piece(found->drawing, i)->called;
    for (guint k = 0; k < called->len; k++)
      if (g_hash_table_add(seen, called->pdata[k]))
        g_ptr_array_add(names, hf_seen_value((const char *)called->pdata[k]));
  }
  add_layers(text, found);
  guint n = names->len;
  g_ptr_array_add(names, NULL);
  if (n == 0)
    return;
  g_autofree char *list = hf_text_list_some((const char *const *)names->pdata, n, SHOWN, "and");
  g_string_append_printf(text, "  names for --piece: %s\n", list);
}

/* What @white comes to, in the file's own size. */
static char *
area_of(const HfFound *found, HfDrawingWhite white)
{
  return hf_text_area_more(found->area[white] * found->drawing->mm * found->drawing->mm, 1);
}

static void
add_white(GString *text, const HfFound *found)
{
  if (found->white != HF_DRAWING_WHITE_UNSAID)
    return;
  g_autofree char *opening = area_of(found, HF_DRAWING_WHITE_OPENING),
                  *metal = area_of(found, HF_DRAWING_WHITE_METAL),
                  *nothing = area_of(found, HF_DRAWING_WHITE_NOTHING);
  g_string_append_printf(text,
                         "  what is its white paint? choose, and say it:\n"
                         "    --white opening  it cuts away what lies under it: %s of metal stay\n"
                         "    --white metal    it is metal too: %s\n"
                         "    --white nothing  it is left out: %s\n",
                         opening, metal, nothing);
}

/* Live words, and what they are set in, or why not. */
static void
add_texts(GString *text, const HfFound *found)
{
  const GPtrArray *texts = found->drawing->texts;
  if (texts->len > 0)
    g_string_append(text, "  live words:\n");
  for (guint i = 0; i < texts->len; i++) {
    const HfDrawingText *own = (const HfDrawingText *)texts->pdata[i];
    g_autofree char *said = hf_seen_value(own->text), *asked = hf_seen_value(own->asked);
    g_autofree char *why = own->why != NULL ? hf_seen_message(own->why->message, FALSE) : NULL;
    if (why != NULL)
      g_string_append_printf(text, "    not set, so it can't be made: %s\n", why);
    else
      g_string_append_printf(text, "    %s in %s; its file names %s\n", said, own->face,
                             *own->asked != '\0' ? asked : "no face");
  }
}

static void
add_notes(GString *text, const HfFound *found)
{
  const GPtrArray *notes = found->drawing->notes;
  if (notes->len > 0)
    g_string_append(text, "  left out, mended or in doubt:\n");
  for (guint i = 0; i < notes->len; i++) {
    const HfDrawingNote *note = (const HfDrawingNote *)notes->pdata[i];
    g_autofree char *line =
        note->line > 0 ? g_strdup_printf("line %u: ", note->line) : g_strdup("");
    g_autofree char *said = hf_seen_message(note->text, FALSE);
    g_string_append_printf(text, "  %3u  %s%s", i + 1, line, said);
    if (note->times > 1)
      g_string_append_printf(text, ", and %u more", note->times - 1);
    g_string_append_c(text, '\n');
  }
}

char *
hf_found_told(HfFound *found, gboolean all)
{
  GString *text = g_string_new(NULL);
  add_head(text, found);
  add_pieces(text, found, all);
  add_groups(text, found);
  add_white(text, found);
  add_texts(text, found);
  add_notes(text, found);
  return g_string_free(text, FALSE);
}

GBytes *
hf_found_picture(HfFound *found)
{
  return hf_out_found(found->drawing, found->white, found->order->piece, PIXELS);
}

/* ---- a recipe -------------------------------------------------------------------------------- */

/* (nullable) (transfer full) how a recipe at @recipe says @file: from its own folder on. */
static char *
path_from(const char *recipe, const char *file)
{
  g_autofree char *folder = g_path_get_dirname(recipe), *lies = g_path_get_dirname(file);
  g_autofree char *from = realpath(folder, NULL), *to = realpath(lies, NULL);
  g_autofree char *base = g_path_get_basename(file);
  gsize length = from != NULL ? strlen(from) : 0;
  if (from == NULL || to == NULL || strncmp(to, from, length) != 0 ||
      (to[length] != '\0' && to[length] != '/' && length > 1))
    return NULL;
  const char *below = to + length;
  while (*below == '/')
    below++;
  return *below == '\0' ? g_steal_pointer(&base) : g_build_filename(below, base, NULL);
}

static char *
remark_of(const HfFound *found)
{
  g_autofree char *size = size_of(found, metal_box(found)),
                  *name = g_path_get_basename(found->file);
  g_autofree char *file = hf_seen(name, FALSE);
  GString *text = g_string_new(NULL);
  g_string_append_printf(text, "%s, of which the metal is %s: %s.", file, size,
                         found->drawing->size_rule);
  if (found->order->metal == NULL || found->order->thickness == NULL)
    g_string_append(text, "\nThe metal is a guess: change it.");
  if (found->order->kerf == NULL)
    g_string_append(text, "\nThe kerf is a guess: measure yours on a test cut.");
  if (found->white == HF_DRAWING_WHITE_UNSAID)
    g_string_append(text, "\nThe metal hangs on its white paint: opening, metal or nothing?");
  if (found->drawing->guessed && !is_size_said(found))
    g_string_append(text, "\nIts unit is a guess: mm, cm, m, in or ft?");
  return g_string_free(text, FALSE);
}

/* @said, or a guess. */
static char *
or_guess(const char *said, const char *guess)
{
  return g_strdup(said != NULL ? said : guess);
}

char *
hf_found_recipe(HfFound *found, const char *recipe, GError **error)
{
  g_autofree char *file = path_from(recipe, found->file);
  if (file == NULL) {
    hf_error_set(
        error, HF_ERROR_BAD_VALUE, recipe, "write it beside the drawing, or into a folder above it",
        "a recipe there can't name %s: a drawing lies beside its recipe or below it", found->file);
    return NULL;
  }
  const HfOrder *said = found->order;
  gboolean guess_unit = found->drawing->guessed && !is_size_said(found);
  gboolean ask_white = found->white == HF_DRAWING_WHITE_UNSAID;
  g_auto(HfOrder) order = {.metal = or_guess(said->metal, "mild steel"),
                           .thickness = or_guess(said->thickness, "3 mm"),
                           .kerf = or_guess(said->kerf, "1.5 mm"),
                           .width = g_strdup(said->width),
                           .height = g_strdup(said->height),
                           .unit = or_guess(said->unit, guess_unit ? "mm" : NULL),
                           .piece = g_strdup(said->piece),
                           .font = g_strdup(said->font),
                           .page = g_strdup(said->page),
                           .white = or_guess(said->white, ask_white ? "opening" : NULL)};
  g_autofree char *remark = remark_of(found);
  return hf_order_text(&order, file, remark);
}
