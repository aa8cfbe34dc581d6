/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_sign.c - whole signs out of random recipes: any bytes choose plates, rings, bars, holes,
 * stars and words with their sizes and places; the sign is worked out, all its files are made and
 * read back by readers that are not ours (GMarkup, JSON-GLib) or line by line.
 *
 * What must hold: a verdict of whole has no stop; metal is there or its lack is told; every opening
 * of the SVG is a closed contour; DXF is pairs of lines; the report says the same verdict.
 */
#include "run/job.h"
#include <json-glib/json-glib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

typedef struct {
  const guint8 *at, *end;
} Bytes;

static guint
take(Bytes *bytes, guint below)
{
  return bytes->at < bytes->end ? *bytes->at++ % below : 0;
}

/* mm, in tenths */
static void
put_length(GString *text, const char *key, Bytes *bytes, guint least, guint most)
{
  guint tenths = 10 * least + (take(bytes, 256) * 256 + take(bytes, 256)) % (10 * (most - least));
  g_string_append_printf(text, ", %s: %u.%u mm", key, tenths / 10, tenths % 10);
}

static void
put_place(GString *text, Bytes *bytes)
{
  int x = (int)take(bytes, 200) - 100, y = (int)take(bytes, 200) - 100;
  g_string_append_printf(text, ", at: [%d mm, %d mm]", x, y);
  if (take(bytes, 3) == 0)
    g_string_append_printf(text, ", turn: %u deg", take(bytes, 180));
}

static void
put_entry(GString *text, Bytes *bytes, guint i)
{
  static const char *const shapes[] = {"rectangle", "oval", "rounded"};
  static const char *const texts[] = {"I", "QUAY", "80", "Tide", "ö", "A&B", "\\u05d9\\u05dd"};
  gboolean opening = i > 0 && take(bytes, 3) == 0;
  guint kind = take(bytes, 6);
  g_string_append(text, "  - ");
  switch (kind) {
  case 0:
    g_string_append_printf(text, "plate: {name: e%u, shape: %s", i, shapes[take(bytes, 3)]);
    put_length(text, "width", bytes, 10, 200);
    put_length(text, "height", bytes, 10, 200);
    break;
  case 1:
    g_string_append_printf(text, "ring: {name: e%u", i);
    put_length(text, "outer", bytes, 40, 200);
    put_length(text, "width", bytes, 1, 18);
    break;
  case 2:
    g_string_append_printf(text, "bar: {name: e%u", i);
    put_length(text, "length", bytes, 20, 250);
    put_length(text, "height", bytes, 1, 30);
    break;
  case 3:
    g_string_append_printf(text, "star: {name: e%u, points: %u, depth: %u %%", i,
                           3 + take(bytes, 20), 10 + take(bytes, 80));
    put_length(text, "diameter", bytes, 10, 120);
    break;
  case 4:
    g_string_append_printf(text, "dot: {name: e%u", i);
    put_length(text, "diameter", bytes, 1, 90);
    break;
  default:
    g_string_append_printf(text,
                           "words: {name: e%u, text: \"%s\", font: {family: DejaVu Sans, "
                           "style: Bold}",
                           i, texts[take(bytes, G_N_ELEMENTS(texts))]);
    put_length(text, "height", bytes, 8, 90);
  }
  put_place(text, bytes);
  g_string_append(text, opening ? ", as: opening}\n" : "}\n");
}

static char *
recipe_of(const guint8 *data, gsize size)
{
  Bytes bytes = {data, data + size};
  GString *text = g_string_new("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\n"
                               "process: {kerf: 1.5 mm}\nentries:\n");
  guint n = 1 + take(&bytes, 9);
  for (guint i = 0; i < n; i++)
    put_entry(text, &bytes, i);
  if (take(&bytes, 4) == 0)
    g_string_append(text, "  - ties: {}\n");
  return g_string_free(text, FALSE);
}

/* ---- reading back --------------------------------------------------------------------------- */

typedef struct {
  gboolean outlines; /* every path of it closes */
  guint paths;
} Svg;

static void
on_element(GMarkupParseContext *context G_GNUC_UNUSED, const char *name, const char **keys,
           const char **values, gpointer data, GError **error G_GNUC_UNUSED)
{
  Svg *svg = data;
  for (guint i = 0; strcmp(name, "path") == 0 && keys[i] != NULL; i++)
    if (strcmp(keys[i], "d") == 0) {
      guint open = 0, closed = 0;
      for (const char *at = values[i]; *at != '\0'; at++) {
        open += *at == 'M';
        closed += *at == 'Z' || *at == 'z';
      }
      g_assert(open > 0 && (!svg->outlines || open == closed));
      svg->paths++;
    }
}

static void
look_at_svg(const char *bytes, gsize length, gboolean outlines)
{
  static const GMarkupParser parser = {.start_element = on_element};
  Svg svg = {.outlines = outlines};
  g_autoptr(GError) error = NULL;
  GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, &svg, NULL);
  gboolean good = g_markup_parse_context_parse(context, bytes, (gssize)length, &error) &&
                  g_markup_parse_context_end_parse(context, &error);
  g_assert_no_error(error);
  g_assert(good);
  g_markup_parse_context_free(context);
}

static void
look_at_dxf(const char *bytes, gsize length)
{
  g_autofree char *text = g_strndup(bytes, length);
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  guint n = g_strv_length(lines);
  g_assert(n % 2 == 1 && lines[n - 1][0] == '\0');
  for (guint i = 0; i + 1 < n; i += 2) {
    char *end;
    g_ascii_strtoll(lines[i], &end, 10);
    g_assert(*end == '\0' && end != lines[i]);
  }
  g_assert(strcmp(lines[n - 2], "EOF") == 0);
}

static void
look_at_report(const HfSign *sign, const char *bytes, gsize length)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(JsonParser) parser = json_parser_new();
  json_parser_load_from_data(parser, bytes, (gssize)length, &error);
  g_assert_no_error(error);
  JsonObject *report = json_node_get_object(json_parser_get_root(parser));
  g_assert_cmpstr(json_object_get_string_member(report, "verdict"), ==,
                  sign->hold->whole ? "whole" : "not whole");
}

static void
look_at_program(const char *bytes, gsize length)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfProgram) program = hf_program_read("cut.nc", bytes, length, NULL, &error);
  g_assert_no_error(error);
  g_assert(program->moves->len > 0);
}

static void
look_at_output(const HfSign *sign, const HfOutput *output)
{
  gsize length = 0;
  const char *bytes = g_bytes_get_data(output->bytes, &length);
  g_assert(length > 0);
  if (g_str_has_suffix(output->name, ".svg"))
    look_at_svg(bytes, length, output->format->about == HF_ABOUT_OUTLINES);
  else if (g_str_has_suffix(output->name, ".dxf"))
    look_at_dxf(bytes, length);
  else if (g_str_has_suffix(output->name, ".json"))
    look_at_report(sign, bytes, length);
  else if (g_str_has_suffix(output->name, ".pdf"))
    g_assert(memmem(bytes, MIN(length, 8), "%PDF-", 5) == bytes &&
             memmem(bytes, length, "%%EOF", 5) != NULL);
  else if (g_str_has_suffix(output->name, ".nc"))
    look_at_program(bytes, length);
  else if (g_str_has_suffix(output->name, ".png"))
    g_assert(memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) == 0);
}

static void
look_at_sign(const HfSign *sign)
{
  const HfHold *hold = sign->hold;
  gboolean stop = FALSE;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(hold->findings, i);
    stop |= finding->gravity == HF_STOP;
    g_assert(finding->each->len >= 1 && finding->text != NULL);
  }
  g_assert(hold->whole == !stop);
  g_assert(hold->area >= 0 && isfinite(hold->mass));
  g_assert(!hold->whole || (hold->parts->len == 1 && hold->area > 0));
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autofree char *text = recipe_of(data, MIN(size, 400));
  g_autoptr(GError) error = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) sign = hf_run_text(text, strlen(text), "fuzz.yaml", &options, &error);
  if (sign == NULL) {
    g_assert(error->domain == HF_ERROR && error->code != HF_ERROR_BUG);
    return 0;
  }
  look_at_sign(sign);
  HfWishes wishes = {.pixels = 200};
  hf_wish_all(&wishes);
  g_autoptr(HfJob) job = hf_job_new(sign, wishes);
  g_assert(hf_job_make(job, NULL, &error));
  for (guint i = 0; i < job->outputs->len; i++)
    look_at_output(sign, g_ptr_array_index(job->outputs, i));
  return 0;
}
