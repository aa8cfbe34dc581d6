/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-longer.c - a bar that ends short of what it points at: longer, until it runs into it.
 *
 *    (   =======   )        ( ============)
 *    (    B A Y    )   ->   (    B A Y    )      the ring round it holds the bar, and what
 *     `.         .'          `.         .'       stands on the bar
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include <string.h>

static const double FARTHEST = 0.5; /* lengths of the bar: it points at nothing farther off */
static const double DEEPEST = 0.75; /* of the metal that it meets: deeper, it comes out behind */

/* ---- straight ahead ---------------------------------------------------------------------------
 */

typedef struct {
  double far;
  guint shape;
} Crossing;

static int
by_distance(gconstpointer p, gconstpointer q)
{
  double a = ((const Crossing *)p)->far, b = ((const Crossing *)q)->far;
  return (a > b) - (a < b);
}

/* (transfer full) (element-type Crossing) Where the half line leaves or enters metal, in order. */
static GArray *
crossings_of(const HfRegion *region, HfPoint from, HfPoint way)
{
  GArray *crossings = g_array_new(FALSE, FALSE, sizeof(Crossing));
  for (guint r = 0; r < region->rings->len; r++) {
    const HfRing *ring = hf_region_ring(region, r);
    for (guint v = 0; v < ring->n; v++) {
      HfPoint a = hf_point_sub(hf_edge_start(region, (HfEdgeId){r, v}), from),
              b = hf_point_sub(hf_edge_end(region, (HfEdgeId){r, v}), from);
      double side_a = hf_point_cross(way, a), side_b = hf_point_cross(way, b);
      if ((side_a > 0) == (side_b > 0))
        continue;
      Crossing one = {hf_point_dot(way, hf_point_mix(a, b, side_a / (side_a - side_b))),
                      ring->from != NULL ? ring->from[v].shape : HF_NO_SHAPE};
      if (one.far > 0)
        g_array_append_val(crossings, one);
    }
  }
  g_array_sort(crossings, by_distance);
  return crossings;
}

gboolean
hf_proposing_ray(const HfProposing *asked, HfPoint from, HfPoint way, HfRay *ret_ray)
{
  g_autoptr(GArray) crossings = crossings_of(asked->sign->metal->region, from, way);
  if (crossings->len < 2)
    return FALSE;
  const Crossing *at = &g_array_index(crossings, Crossing, 0);
  *ret_ray = (HfRay){at[0].far, at[1].far - at[0].far,
                     crossings->len > 2 ? at[2].far - at[1].far : INFINITY, at[1].shape};
  return TRUE;
}

/* ---- a bar ------------------------------------------------------------------------------------
 */

/* One end of a bar: how far it is to other metal, how deep it may run in, and whose that is. */
typedef struct {
  double gap, deep;
  guint shape;
  gboolean meets;
} End;

/* Along the middle of the bar and near both of its edges: the widest gap, the thinnest metal. */
static End
look_ahead(const HfProposing *asked, const HfBarEntry *bar, HfPoint middle, HfPoint way)
{
  HfPoint across = hf_point(-way.y, way.x);
  End end = {0, INFINITY, HF_NO_SHAPE, TRUE};
  for (int side = -1; side <= 1; side++) {
    HfPoint from = hf_point_add(hf_point_add(middle, hf_point_scale(way, bar->length / 2 - 0.1)),
                                hf_point_scale(across, side * 0.49 * bar->height));
    HfRay ray;
    if (!hf_proposing_ray(asked, from, way, &ray) || ray.gap > FARTHEST * bar->length)
      return (End){.meets = FALSE};
    if (ray.leaves > 0.2) /* it runs into something here already */
      return (End){.meets = FALSE};
    end.gap = fmax(end.gap, ray.gap);
    end.deep = fmin(end.deep, ray.thick);
    end.shape = ray.shape;
  }
  return end;
}

/* "hoop", "hoop and frame" */
static char *
met(const HfProposing *asked, const End ends[2])
{
  const char *names[2] = {NULL, NULL};
  for (int i = 0; i < 2; i++)
    if (ends[i].meets && ends[i].shape < asked->sign->layout->shapes->len)
      names[i] = hf_proposing_called(
          asked,
          hf_proposing_entry(asked, hf_layout_shape(asked->sign->layout, ends[i].shape)->entry));
  if (names[0] != NULL && names[1] != NULL && names[0] != names[1])
    return g_strdup_printf("%s and %s", names[1], names[0]);
  const char *one = names[0] != NULL ? names[0] : names[1];
  return g_strdup_printf("%s%s", one != NULL ? one : "the metal there",
                         ends[0].meets && ends[1].meets ? " at both ends" : "");
}

/* Does a piece hang in the air that is not the bar's own? */
static gboolean
leaves_others(HfProposing *asked, guint bar)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  for (guint i = 0; i < pieces->len; i++) {
    const HfAdrift *piece = &g_array_index(pieces, HfAdrift, i);
    const HfShape *shape = hf_layout_shape(asked->sign->layout, piece->shape);
    if (shape->entry != bar && shape->letter >= 0)
      return TRUE;
  }
  return FALSE;
}

/* A joint and what a caution asks more, as far as it does not come out behind. */
static double
bite_of(const HfProposing *asked, const End *end)
{
  double joint = HF_OVER_LIMIT * hf_proposing_limit(asked, HF_LAW_WEAK_JOINT);
  return end->meets ? end->gap + fmin(joint, DEEPEST * end->deep) : 0;
}

/* About its middle where it reaches on both sides; else out to the one. */
static void
lengthen(HfProposing *asked, guint entry, const End ends[2], HfPoint way, gboolean and_tie)
{
  const HfEntry *e = hf_proposing_entry(asked, entry);
  gboolean both = ends[0].meets && ends[1].meets;
  double more = fmax(bite_of(asked, &ends[0]), bite_of(asked, &ends[1]));
  double step = strcmp(hf_entry_unit(e, "length"), "in") == 0 ? 25.4 / 20 : 1;
  double length = ceil((e->bar.length + (both ? 2 : 1) * more) / step - 1e-6) * step;
  g_autofree char *into = met(asked, ends), *figure = hf_text_mm(length);
  HfProposal *proposal = hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                                    hf_phrase("make %s %s long, so that it runs into %s%s",
                                              hf_proposing_called(asked, e), figure, into,
                                              and_tie ? ", and tie the rest" : ""));
  if (proposal == NULL)
    return;
  hf_propose_set(asked, proposal, entry, "length", hf_say_mm(e, "length", length));
  if (and_tie)
    hf_propose_ties(proposal);
  HfPoint out = hf_point_scale(way, (length - e->bar.length) / (ends[0].meets ? 2 : -2));
  if (!both && !hf_propose_move(asked, proposal, entry, 0, out, hf_point(0, 0)))
    g_ptr_array_remove(asked->found, proposal);
}

static const HfShape *
shape_of(const HfProposing *asked, guint entry)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++)
    if (hf_layout_shape(layout, i)->entry == entry)
      return hf_layout_shape(layout, i);
  return NULL;
}

static void
propose_longer(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    const HfEntry *e = hf_proposing_entry(asked, i);
    const HfShape *shape = shape_of(asked, i);
    g_autoptr(GArray) aims = hf_proposing_aims(asked, (gint)i);
    if (e->kind != HF_ENTRY_BAR || e->as != HF_AS_METAL || shape == NULL || aims->len == 0 ||
        (e->place.at != NULL && e->place.at->len > 1))
      continue;
    HfPoint way = hf_point(shape->em.xx, shape->em.yx);
    HfPoint middle = hf_point(shape->em.x0, shape->em.y0);
    way = hf_point_scale(way, 1 / fmax(hf_point_length(way), 1e-9));
    End ends[2] = {look_ahead(asked, &e->bar, middle, way),
                   look_ahead(asked, &e->bar, middle, hf_point_scale(way, -1))};
    if (!ends[0].meets && !ends[1].meets)
      continue;
    lengthen(asked, i, ends, way, FALSE);
    if (leaves_others(asked, i) && hf_proposing_rule(asked) < 0)
      lengthen(asked, i, ends, way, TRUE);
  }
}

const HfFamily hf_family_longer = {
    .key = "longer", .guards = HF_GUARDS_USUAL, .seen = 0.25, .propose = propose_longer};
