/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_dxf_in.c - pairs, text and frames of DXF files, and what is near the caps.
 *
 * Whole files against ezdxf: tests/oracle/test_dxf_in.py.
 */
#include "drawing/dxf-private.h"
#include <string.h>

static HfDxfReader *
read_text(const char *text, GError **error)
{
  return hf_dxf_read("f.dxf", text, strlen(text), error);
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static void
test_line_ends(void)
{
  static const char *const texts[] = {
      "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n",
      "  0\r\nSECTION\r\n  2\r\nENTITIES\r\n  0\r\nENDSEC\r\n  0\r\nEOF",
      "0\rSECTION\r2\rENTITIES\r0\rENDSEC\r0\rEOF\r",
      "\xef\xbb\xbf"
      "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\ntrash beyond",
      "999\na remark\n0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n\x1a",
  };
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
    g_assert_true(hf_dxf_looks_like(texts[i], strlen(texts[i])));
    g_autoptr(HfDxfReader) reader = read_text(texts[i], NULL);
    g_assert_nonnull(reader);
    g_assert_true(reader->document->tags->ended);
    g_assert_cmpuint(reader->notes->len, ==, 0);
  }
}

static void
test_what_is_none(void)
{
  static const char *const texts[] = {"",          "\n",           "<svg/>",    "0",
                                      "0\nLINE\n", "1\nSECTION\n", "%PDF-1.4\n"};
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
    g_assert_false(hf_dxf_looks_like(texts[i], strlen(texts[i])));
    g_autoptr(GError) error = NULL;
    g_autoptr(HfDxfReader) reader = read_text(texts[i], &error);
    g_assert_true((reader == NULL) == (error != NULL));
  }
}

/* Both forms of the same circle; the bytes by hand from the table of value types. */
static void
test_binary_is_the_same(void)
{
  static const char r12[] = "0123456 Binary DXF\r\n\x1a\0"
                            "\0SECTION\0\2ENTITIES\0"
                            "\0CIRCLE\0\10"
                            "0\0"
                            "\12\0\0\0\0\0\0\360\77" /* 10: 1.0 */
                            "\24\0\0\0\0\0\0\0\100"  /* 20: 2.0 */
                            "\50\0\0\0\0\0\0\10\100" /* 40: 3.0 */
                            "\0ENDSEC\0\0EOF";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfDxfReader) reader = hf_dxf_read("b.dxf", r12, sizeof r12, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(reader->pieces->len, ==, 1);
  const HfDxfPiece *piece = reader->pieces->pdata[0];
  const HfCurve *arc = &g_array_index((GArray *)piece->runs->pdata[0], HfCurve, 0);
  g_assert_cmpfloat(arc->c0.x, ==, 1);
  g_assert_cmpfloat(arc->c0.y, ==, 2);
  g_assert_cmpfloat(hf_curve_radius(arc), ==, 3);
  g_assert_cmpfloat(arc->sweep, ==, 2 * G_PI);
}

static void
test_too_big_is_said(void)
{
  g_autofree char *zeros = g_malloc0(HF_DXF_MOST_BYTES + 1);
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_dxf_read("f.dxf", zeros, HF_DXF_MOST_BYTES + 1, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_TOO_BIG);
}

/* ---- text ------------------------------------------------------------------------------------ */

/* Code pages 1252 and 932 as the Unicode consortium's tables have them. */
static void
test_code_pages(void)
{
  static const struct {
    const char *page, *raw, *text;
  } cases[] = {
      {"ANSI_1252", "caf\xe9", "café"}, {"ansi_932", "\x93\xfa", "日"},  {"DOS437", "\x82", "é"},
      {"ISO8859-2", "\xb1", "ą"},       {"", "\\U+00e9\\U+65E5", "é日"}, {"", "\\M+193FA", "日"},
      {"", "a\\Pb", "a\\Pb"},           {"UTF-8 or so", "\xff", "ÿ"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    HfDxfDocument document = {.codepage = hf_dxf_codepage(cases[i].page)};
    g_autofree char *text = hf_dxf_decode(&document, cases[i].raw);
    g_assert_cmpstr(text, ==, cases[i].text);
  }
}

static void
test_marks_of_text(void)
{
  static const struct {
    gboolean lines;
    const char *raw, *text;
  } cases[] = {
      {FALSE, "90%%d %%uBoat%%u %%65%%%", "90° Boat A%"},
      {FALSE, "a^Ib^ c%", "a b^c%"},
      {TRUE, "{\\fInter|b1|i0;Boat} yard\\PPottery", "Boat yard\nPottery"},
      {TRUE, "\\H2.5x;big \\S1/2; \\S3#4;", "big 1/2 3/4"},
      {TRUE, "\\\\ \\{x\\} a\\~b", "\\ {x} a b"},
      {TRUE, "\\: and \\Lunder\\l", "\\: and under"},
      {TRUE, "cut short \\", "cut short "},
      {TRUE, "\\fnever ended", "never ended"},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *text =
        cases[i].lines ? hf_dxf_plain_lines(cases[i].raw) : hf_dxf_plain(cases[i].raw);
    g_assert_cmpstr(text, ==, cases[i].text);
  }
}

/* ---- units ----------------------------------------------------------------------------------- */

static void
test_units(void)
{
  g_assert_cmpfloat(hf_dxf_unit_mm(1), ==, 25.4);
  g_assert_cmpfloat(hf_dxf_unit_mm(4), ==, 1);
  g_assert_cmpfloat(hf_dxf_unit_mm(6), ==, 1000);
  g_assert_cmpfloat(hf_dxf_unit_mm(0), ==, 0);
  g_assert_cmpfloat(hf_dxf_unit_mm(18), ==, 0); /* astronomical units are none for us */
  g_assert_cmpfloat(hf_dxf_unit_mm(99), ==, 0);
  g_assert_cmpstr(hf_dxf_unit_word(1), ==, "inches");
  g_assert_null(hf_dxf_unit_word(-3));
}

/* ---- frames ---------------------------------------------------------------------------------- */

/* The reference's rule by hand: n = -z gives x = (0 1 0) x n = (-1 0 0), y = n x x = (0 1 0). */
static void
test_frame_from_behind(void)
{
  HfMatrix m = hf_dxf_space_plane(hf_dxf_space_of_normal(0, 0, -1), 5);
  HfPoint p = hf_matrix_apply(m, hf_point(3, 4));
  g_assert_cmpfloat_with_epsilon(p.x, -3, 1e-12);
  g_assert_cmpfloat_with_epsilon(p.y, 4, 1e-12);
}

/* n = x: not near z, so x axis = (0 0 1) x n = (0 1 0), y axis = n x (0 1 0) = (0 0 1). */
static void
test_frame_from_the_side(void)
{
  HfDxfSpace space = hf_dxf_space_of_normal(2, 0, 0);
  HfPoint p = hf_dxf_seen(space, 3, 4, 7);
  g_assert_cmpfloat_with_epsilon(p.x, 7, 1e-12);
  g_assert_cmpfloat_with_epsilon(p.y, 3, 1e-12);
}

/* A stretched circle's cubics, unstretched again, stay on the circle: the departure that dxf-pen.c
 * states. */
static void
test_stretched_circle(void)
{
  g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  hf_dxf_arc(run, hf_point(0, 0), 1, 0.3, 2 * G_PI);
  hf_dxf_matrix_run(run, hf_matrix_scale(3, 0.5));
  g_assert_cmpuint(run->len, ==, 32);
  double worst = 0;
  for (guint i = 0; i < run->len; i++)
    for (int k = 0; k <= 50; k++) {
      HfPoint p = hf_curve_point(&g_array_index(run, HfCurve, i), k / 50.0);
      worst = fmax(worst, fabs(hf_point_length(hf_point(p.x / 3, p.y / 0.5)) - 1));
    }
  g_assert_cmpfloat(worst, <, 1.1e-9);
  g_assert_cmpfloat(worst, >, 1e-11);
}

/* A half circle from (0 0) to (2 0): bulge 1 turns counter-clockwise, so it goes below. */
static void
test_bulge(void)
{
  g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  hf_dxf_bulge(run, hf_point(0, 0), hf_point(2, 0), 1);
  HfPoint p = hf_curve_point(&g_array_index(run, HfCurve, 0), 0.5);
  g_assert_cmpfloat_with_epsilon(p.x, 1, 1e-12);
  g_assert_cmpfloat_with_epsilon(p.y, -1, 1e-12);
  hf_dxf_bulge(run, hf_point(0, 0), hf_point(2, 0), 1e-12);
  g_assert_cmpint(g_array_index(run, HfCurve, 1).kind, ==, HF_CURVE_LINE);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/dxf-in/line-ends", test_line_ends);
  g_test_add_func("/dxf-in/what-is-none", test_what_is_none);
  g_test_add_func("/dxf-in/binary", test_binary_is_the_same);
  g_test_add_func("/dxf-in/too-big", test_too_big_is_said);
  g_test_add_func("/dxf-in/code-pages", test_code_pages);
  g_test_add_func("/dxf-in/marks", test_marks_of_text);
  g_test_add_func("/dxf-in/units", test_units);
  g_test_add_func("/dxf-in/from-behind", test_frame_from_behind);
  g_test_add_func("/dxf-in/from-the-side", test_frame_from_the_side);
  g_test_add_func("/dxf-in/stretched", test_stretched_circle);
  g_test_add_func("/dxf-in/bulge", test_bulge);
  return g_test_run();
}
