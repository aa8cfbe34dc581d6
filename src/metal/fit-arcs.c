/* SPDX-License-Identifier: GPL-3.0-or-later
 * fit-arcs.c - one arc, or two with a common tangent, between two nodes of a smooth stretch.
 *
 *            _.-o-._ joint       tangents t0 and t1 of one length d meet in the common tangent:
 *         ,'         `.          d^2 (2 - 2 t0.t1) + 2 d c.(t0 + t1) - c.c = 0,  c = q - p
 *      p o t0       t1 o q       (biarcs: Bolton 1975, from memory)
 *
 * An arc is told by half its sweep, signed: 0 is a line, and nothing divides by it. Misfit is
 * measured both ways where a stretch has few nodes, the region from the arc and the arc from the
 * region; with many nodes the first alone binds the second. Exact but for rounding, about 1e-12 of
 * the chord. Limits: parallel tangents (a = 0) come out of the form 2c / (b + root) by itself; an
 * arc flatter than 0.02 um and 0.03 degrees is a line.
 */
#include "geom/index.h"
#include "metal/fit-private.h"

double
hf_fit_angle(HfPoint a, HfPoint b)
{
  return atan2(hf_point_cross(a, b), hf_point_dot(a, b));
}

void
hf_fit_arc_to(HfOutline *out, HfPoint pen, HfPoint p, double half)
{
  HfPoint chord = hf_point_sub(p, pen);
  double length = hf_point_length(chord);
  if (length == 0)
    return;
  if (fabs(half) * length / 4 < 2e-5 && fabs(half) < 5e-4) { /* 0.02 um, 0.03 degrees */
    hf_outline_line_to(out, p);
    return;
  }
  double up = 1 / (2 * tan(half)); /* centre over the chord's middle, in chords, to the left */
  HfPoint centre = {(pen.x + p.x) / 2 - chord.y * up, (pen.y + p.y) / 2 + chord.x * up};
  hf_outline_arc_to(out, centre, 2 * half, p);
}

static HfPoint
turned(HfPoint v, double angle)
{
  double c = cos(angle), s = sin(angle);
  return hf_point(c * v.x - s * v.y, s * v.x + c * v.y);
}

/* ---- how far off --------------------------------------------------------------------------- */

static HfPoint
on_region(const HfFitNode *node)
{
  return hf_point_mix(node->left, node->right, 0.5);
}

/* The region at every node and midway between two: k counts halves. */
static HfPoint
region_at(const HfFitNode *nodes, guint k)
{
  HfPoint p = on_region(&nodes[k / 2]);
  return k % 2 == 0 ? p : hf_point_mix(p, on_region(&nodes[k / 2 + 1]), 0.5);
}

/* Distance of @p from the whole circle, or line, of the arc a-b. */
static double
off_arc(HfPoint a, HfPoint b, double half, HfPoint p)
{
  HfPoint chord = hf_point_sub(b, a);
  if (fabs(half) < 1e-6)
    return fabs(hf_point_cross(chord, hf_point_sub(p, a))) / hf_point_length(chord);
  double up = 1 / (2 * tan(half));
  HfPoint centre = {a.x + chord.x / 2 - chord.y * up, a.y + chord.y / 2 + chord.x * up};
  return fabs(hf_point_distance(p, centre) - hf_point_distance(a, centre));
}

/* Distance of @p from the region between node i and node j. */
static double
off_region(const HfFitNode *nodes, guint i, guint j, HfPoint p)
{
  double least = INFINITY;
  for (guint k = i; k < j; k++) {
    HfPoint q = hf_segment_nearest(on_region(&nodes[k]), on_region(&nodes[k + 1]), p, NULL);
    least = MIN(least, hf_point_distance(p, q));
  }
  return least;
}

/* How far the arc a-b itself bows from the region, at its quarters. An arc point at part f of the
 * sweep lies L sin (f h) / sin h from a, in the direction of the chord turned by (f - 1) h. */
static double
bow(const HfFitNode *nodes, guint i, guint j, HfPoint a, HfPoint b, double half)
{
  HfPoint chord = hf_point_sub(b, a);
  double worst = 0;
  for (int quarter = 1; quarter < 4; quarter++) {
    double f = quarter / 4.0, reach = fabs(half) < 1e-6 ? f : sin(f * half) / sin(half);
    HfPoint p = hf_point_add(a, hf_point_scale(turned(chord, (f - 1) * half), reach));
    worst = MAX(worst, off_region(nodes, i, j, p));
  }
  return worst;
}

double
hf_fit_misfit(const HfFitNode *nodes, guint i, guint j, double half)
{
  double worst = 0;
  for (guint k = 2 * i + 1; k < 2 * j; k++)
    worst = MAX(worst, off_arc(nodes[i].at, nodes[j].at, half, region_at(nodes, k)));
  if (j - i <= 4) /* few nodes to hold it by */
    worst = MAX(worst, bow(nodes, i, j, nodes[i].at, nodes[j].at, half));
  return worst;
}

/* ---- two arcs ------------------------------------------------------------------------------ */

/* With tangent lengths d equal on both sides, d^2 (2 - 2 t0.t1) + 2 d c.(t0 + t1) - c.c = 0. */
static double
tangent_length(HfPoint chord, HfPoint t0, HfPoint t1)
{
  double a = 2 - 2 * hf_point_dot(t0, t1), b = 2 * hf_point_dot(chord, hf_point_add(t0, t1)),
         c = hf_point_dot(chord, chord);
  double root = sqrt(b * b + 4 * a * c);
  return b + root > 0 ? 2 * c / (b + root) : sqrt(c) / 2;
}

HfFitBiarc
hf_fit_biarc(const HfFitNode *nodes, guint i, guint j, double leave, double arrive)
{
  HfPoint p = nodes[i].at, q = nodes[j].at, t0 = turned(nodes[i].along, leave),
          t1 = turned(nodes[j].along, arrive);
  double d = tangent_length(hf_point_sub(q, p), t0, t1);
  HfPoint from = hf_point_add(p, hf_point_scale(t0, d)),
          to = hf_point_sub(q, hf_point_scale(t1, d));
  HfFitBiarc biarc = {.leave = leave, .joint = hf_point_mix(from, to, 0.5)};
  biarc.half[0] = hf_fit_angle(t0, hf_point_sub(biarc.joint, p));
  biarc.half[1] = hf_fit_angle(hf_point_sub(q, biarc.joint), t1);
  HfPoint across = hf_point_sub(to, from); /* the common tangent */
  biarc.off = MAX(bow(nodes, i, j, p, biarc.joint, biarc.half[0]),
                  bow(nodes, i, j, biarc.joint, q, biarc.half[1]));
  for (guint k = 2 * i + 1; k < 2 * j; k++) {
    HfPoint at = region_at(nodes, k);
    gboolean behind = hf_point_dot(hf_point_sub(at, biarc.joint), across) > 0;
    double off = behind ? off_arc(biarc.joint, q, biarc.half[1], at)
                        : off_arc(p, biarc.joint, biarc.half[0], at);
    biarc.off = MAX(biarc.off, off);
  }
  return biarc;
}
