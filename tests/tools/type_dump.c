/* SPDX-License-Identifier: GPL-3.0-or-later
 * type_dump.c - sets texts in a face and prints glyphs and outlines, one JSON object a line:
 *   {"text": ..., "advance": .., "cap_height": .., "glyphs": [{"letter": .., "cluster": ..,
 *    "at": [x, y], "advance": .., "ink": [..] | null, "contours": [[[kind, x, y, ...], ...],
 * ...]}]} For tests/oracle/test_type.py.   type_dump [--file F | --family F] [--style S] [...]
 * TEXT...
 */
#include "base/text.h"
#include "type/type.h"
#include <locale.h>
#include <stdio.h>
#include <string.h>

static void
put(GString *out, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append(out, g_ascii_formatd(text, sizeof text, "%.12g", value));
}

static void
put_numbers(GString *out, const double *values, guint n)
{
  g_string_append_c(out, '[');
  for (guint i = 0; i < n; i++) {
    if (i > 0)
      g_string_append_c(out, ',');
    put(out, values[i]);
  }
  g_string_append_c(out, ']');
}

static void
put_string(GString *out, const char *text)
{
  g_string_append_c(out, '"');
  for (; *text != '\0'; text = g_utf8_next_char(text)) {
    gunichar c = g_utf8_get_char(text);
    if (c == '"' || c == '\\' || c < 0x20)
      g_string_append_printf(out, "\\u%04x", c);
    else
      g_string_append_unichar(out, c);
  }
  g_string_append_c(out, '"');
}

/* Each curve as its points: 2 a line, 4 a cubic. */
static void
put_contours(GString *out, const HfOutline *outline)
{
  g_string_append_c(out, '[');
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n = 0;
    const HfCurve *curves = hf_outline_contour(outline, i, &n);
    g_string_append(out, i > 0 ? ",[" : "[");
    for (guint k = 0; k < n; k++) {
      const HfCurve *c = &curves[k];
      double points[] = {c->p0.x, c->p0.y, c->c0.x, c->c0.y, c->c1.x, c->c1.y, c->p1.x, c->p1.y};
      double ends[] = {c->p0.x, c->p0.y, c->p1.x, c->p1.y};
      if (k > 0)
        g_string_append_c(out, ',');
      if (c->kind == HF_CURVE_LINE)
        put_numbers(out, ends, 4);
      else
        put_numbers(out, points, 8);
    }
    g_string_append_c(out, ']');
  }
  g_string_append_c(out, ']');
}

static void
put_glyph(GString *out, const HfGlyph *glyph)
{
  g_string_append_printf(out, "{\"letter\":%u,\"cluster\":%u,\"at\":", glyph->letter,
                         glyph->cluster);
  put_numbers(out, (double[]){glyph->at.x, glyph->at.y}, 2);
  g_string_append(out, ",\"advance\":");
  put(out, glyph->advance);
  g_string_append(out, ",\"ink\":");
  if (hf_box_is_empty(glyph->ink))
    g_string_append(out, "null");
  else
    put_numbers(
        out, (double[]){glyph->ink.min.x, glyph->ink.min.y, glyph->ink.max.x, glyph->ink.max.y}, 4);
  g_string_append(out, ",\"area\":");
  put(out, hf_outline_area(glyph->outline));
  g_string_append(out, ",\"contours\":");
  put_contours(out, glyph->outline);
  g_string_append_c(out, '}');
}

static void
put_line(const HfLine *line, const char *text)
{
  g_autoptr(GString) out = g_string_new("{\"text\":");
  put_string(out, text);
  g_string_append(out, ",\"advance\":");
  put(out, line->advance);
  g_string_append(out, ",\"cap_height\":");
  put(out, line->cap_height);
  g_string_append(out,
                  hf_face_may_embed(line->face) ? ",\"may_embed\":true" : ",\"may_embed\":false");
  g_string_append(out, ",\"letters\":[");
  for (guint i = 0; i < line->letters->len; i++) {
    if (i > 0)
      g_string_append_c(out, ',');
    put_string(out, g_ptr_array_index(line->letters, i));
  }
  g_string_append(out, "],\"glyphs\":[");
  for (guint i = 0; i < line->glyphs->len; i++) {
    if (i > 0)
      g_string_append_c(out, ',');
    put_glyph(out, &g_array_index(line->glyphs, HfGlyph, i));
  }
  g_string_append(out, "]}");
  puts(out->str);
}

int
main(int argc, char **argv)
{
  setlocale(LC_ALL, ""); /* numbers must not depend on it */
  HfFaceWanted wanted = {NULL};
  HfTypeOptions how = {NULL};
  double spacing = 0;
  int way = 0;
  g_auto(GStrv) texts = NULL;
  GOptionEntry entries[] = {
      {"family", 0, 0, G_OPTION_ARG_STRING, &wanted.family, NULL, NULL},
      {"style", 0, 0, G_OPTION_ARG_STRING, &wanted.style, NULL, NULL},
      {"file", 0, 0, G_OPTION_ARG_FILENAME, &wanted.file, NULL, NULL},
      {"axes", 0, 0, G_OPTION_ARG_STRING, &wanted.axes, NULL, NULL},
      {"features", 0, 0, G_OPTION_ARG_STRING, &how.features, NULL, NULL},
      {"language", 0, 0, G_OPTION_ARG_STRING, &how.language, NULL, NULL},
      {"way", 0, 0, G_OPTION_ARG_INT, &way, NULL, NULL},
      {"spacing", 0, 0, G_OPTION_ARG_DOUBLE, &spacing, NULL, NULL},
      {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &texts, NULL, NULL},
      {NULL},
  };
  g_autoptr(GOptionContext) context = g_option_context_new("TEXT...");
  g_option_context_add_main_entries(context, entries, NULL);
  g_autoptr(GError) error = NULL;
  if (!g_option_context_parse(context, &argc, &argv, &error)) {
    fprintf(stderr, "%s\n", error->message);
    return 2;
  }
  how.way = (HfWay)way;
  how.spacing = spacing;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, &error);
  for (guint i = 0; face != NULL && texts != NULL && texts[i] != NULL; i++) {
    g_autoptr(HfLine) line = hf_type_line(fonts, face, texts[i], &how, NULL, &error);
    if (line == NULL)
      break;
    put_line(line, texts[i]);
  }
  if (error == NULL)
    return 0;
  fprintf(stderr, "%s\n", error->message);
  return hf_error_exit_code(error);
}
