/* SPDX-License-Identifier: GPL-3.0-or-later
 * mounts.c - every hole that something goes through, and every stud: lists of them, and their
 * place in the report.
 */
#include "base/text.h"
#include "out/mounts-private.h"

enum { MM = 4, DEGREES = 4 };

/* ---- the list ---------------------------------------------------------------------------------
 */

static HfMountHole
round_hole(const HfShape *shape)
{
  HfBox box = hf_outline_box(shape->outline);
  return (HfMountHole){.kind = "hole",
                       .at = hf_box_centre(box),
                       .diameter = hf_box_width(box),
                       .length = NAN,
                       .head = NAN};
}

static HfMountHole
long_hole(const HfShape *shape, const HfEntry *entry)
{
  gboolean slot = entry->kind == HF_ENTRY_SLOT;
  HfMountHole hole = {.kind = slot ? "slot" : "keyhole",
                      .at = hf_matrix_apply(shape->em, hf_point(0, 0)),
                      .turn = atan2(shape->em.yx, shape->em.xx)};
  hole.diameter = slot ? hf_bore_mm(&entry->slot.bore) : entry->keyhole.shank;
  hole.length = slot ? entry->slot.length : hf_keyhole_length(&entry->keyhole);
  hole.head = slot ? NAN : entry->keyhole.head;
  return hole;
}

static gboolean
hole_of(const HfSign *what, const HfShape *shape, HfMountHole *ret_hole)
{
  const HfEntry *entry = hf_recipe_at(what->recipe, shape->entry);
  if (!shape->opening)
    return FALSE;
  switch (entry->kind) {
  case HF_ENTRY_HOLE:
  case HF_ENTRY_HOLES:
  case HF_ENTRY_EAR:
    *ret_hole = round_hole(shape);
    break;
  case HF_ENTRY_SLOT:
  case HF_ENTRY_KEYHOLE:
    *ret_hole = long_hole(shape, entry);
    break;
  default:
    return FALSE;
  }
  const HfBore *bore = hf_entry_bore(entry);
  ret_hole->name = shape->label;
  if (bore == NULL)
    return TRUE;
  ret_hole->screw = isnan(bore->diameter) ? hf_screw(bore->screw) : NULL;
  ret_hole->fit = (HfScrewFit)bore->fit;
  ret_hole->countersink = bore->countersink;
  if (isnan(ret_hole->length)) /* what was drawn has its chords' box: as it was said */
    ret_hole->diameter = hf_bore_mm(bore);
  return TRUE;
}

/* What goes through several sheets is one hole. */
static gboolean
was_listed(const HfLayout *layout, guint i)
{
  for (guint k = 0; k < i; k++)
    if (layout->shapes->pdata[k] == layout->shapes->pdata[i])
      return TRUE;
  return FALSE;
}

GArray *
hf_mount_holes(const HfSign *what)
{
  GArray *holes = g_array_new(FALSE, FALSE, sizeof(HfMountHole));
  for (guint i = 0; i < what->layout->shapes->len; i++) {
    HfMountHole hole;
    if (!hole_of(what, hf_layout_shape(what->layout, i), &hole) ||
        (what->layers != NULL && was_listed(what->layout, i)))
      continue;
    hole.shape = i;
    g_array_append_val(holes, hole);
  }
  return holes;
}

char *
hf_mount_hole_size(const HfMountHole *hole)
{
  g_autofree char *across = hf_text_length(hole->diameter, 1);
  GString *text = g_string_new(across);
  if (!isnan(hole->length)) {
    g_autofree char *size = hf_text_size(hole->diameter, hole->length);
    if (isnan(hole->head)) {
      g_string_assign(text, size);
    } else {
      g_autofree char *head = hf_text_length(hole->head, 1);
      g_string_append_printf(text, ", head %s", head);
    }
  }
  if (hole->screw != NULL)
    g_string_append_printf(text, ", for %s (%s)", hole->screw->key, hf_screw_fit(hole->fit));
  if (hole->countersink && hole->screw != NULL) {
    g_autofree char *wide = hf_text_length(hole->screw->head, 1);
    g_string_append_printf(text, ", countersunk %s", wide);
  }
  return g_string_free(text, FALSE);
}

/* ---- the report -------------------------------------------------------------------------------
 */

static void
write_place(HfJson *json, HfPoint at)
{
  hf_json_line(json, "place", '{');
  hf_json_number(json, "x", at.x, MM);
  hf_json_number(json, "y", at.y, MM);
  hf_json_close(json);
}

static void
write_countersink(HfJson *json, const HfMountHole *hole)
{
  if (!hole->countersink || hole->screw == NULL) {
    hf_json_text(json, "countersink", NULL);
    return;
  }
  hf_json_line(json, "countersink", '{');
  hf_json_number(json, "diameter", hole->screw->head, MM);
  hf_json_number(json, "depth", hf_countersink_depth(hole->screw->head, hole->diameter), MM);
  hf_json_number(json, "angle", 90, 0);
  hf_json_close(json);
}

/* Those that it goes through; of one sheet none. */
static void
write_layers(HfJson *json, const HfSign *what, guint shape)
{
  gconstpointer hole = what->layout->shapes->pdata[shape];
  hf_json_line(json, "layers", '[');
  for (guint i = 0; what->layers != NULL && i < what->layers->len; i++) {
    const HfSign *layer = hf_sign_layer(what, i);
    if (g_ptr_array_find(layer->layout->shapes, hole, NULL))
      hf_json_text(json, NULL, hf_layer_word(layer->recipe->in_layer));
  }
  hf_json_close(json);
}

static void
write_studs(HfJson *json, const HfSign *what)
{
  hf_json_open(json, "studs", '[');
  for (guint i = 0; i < what->hold->studs->len; i++) {
    const HfStud *stud = &g_array_index(what->hold->studs, HfStud, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "number", i + 1, 0);
    hf_json_text(json, "rule", hf_recipe_at(what->recipe, stud->entry)->name);
    hf_json_text(json, "part", g_array_index(what->hold->parts, HfPart, stud->part).name);
    write_place(json, stud->at);
    hf_json_number(json, "diameter", stud->diameter, MM);
    hf_json_close(json);
  }
  hf_json_close(json);
}

void
hf_mounts_write(HfJson *json, const HfSign *what)
{
  g_autoptr(GArray) holes = hf_mount_holes(what);
  hf_json_open(json, "holes", '[');
  for (guint i = 0; i < holes->len; i++) {
    const HfMountHole *hole = &g_array_index(holes, HfMountHole, i);
    hf_json_line(json, NULL, '{');
    hf_json_number(json, "number", i + 1, 0);
    hf_json_text(json, "kind", hole->kind);
    hf_json_text(json, "name", hole->name);
    write_layers(json, what, hole->shape);
    write_place(json, hole->at);
    hf_json_number(json, "diameter", hole->diameter, MM);
    hf_json_number(json, "length", hole->length, MM);
    hf_json_number(json, "head", hole->head, MM);
    hf_json_number(json, "turn", hole->turn * 180 / G_PI, DEGREES);
    hf_json_text(json, "screw", hole->screw != NULL ? hole->screw->key : NULL);
    hf_json_text(json, "fit", hole->screw != NULL ? hf_screw_fit(hole->fit) : NULL);
    write_countersink(json, hole);
    hf_json_close(json);
  }
  hf_json_close(json);
  write_studs(json, what);
}
