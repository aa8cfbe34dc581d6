/* SPDX-License-Identifier: GPL-3.0-or-later
 * parts-private.h - a part in the making, and what it is called.
 */
#pragma once
#include "hold/checks-private.h"

/* One shape's share in the boundary of a part. */
typedef struct {
  guint shape;
  double length; /* mm of boundary that it made */
} HfShare;

typedef struct {
  guint outer; /* its outer ring in the spliced region */
  double area;
  HfPoint moment; /* area times centroid */
  HfBox box;
  GArray *shares;    /* HfShare, the longest first */
  gboolean fragment; /* each shape of it, but what only holds, has a larger piece in another part */
  gboolean enclosed; /* lies in an opening of another part */
  gboolean touches;  /* joined at a point */
  double joint;      /* mm: the widest joint that counts as open; NAN: none */
} HfPiece;

/** hf_piece_name: (transfer full) `ring "outer" and 12 letters`, `a piece of letter 'i' of "Quay"`
 */
char *hf_piece_name(const HfCheck *check, const HfPiece *piece);

/** hf_check_only_holds: is @shape a bar or mending? They hold together what is named, and need no
 *  name in `alone` themselves. */
gboolean hf_check_only_holds(const HfCheck *check, const HfShape *shape);

/** hf_pieces_new: (transfer full) (element-type HfPiece) one for each outer ring of @region (the
 *  metal cut along check->cuts), the largest first. */
GArray *hf_pieces_new(const HfCheck *check, const HfRegion *region);
