/* SPDX-License-Identifier: GPL-3.0-or-later
 * Live text in drawings: each letter stands where SVG 2, 11 says, by the same face's own outlines;
 * DXF text by the reference of the format (40 is the height of capitals). How whole files come out:
 * tests/oracle/test_drawings.py and test_drawing_text.py.
 */
#include "drawing/drawing.h"
#include <string.h>

#define FAMILY "DejaVu Sans"
#define NEAR   1e-6 /* mm; the frame's numbers are doubles */

/* A page of 100 mm, 1 mm a unit, all of it seen. */
#define PAGE                                                                                       \
  "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>"    \
  "<rect width='100' height='100'/><g font-family='" FAMILY "' font-size='20'>"
#define END "</g></svg>"

typedef struct {
  HfFonts *fonts;
  const HfFace *face;
} Faces;

static HfDrawing *
read_with(Faces *f, const char *text, const char *otherwise, GError **error)
{
  HfFaceWanted face = {.family = otherwise};
  HfDrawingWish wish = {.fonts = f->fonts, .face = otherwise != NULL ? &face : NULL};
  return hf_drawing_read_as("quay.svg", text, strlen(text), &wish, error);
}

static HfDrawing *
read_page(Faces *f, const char *inside)
{
  g_autofree char *text = g_strconcat(PAGE, inside, END, NULL);
  g_autoptr(GError) error = NULL;
  HfDrawing *drawing = read_with(f, text, NULL, &error);
  g_assert_no_error(error);
  g_assert_no_error((GError *)hf_drawing_unset(drawing));
  return drawing;
}

/* Of the piece @name, mm, y down as in the file. */
static HfBox
box_of(const HfDrawing *drawing, const char *name)
{
  for (guint i = 0; i < drawing->pieces->len; i++) {
    const HfDrawingPiece *piece = hf_drawing_piece(drawing, i);
    if (strcmp(piece->name, name) != 0)
      continue;
    HfBox box = hf_outline_box(piece->outline);
    double k = drawing->mm, top = drawing->page.max.y;
    return (HfBox){{box.min.x * k, (top - box.max.y) * k}, {box.max.x * k, (top - box.min.y) * k}};
  }
  g_error("no piece %s", name);
}

/* The ink of @letter of the face at @size, y down, with its origin at @x, @y. */
static HfBox
ink(Faces *f, const char *letter, double size, double x, double y)
{
  g_autoptr(HfLine) line = hf_type_line(f->fonts, f->face, letter, NULL, NULL, NULL);
  HfBox box = line->ink;
  return (HfBox){{x + box.min.x * size, y - box.max.y * size},
                 {x + box.max.x * size, y - box.min.y * size}};
}

static double
advance(Faces *f, const char *text, double size)
{
  g_autoptr(HfLine) line = hf_type_line(f->fonts, f->face, text, NULL, NULL, NULL);
  return line->advance * size;
}

static void
assert_box(HfBox is, HfBox wanted)
{
  g_assert_cmpfloat_with_epsilon(is.min.x, wanted.min.x, NEAR);
  g_assert_cmpfloat_with_epsilon(is.min.y, wanted.min.y, NEAR);
  g_assert_cmpfloat_with_epsilon(is.max.x, wanted.max.x, NEAR);
  g_assert_cmpfloat_with_epsilon(is.max.y, wanted.max.y, NEAR);
}

static void
test_names(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  g_autoptr(HfDrawing) drawing =
      read_page(f, "<text id='top' x='5' y='40'>\n  MA<tspan fill='red'>T</tspan>T \n</text>");
  static const char *const names[] = {
      "1st rectangle", "the \"M\" in text \"MATT\"", "the \"A\" in text \"MATT\"",
      "the 1st \"T\" in text \"MATT\"", "the 2nd \"T\" in text \"MATT\""};
  g_assert_cmpuint(drawing->pieces->len, ==, G_N_ELEMENTS(names));
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    g_assert_cmpstr(hf_drawing_piece(drawing, i)->name, ==, names[i]);
  const HfDrawingPiece *red = hf_drawing_piece(drawing, 3);
  g_assert_cmphex(red->colour, ==, 0xff0000);
  g_assert_cmpstr((const char *)red->called->pdata[0], ==, "MATT");
  g_assert_cmpstr((const char *)red->called->pdata[1], ==, "top");
  const HfDrawingText *text = (const HfDrawingText *)drawing->texts->pdata[0];
  g_assert_cmpstr(text->text, ==, "MATT");
  g_assert_cmpstr(text->asked, ==, FAMILY);
  g_assert_true(g_str_has_prefix(text->face, FAMILY));
}

/* SVG 2, 11.4, 11.5, 11.10: where told places, spacings, anchors and lengths put a letter. */
static void
test_places(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  double v = advance(f, "V", 20), two = advance(f, "II", 20);
  const struct {
    const char *text, *name;
    double x, y;
  } rows[] = {
      {"<text x='10 60' y='50'>VO</text>", "the \"O\" in text \"VO\"", 60, 50},
      {"<text x='10' y='50' dx='0 3' dy='1 2'>IO</text>", "the \"O\" in text \"IO\"",
       10 + advance(f, "I", 20) + 3, 53},
      {"<text x='90' y='50' text-anchor='end' dx='3'>V</text>", "the \"V\" in text \"V\"", 93 - v,
       50},
      {"<text x='90' y='50' text-anchor='end'>V</text>", "the \"V\" in text \"V\"", 90 - v, 50},
      {"<text x='50' y='50' text-anchor='middle'>V</text>", "the \"V\" in text \"V\"", 50 - v / 2,
       50},
      {"<text x='10' y='50' textLength='40'>II</text>", "the 2nd \"I\" in text \"II\"",
       50 - two / 2, 50},
      {"<text x='10' y='50' letter-spacing='5'>IO</text>", "the \"O\" in text \"IO\"",
       15 + advance(f, "I", 20), 50},
      {"<text x='10' y='50' word-spacing='5'>I O</text>", "the \"O\" in text \"I O\"",
       15 + advance(f, "I ", 20), 50},
      {"<text x='10' y='50'>I<tspan baseline-shift='4'>O</tspan></text>",
       "the \"O\" in text \"IO\"", 10 + advance(f, "I", 20), 46},
      {"<path id='p' d='M10 50H90' fill='none'/><text><textPath href='#p' startOffset='30'>V"
       "</textPath></text>",
       "the \"V\" in text \"V\"", 40, 50},
      {"<text x='10' y='50'><title>no</title>V<text>O</text></text>", "the \"V\" in text \"V\"", 10,
       50},
  };
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(HfDrawing) drawing = read_page(f, rows[i].text);
    char letter[2] = {rows[i].name[strcspn(rows[i].name, "\"") + 1], '\0'};
    assert_box(box_of(drawing, rows[i].name), ink(f, letter, 20, rows[i].x, rows[i].y));
  }
}

/* On a circle of radius 30 about 50, 50 each letter's middle lies on it, upright where it is
 * highest: half of 60 pi along a path that begins at its lowest point. */
static void
test_circle(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  g_autoptr(HfDrawing) drawing = read_page(
      f, "<path id='c' d='M50 80A30 30 0 0 1 50 20A30 30 0 0 1 50 80z' fill='none'/>"
         "<text text-anchor='middle'><textPath href='#c' startOffset='50%'>I</textPath></text>");
  double half = advance(f, "I", 20) / 2;
  assert_box(box_of(drawing, "the \"I\" in text \"I\""), ink(f, "I", 20, 50 - half, 20));
}

static void
test_not_here(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  const char *text = "<svg xmlns='http://www.w3.org/2000/svg' width='99' height='99'>\n"
                     "<text y='50' font-family='Olde Harbour, serif'>QUAY</text></svg>";
  g_autoptr(GError) error = NULL;
  g_assert_null(read_with(f, text, NULL, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_NOT_FOUND);
  g_assert_cmpstr(hf_error_where(error), ==, "quay.svg:2: text \"QUAY\"");
  g_assert_nonnull(strstr(error->message, "\"Olde Harbour\" is not installed"));
  g_autoptr(HfDrawing) other = read_with(f, text, FAMILY, NULL);
  g_assert_nonnull(other);
  g_assert_null(hf_drawing_unset(other));
  g_autofree char *beside =
      g_strconcat(PAGE, "<text font-family='serif' y='9'>Q</text>", END, NULL);
  g_autoptr(HfDrawing) part = read_with(f, beside, NULL, NULL);
  g_assert_cmpuint(part->pieces->len, ==, 1);
  g_assert_nonnull(strstr(hf_drawing_unset(part)->message, "any face of the kind \"serif\""));
}

static void
test_too_long(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  g_autoptr(GString) text = g_string_new(PAGE "<text y='9'>");
  for (guint i = 0; i < 30000; i++)
    g_string_append_c(text, 'Q');
  g_string_append(text, "</text>" END);
  g_autoptr(GError) error = NULL;
  g_assert_null(read_with(f, text->str, NULL, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_TOO_BIG);
}

/* A plate of 100 by 40 with an H of height 10 at 20, 15: an opening in it, of that height. */
static void
test_dxf(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  const char *text = "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n"
                     "10\n100\n20\n0\n10\n100\n20\n40\n10\n0\n20\n40\n"
                     "0\nTEXT\n8\n0\n10\n20\n20\n15\n40\n10\n1\nH\n0\nENDSEC\n0\nEOF\n";
  g_autoptr(HfDrawing) drawing = read_with(f, text, FAMILY, NULL);
  g_assert_cmpuint(drawing->pieces->len, ==, 1);
  const HfOutline *plate = hf_drawing_piece(drawing, 0)->outline;
  g_assert_cmpuint(hf_outline_n_contours(plate), ==, 2);
  guint n;
  const HfCurve *curves = hf_outline_contour(plate, 1, &n);
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    box = hf_box_union(box, hf_curve_box(&curves[i]));
  double em = 10 / hf_face_cap_height(f->face), k = 100 / HF_DRAWING_LONG;
  HfBox h = ink(f, "H", em, 20, -15);
  assert_box((HfBox){hf_point_scale(box.min, k), hf_point_scale(box.max, k)},
             (HfBox){{h.min.x, -h.max.y}, {h.max.x, -h.min.y}});
  g_assert_cmpfloat_with_epsilon(hf_box_height(box) * k, 10, NEAR);
  g_autoptr(HfDrawing) asked = read_with(f, text, NULL, NULL);
  g_assert_error((GError *)hf_drawing_unset(asked), HF_ERROR, HF_ERROR_NOT_FOUND);
}

static void
set_up(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  f->fonts = hf_fonts_new();
  HfFaceLike like = {.family = FAMILY, .weight = 400, .width = 100};
  f->face = hf_fonts_open_like(f->fonts, &like, NULL, NULL);
  g_assert_nonnull(f->face);
}

static void
tear_down(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  hf_fonts_free(f->fonts);
}

/* CSS Fonts 4, 5.2: of regular and bold, upright and slanted, the nearest. */
static void
test_like(Faces *f, gconstpointer data G_GNUC_UNUSED)
{
  const struct {
    int weight;
    HfSlant slant;
    const char *style;
  } rows[] = {{400, HF_SLANT_UPRIGHT, "Book"},
              {500, HF_SLANT_UPRIGHT, "Book"},
              {600, HF_SLANT_UPRIGHT, "Bold"},
              {900, HF_SLANT_UPRIGHT, "Bold"},
              {700, HF_SLANT_ITALIC, "Bold Italic"}};
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    HfFaceLike like = {.family = "DejaVu Serif", rows[i].weight, rows[i].slant, 100};
    const HfFace *face = hf_fonts_open_like(f->fonts, &like, NULL, NULL);
    g_assert_cmpstr(hf_face_style(face), ==, rows[i].style);
  }
}

int
main(int argc, char **argv)
{
  static const struct {
    const char *name;
    void (*run)(Faces *f, gconstpointer data);
  } tests[] = {{"/drawing/text/names", test_names},       {"/drawing/text/places", test_places},
               {"/drawing/text/circle", test_circle},     {"/drawing/text/not-here", test_not_here},
               {"/drawing/text/too-long", test_too_long}, {"/drawing/text/dxf", test_dxf},
               {"/drawing/text/like", test_like}};
  g_test_init(&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS(tests); i++)
    g_test_add(tests[i].name, Faces, NULL, set_up, tests[i].run, tear_down);
  return g_test_run();
}
