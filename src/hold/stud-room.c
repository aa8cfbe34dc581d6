/* SPDX-License-Identifier: GPL-3.0-or-later
 * stud-room.c - where on a piece of metal studs may be: the stretches of its medial axis that are
 * far enough from its edge; where it is so wide that the axis says little, the edge moved inside.
 *
 *    letter: the middle of its strokes     disc: its axis is a point, so a circle of places
 *      ===o===o===o===                          . o .
 *                                              o     o
 *
 * Of all of them a few dozen stay, each the farthest from those taken before.
 */
#include "hold/studs-private.h"

enum {
  STEPS = 160,   /* along all of the axis, and along all of the edge moved inside */
  SAMPLES = 400, /* vertices that are asked whether they have a mirror image */
};
static const double WIDE = 3;       /* times what is asked: then the edge moved inside counts too */
static const double ALIKE = 0.004;  /* of its larger side: less is no difference */
static const double FINE_MM = 0.05; /* of the radius, and as near to a mirror's line as on it */

struct HfStudRoom {
  const HfRegion *piece;
  HfAxis *axis;
  double radius, longer;
  HfStudMirror mirror;
  double line; /* x or y of the mirror's line */
};

double
hf_stud_room_clear(const HfStudRoom *room, HfPoint p)
{
  double nearest = INFINITY;
  for (guint r = 0; r < room->piece->rings->len; r++) {
    const HfRing *ring = hf_region_ring(room->piece, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
      nearest = fmin(nearest, hf_point_distance(p, hf_segment_nearest(a, b, p, NULL)));
    }
  }
  return hf_region_contains(room->piece, p) ? nearest : -nearest;
}

/* ---- mirror -----------------------------------------------------------------------------------
 */

static HfPoint
mirrored(HfStudMirror mirror, double line, HfPoint p)
{
  return mirror == HF_STUD_UPRIGHT_MIRROR ? hf_point(2 * line - p.x, p.y)
                                          : hf_point(p.x, 2 * line - p.y);
}

static gboolean
is_mirrored(const HfStudRoom *room, HfStudMirror mirror, double line, double slack)
{
  guint step = 1 + hf_region_n_edges(room->piece) / SAMPLES, k = 0;
  for (guint r = 0; r < room->piece->rings->len; r++) {
    const HfRing *ring = hf_region_ring(room->piece, r);
    for (guint v = 0; v < ring->n; v++)
      if (k++ % step == 0 && fabs(hf_stud_room_clear(
                                 room, mirrored(mirror, line, hf_grid_point(ring->at[v])))) > slack)
        return FALSE;
  }
  return TRUE;
}

static void
find_mirror(HfStudRoom *room)
{
  HfBox box = hf_region_box(room->piece);
  HfPoint middle = hf_box_centre(box);
  double slack = ALIKE * fmax(hf_box_width(box), hf_box_height(box));
  if (fabs(middle.x) < slack && is_mirrored(room, HF_STUD_UPRIGHT_MIRROR, middle.x, slack)) {
    room->mirror = HF_STUD_UPRIGHT_MIRROR;
    room->line = middle.x;
  } else if (fabs(middle.y) < slack && is_mirrored(room, HF_STUD_LEVEL_MIRROR, middle.y, slack)) {
    room->mirror = HF_STUD_LEVEL_MIRROR;
    room->line = middle.y;
  }
}

HfStudMirror
hf_stud_room_mirror(const HfStudRoom *room)
{
  return room->mirror;
}

HfPoint
hf_stud_room_mirrored(const HfStudRoom *room, HfPoint p)
{
  return room->mirror == HF_STUD_NO_MIRROR ? p : mirrored(room->mirror, room->line, p);
}

/* ---- the room ---------------------------------------------------------------------------------
 */

HfStudRoom *
hf_stud_room_new(const HfRegion *piece, const HfCancel *cancel)
{
  HfStudRoom *room = g_new0(HfStudRoom, 1);
  room->piece = piece;
  room->axis = hf_axis_new(piece, NULL, cancel);
  HfBox box = hf_region_box(piece);
  room->longer = fmax(hf_box_width(box), hf_box_height(box));
  for (guint i = 0; i < room->axis->points->len; i++)
    room->radius = fmax(room->radius, g_array_index(room->axis->points, HfAxisPoint, i).radius);
  find_mirror(room);
  return room;
}

void
hf_stud_room_free(HfStudRoom *room)
{
  if (room == NULL)
    return;
  hf_axis_free(room->axis);
  g_free(room);
}

double
hf_stud_room_long(const HfStudRoom *room)
{
  return room->longer;
}

double
hf_stud_room_radius(const HfStudRoom *room)
{
  return room->radius;
}

/* ---- spots ------------------------------------------------------------------------------------
 */

static void
add(GArray *spots, HfPoint at)
{
  g_array_append_val(spots, at);
}

static gboolean
crosses_line(const HfStudRoom *room, HfPoint a, HfPoint b, double *ret_t)
{
  if (room->mirror == HF_STUD_NO_MIRROR)
    return FALSE;
  gboolean upright = room->mirror == HF_STUD_UPRIGHT_MIRROR;
  double from = (upright ? a.x : a.y) - room->line, to = (upright ? b.x : b.y) - room->line;
  *ret_t = from / (from - to);
  return from * to < 0;
}

/* The stretch from @p to @q that is @least deep at the least; %FALSE: nothing of it. */
static gboolean
deep_part(const HfAxisPoint *p, const HfAxisPoint *q, double least, HfPoint *ret_a, HfPoint *ret_b)
{
  if (p->radius < least && q->radius < least)
    return FALSE;
  double t = (least - p->radius) / (q->radius - p->radius);
  *ret_a = p->radius < least ? hf_point_mix(p->at, q->at, t) : p->at;
  *ret_b = q->radius < least ? hf_point_mix(p->at, q->at, t) : q->at;
  return TRUE;
}

typedef struct {
  HfPoint a, b;
} Stretch;

/* (transfer full) (element-type Stretch): the axis as far as it is @least deep. */
static GArray *
deep_stretches(const HfStudRoom *room, double least)
{
  GArray *deep = g_array_new(FALSE, FALSE, sizeof(Stretch));
  const HfAxisPoint *points = (const HfAxisPoint *)(gpointer)room->axis->points->data;
  for (guint e = 0; e < room->axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(room->axis->edges, HfAxisEdge, e);
    for (guint i = edge->first; i + 1 < edge->first + edge->n; i++) {
      Stretch s;
      if (deep_part(&points[i], &points[i + 1], least, &s.a, &s.b))
        g_array_append_val(deep, s);
    }
  }
  return deep;
}

/* Along the stretch, with its ends, and where it crosses the mirror's line. */
static void
add_stretch(const HfStudRoom *room, HfPoint a, HfPoint b, double step, GArray *spots)
{
  double length = hf_point_distance(a, b), t;
  guint n = (guint)fmax(1, ceil(length / step));
  for (guint i = 0; i <= n; i++)
    add(spots, hf_point_mix(a, b, (double)i / n));
  if (crosses_line(room, a, b, &t))
    add(spots, hf_point_mix(a, b, t));
}

static void
add_axis(const HfStudRoom *room, double least, GArray *spots)
{
  g_autoptr(GArray) deep = deep_stretches(room, least);
  double length = 0;
  for (guint i = 0; i < deep->len; i++) {
    const Stretch *s = &g_array_index(deep, Stretch, i);
    length += hf_point_distance(s->a, s->b);
  }
  for (guint i = 0; i < deep->len; i++) {
    const Stretch *s = &g_array_index(deep, Stretch, i);
    add_stretch(room, s->a, s->b, fmax(length / STEPS, 0.01), spots);
  }
}

static void
add_inside(const HfStudRoom *room, double least, GArray *spots)
{
  g_autoptr(HfRegion) inside = hf_region_offset(room->piece, -least, HF_FLATTEN_MM);
  double step = fmax(hf_region_perimeter(inside) / STEPS, 0.01);
  for (guint r = 0; r < inside->rings->len; r++) {
    const HfRing *ring = hf_region_ring(inside, r);
    for (guint v = 0; v < ring->n; v++)
      add_stretch(room, hf_grid_point(ring->at[v]), hf_grid_point(ring->at[(v + 1) % ring->n]),
                  step, spots);
  }
}

/* Each the farthest from the centre of mass and from those taken before. */
static GArray *
spread(const GArray *all)
{
  GArray *spots = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_autofree double *far = g_new(double, all->len + 1);
  for (guint i = 0; i < all->len; i++)
    far[i] = hf_point_length(g_array_index(all, HfPoint, i));
  while (all->len > 0 && spots->len < HF_STUD_SPOTS) {
    guint best = 0;
    for (guint i = 1; i < all->len; i++)
      best = far[i] > far[best] + 1e-6 ? i : best;
    if (far[best] < FINE_MM && spots->len > 0)
      break;
    HfPoint taken = g_array_index(all, HfPoint, best);
    add(spots, taken);
    for (guint i = 0; i < all->len; i++) {
      double d = hf_point_distance(g_array_index(all, HfPoint, i), taken);
      far[i] = spots->len == 1 ? d : fmin(far[i], d);
    }
  }
  return spots;
}

/* What lies on the mirror's line is not found by spreading: a T needs the foot of its stem. */
static void
add_on_line(const HfStudRoom *room, const GArray *all, GArray *spots)
{
  g_autoptr(GArray) on = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  for (guint i = 0; i < all->len; i++) {
    HfPoint p = g_array_index(all, HfPoint, i);
    if (hf_point_distance(p, hf_stud_room_mirrored(room, p)) < 2 * FINE_MM)
      add(on, p);
  }
  g_autoptr(GArray) few = spread(on);
  g_array_append_vals(spots, few->data, few->len);
}

GArray *
hf_stud_spots(const HfStudRoom *room, double least)
{
  g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  add_axis(room, least, all);
  if (room->radius > WIDE * least)
    add_inside(room, least, all);
  GArray *spots = spread(all);
  if (room->mirror != HF_STUD_NO_MIRROR)
    add_on_line(room, all, spots);
  return spots;
}

gboolean
hf_studs_alike(const HfRegion *a, const HfRegion *b, double slack)
{
  HfBox p = hf_region_box(a), q = hf_region_box(b);
  if (a->rings->len != b->rings->len || fabs(p.min.x - q.min.x) > slack ||
      fabs(p.min.y - q.min.y) > slack || fabs(p.max.x - q.max.x) > slack ||
      fabs(p.max.y - q.max.y) > slack)
    return FALSE;
  HfStudRoom other = {.piece = b};
  for (guint r = 0; r < a->rings->len; r++) {
    const HfRing *ring = hf_region_ring(a, r);
    for (guint v = 0; v < ring->n; v++)
      if (fabs(hf_stud_room_clear(&other, hf_grid_point(ring->at[v]))) > slack)
        return FALSE;
  }
  return TRUE;
}
