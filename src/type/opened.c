/* SPDX-License-Identifier: GPL-3.0-or-later
 * opened.c - the fonts of this machine and those already opened.
 */
#include "base/file.h"
#include "type/type-private.h"

HfFonts *
hf_fonts_new(void)
{
  HfFonts *fonts = g_new0(HfFonts, 1);
  fonts->faces =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)hf_face_free);
  fonts->pen = hf_pen_new();
  return fonts;
}

HfFonts *
hf_fonts_ref(HfFonts *fonts)
{
  g_atomic_int_inc(&fonts->others);
  return fonts;
}

void
hf_fonts_free(HfFonts *fonts)
{
  if (fonts == NULL || g_atomic_int_add(&fonts->others, -1) > 0)
    return;
  g_hash_table_unref(fonts->faces);
  g_clear_pointer(&fonts->installed, g_ptr_array_unref);
  if (fonts->config != NULL)
    FcConfigDestroy(fonts->config);
  hb_draw_funcs_destroy(fonts->pen);
  g_free(fonts);
}

static char *
key_of(const HfFaceWanted *wanted)
{
  const char *parts[] = {wanted->family, wanted->style, wanted->file, wanted->axes};
  g_autoptr(GString) key = g_string_new(NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(parts); i++)
    g_string_append_printf(key, "%s\x1f", parts[i] != NULL ? parts[i] : "\x1e");
  return g_string_free(g_steal_pointer(&key), FALSE);
}

static GBytes *
read_font(const char *file, const char *where, GError **error)
{
  g_autoptr(GError) local = NULL;
  GBytes *bytes = hf_file_read(file, HF_FONT_MAX_BYTES, &local);
  if (bytes == NULL)
    hf_error_set(error, (HfErrorKind)local->code, where, "check the path of the font file", "%s",
                 local->message);
  return bytes;
}

static HfFace *
face_of(HfFonts *fonts, const char *file, GBytes *bytes, guint index, const char *axes,
        const char *where, GError **error)
{
  g_autoptr(HfFace) face = hf_face_new(file, bytes, index & 0xffff, fonts->pen, where, error);
  if (face == NULL || !hf_axes_apply(face, index >> 16 & 0x7fff, axes, where, error) ||
      !hf_face_finish(face, where, error))
    return NULL;
  return g_steal_pointer(&face);
}

const HfFace *
hf_fonts_open_like(HfFonts *fonts, const HfFaceLike *like, const char *where, GError **error)
{
  const HfInstalled *found = hf_installed_like(fonts, like);
  if (found == NULL) /* says why */
    found = hf_installed_find(fonts, like->family, NULL, where, error);
  if (found == NULL)
    return NULL;
  g_autofree char *key = g_strdup_printf("\x1d%s\x1f%u", found->file, found->index);
  HfFace *face = g_hash_table_lookup(fonts->faces, key);
  if (face != NULL)
    return face;
  g_autoptr(GBytes) bytes = read_font(found->file, where, error);
  if (bytes == NULL)
    return NULL;
  face = face_of(fonts, found->file, bytes, found->index, NULL, where, error);
  if (face != NULL)
    g_hash_table_insert(fonts->faces, g_steal_pointer(&key), face);
  return face;
}

static HfFace *
open_wanted(HfFonts *fonts, const HfFaceWanted *wanted, const char *where, GError **error)
{
  const char *file = wanted->file;
  guint index = 0;
  if (file == NULL) {
    const HfInstalled *found =
        hf_installed_find(fonts, wanted->family, wanted->style, where, error);
    if (found == NULL)
      return NULL;
    file = found->file;
    index = found->index;
  }
  g_autoptr(GBytes) bytes = read_font(file, where, error);
  if (bytes == NULL)
    return NULL;
  if (wanted->file != NULL && !hf_collection_pick(bytes, wanted, where, &index, error))
    return NULL;
  return face_of(fonts, file, bytes, index, wanted->axes, where, error);
}

const HfFace *
hf_fonts_open(HfFonts *fonts, const HfFaceWanted *wanted, const char *where, GError **error)
{
  g_return_val_if_fail(fonts != NULL && wanted != NULL, NULL);
  g_return_val_if_fail(wanted->family != NULL || wanted->file != NULL, NULL);
  g_autofree char *key = key_of(wanted);
  HfFace *face = g_hash_table_lookup(fonts->faces, key);
  if (face != NULL)
    return face;
  face = open_wanted(fonts, wanted, where, error);
  if (face != NULL)
    g_hash_table_insert(fonts->faces, g_steal_pointer(&key), face);
  return face;
}
