/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-read.c - the SVG reader: from bytes to pieces. Its parts are told of in svg-private.h.
 */
#include "base/text.h"
#include "drawing/svg-scale-private.h"
#include "drawing/svg-text-private.h"
#include <string.h>

void
hf_svg_refuse(HfSvg *svg, HfErrorKind kind, guint line, const char *fix, const char *format, ...)
{
  if (svg->error != NULL)
    return;
  va_list args;
  va_start(args, format);
  g_autofree char *what = g_strdup_vprintf(format, args);
  va_end(args);
  g_autofree char *at =
      line > 0 ? g_strdup_printf("%s:%u", svg->where, line) : g_strdup(svg->where);
  hf_error_set(&svg->error, kind, at, fix, "%s", what);
}

/* ---- what it is ------------------------------------------------------------------------------ */

#define LOOKED_AT 4096 /* bytes in which the root must begin */

static gboolean
is_svg(const char *bytes, gsize length)
{
  g_autofree char *head = g_strndup(bytes, MIN(length, LOOKED_AT));
  const char *p = head;
  if (g_str_has_prefix(p, "\xef\xbb\xbf"))
    p += 3;
  if (length > 2 && ((guchar)bytes[0] >= 0xfe || bytes[0] == '\0' || bytes[1] == '\0'))
    return TRUE; /* UTF-16: XML at any rate, and its reader says what is wrong with it */
  hf_svg_space(&p);
  return *p == '<' && p[1] != '\0' && (g_ascii_isalpha(p[1]) || p[1] == '?' || p[1] == '!');
}

/* ---- page and size --------------------------------------------------------------------------- */

typedef struct {
  gboolean known; /* there is a page */
  HfPoint size;   /* px */
  const char *rule;
} Page;

static gboolean
has_unit(const char *text)
{
  static const char *const absolute[] = {"mm", "cm", "in", "pt", "pc", "Q"};
  for (guint i = 0; text != NULL && i < G_N_ELEMENTS(absolute); i++)
    if (g_str_has_suffix(text, absolute[i]))
      return TRUE;
  return FALSE;
}

/* One side of the outermost viewport; NAN: it follows from the box, or is not known. */
static double
side(const HfSvgAt *at, const char *text)
{
  HfStyleLength length;
  if (text == NULL || !hf_style_length(text, &at->style, &length) || length.unit == HF_UNIT_PERCENT)
    return NAN;
  return length.value;
}

/* SVG 2, 8.2, and CSS: what is not said follows from the view box and the other side. */
static gboolean
find_page(HfSvg *svg, const HfXmlNode *root, const HfSvgAt *at, Page *ret)
{
  const char *width = hf_xml_get(root, "width"), *height = hf_xml_get(root, "height");
  const char *view = hf_xml_get(root, "viewBox");
  HfBox box = HF_BOX_EMPTY;
  gboolean boxed = view != NULL && hf_svg_view_box(view, &box);
  HfPoint size = {side(at, width), side(at, height)};
  if (size.x <= 0 || size.y <= 0) {
    hf_svg_refuse(svg, HF_ERROR_BAD_VALUE, root->line, "give it a width and a height",
                  "the drawing says that it has no size");
    return FALSE;
  }
  double share = boxed ? hf_box_width(box) / hf_box_height(box) : NAN;
  if (boxed && isnan(size.x))
    size.x = isnan(size.y) ? hf_box_width(box) : size.y * share;
  if (boxed && isnan(size.y))
    size.y = size.x / share;
  ret->known = !isnan(size.x) && !isnan(size.y);
  ret->size = ret->known ? size : hf_point(100, 100);
  ret->rule = has_unit(width) || has_unit(height)
                  ? "as its file says"
                  : "its file says no unit of length, and 96 px are an inch, as CSS has it";
  return TRUE;
}

/* ---- scale ----------------------------------------------------------------------------------- */

static HfBox
intersected(HfBox a, HfBox b)
{
  return (HfBox){{MAX(a.min.x, b.min.x), MAX(a.min.y, b.min.y)},
                 {MIN(a.max.x, b.max.x), MIN(a.max.y, b.max.y)}};
}

/* About what is seen, px: lines as wide as they are at most, within upright clips. */
static HfBox
seen_box(const HfSvg *svg)
{
  HfBox all = HF_BOX_EMPTY;
  for (guint i = 0; i < svg->items->len; i++) {
    const HfSvgItem *item = (const HfSvgItem *)g_ptr_array_index(svg->items, i);
    HfBox own = hf_linework_box(item->lines), box = HF_BOX_EMPTY;
    if (item->strokes)
      own = hf_box_grow(own, item->pen.width / 2);
    const HfPoint corner[4] = {own.min, {own.max.x, own.min.y}, own.max, {own.min.x, own.max.y}};
    for (int k = 0; k < 4; k++)
      box = hf_box_add_point(box, hf_matrix_apply(item->matrix, corner[k]));
    for (const HfSvgClip *clip = item->clip; clip != NULL; clip = clip->outer)
      if (!hf_box_is_empty(clip->box))
        box = intersected(box, clip->box);
    if (!hf_box_is_empty(box))
      all = hf_box_union(all, box);
  }
  return all;
}

/* Perhaps only because its words could not be set: then that is what is told. */
static void
refuse_nothing(HfSvg *svg)
{
  const GError *why = hf_drawing_unset(svg->drawing);
  if (why != NULL && svg->error == NULL)
    svg->error = g_error_copy(why);
  hf_svg_refuse(svg, HF_ERROR_BAD_VALUE, 0, "look at it in the program that drew it",
                "there is nothing in it to cut");
}

static void
bring_to_scale(HfSvg *svg, const Page *page)
{
  HfBox seen = seen_box(svg);
  double longer = MAX(hf_box_width(seen), hf_box_height(seen));
  if (!(longer > 0) || !isfinite(longer)) {
    refuse_nothing(svg);
    return;
  }
  double k = HF_DRAWING_LONG / longer;
  HfMatrix m = {k, 0, 0, -k, -k * seen.min.x, k * seen.max.y};
  svg->drawing->mm = HF_SVG_PX_MM / k;
  if (page->known) {
    HfBox box = hf_box_add_point(HF_BOX_EMPTY, hf_matrix_apply(m, hf_point(0, 0)));
    svg->drawing->page = hf_box_add_point(box, hf_matrix_apply(m, page->size));
  }
  hf_svg_to_pieces(svg, m);
  if (svg->drawing->pieces->len == 0)
    refuse_nothing(svg);
}

/* ---- reading --------------------------------------------------------------------------------- */

static void
walk_root(HfSvg *svg, const HfXmlNode *root)
{
  HfSvgAt at = {.style = hf_style_initial(), .matrix = HF_MATRIX_IDENTITY, .viewport = {100, 100}};
  HfSvgAt own;
  Page page;
  HfMatrix view;
  HfBox box;
  hf_styler_style(svg->styler, root, &at.style, &at.style);
  if (!find_page(svg, root, &at, &page))
    return;
  const char *view_box = hf_xml_get(root, "viewBox");
  at = (HfSvgAt){.style = hf_style_initial(), .matrix = HF_MATRIX_IDENTITY, .viewport = page.size};
  if (hf_svg_enter(svg, root, &at, &own) && own.style.opacity > 0) {
    gboolean none = FALSE;
    if (page.known)
      own.clip = hf_svg_clip_box(svg, NULL, (HfBox){{0, 0}, page.size}, HF_MATRIX_IDENTITY);
    hf_svg_view(view_box, hf_xml_get(root, "preserveAspectRatio"), page.size, &view, &box);
    own.matrix = hf_matrix_then(view, own.matrix);
    own.viewport = hf_point(hf_box_width(box), hf_box_height(box));
    if (view_box != NULL && hf_svg_view_box(view_box, &box))
      own.viewport = hf_point(hf_box_width(box), hf_box_height(box));
    own.clip = hf_svg_clip(svg, root, &own, &none);
    for (const HfXmlNode *child = root->first; !none && child != NULL && !hf_svg_ended(svg);
         child = child->next)
      hf_svg_walk(svg, child, &own);
  }
  if (!hf_svg_ended(svg))
    bring_to_scale(svg, &page);
  svg->drawing->size_rule = g_strdup(page.rule);
}

static void
note_style(guint line, const char *text, gpointer data)
{
  hf_drawing_note(((HfSvg *)data)->drawing, line, "%s", text);
}

static void
index_ids(HfSvg *svg)
{
  for (guint i = 0; i < svg->xml->nodes->len; i++) {
    HfXmlNode *node = (HfXmlNode *)g_ptr_array_index(svg->xml->nodes, i);
    const char *id = hf_xml_get(node, "id");
    if (id != NULL && !g_hash_table_contains(svg->by_id, id))
      g_hash_table_insert(svg->by_id, (gpointer)id, node);
  }
}

static void
read_tree(HfSvg *svg)
{
  if (strcmp(svg->xml->root->name, "svg") != 0) {
    hf_svg_refuse(svg, HF_ERROR_BAD_VALUE, svg->xml->root->line, "save it as SVG",
                  "it is XML, but no SVG");
    return;
  }
  svg->by_id = g_hash_table_new(g_str_hash, g_str_equal);
  svg->counts = g_hash_table_new(g_str_hash, g_str_equal);
  svg->items = g_ptr_array_new_with_free_func(hf_svg_item_free);
  svg->clips = g_ptr_array_new_with_free_func(hf_svg_clip_free);
  svg->path = g_ptr_array_new();
  svg->faces = svg->faces_wanted->fonts != NULL ? hf_text_faces_new(svg->faces_wanted) : NULL;
  svg->text_paths = g_hash_table_new_full(NULL, NULL, NULL, hf_text_path_free);
  svg->text_names = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  svg->styler = hf_styler_new(svg->xml, note_style, svg);
  index_ids(svg);
  walk_root(svg, svg->xml->root);
  g_hash_table_unref(svg->by_id);
  g_hash_table_unref(svg->counts);
  g_ptr_array_unref(svg->items);
  g_ptr_array_unref(svg->clips);
  g_ptr_array_unref(svg->path);
  hf_styler_free(svg->styler);
  hf_text_faces_free(svg->faces);
  g_hash_table_unref(svg->text_paths);
  g_hash_table_unref(svg->text_names);
}

static HfDrawing *
read_svg(const char *where, const char *bytes, gsize length, const HfDrawingWish *wish,
         GError **error)
{
  g_autoptr(HfXml) xml = hf_xml_read(where, bytes, length, error);
  if (xml == NULL)
    return NULL;
  g_autoptr(HfDrawing) drawing = hf_drawing_new();
  HfSvg svg = {.where = where, .xml = xml, .drawing = drawing, .faces_wanted = wish};
  read_tree(&svg);
  if (svg.error != NULL) {
    g_propagate_error(error, svg.error);
    return NULL;
  }
  return g_steal_pointer(&drawing);
}

const HfDrawingReader hf_reader_svg = {"SVG", {".svg", NULL}, FALSE, is_svg, read_svg};
