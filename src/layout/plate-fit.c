/* SPDX-License-Identifier: GPL-3.0-or-later
 * plate-fit.c - a plate or ring as large as what stands on it, and its margin.
 *
 *     ,------------------.
 *    (  ^ margin          )     rectangle: the box of the ink and its margins
 *    (  T I D E S         )     round, ring: the smallest circle round the ink, and the margin
 *     `------------------'      all others: drawn in the proportions of the ink's box (or with the
 *                               width or height that is said), the middle of their area on the
 * middle of that box, and as small as leaves the margin everywhere
 *
 * docs/maths.md#fit
 */
#include "base/text.h"
#include "geom/clear.h"
#include "layout/group-private.h"
#include "layout/initial-private.h"
#include "layout/plate-private.h"
#include "layout/solve-private.h"

static const double CLOSE = 1e-7;  /* mm */
static const double ROUNDS = 1e-9; /* mm: within the rounding of sums */
static const double SHIELD =
    1.2; /* height of a shield, of its width, where neither is said; ours */

enum { LEFT, RIGHT, TOP, BOTTOM };

/* ---- what it goes round -----------------------------------------------------------------------
 */

static GPtrArray *
ink_around(const HfLaying *laying, guint entry)
{
  GPtrArray *ink = g_ptr_array_new();
  for (guint i = 0; i < laying->recipe->entries->len; i++) {
    if (!hf_lay_is_around(laying->recipe, entry, i))
      continue;
    g_autoptr(GPtrArray) own = hf_lay_ink(laying, i);
    for (guint k = 0; k < own->len; k++)
      g_ptr_array_add(ink, g_ptr_array_index(own, k));
  }
  return ink;
}

/* (transfer full) (nullable) the ink, when there is some and the entry lies where that lies. */
static GPtrArray *
find_ink(HfLaying *laying, guint entry, GError **error)
{
  if (hf_place_is_said(&hf_lay_entry(laying, entry)->place)) {
    hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "leave its place out, or only shift it",
                  "what goes round others lies where they lie");
    return NULL;
  }
  g_autoptr(GPtrArray) ink = ink_around(laying, entry);
  if (!hf_box_is_empty(hf_shapes_box(ink)))
    return g_steal_pointer(&ink);
  hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                "name what it goes round, as in 'around: [NAME]'",
                "nothing stands on it, so its size does not follow");
  return NULL;
}

/* Its own middle goes to @middle. */
static void
place_at(HfLaying *laying, guint entry, const HfOutline *own, HfPoint middle)
{
  HfLaid *laid = &laying->laid[entry];
  const HfPlace *place = &hf_lay_entry(laying, entry)->place;
  HfPoint at = hf_point_add(middle, hf_place_shift(place));
  HfMatrix frame = hf_matrix_move(at.x, at.y);
  g_array_set_size(laid->frames, 0);
  g_array_append_val(laid->frames, frame);
  laid->own = hf_outline_box(own);
  laid->centre = hf_point(frame.x0, frame.y0);
}

static void
tell(HfLaying *laying, guint entry, HfSolvedWhat what, double value)
{
  HfSolved solved = {entry, what, value};
  g_array_append_val(laying->layout->solved, solved);
}

/* ---- ring --------------------------------------------------------------------------------------
 */

gboolean
hf_ring_fit(HfLaying *laying, guint entry, double *ret_inner, GError **error)
{
  const HfRingEntry *ring = &hf_lay_entry(laying, entry)->ring;
  g_autoptr(GPtrArray) ink = find_ink(laying, entry, error);
  if (ink == NULL)
    return FALSE;
  HfPoint centre;
  *ret_inner = hf_smallest_circle(ink, &centre) + hf_or_zero(ring->margin);
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_add_circle(own, hf_point(0, 0), *ret_inner + ring->width);
  place_at(laying, entry, own, centre);
  tell(laying, entry, HF_SOLVED_INNER_DIAMETER, 2 * *ret_inner);
  tell(laying, entry, HF_SOLVED_OUTER_DIAMETER, 2 * (*ret_inner + ring->width));
  return TRUE;
}

/* ---- plates -------------------------------------------------------------------------------------
 */

typedef struct {
  HfLaying *laying;
  guint entry;
  const GPtrArray *ink;
  const double *margin;
  HfPlateEntry plate; /* as it is tried */
  HfPoint middle;     /* of the ink's box */
  double wide, high;  /* what one unit of the unknown adds to width and height, mm; 0: they stay */
  HfPoint centre;     /* where its own middle goes */
  guint nearest;      /* of the ink, at the try before: looked at first, it spares the others */
  GError *error;
} Try;

/* The plate as tried, its area's middle on that of the ink's box; %FALSE: it can't be drawn so. */
static gboolean
draw(Try *try, HfOutline *own)
{
  if (!hf_plate_draw(try->laying, try->entry, &try->plate, own,
                     try->error == NULL ? &try->error : NULL))
    return FALSE;
  g_autoptr(HfRegion) chords = hf_region_new(); /* one ring that does not cross itself */
  hf_region_flatten(chords, own, HF_NO_SHAPE, HF_FLATTEN_MM);
  HfPoint of_area = hf_region_centroid(chords);
  try->centre = hf_point_sub(try->middle, of_area);
  return TRUE;
}

static gboolean
goes_by_diameter(HfPlateShape shape)
{
  return shape == HF_PLATE_POLYGON || shape == HF_PLATE_BADGE || shape == HF_PLATE_HEXAGONS;
}

static void
set_size(Try *try, double size)
{
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate;
  if (goes_by_diameter(try->plate.shape)) {
    try->plate.diameter = size;
    return;
  }
  if (isnan(said->width))
    try->plate.width = try->wide * size;
  if (isnan(said->height))
    try->plate.height = try->high * size;
}

/* How near any ink comes to the edge @own, its middle where the try has it. */
static double
least_clear(Try *try, const HfOutline *own)
{
  g_autoptr(HfOutline) there = hf_outline_new();
  hf_outline_append(there, own, hf_matrix_move(try->centre.x, try->centre.y));
  g_autoptr(HfClear) edge = hf_clear_new(there);
  double least = INFINITY;
  for (guint n = 0, first = try->nearest; n < try->ink->len; n++) {
    guint i = (first + n) % try->ink->len;
    const HfShape *shape = g_ptr_array_index(try->ink, i);
    double near = hf_clear_least(edge, shape->outline, least);
    try->nearest = near < least ? i : try->nearest;
    least = near;
  }
  return least;
}

/* Margin that is lacking where it lacks most. */
static double
lacks(Try *try, double size)
{
  g_autoptr(HfOutline) own = hf_outline_new();
  set_size(try, size);
  if (!draw(try, own))
    return NAN;
  double least = least_clear(try, own);
  return try->margin[0] - least;
}

/* The solver looks for the largest that fits; here it is the smallest: 1 / size is the unknown. */
static double
lacks_at(double inverse, gpointer data)
{
  return lacks(data, 1 / inverse);
}

static gboolean
refuse(Try *try, GError **error)
{
  if (try->error != NULL) {
    g_propagate_error(error, g_steal_pointer(&try->error));
    return FALSE;
  }
  g_autofree char *margin = hf_text_mm(try->margin[0]);
  return hf_lay_refuse(
      try->laying, try->entry, error, HF_ERROR_NO_ROOM,
      "leave its width and height out, or take a smaller margin",
      "in the size that is said no plate of this shape leaves %s round what stands "
      "on it",
      margin);
}

static gboolean
solve_scaled(Try *try, GError **error)
{
  HfBox ink = hf_shapes_box(try->ink);
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate;
  double wide = hf_box_width(ink) + 2 * try->margin[0],
         high = hf_box_height(ink) + 2 * try->margin[0];
  double guess = goes_by_diameter(try->plate.shape) ? hypot(wide, high) : 1.5;
  try->wide = wide;
  try->high = try->plate.shape == HF_PLATE_SHIELD ? SHIELD * wide : high;
  if (!isnan(said->width) && !(said->width > wide - CLOSE))
    return refuse(try, error);
  if (!isnan(said->height) && !(said->height > high - CLOSE))
    return refuse(try, error);
  double inverse = hf_solve_size(lacks_at, try, 1 / guess, 1e9, CLOSE, try->laying->cancel);
  if (!hf_cancel_check(try->laying->cancel, error))
    return FALSE;
  if (isnan(inverse))
    return refuse(try, error);
  set_size(try, 1 / inverse);
  return TRUE;
}

/* Sides that are straight: the box and its margins. */
static void
set_box(Try *try, HfBox *ret_box)
{
  HfBox box = hf_shapes_box(try->ink);
  const double *m = try->margin;
  box = (HfBox){{box.min.x - m[LEFT], box.min.y - m[BOTTOM]},
                {box.max.x + m[RIGHT], box.max.y + m[TOP]}};
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate;
  if (isnan(said->width))
    try->plate.width = hf_box_width(box);
  if (isnan(said->height))
    try->plate.height = hf_box_height(box);
  *ret_box = box;
}

static gboolean
is_side(const HfCurve *curve)
{
  return curve->kind == HF_CURVE_LINE && fabs(curve->p1.x - curve->p0.x) < CLOSE;
}

/* Of an arched plate only what is over its sides: where they end the edge leads out level, and the
 * foot lies far below. Its sides keep their margin by themselves. (transfer full) */
static HfOutline *
top_of(const HfOutline *arched)
{
  const HfCurve *all = &g_array_index(arched->curves, HfCurve, 0);
  HfBox box = hf_outline_box(arched);
  double away = hf_box_width(box) + hf_box_height(box);
  guint n = arched->curves->len, first = 0, last;
  while (all[first].p1.x <
         box.max.x - CLOSE) /* to the right side, and up it, if it is not a point */
    first++;
  if (first + 1 < n && is_side(&all[first + 1]))
    first++;
  for (last = first + 2; last < n && all[last - 1].p1.x > box.min.x + CLOSE;)
    last++; /* the one that comes to the left side is the last of the top */
  HfPoint right = all[first].p1, left = all[last - 1].p1;
  HfOutline *top = hf_outline_new();
  hf_outline_begin(top, hf_point(left.x - away, box.min.y - away));
  hf_outline_line_to(top, hf_point(right.x + away, box.min.y - away));
  hf_outline_line_to(top, hf_point(right.x + away, right.y));
  hf_outline_line_to(top, right);
  for (guint i = first + 1; i < last; i++)
    if (all[i].kind == HF_CURVE_ARC)
      hf_outline_arc_to(top, all[i].c0, all[i].sweep, all[i].p1);
    else
      hf_outline_line_to(top, all[i].p1);
  hf_outline_line_to(top, hf_point(left.x - away, left.y));
  hf_outline_close(top);
  return top;
}

/* Rounded corners and an arched top may come nearer than a straight side would: the plate grows on
 * all sides, or upward, until they do not. */
static double
corner_lacks(double by, gpointer data)
{
  Try *try = data;
  HfBox box;
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate;
  set_box(try, &box);
  gboolean arched = try->plate.shape == HF_PLATE_ARCHED;
  if (isnan(said->height))
    try->plate.height += arched ? by : 2 * by;
  if (isnan(said->width) && !arched)
    try->plate.width += 2 * by;
  g_autoptr(HfOutline) own = hf_outline_new();
  if (!hf_plate_draw(try->laying, try->entry, &try->plate, own,
                     try->error == NULL ? &try->error : NULL))
    return NAN;
  try->centre = hf_box_centre(box);
  if (arched)
    try->centre.y = box.min.y + try->plate.height / 2;
  g_autoptr(HfOutline) edge_own = arched ? top_of(own) : hf_outline_copy(own);
  double least = least_clear(try, edge_own), wanted = arched ? try->margin[TOP] : INFINITY;
  for (int i = 0; !arched && i < 4; i++)
    wanted = fmin(wanted, try->margin[i]);
  return wanted - least - ROUNDS; /* straight sides are as far as asked, but for rounding */
}

static double
corner_lacks_less(double less, gpointer data)
{
  return corner_lacks(-less, data);
}

static gboolean
solve_box(Try *try, GError **error)
{
  HfBox ink = hf_shapes_box(try->ink);
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate;
  double wide = hf_box_width(ink) + try->margin[LEFT] + try->margin[RIGHT];
  double high = hf_box_height(ink) + try->margin[TOP] + try->margin[BOTTOM];
  if ((!isnan(said->width) && said->width < wide - CLOSE) ||
      (!isnan(said->height) && said->height < high - CLOSE))
    return refuse(try, error);
  if (corner_lacks(0, try) <= CLOSE)
    return TRUE;
  double most = hypot(wide, high) + 1;
  if (!(corner_lacks(most, try) <= 0))
    return refuse(try, error);
  corner_lacks(-hf_solve_most(corner_lacks_less, try, -most, 0, CLOSE, try->laying->cancel), try);
  return TRUE;
}

static gboolean
solve_round(Try *try)
{
  try->plate.diameter = 2 * (hf_smallest_circle(try->ink, &try->centre) + try->margin[0]);
  return TRUE;
}

static gboolean
has_straight_sides(HfPlateShape shape)
{
  return shape == HF_PLATE_RECTANGLE || shape == HF_PLATE_ROUNDED || shape == HF_PLATE_ARCHED;
}

static void
tell_sizes(const Try *try)
{
  const HfPlateEntry *said = &hf_lay_entry(try->laying, try->entry)->plate, *now = &try->plate;
  const struct {
    HfSolvedWhat what;
    double said, now;
  } sizes[] = {{HF_SOLVED_PLATE_WIDTH, said->width, now->width},
               {HF_SOLVED_PLATE_HEIGHT, said->height, now->height},
               {HF_SOLVED_PLATE_DIAMETER, said->diameter, now->diameter}};
  for (guint i = 0; i < G_N_ELEMENTS(sizes); i++)
    if (isnan(sizes[i].said) && !isnan(sizes[i].now))
      tell(try->laying, try->entry, sizes[i].what, sizes[i].now);
}

gboolean
hf_plate_is_fitted(const HfPlateEntry *plate)
{
  return !isnan(plate->margin[0]);
}

gboolean
hf_plate_fit(HfLaying *laying, guint entry, GError **error)
{
  const HfPlateEntry *said = &hf_lay_entry(laying, entry)->plate;
  g_autoptr(GPtrArray) ink = find_ink(laying, entry, error);
  if (ink == NULL)
    return FALSE;
  Try try = {.laying = laying, .entry = entry, .ink = ink, .margin = said->margin, .plate = *said};
  try.middle = hf_box_centre(hf_shapes_box(ink));
  gboolean done = said->shape == HF_PLATE_ROUND     ? solve_round(&try)
                  : has_straight_sides(said->shape) ? solve_box(&try, error)
                                                    : solve_scaled(&try, error);
  g_autoptr(HfOutline) own = hf_outline_new();
  if (done && !has_straight_sides(said->shape) && said->shape != HF_PLATE_ROUND)
    done = draw(&try, own);
  else if (done)
    done = hf_plate_draw(laying, entry, &try.plate, own, &try.error);
  if (done) {
    place_at(laying, entry, own, try.centre);
    hf_lay_shape(laying, entry, own, -1);
    tell_sizes(&try);
  } else if (try.error != NULL && error != NULL && *error == NULL) {
    g_propagate_error(error, g_steal_pointer(&try.error));
  }
  g_clear_error(&try.error);
  return done;
}
