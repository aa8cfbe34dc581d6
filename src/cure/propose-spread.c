/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-spread.c - letters of an arc on another radius: how far apart they must be set.
 *
 *      A  B  C  along an arc of r become an arc of R: each keeps its length along it, so its angle
 *     /   |   \\ off the middle becomes r / R of what it was, and it goes out by R - r. What is set
 *                s further apart turns by s / R more for each letter off the middle.
 */
#include "cure/propose-private.h"

static const double COARSE = 0.1;   /* mm, of the letters' chords */
static const double STEP = 0.5;     /* mm of spacing */
static const double FARTHEST = 0.5; /* letter heights */
static const double SPACE = 0.7;    /* letter heights: no neighbours, a space */

typedef struct {
  GPtrArray *letters; /* const HfShape *, in visual order */
  HfPoint centre;
  double radius, wanted;
  double middle; /* angle of the words' middle */
  GArray *off;   /* double: angle of each letter's middle from it */
} Arc;

/* Where the letter stands on the arc: its top points straight out, or straight in. */
static double
angle_of(const Arc *arc, const HfShape *letter)
{
  HfPoint up = {letter->em.xy, letter->em.yy};
  HfPoint at = hf_point_sub(hf_box_centre(hf_outline_box(letter->outline)), arc->centre);
  return hf_angle_of(hf_point_dot(up, at) > 0 ? up : hf_point_scale(up, -1));
}

/* Angles are told from the first letter on, so that none wraps between two neighbours. */
static void
measure(Arc *arc)
{
  double at = angle_of(arc, arc->letters->pdata[0]);
  double first = at;
  for (guint i = 0; i < arc->letters->len; i++) {
    double here = angle_of(arc, arc->letters->pdata[i]);
    at += remainder(here - at, 2 * G_PI);
    g_array_append_val(arc->off, at);
  }
  arc->middle = (first + at) / 2;
  for (guint i = 0; i < arc->off->len; i++)
    g_array_index(arc->off, double, i) -= arc->middle;
}

/* Letter @i on the new arc, its words set @apart mm further apart. */
static HfRegion *
on_arc(const Arc *arc, guint i, double apart)
{
  const HfShape *letter = arc->letters->pdata[i];
  guint n = arc->letters->len;
  double off = g_array_index(arc->off, double, i);
  double way = g_array_index(arc->off, double, n - 1) < 0 ? -1 : 1;
  double then = off * arc->radius / arc->wanted + way * (i - (n - 1) / 2.0) * apart / arc->wanted;
  HfPoint out = hf_point_scale(hf_point(cos(arc->middle + off), sin(arc->middle + off)),
                               arc->wanted - arc->radius);
  HfMatrix about = hf_matrix_then(hf_matrix_move(out.x - arc->centre.x, out.y - arc->centre.y),
                                  hf_matrix_turn(then - off));
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_append(outline, letter->outline, about);
  return hf_region_of_outline(outline, 0, COARSE);
}

static gboolean
keeps(const Arc *arc, double apart, double web)
{
  g_autoptr(HfRegion) last = NULL;
  double most = SPACE * ((const HfShape *)arc->letters->pdata[0])->letter_height;
  for (guint i = 0; i < arc->letters->len; i++) {
    g_autoptr(HfRegion) own = on_arc(arc, i, apart);
    double gap = last != NULL ? hf_proposing_gap(last, own) : INFINITY;
    if (gap < fmin(web, most))
      return FALSE;
    hf_region_free(last);
    last = g_steal_pointer(&own);
  }
  return TRUE;
}

static void
gather(const HfProposing *asked, guint words, GPtrArray *letters)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry == words && shape->letter >= 0 && shape->copy == 0)
      g_ptr_array_add(letters, (gpointer)shape);
  }
}

double
hf_proposing_spread(const HfProposing *asked, guint words, HfPoint centre, double radius,
                    double wanted, double web)
{
  g_autoptr(GPtrArray) letters = g_ptr_array_new();
  g_autoptr(GArray) off = g_array_new(FALSE, FALSE, sizeof(double));
  gather(asked, words, letters);
  if (letters->len < 2)
    return 0;
  Arc arc = {letters, centre, radius, wanted, 0, off};
  measure(&arc);
  double most = FARTHEST * ((const HfShape *)letters->pdata[0])->letter_height;
  for (double apart = 0; apart <= most && hf_cancel_check(asked->cancel, NULL); apart += STEP)
    if (keeps(&arc, apart, web))
      return apart;
  return NAN;
}
