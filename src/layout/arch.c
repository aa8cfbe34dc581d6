/* SPDX-License-Identifier: GPL-3.0-or-later
 * arch.c - a gate arch: a strip over an opening, from two concentric true arcs and straight legs.
 *
 *          _.-"""-._            inner radius R = (c^2/4 + rise^2) / (2 rise), outer R + width
 *        .'  _---_  '.          (a circle's chord and its rise; docs/maths.md#gate-arch)
 *       /  .'  ^  '.  \
 *      |  |   rise  |  |        own frame: 0, 0 is the middle of the inner chord c
 *      |  |<-- c -->|  | legs
 *
 * One that runs round another has the same centre and the same feet, and the same clear distance
 * from it all along: a band for words.
 */
#include "base/text.h"
#include "layout/layout-private.h"

typedef struct {
  double half, width, legs; /* half the inner chord */
  double inner, outer;      /* radii */
  HfPoint centre;
} Arch;

static Arch
arch_of(const HfArchEntry *entry)
{
  double half = entry->chord / 2, rise = entry->rise;
  double inner = (half * half + rise * rise) / (2 * rise);
  return (Arch){half,  entry->width,         isnan(entry->legs) ? 0 : entry->legs,
                inner, inner + entry->width, hf_point(0, rise - inner)};
}

/* Round another one: the same centre, the legs as far apart as the curves, down to the same feet.
 * Without legs it covers the same angle. The own frame's middle of the chord lies `up` higher. */
static Arch
arch_over(const Arch *below, const HfArchEntry *entry, double *ret_up)
{
  double step = below->width + entry->clear, inner = below->inner + step;
  double half = below->legs > 0 ? below->half + step : below->half * inner / below->inner;
  double middle = -sqrt(MAX(inner * inner - half * half, 0)); /* of the circle, under the chord */
  *ret_up = below->centre.y - middle;
  double legs = below->legs > 0 ? below->legs + *ret_up : 0;
  return (Arch){half, entry->width, legs, inner, inner + entry->width, hf_point(0, middle)};
}

/* Legs run straight down from where the arcs meet them: the inner arc at the chord, the outer one
 * a little higher. */
static void
draw_with_legs(HfOutline *own, const Arch *arch)
{
  double out = arch->half + arch->width, foot = -arch->legs;
  double high = arch->centre.y + sqrt(arch->outer * arch->outer - out * out);
  double turn_out = atan2(high - arch->centre.y, out);
  double turn_in = atan2(-arch->centre.y, arch->half);
  hf_outline_begin(own, hf_point(arch->half, foot));
  hf_outline_line_to(own, hf_point(out, foot));
  hf_outline_line_to(own, hf_point(out, high));
  hf_outline_arc_to(own, arch->centre, G_PI - 2 * turn_out, hf_point(-out, high));
  hf_outline_line_to(own, hf_point(-out, foot));
  hf_outline_line_to(own, hf_point(-arch->half, foot));
  hf_outline_line_to(own, hf_point(-arch->half, 0));
  hf_outline_arc_to(own, arch->centre, -(G_PI - 2 * turn_in), hf_point(arch->half, 0));
  hf_outline_close(own);
}

/* Without legs the strip ends square to its own curve. */
static void
draw_without_legs(HfOutline *own, const Arch *arch)
{
  double turn = atan2(-arch->centre.y, arch->half), sweep = G_PI - 2 * turn;
  hf_outline_begin(own, hf_point(arch->half, 0));
  hf_outline_line_to(own, hf_point_polar(arch->centre, arch->outer, turn));
  hf_outline_arc_to(own, arch->centre, sweep,
                    hf_point_polar(arch->centre, arch->outer, G_PI - turn));
  hf_outline_line_to(own, hf_point(-arch->half, 0));
  hf_outline_arc_to(own, arch->centre, -sweep, hf_point(arch->half, 0));
  hf_outline_close(own);
}

static gboolean
check_rise(HfLaying *laying, guint entry, GError **error)
{
  const HfArchEntry *wish = &hf_lay_entry(laying, entry)->arch;
  if (wish->rise > 0 && wish->rise <= wish->chord / 2)
    return TRUE;
  g_autofree char *rise = hf_text_mm(wish->rise), *chord = hf_text_mm(wish->chord);
  g_autofree char *most = hf_text_at_most(wish->chord / 2);
  g_autofree char *fix = g_strdup_printf("give it a rise of at most %s (a half circle)", most);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                       "a gate arch over %s can't rise %s", chord, rise);
}

/* The arch in its own frame, worked out through those that it runs round, and how far its frame
 * lies above that of the one under it. */
static gboolean
find_arch(HfLaying *laying, guint entry, Arch *ret_arch, double *ret_up, GError **error)
{
  const HfArchEntry *wish = &hf_lay_entry(laying, entry)->arch;
  *ret_up = 0;
  if (wish->over == NULL) {
    if (!check_rise(laying, entry, error))
      return FALSE;
    *ret_arch = arch_of(wish);
    return TRUE;
  }
  guint under = 0;
  Arch below = {0};
  double up = 0;
  hf_lay_named(laying, wish->over, &under);
  if (!find_arch(laying, under, &below, &up, error))
    return FALSE;
  *ret_arch = arch_over(&below, wish, ret_up);
  return TRUE;
}

/* It lies where the one under it lies. */
static gboolean
frame_over(HfLaying *laying, guint entry, HfBox own, double up, GError **error)
{
  HfLaid *laid = &laying->laid[entry];
  const HfEntry *e = hf_lay_entry(laying, entry);
  const HfPlace *place = &e->place;
  if (place->on != NULL || (place->at != NULL && place->at->len > 0) || place->above != NULL ||
      place->below != NULL || place->left_of != NULL || place->right_of != NULL ||
      (!isnan(place->turn) && place->turn != 0))
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "leave its place out",
                         "a gate arch that runs round another one lies where that one lies");
  const HfLaid *under = hf_lay_named(laying, e->arch.over, NULL);
  for (guint i = 0; i < under->frames->len; i++) {
    HfMatrix frame =
        hf_matrix_then(hf_matrix_move(0, up), g_array_index(under->frames, HfMatrix, i));
    g_array_append_val(laid->frames, frame);
  }
  laid->own = own;
  return TRUE;
}

gboolean
hf_lay_arch(HfLaying *laying, guint entry, GError **error)
{
  HfLaid *laid = &laying->laid[entry];
  Arch arch = {0};
  double up = 0;
  if (!find_arch(laying, entry, &arch, &up, error))
    return FALSE;
  g_autoptr(HfOutline) own = hf_outline_new();
  if (arch.legs > 0)
    draw_with_legs(own, &arch);
  else
    draw_without_legs(own, &arch);
  HfBox box = hf_outline_box(own);
  if (hf_lay_entry(laying, entry)->arch.over != NULL ? !frame_over(laying, entry, box, up, error)
                                                     : !hf_lay_frames(laying, entry, box, error))
    return FALSE;
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), arch.centre);
  laid->inner = arch.inner;
  laid->outer = arch.outer;
  laid->span = asin(MIN(arch.half / arch.inner, 1));
  laid->legs = arch.legs;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
