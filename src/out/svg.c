/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg.c - the outlines as SVG: one path element per part, openings nested in it, true arcs.
 *
 * Millimetres, no transforms: y is turned over by writing it so (path.c). Coordinates have five
 * decimals (0.01 um).
 *
 * What is not to be cut says so in title and description, in the ids and in letters above the sign.
 * Those letters are text, not outlines: a reader for cutting does not take them for metal, and
 * whoever opens the file in a viewer can't miss them.
 */
#include "base/seen.h"
#include "base/text.h"
#include "out/format.h"
#include "out/outlines-private.h"
#include "out/path-private.h"

enum { DECIMALS = 5 };

typedef struct {
  GString *text;
  HfOutlinesFrame frame;
} Svg;

static void
put_number(Svg *svg, double value)
{
  g_string_append_c(svg->text, ' ');
  hf_text_append(svg->text, value, DECIMALS);
}

static void
put_escaped(Svg *svg, const char *words)
{
  g_autofree char *seen = hf_seen(words, FALSE); /* XML has no way to carry a control character */
  g_autofree char *escaped = g_markup_escape_text(seen, -1);
  g_string_append(svg->text, escaped);
}

/* Outer ring @ring with all openings in it. */
static void
put_part(Svg *svg, const HfSign *what, guint ring, guint number)
{
  const HfRegion *region = what->metal->region;
  HfPath path = {svg->text, hf_point(svg->frame.corner.x, svg->frame.corner.y + svg->frame.height),
                 DECIMALS};
  g_autofree char *name = hf_outlines_part_name(what, ring);
  g_string_append_printf(svg->text, "<path id=\"part-%u\" d=\"", number);
  hf_path_contour(&path, what->fit->outline, ring);
  for (guint i = 0; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent == (gint)ring)
      hf_path_contour(&path, what->fit->outline, i);
  g_string_append(svg->text, "\"><title>");
  put_escaped(svg, name);
  g_string_append(svg->text, "</title></path>\n");
}

/* The strip above the sign for the letters of what is not to be cut; else 0. */
static double
strip_height(const Svg *svg, const HfSign *what)
{
  return what->hold->whole ? 0 : ceil(MAX(svg->frame.width / 12, 5));
}

static void
put_head(Svg *svg, const HfSign *what)
{
  double strip = strip_height(svg, what);
  double width = MAX(svg->frame.width, 1), height = MAX(svg->frame.height, 1) + strip;
  g_string_append(svg->text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                             "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
  hf_text_append(svg->text, width, DECIMALS);
  g_string_append(svg->text, "mm\" height=\"");
  hf_text_append(svg->text, height, DECIMALS);
  g_string_append(svg->text, "mm\" viewBox=\"0 ");
  hf_text_append(svg->text, -strip, DECIMALS);
  put_number(svg, width);
  put_number(svg, height);
  g_string_append(svg->text, "\">\n<title>");
  if (!what->hold->whole)
    g_string_append(svg->text, "NOT TO BE CUT: ");
  put_escaped(svg, what->recipe->sign != NULL ? what->recipe->sign : "sign");
  g_string_append(svg->text, "</title>\n<desc>");
  g_auto(GStrv) says = hf_outlines_says(what);
  for (guint i = 0; says[i] != NULL; i++) {
    put_escaped(svg, says[i]);
    g_string_append_c(svg->text, '\n');
  }
  g_string_append(svg->text, "unit: millimetres</desc>\n");
}

static void
put_warning(Svg *svg, const HfSign *what)
{
  double strip = strip_height(svg, what);
  if (strip == 0)
    return;
  g_string_append(svg->text, "<text x=\"0\" y=\"");
  hf_text_append(svg->text, -strip / 4, DECIMALS);
  g_string_append(svg->text, "\" font-family=\"sans-serif\" font-weight=\"bold\" font-size=\"");
  hf_text_append(svg->text, strip * 0.75, DECIMALS);
  g_string_append(svg->text, "\">NOT TO BE CUT</text>\n");
}

GBytes *
hf_out_svg(const HfSign *what)
{
  Svg svg = {g_string_sized_new(1 << 16), hf_outlines_frame(what)};
  const HfRegion *region = what->metal->region;
  put_head(&svg, what);
  put_warning(&svg, what);
  g_string_append_printf(svg.text, "<g id=\"%s\" fill=\"black\" fill-rule=\"evenodd\">\n",
                         what->hold->whole ? "metal" : "not-to-be-cut");
  for (guint i = 0, number = 1; i < region->rings->len; i++)
    if (hf_region_ring(region, i)->parent < 0)
      put_part(&svg, what, i, number++);
  g_string_append(svg.text, "</g>\n</svg>\n");
  return g_string_free_to_bytes(svg.text);
}

static GBytes *
write_svg(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)format;
  (void)error;
  return hf_out_svg(making->sign);
}

HF_FORMATS(svg, {.about = HF_ABOUT_OUTLINES,
                 .ending = ".svg",
                 .type = "image/svg+xml",
                 .says = "the outlines, true arcs, in millimetres",
                 .picture = TRUE,
                 .write = write_svg});
