/* SPDX-License-Identifier: GPL-3.0-or-later
 * kit-private.h - what the drawings share: rounded polygons, paths from tables, strokes, leaves.
 *
 * Each adds one contour, or two where it says so, counter-clockwise.
 */
#pragma once
#include "ornament/ornament.h"

typedef struct {
  HfOutline *own, *cuts, *bars; /* see ornament.h */
  gboolean opening;
  int points;
} HfPen;

/* A form: its row, and who draws it, in any size and place: drawn.c brings it to its box. */
typedef struct {
  HfOrnamentRow row;
  void (*draw)(HfPen *pen);
} HfOrnamentDrawn;

#define ORNAMENT(NAME, name, word, heard, about) extern const HfOrnamentDrawn hf_ornament_##name;
#include "ornament/ornaments.def"

/* A step of a path: L to a point, C by two controls to a point (x, y behind each other), A about a
 * centre (x, y), counter-clockwise or not as `way` says, to a point (x1, y1). */
typedef struct {
  char how; /* 'M', 'L', 'C', 'A'; 0 ends the path */
  double x[6];
} HfStep;

/** hf_kit_path: the path, closed. */
void hf_kit_path(HfOutline *own, const HfStep *steps);
/** hf_kit_half: the path from x = 0 to x = 0 on the right, and its mirror image on the left. */
void hf_kit_half(HfOutline *own, const HfStep *steps);
/** hf_kit_polygon: @n corners, each rounded by @radius, or as much as its sides allow. */
void hf_kit_polygon(HfOutline *own, const HfPoint *corner, guint n, double radius);
/** hf_kit_radii: the same, each corner with a radius of its own. */
void hf_kit_radii(HfOutline *own, const HfPoint *corner, const double *radius, guint n);
/** hf_kit_circle: a full circle, in one arc. */
void hf_kit_circle(HfOutline *own, double x, double y, double radius);
/** hf_kit_circle_hole: the same as an opening. */
void hf_kit_circle_hole(HfOutline *own, double x, double y, double radius);
/** hf_kit_bar: a straight strip with square ends. */
void hf_kit_bar(HfOutline *own, HfPoint from, HfPoint to, double width);
/** hf_kit_rod: the same with round ends. */
void hf_kit_rod(HfOutline *own, HfPoint from, HfPoint to, double width);
/** hf_kit_ellipse: half axes @a along @angle, and @b. */
void hf_kit_ellipse(HfOutline *own, HfPoint middle, double a, double b, double angle);

/** hf_kit_both: @half, drawn on the right, and its mirror image. */
void hf_kit_both(HfOutline *own, HfOutline *half);

/* A line with a width that changes along it. */
typedef struct {
  HfPoint (*at)(double t, gconstpointer data); /* t from 0 to 1 */
  double (*half)(double t, gconstpointer data);
  gconstpointer data;
  guint pieces; /* cubics a side */
} HfStroke;
/** hf_kit_stroke: round at both ends. */
void hf_kit_stroke(HfOutline *own, const HfStroke *stroke);
/** hf_kit_stroke_way: direction in which the line runs at @t. */
double hf_kit_stroke_way(const HfStroke *stroke, double t);

/** hf_kit_leaf: from its foot, @neck wide there, to its tip; @wide at its widest, bent by @bend of
 * its length to the left. */
void hf_kit_leaf(HfOutline *own, HfPoint foot, double angle, double length, double wide,
                 double neck, double bend);

/* (t from 0 to 1) a line whose bend grows evenly: from @from, in direction @way,
 * @length long, with a bend (rad a unit) from @k0 to @k1. */
typedef struct {
  HfPoint from;
  double way, length, k0, k1, half0, half1; /* half: half width at its ends, smoothly between */
} HfSpiral;
/** hf_kit_spiral_at: the point at @t. */
HfPoint hf_kit_spiral_at(double t, gconstpointer spiral);
/** hf_kit_spiral_half: half its width at @t. */
double hf_kit_spiral_half(double t, gconstpointer spiral);
/** hf_kit_spiral: draws it. Returns where it ends. */
HfPoint hf_kit_spiral(HfOutline *own, const HfSpiral *spiral);
