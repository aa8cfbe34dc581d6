/* SPDX-License-Identifier: GPL-3.0-or-later
 * cut-wished.c - what the recipe's key `cut` wants, brought to the contours of one sheet.
 *
 *   "harbour"                  all contours that its shapes made most of
 *   "2nd A of harbour"         those that this letter did
 *   "letter 'E' of ... (2 of 4)"   the one that the program calls so; without the count all four
 *
 * Programs have square brackets for round ones, so both are the same here.
 */
#include "base/text.h"
#include "run/cut-wished-private.h"
#include "run/ring-names-private.h"
#include <string.h>

enum { MOST_PAIRS = 1000000 };

/* ---- names ------------------------------------------------------------------------------------
 */

static char
plain(char c)
{
  return c == '[' ? '(' : c == ']' ? ')' : c;
}

/* Is it ` (2 of 3)`? */
static gboolean
is_count(const char *text)
{
  static const char *const between[] = {" (", " of ", ")"};
  for (guint i = 0; i < G_N_ELEMENTS(between); i++) {
    if (!g_str_has_prefix(text, between[i]))
      return FALSE;
    text += strlen(between[i]);
    text += strspn(text, "0123456789");
  }
  return *text == '\0';
}

/* Is @said the name of a contour, its count left out or not? */
static gboolean
is_called(const char *name, const char *said)
{
  gsize n = strlen(said);
  for (gsize i = 0; i < n; i++)
    if (plain(name[i]) != plain(said[i]))
      return FALSE; /* also where the name ends */
  return name[n] == '\0' || is_count(name + n);
}

typedef struct {
  const HfSign *layer;
  const char *const *names;
  GArray *makers; /* guint, of the rings */
  guint n;
} Rings;

/* Which rings @said means: @ret_is, one for each. Returns: how many. */
static guint
find_meant(const Rings *rings, const char *said, gboolean *ret_is)
{
  guint found = 0;
  for (guint i = 0; i < rings->n; i++)
    if ((ret_is[i] = is_called(rings->names[i], said)))
      found++;
  if (found > 0)
    return found;
  g_autoptr(GArray) shapes = hf_layout_meant(rings->layer->recipe, rings->layer->layout, said);
  for (guint i = 0; i < rings->n; i++)
    for (guint k = 0; k < shapes->len && !ret_is[i]; k++)
      if (g_array_index(rings->makers, guint, i) == g_array_index(shapes, guint, k)) {
        ret_is[i] = TRUE;
        found++;
      }
  return found;
}

static Rings
rings_of(const HfSign *layer, const char *const *names)
{
  return (Rings){layer, names, hf_ring_makers(layer), layer->metal->region->rings->len};
}

/* All names of @cut, one after another. */
static GPtrArray *
all_names(const HfCutWishes *cut)
{
  GPtrArray *all = g_ptr_array_new();
  const GPtrArray *lists[] = {cut->first, cut->last, cut->order};
  for (guint l = 0; l < G_N_ELEMENTS(lists); l++)
    for (guint i = 0; i < lists[l]->len; i++)
      g_ptr_array_add(all, lists[l]->pdata[i]);
  for (guint i = 0; i < cut->wishes->len; i++)
    g_ptr_array_add(all, g_array_index(cut->wishes, HfCutWish, i).of);
  return all;
}

/* Takes out of @left what means something of this sheet, and adds to @known what might be meant. */
static void
take_meant(const HfSign *layer, GPtrArray *left, GPtrArray *known)
{
  char **names = hf_ring_names(layer);
  Rings rings = rings_of(layer, (const char *const *)names);
  g_autofree gboolean *is = g_new(gboolean, MAX(rings.n, 1));
  for (guint i = left->len; i-- > 0;)
    if (find_meant(&rings, left->pdata[i], is) > 0)
      g_ptr_array_remove_index(left, i);
  for (guint i = 0; names[i] != NULL; i++)
    g_ptr_array_add(known, names[i]);
  g_free(names);
  g_array_unref(rings.makers);
}

static HfMark
mark_of(const HfCutWishes *cut, const char *name)
{
  for (guint i = 0; i < cut->wishes->len; i++)
    if (g_array_index(cut->wishes, HfCutWish, i).of == name)
      return g_array_index(cut->wishes, HfCutWish, i).mark;
  return (HfMark){0, 0};
}

gboolean
hf_cut_wished_names(const HfSign *sign, GError **error)
{
  const HfCutWishes *cut = &sign->recipe->cut;
  g_autoptr(GPtrArray) left = all_names(cut);
  g_autoptr(GPtrArray) known = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < hf_sign_n_layers(sign) && left->len > 0; i++)
    take_meant(hf_sign_layer(sign, i), left, known);
  if (left->len == 0)
    return TRUE;
  for (guint i = 0; i < sign->recipe->entries->len; i++)
    g_ptr_array_add(known, g_strdup(hf_recipe_at(sign->recipe, i)->name));
  g_ptr_array_add(known, NULL);
  const char *said = left->pdata[0];
  const char *near = hf_text_nearest(said, (const char *const *)known->pdata);
  g_autofree char *where = hf_recipe_where(sign->recipe, mark_of(cut, said));
  g_autofree char *fix =
      near != NULL ? g_strdup_printf("write %s", near)
                   : g_strdup("name an entry, or a cut as the program's comments call it");
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "\"cut\" names %s, and nothing is cut there",
               said);
  return FALSE;
}

/* ---- starts and ways --------------------------------------------------------------------------
 */

/* What @more says comes before what @way says. */
static void
lay_over(HfWayWish *way, const HfWayWish *more)
{
  if (more->in != HF_WAY_IN_USUAL)
    way->in = more->in;
  if (!isnan(more->length))
    way->length = more->length;
  if (!isnan(more->leave_off))
    way->leave_off = more->leave_off;
}

static HfSpot
start_of(const HfSign *layer, const HfCutWish *wish)
{
  HfSpot spot = g_array_index(wish->start, HfSpot, 0);
  if (spot.kind == HF_SPOT_POINT)
    spot.point = hf_point_add(spot.point, layer->layout->centre);
  return spot;
}

static gboolean
has_ways(const HfCutWishes *cut)
{
  return cut->wishes->len > 0 || cut->way.in != HF_WAY_IN_USUAL || !isnan(cut->way.length) ||
         !isnan(cut->way.leave_off);
}

HfLeadWish *
hf_cut_wished_ways(const HfSign *layer, const char *const *names)
{
  const HfCutWishes *cut = &layer->recipe->cut;
  if (!has_ways(cut))
    return NULL;
  Rings rings = rings_of(layer, names);
  HfLeadWish *wishes = g_new0(HfLeadWish, MAX(rings.n, 1));
  for (guint r = 0; r < rings.n; r++)
    wishes[r].way = cut->way;
  g_autofree gboolean *is = g_new(gboolean, MAX(rings.n, 1));
  for (guint i = 0; i < cut->wishes->len; i++) {
    const HfCutWish *wish = &g_array_index(cut->wishes, HfCutWish, i);
    find_meant(&rings, wish->of, is);
    for (guint r = 0; r < rings.n; r++) {
      if (!is[r])
        continue;
      lay_over(&wishes[r].way, &wish->way);
      if (wish->start->len > 0)
        wishes[r].start = start_of(layer, wish);
    }
  }
  g_array_unref(rings.makers);
  return wishes;
}

/* ---- order ------------------------------------------------------------------------------------
 */

typedef struct {
  const HfPaths *paths;
  const char *const *names;
  GArray *pairs; /* HfPlanBefore */
} Order;

/* Does path @inner lie, however deep, in path @outer? */
static gboolean
lies_in(const HfPaths *paths, guint inner, guint outer)
{
  for (gint at = hf_torch_path(paths, inner)->parent; at >= 0;
       at = hf_torch_path(paths, (guint)at)->parent)
    if (at == (gint)outer)
      return TRUE;
  return FALSE;
}

static gboolean
add_pair(Order *order, guint first, guint then, GError **error)
{
  const HfPaths *paths = order->paths;
  if (lies_in(paths, then, first)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, "cut", "take one of them out of the order",
                 "%s lies in %s and so is cut before it, the recipe has it the other way round",
                 order->names[hf_torch_path(paths, then)->ring],
                 order->names[hf_torch_path(paths, first)->ring]);
    return FALSE;
  }
  if (order->pairs->len >= MOST_PAIRS) {
    hf_error_set(error, HF_ERROR_TOO_BIG, "cut", "name fewer of them",
                 "the order that is wished for has over " G_STRINGIFY(MOST_PAIRS) " pairs of cuts");
    return FALSE;
  }
  HfPlanBefore pair = {first, then};
  g_array_append_val(order->pairs, pair);
  return TRUE;
}

/* Each path that is one of @first before each that is one of @then; what is both is neither. */
static gboolean
add_pairs(Order *order, const gboolean *first, const gboolean *then, GError **error)
{
  const HfPaths *paths = order->paths;
  for (guint a = 0; a < paths->paths->len; a++)
    for (guint b = 0; b < paths->paths->len && first[hf_torch_path(paths, a)->ring]; b++) {
      guint x = hf_torch_path(paths, a)->ring, y = hf_torch_path(paths, b)->ring;
      if (then[y] && !(first[y] && then[x]) && !add_pair(order, a, b, error))
        return FALSE;
    }
  return TRUE;
}

static void
meant_of(const Rings *rings, const GPtrArray *said, gboolean *ret_is)
{
  g_autofree gboolean *is = g_new(gboolean, MAX(rings->n, 1));
  memset(ret_is, 0, rings->n * sizeof *ret_is);
  for (guint i = 0; i < said->len; i++) {
    find_meant(rings, said->pdata[i], is);
    for (guint r = 0; r < rings->n; r++)
      ret_is[r] |= is[r];
  }
}

/* All that is not @is, less what @is must wait for (@inner) or what must wait for it. */
static void
others_of(const HfPaths *paths, const gboolean *is, guint n, gboolean inner, gboolean *ret_others)
{
  for (guint r = 0; r < n; r++)
    ret_others[r] = !is[r];
  for (guint a = 0; a < paths->paths->len; a++) {
    const HfTorchPath *path = hf_torch_path(paths, a);
    for (gint at = path->parent; at >= 0; at = hf_torch_path(paths, (guint)at)->parent) {
      guint outer = hf_torch_path(paths, (guint)at)->ring;
      if (inner && is[outer])
        ret_others[path->ring] = FALSE;
      if (!inner && is[path->ring])
        ret_others[outer] = FALSE;
    }
  }
}

static gboolean
add_ends(Order *order, const Rings *rings, const HfCutWishes *cut, GError **error)
{
  g_autofree gboolean *is = g_new0(gboolean, MAX(rings->n, 1));
  g_autofree gboolean *others = g_new0(gboolean, MAX(rings->n, 1));
  meant_of(rings, cut->first, is);
  others_of(order->paths, is, rings->n, TRUE, others);
  if (!add_pairs(order, is, others, error))
    return FALSE;
  meant_of(rings, cut->last, is);
  others_of(order->paths, is, rings->n, FALSE, others);
  return add_pairs(order, others, is, error);
}

static gboolean
add_chain(Order *order, const Rings *rings, const GPtrArray *said, GError **error)
{
  g_autofree gboolean *before = g_new0(gboolean, MAX(rings->n, 1));
  g_autofree gboolean *is = g_new0(gboolean, MAX(rings->n, 1));
  for (guint i = 0; i < said->len; i++) {
    if (find_meant(rings, said->pdata[i], is) == 0) /* of another sheet */
      continue;
    if (!add_pairs(order, before, is, error))
      return FALSE;
    memcpy(before, is, rings->n * sizeof *is);
  }
  return TRUE;
}

GArray *
hf_cut_wished_order(const HfSign *layer, const char *const *names, const HfPaths *paths,
                    GError **error)
{
  const HfCutWishes *cut = &layer->recipe->cut;
  Order order = {paths, names, g_array_new(FALSE, FALSE, sizeof(HfPlanBefore))};
  if (cut->first->len + cut->last->len + cut->order->len == 0)
    return order.pairs;
  Rings rings = rings_of(layer, names);
  gboolean ok =
      add_ends(&order, &rings, cut, error) && add_chain(&order, &rings, cut->order, error);
  g_array_unref(rings.makers);
  if (ok)
    return order.pairs;
  g_array_unref(order.pairs);
  return NULL;
}
