/* SPDX-License-Identifier: GPL-3.0-or-later
 * text-faces.c - lists of families, what is said instead of them, and what is here.
 */
#include "base/text.h"
#include "drawing/text-faces-private.h"
#include <string.h>

#define MOST_FAMILIES 20
#define MOST_MISSING  50 /* lists of families: what would do instead takes time to find */

#define SAY_WHICH "say which by \"font\"; holdfast fonts lists those that are installed"

struct HfTextFaces {
  const HfDrawingWish *wanted;
  GHashTable *found;   /* what was asked for to GPtrArray of HfFace */
  GHashTable *missing; /* to GError of no place */
};

HfTextFaces *
hf_text_faces_new(const HfDrawingWish *wanted)
{
  HfTextFaces *faces = g_new0(HfTextFaces, 1);
  faces->wanted = wanted;
  faces->found =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_ptr_array_unref);
  faces->missing =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_error_free);
  return faces;
}

void
hf_text_faces_free(HfTextFaces *faces)
{
  if (faces == NULL)
    return;
  g_hash_table_unref(faces->found);
  g_hash_table_unref(faces->missing);
  g_free(faces);
}

/* ---- names ----------------------------------------------------------------------------------- */

/* CSS 2.1, 15.3: names between commas, in quotes or with single blanks. */
char **
hf_text_families(const char *list)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  g_autofree char *valid = g_utf8_make_valid(list, -1);
  for (const char *p = valid; *p != '\0' && names->len < MOST_FAMILIES;) {
    g_autoptr(GString) name = g_string_new(NULL);
    char quote = '\0';
    for (; *p != '\0' && (*p != ',' || quote != '\0'); p++) {
      gboolean blank = g_ascii_isspace(*p) || g_ascii_iscntrl(*p);
      if (quote != '\0' ? *p == quote : *p == '"' || *p == '\'')
        quote = quote != '\0' ? '\0' : *p;
      else if (!blank)
        g_string_append_c(name, *p);
      else if (name->len > 0 && name->str[name->len - 1] != ' ')
        g_string_append_c(name, ' ');
    }
    p += *p == ',' ? 1 : 0;
    g_strchomp(name->str);
    if (*name->str != '\0')
      g_ptr_array_add(names, g_strdup(name->str));
  }
  g_ptr_array_add(names, NULL);
  return (char **)g_ptr_array_free(g_steal_pointer(&names), FALSE);
}

/* CSS Fonts 4, 2.1.3: any face of a kind; which, a program guesses, and we do not. */
static gboolean
is_kind(const char *name)
{
  static const char *const kinds[] = {"serif",   "sans-serif", "sans",      "cursive",
                                      "fantasy", "monospace",  "system-ui", NULL};
  g_autofree char *lower = g_ascii_strdown(name, -1);
  return g_strv_contains(kinds, lower);
}

static gboolean
same_name(const char *a, const char *b)
{
  g_autofree char *x = g_utf8_casefold(a, -1), *y = g_utf8_casefold(b, -1);
  return strcmp(x, y) == 0;
}

/* ---- what is here ---------------------------------------------------------------------------- */

/* A family without a style: as heavy and slanted as the text says. */
static const HfFace *
open_instead(const HfTextFaces *faces, const HfFaceWanted *instead, const HfFaceLike *like,
             GError **error)
{
  HfFonts *fonts = faces->wanted->fonts;
  if (instead->file != NULL || instead->style != NULL || instead->axes != NULL)
    return hf_fonts_open(fonts, instead, NULL, error);
  HfFaceLike own = *like;
  own.family = instead->family;
  return hf_fonts_open_like(fonts, &own, NULL, error);
}

static const HfFaceWanted *
said_for(const HfTextFaces *faces, const char *name)
{
  for (guint i = 0; i < faces->wanted->n_faces; i++)
    if (same_name(faces->wanted->faces[i].named, name))
      return &faces->wanted->faces[i].instead;
  return NULL;
}

static void
add_face(GPtrArray *list, const HfFace *face)
{
  if (face != NULL && !g_ptr_array_find(list, face, NULL))
    g_ptr_array_add(list, (gpointer)face);
}

/* Keeps the first error in @first. */
static void
keep_first(GError **first, GError *error)
{
  if (*first == NULL)
    *first = error;
  else
    g_clear_error(&error);
}

static void
add_family(const HfTextFaces *faces, const char *name, const HfFaceLike *like, GPtrArray *list,
           GError **first)
{
  GError *error = NULL;
  const HfFaceWanted *instead = said_for(faces, name);
  HfFaceLike own = *like;
  own.family = name;
  if (instead != NULL)
    add_face(list, open_instead(faces, instead, like, &error));
  else if (!is_kind(name))
    add_face(list, hf_fonts_open_like(faces->wanted->fonts, &own, NULL, &error));
  if (error != NULL)
    keep_first(first, error);
}

/* What stands in @error between its place and what to do. */
static char *
bare_of(const GError *error)
{
  const char *at = hf_error_where(error), *fix = hf_error_fix(error), *what = error->message;
  gsize skip = at != NULL && g_str_has_prefix(what, at) ? strlen(at) + 2 : 0;
  gsize tail = fix != NULL && g_str_has_suffix(what, fix) ? strlen(fix) + 2 : 0;
  return g_strndup(what + skip, strlen(what) - skip - tail);
}

/* Nothing of @names is here; of no place: it is told again for each text. */
static void
set_missing(GError **error, char **names, const GError *first)
{
  if (first != NULL) {
    const char *fix = hf_error_fix(first);
    g_autofree char *both = g_strdup_printf("say another for it by \"font\"%s%s",
                                            fix != NULL ? "; " : "", fix != NULL ? fix : "");
    g_autofree char *bare = bare_of(first);
    hf_error_set(error, (HfErrorKind)first->code, NULL, both, "%s", bare);
  } else if (names[0] != NULL) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, SAY_WHICH,
                 "its file asks for any face of the kind \"%s\"", names[0]);
  } else {
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, SAY_WHICH, "its file names no face");
  }
}

static GPtrArray *
look_for(const HfTextFaces *faces, char **names, const HfFaceLike *like, GError **error)
{
  g_autoptr(GPtrArray) list = g_ptr_array_new();
  GError *first = NULL;
  for (guint i = 0; names[i] != NULL; i++)
    add_family(faces, names[i], like, list, &first);
  const HfFaceWanted *otherwise = faces->wanted->face;
  if (otherwise != NULL) {
    GError *why = NULL;
    add_face(list, open_instead(faces, otherwise, like, &why));
    if (why != NULL)
      keep_first(&first, why);
  }
  if (list->len == 0) {
    set_missing(error, names, first);
    g_clear_error(&first);
    return NULL;
  }
  g_clear_error(&first);
  return g_steal_pointer(&list);
}

const GPtrArray *
hf_text_faces_find(HfTextFaces *faces, const char *families, HfFaceLike like, const char *where,
                   GError **error)
{
  g_autofree char *key = g_strdup_printf("%d %d %d %s", like.weight, (int)like.slant,
                                         (int)like.width, families != NULL ? families : "");
  GPtrArray *list = (GPtrArray *)g_hash_table_lookup(faces->found, key);
  if (list != NULL)
    return list;
  GError *why = (GError *)g_hash_table_lookup(faces->missing, key);
  if (why == NULL && g_hash_table_size(faces->missing) >= MOST_MISSING) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, where, "say other faces for those that are not here",
                 "more than %d faces that its file names were looked for in vain", MOST_MISSING);
    return NULL;
  }
  if (why == NULL) {
    g_auto(GStrv) names = hf_text_families(families != NULL ? families : "");
    list = look_for(faces, names, &like, &why);
    if (list != NULL)
      g_hash_table_insert(faces->found, g_steal_pointer(&key), list);
    else
      g_hash_table_insert(faces->missing, g_steal_pointer(&key), why);
  }
  if (list == NULL) {
    g_autofree char *bare = bare_of(why);
    hf_error_set(error, (HfErrorKind)why->code, where, hf_error_fix(why), "%s", bare);
  }
  return list;
}

const HfFace *
hf_text_faces_said(HfTextFaces *faces, const char *name, const char *where, GError **error)
{
  const HfFaceWanted *instead = said_for(faces, name);
  const HfFaceLike plain = {.weight = 400, .width = 100};
  instead = instead != NULL ? instead : faces->wanted->face;
  if (instead == NULL) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, where, SAY_WHICH,
                 "its file holds no letters and names no face, only a style of its own, \"%s\"",
                 name);
    return NULL;
  }
  GError *why = NULL;
  const HfFace *face = open_instead(faces, instead, &plain, &why);
  if (face == NULL) {
    g_autofree char *bare = bare_of(why);
    hf_error_set(error, (HfErrorKind)why->code, where, hf_error_fix(why), "%s", bare);
    g_error_free(why);
  }
  return face;
}

const HfFace *
hf_text_faces_for(const GPtrArray *list, gunichar character)
{
  for (guint i = 0; i < list->len; i++) {
    const HfFace *face = (const HfFace *)g_ptr_array_index(list, i);
    if (hf_face_has(face, character))
      return face;
  }
  return (const HfFace *)g_ptr_array_index(list, 0);
}
