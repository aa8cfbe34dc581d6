/* SPDX-License-Identifier: GPL-3.0-or-later
 * face.c - one face of a font file: is it fit for use, what is it called, what may be done with it.
 * HarfBuzz checks every table for itself and reads a broken one as empty, so what is asked for
 * here is only that the tables are there that a sign can't do without.
 */
#include "base/file.h"
#include "type/type-private.h"
#include <string.h>

#define STEEPEST 45 /* deg: no face leans more; a figure beyond is a mistake */

enum { LONGEST_NAME = 100 };

static void
set_bad(GError **error, const char *where, const char *file, const char *what, const char *fix)
{
  hf_error_set(error, HF_ERROR_BAD_FONT, where, fix, "the font file %s %s", file, what);
}

/* What the first four bytes say, in words; NULL when it is an SFNT file with outlines in it. */
static const char *
foreign_kind(const guint8 *data, gsize length)
{
  static const struct {
    char magic[5];
    const char *kind;
  } kinds[] = {
      {"wOFF", "is packed for web pages (WOFF)"},  {"wOF2", "is packed for web pages (WOFF2)"},
      {"%!PS", "is a PostScript Type 1 font"},     {"%!Fo", "is a PostScript Type 1 font"},
      {"\x80\x01", "is a PostScript Type 1 font"}, {"STAR", "is a bitmap font"},
  };
  if (length < 12)
    return "is not a font file";
  for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
    if (memcmp(data, kinds[i].magic, strlen(kinds[i].magic)) == 0)
      return kinds[i].kind;
  static const char sfnt[][5] = {"OTTO", "true", "ttcf"};
  for (gsize i = 0; i < G_N_ELEMENTS(sfnt); i++)
    if (memcmp(data, sfnt[i], 4) == 0)
      return NULL;
  return memcmp(data, "\0\1\0\0", 4) == 0 ? NULL : "is not a font file";
}

/* head: magic number at 12, units to the em at 18 (OpenType 1.9, table head). */
static gboolean
head_is_sound(hb_face_t *face)
{
  hb_blob_t *head = hb_face_reference_table(face, HB_TAG('h', 'e', 'a', 'd'));
  guint n = 0;
  const guint8 *at = (const guint8 *)hb_blob_get_data(head, &n);
  gboolean sound = n >= 54 && memcmp(at + 12, "\x5f\x0f\x3c\xf5", 4) == 0;
  guint em = sound ? (guint)at[18] << 8 | at[19] : 0;
  hb_blob_destroy(head);
  return em >= 16 && em <= 16384 && hb_face_get_upem(face) == em;
}

static gboolean
has_table(hb_face_t *face, hb_tag_t tag)
{
  hb_blob_t *table = hb_face_reference_table(face, tag);
  gboolean has = hb_blob_get_length(table) > 0;
  hb_blob_destroy(table);
  return has;
}

static const char *
unfit(hb_face_t *face)
{
  if (!head_is_sound(face) || hb_face_get_glyph_count(face) == 0)
    return "is damaged";
  gboolean outlines = (has_table(face, HB_TAG('g', 'l', 'y', 'f')) &&
                       has_table(face, HB_TAG('l', 'o', 'c', 'a'))) ||
                      has_table(face, HB_TAG('C', 'F', 'F', ' ')) ||
                      has_table(face, HB_TAG('C', 'F', 'F', '2'));
  if (!outlines)
    return "has no outlines to cut (only pictures of its letters)";
  if (!has_table(face, HB_TAG('c', 'm', 'a', 'p')))
    return "does not say which character is which";
  return NULL;
}

char *
hf_face_name(hb_face_t *face, hb_ot_name_id_t id)
{
  char text[LONGEST_NAME * 4 + 1];
  guint size = sizeof text;
  guint full = hb_ot_name_get_utf8(face, id, hb_language_from_string("en", -1), &size, text);
  if (full == 0) { /* no English name: the first there is */
    guint n = 0;
    const hb_ot_name_entry_t *names = hb_ot_name_list_names(face, &n);
    for (guint i = 0; i < n && full == 0; i++)
      if (names[i].name_id == id) {
        size = sizeof text;
        full = hb_ot_name_get_utf8(face, id, names[i].language, &size, text);
      }
  }
  if (full == 0)
    return NULL;
  g_autofree char *sound = g_utf8_make_valid(text, -1);
  g_autoptr(GString) clean = g_string_new(NULL);
  guint kept = 0;
  for (const char *at = sound; *at != '\0' && kept < LONGEST_NAME; at = g_utf8_next_char(at))
    if (g_unichar_isprint(g_utf8_get_char(at))) {
      g_string_append_unichar(clean, g_utf8_get_char(at));
      kept++;
    }
  g_strstrip(clean->str);
  return *clean->str == '\0' ? NULL : g_strdup(clean->str);
}

static char *
first_name(hb_face_t *face, hb_ot_name_id_t best, hb_ot_name_id_t next, const char *otherwise)
{
  char *name = hf_face_name(face, best);
  if (name == NULL)
    name = hf_face_name(face, next);
  return name != NULL ? name : g_strdup(otherwise);
}

/* OS/2, fsType at 8 (OpenType 1.9): 0x0002 restricted, unless 0x0004 (preview and print) or
 * 0x0008 (editable) is set too and allows it; 0x0100 no subsets, and a proof embeds a subset;
 * 0x0200 bitmaps only. A font that does not say is not embedded. */
static gboolean
allows_embedding(hb_face_t *face)
{
  hb_blob_t *os2 = hb_face_reference_table(face, HB_TAG('O', 'S', '/', '2'));
  guint n = 0;
  const guint8 *at = (const guint8 *)hb_blob_get_data(os2, &n);
  gboolean allowed = n >= 10;
  if (allowed) {
    guint type = (guint)at[8] << 8 | at[9];
    gboolean restricted = (type & 0x0002) != 0 && (type & 0x000c) == 0;
    allowed = !restricted && (type & 0x0300) == 0;
  }
  hb_blob_destroy(os2);
  return allowed;
}

static hb_blob_t *
blob_of(GBytes *bytes)
{
  gsize length = 0;
  const char *data = g_bytes_get_data(bytes, &length);
  return hb_blob_create(data, (guint)length, HB_MEMORY_MODE_READONLY, g_bytes_ref(bytes),
                        (hb_destroy_func_t)g_bytes_unref);
}

HfFace *
hf_face_new(const char *file, GBytes *bytes, guint index, hb_draw_funcs_t *pen, const char *where,
            GError **error)
{
  gsize length = 0;
  const guint8 *data = g_bytes_get_data(bytes, &length);
  const char *what = foreign_kind(data, length);
  if (what != NULL) {
    set_bad(error, where, file, what, "give it a TrueType or OpenType file (.ttf, .otf, .ttc)");
    return NULL;
  }
  hb_blob_t *blob = blob_of(bytes);
  g_autoptr(HfFace) face = g_new0(HfFace, 1);
  face->face = hb_face_create(blob, index);
  hb_blob_destroy(blob);
  face->file = g_strdup(file);
  face->digest = g_new0(GOnce, 1);
  face->bytes = g_bytes_ref(bytes);
  face->pen = pen;
  what = unfit(face->face);
  if (what != NULL) {
    set_bad(error, where, file, what, "choose another font");
    return NULL;
  }
  g_autofree char *base = g_path_get_basename(file);
  face->family =
      first_name(face->face, HB_OT_NAME_ID_TYPOGRAPHIC_FAMILY, HB_OT_NAME_ID_FONT_FAMILY, base);
  face->style = first_name(face->face, HB_OT_NAME_ID_TYPOGRAPHIC_SUBFAMILY,
                           HB_OT_NAME_ID_FONT_SUBFAMILY, "Regular");
  face->may_embed = allows_embedding(face->face);
  face->font = hb_font_create(face->face);
  guint em = hb_face_get_upem(face->face) * HF_SUBUNITS;
  face->em = em;
  hb_font_set_scale(face->font, (int)em, (int)em);
  face->shapes = g_hash_table_new_full(NULL, NULL, NULL, (GDestroyNotify)hf_glyph_shape_free);
  return g_steal_pointer(&face);
}

gboolean
hf_face_finish(HfFace *face, const char *where, GError **error)
{
  hb_codepoint_t glyph;
  hb_font_make_immutable(face->font);
  double angle = (double)hb_style_get_value(face->font, HB_STYLE_TAG_SLANT_ANGLE);
  face->lean = fabs(angle) < STEEPEST ? -angle * G_PI / 180 : 0;
  if (!hb_font_get_nominal_glyph(face->font, 'H', &glyph) || glyph == 0)
    return TRUE;
  const HfGlyphShape *shape = hf_face_shape(face, glyph, where, error);
  if (shape == NULL)
    return FALSE;
  face->cap_height = hf_box_height(shape->ink);
  return TRUE;
}

void
hf_face_free(HfFace *face)
{
  if (face == NULL)
    return;
  if (face->shapes != NULL)
    g_hash_table_unref(face->shapes);
  hb_font_destroy(face->font);
  hb_face_destroy(face->face);
  g_bytes_unref(face->bytes);
  g_free(face->family);
  g_free(face->style);
  g_free(face->file);
  g_free(face->digest->retval);
  g_free(face->digest);
  g_free(face);
}

char *
hf_face_label(const HfFace *face)
{
  return g_strdup_printf("\"%s %s\"", face->family, face->style);
}

const char *
hf_face_family(const HfFace *face)
{
  return face->family;
}

const char *
hf_face_style(const HfFace *face)
{
  return face->style;
}

const char *
hf_face_file(const HfFace *face)
{
  return face->file;
}

static gpointer
digest_of(gpointer bytes)
{
  gsize length = 0;
  const void *data = g_bytes_get_data(bytes, &length);
  return hf_file_digest(data, length);
}

/* Large fonts take tens of milliseconds; any thread may be the first to ask. */
const char *
hf_face_digest(const HfFace *face)
{
  return g_once(face->digest, digest_of, face->bytes);
}

gboolean
hf_face_may_embed(const HfFace *face)
{
  return face->may_embed;
}

gboolean
hf_face_has(const HfFace *face, gunichar character)
{
  hb_codepoint_t glyph = 0;
  return hb_font_get_nominal_glyph(face->font, character, &glyph) && glyph != 0;
}

double
hf_face_lean(const HfFace *face)
{
  return face->lean;
}

double
hf_face_cap_height(const HfFace *face)
{
  return face->cap_height;
}
