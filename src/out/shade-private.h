/* SPDX-License-Identifier: GPL-3.0-or-later
 * shade-private.h - the pixels of the picture: metal with its light and shadow, PNG bytes.
 */
#pragma once
#include "out/picture-private.h"

/** hf_shade_layers: (behind.c) hf_shade_metal() of each sheet, the hindmost first. */
gboolean hf_shade_layers(cairo_t *cr, const HfSign *what, HfView view, HfBox wall, double u,
                         const HfCancel *cancel, GError **error);
/** hf_shade_metal: the metal in front of the wall, lit from the upper left; its shadow stays
 *  within @wall. @u: size of a fine line, pixels. The outline itself is exact. */
gboolean hf_shade_metal(cairo_t *cr, const HfSign *what, HfView view, HfBox wall, double u,
                        const HfCancel *cancel, GError **error);

/** hf_shade_shadow: the shadow alone, a mask of one pixel to @coarse page units. */
void hf_shade_shadow(cairo_t *cr, const HfSign *what, HfView view, HfBox wall, double u,
                     double coarse);

/** hf_shade_encode: (transfer full) the PNG, with its title and the cautions as text chunks. */
GBytes *hf_shade_encode(cairo_surface_t *surface, const char *title, const char *warning,
                        const HfCancel *cancel, GError **error);
