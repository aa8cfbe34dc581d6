/* SPDX-License-Identifier: GPL-3.0-or-later
 * picture-private.h - the sign on a cairo page: metal, marks and sizes, for picture and paper.
 *
 *          |<-- 900 mm -->|              sizes of the holes above, of the whole below and beside
 *          o    Saltmarsh (1)  _         (1): a ring at a finding's place, with its number
 *        ================== ___| 240
 *        |<--- 1200 mm --->|
 */
#pragma once
#include "out/pen-private.h"
#include "out/say-private.h"

/* From the sign's millimetres (y up) to the page's units (y down). */
typedef struct {
  double scale; /* page units to a millimetre */
  double x, y;  /* where the sign's origin comes to lie */
} HfView;

static inline HfPoint
hf_view_point(HfView view, HfPoint p)
{
  return hf_point(view.x + p.x * view.scale, view.y - p.y * view.scale);
}

/** hf_view_box: a box of the sign on the page; min is its upper left corner. */
HfBox hf_view_box(HfView view, HfBox box);

/** hf_view_centred: the view at @scale that brings the middle of @box to (@x, @y). */
HfView hf_view_centred(HfBox box, double scale, double x, double y);

/** hf_picture_path: the metal as cairo's path; fill it by the winding rule. */
void hf_picture_path(cairo_t *cr, const HfSign *what, HfView view);

/** hf_picture_layers: (behind.c) all sheets filled, what is behind in lighter tones, and
 *  hf_picture_hidden(). @line: width of a broken line. */
void hf_picture_layers(cairo_t *cr, const HfSign *what, HfView view, double line);
/** hf_picture_hidden: edges of what is behind that are hidden from the front, as broken lines. */
void hf_picture_hidden(cairo_t *cr, const HfSign *what, HfView view, double line);

/** hf_picture_region: adds the rings of @region to cairo's path. */
void hf_picture_region(cairo_t *cr, const HfRegion *region, HfView view);

/** hf_picture_burnt: (transfer full) (element-type HfRegion) what the arc burns off at each tip
 * that the hold check names, mm in the sign's frame; none: empty. Those so far when @cancel
 * (nullable) said stop. Two offsets of what is near some tip. */
GPtrArray *hf_picture_burnt(const HfSign *what, const HfCancel *cancel);
/** hf_picture_tips: draws that over the metal: gone, in the colour of its @ground, with a broken
 * line @line wide round it. */
void hf_picture_tips(const HfPen *pen, const HfSign *what, HfView view, double line, guint ground,
                     const HfCancel *cancel);

/** hf_picture_studs: a broken ring and a cross for each stud behind the metal, @line wide. */
void hf_picture_studs(const HfPen *pen, const HfSign *what, HfView view, double line);

/** hf_picture_sizes: overall width below and height to the right, the spread of the hanging holes
 *  above where there are two or more. @size: of the figures; @gap: from the metal to the lines;
 *  @wall: (nullable) that they stand on: else paper. */
void hf_picture_sizes(const HfPen *pen, const HfSign *what, HfView view, double size, double gap,
                      const HfWall *wall);
/** hf_picture_sizes_room: how far hf_picture_sizes() reaches beyond the metal. */
double hf_picture_sizes_room(double size, double gap);

/** hf_picture_sizes_boxes: the three places that hf_picture_sizes() draws in. */
enum { HF_SIZES_BOXES = 3 };
void hf_picture_sizes_boxes(const HfSign *what, HfView view, double size, double gap,
                            HfBox ret_boxes[HF_SIZES_BOXES]);

/** hf_picture_marks: rings with numbers at the places of stops and cautions; rings and numbers stay
 *  inside @room and off the @n_kept boxes of @kept, if they can. Stop: a whole ring, number on the
 * accent; caution: a broken ring; accepted: a dotted one in ink. Those so far when @cancel
 * (nullable) said stop. Cost: the marks that lie near one another. */
void hf_picture_marks(const HfPen *pen, const HfSign *what, HfView view, HfBox room,
                      const HfBox *kept, guint n_kept, double size, const HfCancel *cancel);

/** hf_picture_badge: the number of a finding as its rings carry it. */
void hf_picture_badge(const HfPen *pen, const HfFinding *finding, guint number, HfPoint at,
                      double size);
