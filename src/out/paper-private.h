/* SPDX-License-Identifier: GPL-3.0-or-later
 * paper-private.h - a document of pages that carries no date of its own: same sign, same bytes.
 */
#pragma once
#include "out/out.h"
#include "out/pen-private.h"
#include <cairo-pdf.h>

/** hf_paper_new: (transfer full) a document that goes into @bytes, which must outlive it; its title
 *  is the sign's name and @what. Its pages have no size yet. */
cairo_surface_t *hf_paper_new(GByteArray *bytes, const HfRecipe *recipe, const char *what);
/** hf_paper_finish: (transfer full) the document, once all is drawn. Takes @bytes. %NULL with
 *  %HF_ERROR_IO: cairo could not. @file: its name, for the message. */
GBytes *hf_paper_finish(cairo_surface_t *surface, GByteArray *bytes, const char *file,
                        GError **error);
/** hf_paper_box: an upright page, points; its upper left corner at 0, 0. */
HfBox hf_paper_box(HfPaper paper);
