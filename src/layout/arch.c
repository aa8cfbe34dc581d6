/* SPDX-License-Identifier: GPL-3.0-or-later
 * arch.c - a gate arch: a strip over an opening, from two concentric true arcs and straight legs.
 *
 *          _.-"""-._            inner radius R = (c^2/4 + rise^2) / (2 rise), outer R + width
 *        .'  _---_  '.          (a circle's chord and its rise; docs/maths.md#gate-arch)
 *       /  .'  ^  '.  \
 *      |  |   rise  |  |        own frame: 0, 0 is the middle of the inner chord c
 *      |  |<-- c -->|  | legs
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

gboolean
hf_lay_arch(HfLaying *laying, guint entry, GError **error)
{
  const HfArchEntry *wish = &hf_lay_entry(laying, entry)->arch;
  HfLaid *laid = &laying->laid[entry];
  if (!(wish->rise > 0 && wish->rise <= wish->chord / 2)) {
    g_autofree char *rise = hf_text_mm(wish->rise), *chord = hf_text_mm(wish->chord);
    g_autofree char *most = hf_text_mm(wish->chord / 2);
    g_autofree char *fix = g_strdup_printf("give it a rise of at most %s (a half circle)", most);
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, fix,
                         "a gate arch over %s can't rise %s", chord, rise);
  }
  Arch arch = arch_of(wish);
  g_autoptr(HfOutline) own = hf_outline_new();
  if (arch.legs > 0)
    draw_with_legs(own, &arch);
  else
    draw_without_legs(own, &arch);
  if (!hf_lay_frames(laying, entry, hf_outline_box(own), error))
    return FALSE;
  laid->centre = hf_matrix_apply(g_array_index(laid->frames, HfMatrix, 0), arch.centre);
  laid->inner = arch.inner;
  laid->outer = arch.outer;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
