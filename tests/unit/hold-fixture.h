/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold-fixture.h - a sign made by hand for the tests of hold/: shapes in, findings out, nothing of
 * fonts or files between.
 */
#pragma once
#include "recipe/kind.h"
#include "sign/sign.h"
#include <string.h>

typedef struct {
  HfRecipe recipe;
  HfShop shop;
  HfLayout layout;
  HfMetal *metal;
  HfHold *hold;
  GPtrArray *works; /* none */
} Sign;

static inline void
sign_free_override(gpointer data)
{
  g_free(((HfLimitOverride *)data)->key);
}

static inline void
sign_free_accepted(gpointer data)
{
  HfAccepted *accepted = data;
  g_free(accepted->finding);
  g_free(accepted->of);
  g_free(accepted->reason);
}

static inline void
sign_free_entry(gpointer data)
{
  g_free(((HfEntry *)data)->name);
  g_free(data);
}

static inline GArray *
sign_limits(void)
{
  GArray *limits = g_array_new(FALSE, TRUE, sizeof(HfLimitOverride));
  g_array_set_clear_func(limits, sign_free_override);
  return limits;
}

/* Mild steel of @thickness, cut with @kerf; no shop figures. */
static inline Sign *
sign_new(double thickness, double kerf)
{
  Sign *sign = g_new0(Sign, 1);
  sign->recipe = (HfRecipe){.file = (char *)"quay.yaml",
                            .metal = (char *)"mild steel",
                            .thickness = thickness,
                            .kerf = kerf,
                            .crater = NAN,
                            .read_from = NAN,
                            .limits = sign_limits(),
                            .accept = g_array_new(FALSE, TRUE, sizeof(HfAccepted)),
                            .alone = g_ptr_array_new_with_free_func(g_free),
                            .entries = g_ptr_array_new_with_free_func(sign_free_entry)};
  g_array_set_clear_func(sign->recipe.accept, sign_free_accepted);
  sign->shop = (HfShop){.kerf = NAN,
                        .crater = NAN,
                        .chart = g_array_new(FALSE, TRUE, sizeof(HfChartRow)),
                        .limits = sign_limits(),
                        .table_width = NAN,
                        .table_height = NAN,
                        .sheet_width = NAN,
                        .sheet_height = NAN};
  sign->layout = (HfLayout){.shapes = g_ptr_array_new_with_free_func((GDestroyNotify)hf_shape_free),
                            .hangs = g_array_new(FALSE, TRUE, sizeof(HfHang)),
                            .joints = g_array_new(FALSE, TRUE, sizeof(HfJoint)),
                            .solved = g_array_new(FALSE, TRUE, sizeof(HfSolved)),
                            .missed = g_array_new(FALSE, TRUE, sizeof(HfMissed)),
                            .faces = g_ptr_array_new(),
                            .drawings = g_ptr_array_new(),
                            .notes = g_ptr_array_new()};
  sign->works = g_ptr_array_new();
  return sign;
}

static inline void
sign_free(Sign *sign)
{
  g_array_unref(sign->recipe.limits);
  g_array_unref(sign->recipe.accept);
  g_ptr_array_unref(sign->recipe.alone);
  g_ptr_array_unref(sign->recipe.entries);
  g_array_unref(sign->shop.chart);
  g_array_unref(sign->shop.limits);
  g_ptr_array_unref(sign->layout.shapes);
  g_array_unref(sign->layout.hangs);
  g_array_unref(sign->layout.joints);
  g_array_unref(sign->layout.solved);
  g_array_unref(sign->layout.missed);
  g_ptr_array_unref(sign->layout.faces);
  g_ptr_array_unref(sign->layout.drawings);
  g_ptr_array_unref(sign->layout.notes);
  g_ptr_array_unref(sign->works);
  hf_metal_free(sign->metal);
  hf_hold_free(sign->hold);
  g_free(sign);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Sign, sign_free)

/* One entry with one shape of its own; its label is `KIND "NAME"`. Takes @outline. */
static inline guint
sign_add(Sign *sign, HfEntryKind kind, const char *name, HfOutline *outline, gboolean opening)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = kind;
  entry->name = g_strdup(name);
  g_ptr_array_add(sign->recipe.entries, entry);
  HfShape *shape = g_new0(HfShape, 1);
  shape->outline = outline;
  shape->opening = opening;
  shape->entry = sign->recipe.entries->len - 1;
  shape->letter = -1;
  shape->em = HF_MATRIX_IDENTITY;
  shape->label = g_strdup_printf("%s \"%s\"", hf_kind(kind)->table.name, name);
  g_ptr_array_add(sign->layout.shapes, shape);
  return sign->layout.shapes->len - 1;
}

static inline HfShape *
sign_shape(Sign *sign, guint i)
{
  return sign->layout.shapes->pdata[i];
}

static inline guint
sign_add_box(Sign *sign, const char *name, double x0, double y0, double x1, double y1)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{x0, y0}, {x1, y1}}, 0);
  return sign_add(sign, HF_ENTRY_PLATE, name, outline, FALSE);
}

static inline guint
sign_cut_box(Sign *sign, const char *name, double x0, double y0, double x1, double y1)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{x0, y0}, {x1, y1}}, 0);
  return sign_add(sign, HF_ENTRY_PLATE, name, outline, TRUE);
}

static inline guint
sign_add_polygon(Sign *sign, const char *name, const HfPoint *points, guint n)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_polygon(outline, points, n);
  return sign_add(sign, HF_ENTRY_PLATE, name, outline, FALSE);
}

/* A round hole to hang by. */
static inline guint
sign_add_hole(Sign *sign, const char *name, double x, double y, double diameter)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(x, y), diameter / 2);
  guint shape = sign_add(sign, HF_ENTRY_HOLE, name, outline, TRUE);
  HfHang hang = {HF_HANG_HOLE, hf_point(x, y), diameter, shape};
  g_array_append_val(sign->layout.hangs, hang);
  return shape;
}

static inline void
sign_limit(GArray *limits, const char *key, double value)
{
  HfLimitOverride one = {.key = g_strdup(key), .value = value, .mark = {7, 3}};
  g_array_append_val(limits, one);
}

static inline void
sign_accept(Sign *sign, const char *finding, const char *of, const char *reason)
{
  HfAccepted one = {g_strdup(finding), g_strdup(of), g_strdup(reason), {9, 5}};
  g_array_append_val(sign->recipe.accept, one);
}

/* Makes the metal and checks it. */
static inline const HfHold *
sign_check(Sign *sign)
{
  g_autoptr(GError) error = NULL;
  hf_metal_free(sign->metal);
  hf_hold_free(sign->hold);
  sign->hold = NULL;
  sign->metal = hf_metal_new(&sign->layout, NULL, &error);
  g_assert_no_error(error);
  sign->hold = hf_hold_check(&sign->recipe, &sign->shop, &sign->layout, sign->metal, NULL, &error);
  g_assert_no_error(error);
  return sign->hold;
}

/* The sign as rules see it, once it is checked. Borrowed. */
static inline HfSign
sign_whole(const Sign *sign)
{
  return (HfSign){.recipe = &sign->recipe,
                  .shop = &sign->shop,
                  .layout = &sign->layout,
                  .metal = sign->metal,
                  .hold = sign->hold,
                  .works = sign->works};
}

/* The first finding of a kind; %NULL: there is none. */
static inline const HfFinding *
sign_find(const HfHold *hold, HfLawKind kind)
{
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = hold->findings->pdata[i];
    if (finding->kind == kind)
      return finding;
  }
  return NULL;
}

static inline guint
sign_count(const HfHold *hold, HfLawKind kind)
{
  guint n = 0;
  for (guint i = 0; i < hold->findings->len; i++)
    n += ((const HfFinding *)hold->findings->pdata[i])->kind == kind;
  return n;
}
