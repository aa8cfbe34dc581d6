/* SPDX-License-Identifier: GPL-3.0-or-later
 * sign.h - a sign put together by hand, for tests of hold/: shapes in, findings out.
 */
#pragma once
#include "hold/hold.h"

typedef struct {
  HfRecipe recipe;
  HfLayout layout;
  HfMetal *metal;
  HfHold *hold;
} Sign;

static inline void
sign_shape_free(gpointer data)
{
  HfShape *shape = data;
  hf_outline_free(shape->outline);
  g_free(shape->label);
  g_free(shape);
}

static inline void
sign_entry_free(gpointer data)
{
  g_free(((HfEntry *)data)->name);
  g_free(data);
}

static inline Sign *
sign_new(double thickness, double kerf)
{
  Sign *sign = g_new0(Sign, 1);
  sign->recipe = (HfRecipe){.metal = g_strdup("mild steel"),
                            .thickness = thickness,
                            .kerf = kerf,
                            .crater = NAN,
                            .read_from = NAN,
                            .mount = HF_MOUNT_NONE,
                            .limits = g_array_new(FALSE, TRUE, sizeof(HfLimitOverride)),
                            .accept = g_array_new(FALSE, TRUE, sizeof(HfAccepted)),
                            .alone = g_ptr_array_new_with_free_func(g_free),
                            .entries = g_ptr_array_new_with_free_func(sign_entry_free)};
  sign->layout.shapes = g_ptr_array_new_with_free_func(sign_shape_free);
  sign->layout.hangs = g_array_new(FALSE, TRUE, sizeof(HfHang));
  sign->layout.joints = g_array_new(FALSE, TRUE, sizeof(HfJoint));
  sign->layout.solved = g_array_new(FALSE, TRUE, sizeof(HfSolved));
  sign->layout.missed = g_array_new(FALSE, TRUE, sizeof(HfMissed));
  sign->layout.faces = g_ptr_array_new();
  sign->layout.drawings = g_ptr_array_new();
  sign->layout.notes = g_ptr_array_new();
  return sign;
}

/* A new shape of a new entry of this kind; the outline is to be drawn by the caller. */
static inline HfOutline *
sign_add(Sign *sign, HfEntryKind kind, const char *name, gboolean opening)
{
  HfEntry *entry = g_new0(HfEntry, 1);
  entry->kind = kind;
  entry->name = g_strdup(name);
  g_ptr_array_add(sign->recipe.entries, entry);
  HfShape *shape = g_new0(HfShape, 1);
  shape->outline = hf_outline_new();
  shape->opening = opening;
  shape->entry = sign->recipe.entries->len - 1;
  shape->letter = -1;
  shape->label = g_strdup_printf("entry \"%s\"", name);
  g_ptr_array_add(sign->layout.shapes, shape);
  return shape->outline;
}

/* Another letter of the last entry. */
static inline HfOutline *
sign_add_letter(Sign *sign, const char *letter)
{
  HfShape *shape = g_new0(HfShape, 1);
  const HfEntry *entry = sign->recipe.entries->pdata[sign->recipe.entries->len - 1];
  shape->outline = hf_outline_new();
  shape->entry = sign->recipe.entries->len - 1;
  const HfShape *last = sign->layout.shapes->pdata[sign->layout.shapes->len - 1];
  shape->letter = last->letter + 1;
  shape->label = g_strdup_printf("letter '%s' of \"%s\"", letter, entry->name);
  g_ptr_array_add(sign->layout.shapes, shape);
  return shape->outline;
}

static inline const HfHold *
sign_check(Sign *sign)
{
  g_autoptr(GError) error = NULL;
  sign->metal = hf_metal_new(&sign->layout, NULL, &error);
  g_assert_no_error(error);
  sign->hold = hf_hold_check(&sign->recipe, NULL, &sign->layout, sign->metal, NULL, &error);
  g_assert_no_error(error);
  return sign->hold;
}

static inline const HfFinding *
sign_finding(const Sign *sign, HfLawKind kind)
{
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = sign->hold->findings->pdata[i];
    if (finding->kind == kind)
      return finding;
  }
  return NULL;
}

static inline void
sign_free(Sign *sign)
{
  g_free(sign->recipe.metal);
  g_array_unref(sign->recipe.limits);
  g_array_unref(sign->recipe.accept);
  g_ptr_array_unref(sign->recipe.alone);
  g_ptr_array_unref(sign->recipe.entries);
  g_ptr_array_unref(sign->layout.shapes);
  g_array_unref(sign->layout.hangs);
  g_array_unref(sign->layout.joints);
  g_array_unref(sign->layout.solved);
  g_array_unref(sign->layout.missed);
  g_ptr_array_unref(sign->layout.faces);
  g_ptr_array_unref(sign->layout.drawings);
  g_ptr_array_unref(sign->layout.notes);
  hf_metal_free(sign->metal);
  hf_hold_free(sign->hold);
  g_free(sign);
}
