/* SPDX-License-Identifier: GPL-3.0-or-later
 * glyph.c - the outline of one glyph, in ems, as the font draws it: quadratics become exact
 * cubics, nothing is flattened, overlaps stay for the non-zero rule to settle.
 */
#include "type/type-private.h"

/* Where HarfBuzz draws to. A glyph that breaks a cap is `bad`, and drawing on is a waste. */
typedef struct {
  HfOutline *outline;
  double em;
  guint curves, contours;
  const char *bad; /* what is wrong with it */
} HfPen;

static gboolean
take(HfPen *pen, float x, float y, HfPoint *p)
{
  *p = hf_point((double)x / pen->em, (double)y / pen->em);
  if (!(fabs(p->x) <= HF_GLYPH_MAX_EMS && fabs(p->y) <= HF_GLYPH_MAX_EMS))
    pen->bad = "a point lies far outside";
  return pen->bad == NULL;
}

static gboolean
count(HfPen *pen)
{
  if (++pen->curves > HF_GLYPH_MAX_CURVES)
    pen->bad = "too many points";
  return pen->bad == NULL;
}

static void
pen_begin(hb_draw_funcs_t *funcs, void *data, hb_draw_state_t *state, float x, float y, void *user)
{
  (void)funcs, (void)state, (void)user;
  HfPen *pen = data;
  HfPoint p;
  if (++pen->contours > HF_GLYPH_MAX_CONTOURS)
    pen->bad = "too many contours";
  if (take(pen, x, y, &p))
    hf_outline_begin(pen->outline, p);
}

static void
pen_line(hb_draw_funcs_t *funcs, void *data, hb_draw_state_t *state, float x, float y, void *user)
{
  (void)funcs, (void)state, (void)user;
  HfPen *pen = data;
  HfPoint p;
  if (take(pen, x, y, &p) && count(pen))
    hf_outline_line_to(pen->outline, p);
}

static void
pen_quad(hb_draw_funcs_t *funcs, void *data, hb_draw_state_t *state, float cx, float cy, float x,
         float y, void *user)
{
  (void)funcs, (void)state, (void)user;
  HfPen *pen = data;
  HfPoint c, p;
  if (take(pen, cx, cy, &c) && take(pen, x, y, &p) && count(pen))
    hf_outline_quad_to(pen->outline, c, p);
}

static void
pen_cubic(hb_draw_funcs_t *funcs, void *data, hb_draw_state_t *state, float ax, float ay, float bx,
          float by, float x, float y, void *user)
{
  (void)funcs, (void)state, (void)user;
  HfPen *pen = data;
  HfPoint a, b, p;
  if (take(pen, ax, ay, &a) && take(pen, bx, by, &b) && take(pen, x, y, &p) && count(pen))
    hf_outline_cubic_to(pen->outline, a, b, p);
}

static void
pen_close(hb_draw_funcs_t *funcs, void *data, hb_draw_state_t *state, void *user)
{
  (void)funcs, (void)state, (void)user;
  HfPen *pen = data;
  if (pen->bad == NULL)
    hf_outline_close(pen->outline);
}

hb_draw_funcs_t *
hf_pen_new(void)
{
  hb_draw_funcs_t *funcs = hb_draw_funcs_create();
  hb_draw_funcs_set_move_to_func(funcs, pen_begin, NULL, NULL);
  hb_draw_funcs_set_line_to_func(funcs, pen_line, NULL, NULL);
  hb_draw_funcs_set_quadratic_to_func(funcs, pen_quad, NULL, NULL);
  hb_draw_funcs_set_cubic_to_func(funcs, pen_cubic, NULL, NULL);
  hb_draw_funcs_set_close_path_func(funcs, pen_close, NULL, NULL);
  hb_draw_funcs_make_immutable(funcs);
  return funcs;
}

void
hf_glyph_shape_free(HfGlyphShape *shape)
{
  hf_outline_free(shape->outline);
  g_free(shape);
}

const HfGlyphShape *
hf_face_shape(const HfFace *face, hb_codepoint_t glyph, const char *where, GError **error)
{
  HfGlyphShape *shape = g_hash_table_lookup(face->shapes, GUINT_TO_POINTER(glyph));
  if (shape != NULL)
    return shape;
  g_autoptr(HfOutline) outline = hf_outline_new();
  HfPen pen = {outline, face->em, 0, 0, NULL};
  hb_font_get_glyph_shape(face->font, glyph, face->pen, &pen);
  if (pen.bad != NULL) {
    g_autofree char *label = hf_face_label(face);
    hf_error_set(error, HF_ERROR_BAD_FONT, where, "choose another font",
                 "glyph %u of the font %s (%s) can't be used: %s", glyph, label, face->file,
                 pen.bad);
    return NULL;
  }
  shape = g_new(HfGlyphShape, 1);
  shape->ink = hf_outline_box(outline);
  shape->outline = g_steal_pointer(&outline);
  g_hash_table_insert(face->shapes, GUINT_TO_POINTER(glyph), shape);
  return shape;
}
