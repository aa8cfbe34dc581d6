/* SPDX-License-Identifier: GPL-3.0-or-later
 * ring-names-private.h - what each contour of a sign is called when it is cut.
 */
#pragma once
#include "sign/sign.h"

/** hf_ring_names: (transfer full) (array zero-terminated=1) one for each ring of the metal:
 *  after the shape that made most of its edge: `letter 'B' of "BAKERY"`, `inside letter 'A' of
 *  "BAKERY"`, `between ring "inner" and ring "outer"`, `outside of plate "board"`. O(edges). */
char **hf_ring_names(const HfSign *sign);
