/* SPDX-License-Identifier: GPL-3.0-or-later
 * Drawings that come in: areas and lengths by the formulas of plane geometry, rules by the sections
 * of SVG 1.1 (second edition), SVG 2 and CSS that stand beside each row; hostile files are refused.
 */
#include "drawing/drawing.h"
#include "geom/region.h"
#include <string.h>

/* The root of most: a page of 100 mm, 1 mm a unit. */
#define PAGE                                                                                       \
  "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>"
#define END "</svg>"

static HfDrawing *
read_text(const char *text, GError **error)
{
  return hf_drawing_read("heron.svg", text, strlen(text), error);
}

static HfDrawing *
read_page(const char *inside)
{
  g_autofree char *text = g_strconcat(PAGE, inside, END, NULL);
  g_autoptr(GError) error = NULL;
  HfDrawing *drawing = read_text(text, &error);
  g_assert_no_error(error);
  return drawing;
}

/* mm2 of all pieces together */
static double
area_of(const HfDrawing *drawing)
{
  g_autoptr(GPtrArray) regions = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = 0; i < drawing->pieces->len; i++)
    g_ptr_array_add(
        regions, hf_region_of_outline(hf_drawing_piece(drawing, i)->outline, HF_NO_SHAPE, 0.0002));
  g_autoptr(HfRegion) all = hf_region_union((const HfRegion *const *)regions->pdata, regions->len);
  return hf_region_area(all) * drawing->mm * drawing->mm;
}

static const struct {
  const char *inside;
  double area; /* mm2 */
} areas[] = {
    /* shapes: SVG 1.1, 9 */
    {"<rect width='40' height='30'/>", 1200},
    {"<rect width='40' height='30' rx='5'/>", 1200 - (4 - G_PI) * 25},
    {"<rect width='40' height='30' rx='90' ry='5'/>", 1200 - (4 - G_PI) * 20 * 5},
    {"<rect x='50%' width='50%' height='10%'/>", 500},
    {"<circle cx='50' cy='50' r='20'/>", G_PI * 400},
    {"<ellipse cx='50' cy='50' rx='20' ry='10'/>", G_PI * 200},
    {"<polygon points='0,0 40,0 0,30'/>", 600},
    {"<polyline points='0 0 40 0 0 30'/>", 600},
    {"<rect width='40' height='-3'/><rect width='1' height='1'/>", 1},
    {"<rect width='1cm' height='1in'/>", 10 * 25.4 * 3.7795275590551185 * 3.7795275590551185},
    /* marks at points: SVG 1.1, 11.6: in widths of the pen, or in units of the line */
    {"<marker id='m' markerWidth='4' markerHeight='3'><rect width='9' height='9'/></marker>"
     "<path d='M0 0H20H40' stroke-width='2' marker-mid='url(#m)'/>",
     48},
    {"<marker id='m' markerUnits='userSpaceOnUse' viewBox='0 0 10 10' markerWidth='5' "
     "markerHeight='5' refX='5' refY='5'><circle cx='5' cy='5' r='5'/></marker>"
     "<polyline points='10 10 40 10 40 40' fill='none' marker-start='url(#m)' "
     "marker-end='url(#m)'/>",
     2 * G_PI * 6.25},
    /* path data: 8.3 and F.6 */
    {"<path d='M0 0h40v30h-40z'/>", 1200},
    {"<path d='m10 10 20 0 0 10-20 0'/>", 200},
    {"<path d='M0,0L40,0,40,30,0,30'/>", 1200},
    {"<path d='M10 50a20 20 0 0 1 40 0z'/>", G_PI * 200},
    {"<path d='M10 50a20 20 0 0140 0z'/>", G_PI * 200},
    {"<path d='M10 50a5 5 0 0 1 40 0z'/>", G_PI * 200}, /* F.6.6: too small */
    {"<path d='M10 50a20 10 0 0 1 40 0z'/>", G_PI * 100},
    {"<path d='M10 50a10 20 90 0 1 40 0z'/>", G_PI * 100},
    {"<path d='M30 50a0 20 0 0 1 20 0v10h-20z'/>", 200}, /* F.6.2: a line */
    {"<path d='M0 50q20 40 40 0'/>", 2.0 / 3 * 40 * 20}, /* Archimedes: the parabola */
    {"<path d='M0 50Q10 70 20 50T40 50'/>", 2 * 2.0 / 3 * 20 * 10},
    {"<path d='M0 0H10V10H0z L 5 5 H 10 x'/>", 100 - 12.5}, /* it turns the other way */
    {"<path d='M0 0h40v30h-40z 40 30'/>", 1200},            /* up to the mistake */
    {"<path d='L0 0h40v30'/><rect width='1' height='1'/>", 1},
    /* fill rules: 11.3 */
    {"<path d='M0 0h40v40h-40zM10 10h20v20h-20z'/>", 1600},
    {"<path fill-rule='evenodd' d='M0 0h40v40h-40zM10 10h20v20h-20z'/>", 1200},
    {"<path d='M0 0h40v40h-40zM10 10v20h20v-20z'/>", 1200},
    /* transforms: 7.6, CSS Transforms 1 */
    {"<rect width='10' height='10' transform='scale(2 3)'/>", 600},
    {"<rect width='10' height='10' transform='translate(20,20) rotate(30) skewX(45)'/>", 100},
    {"<rect x='40' y='40' width='20' height='20' transform='rotate(45)' transform-origin='50% "
     "50%'/>",
     400},
    {"<g transform='matrix(2 0 0 2 5 5)'><circle cx='10' cy='10' r='5'/></g>", G_PI * 100},
    {"<rect width='5' height='5' transform='scale(0)'/><rect width='1' height='1'/>", 1},
    /* strokes: 11.4 */
    {"<path fill='none' stroke='#000' stroke-width='4' d='M10 50h50'/>", 200},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-linecap='round' d='M10 50h50'/>",
     200 + G_PI * 4},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-linecap='square' d='M10 50h50'/>",
     216},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-linecap='round' d='M10 50h0'/>",
     G_PI * 4},
    {"<path fill='none' stroke='#000' stroke-width='4' d='M10 10h40v40'/>", 2 * 160 - 4 + 4},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-linejoin='bevel' d='M10 10h40v40'/>",
     2 * 160 - 4 + 2},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-linejoin='round' d='M10 10h40v40'/>",
     2 * 160 - 4 + G_PI},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-miterlimit='1' d='M10 10h40v40'/>",
     2 * 160 - 4 + 2},
    {"<rect x='10' y='10' width='40' height='30' fill='none' stroke='#000' stroke-width='4'/>",
     44 * 34 - 36 * 26},
    {"<circle cx='50' cy='50' r='20' fill='none' stroke='#000' stroke-width='4'/>",
     G_PI *(22 * 22 - 18 * 18)},
    {"<circle cx='50' cy='50' r='1' fill='none' stroke='#000' stroke-width='4'/>", G_PI * 9},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-dasharray='10 5' d='M10 50h50'/>",
     4 * 40 - 4 * 5},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-dasharray='10' d='M10 50h50'/>", 120},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-dasharray='10' stroke-dashoffset='5' "
     "d='M10 50h50'/>",
     100},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-dasharray='0 0' d='M10 50h50'/>",
     200},
    {"<path fill='none' stroke='#000' stroke-width='4' stroke-dasharray='0 10' "
     "stroke-linecap='round' d='M10 50h45'/>",
     5 * G_PI * 4},
    {"<g transform='scale(2 1)'><path fill='none' stroke='#000' stroke-width='4' d='M10 "
     "50h20'/></g>",
     160},
    {"<g transform='scale(2 1)'><path fill='none' stroke='#000' stroke-width='4' d='M10 "
     "10v20'/></g>",
     160},
    /* what shows: 11.5, 14.5 */
    {"<rect width='9' height='9' opacity='0'/><rect width='1' height='1'/>", 1},
    {"<rect width='9' height='9' fill-opacity='0'/><rect width='1' height='1'/>", 1},
    {"<rect width='9' height='9' fill='none'/><rect width='1' height='1'/>", 1},
    {"<rect width='9' height='9' fill='rgba(0,0,0,0)'/><rect width='1' height='1'/>", 1},
    {"<g display='none'><rect width='9' height='9'/></g><rect width='1' height='1'/>", 1},
    {"<g visibility='hidden'><rect width='9' height='9'/><rect visibility='visible' width='1' "
     "height='1'/></g>",
     1},
    /* clips: 14.3 */
    {"<clipPath id='c'><rect width='10' height='10'/></clipPath><rect width='40' height='5' "
     "clip-path='url(#c)'/>",
     50},
    {"<clipPath id='c'><circle cx='20' cy='20' r='10'/></clipPath><rect width='40' height='40' "
     "clip-path='url(#c)'/>",
     G_PI * 100},
    {"<clipPath id='c' clipPathUnits='objectBoundingBox'><rect width='.5' height='.5'/></clipPath>"
     "<g clip-path='url(#c)'><rect width='40' height='40'/></g>",
     400},
    {"<rect x='90' width='40' height='10'/>", 100}, /* the page: 14.3.2 */
    /* structure: 5 and 7 */
    {"<defs><rect id='r' width='9' height='9'/></defs><use href='#r'/><use href='#r' x='20'/>",
     162},
    {"<symbol id='s' viewBox='0 0 10 10'><rect width='5' height='10'/></symbol><use href='#s' "
     "width='40' height='40'/>",
     800},
    {"<svg x='10' y='10' width='20' height='20'><rect width='90' height='5'/></svg>", 100},
    {"<svg width='40' height='20' viewBox='0 0 10 10' preserveAspectRatio='none'><rect width='10' "
     "height='10'/></svg>",
     800},
    {"<svg width='40' height='20' viewBox='0 0 10 10'><rect width='10' height='10'/></svg>", 400},
    {"<switch><rect systemLanguage='xx' width='9' height='9'/><rect width='2' height='2'/><rect "
     "width='50' height='9'/></switch>",
     4},
    {"<use id='a' href='#b'/><use id='b' href='#a'/><rect width='1' height='1'/>", 1},
    {"<nothing><rect width='9' height='9'/></nothing><rect width='1' height='1'/>", 1},
    /* CSS: Selectors 3, Cascading 3, Custom Properties 1 */
    {"<style>rect{fill:none} .a{fill:#000}</style><rect width='9' height='9'/><rect class='b a' "
     "width='1' height='1'/>",
     1},
    {"<style>#x{fill:none}</style><rect id='x' style='fill:red' width='1' height='1'/>", 1},
    {"<style>#x{fill:none!important}</style><rect id='x' style='fill:red' width='9' "
     "height='9'/><rect width='1' height='1'/>",
     1},
    {"<style>g>rect{fill:none}</style><g><rect width='9' height='9'/></g><rect width='1' "
     "height='1'/>",
     1},
    {"<style>g rect[data-x=\"1\"]{fill:none}</style><g><a><rect data-x='1' width='9' "
     "height='9'/></a></g><rect width='1' height='1'/>",
     1},
    {"<style>rect:first-child,rect + rect{fill:none}</style><g><rect width='9' height='9'/><rect "
     "width='8' height='8'/></g><g><path d='M0 0h1v1h-1'/></g>",
     1},
    {"<style>:root{--no:none} rect{fill:var(--no)} path{fill:var(--what,red)}</style><rect "
     "width='9' height='9'/><path d='M0 0h1v1h-1'/>",
     1},
    {"<g fill='none' color='red'><rect width='9' height='9'/><rect fill='currentColor' width='1' "
     "height='1'/></g>",
     1},
    {"<style>/* a { */ rect { fill: none; ; colour red } } path{}</style><rect width='9' "
     "height='9'/><path d='M0 0h1v1h-1'/>",
     1},
    {"<style>rect{width:10px;height:4px}</style><rect/>", 40}, /* SVG 2, 10: geometry is style */
    {"<style>@media print{rect{fill:none}} @media all{path{fill:none}}</style><rect width='1' "
     "height='1'/><path d='M0 0h9v9'/>",
     1},
    {"<g fill='none'><path style='fill:inherit' d='M0 0h9v9'/><rect style='fill:initial' width='1' "
     "height='1'/></g>",
     1},
    /* XML: entities of its own */
    {"<rect width='1' height='1'/><![CDATA[<rect width='9' height='9'/>]]>", 1},
};

static void
test_areas(void)
{
  for (guint i = 0; i < G_N_ELEMENTS(areas); i++) {
    g_autoptr(HfDrawing) drawing = read_page(areas[i].inside);
    double is = area_of(drawing), wrong = fabs(is - areas[i].area) / areas[i].area;
    if (!(wrong < 2e-5))
      g_error("%s: %.6f mm2, should be %.6f", areas[i].inside, is, areas[i].area);
  }
}

/* Curves stay what they were. */
static void
test_true_curves(void)
{
  g_autoptr(HfDrawing) drawing =
      read_page("<circle cx='50' cy='50' r='20'/>"
                "<circle cx='50' cy='50' r='20' fill='none' stroke='#000' stroke-width='4'/>"
                "<path fill-rule='evenodd' d='M0 0C0 20 20 20 20 0zM5 3h1v1h-1z'/>");
  g_assert_cmpuint(drawing->pieces->len, ==, 3);
  const GArray *curves = hf_drawing_piece(drawing, 0)->outline->curves;
  g_assert_cmpuint(curves->len, ==, 1);
  g_assert_cmpint(g_array_index(curves, HfCurve, 0).kind, ==, HF_CURVE_ARC);
  curves = hf_drawing_piece(drawing, 1)->outline->curves;
  for (guint i = 0; i < curves->len; i++)
    g_assert_cmpint(g_array_index(curves, HfCurve, i).kind, ==, HF_CURVE_ARC);
  guint cubics = 0;
  curves = hf_drawing_piece(drawing, 2)->outline->curves;
  for (guint i = 0; i < curves->len; i++)
    cubics += g_array_index(curves, HfCurve, i).kind == HF_CURVE_CUBIC;
  g_assert_cmpuint(cubics, ==, 1);
  g_assert_cmpuint(curves->len, ==, 6);
}

static void
test_names(void)
{
  g_autoptr(HfDrawing) drawing = read_page(
      "<g id='boat'><path id='p7' d='M0 0h9v9'><title> the  tail </title></path>"
      "<rect width='1' height='1'/><rect id='hull' width='1' height='1' stroke='#000'/></g>"
      "<rect fill='#fff' width='3' height='3'/>");
  const char *const names[] = {"path \"the tail\"", "1st rectangle", "rectangle \"hull\"",
                               "edge of rectangle \"hull\"", "3rd rectangle"};
  g_assert_cmpuint(drawing->pieces->len, ==, G_N_ELEMENTS(names));
  for (guint i = 0; i < G_N_ELEMENTS(names); i++)
    g_assert_cmpstr(hf_drawing_piece(drawing, i)->name, ==, names[i]);
  const GPtrArray *called = hf_drawing_piece(drawing, 0)->called;
  g_assert_cmpuint(called->len, ==, 3);
  g_assert_cmpstr((const char *)called->pdata[2], ==, "boat");
  g_assert_false(hf_drawing_piece(drawing, 0)->white);
  g_assert_true(hf_drawing_piece(drawing, 4)->white);
}

/* CSS 2.1, 4.3.2: an inch has 96 px; SVG 2, 8.2: what is not said follows from the view box. */
static const struct {
  const char *root;
  double mm; /* of a rectangle of 10 units */
} sizes[] = {
    {"width='100mm' height='100mm' viewBox='0 0 100 100'", 10},
    {"width='4in' height='4in' viewBox='0 0 100 100'", 10.16},
    {"width='96' height='96'", 25.4 / 9.6},
    {"width='96px' height='96px' viewBox='0 0 48 48'", 25.4 / 4.8},
    {"viewBox='0 0 48 48'", 25.4 / 9.6},
    {"width='50mm' viewBox='0 0 100 200'", 5},
    {"width='100%' height='100%' viewBox='0 0 48 48'", 25.4 / 9.6},
    {"", 25.4 / 9.6},
};

static void
test_sizes(void)
{
  for (guint i = 0; i < G_N_ELEMENTS(sizes); i++) {
    g_autofree char *text = g_strdup_printf(
        "<svg xmlns='http://www.w3.org/2000/svg' %s><rect width='10' height='10'/></svg>",
        sizes[i].root);
    g_autoptr(HfDrawing) drawing = read_text(text, NULL);
    g_assert_nonnull(drawing);
    HfBox box = hf_outline_box(hf_drawing_piece(drawing, 0)->outline);
    g_assert_cmpfloat_with_epsilon(hf_box_width(box), HF_DRAWING_LONG, 1e-6);
    g_assert_cmpfloat_with_epsilon(hf_box_width(box) * drawing->mm, sizes[i].mm, 1e-9);
  }
}

static void
test_notes(void)
{
  g_autoptr(HfDrawing) drawing = read_page(
      "<rect width='1' height='1'/>\n<image/>\n<image/>\n<text>Heron</text><path d='M0 0h9v9 x'/>"
      "<linearGradient id='g'><stop/></linearGradient><rect fill='url(#g)' width='9' height='9'/>");
  const struct {
    guint line, times;
    const char *text;
  } notes[] = {{2, 2, "a picture of dots was left out"},
               {4, 1, "live text was left out: turn it into outlines"},
               {4, 1, "a path has a mistake in its data: it is drawn up to there"},
               {4, 1, "a shade of several colours was taken as paint all over"}};
  g_assert_cmpuint(drawing->notes->len, ==, G_N_ELEMENTS(notes));
  for (guint i = 0; i < G_N_ELEMENTS(notes); i++) {
    const HfDrawingNote *note = (const HfDrawingNote *)drawing->notes->pdata[i];
    g_assert_cmpstr(note->text, ==, notes[i].text);
    g_assert_cmpuint(note->line, ==, notes[i].line);
    g_assert_cmpuint(note->times, ==, notes[i].times);
  }
}

/* ---- hostile and broken ---------------------------------------------------------------------- */

static char *
repeated(const char *before, const char *text, guint n, const char *after)
{
  GString *all = g_string_new(before);
  for (guint i = 0; i < n; i++)
    g_string_append(all, text);
  g_string_append(all, after);
  return g_string_free(all, FALSE);
}

static void
refused(char *text, const char *why)
{
  g_autofree char *own = text;
  g_autoptr(GError) error = NULL;
  g_autoptr(HfDrawing) drawing = read_text(own, &error);
  if (drawing != NULL)
    g_error("not refused because \"%s\": %.300s", why, own);
  if (strstr(error->message, why) == NULL)
    g_error("refused, but not because \"%s\": %s", why, error->message);
}

/* Each entity is ten of the one before it, and so on. */
static char *
entity_bomb(void)
{
  GString *all = g_string_new("<!DOCTYPE svg [<!ENTITY a0 \"<rect width='1' height='1'/>\">");
  for (int i = 1; i < 10; i++) {
    g_string_append_printf(all, "<!ENTITY a%d \"", i);
    for (int k = 0; k < 10; k++)
      g_string_append_printf(all, "&a%d;", i - 1);
    g_string_append(all, "\">");
  }
  g_string_append(all, "]><svg xmlns='http://www.w3.org/2000/svg'>&a9;</svg>");
  return g_string_free(all, FALSE);
}

/* 20,000 lines back and forth over all of the page, which meet some hundred million times. */
static char *
tangle(void)
{
  GString *all = g_string_new(PAGE "<path fill-rule='evenodd' d='M0 0");
  guint32 state = 1;
  for (int i = 0; i < 20000; i++) {
    state = state * 1664525u + 1013904223u; /* Knuth's linear congruence */
    g_string_append_printf(all, " %u %u", state >> 8 & 127, state >> 20 & 127);
  }
  g_string_append(all, "'/>" END);
  return g_string_free(all, FALSE);
}

/* Each group copies the one before it twice. */
static char *
copy_bomb(void)
{
  GString *all = g_string_new(PAGE "<g id='g0'><rect width='1' height='1'/></g>");
  for (int i = 1; i < 40; i++)
    g_string_append_printf(all, "<g id='g%d'><use href='#g%d'/><use href='#g%d'/></g>", i, i - 1,
                           i - 1);
  g_string_append(all, END);
  return g_string_free(all, FALSE);
}

static void
test_refused(void)
{
  refused(g_strdup("0 SECTION"), "no drawing of a kind");
  refused(g_strdup("<html/>"), "no SVG");
  refused(g_strdup(PAGE "<rect></g>"), "no sound XML");
  refused(g_strdup(PAGE "<rect width='1'"), "no sound XML");
  refused(g_strdup(PAGE END), "nothing in it to cut");
  refused(g_strdup(PAGE "<path d='M0 0h5' />" END), "nothing in it to cut");
  refused(g_strdup("<svg xmlns='http://www.w3.org/2000/svg' width='0' height='5'/>"), "no size");
  refused(entity_bomb(), "");
  refused(tangle(), "cross each other more than 300000 times");
  refused(copy_bomb(), "draws more than 50000 shapes");
  refused(repeated(PAGE, "<g>", 5000, ""), "deep in each other");
  refused(repeated(PAGE, "<g/>", 300000, END), "more than 200000 elements");
  refused(repeated(PAGE "<path d='M0 0", " 1 2 3 1", 2200000, "'/>" END), "more than 10 MB");
  g_autofree char *path = repeated("<path d='M0 0", " 1 2 3 1", 100000, "'/>");
  refused(repeated(PAGE, path, 11, END), "more than 2000000 curves");
  refused(repeated(PAGE, path, 40, END), "more than 24 MB");
  refused(g_strdup(PAGE "<path d='M0 0L1e308 1e308 5 5'/>" END), "reaches farther");
  refused(g_strdup(PAGE "<path d='M0 0L1e400 3 5 5'/>" END), "nothing in it to cut");
  refused(g_strdup(PAGE "<rect width='nan' height='inf'/>" END), "nothing in it to cut");
  refused(
      g_strdup(PAGE "<path fill='none' stroke='#000' stroke-dasharray='1e-6' d='M0 0h99'/>" END),
      "dashes");
  refused(g_strdup("<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>" PAGE
                   "<text>&x;</text>" END),
          "");
}

/* The same bytes by the same wish are read once; another wish, or other bytes, anew. */
static void
test_kept(void)
{
  static const char text[] = PAGE "<circle cx='50' cy='50' r='20'/>" END;
  const HfDrawingWish none = {0};
  g_autoptr(GError) error = NULL;
  g_autoptr(HfDrawing) first = hf_drawing_open("a.svg", text, strlen(text), &none, &error);
  g_assert_no_error(error);
  for (guint i = 0; i < 40; i++) {
    g_autofree char *other = g_strdup_printf("%s<!-- %u -->", text, i);
    g_autoptr(HfDrawing) one = hf_drawing_open("b.svg", other, strlen(other), &none, &error);
    g_autoptr(HfDrawing) again = hf_drawing_open("a.svg", text, strlen(text), &none, &error);
    g_assert_no_error(error);
    g_assert_true(again == first && one != first);
    g_assert_cmpstr(one->digest, !=, first->digest);
  }
  const HfDrawingWish inches = {.unit_mm = 25.4};
  g_assert_null(hf_drawing_open("a.svg", text, strlen(text), &inches, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
}

/* White on black: a disc of 20 in a square of 60, mm2 by the formulas of plane geometry. */
static void
test_white(void)
{
  g_autoptr(HfDrawing) drawing = read_page("<rect width='60' height='60'/>"
                                           "<circle cx='30' cy='30' r='20' fill='white'/>"
                                           "<g id='plain'><rect x='70' width='9' height='9'/></g>");
  double area[HF_N_DRAWING_WHITES], k = drawing->mm * drawing->mm;
  g_assert_cmpint(hf_drawing_white(drawing, "plain", area), ==, HF_DRAWING_WHITE_METAL);
  g_assert_cmpint(hf_drawing_white(drawing, NULL, area), ==, HF_DRAWING_WHITE_UNSAID);
  g_assert_cmpfloat_with_epsilon(area[HF_DRAWING_WHITE_OPENING] * k, 3681 - G_PI * 400, 0.05);
  g_assert_cmpfloat_with_epsilon(area[HF_DRAWING_WHITE_METAL] * k, 3681, 0.05);
  g_assert_cmpfloat_with_epsilon(area[HF_DRAWING_WHITE_NOTHING] * k, 3681, 0.05);
  const GArray *metal = hf_drawing_metal(drawing, HF_DRAWING_WHITE_OPENING, NULL);
  g_assert_true(metal == hf_drawing_metal(drawing, HF_DRAWING_WHITE_OPENING, NULL));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/drawing/areas", test_areas);
  g_test_add_func("/drawing/true-curves", test_true_curves);
  g_test_add_func("/drawing/names", test_names);
  g_test_add_func("/drawing/sizes", test_sizes);
  g_test_add_func("/drawing/notes", test_notes);
  g_test_add_func("/drawing/refused", test_refused);
  g_test_add_func("/drawing/kept", test_kept);
  g_test_add_func("/drawing/white", test_white);
  return g_test_run();
}
