/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf_dump.c - for the checks from outside: what the DXF reader reads of a file, and what joining
 * makes of it.
 *
 * usage: dxf_dump FILE
 * Prints JSON: release, unit, notes; pieces (type, layer, block, place, how, area, box, length of
 * the open gap, curves); in mm where the file says its unit, else in its unit: loops (area, box,
 * depth), open ends, remarks. A file that is refused: {"refused": WHY}. Areas by Green's theorem on
 * the true curves, an open run closed by a line.
 */
#include "drawing/dxf-private.h"
#include "drawing/join-private.h"
#include "drawing/nest-private.h"
#include <stdio.h>

static void
put_string(GString *json, const char *text)
{
  g_string_append_c(json, '"');
  for (const char *p = text; *p != '\0'; p++)
    if (*p == '"' || *p == '\\' || (guchar)*p < 0x20)
      g_string_append_printf(json, "\\u%04x", (guint)(guchar)*p);
    else
      g_string_append_c(json, *p);
  g_string_append_c(json, '"');
}

/* 17 digits: the check compares to 1e-6 and finer. */
static void
put_number(GString *json, const char *key, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append_printf(json, ", \"%s\": %s", key, g_ascii_dtostr(text, sizeof text, value));
}

static void
put_box(GString *json, HfBox box)
{
  if (hf_box_is_empty(box))
    return;
  put_number(json, "x0", box.min.x);
  put_number(json, "y0", box.min.y);
  put_number(json, "x1", box.max.x);
  put_number(json, "y1", box.max.y);
}

static HfOutline *
closed(const GArray *run)
{
  HfOutline *outline = hf_outline_new();
  guint start = 0;
  g_array_append_val(outline->starts, start);
  g_array_append_vals(outline->curves, run->data, run->len);
  HfCurve last = {.kind = HF_CURVE_LINE,
                  .p0 = g_array_index(run, HfCurve, run->len - 1).p1,
                  .p1 = g_array_index(run, HfCurve, 0).p0};
  g_array_append_val(outline->curves, last);
  return outline;
}

static void
put_piece(GString *json, const HfDxfPiece *piece)
{
  static const char *const hows[] = {"run", "filled", "words"};
  HfBox box = HF_BOX_EMPTY;
  double area = 0;
  guint curves = 0;
  g_string_append_printf(json, "{\"how\": \"%s\", \"type\": ", hows[piece->how]);
  put_string(json, piece->type);
  g_string_append(json, ", \"layer\": ");
  put_string(json, piece->layer);
  g_string_append_printf(json, ", \"place\": %u, \"closed\": %s, \"runs\": %u", piece->place,
                         piece->closed ? "true" : "false", piece->runs->len);
  for (guint i = 0; i < piece->runs->len; i++) {
    const GArray *run = (const GArray *)piece->runs->pdata[i];
    g_autoptr(HfOutline) outline = closed(run);
    for (guint j = 0; j < run->len; j++)
      box = hf_box_union(box, hf_curve_box(&g_array_index(run, HfCurve, j)));
    area += piece->even_odd ? fabs(hf_outline_area(outline)) : hf_outline_area(outline);
    curves += run->len;
  }
  put_number(json, "curves", curves);
  put_number(json, "area", area);
  put_box(json, box);
  if (piece->words != NULL) {
    g_string_append(json, ", \"text\": ");
    put_string(json, piece->words->text);
    put_number(json, "x", piece->words->matrix.x0);
    put_number(json, "y", piece->words->matrix.y0);
  }
  g_string_append_c(json, '}');
}

static GArray *
strands_of(const HfDxfReader *reader, double scale)
{
  GArray *strands = g_array_new(FALSE, FALSE, sizeof(HfStrand));
  for (guint i = 0; i < reader->pieces->len; i++) {
    const HfDxfPiece *piece = (const HfDxfPiece *)reader->pieces->pdata[i];
    for (guint j = 0; j < piece->runs->len; j++) {
      GArray *run = (GArray *)piece->runs->pdata[j];
      hf_dxf_matrix_run(run, hf_matrix_scale(scale, scale));
      HfStrand strand = {run, piece->closed || piece->how == HF_DXF_FILLED, i};
      g_array_append_val(strands, strand);
    }
  }
  return strands;
}

/* Chords within a twentieth of a micrometre, or what 4096 of them a curve give. */
static void
put_points(GString *json, const GArray *run)
{
  char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
  g_string_append(json, ", \"points\": [");
  for (guint i = 0; i < run->len; i++) {
    const HfCurve *curve = &g_array_index(run, HfCurve, i);
    guint n = hf_curve_steps(curve, 5e-5);
    for (guint j = 0; j < n; j++) {
      HfPoint p = hf_curve_point(curve, j / (double)n);
      g_string_append_printf(json, "%s[%s,%s]", i + j > 0 ? "," : "",
                             g_ascii_dtostr(x, sizeof x, p.x), g_ascii_dtostr(y, sizeof y, p.y));
    }
  }
  g_string_append_c(json, ']');
}

static void
put_loops(GString *json, const HfJoined *joined)
{
  g_autoptr(HfOutline) all = hf_outline_new();
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < joined->loops->len; i++) {
    const HfChain *loop = (const HfChain *)joined->loops->pdata[i];
    guint start = all->curves->len;
    g_array_append_val(all->starts, start);
    g_array_append_vals(all->curves, loop->curves->data, loop->curves->len);
  }
  box = hf_outline_box(all);
  gboolean fits = all->curves->len > 0 && hf_box_width(box) < HF_REGION_LIMIT_MM &&
                  hf_box_height(box) < HF_REGION_LIMIT_MM;
  g_autoptr(HfOutline) moved = hf_outline_new();
  if (fits)
    hf_outline_append(moved, all, hf_matrix_move(-hf_box_centre(box).x, -hf_box_centre(box).y));
  g_autoptr(GArray) nests = hf_nest(moved), crossings = hf_nest_crossings(moved, 100);
  g_string_append(json, "], \"loops\": [");
  for (guint i = 0; i < joined->loops->len; i++) {
    const HfChain *loop = (const HfChain *)joined->loops->pdata[i];
    g_autoptr(HfOutline) outline = closed(loop->curves);
    g_string_append_printf(json, "%s{\"depth\": %d, \"strands\": %u", i > 0 ? ",\n" : "",
                           i < nests->len ? (int)g_array_index(nests, HfNest, i).depth : -1,
                           loop->n_strands);
    put_number(json, "area", fabs(hf_outline_area(outline)));
    put_box(json, hf_outline_box(outline));
    put_points(json, loop->curves);
    g_string_append_c(json, '}');
  }
  g_string_append_printf(json, "], \"crossings\": %u, \"open\": [", crossings->len);
}

static void
put_joined(GString *json, const HfJoined *joined)
{
  static const char *const kinds[] = {"gap", "open", "branch", "double", "crossing"};
  put_loops(json, joined);
  for (guint i = 0; i < joined->open->len; i++) {
    const HfChain *chain = (const HfChain *)joined->open->pdata[i];
    g_string_append_printf(json, "%s{\"strands\": %u}", i > 0 ? ", " : "", chain->n_strands);
  }
  g_string_append(json, "], \"times\": {");
  for (guint i = 0; i < HF_JOIN_KINDS; i++)
    g_string_append_printf(json, "%s\"%s\": %u", i > 0 ? ", " : "", kinds[i], joined->times[i]);
  g_string_append(json, "}, \"remarks\": [");
  for (guint i = 0; i < joined->remarks->len; i++) {
    const HfJoinRemark *remark = &g_array_index(joined->remarks, HfJoinRemark, i);
    g_string_append_printf(json, "%s{\"kind\": \"%s\"", i > 0 ? ",\n" : "", kinds[remark->kind]);
    put_number(json, "x", remark->at.x);
    put_number(json, "y", remark->at.y);
    put_number(json, "size", remark->size);
    g_string_append_c(json, '}');
  }
  g_string_append(json, "]}\n");
}

static void
put_reader(GString *json, const HfDxfReader *reader)
{
  g_string_append_printf(json, "{\"release\": %d, \"unit\": %d, \"notes\": [",
                         reader->document->release, reader->document->unit);
  for (guint i = 0; i < reader->notes->len; i++) {
    const HfDxfNote *note = (const HfDxfNote *)reader->notes->pdata[i];
    g_string_append_printf(json, "%s{\"place\": %u, \"times\": %u, \"text\": ", i > 0 ? ",\n" : "",
                           note->place, note->times);
    put_string(json, note->text);
    g_string_append_c(json, '}');
  }
  g_string_append(json, "], \"pieces\": [");
  for (guint i = 0; i < reader->pieces->len; i++) {
    g_string_append(json, i > 0 ? ",\n" : "");
    put_piece(json, (const HfDxfPiece *)reader->pieces->pdata[i]);
  }
}

int
main(int argc, char **argv)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (argc < 2 || !g_file_get_contents(argv[1], &bytes, &length, &error))
    return 2;
  g_autofree char *name = g_path_get_basename(argv[1]);
  g_autoptr(HfDxfReader) reader = hf_dxf_read(name, bytes, length, &error);
  g_autoptr(GString) json = g_string_new(NULL);
  if (reader != NULL) {
    double mm = hf_dxf_unit_mm(reader->document->unit);
    put_reader(json, reader);
    g_autoptr(GArray) strands = strands_of(reader, mm > 0 ? mm : 1);
    g_autoptr(HfJoined) joined =
        hf_join((const HfStrand *)(gpointer)strands->data, strands->len, HF_JOIN_MM);
    put_joined(json, joined);
  } else {
    g_string_append(json, "{\"refused\": ");
    put_string(json, error->message);
    g_string_append(json, "}\n");
  }
  fputs(json->str, stdout);
  return 0;
}
