/* SPDX-License-Identifier: GPL-3.0-or-later
 * border-ornaments.c - a border of one ornament again and again, each held by itself.
 *
 *    ^ ^ ^ ^ ^     As high as the border is wide, in the middle of it, tops to the edge. As many
 *    <       >     on a side, evenly, as leave a tie between neighbours, also where the line bends
 *    v v v v v     and their inner corners come nearer to each other.
 */
#include "layout/border-private.h"
#include "ornament/ornament.h"

#define APART 1.5 /* ties between two of them; a corner is kept free by as much */

/* Between two at s and s + each the line turns; how much nearer their inner corners are for it. */
static double
nearer_by(const HfTrack *way, double s, double each, double width)
{
  double here, there;
  hf_track_at(way, s, &here);
  hf_track_at(way, s + each, &there);
  return width / 2 * fabs(remainder(there - here, 2 * G_PI));
}

static gboolean
has_room(const HfTrack *way, double from, double each, int n, double wide, const HfLining *lining)
{
  for (int k = 0; k < n; k++)
    if (each - nearer_by(way, from + each * k, each, lining->own->width) <
        wide + APART * lining->tie)
      return FALSE;
  return TRUE;
}

static void
put(HfLining *lining, const HfOrnament *ornament, HfPoint at, double heading)
{
  double k = lining->own->width; /* the edge is on the right of the line */
  HfMatrix turned = hf_matrix_then(hf_matrix_scale(k, k), hf_matrix_turn(heading - G_PI));
  HfMatrix m = hf_matrix_then(turned, hf_matrix_move(at.x, at.y));
  hf_outline_append(lining->open, ornament->own, m);
  hf_outline_append(lining->open, ornament->cuts, m);
  hf_outline_append(lining->bars, ornament->bars, m);
}

/* Returns: how many. */
static int
fill_side(HfLining *lining, const HfTrack *way, const HfTrackSide *side, const HfOrnament *ornament)
{
  const HfBorderEntry *own = lining->own;
  double wide = hf_box_width(hf_outline_box(ornament->own)) * own->width;
  double spare = side->closed ? 0 : own->width + APART * lining->tie;
  double length = side->length - spare, pitch = wide + APART * lining->tie;
  int n = own->count > 0 ? (int)rint(own->count * side->length / way->length)
                         : (int)floor(length / pitch + 1e-9);
  while (n > 0 &&
         !has_room(way, side->from + spare / 2, length / n, side->closed ? n : n - 1, wide, lining))
    n--;
  if (n == 1 && wide > length)
    return 0;
  for (int k = 0; k < n; k++) {
    double heading, s = side->from + spare / 2 + length / n * (k + (side->closed ? 0 : 0.5));
    HfPoint at = hf_track_at(way, s, &heading);
    put(lining, ornament, at, heading);
  }
  return n;
}

gboolean
hf_border_ornaments(HfLining *lining, GError **error)
{
  const HfBorderEntry *own = lining->own;
  g_autoptr(HfOutline) line = hf_border_line(lining, own->inset + own->width / 2, error);
  if (line == NULL)
    return FALSE;
  g_autoptr(HfTrack) way = hf_track_new(line, 0);
  g_autoptr(HfOrnament) ornament = hf_ornament_new((HfOrnamentForm)own->of, TRUE, 0);
  int n = 0;
  for (guint i = 0; i < way->sides->len; i++)
    n += fill_side(lining, way, &g_array_index(way->sides, HfTrackSide, i), ornament);
  return n > 0 || hf_border_refuse(lining, error, "make the border less wide, or the plate larger",
                                   "no side of it has room for one ornament");
}
