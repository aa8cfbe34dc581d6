/* SPDX-License-Identifier: GPL-3.0-or-later
 * burnt.c - pointed ends of metal that the arc burns back, drawn as they will be.
 *
 *      \     /       The metal about a tip is shrunk by half the web limit and grown again (an
 *       \_ _/ <-     opening; J. Serra, Image Analysis and Mathematical Morphology (1982); from
 *       :\./: gone   memory): what is as wide as the limit stays, with a round end of half the
 *        `           limit; what does not come back, nearest to the finding's place, is gone.
 *
 * Only for what the hold check has named as a burnt tip. Of a wedge of angle a the round end's
 * middle lies w / 2 / sin(a / 2) from the point. Cost: two offsets of what is near some tip, all of
 * it at once: O(n log n) for n edges there.
 */
#include "out/picture-private.h"

#define FINE    0.01 /* mm */
#define HAIR    0.04 /* mm: what chords and grid leave along straight edges is no tip */
#define SLIVER  0.02 /* mm2: rounding, no tip */
#define CELL    1.0  /* widths of what is looked at about a tip */
#define CELLS   40.0 /* along the sign, at the most */
#define DASHES  6.0  /* line widths */
#define OPACITY 0.8

/* What is looked at about one tip, the longest of its finding. Tips of one cell go together. */
typedef struct {
  HfPoint at;
  HfBox box;
  guint number;
  int cell[2];
} Tip;

typedef struct {
  const HfRegion *metal;
  double limit;
  HfRegion **pieces; /* of each tip, by number; %NULL: none */
} Burnt;

/* (transfer full) (element-type Tip) */
static GArray *
all_tips(const HfSign *what, double limit)
{
  GArray *tips = g_array_new(FALSE, FALSE, sizeof(Tip));
  for (guint i = 0; i < what->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(what, i);
    for (guint k = 0; finding->kind == HF_LAW_BURNT_TIP && k < finding->places->len; k++) {
      HfPoint at = g_array_index(finding->places, HfPoint, k);
      HfBox box = hf_box_grow((HfBox){at, at}, 2 * finding->measured + 2 * limit);
      Tip tip = {at, box, tips->len, {0, 0}};
      g_array_append_val(tips, tip);
    }
  }
  return tips;
}

static int
by_cell(gconstpointer p, gconstpointer q)
{
  const Tip *a = p, *b = q;
  for (guint k = 0; k < 2; k++)
    if (a->cell[k] != b->cell[k])
      return a->cell[k] < b->cell[k] ? -1 : 1;
  return (a->number > b->number) - (a->number < b->number);
}

static void
sort_by_cell(GArray *tips, HfBox all)
{
  double side = fmax(hf_box_width(all), hf_box_height(all)) / CELLS;
  for (guint i = 0; i < tips->len; i++)
    side = fmax(side, CELL * hf_box_width(g_array_index(tips, Tip, i).box));
  for (guint i = 0; i < tips->len; i++) {
    Tip *tip = &g_array_index(tips, Tip, i);
    tip->cell[0] = (int)floor((tip->at.x - all.min.x) / side);
    tip->cell[1] = (int)floor((tip->at.y - all.min.y) / side);
  }
  g_array_sort(tips, by_cell);
}

/* (transfer full) what an opening by half of @limit takes off @near. */
static HfRegion *
not_coming_back(const HfRegion *near, double limit)
{
  g_autoptr(HfRegion) less = hf_region_offset(near, -limit / 2, FINE);
  g_autoptr(HfRegion) stays = hf_region_offset(less, limit / 2 + HAIR, FINE);
  return hf_region_subtract(near, stays);
}

static double
distance_to(const HfRing *ring, HfPoint p)
{
  double nearest = hf_ring_holds(ring, p) ? 0 : INFINITY;
  for (guint v = 0; v < ring->n && nearest > 0; v++) {
    HfPoint a = hf_grid_point(ring->at[v]), b = hf_grid_point(ring->at[(v + 1) % ring->n]);
    nearest = fmin(nearest, hf_point_distance(hf_segment_nearest(a, b, p, NULL), p));
  }
  return nearest;
}

static gboolean
is_inside(HfBox box, HfBox frame)
{
  return box.min.x >= frame.min.x && box.max.x <= frame.max.x && box.min.y >= frame.min.y &&
         box.max.y <= frame.max.y;
}

/* Of what does not come back, the largest that reaches the tip within @limit. (nullable) */
static HfRegion *
gone_at(const HfRegion *gone, const HfBox *boxes, const Tip *tip, double limit)
{
  g_autoptr(HfRegion) best = NULL;
  double most = SLIVER;
  for (guint r = 0; r < gone->rings->len; r++) {
    const HfRing *ring = hf_region_ring(gone, r);
    if (ring->parent >= 0 || !hf_box_overlaps(boxes[r], tip->box) || hf_ring_area(ring) <= most ||
        distance_to(ring, tip->at) > limit)
      continue;
    g_autoptr(HfRegion) whole = hf_region_part(gone, r);
    g_autoptr(HfRegion) here =
        is_inside(boxes[r], tip->box) ? g_steal_pointer(&whole) : hf_region_within(whole, tip->box);
    double area = hf_region_area(here);
    if (area <= most)
      continue;
    most = area;
    hf_region_free(best);
    best = g_steal_pointer(&here);
  }
  return g_steal_pointer(&best);
}

/* The @n tips of one cell. */
static void
look_in_cell(const Burnt *burnt, const Tip *tips, guint n)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < n; i++)
    box = hf_box_union(box, tips[i].box);
  g_autoptr(HfRegion) near = hf_region_within(burnt->metal, box);
  g_autoptr(HfRegion) gone = not_coming_back(near, burnt->limit);
  g_autofree HfBox *boxes = g_new(HfBox, gone->rings->len + 1);
  for (guint r = 0; r < gone->rings->len; r++)
    boxes[r] = hf_ring_box(hf_region_ring(gone, r));
  for (guint i = 0; i < n; i++)
    burnt->pieces[tips[i].number] = gone_at(gone, boxes, &tips[i], burnt->limit);
}

static void
find_burnt(const HfSign *what, const HfCancel *cancel, GPtrArray *all)
{
  double limit = what->hold->limits[HF_LAW_THIN_WEB].stop;
  g_autoptr(GArray) tips = limit > 0 ? all_tips(what, limit) : NULL;
  if (tips == NULL || tips->len == 0)
    return;
  g_autofree HfRegion **pieces = g_new0(HfRegion *, tips->len);
  Burnt burnt = {what->metal->region, limit, pieces};
  sort_by_cell(tips, hf_region_box(what->metal->region));
  const Tip *tip = (const Tip *)(void *)tips->data;
  for (guint i = 0, n; i < tips->len && hf_cancel_check(cancel, NULL); i += n) {
    for (n = 1; i + n < tips->len && tip[i].cell[0] == tip[i + n].cell[0] &&
                tip[i].cell[1] == tip[i + n].cell[1];)
      n++;
    look_in_cell(&burnt, tip + i, n);
  }
  for (guint i = 0; i < tips->len; i++)
    if (pieces[i] != NULL)
      g_ptr_array_add(all, pieces[i]);
}

/* Those of the hindmost sheet come first. */
GPtrArray *
hf_picture_burnt(const HfSign *what, const HfCancel *cancel)
{
  GPtrArray *all = g_ptr_array_new_with_free_func((GDestroyNotify)hf_region_free);
  for (guint i = hf_sign_n_layers(what); i-- > 0;)
    find_burnt(hf_sign_layer(what, i), cancel, all);
  return all;
}

void
hf_picture_tips(const HfPen *pen, const HfSign *what, HfView view, double line, guint ground,
                const HfCancel *cancel)
{
  g_autoptr(GPtrArray) burnt = hf_picture_burnt(what, cancel);
  cairo_t *cr = pen->cr;
  cairo_save(cr);
  cairo_set_line_width(cr, line);
  cairo_set_dash(cr, (double[]){DASHES * line / 2, DASHES * line / 3}, 2, 0);
  for (guint i = 0; i < burnt->len; i++) {
    cairo_new_path(cr);
    hf_picture_region(cr, (const HfRegion *)burnt->pdata[i], view);
    hf_pen_colour(cr, ground, OPACITY);
    cairo_fill_preserve(cr);
    hf_pen_colour(cr, HF_HOT, 1);
    cairo_stroke(cr);
  }
  cairo_restore(cr);
}
