/* SPDX-License-Identifier: GPL-3.0-or-later
 * found-picture.c - what was found in a drawing: its metal filled, its doubts marked.
 *
 *     ####   ////   (2)     filled: metal; hatched: white, what does it mean?
 *     ####   ////           ring: here is what note 2 tells
 */
#include "out/found-picture.h"
#include "base/text.h"
#include "out/path-private.h"
#include "out/pen-private.h"

enum { PAD = 24, RING = 9, NUMBER = 13 };

typedef struct {
  GString *svg;
  HfMatrix matrix; /* from units to pixels, y still up */
  HfPoint corner;  /* upper left, pixels */
} Sheet;

static void
put(GString *svg, const char *before, double value)
{
  g_string_append(svg, before);
  hf_text_append(svg, value, 2);
}

static void
put_outline(const Sheet *sheet, const HfOutline *outline, const char *style)
{
  g_autoptr(HfOutline) placed = hf_outline_new();
  hf_outline_append(placed, outline, sheet->matrix);
  HfPath path = {sheet->svg, sheet->corner, 2};
  g_string_append(sheet->svg, "<path d=\"");
  for (guint i = 0; i < hf_outline_n_contours(placed); i++)
    hf_path_contour(&path, placed, i);
  g_string_append_printf(sheet->svg, "\" %s/>\n", style);
}

static void
put_metal(const Sheet *sheet, const GArray *metal)
{
  g_autofree char *style = g_strdup_printf("fill=\"#%06x\"", HF_STEEL);
  for (guint i = 0; i < metal->len; i++)
    put_outline(sheet, g_array_index(metal, HfDrawingMetal, i).outline, style);
}

static void
put_white(const Sheet *sheet, const HfDrawing *drawing, const char *piece)
{
  g_autofree char *style =
      g_strdup_printf("fill=\"url(#white)\" stroke=\"#%06x\" stroke-width=\"1\"", HF_HOT);
  g_string_append_printf(sheet->svg,
                         "<defs><pattern id=\"white\" width=\"5\" height=\"5\" "
                         "patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">"
                         "<rect width=\"5\" height=\"5\" fill=\"#%06x\"/>"
                         "<rect width=\"1.2\" height=\"5\" fill=\"#%06x\"/></pattern></defs>\n",
                         HF_CARD_TONE, HF_HOT);
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *one = hf_drawing_piece(drawing, i);
    if (one->white && hf_drawing_piece_is_called(one, piece))
      put_outline(sheet, one->outline, style);
  }
}

/* Twice: a light one below shows it on metal, too. */
static void
put_circle(const Sheet *sheet, HfPoint p, guint colour, int width)
{
  put(sheet->svg, "<circle cx=\"", p.x);
  put(sheet->svg, "\" cy=\"", p.y);
  g_string_append_printf(sheet->svg,
                         "\" r=\"%d\" fill=\"none\" stroke=\"#%06x\" stroke-width=\"%d\"/>\n", RING,
                         colour, width);
}

static void
put_ring(const Sheet *sheet, HfPoint at, guint number)
{
  HfPoint up = hf_matrix_apply(sheet->matrix, at);
  HfPoint p = {up.x - sheet->corner.x, sheet->corner.y - up.y};
  put_circle(sheet, p, HF_CARD_TONE, 5);
  put_circle(sheet, p, HF_HOT, 2);
  put(sheet->svg, "<text x=\"", p.x + RING + 3);
  put(sheet->svg, "\" y=\"", p.y - RING / 2.0);
  g_string_append_printf(sheet->svg,
                         "\" font-family=\"sans-serif\" font-weight=\"bold\" font-size=\"%d\" "
                         "fill=\"#%06x\" stroke=\"#%06x\" stroke-width=\"3\" "
                         "paint-order=\"stroke\">%u</text>\n",
                         NUMBER, HF_HOT, HF_CARD_TONE, number);
}

static HfBox
box_of(const HfDrawing *drawing, const char *piece)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < drawing->pieces->len; i++)
    if (hf_drawing_piece_is_called(hf_drawing_piece(drawing, i), piece))
      box = hf_box_union(box, hf_outline_box(hf_drawing_piece(drawing, i)->outline));
  for (guint i = 0; piece == NULL && i < drawing->notes->len; i++) {
    HfPoint at = ((const HfDrawingNote *)drawing->notes->pdata[i])->at;
    if (!isnan(at.x))
      box = hf_box_add_point(box, at);
  }
  return hf_box_is_empty(box) ? (HfBox){{0, 0}, {1, 1}} : box;
}

GBytes *
hf_out_found(HfDrawing *drawing, HfDrawingWhite white, const char *piece, guint pixels)
{
  HfBox box = box_of(drawing, piece);
  double wide = hf_box_width(box), high = hf_box_height(box);
  double k = (CLAMP(pixels, 100, 4000) - 2.0 * PAD) / fmax(wide, high);
  Sheet sheet = {g_string_new("<svg xmlns=\"http://www.w3.org/2000/svg\""), hf_matrix_scale(k, k),
                 hf_point(box.min.x * k - PAD, box.max.y * k + PAD)};
  put(sheet.svg, " width=\"", wide * k + 2 * PAD);
  put(sheet.svg, "\" height=\"", high * k + 2 * PAD);
  put(sheet.svg, "\" viewBox=\"0 0 ", wide * k + 2 * PAD);
  put(sheet.svg, " ", high * k + 2 * PAD);
  g_string_append_printf(
      sheet.svg, "\">\n<rect width=\"100%%\" height=\"100%%\" fill=\"#%06x\"/>\n", HF_PAPER_TONE);
  gboolean unsaid = white == HF_DRAWING_WHITE_UNSAID;
  put_metal(&sheet, hf_drawing_metal(drawing, unsaid ? HF_DRAWING_WHITE_NOTHING : white, piece));
  if (unsaid)
    put_white(&sheet, drawing, piece);
  for (guint i = 0; i < drawing->notes->len; i++) {
    HfPoint at = ((const HfDrawingNote *)drawing->notes->pdata[i])->at;
    if (!isnan(at.x) && hf_box_contains(hf_box_grow(box, 1), at))
      put_ring(&sheet, at, i + 1);
  }
  g_string_append(sheet.svg, "</svg>\n");
  return g_string_free_to_bytes(sheet.svg);
}
