/* SPDX-License-Identifier: GPL-3.0-or-later
 * Pictures of dots: what cairo drew is traced back to its area by the formulas of plane geometry;
 * turns by CIPA DC-008, the tag Orientation; what is too big or broken is refused.
 */
#include "drawing/drawing.h"
#include "raster/raster-private.h"
#include <cairo.h>
#include <string.h>

static cairo_status_t
take(void *to, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append((GByteArray *)to, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

/* 120 by 80 dots: paper, then a disc of radius 30 with a square hole of 20, and a bar. */
static GByteArray *
disc_and_bar(double ink, double paper, gboolean see_through)
{
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 120, 80);
  cairo_t *cr = cairo_create(surface);
  cairo_set_source_rgba(cr, paper, paper, paper, see_through ? 0 : 1);
  cairo_paint(cr);
  cairo_set_source_rgb(cr, ink, ink, ink);
  cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_arc(cr, 40, 40, 30, 0, 2 * G_PI);
  cairo_rectangle(cr, 30, 30, 20, 20);
  cairo_rectangle(cr, 90, 10, 12, 60);
  cairo_fill(cr);
  cairo_rectangle(cr, 80, 5, 1, 1); /* specks: one on the paper, one in the bar */
  cairo_fill(cr);
  cairo_set_source_rgb(cr, paper, paper, paper);
  cairo_rectangle(cr, 95, 40, 1, 2);
  if (!see_through)
    cairo_fill(cr);
  cairo_destroy(cr);
  GByteArray *png = g_byte_array_new();
  cairo_surface_write_to_png_stream(surface, take, png);
  cairo_surface_destroy(surface);
  return png;
}

static HfTraced *
trace(const GByteArray *png, HfRaster **ret_raster)
{
  g_autoptr(GError) error = NULL;
  *ret_raster = hf_raster_read("disc.png", png->data, png->len, NULL, &error);
  g_assert_no_error(error);
  HfTraced *traced = hf_raster_trace("disc.png", *ret_raster, 0, HF_RASTER_SPECK, NULL, &error);
  g_assert_no_error(error);
  return traced;
}

static void
assert_disc_and_bar(const HfTraced *traced)
{
  const double disc = G_PI * 900 - 400, bar = 12 * 60;
  g_assert_cmpuint(traced->shapes->len, ==, 2);
  double least = INFINITY, most = 0;
  for (guint i = 0; i < 2; i++) {
    const HfTracedShape *shape = (const HfTracedShape *)traced->shapes->pdata[i];
    least = MIN(least, shape->area);
    most = MAX(most, shape->area);
    g_assert_cmpuint(hf_outline_n_contours(shape->outline), ==, shape->area > 1000 ? 2 : 1);
  }
  /* a tenth of a dot along the edges: 2 pi 30 + 4 * 20 and 2 (12 + 60) */
  g_assert_cmpfloat(fabs(most - disc), <, 0.1 * (60 * G_PI + 80));
  g_assert_cmpfloat(fabs(least - bar), <, 0.1 * 144);
}

static void
test_areas(void)
{
  static const struct {
    double ink, paper;
    gboolean see_through;
  } rows[] = {{0, 1, FALSE}, {0.2, 0.6, FALSE}, {0, 1, TRUE}, {1, 1, TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GByteArray) png = disc_and_bar(rows[i].ink, rows[i].paper, rows[i].see_through);
    g_autoptr(HfRaster) raster = NULL;
    g_autoptr(HfTraced) traced = trace(png, &raster);
    assert_disc_and_bar(traced);
    g_assert(raster->light == (rows[i].ink == 1));
    g_assert_cmpuint(traced->specks, ==, 1);
    g_assert_cmpuint(traced->pinholes, ==, rows[i].see_through ? 0 : 1);
    g_assert_false(traced->dark_paper);
  }
}

/* Half way between two greys that are all there are. */
static void
test_threshold(void)
{
  guint8 grey[100];
  HfRaster raster = {10, 10, grey};
  memset(grey, 40, 30);
  memset(grey + 30, 200, 70);
  g_assert_cmpuint(hf_raster_otsu(&raster), ==, 120);
  memset(grey, 90, 100);
  g_assert_cmpuint(hf_raster_otsu(&raster), ==, 0);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfTraced) traced = hf_raster_trace("grey.png", &raster, 0, 4, NULL, &error);
  g_assert_null(traced);
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
}

/* What touches by a corner hangs together; the smaller of two colours goes. */
static void
test_specks(void)
{
  const char *const rows[] = {"#...#", ".#...", "..#..", ".....", "##...", "##..."};
  gulong words[6] = {0};
  HfBits bits = {5, 6, 1, words};
  for (guint y = 0; y < 6; y++)
    for (guint x = 0; x < 5; x++)
      words[y] |= rows[y][x] == '#' ? 1ul << (63 - x) : 0;
  guint dark = 0, light = 0;
  hf_bits_drop_specks(&bits, 3, &dark, &light);
  g_assert_cmpuint(dark, ==, 1);
  g_assert_cmpuint(light, ==, 0);
  g_assert_false(hf_bits_get(&words[0], 4));
  g_assert_true(hf_bits_get(&words[0], 0) && hf_bits_get(&words[1], 1) &&
                hf_bits_get(&words[2], 2));
  hf_bits_drop_specks(&bits, 4, &dark, &light);
  g_assert_cmpuint(dark, ==, 2);
  g_assert_false(hf_bits_get(&words[1], 1));
  g_assert_true(hf_bits_get(&words[4], 0));
}

/* Where row 0 and column 0 of what is stored are seen. */
static void
test_turns(void)
{
  static const struct {
    const char *row, *column;
  } seen[9] = {[1] = {"top", "left"},     [2] = {"top", "right"},  [3] = {"bottom", "right"},
               [4] = {"bottom", "left"},  [5] = {"left", "top"},   [6] = {"right", "top"},
               [7] = {"right", "bottom"}, [8] = {"left", "bottom"}};
  for (guint turn = 1; turn <= 8; turn++) {
    g_autoptr(HfRaster) raster = g_new0(HfRaster, 1);
    *raster = (HfRaster){3, 2, (guint8 *)g_memdup2((guint8[]){0, 10, 20, 100, 110, 120}, 6)};
    hf_raster_turn(raster, turn);
    guint w = raster->width, h = raster->height;
    const char *row = seen[turn].row, *column = seen[turn].column;
    gboolean right = strcmp(row, "right") == 0 || strcmp(column, "right") == 0;
    gboolean bottom = strcmp(row, "bottom") == 0 || strcmp(column, "bottom") == 0;
    /* the dot where row 0 meets column 0, and the one after it in row 0 */
    guint x = right ? w - 1 : 0, y = bottom ? h - 1 : 0;
    g_assert_cmpuint(raster->grey[y * w + x], ==, 0);
    gboolean along_x = strcmp(row, "top") == 0 || strcmp(row, "bottom") == 0;
    g_assert_cmpuint(w, ==, along_x ? 3 : 2);
    guint next = along_x ? y * w + (right ? x - 1 : x + 1) : (bottom ? y - 1 : y + 1) * w + x;
    g_assert_cmpuint(raster->grey[next], ==, 10);
  }
}

static void
test_exif(void)
{
  const guint8 big[] = {'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0};
  const guint8 little[] = {'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 0x12,
                           1,   3,   0,  1, 0, 0, 0, 8, 0, 0, 0};
  g_assert_cmpuint(hf_exif_turn(big, sizeof big), ==, 6);
  g_assert_cmpuint(hf_exif_turn(little, sizeof little), ==, 8);
  for (gsize n = 0; n < 20; n++) /* cut short */
    g_assert_cmpuint(hf_exif_turn(big, n), ==, 1);
}

/* ---- refused --------------------------------------------------------------------------------- */

static void
assert_refused(const void *bytes, gsize length, HfErrorKind kind)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRaster) raster = hf_raster_read("f", bytes, length, NULL, &error);
  g_assert_null(raster);
  g_assert_error(error, HF_ERROR, (int)kind);
}

static void
test_refused(void)
{
  /* IHDR of 60,000 by 60,000 with its true checksum, by zlib's crc32 */
  static const guint8 bomb[] = {0x89, 'P',  'N', 'G', '\r', '\n', 0x1a, '\n', 0,    0,    0,
                                13,   'I',  'H', 'D', 'R',  0,    0,    0xea, 0x60, 0,    0,
                                0xea, 0x60, 8,   0,   0,    0,    0,    0xa5, 0xb9, 0x2a, 0x9e,
                                0,    0,    0,   0,   'I',  'D',  'A',  'T'};
  g_autoptr(GByteArray) png = disc_and_bar(0, 1, FALSE);
  assert_refused(bomb, sizeof bomb, HF_ERROR_TOO_BIG);
  assert_refused("no picture", 10, HF_ERROR_BAD_VALUE);
  assert_refused(png->data, png->len / 2, HF_ERROR_BAD_VALUE);
  assert_refused("\xff\xd8\xff\xe0", 4, HF_ERROR_BAD_VALUE);
  g_autofree guint8 *spoilt = (guint8 *)g_memdup2(png->data, png->len);
  spoilt[png->len / 2] ^= 0x55; /* its checksum is wrong */
  assert_refused(spoilt, png->len, HF_ERROR_BAD_VALUE);
}

static void
test_stopped(void)
{
  HfCancel cancel = {.asked = 1};
  g_autoptr(GByteArray) png = disc_and_bar(0, 1, FALSE);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRaster) raster = hf_raster_read("f", png->data, png->len, &cancel, &error);
  g_assert_null(raster);
  g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
}

/* ---- as a drawing ---------------------------------------------------------------------------- */

static gboolean
has_note(const HfDrawing *drawing, const char *part)
{
  for (guint i = 0; i < drawing->notes->len; i++)
    if (strstr(((const HfDrawingNote *)drawing->notes->pdata[i])->text, part) != NULL)
      return TRUE;
  return FALSE;
}

static void
test_drawing(void)
{
  g_autoptr(GByteArray) png = disc_and_bar(0, 1, FALSE);
  g_autoptr(GError) error = NULL;
  g_autoptr(HfDrawing) drawing = hf_drawing_read("disc.png", png->data, png->len, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(drawing->pieces->len, ==, 2);
  HfBox box = hf_box_union(hf_outline_box(hf_drawing_piece(drawing, 0)->outline),
                           hf_outline_box(hf_drawing_piece(drawing, 1)->outline));
  g_assert_cmpfloat(fabs(hf_box_width(box) - HF_DRAWING_LONG), <, 1e-6);
  /* from 10 to 102 dots: 92 are 1,000 units */
  g_assert_cmpfloat(fabs(drawing->dot - HF_DRAWING_LONG / 92), <, 0.05);
  g_assert_cmpfloat(fabs(hf_box_width(drawing->page) / drawing->dot - 120), <, 1e-6);
  g_assert_true(drawing->guessed);
  g_assert_true(has_note(drawing, "120 by 80 dots"));
  g_assert_true(has_note(drawing, "1 dark and 1 light specks"));
  g_autofree char *fine = hf_drawing_say_size(drawing, 0.1 / drawing->dot, 1.5);
  g_assert_null(strstr(fine, "too coarse"));
  /* a dot of 1 mm: 0.6 mm off, so 2.4 times as many for 0.25 mm */
  g_autofree char *coarse = hf_drawing_say_size(drawing, 1 / drawing->dot, 1.5);
  g_assert_nonnull(strstr(coarse, "288 by 192 dots"));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/raster/areas", test_areas);
  g_test_add_func("/raster/threshold", test_threshold);
  g_test_add_func("/raster/specks", test_specks);
  g_test_add_func("/raster/turns", test_turns);
  g_test_add_func("/raster/exif", test_exif);
  g_test_add_func("/raster/refused", test_refused);
  g_test_add_func("/raster/stopped", test_stopped);
  g_test_add_func("/raster/drawing", test_drawing);
  return g_test_run();
}
