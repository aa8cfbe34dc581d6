/* SPDX-License-Identifier: GPL-3.0-or-later
 * layer-holds.c - the checks of several sheets, one behind the other, as the check of one sign.
 *
 *   front: whole  + back: 1 stop   ->   not whole; "back: the metal inside letter 'O': ..."
 *
 * Invariant: whole exactly when each is; no finding is left out but an acceptance that had its
 * effect in another layer.
 */
#include "hold/hold-private.h"
#include <string.h>

typedef struct {
  HfLayerAt layer;
  const HfHold *hold;
  guint first_shape, first_spot;
} Joining;

/* ---- findings ---------------------------------------------------------------------------------
 */

static char *
in_layer(HfLayerAt layer, const char *text)
{
  return text != NULL ? g_strconcat(hf_layer_word(layer), ": ", text, NULL)
                      : g_strdup(hf_layer_word(layer));
}

HfFinding *
hf_finding_copy(const HfFinding *finding)
{
  HfFinding *copy = g_new(HfFinding, 1);
  *copy = *finding;
  copy->places = g_array_ref(finding->places);
  copy->names = g_ptr_array_ref(finding->names);
  copy->each = g_ptr_array_ref(finding->each);
  copy->entries = g_array_ref(finding->entries);
  copy->where = g_strdup(finding->where);
  copy->what = g_strdup(finding->what);
  copy->fix = g_strdup(finding->fix);
  copy->text = g_strdup(finding->text);
  copy->accepted = g_strdup(finding->accepted);
  return copy;
}

static void
put_in_layer(char **text, HfLayerAt layer)
{
  char *was = *text;
  *text = in_layer(layer, was);
  g_free(was);
}

static HfFinding *
finding_in(const HfFinding *finding, HfLayerAt layer)
{
  HfFinding *copy = hf_finding_copy(finding);
  copy->layer = layer;
  put_in_layer(&copy->where, layer);
  put_in_layer(&copy->text, layer);
  return copy;
}

static gboolean
says_none(const HfFinding *finding)
{
  return finding->kind == HF_LAW_ACCEPTANCE && strstr(finding->what, "there is none") != NULL;
}

/* In how many layers is it said that there is nothing to accept? */
static guint
said_in(const HfHold *const *holds, guint n, const HfFinding *finding)
{
  guint said = 0;
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < holds[i]->findings->len; k++) {
      const HfFinding *other = holds[i]->findings->pdata[k];
      said += says_none(other) && strcmp(other->what, finding->what) == 0;
    }
  return said;
}

static void
join_findings(HfHold *all, const Joining *one, const HfHold *const *holds, guint n)
{
  for (guint i = 0; i < one->hold->findings->len; i++) {
    const HfFinding *finding = one->hold->findings->pdata[i];
    if (says_none(finding) && (one->hold != holds[0] || said_in(holds, n, finding) < n))
      continue;
    g_ptr_array_add(all->findings, finding_in(finding, one->layer));
  }
}

/* ---- metal ------------------------------------------------------------------------------------
 */

static void
join_parts(HfHold *all, const Joining *one)
{
  for (guint i = 0; i < one->hold->parts->len; i++) {
    HfPart part = g_array_index(one->hold->parts, HfPart, i);
    const GArray *shapes = part.shapes;
    part.name = g_strdup(part.name);
    part.shapes =
        shapes != NULL ? g_array_sized_new(FALSE, FALSE, sizeof(guint), shapes->len) : NULL;
    for (guint k = 0; shapes != NULL && k < shapes->len; k++) {
      guint shape = g_array_index(shapes, guint, k) + one->first_shape;
      g_array_append_val(part.shapes, shape);
    }
    g_array_append_val(all->parts, part);
  }
}

static guint
moved(guint shape, guint first)
{
  return shape == HF_NO_SHAPE ? shape : shape + first;
}

static int
thinnest_first(gconstpointer p, gconstpointer q)
{
  double a = ((const HfWeb *)p)->width, b = ((const HfWeb *)q)->width;
  return (a > b) - (a < b);
}

static void
join_webs(HfHold *all, const Joining *one)
{
  for (guint i = 0; i < one->hold->webs->len; i++) {
    HfWeb web = g_array_index(one->hold->webs, HfWeb, i);
    web.shape_a = moved(web.shape_a, one->first_shape);
    web.shape_b = moved(web.shape_b, one->first_shape);
    web.first_spot += one->first_spot;
    g_array_append_val(all->webs, web);
  }
  g_array_append_vals(all->spots, one->hold->spots->data, one->hold->spots->len);
}

/* One double a shape, 0 where a layer has no metal. */
static void
join_shown(HfHold *all, const Joining *one, guint n_shapes)
{
  g_array_set_size(all->shown, one->first_shape);
  g_array_append_vals(all->shown, one->hold->shown->data, MIN(one->hold->shown->len, n_shapes));
  g_array_set_size(all->shown, one->first_shape + n_shapes);
}

static void
join_figures(HfHold *all, const HfHold *one)
{
  double mass = all->mass + one->mass;
  all->centroid =
      mass > 0 ? hf_point_mix(all->centroid, one->centroid, one->mass / mass) : one->centroid;
  all->mass = mass;
  all->area += one->area;
  all->cut_length += one->cut_length;
  all->pierces += one->pierces;
  all->box = hf_box_union(all->box, one->box);
}

/* One layer carries the others: of the rest nobody asked how it hangs. */
static void
join_hanging(HfHold *all, const HfHold *one)
{
  if (one->hanging.n == 0)
    return;
  all->hanging.n = one->hanging.n;
  all->hanging.turn = one->hanging.turn;
  all->hanging.centre = one->hanging.centre;
  g_array_append_vals(all->hanging.shares, one->hanging.shares->data, one->hanging.shares->len);
}

/* Before its parts are joined. */
static void
join_studs(HfHold *all, const HfHold *one)
{
  for (guint i = 0; i < one->studs->len; i++) {
    HfStud stud = g_array_index(one->studs, HfStud, i);
    stud.part += all->parts->len;
    g_array_append_val(all->studs, stud);
  }
}

static void
take_rules(HfHold *all, const HfHold *front)
{
  memcpy(all->limits, front->limits, sizeof all->limits);
  memcpy(all->figures, front->figures, sizeof all->figures);
  all->process = front->process;
  all->hanging.centre = front->centroid;
  all->box = HF_BOX_EMPTY;
}

HfHold *
hf_hold_joined(const HfHold *const *holds, const HfLayerAt *layers, const guint *shapes, guint n)
{
  g_return_val_if_fail(n > 0, NULL);
  HfHold *all = hf_hold_new();
  take_rules(all, holds[0]);
  all->whole = TRUE;
  all->layers = n;
  guint first = 0;
  for (guint i = 0; i < n; i++) {
    Joining one = {layers[i], holds[i], first, all->spots->len};
    all->whole = all->whole && holds[i]->whole;
    join_findings(all, &one, holds, n);
    join_studs(all, holds[i]);
    join_parts(all, &one);
    join_webs(all, &one);
    join_shown(all, &one, shapes[i]);
    join_figures(all, holds[i]);
    join_hanging(all, holds[i]);
    first += shapes[i];
  }
  g_array_sort(all->webs, thinnest_first);
  hf_findings_sort(all->findings);
  return all;
}

HfHold *
hf_hold_part_of(const HfHold *own, const HfHold *all)
{
  HfHold *copy = g_new(HfHold, 1);
  *copy = *own;
  copy->others = 0;
  copy->whole = all->whole;
  copy->findings = g_ptr_array_ref(all->findings);
  copy->parts = g_array_ref(own->parts);
  copy->cut = own->cut != NULL ? hf_region_copy(own->cut) : NULL;
  copy->shown = g_array_ref(own->shown);
  copy->webs = g_array_ref(own->webs);
  copy->spots = g_array_ref(own->spots);
  copy->hanging.shares = g_array_ref(own->hanging.shares);
  copy->studs = g_array_ref(own->studs);
  return copy;
}
