/* SPDX-License-Identifier: GPL-3.0-or-later
 * ornaments.c - prints docs/ornaments.md: build/tools/ornaments > docs/ornaments.md
 * build/tools/ornaments --sheet prints the picture sheet in it as SVG; tools/ornaments.sh writes
 * both.
 */
#include "base/text.h"
#include "hold/law.h"
#include "ornament/ornament.h"
#include <stdio.h>
#include <string.h>

/* ---- the table ------------------------------------------------------------------------------- */

static const struct {
  const char *called;
  double thickness, kerf;
} sheets[] = {{"t 1.5, k 1.2", 1.5, 1.2}, {"t 3, k 1.5", 3, 1.5}, {"t 5, k 1.8", 5, 1.8}};

static HfOrnamentLimits
stops_on(guint sheet)
{
  HfProcess process = {.thickness = sheets[sheet].thickness,
                       .kerf = sheets[sheet].kerf,
                       .crater = sheets[sheet].kerf};
  return (HfOrnamentLimits){hf_law_usual(HF_LAW_THIN_LONG_WEB, &process).stop,
                            hf_law_usual(HF_LAW_NARROW_GAP, &process).stop,
                            hf_law_usual(HF_LAW_SMALL_OPENING, &process).stop};
}

static void
put_row(GString *out, HfOrnamentForm form)
{
  const HfOrnamentRow *row = hf_ornament_row(form);
  g_string_append_printf(out, "| %s | ", hf_ornament_word(form));
  hf_text_append(out, hf_ornament_wide(form, FALSE, 0), 2);
  if (row->points > 0)
    g_string_append_printf(out, " | %d (%d to %d)", row->points, row->least, row->most);
  else
    g_string_append(out, " | -");
  for (int opening = 0; opening < 2; opening++)
    for (guint i = 0; i < G_N_ELEMENTS(sheets); i++) {
      HfOrnamentLimits stops = stops_on(i);
      g_string_append(out, " | ");
      hf_text_append(out, ceil(hf_ornament_smallest(form, opening == 1, &stops)), 0);
    }
  g_string_append(out, " |\n");
}

static char *
page_text(void)
{
  GString *out = g_string_new(
      "# Ornaments\n\n"
      "Written by `tools/ornaments.sh` from the table in `src/ornament/`; a test compares the "
      "text.\n\n"
      "Each is drawn by a formula of our own, of lines, arcs and cubics. As metal it is one piece. "
      "Cut through it may be several openings; what would fall out of it is left off, or stays "
      "joined by metal that belongs to the drawing.\n\n"
      "![All ornaments, as metal and cut through](pictures/ornaments.png)\n\n"
      "```yaml\n"
      "  - ornament: {form: anchor, height: 80 mm, stand on: rail, at: left end}\n"
      "  - ornament: {form: fish, width: 140 mm, as: opening, on: board, at: [0 mm, -60 mm], "
      "mirror: yes}\n"
      "  - ornament: {form: sun, height: 120 mm, points: 9, as: opening, on: board}\n"
      "```\n\n"
      "What each may say is in [recipe.md](recipe.md#ornament).\n\n"
      "## How small\n\n"
      "The least height in mm at which every web and gap of it keeps its stop, on three sheets (t "
      "the thickness, k the kerf, in mm), with the limits of [limits.md](limits.md). It follows "
      "from what is thinnest in each form; a smaller one is found by the ordinary checks, and told "
      "how high it must be. A tip is burnt back at any size. With more points than usual it must "
      "be larger.\n\n"
      "| form | width : height | points |");
  for (int opening = 0; opening < 2; opening++)
    for (guint i = 0; i < G_N_ELEMENTS(sheets); i++)
      g_string_append_printf(out, " %s%s |", opening == 1 ? "cut, " : "metal, ", sheets[i].called);
  g_string_append(out, "\n|---|---|---|---|---|---|---|---|---|\n");
  for (int i = 0; i < HF_N_ORNAMENTS; i++)
    put_row(out, (HfOrnamentForm)i);
  return g_string_free(out, FALSE);
}

/* ---- the sheet ------------------------------------------------------------------------------- */

enum { CELL = 200, PICTURE = 160, COLUMNS = 4, ARC_PIECES = 32 };

static void
put_point(GString *out, char how, HfPoint p, HfMatrix m)
{
  p = hf_matrix_apply(m, p);
  g_string_append_printf(out, "%c", how);
  hf_text_append(out, p.x, 2);
  g_string_append_c(out, ' ');
  hf_text_append(out, p.y, 2);
}

static void
put_curve(GString *out, const HfCurve *curve, HfMatrix m)
{
  int n = curve->kind == HF_CURVE_LINE ? 1 : ARC_PIECES;
  for (int i = 1; i <= n; i++)
    put_point(out, 'L', hf_curve_point(curve, (double)i / n), m);
}

static void
put_outline(GString *out, const HfOutline *outline, const char *colour, HfMatrix m)
{
  g_string_append_printf(out, "<path fill=\"%s\" d=\"", colour);
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curve = hf_outline_contour(outline, i, &n);
    put_point(out, 'M', curve->p0, m);
    for (guint k = 0; k < n; k++)
      put_curve(out, &curve[k], m);
    g_string_append_c(out, 'Z');
  }
  g_string_append(out, "\"/>\n");
}

static void
put_cell(GString *out, HfOrnamentForm form, gboolean opening, HfPoint middle)
{
  const char *metal = "#3d4248", *air = "#ffffff";
  g_autoptr(HfOrnament) ornament = hf_ornament_new(form, opening, 0);
  double k = PICTURE / fmax(1, hf_box_width(hf_outline_box(ornament->own)));
  HfMatrix m = {k, 0, 0, -k, middle.x, middle.y};
  if (opening)
    g_string_append_printf(out, "<rect x=\"%g\" y=\"%g\" width=\"%d\" height=\"%d\" fill=\"%s\"/>",
                           middle.x - PICTURE / 2.0 - 12, middle.y - PICTURE / 2.0 - 12,
                           PICTURE + 24, PICTURE + 24, metal);
  put_outline(out, ornament->own, opening ? air : metal, m);
  put_outline(out, ornament->cuts, air, m);
  put_outline(out, ornament->bars, metal, m);
}

static char *
sheet_text(void)
{
  int rows = (HF_N_ORNAMENTS + COLUMNS - 1) / COLUMNS, high = CELL + 24;
  GString *out = g_string_new(NULL);
  g_string_append_printf(out,
                         "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\">\n"
                         "<rect width=\"100%%\" height=\"100%%\" fill=\"#ffffff\"/>\n",
                         2 * CELL * COLUMNS, high * rows);
  for (int i = 0; i < HF_N_ORNAMENTS; i++) {
    double x = 2 * CELL * (i % COLUMNS), y = high * (i / COLUMNS);
    for (int opening = 0; opening < 2; opening++)
      put_cell(out, (HfOrnamentForm)i, opening == 1,
               hf_point(x + CELL * (opening + 0.5), y + CELL / 2.0));
    g_string_append_printf(out,
                           "<text x=\"%g\" y=\"%g\" font-family=\"sans-serif\" font-size=\"17\" "
                           "text-anchor=\"middle\">%s</text>\n",
                           x + CELL, y + CELL + 12, hf_ornament_word((HfOrnamentForm)i));
  }
  g_string_append(out, "</svg>\n");
  return g_string_free(out, FALSE);
}

int
main(int argc, char **argv)
{
  gboolean sheet = argc > 1 && strcmp(argv[1], "--sheet") == 0;
  g_autofree char *text = sheet ? sheet_text() : page_text();
  return fputs(text, stdout) == EOF || fflush(stdout) != 0;
}
