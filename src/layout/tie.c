/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie.c - a tie placed by hand (a pin): a bar of metal across the opening in which it is pinned.
 *
 *     metal |      opening      | metal        From the pinned point the bar runs both ways until
 *     ......+=========x=========+......        it meets metal over its whole width, and on into it
 *         ->| bite              | bite|<-      by the joint limit, or as far as the metal goes.
 *
 * What is metal at a place is what the last shape that holds the place says, in recipe order; the
 * line is cut at every edge it crosses, and each stretch is asked at its middle. No boolean is
 * needed. A pin that no longer fits is recorded in layout->missed and never moved.
 */
#include "base/text.h"
#include "geom/region.h"
#include "layout/layout-private.h"
#include "stock/practice.h"

#include <stdlib.h>
#include <string.h>

enum { LINES = 5 };

/* The shapes of all entries of a layer but ties, in recipe order, flattened when first asked. */
typedef struct {
  GPtrArray *shapes;  /* HfShape *, borrowed */
  GArray *boxes;      /* HfBox */
  GPtrArray *regions; /* HfRegion *, rings as they come; NULL: not asked yet */
} Painted;

typedef struct {
  const HfShape *letter; /* what it is pinned to */
  HfPoint at;
  HfMatrix frame; /* of the letter */
  HfPoint way;    /* of length 1 */
  double width;
} Pin;

/* Along one way from the pin: where metal begins on all lines, where the first of it ends again. */
typedef struct {
  double begins, ends;
  HfPoint met; /* on the middle line, a little inside the metal */
} Reach;

static void
region_free(gpointer region)
{
  hf_region_free((HfRegion *)region);
}

static Painted
painted_new(const HfLaying *laying, HfLayerAt layer)
{
  Painted painted = {g_ptr_array_new(), g_array_new(FALSE, FALSE, sizeof(HfBox)),
                     g_ptr_array_new_with_free_func(region_free)};
  for (guint i = 0; i < laying->recipe->entries->len; i++) {
    const GPtrArray *shapes = laying->laid[i].shapes;
    const HfEntry *e = hf_lay_entry(laying, i);
    gboolean counts = e->kind != HF_ENTRY_TIE && hf_entry_is_in(e, layer);
    for (guint k = 0; counts && k < shapes->len; k++) {
      HfShape *shape = (HfShape *)g_ptr_array_index(shapes, k);
      HfBox box = hf_outline_box(shape->outline);
      g_ptr_array_add(painted.shapes, shape);
      g_array_append_val(painted.boxes, box);
      g_ptr_array_add(painted.regions, NULL);
    }
  }
  return painted;
}

static void
painted_clear(Painted *painted)
{
  g_ptr_array_unref(painted->shapes);
  g_array_unref(painted->boxes);
  g_ptr_array_unref(painted->regions);
}

static const HfRegion *
painted_region(Painted *painted, guint i)
{
  HfRegion *region = (HfRegion *)g_ptr_array_index(painted->regions, i);
  if (region == NULL) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(painted->shapes, i);
    region = hf_region_new();
    hf_region_flatten(region, shape->outline, i, HF_FLATTEN_MM);
    g_ptr_array_index(painted->regions, i) = region;
  }
  return region;
}

/* How often the rings wind round @p. */
static int
winding(const HfRegion *region, HfPoint p)
{
  int wound = 0;
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0; i < ring->n; i++) {
      HfPoint a = hf_grid_point(ring->at[i]), b = hf_grid_point(ring->at[(i + 1) % ring->n]);
      if ((a.y <= p.y) == (b.y <= p.y))
        continue;
      double side = hf_point_cross(hf_point_sub(b, a), hf_point_sub(p, a));
      if ((side > 0) == (b.y > a.y))
        wound += b.y > a.y ? 1 : -1;
    }
  }
  return wound;
}

static gboolean
is_metal(Painted *painted, HfPoint p)
{
  for (guint i = painted->shapes->len; i-- > 0;)
    if (hf_box_contains(g_array_index(painted->boxes, HfBox, i), p) &&
        winding(painted_region(painted, i), p) != 0)
      return !((const HfShape *)g_ptr_array_index(painted->shapes, i))->opening;
  return FALSE;
}

/* Does the line through @from meet the box? Only a quick no is needed. */
static gboolean
line_meets_box(HfPoint from, HfPoint way, HfBox box)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < 4; i++) {
    HfPoint corner = {i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y};
    double side = hf_point_cross(way, hf_point_sub(corner, from));
    low = MIN(low, side);
    high = MAX(high, side);
  }
  return low <= 0 && high >= 0;
}

static void
add_crossings(const HfRegion *region, HfPoint from, HfPoint way, GArray *crossings)
{
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint i = 0; i < ring->n; i++) {
      HfPoint a = hf_point_sub(hf_grid_point(ring->at[i]), from);
      HfPoint b = hf_point_sub(hf_grid_point(ring->at[(i + 1) % ring->n]), from);
      double side_a = hf_point_cross(way, a), side_b = hf_point_cross(way, b);
      if ((side_a > 0) == (side_b > 0))
        continue;
      double t = side_a / (side_a - side_b);
      double reach = hf_point_dot(way, hf_point_mix(a, b, t));
      if (reach > 0)
        g_array_append_val(crossings, reach);
    }
  }
}

static int
by_value(gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

/* From @from along @way: the first stretch of metal. %FALSE when there is none. */
static gboolean
first_metal(Painted *painted, HfPoint from, HfPoint way, double *ret_begins, double *ret_ends)
{
  g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(double));
  double zero = 0;
  g_array_append_val(crossings, zero);
  for (guint i = 0; i < painted->shapes->len; i++)
    if (line_meets_box(from, way, g_array_index(painted->boxes, HfBox, i)))
      add_crossings(painted_region(painted, i), from, way, crossings);
  g_array_sort(crossings, by_value);
  gboolean found = FALSE;
  for (guint i = 0; i + 1 < crossings->len; i++) {
    double a = g_array_index(crossings, double, i), b = g_array_index(crossings, double, i + 1);
    if (b - a < 1e-7)
      continue;
    gboolean metal = is_metal(painted, hf_point_add(from, hf_point_scale(way, (a + b) / 2)));
    if (metal && !found)
      *ret_begins = a;
    if (!metal && found)
      return TRUE;
    if (metal)
      *ret_ends = b;
    found = found || metal;
  }
  return found;
}

/* Over the whole width. %FALSE: no metal there, or the tie is wider than it. */
static gboolean
find_reach(Painted *painted, const Pin *pin, HfPoint way, Reach *ret_reach)
{
  HfPoint across = {-way.y, way.x};
  double middle = NAN;
  *ret_reach = (Reach){.begins = 0, .ends = INFINITY};
  for (int i = 0; i < LINES; i++) {
    int line = (i + LINES / 2) % LINES; /* the middle one first */
    double off = pin->width * (line / (LINES - 1.0) - 0.5) * (1 - 1e-6), begins = 0, ends = 0;
    HfPoint from = hf_point_add(pin->at, hf_point_scale(across, off));
    if (!first_metal(painted, from, way, &begins, &ends))
      return FALSE;
    middle = i == 0 ? begins : middle;
    if (begins > middle + 2 * pin->width || ends <= middle)
      return FALSE;
    ret_reach->begins = MAX(ret_reach->begins, begins);
    ret_reach->ends = MIN(ret_reach->ends, ends);
  }
  ret_reach->met = hf_point_add(pin->at, hf_point_scale(way, middle + 1e-3));
  return ret_reach->ends > ret_reach->begins;
}

static gboolean
miss(HfLaying *laying, guint entry, HfPoint at, const char *why)
{
  hf_layout_add_missed(laying->layout, entry, at, NULL, why, NULL);
  return TRUE;
}

/* ---- which letter --------------------------------------------------------------------------- */

/* The first shape that the pin's words mean, and its entry as laid. */
static const HfShape *
find_pinned(const HfLaying *laying, const char *wish, const HfLaid **ret_laid)
{
  int entry = -1;
  for (guint i = 0; i < laying->recipe->entries->len; i++) {
    const GPtrArray *shapes = laying->laid[i].shapes;
    g_autoptr(GArray) meant = hf_shapes_meant(laying->recipe, shapes, wish, &entry);
    if (meant->len == 0)
      continue;
    *ret_laid = &laying->laid[i];
    return (const HfShape *)g_ptr_array_index(shapes, g_array_index(meant, guint, 0));
  }
  return NULL;
}

/* ---- which opening of it -------------------------------------------------------------------- */

static gboolean
is_in_counter(const Pin *pin, int number, HfPoint p, guint *ret_n)
{
  g_autoptr(GArray) counters = hf_shape_counters(pin->letter, pin->frame);
  *ret_n = counters->len;
  return hf_counters_find(counters, p) == (guint)number;
}

/* Standing letter: the pin is in the counter. Cut-through letter: the counter is a piece of metal,
 * and one end of the tie must hold it. (nullable) why it does not fit. */
static char *
wrong_opening(const Pin *pin, int number, const Reach *ahead, const Reach *behind)
{
  guint n = 0;
  if (number < 1)
    return NULL;
  gboolean fits = pin->letter->opening ? is_in_counter(pin, number, ahead->met, &n) ||
                                             is_in_counter(pin, number, behind->met, &n)
                                       : is_in_counter(pin, number, pin->at, &n);
  if (fits)
    return NULL;
  if ((guint)number > n)
    return g_strdup_printf("%s has %u opening%s, not %d", pin->letter->label, n, n == 1 ? "" : "s",
                           number);
  if (pin->letter->opening)
    return g_strdup_printf("it does not hold counter %d of %s", number, pin->letter->label);
  return g_strdup_printf("it is not in opening %d of %s", number, pin->letter->label);
}

/* ---- laying it ------------------------------------------------------------------------------ */

static void
draw_tie(HfLaying *laying, guint entry, const Pin *pin, double ahead, double behind)
{
  HfLaid *laid = &laying->laid[entry];
  HfMatrix frame = {pin->way.x, -pin->way.y, pin->way.y, pin->way.x, pin->at.x, pin->at.y};
  HfBox own = {{-behind, -pin->width / 2}, {ahead, pin->width / 2}};
  g_autoptr(HfOutline) bar = hf_outline_new();
  hf_outline_add_rectangle(bar, own, 0);
  g_array_append_val(laid->frames, frame);
  laid->own = own;
  laid->centre = pin->at;
  hf_lay_shape(laying, entry, bar, -1);
}

/* A long tie has the limit of a long web, at most 1.5 times that of a short one (handbook 3.1:
 * max(1.2 t, 2 k, 3 mm) over max(t, 1.5 k, 2 mm)). */
static void
choose_width(const HfLaying *laying, guint entry, Pin *pin, const Reach *ahead, const Reach *behind)
{
  double given = hf_lay_entry(laying, entry)->tie.width;
  if (!isnan(given))
    pin->width = given;
  else if (ahead->begins + behind->begins > 3 * pin->width)
    pin->width *= 1.5;
}

static gboolean
reach_both_ways(Painted *painted, const Pin *pin, Reach *ret_ahead, Reach *ret_behind)
{
  return find_reach(painted, pin, pin->way, ret_ahead) &&
         find_reach(painted, pin, hf_point_scale(pin->way, -1), ret_behind);
}

static gboolean
lay_pin(HfLaying *laying, guint entry, Painted *painted, Pin *pin)
{
  const HfTieEntry *tie = &hf_lay_entry(laying, entry)->tie;
  Reach ahead, behind;
  if (pin->letter->opening && pin->letter->entry > entry)
    return miss(laying, entry, pin->at,
                "it comes before what it ties, which cuts it away again: put it after");
  if (is_metal(painted, pin->at))
    return miss(laying, entry, pin->at, "there is metal now where it was pinned");
  pin->width = isnan(tie->width) ? HF_OVER_LIMIT * laying->joint_limit : tie->width;
  gboolean held = reach_both_ways(painted, pin, &ahead, &behind);
  if (held && isnan(tie->width)) {
    choose_width(laying, entry, pin, &ahead, &behind);
    held = reach_both_ways(painted, pin, &ahead, &behind);
  }
  if (!held)
    return miss(laying, entry, pin->at, "it does not meet metal over its whole width at both ends");
  g_autofree char *wrong = wrong_opening(pin, tie->opening, &ahead, &behind);
  if (wrong != NULL)
    return miss(laying, entry, pin->at, wrong);
  draw_tie(laying, entry, pin, MIN(ahead.begins + laying->joint_limit, ahead.ends),
           MIN(behind.begins + laying->joint_limit, behind.ends));
  return TRUE;
}

/* Of a given length: half to each side of its place, whatever is there. */
static gboolean
lay_given(HfLaying *laying, guint entry, Pin *pin)
{
  const HfTieEntry *tie = &hf_lay_entry(laying, entry)->tie;
  if (pin->letter->opening && pin->letter->entry > entry)
    return miss(laying, entry, pin->at,
                "it comes before what it ties, which cuts it away again: put it after");
  pin->width = isnan(tie->width) ? HF_OVER_LIMIT * laying->joint_limit : tie->width;
  draw_tie(laying, entry, pin, tie->length / 2, tie->length / 2);
  return TRUE;
}

gboolean
hf_lay_tie(HfLaying *laying, guint entry, GError **error)
{
  (void)error;
  const HfTieEntry *tie = &hf_lay_entry(laying, entry)->tie;
  const HfLaid *laid = NULL;
  const HfShape *shape = find_pinned(laying, tie->letter, &laid);
  if (shape == NULL) {
    g_autofree char *why = g_strdup_printf("there is no \"%s\"", tie->letter);
    return miss(laying, entry, hf_point(0, 0), why);
  }
  Pin pin = {.letter = shape, .frame = shape->em};
  if (shape->letter < 0)
    pin.frame = laid->frames->len > 0 ? g_array_index(laid->frames, HfMatrix, 0)
                                      : hf_matrix_move(laid->centre.x, laid->centre.y);
  HfPoint em = {isnan(tie->em_x) ? 0 : tie->em_x, isnan(tie->em_y) ? 0 : tie->em_y};
  pin.at = hf_matrix_apply(pin.frame, em);
  double angle = (isnan(tie->angle) ? G_PI_2 : tie->angle) + atan2(pin.frame.yx, pin.frame.xx);
  pin.way = hf_point(cos(angle), sin(angle));
  if (!isnan(tie->length))
    return lay_given(laying, entry, &pin);
  Painted painted = painted_new(laying, hf_entry_layer(hf_lay_entry(laying, entry)));
  gboolean done = lay_pin(laying, entry, &painted, &pin);
  painted_clear(&painted);
  return done;
}
