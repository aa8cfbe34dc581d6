/* SPDX-License-Identifier: GPL-3.0-or-later
 * collection.c - one font file may hold several faces (.ttc), and a variable face several named
 * styles. When a font is given by file, family and style choose among them.
 */
#include "type/type-private.h"

enum { MOST_FACES = 256, MOST_STYLES = 256 };

/* Upper 16 bits of an index: named style from 1, 0 for the face as it is. As Fontconfig has it. */
static guint
index_of(guint face, guint instance)
{
  return instance << 16 | face;
}

static gboolean
called(hb_face_t *face, hb_ot_name_id_t best, hb_ot_name_id_t next, const char *wanted)
{
  g_autofree char *a = hf_face_name(face, best), *b = hf_face_name(face, next);
  return hf_font_word_is(a, wanted) || (a == NULL && hf_font_word_is(b, wanted));
}

/* Takes @name, once. */
static void
add_name(GPtrArray *names, char *name)
{
  if (name != NULL && !g_ptr_array_find_with_equal_func(names, name, g_str_equal, NULL))
    g_ptr_array_add(names, name);
  else
    g_free(name);
}

/* Looks for @style in @face; adds what it has to @styles. %TRUE and the instance when found. */
static gboolean
find_style(hb_face_t *face, const char *style, GPtrArray *styles, guint *ret_instance)
{
  guint n = MIN(hb_ot_var_get_named_instance_count(face), MOST_STYLES);
  for (guint i = 0; i < n; i++) {
    char *name = hf_face_name(face, hb_ot_var_named_instance_get_subfamily_name_id(face, i));
    if (name == NULL)
      continue;
    gboolean found = hf_font_word_is(name, style);
    add_name(styles, name);
    if (found) {
      *ret_instance = i + 1;
      return TRUE;
    }
  }
  *ret_instance = 0;
  if (called(face, HB_OT_NAME_ID_TYPOGRAPHIC_SUBFAMILY, HB_OT_NAME_ID_FONT_SUBFAMILY, style))
    return TRUE;
  char *own = hf_face_name(face, HB_OT_NAME_ID_TYPOGRAPHIC_SUBFAMILY);
  if (own == NULL)
    own = hf_face_name(face, HB_OT_NAME_ID_FONT_SUBFAMILY);
  add_name(styles, own);
  return FALSE;
}

/* Whether @face answers the wish. @alone: the file holds no other, so the family is no matter. */
static gboolean
answers(hb_face_t *face, gboolean alone, const HfFaceWanted *wanted, GPtrArray *families,
        GPtrArray *styles, guint *ret_instance)
{
  *ret_instance = 0;
  if (wanted->family != NULL && !alone) {
    char *family = hf_face_name(face, HB_OT_NAME_ID_TYPOGRAPHIC_FAMILY);
    if (family == NULL)
      family = hf_face_name(face, HB_OT_NAME_ID_FONT_FAMILY);
    gboolean is_it =
        called(face, HB_OT_NAME_ID_TYPOGRAPHIC_FAMILY, HB_OT_NAME_ID_FONT_FAMILY, wanted->family);
    add_name(families, family);
    if (!is_it)
      return FALSE;
  }
  return wanted->style == NULL || find_style(face, wanted->style, styles, ret_instance);
}

static void
set_not_found(GError **error, const HfFaceWanted *wanted, const GPtrArray *families,
              GPtrArray *styles, const char *where)
{
  gboolean by_style = wanted->style != NULL && (styles->len > 0 || wanted->family == NULL);
  const GPtrArray *names = by_style ? styles : families;
  const char *given = by_style ? wanted->style : wanted->family;
  g_auto(GStrv) near = hf_names_near(given, names, 12, TRUE);
  g_autofree char *list = hf_names_quoted((const char *const *)near, names->len, 12, "or");
  g_autofree char *fix = near[0] != NULL ? g_strdup_printf("choose %s", list) : NULL;
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "the font file %s has no %s \"%s\"",
               wanted->file, by_style ? "style" : "face", given);
}

gboolean
hf_collection_pick(GBytes *bytes, const HfFaceWanted *wanted, const char *where, guint *ret_index,
                   GError **error)
{
  gsize length = 0;
  const char *data = g_bytes_get_data(bytes, &length);
  hb_blob_t *blob = hb_blob_create(data, (guint)length, HB_MEMORY_MODE_READONLY, NULL, NULL);
  guint n = MIN(hb_face_count(blob), MOST_FACES);
  g_autoptr(GPtrArray) families = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GPtrArray) styles = g_ptr_array_new_with_free_func(g_free);
  gboolean found = n == 0 || (wanted->style == NULL && (wanted->family == NULL || n == 1));
  *ret_index = 0;
  for (guint i = 0; i < n && !found; i++) {
    hb_face_t *face = hb_face_create(blob, i);
    guint instance = 0;
    found = answers(face, n == 1, wanted, families, styles, &instance);
    *ret_index = found ? index_of(i, instance) : 0;
    hb_face_destroy(face);
  }
  hb_blob_destroy(blob);
  if (!found)
    set_not_found(error, wanted, families, styles, where);
  return found;
}
