/* SPDX-License-Identifier: GPL-3.0-or-later
 * shore.c - anchor, wave, fish, bird, rope knot, mountains.
 */
#include "ornament/kit-private.h"

static void
draw_anchor(HfPen *pen)
{
  static const HfStep arms[] = {{'M', {0, -1.05}},
                                {'C', {0.10, -0.93, 0.18, -0.91, 0.30, -0.86}},
                                {'C', {0.56, -0.74, 0.72, -0.52, 0.775, -0.26}},
                                {'L', {0.90, -0.31}},
                                {'C', {0.82, -0.16, 0.76, -0.02, 0.735, 0.13}},
                                {'C', {0.66, 0.0, 0.56, -0.10, 0.43, -0.17}},
                                {'L', {0.58, -0.215}},
                                {'C', {0.52, -0.46, 0.36, -0.62, 0.08, -0.68}},
                                {'L', {0, -0.68}},
                                {0}};
  static const HfStep shank[] = {{'M', {0, -0.9}},
                                 {'L', {0.10, -0.9}},
                                 {'C', {0.085, -0.3, 0.075, 0.1, 0.075, 0.78}},
                                 {'L', {0, 0.78}},
                                 {0}};
  hf_kit_half(pen->own, arms);
  hf_kit_half(pen->own, shank);
  hf_kit_rod(pen->own, hf_point(-0.40, 0.46), hf_point(0.40, 0.46), 0.13);
  hf_kit_circle(pen->own, -0.44, 0.46, 0.10);
  hf_kit_circle(pen->own, 0.44, 0.46, 0.10);
  hf_kit_circle(pen->own, 0, 0.90, 0.24);
  if (pen->opening)
    hf_kit_bar(pen->bars, hf_point(0, 0.90), hf_point(0, 1.2), 0.10);
  hf_kit_circle_hole(pen->own, 0, 0.90, 0.115);
}

const HfOrnamentDrawn hf_ornament_anchor = {
    {0, 0, 0, {0.0564, INFINITY, 0.0518}, {0.0541, 0.0571, 0.0778}}, draw_anchor};

/* Breaking crests on a strip, one like the other. */
static void
draw_wave(HfPen *pen)
{
  static const HfStep crest[] = {
      {'C', {0.26, 0.02, 0.36, 0.24, 0.42, 0.40}}, {'C', {0.50, 0.62, 0.66, 0.70, 0.82, 0.66}},
      {'C', {0.98, 0.61, 1.05, 0.44, 0.98, 0.31}}, {'C', {0.95, 0.25, 0.87, 0.22, 0.81, 0.26}},
      {'C', {0.87, 0.30, 0.87, 0.40, 0.80, 0.44}}, {'C', {0.70, 0.49, 0.62, 0.38, 0.64, 0.26}},
      {'C', {0.67, 0.10, 0.84, 0.01, 1.02, 0.0}},  {0}};
  int n = pen->points;
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_begin(own, hf_point(0, -0.22));
  hf_outline_line_to(own, hf_point(0, 0.0));
  for (int i = 0; i < n; i++)
    for (const HfStep *step = crest; step->how != 0; step++) {
      const double *x = step->x;
      double by = 1.02 * i;
      hf_outline_cubic_to(own, hf_point(by + x[0], x[1]), hf_point(by + x[2], x[3]),
                          hf_point(by + x[4], x[5]));
    }
  hf_outline_line_to(own, hf_point(1.02 * n, -0.22));
  hf_outline_close(own);
  hf_outline_reverse(own);
  hf_outline_append(pen->own, own, HF_MATRIX_IDENTITY);
}

const HfOrnamentDrawn hf_ornament_wave = {
    {3, 1, 24, {0.2276, 0.1808, INFINITY}, {0.2142, 0.2400, 0.2667}}, draw_wave};

/* Swims to the left. The gill is a slit in metal, and a strip of metal across an opening. */
static void
draw_fish(HfPen *pen)
{
  static const HfStep body[] = {{'M', {-1.10, -0.02}},
                                {'C', {-0.88, 0.26, -0.52, 0.42, -0.14, 0.42}},
                                {'C', {0.20, 0.42, 0.48, 0.24, 0.68, 0.085}},
                                {'C', {0.84, 0.16, 0.98, 0.30, 1.16, 0.44}},
                                {'C', {1.04, 0.12, 1.04, -0.12, 1.16, -0.44}},
                                {'C', {0.98, -0.30, 0.84, -0.16, 0.68, -0.085}},
                                {'C', {0.48, -0.24, 0.20, -0.40, -0.14, -0.40}},
                                {'C', {-0.52, -0.40, -0.88, -0.26, -1.10, -0.02}},
                                {0}};
  static const HfStep back_fin[] = {{'M', {-0.34, 0.36}},
                                    {'C', {-0.22, 0.52, -0.02, 0.62, 0.22, 0.60}},
                                    {'C', {0.16, 0.52, 0.17, 0.42, 0.26, 0.28}},
                                    {0}};
  static const HfStep belly_fin[] = {{'M', {-0.24, -0.34}},
                                     {'C', {-0.16, -0.48, -0.02, -0.56, 0.12, -0.57}},
                                     {'C', {0.07, -0.48, 0.08, -0.40, 0.14, -0.30}},
                                     {0}};
  static const HfSpiral gill = {{-0.62, 0.20}, -1.0, 0.44, -1.6, -1.6, 0.034, 0.034};
  static const HfSpiral collar = {{-0.66, 0.52}, -1.03, 1.06, -1.05, -1.05, 0.05, 0.05};
  hf_kit_path(pen->own, body);
  hf_kit_path(pen->own, back_fin);
  hf_kit_path(pen->own, belly_fin);
  if (pen->opening) {
    hf_kit_spiral(pen->bars, &collar);
    return;
  }
  hf_kit_spiral(pen->cuts, &gill);
  hf_kit_circle(pen->cuts, -0.82, 0.085, 0.058);
}

const HfOrnamentDrawn hf_ornament_fish = {
    {0, 0, 0, {0.0624, INFINITY, 0.0288}, {0.0845, INFINITY, INFINITY}}, draw_fish};

/* A swallow seen from above. */
static void
draw_bird(HfPen *pen)
{
  static const HfStep half[] = {{'M', {0, -0.44}},
                                {'C', {0.09, -0.60, 0.20, -0.84, 0.33, -1.06}},
                                {'C', {0.31, -0.78, 0.25, -0.46, 0.17, -0.16}},
                                {'C', {0.42, -0.02, 0.82, -0.10, 1.34, -0.52}},
                                {'C', {1.18, -0.06, 0.86, 0.34, 0.50, 0.44}},
                                {'C', {0.36, 0.48, 0.22, 0.46, 0.13, 0.50}},
                                {'C', {0.13, 0.64, 0.09, 0.76, 0, 0.90}},
                                {0}};
  hf_kit_half(pen->own, half);
}

const HfOrnamentDrawn hf_ornament_bird = {
    {0, 0, 0, {0.2057, INFINITY, INFINITY}, {INFINITY, 0.1737, 0.1853}}, draw_bird};

/* Three peaks; a zigzag snow line is cut into the highest two. */
static void
draw_mountains(HfPen *pen)
{
  static const HfPoint ridge[] = {{-1.70, 0},   {-0.86, 0.86}, {-0.46, 0.48}, {0.16, 1.24},
                                  {0.66, 0.62}, {0.98, 0.90},  {1.80, 0}};
  static const double round[] = {0.03, 0.03, 0, 0.03, 0, 0.03, 0.03};
  hf_kit_radii(pen->own, ridge, round, 7);
  static const HfPoint high[] = {{-0.16, 0.70}, {0.02, 0.84}, {0.14, 0.66}, {0.28, 0.84},
                                 {0.44, 0.74},  {0.44, 0.66}, {0.28, 0.72}, {0.14, 0.54},
                                 {0.02, 0.72},  {-0.16, 0.62}};
  static const HfPoint wide[] = {{-0.42, 0.66}, {-0.06, 0.86}, {0.14, 0.64}, {0.29, 0.86},
                                 {0.66, 0.75},  {0.66, 0.64},  {0.29, 0.74}, {0.14, 0.50},
                                 {-0.06, 0.74}, {-0.42, 0.55}};
  if (pen->opening)
    hf_kit_polygon(pen->bars, wide, 10, 0.01);
  else
    hf_kit_polygon(pen->cuts, high, 10, 0.02);
}

const HfOrnamentDrawn hf_ornament_mountains = {
    {0, 0, 0, {0.0917, 0.0537, 0.0433}, {0.0640, INFINITY, INFINITY}}, draw_mountains};

/* ---- rope knot: a reef knot ------------------------------------------------------------------
 *
 *   ====.   .-----.  .====      Two bights, each through the other; half a turn of the whole brings
 *        \ /       \/           one onto the other. Where they cross, one goes under: there it is
 *        / \       /\           notched from both sides along the upper one, and a web between the
 *   ===='   '-----'  '====      notches holds. Cut through, whole strips of metal part them.
 */
typedef struct {
  double side; /* +1: its bight lies to the right */
} Rope;

#define ROPE     0.13  /* half its width */
#define ROPE_GAP 0.075 /* of a notch */
enum { ROPE_KNOTS = 13 };

/* Catmull-Rom through points of the upper leg, the bight and the lower leg. */
static HfPoint
rope_at(double t, gconstpointer data)
{
  static const HfPoint through[ROPE_KNOTS + 2] = {
      {-2.2, 0.20},   {-1.70, 0.20},  {-1.24, 0.20},  {-0.72, 0.21},  {-0.22, 0.33},
      {0.26, 0.51},   {0.70, 0.43},   {0.90, 0},      {0.70, -0.43},  {0.26, -0.51},
      {-0.22, -0.33}, {-0.72, -0.21}, {-1.24, -0.20}, {-1.70, -0.20}, {-2.2, -0.20}};
  const Rope *rope = (const Rope *)data;
  double u = t * (ROPE_KNOTS - 1);
  int i = CLAMP((int)floor(u), 0, ROPE_KNOTS - 2);
  double s = u - i, w[] = {((2 - s) * s - 1) * s / 2, ((3 * s - 5) * s * s + 2) / 2,
                           ((4 - 3 * s) * s + 1) * s / 2, (s - 1) * s * s / 2};
  HfPoint p = {0, 0};
  for (int k = 0; k < 4; k++)
    p = hf_point_add(p, hf_point_scale(through[i + k], w[k]));
  return hf_point(rope->side * p.x, rope->side * p.y);
}

static double
rope_half(double t, gconstpointer data)
{
  (void)t, (void)data;
  return ROPE;
}

/* From near @t, @u on: where the two lines cross, by Newton. */
static void
rope_crossing(const Rope *a, const Rope *b, double *t, double *u)
{
  const double h = 1e-6;
  for (int i = 0; i < 30; i++) {
    HfPoint d = hf_point_sub(rope_at(*u, b), rope_at(*t, a));
    HfPoint va = hf_point_scale(hf_point_sub(rope_at(*t + h, a), rope_at(*t - h, a)), 0.5 / h);
    HfPoint vb = hf_point_scale(hf_point_sub(rope_at(*u + h, b), rope_at(*u - h, b)), 0.5 / h);
    double det = hf_point_cross(va, vb);
    *t = CLAMP(*t + hf_point_cross(d, vb) / det, 0, 1);
    *u = CLAMP(*u + hf_point_cross(d, va) / det, 0, 1);
  }
}

/* A strip beside a rope. */
typedef struct {
  const Rope *rope;
  double from, to, side; /* of the rope's t; side: +1 to its left */
} RopeGap;

static HfPoint
gap_at(double t, gconstpointer data)
{
  const RopeGap *gap = (const RopeGap *)data;
  HfStroke line = {rope_at, rope_half, gap->rope, 0};
  double u = gap->from + t * (gap->to - gap->from);
  double way = hf_kit_stroke_way(&line, u) + gap->side * G_PI_2;
  return hf_point_polar(rope_at(u, gap->rope), ROPE + ROPE_GAP / 2, way);
}

static double
gap_half(double t, gconstpointer data)
{
  (void)t, (void)data;
  return ROPE_GAP / 2;
}

/* How far @p is from the line of @rope near its @u. */
static double
off_rope(HfPoint p, const Rope *rope, double u)
{
  double least = INFINITY;
  for (int i = -40; i <= 40; i++)
    least = MIN(least, hf_point_distance(p, rope_at(u + i * 0.0018, rope)));
  return least;
}

/* Is there air at @t of the strip? */
static gboolean
is_open(const RopeGap *gap, double t)
{
  HfPoint p = gap_at(t, gap);
  for (int i = 0; i <= 200; i++)
    for (int side = -1; side <= 1; side += 2)
      if (hf_point_distance(p, rope_at(i / 200.0, &(Rope){side})) < ROPE + 0.01)
        return FALSE;
  return TRUE;
}

/* Along both edges of the upper rope, across the lower one: as metal from where there is air up to
 * a web at the lower rope's other edge; cut through, across all of it. */
static void
rope_gaps(HfPen *pen, const Rope *upper, double t, const Rope *lower, double u)
{
  const double web = pen->opening ? -0.03 : 0.10, most = 0.075, step = 0.002;
  for (int side = -1; side <= 1; side += 2) {
    RopeGap gap = {upper, t - most, t + most, side};
    double first = NAN, last = NAN;
    for (double at = 0; at <= 1; at += step)
      if (off_rope(gap_at(at, &gap), lower, u) < ROPE) {
        first = isnan(first) ? at : first;
        last = at;
      }
    double speed = hf_point_distance(gap_at(last, &gap), gap_at(first, &gap)) / (last - first);
    double out = 0.04 / speed, in = (web + ROPE_GAP / 2) / speed;
    HfPoint low = gap_at(first, &gap), high = gap_at(last, &gap);
    gboolean from_first = is_open(&gap, first - 1.5 * out),
             from_last = is_open(&gap, last + 1.5 * out);
    if (!pen->opening && from_first && from_last) {
      from_first = fabs(low.y) > fabs(high.y);
      from_last = !from_first;
    }
    if (!pen->opening && fabs(low.y + high.y) < 0.2)
      continue; /* between the legs there is too little of the lower rope to be cut */
    double a = from_first ? first - out : first + in, b = from_last ? last + out : last - in;
    RopeGap cut = {upper, gap.from + a * 2 * most, gap.from + b * 2 * most, side};
    HfStroke strip = {gap_at, gap_half, &cut, 4};
    hf_kit_stroke(pen->opening ? pen->bars : pen->cuts, &strip);
  }
}

static void
draw_knot(HfPen *pen)
{
  const Rope right = {1}, left = {-1};
  const HfStroke ropes[] = {{rope_at, rope_half, &right, 24}, {rope_at, rope_half, &left, 24}};
  hf_kit_stroke(pen->own, &ropes[0]);
  hf_kit_stroke(pen->own, &ropes[1]);
  static const struct {
    double t, u; /* near which they cross, on the right and on the left rope */
    gboolean right_is_over;
  } near[] = {{0.20, 0.46, TRUE},  {0.80, 0.54, TRUE}, {0.34, 0.66, FALSE},
              {0.66, 0.34, FALSE}, {0.46, 0.20, TRUE}, {0.54, 0.80, TRUE}};
  for (guint i = 0; i < G_N_ELEMENTS(near); i++) {
    double t = near[i].t, u = near[i].u;
    rope_crossing(&right, &left, &t, &u);
    if (near[i].right_is_over)
      rope_gaps(pen, &right, t, &left, u);
    else
      rope_gaps(pen, &left, u, &right, t);
  }
}

const HfOrnamentDrawn hf_ornament_knot = {
    {0, 0, 0, {0.0898, 0.0571, INFINITY}, {0.0567, 0.0254, INFINITY}}, draw_knot};
