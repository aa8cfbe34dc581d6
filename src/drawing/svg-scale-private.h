/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-scale-private.h - from what was drawn in user units to outlines at one scale.
 */
#pragma once
#include "drawing/settle-private.h"
#include "drawing/svg-private.h"

/** hf_svg_to_pieces: adds every item of @svg to its drawing as pieces, each through its own matrix
 *  and then @page (of the page to the drawing's frame, which turns y over). */
void hf_svg_to_pieces(HfSvg *svg, HfMatrix page);
