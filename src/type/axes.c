/* SPDX-License-Identifier: GPL-3.0-or-later
 * axes.c - variable fonts: a named style first, then the axes that the recipe sets on top.
 * OpenType 1.9, table fvar. A wish that the font can't grant is refused with what it has.
 */
#include "base/text.h"
#include "type/type-private.h"
#include <string.h>

static char *
tag_text(hb_tag_t tag)
{
  char text[5] = {0};
  hb_tag_to_string(tag, text);
  return g_strdup(g_strchomp(text));
}

static void
append_range(GString *text, const hb_ot_var_axis_info_t *axis)
{
  hf_text_append(text, (double)axis->min_value, 2);
  g_string_append(text, " to ");
  hf_text_append(text, (double)axis->max_value, 2);
}

/* "wght (100 to 900), slnt (-10 to 0)" */
static char *
axes_text(const hb_ot_var_axis_info_t *axes, guint n)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < n; i++) {
    g_autofree char *tag = tag_text(axes[i].tag);
    g_string_append_printf(text, "%s%s (", i > 0 ? ", " : "", tag);
    append_range(text, &axes[i]);
    g_string_append_c(text, ')');
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}

char *
hf_face_axes(const HfFace *face)
{
  hb_ot_var_axis_info_t axes[HF_FONT_MAX_AXES];
  guint n = HF_FONT_MAX_AXES;
  hb_ot_var_get_axis_infos(face->face, 0, &n, axes);
  return n > 0 ? axes_text(axes, n) : NULL;
}

/* One wish, "wght=650", into a tag and a value. */
static gboolean
split_wish(char *wish, hb_tag_t *tag, double *value)
{
  char *sign = strchr(wish, '=');
  if (sign == NULL)
    return FALSE;
  *sign = '\0';
  const char *name = g_strstrip(wish), *number = g_strstrip(sign + 1), *end;
  gsize length = strlen(name);
  if (length == 0 || length > 4 || !hf_text_parse(number, value, &end) || *end != '\0')
    return FALSE;
  *tag = hb_tag_from_string(name, (int)length);
  return isfinite(*value);
}

/* Puts one wish into @coords; @set says which axes have been wished for already. */
static gboolean
apply_wish(const HfFace *face, const char *given, const hb_ot_var_axis_info_t *axes, guint n,
           float *coords, gboolean *set, const char *where, GError **error)
{
  g_autofree char *wish = g_strdup(given), *label = hf_face_label(face);
  hb_tag_t tag;
  double value;
  if (!split_wish(wish, &tag, &value)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "write axes as wght=650,wdth=80",
                 "\"%s\" is not an axis of a variable font with a value", given);
    return FALSE;
  }
  g_autofree char *name = tag_text(tag);
  guint i = 0;
  while (i < n && axes[i].tag != tag)
    i++;
  if (i == n) {
    g_autofree char *has = axes_text(axes, n);
    g_autofree char *fix = g_strdup_printf("it has %s", has);
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "the font %s has no axis \"%s\"", label,
                 name);
    return FALSE;
  }
  if (set[i]) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "keep one of them",
                 "the axis \"%s\" is given twice", name);
    return FALSE;
  }
  if (value < (double)axes[i].min_value || value > (double)axes[i].max_value) {
    g_autofree char *number = hf_text_number(value, 3);
    g_autoptr(GString) fix = g_string_new("choose from ");
    append_range(fix, &axes[i]);
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix->str,
                 "the axis \"%s\" of the font %s does not reach %s", name, label, number);
    return FALSE;
  }
  coords[i] = (float)value;
  set[i] = TRUE;
  return TRUE;
}

/* The style that a named instance stands for: its coordinates, and its name for the face. */
static void
start_from_instance(HfFace *face, guint instance, float *coords, guint n)
{
  if (instance == 0 || instance > hb_ot_var_get_named_instance_count(face->face))
    return;
  guint got = n;
  hb_ot_var_named_instance_get_design_coords(face->face, instance - 1, &got, coords);
  g_autofree char *style = hf_face_name(
      face->face, hb_ot_var_named_instance_get_subfamily_name_id(face->face, instance - 1));
  if (style != NULL) {
    g_free(face->style);
    face->style = g_steal_pointer(&style);
  }
}

gboolean
hf_axes_apply(HfFace *face, guint instance, const char *wishes, const char *where, GError **error)
{
  gboolean asked = wishes != NULL && *wishes != '\0';
  guint n = hb_ot_var_get_axis_count(face->face);
  g_autofree char *label = hf_face_label(face);
  if (n == 0 && asked) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "leave the axes out",
                 "the font %s is not variable, so it has no axes", label);
    return FALSE;
  }
  if (n > HF_FONT_MAX_AXES) {
    hf_error_set(error, HF_ERROR_BAD_FONT, where, "choose another font",
                 "the font file %s has %u axes; at most %d are read", face->file, n,
                 HF_FONT_MAX_AXES);
    return FALSE;
  }
  if (n == 0)
    return TRUE;
  hb_ot_var_axis_info_t axes[HF_FONT_MAX_AXES];
  float coords[HF_FONT_MAX_AXES];
  gboolean set[HF_FONT_MAX_AXES] = {FALSE};
  hb_ot_var_get_axis_infos(face->face, 0, &n, axes);
  for (guint i = 0; i < n; i++)
    coords[i] = axes[i].default_value;
  start_from_instance(face, instance, coords, n);
  g_auto(GStrv) each = g_strsplit(asked ? wishes : "", ",", HF_FONT_MAX_AXES + 1);
  for (guint i = 0; each[i] != NULL; i++)
    if (!apply_wish(face, g_strstrip(each[i]), axes, n, coords, set, where, error))
      return FALSE;
  hb_font_set_var_coords_design(face->font, coords, n);
  return TRUE;
}
