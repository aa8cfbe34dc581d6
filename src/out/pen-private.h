/* SPDX-License-Identifier: GPL-3.0-or-later
 * pen-private.h - text and colours on a cairo page, the same for picture and paper.
 *
 * Text goes through pango, so every script reads. A font is embedded in a document only where its
 * licence bits allow it; a text that needs another font is drawn as outlines instead.
 */
#pragma once
#include <glib.h>
#include <pango/pangocairo.h>

/* cairo's types, cleaned up like GLib's. */
static inline void
hf_pen_free_cairo(cairo_t **cr)
{
  if (*cr != NULL)
    cairo_destroy(*cr);
}

static inline void
hf_pen_free_surface(cairo_surface_t **surface)
{
  if (*surface != NULL)
    cairo_surface_destroy(*surface);
}

static inline void
hf_pen_free_pattern(cairo_pattern_t **pattern)
{
  if (*pattern != NULL)
    cairo_pattern_destroy(*pattern);
}
#define HF_AUTO_CAIRO   __attribute__((cleanup(hf_pen_free_cairo))) cairo_t *
#define HF_AUTO_SURFACE __attribute__((cleanup(hf_pen_free_surface))) cairo_surface_t *
#define HF_AUTO_PATTERN __attribute__((cleanup(hf_pen_free_pattern))) cairo_pattern_t *

/* The colours of the house, 0xrrggbb. */
enum {
  HF_PAPER_TONE = 0xf5f0e6,
  HF_CARD_TONE = 0xfffdf8,
  HF_INK = 0x26221d,
  HF_SOFT_INK = 0x6d6457,
  HF_RULE = 0xd9cfbe,
  HF_STEEL = 0x3b3f44,
  HF_WALL = 0xe9e3d7,
  HF_HOT = 0xb4481a, /* "look here", never alone in carrying meaning */
};

typedef struct {
  cairo_t *cr;           /* (borrowed) */
  PangoContext *context; /* own */
  gboolean document;     /* fonts would be embedded: mind their licence bits */
} HfPen;

/** hf_pen_fonts: (transfer none) the faces that there are, without the user's settings. Only who
 *  holds a pen may call it. The first call reads Fontconfig's caches. */
PangoFontMap *hf_pen_fonts(void);

/** hf_pen_init: a pen on @cr, which must outlive it; @document: fonts would be embedded. Waits
 * until no other thread has one; let it go as soon as no more text is drawn. */
void hf_pen_init(HfPen *pen, cairo_t *cr, gboolean document);
/** hf_pen_can_write: can the faces be opened that the house writes with? With too few files to be
 * opened or too little memory they can't: HF_ERROR_IO. Ask before anything is drawn: what is drawn
 * without them lacks its words. */
gboolean hf_pen_can_write(const HfPen *pen, GError **error);
/** hf_pen_clear: lets go of what the pen made; not of `cr`. */
void hf_pen_clear(HfPen *pen);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfPen, hf_pen_clear)

/** hf_pen_colour: sets the source; @alpha 0..1. */
void hf_pen_colour(cairo_t *cr, guint rgb, double alpha);

typedef struct {
  double size; /* of the letters, in the page's units */
  gboolean bold, italic;
  gboolean figures;  /* figures of one width, standing on the line: for tables and sizes */
  double width;      /* lines break at it; 0: they don't */
  gboolean one_line; /* cut short at the width */
  guint lines;       /* cut short after so many; 0: never */
} HfPenStyle;

/** hf_pen_text: (transfer full) @text laid out, with its @ret_height (nullable). */
PangoLayout *hf_pen_text(const HfPen *pen, const HfPenStyle *style, const char *text);
/** hf_pen_height: page units, of all lines. */
double hf_pen_height(PangoLayout *layout);
/** hf_pen_width: page units, of the widest line. */
double hf_pen_width(PangoLayout *layout);
/** hf_pen_baseline: page units from the top of @layout to its first baseline. */
double hf_pen_baseline(PangoLayout *layout);

/** hf_pen_draw: @x, @y: upper left corner, in the current colour. */
void hf_pen_draw(const HfPen *pen, PangoLayout *layout, double x, double y);

/** hf_pen_draw_line: one line of @layout, its left end at @x, its baseline at @y. */
void hf_pen_draw_line(const HfPen *pen, PangoLayout *layout, PangoLayoutLine *line, double x,
                      double y);

/** hf_pen_say: lays out and draws in one go; @anchor 0 left, 0.5 middle, 1 right of @x; @y: upper
 *  edge. Returns: the height. */
double hf_pen_say(const HfPen *pen, const HfPenStyle *style, const char *text, double x, double y,
                  double anchor);

/** hf_pen_stamp: the verdict in a frame, a little askew; @x: its right edge. Returns: the width. */
double hf_pen_stamp(const HfPen *pen, const char *text, gboolean alarm, double x, double y,
                    double size);

/** hf_pen_may_embed: do the licence bits of every font in @layout allow a part of it in a
 *  document? */
gboolean hf_pen_may_embed(PangoLayout *layout);
/** hf_pen_bits_allow: OS/2 fsType. */
gboolean hf_pen_bits_allow(guint fs_type);
