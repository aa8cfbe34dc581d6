/* SPDX-License-Identifier: GPL-3.0-or-later
 * between.c - in the middle of what two entries leave free, or several that divide it evenly.
 *
 *      |TIDES|   *   |1902|       straight: the gap between their boxes, along the axis on which
 * they
 *            <-c-> <-c->          lie farther apart; on the other axis half way between their
 * middles
 *
 *        .-- T I D E S --.        in a band: the arcs that their ink leaves free about the rings'
 *       *                 *       centre; the ink's angles are those of the letters' true curves
 *        `-- 1 9 0 2 ----'
 *
 * n of them, each w wide, in a gap g leave the air c = (g - n w) / (n + 1) everywhere.
 * docs/maths.md#between
 */
#include "base/text.h"
#include "layout/group-private.h"
#include "layout/words-private.h"

#include <string.h>

gboolean
hf_lay_is_between(const HfEntry *entry)
{
  return entry->place.between != NULL && entry->place.between->len > 0;
}

static guint
copies_of(const HfEntry *entry)
{
  return (guint)MAX(entry->place.copies, 1);
}

static gboolean
refuse_room(HfLaying *laying, guint entry, const char *has, const char *wants, GError **error)
{
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM,
                       "move those apart, or take fewer or smaller ones",
                       "between those two there is room for %s, and %s takes %s", has,
                       hf_lay_entry(laying, entry)->name, wants);
}

/* ---- straight -----------------------------------------------------------------------------------
 */

static HfBox
named_box(const HfLaying *laying, const HfEntry *entry, guint i)
{
  return hf_lay_named(laying, (const char *)entry->place.between->pdata[i], NULL)->box;
}

gboolean
hf_lay_between(HfLaying *laying, guint entry, HfBox own, GArray *ret_points, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  if (e->place.between->len != 2)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "name two entries",
                         "what lies between is between two");
  HfBox a = named_box(laying, e, 0), b = named_box(laying, e, 1);
  double across = fmax(b.min.x - a.max.x, a.min.x - b.max.x);
  double up = fmax(b.min.y - a.max.y, a.min.y - b.max.y);
  gboolean level = across >= up;
  double gap = fmax(across, up), wide = level ? hf_box_width(own) : hf_box_height(own);
  guint n = copies_of(e);
  if (!(gap >= n * wide)) {
    g_autofree char *has = hf_text_mm(fmax(gap, 0)), *wants = hf_text_mm(n * wide);
    return refuse_room(laying, entry, has, wants, error);
  }
  double air = (gap - n * wide) / (n + 1);
  HfPoint middle = hf_point_mix(hf_box_centre(a), hf_box_centre(b), 0.5);
  double from = level ? fmin(a.max.x, b.max.x) : fmin(a.max.y, b.max.y);
  for (guint i = 0; i < n; i++) {
    double low = from + air + i * (air + wide);
    HfPoint at = level ? hf_point(low - own.min.x, middle.y - hf_box_centre(own).y)
                       : hf_point(middle.x - hf_box_centre(own).x, low - own.min.y);
    g_array_append_val(ret_points, at);
  }
  return TRUE;
}

/* ---- in a band
 * ----------------------------------------------------------------------------------- */

/* From which angle to which, counter-clockwise, the ink of an entry lies about @centre. */
static void
angles_of(const HfLaying *laying, guint entry, HfPoint centre, double *ret_from, double *ret_to)
{
  g_autoptr(GPtrArray) ink = hf_lay_ink(laying, entry);
  double near = 0;
  *ret_from = INFINITY;
  *ret_to = -INFINITY;
  for (guint i = 0; i < ink->len; i++) {
    const HfShape *shape = g_ptr_array_index(ink, i);
    g_autoptr(HfOutline) about = hf_outline_new();
    hf_outline_append(about, shape->outline, hf_matrix_move(-centre.x, -centre.y));
    HfPoint middle = hf_box_centre(hf_outline_box(about));
    double own = hf_angle_of(middle);
    near =
        i == 0 ? own : near + remainder(own - near, 2 * G_PI); /* unrolled from letter to letter */
    hf_arc_extent(about, near, ret_from, ret_to);
  }
}

static gboolean
divide(HfLaying *laying, guint entry, double from, double to, double wide, double radius,
       GArray *ret_angles, GError **error)
{
  guint n = copies_of(hf_lay_entry(laying, entry));
  double gap = to - from, air = (gap - n * wide) / (n + 1);
  if (!(air >= 0)) {
    g_autofree char *has = hf_text_mm(fmax(gap, 0) * radius);
    g_autofree char *wants = hf_text_mm(n * wide * radius);
    return refuse_room(laying, entry, has, wants, error);
  }
  for (guint i = 0; i < n; i++) {
    double at = from + air + wide / 2 + i * (air + wide);
    g_array_append_val(ret_angles, at);
  }
  return TRUE;
}

/* The free arcs of an arch: between two words, or beside one down to either foot. */
static guint
arcs_of_arch(const double *from, const double *to, guint n, double span, double (*ret_arcs)[2])
{
  double middle[2], low[2], high[2];
  for (guint i = 0; i < n; i++) { /* unrolled about the top */
    middle[i] = remainder((from[i] + to[i]) / 2 - G_PI_2, 2 * G_PI) + G_PI_2;
    low[i] = middle[i] - (to[i] - from[i]) / 2;
    high[i] = middle[i] + (to[i] - from[i]) / 2;
  }
  guint first = n == 2 && middle[1] < middle[0] ? 1 : 0;
  if (n == 2) {
    ret_arcs[0][0] = high[first];
    ret_arcs[0][1] = low[1 - first];
    return 1;
  }
  ret_arcs[0][0] = G_PI_2 - span;
  ret_arcs[0][1] = low[0];
  ret_arcs[1][0] = high[0];
  ret_arcs[1][1] = G_PI_2 + span;
  return 2;
}

/* Of a ring: from the end of each to the begin of the next. */
static guint
arcs_of_ring(const double *from, const double *to, guint n, double (*ret_arcs)[2])
{
  const double turn = 2 * G_PI;
  for (guint i = 0; i < n; i++) {
    ret_arcs[i][0] = to[i];
    ret_arcs[i][1] = to[i] + fmod(fmod(from[(i + 1) % n] - to[i], turn) + turn, turn);
  }
  return n;
}

gboolean
hf_lay_between_angles(HfLaying *laying, guint entry, HfFreeBand band, double wide,
                      GArray *ret_angles, GError **error)
{
  const GPtrArray *names = hf_lay_entry(laying, entry)->place.between;
  double from[2], to[2], arcs[2][2];
  if (names->len > 2)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "name one or two entries",
                         "what lies between is between two");
  for (guint i = 0; i < names->len; i++) {
    guint other;
    hf_lay_named(laying, (const char *)names->pdata[i], &other);
    angles_of(laying, other, band.centre, &from[i], &to[i]);
    if (!(from[i] <= to[i]))
      return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "name words in the band",
                           "\"%s\" has no ink", (const char *)names->pdata[i]);
  }
  guint n = band.span < G_PI ? arcs_of_arch(from, to, names->len, band.span, arcs)
                             : arcs_of_ring(from, to, names->len, arcs);
  for (guint i = 0; i < n; i++)
    if (!divide(laying, entry, arcs[i][0], arcs[i][1], wide / band.radius, band.radius, ret_angles,
                error))
      return FALSE;
  return TRUE;
}
