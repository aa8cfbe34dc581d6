/* SPDX-License-Identifier: GPL-3.0-or-later
 * layer-signs.c - a sign of several sheets of metal, one behind the other.
 *
 *   recipe ─ layout of all ─┬─ front: layout ─ drilled ─ metal ─ check ─┐
 *                           └─ back:  layout ─ drilled ─ metal ─ check ─┴─ joined: one verdict
 *
 * All is laid out in one frame, so what is placed by an entry of another layer is placed to the
 * last bit. Metal is each layer's own: what adds or cuts in one does nothing in another, but for
 * openings that something goes through (holes), which are the same curves in every layer that they
 * meet. docs/decisions/0015-layers.md
 */
#include "base/file.h"
#include "base/text.h"
#include "recipe/kind.h"
#include "sign/sign-private.h"

static const double MEETS_MM2 = 1e-3; /* less of a hole in metal is rounding */
static const double COVERED = 0.5;    /* of a letter's area */
static const double ROUND_IT = 0.2;   /* mm */

typedef struct {
  HfLayerAt at[HF_N_LAYERS];
  HfRecipe *seen[HF_N_LAYERS]; /* as it sees the recipe */
  HfLayout *layouts[HF_N_LAYERS];
  HfMetal *metals[HF_N_LAYERS];
  HfProcess processes[HF_N_LAYERS];
  guint n;
} Layers;

static void
layers_clear(Layers *layers)
{
  for (guint i = 0; i < layers->n; i++) {
    hf_recipe_free(layers->seen[i]);
    hf_layout_free(layers->layouts[i]);
    hf_metal_free(layers->metals[i]);
  }
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Layers, layers_clear)

/* ---- laid out ---------------------------------------------------------------------------------
 */

static gboolean
find_processes(Layers *layers, HfRecipe *recipe, const HfShop *shop, double *ret_joints,
               GError **error)
{
  guint there = hf_recipe_layers(recipe);
  for (int at = 0; at < HF_N_LAYERS; at++)
    ret_joints[at] = NAN;
  for (int at = HF_LAYER_FRONT; at < HF_N_LAYERS; at++) {
    if ((there & (1u << at)) == 0)
      continue;
    guint i = layers->n++;
    layers->at[i] = (HfLayerAt)at;
    layers->seen[i] = hf_recipe_in_layer(recipe, (HfLayerAt)at, HF_MOUNT_NONE);
    if (!hf_process_of(layers->seen[i], shop, &layers->processes[i], error))
      return FALSE;
    ret_joints[at] =
        hf_law_limit(HF_LAW_WEAK_JOINT, &layers->processes[i], shop, layers->seen[i]).stop;
  }
  for (int at = 0; at < HF_N_LAYERS; at++) /* a group may be said to be where no metal is */
    if (isnan(ret_joints[at]))
      ret_joints[at] = ret_joints[layers->at[0]];
  return TRUE;
}

static gboolean
lay_out(Layers *layers, HfRecipe *recipe, const HfShop *shop, HfFonts *fonts,
        const HfCancel *cancel, GError **error)
{
  double joints[HF_N_LAYERS];
  gboolean lowers = shop != NULL && shop->tie_dots == HF_TIE_DOTS_LOWERED;
  if (!find_processes(layers, recipe, shop, joints, error))
    return FALSE;
  HfLayout *all = hf_layout_new_layered(recipe, fonts, joints, cancel, error);
  if (all == NULL)
    return FALSE;
  for (guint i = 0; i < layers->n; i++)
    layers->layouts[i] = hf_layout_of_layer(all, recipe, layers->at[i]);
  hf_layout_free(all);
  for (guint i = 0; i < layers->n; i++) /* each shape has one owner now, and may change */
    hf_layout_lower_dots(layers->layouts[i], layers->seen[i], joints[layers->at[i]], lowers);
  return TRUE;
}

/* ---- drilled ----------------------------------------------------------------------------------
 */

static gboolean
goes_through(const HfEntry *entry)
{
  switch (entry->kind) { /* a keyhole takes the head of a screw in the wall behind its sheet */
  case HF_ENTRY_HOLE:
    return !(entry->hole.through == 0);
  case HF_ENTRY_HOLES:
    return !(entry->holes.through == 0);
  case HF_ENTRY_SLOT:
    return !(entry->slot.through == 0);
  default:
    return FALSE;
  }
}

/* (transfer full) @shape so much larger all round. */
static HfRegion *
region_of(const HfShape *shape, double more)
{
  HfBox box = hf_outline_box(shape->outline);
  HfPoint middle = hf_box_centre(box);
  double k = 1 + 2 * more / fmax(fmin(hf_box_width(box), hf_box_height(box)), 1e-3);
  g_autoptr(HfOutline) larger = hf_outline_new();
  HfMatrix m = hf_matrix_then(hf_matrix_move(-middle.x, -middle.y), hf_matrix_scale(k, k));
  hf_outline_append(larger, shape->outline, hf_matrix_then(m, hf_matrix_move(middle.x, middle.y)));
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, larger, HF_NO_SHAPE, HF_FLATTEN_MM);
  return hf_region_clean(raw);
}

static gboolean
meets(const HfShape *shape, double more, const HfRegion *metal)
{
  HfBox box = hf_box_grow(hf_outline_box(shape->outline), more);
  if (!hf_box_overlaps(box, hf_region_box(metal)))
    return FALSE;
  g_autoptr(HfRegion) own = region_of(shape, more), both = hf_region_intersect(own, metal);
  return hf_region_area(both) > MEETS_MM2;
}

/* Which openings go where. */
typedef struct {
  GArray *through[HF_N_LAYERS][HF_N_LAYERS]; /* guint: shapes of the first that go through the
                                                second */
  gboolean *off[HF_N_LAYERS]; /* by shape: it meets no metal of its own layer, but of another */
  gboolean held[HF_N_LAYERS]; /* something goes through it and another */
} Drilling;

static void
drilling_clear(Drilling *drilling)
{
  for (guint i = 0; i < HF_N_LAYERS; i++) {
    g_free(drilling->off[i]);
    for (guint k = 0; k < HF_N_LAYERS; k++)
      g_clear_pointer(&drilling->through[i][k], g_array_unref);
  }
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Drilling, drilling_clear)

/* In its own layer it has cut what it met: there it is asked what is round it. */
static void
look_at_opening(const Layers *layers, guint from, guint s, Drilling *drilling)
{
  const HfShape *shape = hf_layout_shape(layers->layouts[from], s);
  gboolean own = meets(shape, ROUND_IT, layers->metals[from]->region), others = FALSE;
  for (guint to = 0; to < layers->n; to++) {
    if (to == from || !meets(shape, 0, layers->metals[to]->region))
      continue;
    g_array_append_val(drilling->through[from][to], s);
    others = TRUE;
    drilling->held[to] = drilling->held[to] || own;
  }
  drilling->held[from] = drilling->held[from] || (own && others);
  drilling->off[from][s] = others && !own;
}

static void
look_for_openings(const Layers *layers, Drilling *drilling)
{
  for (guint from = 0; from < layers->n; from++) {
    const HfLayout *layout = layers->layouts[from];
    drilling->off[from] = g_new0(gboolean, layout->shapes->len + 1);
    for (guint to = 0; to < layers->n; to++)
      drilling->through[from][to] = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint s = 0; s < layout->shapes->len; s++) {
      const HfShape *shape = hf_layout_shape(layout, s);
      if (shape->opening && goes_through(hf_recipe_at(layers->seen[from], shape->entry)))
        look_at_opening(layers, from, s, drilling);
    }
  }
}

static void
add_notes(HfLayout **layout, const GPtrArray *notes)
{
  HfLayoutMore more = {.notes = notes};
  HfLayout *next = hf_layout_extended(*layout, &more);
  hf_layout_free(*layout);
  *layout = next;
}

static void
note_loose(HfLayout **layout, HfLayerAt at)
{
  g_autoptr(GPtrArray) notes = g_ptr_array_new_with_free_func(g_free);
  g_ptr_array_add(notes,
                  g_strdup_printf("no hole goes through the %s and another layer: what holds "
                                  "it there is not checked",
                                  hf_layer_word(at)));
  add_notes(layout, notes);
}

/* (transfer full) */
static HfLayout *
drilled_of(const Layers *layers, const Drilling *drilling, guint to)
{
  HfLayout *own = hf_layout_without(layers->layouts[to], drilling->off[to]);
  for (guint from = 0; from < layers->n; from++) {
    const GArray *shapes = drilling->through[from][to];
    if (from == to || shapes->len == 0)
      continue;
    HfLayout *next = hf_layout_drilled(own, layers->layouts[from],
                                       (const guint *)(gconstpointer)shapes->data, shapes->len);
    hf_layout_free(own);
    own = next;
  }
  return own;
}

static gboolean
has_same_shapes(const HfLayout *a, const HfLayout *b)
{
  if (a->shapes->len != b->shapes->len)
    return FALSE;
  for (guint i = 0; i < a->shapes->len; i++)
    if (a->shapes->pdata[i] != b->shapes->pdata[i])
      return FALSE;
  return TRUE;
}

/* ---- seen --------------------------------------------------------------------------------------
 */

static gboolean
is_covered(const Layers *layers, guint i, const HfShape *letter)
{
  g_autoptr(HfRegion) own = region_of(letter, 0);
  double area = hf_region_area(own), covered = 0;
  for (guint k = 0; k < i; k++) {
    g_autoptr(HfRegion) both = hf_region_intersect(own, layers->metals[k]->region);
    covered = fmax(covered, hf_region_area(both));
  }
  return covered > COVERED * area;
}

/* Letters that nobody sees, as metal in front of them hides most of each: no check of one sheet
 * would find them. */
static void
note_covered(Layers *layers, guint i)
{
  const HfRecipe *recipe = layers->seen[i];
  g_autofree guint *letters = g_new0(guint, recipe->entries->len + 1);
  g_autoptr(GPtrArray) notes = g_ptr_array_new_with_free_func(g_free);
  for (guint s = 0; s < layers->layouts[i]->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layers->layouts[i], s);
    if (shape->letter >= 0 && is_covered(layers, i, shape))
      letters[shape->entry]++;
  }
  for (guint e = 0; e < recipe->entries->len; e++)
    if (letters[e] > 0)
      g_ptr_array_add(
          notes, g_strdup_printf("%u letter%s of \"%s\" in the %s %s hidden by what is "
                                 "in front of %s",
                                 letters[e], letters[e] == 1 ? "" : "s",
                                 hf_recipe_at(recipe, e)->name, hf_layer_word(layers->at[i]),
                                 letters[e] == 1 ? "is" : "are", letters[e] == 1 ? "it" : "them"));
  add_notes(&layers->layouts[i], notes);
}

/* Every layer by what was drawn of the others, not by what was drilled of them. */
static void
drill(Layers *layers)
{
  g_auto(Drilling) drilling = {.held = {FALSE}};
  HfLayout *drilled[HF_N_LAYERS];
  look_for_openings(layers, &drilling);
  for (guint i = 0; i < layers->n; i++)
    drilled[i] = drilled_of(layers, &drilling, i);
  for (guint i = 0; i < layers->n; i++) {
    if (!drilling.held[i] && i + 1 < layers->n)
      note_loose(&drilled[i], layers->at[i]);
    if (!has_same_shapes(drilled[i], layers->layouts[i]))
      g_clear_pointer(&layers->metals[i], hf_metal_free);
    hf_layout_free(layers->layouts[i]);
    layers->layouts[i] = drilled[i];
  }
}

static gboolean
make_metals(Layers *layers, const HfCancel *cancel, GError **error)
{
  for (guint i = 0; i < layers->n; i++) {
    if (layers->metals[i] == NULL)
      layers->metals[i] = hf_metal_new(layers->layouts[i], cancel, error);
    if (layers->metals[i] == NULL || !hf_cancel_check(cancel, error))
      return FALSE;
  }
  return TRUE;
}

/* ---- carried ----------------------------------------------------------------------------------
 */

static double
mass_of(const Layers *layers, guint i)
{
  const HfProcess *process = &layers->processes[i];
  return hf_region_area(layers->metals[i]->region) * process->thickness * process->density * 1e-9;
}

/* One layer is fixed to the wall, hung or stood up: the weight of all is on it. */
static void
put_on_carrier(Layers *layers, HfRecipe *recipe)
{
  guint carrier =
      hf_layout_carrier((const HfLayout *const *)layers->layouts, layers->n, recipe->mount);
  HfLayoutMore nothing = {NULL};
  HfLayout *own = hf_layout_extended(layers->layouts[carrier], &nothing);
  for (guint i = 0; i < layers->n; i++) {
    double mass = i != carrier ? mass_of(layers, i) : 0;
    if (mass > 0) {
      own->load += mass;
      own->load_at = hf_point_mix(own->load_at, hf_region_centroid(layers->metals[i]->region),
                                  mass / own->load);
    }
  }
  hf_layout_free(layers->layouts[carrier]);
  layers->layouts[carrier] = own;
  hf_recipe_free(layers->seen[carrier]);
  layers->seen[carrier] = hf_recipe_in_layer(recipe, layers->at[carrier], recipe->mount);
}

GPtrArray *
hf_sign_new_layers(HfRecipe *recipe, HfShop *shop, HfFonts *fonts, HfSignUseFunc use, gpointer data,
                   const HfCancel *cancel, GError **error)
{
  g_auto(Layers) layers = {.n = 0};
  if (!lay_out(&layers, recipe, shop, fonts, cancel, error) || !make_metals(&layers, cancel, error))
    return NULL;
  drill(&layers);
  if (!make_metals(&layers, cancel, error))
    return NULL;
  for (guint i = 1; i < layers.n; i++)
    note_covered(&layers, i);
  put_on_carrier(&layers, recipe);
  g_autoptr(GPtrArray) signs = g_ptr_array_new_with_free_func((GDestroyNotify)hf_sign_free);
  for (guint i = 0; i < layers.n; i++) {
    HfSign *sign =
        hf_sign_beside(&(HfSign){.recipe = layers.seen[i], .shop = shop, .fonts = fonts});
    g_ptr_array_add(signs, sign);
    sign->works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
    sign->layout = hf_layout_ref(layers.layouts[i]);
    sign->metal = hf_metal_ref(layers.metals[i]);
    if (!hf_sign_make_and_check(sign, use(layers.seen[i], data), cancel, error))
      return NULL;
  }
  return g_steal_pointer(&signs);
}

/* ---- joined -----------------------------------------------------------------------------------
 */

static guint
carrier_of(const GPtrArray *layers)
{
  for (guint i = 0; i < layers->len; i++)
    if (((const HfSign *)layers->pdata[i])->layout->load > 0)
      return i;
  return layers->len - 1;
}

/* Layout, check and works of all. */
static void
join(HfSign *all, const GPtrArray *layers)
{
  const HfLayout *layouts[HF_N_LAYERS];
  const HfHold *holds[HF_N_LAYERS];
  HfLayerAt at[HF_N_LAYERS];
  guint shapes[HF_N_LAYERS];
  GPtrArray *works = g_ptr_array_new_with_free_func((GDestroyNotify)hf_work_free);
  for (guint i = 0; i < layers->len; i++) {
    const HfSign *one = layers->pdata[i];
    layouts[i] = one->layout;
    holds[i] = one->hold;
    at[i] = one->recipe->in_layer;
    shapes[i] = one->layout->shapes->len;
    for (guint k = 0; k < one->works->len; k++)
      g_ptr_array_add(works, hf_work_ref(one->works->pdata[k]));
  }
  all->layout = hf_layout_joined(layouts, layers->len, carrier_of(layers));
  all->hold = hf_hold_joined(holds, at, shapes, layers->len);
  all->works = works;
}

HfSign *
hf_sign_joined(const HfRecipe *recipe, GPtrArray *layers)
{
  g_return_val_if_fail(layers->len > 0 && layers->len < HF_N_LAYERS, NULL);
  const HfSign *front = layers->pdata[0];
  HfSign *all =
      hf_sign_beside(&(HfSign){.recipe = recipe, .shop = front->shop, .fonts = front->fonts});
  all->metal = hf_metal_ref((HfMetal *)front->metal);
  all->fit = front->fit != NULL ? hf_fit_ref((HfFit *)front->fit) : NULL;
  join(all, layers);
  all->layers = layers;
  g_autofree char *digest = recipe->agreed.digest != NULL ? hf_sign_digest(all) : NULL;
  if (digest != NULL)
    hf_hold_join_agreed((HfHold *)all->hold, recipe, digest);
  return all;
}

char *
hf_sign_digest(const HfSign *sign)
{
  g_autoptr(GString) all = g_string_new(NULL);
  guint n = hf_sign_n_layers(sign);
  for (guint i = 0; i < n; i++) {
    const HfSign *layer = hf_sign_layer(sign, i);
    g_autofree char *own =
        hf_hold_digest(layer->recipe, &layer->hold->process, layer->metal->region);
    if (n == 1)
      return g_steal_pointer(&own);
    g_string_append_printf(all, "%s\n", own);
  }
  return hf_file_digest(all->str, all->len);
}

HfSign *
hf_sign_layers_fitted(const HfSign *sign)
{
  gboolean all = TRUE;
  for (guint i = 0; i < sign->layers->len; i++)
    all = all && hf_sign_layer(sign, i)->fit != NULL;
  if (all)
    return hf_sign_ref(sign);
  GPtrArray *layers = g_ptr_array_new_with_free_func((GDestroyNotify)hf_sign_free);
  for (guint i = 0; i < sign->layers->len; i++)
    g_ptr_array_add(layers, hf_sign_fitted(hf_sign_layer(sign, i)));
  HfSign *next = hf_sign_same_again(sign);
  next->works = g_ptr_array_ref((GPtrArray *)sign->works);
  g_ptr_array_unref((GPtrArray *)next->layers);
  next->layers = layers;
  hf_fit_free((HfFit *)next->fit);
  next->fit = hf_fit_ref((HfFit *)((const HfSign *)layers->pdata[0])->fit);
  return next;
}

HfRegion *
hf_sign_spread(const HfSign *sign, double apart)
{
  if (sign->layers == NULL)
    return hf_region_copy(sign->metal->region);
  g_autoptr(HfRegion) raw = hf_region_new();
  for (guint i = 0; i < hf_sign_n_layers(sign); i++) {
    const HfRegion *region = hf_sign_layer(sign, i)->metal->region;
    for (guint r = 0; r < region->rings->len; r++) {
      const HfRing *ring = hf_region_ring(region, r);
      g_autofree HfGrid *at = g_new(HfGrid, ring->n);
      for (guint v = 0; v < ring->n; v++)
        at[v] = hf_grid_snap(hf_point_add(hf_grid_point(ring->at[v]), hf_point(0, -apart * i)));
      hf_region_add_ring(raw, at, NULL, ring->n);
    }
  }
  return hf_region_clean(raw);
}

/* One frame for the files of all layers, so that a hole has the same place in each. */
static HfBox
frame_of(const HfSign *sign)
{
  HfBox frame = HF_BOX_EMPTY;
  for (guint i = 0; i < hf_sign_n_layers(sign); i++)
    if (hf_sign_layer(sign, i)->fit != NULL)
      frame = hf_box_union(frame, hf_outline_box(hf_sign_layer(sign, i)->fit->outline));
  return frame;
}

HfSign *
hf_sign_layer_to_cut(const HfSign *sign, guint i)
{
  const HfSign *own = hf_sign_layer(sign, i);
  if (sign->layers == NULL)
    return hf_sign_ref(sign);
  HfSign *cut = hf_sign_same_again(own);
  cut->works = g_ptr_array_ref((GPtrArray *)own->works);
  cut->frame = frame_of(sign);
  hf_hold_free((HfHold *)cut->hold);
  cut->hold = hf_hold_part_of(own->hold, sign->hold);
  return cut;
}

char *
hf_sign_layer_words(const HfSign *sign)
{
  const char *words[HF_N_LAYERS + 1] = {NULL};
  guint n = hf_sign_n_layers(sign);
  for (guint i = 0; i < n && n > 1; i++)
    words[i] = hf_layer_word(hf_sign_layer(sign, i)->recipe->in_layer);
  return hf_text_list(words, "and");
}
