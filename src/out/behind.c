/* SPDX-License-Identifier: GPL-3.0-or-later
 * behind.c - a sign of several sheets in pictures and on paper: what is behind shows through and
 * beyond what is in front of it.
 *
 *    picture   [ back  .-- front --. ]     each sheet in its own metal, its shadow on what is
 * behind, [       '-----------' ]     the longer the farther that is paper     - - - - an edge of
 * the back that the front hides: a broken line
 *
 * Hidden edges as on a drawing: broken lines. Source: ISO 128-2:2022, line 02.1 (from memory).
 */
#include "base/text.h"
#include "out/shade-private.h"
#include "out/sheet-private.h"

#define LIFT_USUAL 24.0 /* pixels of air that make the usual shadow */
#define LEAST_LIFT 0.6
#define MOST_LIFT  2.5

/* ---- in a light -------------------------------------------------------------------------------
 */

/* How far in front of what is behind it layer @i is, as a factor of the usual shadow. */
static double
lift_of(const HfSign *what, guint i, HfView view, double u)
{
  if (i + 1 >= hf_sign_n_layers(what))
    return 1;
  HfLayerAt next = hf_sign_layer(what, i + 1)->recipe->in_layer;
  double air = what->recipe->layers[next].behind * view.scale;
  return CLAMP(air / (LIFT_USUAL * u), LEAST_LIFT, MOST_LIFT);
}

gboolean
hf_shade_layers(cairo_t *cr, const HfSign *what, HfView view, HfBox wall, double u,
                const HfCancel *cancel, GError **error)
{
  for (guint i = hf_sign_n_layers(what); i-- > 0;)
    if (!hf_shade_metal(cr, hf_sign_layer(what, i), view, wall, u * lift_of(what, i, view, u),
                        cancel, error))
      return FALSE;
  return TRUE;
}

/* ---- as a drawing -----------------------------------------------------------------------------
 */

/* All that is in front of layer @i, as a place to draw in. */
static void
clip_to_front(cairo_t *cr, const HfSign *what, guint i, HfView view)
{
  cairo_new_path(cr);
  for (guint k = 0; k < i; k++)
    hf_picture_region(cr, hf_sign_layer(what, k)->metal->region, view);
  cairo_clip(cr);
}

/* Is the very @shape in a layer before @i too: a hole that goes through? */
static gboolean
is_in_front(const HfSign *what, guint i, const HfShape *shape)
{
  for (guint k = 0; k < i; k++)
    if (g_ptr_array_find(hf_sign_layer(what, k)->layout->shapes, shape, NULL))
      return TRUE;
  return FALSE;
}

/* Edges that lie on those in front of them are not hidden. */
static void
clip_off_through(cairo_t *cr, const HfSign *what, guint i, HfView view, double line)
{
  const GPtrArray *shapes = hf_sign_layer(what, i)->layout->shapes;
  double x0, y0, x1, y1;
  cairo_clip_extents(cr, &x0, &y0, &x1, &y1);
  cairo_new_path(cr);
  cairo_rectangle(cr, x0, y0, x1 - x0, y1 - y0);
  for (guint s = 0; s < shapes->len; s++) {
    if (!is_in_front(what, i, shapes->pdata[s]))
      continue;
    HfBox box = hf_view_box(view, hf_outline_box(((const HfShape *)shapes->pdata[s])->outline));
    box = hf_box_grow(box, 2 * line);
    cairo_rectangle(cr, box.min.x, box.min.y, hf_box_width(box), hf_box_height(box));
  }
  cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_clip(cr);
}

static void
draw_hidden(cairo_t *cr, const HfSign *what, guint i, HfView view, double line)
{
  cairo_save(cr);
  clip_to_front(cr, what, i, view);
  clip_off_through(cr, what, i, view, line);
  cairo_set_line_width(cr, line);
  cairo_set_dash(cr, (double[]){6 * line, 3 * line}, 2, 0);
  hf_picture_path(cr, hf_sign_layer(what, i), view);
  hf_pen_colour(cr, 0xffffff, 0.75);
  cairo_stroke(cr);
  cairo_restore(cr);
}

void
hf_picture_hidden(cairo_t *cr, const HfSign *what, HfView view, double line)
{
  for (guint i = 1; i < hf_sign_n_layers(what); i++)
    draw_hidden(cr, what, i, view, line);
}

void
hf_picture_layers(cairo_t *cr, const HfSign *what, HfView view, double line)
{
  static const guint TONES[] = {HF_STEEL, 0x8b9096, 0xb6babf};
  for (guint i = hf_sign_n_layers(what); i-- > 0;) {
    hf_picture_path(cr, hf_sign_layer(what, i), view);
    hf_pen_colour(cr, TONES[MIN(i, G_N_ELEMENTS(TONES) - 1)], 1);
    cairo_fill(cr);
  }
  hf_picture_hidden(cr, what, view, line);
}

/* ---- in words ---------------------------------------------------------------------------------
 */

static char *
words_of(const HfSign *what, const HfSign *layer)
{
  HfLayerAt at = layer->recipe->in_layer;
  double behind = at == HF_LAYER_FRONT ? 0 : what->recipe->layers[at].behind;
  g_autofree char *metal = hf_say_metal(layer), *size = hf_say_size(layer->hold);
  g_autofree char *weight = hf_text_grams(layer->hold->mass);
  g_autofree char *kerf = hf_text_mm(layer->hold->process.kerf);
  GString *text = g_string_new(NULL);
  g_string_append_printf(text, "%s; %s, %s, %s; kerf %s, %s", hf_say_verdict(layer->hold), metal,
                         size, weight, kerf, hf_say_kerf_said_by(layer));
  if (behind > 0) {
    g_autofree char *air = hf_text_mm(behind);
    g_string_append_printf(text, "; %s behind the layer before it", air);
  }
  return g_string_free(text, FALSE);
}

void
hf_facts_layers(HfFlow *flow, const HfSign *what)
{
  for (guint i = 0; what->layers != NULL && i < what->layers->len; i++) {
    const HfSign *layer = hf_sign_layer(what, i);
    g_autofree char *words = words_of(what, layer);
    hf_flow_row(flow, hf_layer_word(layer->recipe->in_layer), words);
  }
}
