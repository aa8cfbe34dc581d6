/* SPDX-License-Identifier: GPL-3.0-or-later
 * view.h - what the page shows of one sign, as JSON: the metal as path data, its webs, what was
 * found, the entries, the handles one drags. Colours and words around it are the page's.
 *
 * docs/page.md explains each key. Millimetres, y up; only path data is y down, as SVG wants it.
 */
#pragma once
#include "out/out.h"

/**
 * hf_out_view:
 * @what: with its true arcs
 * @revision: of the document it was made from
 * Returns: (transfer full) one JSON object; not all of it when @cancel (nullable) said stop. Cost
 * about a tenth of the run.
 */
GBytes *hf_out_view(const HfSign *what, guint64 revision, const HfCancel *cancel);

/** hf_out_thumb: (transfer full) the metal alone as a small SVG, black on nothing, for choosing
 * among signs. hf_out_line: a line of text from the outlines that would be cut, its capitals of one
 *  height whatever the face. */
GBytes *hf_out_thumb(const HfFit *fit);
GBytes *hf_out_line(const HfLine *line);
