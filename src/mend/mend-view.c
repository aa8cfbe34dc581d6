/* SPDX-License-Identifier: GPL-3.0-or-later
 * mend-view.c - what one round of mending sees: the axis when it is asked for, who made which edge,
 * and the list of what was found to mend.
 */
#include "geom/retrace.h"
#include "mend/mend-private.h"
#include <string.h>

#define FINE 0.002 /* mm */
/* Units of work for each edge of the metal near by; and how many others are passed by for one. */
enum { ALLOWED_WORK = 5, PASSED_BY = 16 };

const HfMendNet *
hf_mend_metal_net(HfMendView *view)
{
  if (view->metal_net == NULL)
    view->metal_net = hf_mend_net_new(view->sign->metal->region, FALSE, view->cancel);
  return view->metal_net;
}

const HfMendNet *
hf_mend_gap_net(HfMendView *view)
{
  if (view->gap_net == NULL)
    view->gap_net = hf_mend_net_new(view->sign->metal->region, TRUE, view->cancel);
  return view->gap_net;
}

/* 1 + the drawn shape that @shape is or was mended for; 0: none. */
static guint
mended_of(const HfMendView *view, guint shape)
{
  if (shape >= view->sign->layout->shapes->len)
    return 0;
  return shape < view->n_drawn ? shape + 1 : hf_layout_shape(view->sign->layout, shape)->mends;
}

guint
hf_mend_maker(const HfMendView *view, const HfMendNet *net, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(view->sign->metal->region, id.ring);
  guint vertex = net->turned ? (2 * ring->n - 2 - id.vertex) % ring->n : id.vertex;
  guint shape = ring->from == NULL ? HF_NO_SHAPE : ring->from[vertex].shape;
  guint mended = mended_of(view, shape);
  return mended > 0 ? mended - 1 : shape;
}

typedef struct {
  guint shape;
  double length;
} Share;

static void
add_share(GArray *shares, guint shape, double length)
{
  for (guint i = 0; i < shares->len; i++)
    if (g_array_index(shares, Share, i).shape == shape) {
      g_array_index(shares, Share, i).length += length;
      return;
    }
  Share share = {shape, length};
  g_array_append_val(shares, share);
}

void
hf_mend_makers(const HfMendView *view, const HfMendNet *net, const GArray *zone, guint *ret_a,
               guint *ret_b)
{
  g_autoptr(GArray) shares = g_array_new(FALSE, FALSE, sizeof(Share));
  for (guint i = 0; i < zone->len; i++) {
    const HfNetPiece *piece = &g_array_index(zone, HfNetPiece, i);
    const HfAxisEdge *edge = &g_array_index(net->axis->edges, HfAxisEdge, piece->edge);
    double length = hf_point_distance(hf_mend_net_point(net, piece->edge, piece->from).at,
                                      hf_mend_net_point(net, piece->edge, piece->to).at);
    add_share(shares, hf_mend_maker(view, net, edge->site_a), length);
    add_share(shares, hf_mend_maker(view, net, edge->site_b), length);
  }
  Share best = {HF_NO_SHAPE, -1}, second = best;
  for (guint i = 0; i < shares->len; i++) {
    Share one = g_array_index(shares, Share, i);
    if (one.length > best.length) {
      second = best;
      best = one;
    } else if (one.length > second.length) {
      second = one;
    }
  }
  *ret_a = best.shape;
  *ret_b = second.shape != HF_NO_SHAPE ? second.shape : best.shape;
}

static gboolean
is_meant(const HfMendView *view, guint shape)
{
  for (guint i = 0; view->of != NULL && i < view->of->len; i++)
    if (g_array_index(view->of, guint, i) == shape)
      return TRUE;
  /* what mending added before belongs to what is meant */
  return view->of == NULL || (shape != HF_NO_SHAPE && shape >= view->n_drawn);
}

/* "the mended web of letter 'R' of ..."; of what was mended before: its name without that. */
static char *
label_of(const HfMendView *view, const char *what, guint shape)
{
  const char *of = shape < view->sign->layout->shapes->len
                       ? hf_layout_shape(view->sign->layout, shape)->label
                       : "the sign";
  const char *inner = shape >= view->n_drawn ? strstr(of, " of ") : NULL;
  g_autoptr(GString) label = g_string_new(what);
  g_string_replace(label, "%s", inner != NULL ? inner + strlen(" of ") : of, 1);
  return g_string_free(g_steal_pointer(&label), FALSE);
}

/* A plate whose edge is worked out from its letters: a crack in it is nobody's drawing. */
static gboolean
is_grown(const HfMendView *view, guint shape)
{
  if (shape >= view->n_drawn)
    return FALSE;
  const HfShape *of = hf_layout_shape(view->sign->layout, shape);
  const HfEntry *entry = hf_recipe_at(view->sign->recipe, of->entry);
  return entry->kind == HF_ENTRY_PLATE && entry->plate.shape == HF_PLATE_OUTLINE && !of->opening;
}

/* What of @change may be added, by plates, rings and bars. A joint of two of them lies outside
 * both. (nullable) */
static HfRegion *
held_edges(HfMendView *view, HfLawKind kind, const HfRegion *change, const guint makers[2])
{
  for (int i = 0; i < 2; i++)
    if (hf_mend_is_letter(view, makers[i]) &&
        !hf_layout_shape(view->sign->layout, makers[i])->opening)
      return hf_mend_beside_letters(view, change, makers, 2);
  gboolean may =
      kind == HF_LAW_WEAK_JOINT || (hf_law(kind)->mends == HF_MENDS_GAP &&
                                    is_grown(view, makers[0]) && is_grown(view, makers[1]));
  return may ? hf_region_copy(change) : hf_mend_within_fixed(view, change);
}

/* What may be done of what is asked for; takes @outline. %NULL: nothing. */
static HfOutline *
allowed(HfMendView *view, HfLawKind kind, HfOutline *outline, gboolean opening, guint a, guint b)
{
  g_autoptr(HfOutline) asked = outline;
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, asked, 0, FINE);
  g_autoptr(HfRegion) change = hf_region_clean(raw);
  g_autoptr(HfRegion) held =
      opening ? hf_region_copy(change) : held_edges(view, kind, change, (guint[]){a, b});
  if (held == NULL || !hf_mend_spares_letters(view, held, !opening))
    return NULL;
  hf_mend_note_change(view, held, !opening);
  return hf_region_area(change) - hf_region_area(held) > 1e-4
             ? hf_region_curves_of(held, asked, FINE)
             : g_steal_pointer(&asked);
}

static void
count_work(const HfMendView *view, HfBox box)
{
  const HfRegion *metal = view->sign->metal->region;
  g_autoptr(HfRegion) about = hf_region_about(metal, box);
  hf_cancel_count(view->cancel,
                  ALLOWED_WORK * hf_region_n_edges(about) + hf_region_n_edges(metal) / PASSED_BY);
}

gboolean
hf_mend_add(HfMendView *view, HfLawKind kind, HfPoint at, HfOutline *outline, gboolean opening,
            const char *what, guint a, guint b)
{
  if ((!is_meant(view, a) && !is_meant(view, b)) || hf_outline_n_contours(outline) == 0) {
    hf_outline_free(outline);
    return FALSE;
  }
  count_work(view, hf_box_grow(hf_outline_box(outline), 1));
  outline = allowed(view, kind, outline, opening, a, b);
  if (outline == NULL || hf_outline_n_contours(outline) == 0) {
    hf_outline_free(outline);
    return FALSE;
  }
  HfMending mending = {.kind = kind, .at = at, .box = hf_outline_box(outline)};
  mending.shapes[0] = hf_shape_new(outline, label_of(view, what, a), view->entry, -1, opening);
  mending.shapes[0]->mends = mended_of(view, a);
  g_array_append_val(view->mendings, mending);
  return TRUE;
}
