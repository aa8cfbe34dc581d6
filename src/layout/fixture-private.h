/* SPDX-License-Identifier: GPL-3.0-or-later
 * fixture-private.h - where ears, feet and stakes are seated on the edge of what carries them.
 */
#pragma once
#include "geom/region.h"
#include "layout/layout-private.h"

/* Own frame: 0, 0 on the edge, y leads away from the carrier. */
typedef struct {
  HfMatrix frame; /* from the own frame to the sign's: a turn and a move */
  double width;
  double bite;    /* how far the root is wanted below the edge */
  gboolean round; /* the root is an arc about `centre`, of `radius`; else a line at -depth */
  double depth, radius;
  HfPoint centre;
} HfSeat;

/**
 * hf_lay_seats:
 * @up: an ear (named ends of bars and plates: on the upper edge, flush with the end; a direction:
 *   outward). %FALSE: foot or stake (lower edge; always pointing down)
 * Returns: (transfer full) (element-type HfSeat) one for each `at`, or for the top (bottom) when
 *   nothing is said; frames and centre are filled. %NULL with the error.
 */
GArray *hf_lay_seats(HfLaying *laying, guint entry, double width, gboolean up, GError **error);

/** hf_seat_begin: begins a contour with the root, left to right, counter-clockwise.
 *  Returns: its right end; the contour is to be led back to x = -width / 2 and closed. */
HfPoint hf_seat_begin(const HfSeat *seat, HfOutline *own);

/** hf_seat_shape: places @own as a shape of @entry. Takes @label. Returns: its number. */
guint hf_seat_shape(HfLaying *laying, guint entry, guint copy, const HfSeat *seat,
                    const HfOutline *own, char *label, gboolean opening);
