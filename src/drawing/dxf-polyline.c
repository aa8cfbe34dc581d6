/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-polyline.c - polylines: vertices joined by lines and bulges, some with a width.
 *
 *       ___________            A width makes each segment a painted shape of its own: straight,
 * with |     |    /\           ends square to it; bent, between two arcs. Where two straight or
 * bent o-----o---'  |          ones meet at a corner the wedge outside it is filled up to where
 *      |_____|      |          their borders meet. Together, by the non-zero rule, they are the
 *            |__.--'           polyline.
 *
 * A bent segment whose width changes has borders that are no arcs: lines of at most 1/256 of a
 * turn. Vertices of POLYLINE are records of their own, up to SEQEND; those of LWPOLYLINE pairs of
 * its own. A frame of control points (16) that only steers a smoothed polyline is not drawn.
 */
#include "drawing/dxf-private.h"

typedef struct {
  double x, y, z, bulge;
  double width[2]; /* of the segment that it begins: at its start, at its end */
} Vertex;

typedef struct {
  GArray *at; /* Vertex */
  gboolean closed, flat;
} Polyline;

enum { CLOSED = 1, SPACIAL = 8, MESH = 16, FACES = 64 };
enum { CONTROL_POINT = 16 };

static guint
n_segments(const Polyline *line)
{
  guint n = line->at->len;
  return n < 2 ? 0 : line->closed ? n : n - 1;
}

static Vertex
vertex(const Polyline *line, guint i)
{
  return g_array_index(line->at, Vertex, i % line->at->len);
}

static HfPoint
place(Vertex v)
{
  return hf_point(v.x, v.y);
}

/* ---- with a width ---------------------------------------------------------------------------- */

static HfPoint
heading(const HfCurve *curve, double t)
{
  HfPoint d = hf_curve_derivative(curve, t);
  double length = hf_point_length(d);
  return hf_point_scale(d, length > 0 ? 1 / length : 0);
}

/* @by to the left of the curve at @t. */
static HfPoint
beside(const HfCurve *curve, double t, double by)
{
  HfPoint p = hf_curve_point(curve, t), d = heading(curve, t);
  return hf_point(p.x - d.y * by, p.y + d.x * by);
}

/* One border of a bent segment, from t0 to t1, half widths @h0 and @h1 to the left. */
static void
add_border(GArray *run, const HfCurve *arc, double t0, double h0, double h1)
{
  double t1 = 1 - t0, radius = hf_curve_radius(arc), left = arc->sweep > 0 ? h0 : -h0;
  if (h0 == h1 && left < radius) {
    HfCurve border = {.kind = HF_CURVE_ARC,
                      .p0 = beside(arc, t0, h0),
                      .p1 = beside(arc, t1, h0),
                      .c0 = arc->c0,
                      .sweep = t0 < t1 ? arc->sweep : -arc->sweep};
    g_array_append_val(run, border);
    return;
  }
  guint n = (guint)ceil(fabs(arc->sweep) / (2 * G_PI) * 256);
  n = MAX(n, 1);
  HfPoint last = beside(arc, t0, h0);
  for (guint i = 1; i <= n; i++) {
    double part = i / (double)n;
    HfPoint next = beside(arc, t0 + (t1 - t0) * part, h0 + (h1 - h0) * part);
    hf_dxf_line(run, last, next);
    last = next;
  }
}

static GArray *
wide_segment(const HfCurve *curve, const double width[2])
{
  GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  double h0 = width[0] / 2, h1 = width[1] / 2;
  HfPoint right0 = beside(curve, 0, -h0), right1 = beside(curve, 1, -h1);
  HfPoint left0 = beside(curve, 0, h0), left1 = beside(curve, 1, h1);
  if (curve->kind == HF_CURVE_ARC) {
    add_border(run, curve, 0, -h0, -h1);
    hf_dxf_line(run, right1, left1);
    add_border(run, curve, 1, h1, h0);
    hf_dxf_line(run, left0, right0);
  } else {
    HfPoint corner[] = {right0, right1, left1, left0};
    for (int i = 0; i < 4; i++)
      hf_dxf_line(run, corner[i], corner[(i + 1) % 4]);
  }
  return run;
}

/* The wedge outside the corner where @a ends and @b begins; %NULL: it goes straight on, or back. */
static GArray *
corner_wedge(const HfCurve *a, const HfCurve *b, double width)
{
  HfPoint in = heading(a, 1), out = heading(b, 0), at = b->p0;
  double turn = atan2(hf_point_cross(in, out), hf_point_dot(in, out)), half = width / 2;
  if (fabs(turn) < 1e-9 || fabs(turn) > G_PI - 0.1 || half <= 0)
    return NULL;
  double side = turn > 0 ? -half : half; /* outside */
  HfPoint p = hf_point(at.x - in.y * side, at.y + in.x * side);
  HfPoint q = hf_point(at.x - out.y * side, at.y + out.x * side);
  double reach = half * tan(fabs(turn) / 2);
  HfPoint tip = hf_point_add(p, hf_point_scale(in, reach));
  HfPoint corner[] = {at, p, tip, q};
  GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  for (int i = 0; i < 4; i++)
    hf_dxf_line(run, corner[turn > 0 ? i : 3 - i], corner[turn > 0 ? (i + 1) % 4 : (6 - i) % 4]);
  return run;
}

static HfCurve
segment(const Polyline *line, guint i)
{
  Vertex a = vertex(line, i), b = vertex(line, i + 1);
  g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  hf_dxf_bulge(run, place(a), place(b), a.bulge);
  HfCurve none = {.kind = HF_CURVE_LINE, .p0 = place(a), .p1 = place(b)};
  return run->len > 0 ? g_array_index(run, HfCurve, 0) : none;
}

static gboolean
has_length(const HfCurve *curve)
{
  return curve->p0.x != curve->p1.x || curve->p0.y != curve->p1.y;
}

static void
add_wide(HfDxfReader *reader, HfDxfPiece *piece, const Polyline *line, HfMatrix matrix)
{
  guint n = n_segments(line);
  for (guint i = 0; i < n; i++) {
    HfCurve here = segment(line, i), next = segment(line, (i + 1) % n);
    Vertex from = vertex(line, i);
    if (!has_length(&here))
      continue;
    hf_dxf_add_run(reader, piece, wide_segment(&here, from.width), matrix);
    double width = MIN(from.width[1], vertex(line, i + 1).width[0]);
    GArray *wedge =
        (line->closed || i + 1 < n) && has_length(&next) ? corner_wedge(&here, &next, width) : NULL;
    if (wedge != NULL)
      hf_dxf_add_run(reader, piece, wedge, matrix);
  }
}

/* ---- both kinds ------------------------------------------------------------------------------ */

static gboolean
is_wide(const Polyline *line)
{
  for (guint i = 0; i < line->at->len; i++)
    if (vertex(line, i).width[0] > 0 || vertex(line, i).width[1] > 0)
      return TRUE;
  return FALSE;
}

/* A polyline in space: each vertex as it is seen. */
static GArray *
run_in_space(const Polyline *line, HfDxfSpace space)
{
  GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
  for (guint i = 0; i < n_segments(line); i++) {
    Vertex a = vertex(line, i), b = vertex(line, i + 1);
    hf_dxf_line(run, hf_dxf_seen(space, a.x, a.y, a.z), hf_dxf_seen(space, b.x, b.y, b.z));
  }
  return run;
}

static void
draw(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, const Polyline *line,
     double z)
{
  gboolean wide = line->flat && is_wide(line);
  HfDxfPiece *piece = hf_dxf_add(reader, where, record, wide ? HF_DXF_FILLED : HF_DXF_RUN);
  piece->closed = line->closed;
  HfMatrix matrix = hf_dxf_space_plane(hf_dxf_own_space(where, record), z);
  if (wide) {
    add_wide(reader, piece, line, matrix);
  } else if (line->flat) {
    GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
    for (guint i = 0; i < n_segments(line); i++)
      hf_dxf_bulge(run, place(vertex(line, i)), place(vertex(line, i + 1)), vertex(line, i).bulge);
    hf_dxf_add_run(reader, piece, run, matrix);
  } else {
    hf_dxf_add_run(reader, piece, run_in_space(line, where->space), HF_MATRIX_IDENTITY);
  }
}

void
hf_dxf_draw_lwpolyline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  g_autoptr(GArray) vertices = g_array_new(FALSE, TRUE, sizeof(Vertex));
  double width = hf_dxf_real(record, 43, 0);
  for (guint i = 0; i < record.n; i++) {
    const HfDxfTag *tag = &record.tag[i];
    Vertex fresh = {.x = tag->number, .width = {width, width}};
    if (tag->code == 10)
      g_array_append_val(vertices, fresh);
    if (vertices->len == 0)
      continue;
    Vertex *v = &g_array_index(vertices, Vertex, vertices->len - 1);
    double *fields[] = {&v->width[0], &v->width[1], &v->bulge};
    if (tag->code == 20)
      v->y = tag->number;
    else if (tag->code >= 40 && tag->code <= 42)
      *fields[tag->code - 40] = tag->number;
  }
  Polyline line = {vertices, (hf_dxf_int(record, 70, 0) & CLOSED) != 0, TRUE};
  draw(reader, where, record, &line, hf_dxf_real(record, 38, 0));
}

static void
add_vertex(GArray *vertices, HfDxfRecord record, const double width[2])
{
  Vertex v = {.x = hf_dxf_real(record, 10, 0),
              .y = hf_dxf_real(record, 20, 0),
              .z = hf_dxf_real(record, 30, 0),
              .bulge = hf_dxf_real(record, 42, 0),
              .width = {hf_dxf_real(record, 40, width[0]), hf_dxf_real(record, 41, width[1])}};
  if ((hf_dxf_int(record, 70, 0) & CONTROL_POINT) == 0)
    g_array_append_val(vertices, v);
}

void
hf_dxf_draw_polyline(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  int flags = hf_dxf_int(record, 70, 0);
  if ((flags & (MESH | FACES)) != 0) {
    hf_dxf_note(reader, record.tag->place, "a surface (POLYLINE of faces) was left out");
    return;
  }
  g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vertex));
  const HfDxfTags *tags = reader->document->tags;
  const double width[2] = {hf_dxf_real(record, 40, 0), hf_dxf_real(record, 41, 0)};
  for (guint i = where->at + record.n; i < where->end;) {
    HfDxfRecord next = hf_dxf_record_at(tags, i);
    if (!hf_dxf_is(next, "VERTEX") || !hf_dxf_is_sound(tags, next, &reader->error))
      break;
    add_vertex(vertices, next, width);
    i += next.n;
  }
  Polyline line = {vertices, (flags & CLOSED) != 0, (flags & SPACIAL) == 0};
  draw(reader, where, record, &line, hf_dxf_real(record, 30, 0));
}
