/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_drawing.c - any bytes as a drawing: a file as it is, or, by the first byte, path data, a
 * style sheet or a list of transforms inside a sound file, so that those are reached at once. What
 * comes out must keep the promises of drawing.h, whatever went in.
 */
#include "drawing/drawing.h"
#include <string.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

#define ROOT "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>"

/* What the bytes behind the first are put between. */
static const struct {
  char first;
  const char *before, *after;
} inside[] = {
    {'p', ROOT "<path stroke='red' stroke-linejoin='round' fill-rule='evenodd' d='", "'/></svg>"},
    {'d', ROOT "<path fill='none' stroke='red' stroke-dasharray='",
     "' d='M5 5C9 80 80 9 90 90z'/></svg>"},
    {'t', ROOT "<rect width='9' height='9' stroke='red' transform='", "'/></svg>"},
    {'c', ROOT "<style><![CDATA[",
     "]]></style><g id='a' class='b c'><rect id='d' width='9' height='9'/></g></svg>"},
    {'s', ROOT "<rect width='9' height='9' style='", "'/></svg>"},
    {'e', ROOT, "</svg>"},
    {'x',
     ROOT
     "<path id='p' d='M5 50C9 8 80 9 90 60' marker-mid='url(#m)'/><marker id='m'><rect width='1' "
     "height='2'/></marker><g font-family='DejaVu Sans'>",
     "</g></svg>"},
    {'y', ROOT "<text font-family='DejaVu Sans' x='1 2 3' style='",
     "'>Quay <tspan>12</tspan></text></svg>"},
};

static void
check_piece(const HfDrawingPiece *piece)
{
  g_assert(piece->name != NULL && g_utf8_validate(piece->name, -1, NULL));
  guint contours = hf_outline_n_contours(piece->outline);
  g_assert(contours > 0);
  for (guint c = 0; c < contours; c++) {
    guint n = 0;
    const HfCurve *curves = hf_outline_contour(piece->outline, c, &n);
    g_assert(n > 0);
    for (guint i = 0; i < n; i++) {
      const HfCurve *curve = &curves[i], *next = &curves[(i + 1) % n];
      g_assert(curve->p1.x == next->p0.x && curve->p1.y == next->p0.y);
      g_assert(isfinite(curve->c0.x + curve->c0.y + curve->c1.x + curve->c1.y));
    }
  }
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autoptr(GString) text = g_string_new(NULL);
  guint kind = 0;
  while (kind < G_N_ELEMENTS(inside) && (size == 0 || inside[kind].first != (char)data[0]))
    kind++;
  if (kind < G_N_ELEMENTS(inside)) {
    g_string_append(text, inside[kind].before);
    g_string_append_len(text, (const char *)data + 1, (gssize)size - 1);
    g_string_append(text, inside[kind].after);
  } else {
    g_string_append_len(text, (const char *)data, (gssize)size);
  }
  g_autoptr(GError) error = NULL;
  static HfFonts *fonts; /* opened once: fontconfig takes longer than all the rest */
  if (fonts == NULL)
    fonts = hf_fonts_new();
  HfFaceWanted face = {.family = "DejaVu Sans"};
  HfDrawingWish wish = {.fonts = fonts, .face = &face};
  g_autoptr(HfDrawing) drawing = hf_drawing_read_as("drawing", text->str, text->len, &wish, &error);
  g_assert((drawing == NULL) == (error != NULL));
  if (drawing == NULL)
    return 0;
  g_assert(drawing->pieces->len > 0 && drawing->mm > 0 && drawing->size_rule != NULL);
  for (guint i = 0; i < drawing->pieces->len; i++)
    check_piece(hf_drawing_piece(drawing, i));
  return 0;
}
