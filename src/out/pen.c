/* SPDX-License-Identifier: GPL-3.0-or-later
 * pen.c - text and colours on a cairo page.
 *
 * Nothing here looks at the user's own settings for screen text (hinting, smoothing, subpixels,
 * dpi; for which face stands in for which see pen-fonts.c), so that the same input gives the same
 * bytes.
 */
#include "base/error.h"
#include "base/seen.h"
#include "out/pen-private.h"
#include <hb-ot.h>

/* A text face for reading; where it is not installed, the system's own. */
static const char family[] = "Vollkorn,serif";

/* Below pango, cairo keeps one face of FreeType for each font file and sets its size anew for each
 * use: two threads that set text at the same time now and then got another advance for a letter,
 * and a line of the proof broke elsewhere. Who holds a pen sets text alone. */
static GRecMutex one_pen;

void
hf_pen_init(HfPen *pen, cairo_t *cr, gboolean document)
{
  g_rec_mutex_lock(&one_pen);
  pen->cr = cr;
  pen->document = document;
  pen->context = pango_font_map_create_context(hf_pen_fonts());
  cairo_font_options_t *options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_subpixel_order(options, CAIRO_SUBPIXEL_ORDER_DEFAULT);
  pango_cairo_context_set_font_options(pen->context, options);
  cairo_font_options_destroy(options);
  pango_cairo_context_set_resolution(pen->context, 72);
  pango_context_set_language(pen->context, pango_language_from_string("en"));
  pango_context_set_round_glyph_positions(pen->context, FALSE);
}

gboolean
hf_pen_can_write(const HfPen *pen, GError **error)
{
  static const HfPenStyle styles[] = {
      {.size = 10}, {.size = 10, .bold = TRUE}, {.size = 10, .italic = TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS(styles); i++) {
    g_autoptr(PangoLayout) layout = hf_pen_text(pen, &styles[i], "a");
    const PangoFontDescription *wanted = pango_layout_get_font_description(layout);
    g_autoptr(PangoFont) font = pango_context_load_font(pen->context, wanted);
    if (font != NULL && pango_font_get_hb_font(font) != NULL)
      continue;
    hf_error_set(error, HF_ERROR_IO, NULL,
                 "end other programs, or let it open more files (ulimit -n)",
                 "no font can be opened to write the papers with");
    return FALSE;
  }
  return TRUE;
}

void
hf_pen_clear(HfPen *pen)
{
  if (pen->context == NULL)
    return;
  g_clear_object(&pen->context);
  g_rec_mutex_unlock(&one_pen);
}

void
hf_pen_colour(cairo_t *cr, guint rgb, double alpha)
{
  cairo_set_source_rgba(cr, (rgb >> 16 & 0xff) / 255.0, (rgb >> 8 & 0xff) / 255.0,
                        (rgb & 0xff) / 255.0, alpha);
}

static PangoAttrList *
features_of(const HfPenStyle *style)
{
  /* an old-style 1 looks like an I, which nobody can check */
  PangoAttrList *list = pango_attr_list_new();
  pango_attr_list_insert(list,
                         pango_attr_font_features_new(style->figures ? "tnum=1,lnum=1" : "lnum=1"));
  return list;
}

PangoLayout *
hf_pen_text(const HfPen *pen, const HfPenStyle *style, const char *text)
{
  PangoLayout *layout = pango_layout_new(pen->context);
  PangoFontDescription *font = pango_font_description_new();
  pango_font_description_set_family_static(font, family);
  pango_font_description_set_absolute_size(font, style->size * PANGO_SCALE);
  if (style->bold)
    pango_font_description_set_weight(font, PANGO_WEIGHT_SEMIBOLD);
  if (style->italic)
    pango_font_description_set_style(font, PANGO_STYLE_ITALIC);
  pango_layout_set_font_description(layout, font);
  pango_font_description_free(font);
  PangoAttrList *features = features_of(style);
  pango_layout_set_attributes(layout, features);
  pango_attr_list_unref(features);
  if (style->width > 0)
    pango_layout_set_width(layout, (int)(style->width * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  if (style->one_line) {
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
  }
  if (style->lines > 0) {
    pango_layout_set_height(layout, -(int)style->lines);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
  }
  g_autofree char *seen = hf_seen(text, TRUE);
  pango_layout_set_text(layout, seen, -1);
  return layout;
}

double
hf_pen_height(PangoLayout *layout)
{
  PangoRectangle box;
  pango_layout_get_extents(layout, NULL, &box);
  return box.height / (double)PANGO_SCALE;
}

double
hf_pen_width(PangoLayout *layout)
{
  PangoRectangle box;
  pango_layout_get_extents(layout, NULL, &box);
  return box.width / (double)PANGO_SCALE;
}

double
hf_pen_baseline(PangoLayout *layout)
{
  return pango_layout_get_baseline(layout) / (double)PANGO_SCALE;
}

/* A font that does not say is not embedded. OpenType OS/2 fsType (OpenType specification, "OS/2",
 * from memory): the low four bits say how a document may carry the font; 2 alone is "restricted".
 * Bit 8 forbids taking only a part of it, which is what cairo does; bit 9 allows bitmaps only. */
gboolean
hf_pen_bits_allow(guint fs_type)
{
  return (fs_type & 0xf) != 0x2 && (fs_type & 0x300) == 0;
}

static gboolean
font_may_embed(PangoFont *font)
{
  enum { FS_TYPE = 8 }; /* its place in the OS/2 table */
  if (font == NULL)     /* of one letter, where nothing has it */
    return FALSE;
  hb_face_t *face = hb_font_get_face(pango_font_get_hb_font(font));
  hb_blob_t *table = hb_face_reference_table(face, HB_TAG('O', 'S', '/', '2'));
  guint length;
  const guchar *bytes = (const guchar *)hb_blob_get_data(table, &length);
  gboolean allowed =
      length >= FS_TYPE + 2 && hf_pen_bits_allow((guint)bytes[FS_TYPE] << 8 | bytes[FS_TYPE + 1]);
  hb_blob_destroy(table);
  return allowed;
}

gboolean
hf_pen_may_embed(PangoLayout *layout)
{
  gboolean allowed = TRUE;
  PangoLayoutIter *iter = pango_layout_get_iter(layout);
  do {
    const PangoLayoutRun *run = pango_layout_iter_get_run_readonly(iter);
    if (run != NULL)
      allowed = allowed && font_may_embed(run->item->analysis.font);
  } while (allowed && pango_layout_iter_next_run(iter));
  pango_layout_iter_free(iter);
  return allowed;
}

void
hf_pen_draw(const HfPen *pen, PangoLayout *layout, double x, double y)
{
  cairo_move_to(pen->cr, x, y);
  if (!pen->document || hf_pen_may_embed(layout)) {
    pango_cairo_show_layout(pen->cr, layout);
    cairo_new_path(pen->cr);
    return;
  }
  pango_cairo_layout_path(pen->cr, layout);
  cairo_fill(pen->cr);
}

void
hf_pen_draw_line(const HfPen *pen, PangoLayout *layout, PangoLayoutLine *line, double x, double y)
{
  cairo_move_to(pen->cr, x, y);
  if (!pen->document || hf_pen_may_embed(layout)) {
    pango_cairo_show_layout_line(pen->cr, line);
    cairo_new_path(pen->cr);
    return;
  }
  pango_cairo_layout_line_path(pen->cr, line);
  cairo_fill(pen->cr);
}

double
hf_pen_say(const HfPen *pen, const HfPenStyle *style, const char *text, double x, double y,
           double anchor)
{
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, style, text);
  hf_pen_draw(pen, layout, x - anchor * hf_pen_width(layout), y);
  return hf_pen_height(layout);
}

double
hf_pen_stamp(const HfPen *pen, const char *text, gboolean alarm, double x, double y, double size)
{
  cairo_t *cr = pen->cr;
  HfPenStyle style = {.size = size, .bold = TRUE};
  g_autoptr(PangoLayout) layout = hf_pen_text(pen, &style, text);
  double w = hf_pen_width(layout) + size, h = hf_pen_height(layout) + size * 0.3;
  cairo_save(cr);
  cairo_translate(cr, x - w / 2, y + h / 2);
  cairo_rotate(cr, -0.03);
  hf_pen_colour(cr, alarm ? HF_HOT : HF_INK, 1);
  cairo_set_line_width(cr, size * 0.09);
  cairo_rectangle(cr, -w / 2, -h / 2, w, h);
  cairo_stroke(cr);
  hf_pen_draw(pen, layout, -hf_pen_width(layout) / 2, -hf_pen_height(layout) / 2);
  cairo_restore(cr);
  return w;
}
