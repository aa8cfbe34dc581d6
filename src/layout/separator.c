/* SPDX-License-Identifier: GPL-3.0-or-later
 * separator.c - dot, diamond, star: small shapes between words. What they look like, and how sharp
 * their tips are, is in the row of each (recipe/kind-dot.c).
 *
 * In a band a separator would hang in the air, so one that is given no size is made to reach: its
 * tips bite both rings, each as deep as makes the joint 1.25 joint limits wide.
 *
 *      ======= outer ring =======      A tip of half angle p is J wide at depth J / (2 tan p);
 *              /\                      the ring's edge curves away from that by its sagitta
 *             <  >   s                 over J. Two unknowns (size s, radius of the middle) and two
 *              \/                      depths; the depths depend on s for dots, so: iterate.
 *      ======= inner ring =======      docs/maths.md#separators
 */
#include "base/text.h"
#include "layout/layout-private.h"
#include "stock/practice.h"

enum { ROUNDS = 60, HALVINGS = 100 };

typedef struct {
  HfPoint centre;
  double low, high;             /* radii between which the band lies */
  double low_strip, high_strip; /* how wide the rings' strips are */
  const char *low_name, *high_name;
  guint low_entry, high_entry;
  double span; /* rad to either side of its top: all round PI, of gate arches what both cover */
} Band;

/* How far an entry covers the circle about its centre, to either side of the top. */
static double
span_of(const HfLaid *laid)
{
  return laid->span > 0 ? laid->span : G_PI;
}

static double
sagitta(double radius, double chord)
{
  return chord >= 2 * radius ? radius : radius - sqrt(radius * radius - chord * chord / 4);
}

/* How deep a tip of size @s goes into a ring so that the joint is @joint wide. */
static double
needed_bite(HfTips tips, double s, double joint)
{
  return tips.half_angle > 0 ? joint / (2 * tan(tips.half_angle)) : sagitta(s, joint);
}

/* One tip at radius `single`, the others (beta off the axis) at radius `foot`. @way +1: the single
 * tip points outward. Returns s, by halving: the foot moves steadily as s grows. */
static double
size_between(HfTips tips, double single, double foot, double way, double most)
{
  double low = 0, high = most;
  for (int i = 0; i < HALVINGS; i++) {
    double s = (low + high) / 2, middle = single - way * s;
    double at = hypot(s * sin(tips.beta), middle - way * s * cos(tips.beta));
    if (way * (at - foot) > 0)
      low = s;
    else
      high = s;
  }
  return (low + high) / 2;
}

static gboolean
find_band(HfLaying *laying, guint entry, Band *ret_band, GError **error)
{
  const GPtrArray *names = hf_lay_entry(laying, entry)->separator.band;
  const char *name[2] = {NULL, NULL};
  const HfLaid *ring[2] = {NULL, NULL};
  guint on[2] = {0, 0};
  for (guint i = 0; i < 2 && i < names->len; i++) {
    name[i] = (const char *)g_ptr_array_index(names, i);
    ring[i] = hf_lay_named(laying, name[i], &on[i]);
  }
  if (names->len != 2 || ring[0]->inner <= 0 || ring[1]->inner <= 0)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE, "name two rings",
                         "a band lies between two rings");
  guint out = ring[0]->outer > ring[1]->outer ? 0 : 1;
  const HfLaid *high = ring[out], *low = ring[1 - out];
  if (hf_point_distance(high->centre, low->centre) > 1e-6 || low->outer >= high->inner)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "give the rings one centre and room between them",
                         "between \"%s\" and \"%s\" there is no band", name[0], name[1]);
  *ret_band = (Band){
      high->centre,  low->outer, high->inner, low->outer - low->inner, high->outer - high->inner,
      name[1 - out], name[out]};
  ret_band->span = MIN(span_of(high), span_of(low));
  return TRUE;
}

static gboolean
bites_fit(HfLaying *laying, guint entry, const Band *band, double low, double high, GError **error)
{
  gboolean low_fits = low < band->low_strip, high_fits = high < band->high_strip;
  if (low_fits && high_fits)
    return TRUE;
  const char *name = low_fits ? band->high_name : band->low_name;
  g_autofree char *bite = hf_text_mm(low_fits ? high : low);
  g_autofree char *strip = hf_text_mm(low_fits ? band->high_strip : band->low_strip);
  g_autofree char *fix =
      g_strdup_printf("make \"%s\" wider than %s, or take a blunter shape", name, bite);
  return hf_lay_refuse(laying, entry, error, HF_ERROR_NO_ROOM, fix,
                       "to be held, %s must bite %s into \"%s\", whose strip is %s wide",
                       hf_lay_entry(laying, entry)->name, bite, name, strip);
}

/* Size and radius of the middle at which both rings are bitten. @way -1: it stands on its head. A
 * shape with its one tip at its foot is solved as one that stands on its head. */
static gboolean
reach_both(HfLaying *laying, guint entry, const Band *band, double way, double *ret_s,
           double *ret_middle, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  HfTips tips = hf_entry_row(e)->shape->tips(&e->separator);
  way = tips.tip_below ? -way : way;
  double joint = HF_OVER_LIMIT * laying->joint_limit, least = MAX(laying->joint_limit / 2, 1);
  double s = (band->high - band->low) / 2, high = 0, low = 0, single = 0;
  for (int i = 0; i < ROUNDS; i++) {
    double bite = needed_bite(tips, s, joint);
    high = isnan(e->separator.bite) ? MAX(bite - sagitta(band->high, joint), least)
                                    : e->separator.bite;
    low =
        isnan(e->separator.bite) ? MAX(bite + sagitta(band->low, joint), least) : e->separator.bite;
    double outside = band->high + high, inside = band->low - low;
    single = way > 0 ? outside : inside;
    s = size_between(tips, single, way > 0 ? inside : outside, way, outside);
  }
  if (!bites_fit(laying, entry, band, low, high, error))
    return FALSE;
  *ret_s = s;
  *ret_middle = single - way * s;
  return TRUE;
}

static void
add_copy(HfLaying *laying, guint entry, const HfOutline *unit, double s, HfPoint at, double turn)
{
  HfLaid *laid = &laying->laid[entry];
  guint copy = laid->frames->len;
  HfMatrix frame = hf_matrix_then(hf_matrix_turn(turn), hf_matrix_move(at.x, at.y));
  g_array_append_val(laid->frames, frame);
  HfOutline *placed = hf_outline_new();
  hf_outline_append(placed, unit, hf_matrix_then(hf_matrix_scale(s, s), frame));
  HfShape *shape = hf_shape_new(placed, hf_lay_label(laying, entry, copy), entry, -1,
                                hf_lay_entry(laying, entry)->as == HF_AS_OPENING);
  shape->copy = copy;
  g_ptr_array_add(laid->shapes, shape);
  laid->own = hf_box_union(laid->own, (HfBox){{-s, -s}, {s, s}});
}

/* One at @angle, as large as it is said or as reaches both rings. */
static gboolean
add_at(HfLaying *laying, guint entry, const HfOutline *unit, const Band *band, double angle,
       GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  double way = sin(angle) < -1e-9 ? -1 : 1;
  double s = e->separator.size / 2, middle = (band->low + band->high) / 2;
  if (isnan(s) && !reach_both(laying, entry, band, way, &s, &middle, error))
    return FALSE;
  add_copy(laying, entry, unit, s, hf_point_polar(band->centre, middle, angle),
           angle - way * G_PI_2);
  return TRUE;
}

/* In the free arcs: how wide it is follows from its size, which is the same all round. */
static gboolean
lay_between(HfLaying *laying, guint entry, const HfOutline *unit, const Band *band, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  double s = e->separator.size / 2, middle = (band->low + band->high) / 2;
  if (isnan(s) && !reach_both(laying, entry, band, 1, &s, &middle, error))
    return FALSE;
  g_autoptr(GArray) angles = g_array_new(FALSE, FALSE, sizeof(double));
  double wide = s * hf_box_width(hf_outline_box(unit));
  HfFreeBand free_band = {band->centre, middle, band->span};
  if (!hf_lay_between_angles(laying, entry, free_band, wide, angles, error))
    return FALSE;
  for (guint i = 0; i < angles->len; i++)
    if (!add_at(laying, entry, unit, band, g_array_index(angles, double, i), error))
      return FALSE;
  laying->laid[entry].centre = band->centre;
  return TRUE;
}

static gboolean
lay_in_band(HfLaying *laying, guint entry, const HfOutline *unit, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  Band band = {0};
  if (!find_band(laying, entry, &band, error))
    return FALSE;
  if (hf_lay_is_between(e))
    return lay_between(laying, entry, unit, &band, error);
  for (guint i = 0; e->place.at != NULL && i < e->place.at->len; i++) {
    const HfSpot *spot = &g_array_index(e->place.at, HfSpot, i);
    if (spot->kind != HF_SPOT_DIRECTION)
      break;
    if (!hf_lay_has_spot(laying, entry, band.low_entry, *spot, error) ||
        !hf_lay_has_spot(laying, entry, band.high_entry, *spot, error))
      return FALSE;
    if (!add_at(laying, entry, unit, &band, spot->angle, error))
      return FALSE;
  }
  if (laying->laid[entry].frames->len == 0)
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "say at which directions, as in 'at: [left, right]'",
                         "where in the band it goes is not said");
  laying->laid[entry].centre = band.centre;
  return TRUE;
}

gboolean
hf_lay_separator(HfLaying *laying, guint entry, GError **error)
{
  const HfEntry *e = hf_lay_entry(laying, entry);
  g_autoptr(HfOutline) unit = hf_outline_new();
  hf_entry_row(e)->shape->draw(unit, &e->separator);
  if (e->separator.band != NULL && e->separator.band->len > 0)
    return lay_in_band(laying, entry, unit, error);
  if (isnan(e->separator.size))
    return hf_lay_refuse(laying, entry, error, HF_ERROR_BAD_VALUE,
                         "give it a size, or the two rings of a band", "it has no size");
  g_autoptr(HfOutline) own = hf_outline_new();
  hf_outline_append(own, unit, hf_matrix_scale(e->separator.size / 2, e->separator.size / 2));
  if (!hf_lay_frames_looking(laying, entry, hf_outline_box(own), HF_LOOK_READING, 0, error))
    return FALSE;
  hf_lay_shape(laying, entry, own, -1);
  return TRUE;
}
