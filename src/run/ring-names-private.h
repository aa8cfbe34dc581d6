/* SPDX-License-Identifier: GPL-3.0-or-later
 * ring-names-private.h - what each contour of a sign is called when it is cut.
 */
#pragma once
#include "sign/sign.h"

/** hf_ring_names: (transfer full) (array zero-terminated=1) one for each ring of the metal:
 *  after the shape that made most of its edge: `letter 'B' of "BAKERY"`, `inside letter 'A' of
 *  "BAKERY"`, `between ring "inner" and ring "outer"`, `outside of plate "board"`; several of one
 *  name end in `(2 of 3)`, from the left. O(edges). */
char **hf_ring_names(const HfSign *sign);

/** hf_ring_makers: (transfer full) (element-type guint) for each ring the shape of the layout that
 *  made most of its edge; %HF_NO_SHAPE: none did. O(edges). */
GArray *hf_ring_makers(const HfSign *sign);
