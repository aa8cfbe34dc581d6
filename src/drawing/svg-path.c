/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-path.c - path data and lists of points: SVG 1.1, 8.3 and 9.7; arcs by appendix F.6.
 *
 * What stands before a mistake is drawn (F.2).
 */
#include "drawing/svg-private.h"
#include <string.h>

typedef struct {
  const char *p;
  HfLinework *lines;
  HfPoint pen, start;
  HfPoint control; /* of the last curve, for S and T to mirror */
  char last;       /* the last command, upper case */
} Path;

static gboolean
scan(Path *path, double *ret)
{
  if (!hf_svg_number(&path->p, ret))
    return FALSE;
  hf_svg_comma(&path->p);
  return isfinite(*ret);
}

static gboolean
scan_flag(Path *path, gboolean *ret)
{
  if (*path->p != '0' && *path->p != '1')
    return FALSE;
  *ret = *path->p++ == '1';
  hf_svg_comma(&path->p);
  return TRUE;
}

/* @n points, relative to the pen where @relative. */
static gboolean
scan_points(Path *path, gboolean relative, HfPoint *ret, int n)
{
  for (int i = 0; i < n; i++) {
    if (!scan(path, &ret[i].x) || !scan(path, &ret[i].y))
      return FALSE;
    if (relative)
      ret[i] = hf_point_add(ret[i], path->pen);
  }
  return TRUE;
}

static HfPoint
mirrored(const Path *path, const char *kinds)
{
  gboolean after = path->last != '\0' && strchr(kinds, path->last) != NULL;
  return after ? hf_point_sub(hf_point_scale(path->pen, 2), path->control) : path->pen;
}

static gboolean
move(Path *path, gboolean relative)
{
  HfPoint p;
  if (!scan_points(path, relative, &p, 1))
    return FALSE;
  hf_linework_begin(path->lines, p);
  path->pen = path->start = p;
  return TRUE;
}

static gboolean
line(Path *path, gboolean relative)
{
  HfPoint p;
  if (!scan_points(path, relative, &p, 1))
    return FALSE;
  hf_linework_line(path->lines, p);
  path->pen = p;
  return TRUE;
}

/* To where one coordinate of the pen is another. */
static gboolean
straight(Path *path, gboolean relative, double *coordinate)
{
  double to;
  if (!scan(path, &to))
    return FALSE;
  *coordinate = relative ? *coordinate + to : to;
  hf_linework_line(path->lines, path->pen);
  return TRUE;
}

static gboolean
level(Path *path, gboolean relative)
{
  return straight(path, relative, &path->pen.x);
}

static gboolean
upright(Path *path, gboolean relative)
{
  return straight(path, relative, &path->pen.y);
}

static gboolean
cubic(Path *path, gboolean relative)
{
  HfPoint p[3];
  if (!scan_points(path, relative, p, 3))
    return FALSE;
  hf_linework_cubic(path->lines, p[0], p[1], p[2]);
  path->control = p[1];
  path->pen = p[2];
  return TRUE;
}

static gboolean
smooth_cubic(Path *path, gboolean relative)
{
  HfPoint p[2], first = mirrored(path, "CS");
  if (!scan_points(path, relative, p, 2))
    return FALSE;
  hf_linework_cubic(path->lines, first, p[0], p[1]);
  path->control = p[0];
  path->pen = p[1];
  return TRUE;
}

static gboolean
quad(Path *path, gboolean relative)
{
  HfPoint p[2];
  if (!scan_points(path, relative, p, 2))
    return FALSE;
  hf_linework_quad(path->lines, p[0], p[1]);
  path->control = p[0];
  path->pen = p[1];
  return TRUE;
}

static gboolean
smooth_quad(Path *path, gboolean relative)
{
  HfPoint p, control = mirrored(path, "QT");
  if (!scan_points(path, relative, &p, 1))
    return FALSE;
  hf_linework_quad(path->lines, control, p);
  path->control = control;
  path->pen = p;
  return TRUE;
}

/* F.6.5: the centre from the ends, in the frame of the ellipse as a unit circle. */
static void
draw_arc(Path *path, HfPoint axes, double tilt, gboolean large, gboolean sweeps, HfPoint p)
{
  HfMatrix m = hf_matrix_then(hf_matrix_scale(axes.x, axes.y), hf_matrix_turn(tilt));
  HfPoint a = hf_matrix_undo(m, path->pen), b = hf_matrix_undo(m, p);
  HfPoint half = hf_point_scale(hf_point_sub(b, a), 0.5), middle = hf_point_mix(a, b, 0.5);
  double square = hf_point_dot(half, half);
  if (square > 1) { /* F.6.6: too small, so just large enough */
    double k = sqrt(square);
    draw_arc(path, hf_point_scale(axes, k * (1 + 1e-15)), tilt, large, sweeps, p);
    return;
  }
  double away = sqrt(MAX(0, 1 / square - 1)) * (large == sweeps ? -1 : 1);
  HfPoint centre = hf_point_add(middle, hf_point(-half.y * away, half.x * away));
  centre = square > 1 - 1e-14 ? middle : centre;
  double from = hf_angle_of(hf_point_sub(a, centre)), to = hf_angle_of(hf_point_sub(b, centre));
  double sweep = to - from;
  if (sweeps && sweep < 0)
    sweep += 2 * G_PI;
  else if (!sweeps && sweep > 0)
    sweep -= 2 * G_PI;
  hf_linework_turn(path->lines, hf_matrix_apply(m, centre), axes, tilt, from, sweep, p);
}

static gboolean
arc(Path *path, gboolean relative)
{
  HfPoint axes, p;
  double tilt;
  gboolean large, sweeps;
  if (!scan(path, &axes.x) || !scan(path, &axes.y) || !scan(path, &tilt) ||
      !scan_flag(path, &large) || !scan_flag(path, &sweeps) || !scan_points(path, relative, &p, 1))
    return FALSE;
  axes = hf_point(fabs(axes.x), fabs(axes.y));
  double apart = hypot(p.x - path->pen.x, p.y - path->pen.y);
  if (apart == 0 || axes.x < 1e-9 * apart || axes.y < 1e-9 * apart)
    hf_linework_line(path->lines, p); /* F.6.2 */
  else
    draw_arc(path, axes, axes.x == axes.y ? 0 : tilt * G_PI / 180, large, sweeps, p);
  path->pen = p;
  return TRUE;
}

static const struct {
  char letter;
  gboolean (*draw)(Path *path, gboolean relative);
} commands[] = {{'M', move},         {'L', line}, {'H', level},       {'V', upright}, {'C', cubic},
                {'S', smooth_cubic}, {'Q', quad}, {'T', smooth_quad}, {'A', arc}};

static gboolean
starts_number(char c)
{
  return g_ascii_isdigit(c) || c == '.' || c == '-' || c == '+';
}

/* One letter and all the groups of numbers behind it. */
static gboolean
draw_command(Path *path, char letter)
{
  char upper = g_ascii_toupper(letter);
  gboolean relative = letter != upper;
  for (guint i = 0; i < G_N_ELEMENTS(commands); i++) {
    if (commands[i].letter != upper)
      continue;
    do {
      if (!commands[i].draw(path, relative))
        return FALSE;
      path->last = upper;
      if (upper == 'M') /* F.2: more pairs are lines */
        return starts_number(*path->p) ? draw_command(path, relative ? 'l' : 'L') : TRUE;
    } while (starts_number(*path->p));
    return TRUE;
  }
  return FALSE;
}

gboolean
hf_svg_path(const char *data, HfLinework *lines)
{
  Path path = {.p = data, .lines = lines};
  gboolean fine = TRUE;
  hf_svg_space(&path.p);
  while (*path.p != '\0' && fine) {
    char letter = *path.p++;
    hf_svg_space(&path.p);
    if (path.last == '\0' && letter != 'M' && letter != 'm') {
      fine = FALSE;
    } else if (letter == 'Z' || letter == 'z') {
      hf_linework_close(lines);
      path.pen = path.start;
      path.last = 'Z';
    } else {
      fine = draw_command(&path, letter);
    }
  }
  hf_linework_end(lines);
  return fine;
}

gboolean
hf_svg_points(const char *data, gboolean closed, HfLinework *lines)
{
  Path path = {.p = data, .lines = lines};
  HfPoint p;
  guint n = 0;
  hf_svg_space(&path.p);
  while (*path.p != '\0' && scan_points(&path, FALSE, &p, 1))
    if (n++ == 0)
      hf_linework_begin(lines, p);
    else
      hf_linework_line(lines, p);
  if (closed && n > 0)
    hf_linework_close(lines);
  hf_linework_end(lines);
  return *path.p == '\0';
}
