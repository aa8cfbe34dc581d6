/* SPDX-License-Identifier: GPL-3.0-or-later
 * faces.c - the list and the picture sheets of `holdfast fonts`.
 */
#include "base/file.h"
#include "base/json.h"
#include "base/text.h"
#include "faces/faces-private.h"
#include "out/view.h"
#include <string.h>

enum { MOST_TOLD_IN_FULL = 12, SHEET_PIXELS = 1600 };

static const HfFontListed *
face_at(const GPtrArray *faces, guint i)
{
  return g_ptr_array_index(faces, i);
}

static gboolean
matches(const HfFontListed *face, const char *folded)
{
  g_autofree char *name = g_strconcat(face->family, " ", face->style, NULL);
  g_autofree char *lower = g_utf8_casefold(name, -1);
  return strstr(lower, folded) != NULL;
}

static void
set_none(GError **error, const GPtrArray *all, const char *word)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (guint i = 0; i < all->len; i++)
    g_ptr_array_add(names, face_at(all, i)->family);
  g_ptr_array_add(names, NULL);
  const char *near = hf_text_nearest(word, (const char *const *)names->pdata);
  g_autofree char *fix = near != NULL ? g_strdup_printf("did you mean \"%s\"?", near)
                                      : g_strdup("holdfast fonts lists them all");
  hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, fix, "no installed font has \"%s\" in its name",
               word);
}

GPtrArray *
hf_fonts_matching(HfFonts *fonts, const char *word, GError **error)
{
  g_autoptr(GPtrArray) all = hf_fonts_list(fonts);
  if (word == NULL || *word == '\0')
    return g_steal_pointer(&all);
  g_autofree char *folded = g_utf8_casefold(word, -1);
  gboolean any = FALSE;
  for (guint i = 0; i < all->len && !any; i++)
    any = matches(face_at(all, i), folded);
  if (!any) {
    set_none(error, all, word);
    return NULL;
  }
  for (guint i = all->len; i-- > 0;)
    if (!matches(face_at(all, i), folded))
      g_ptr_array_remove_index(all, i);
  return g_steal_pointer(&all);
}

const HfFace *
hf_fonts_open_listed(HfFonts *fonts, const HfFontListed *listed, GError **error)
{
  HfFaceWanted wanted = {listed->family, listed->style, NULL, NULL};
  return hf_fonts_open(fonts, &wanted, NULL, error);
}

/* ---- the list ----------------------------------------------------------------------------------
 */

static void
tell_in_full(GString *out, HfFonts *fonts, const HfFontListed *listed)
{
  g_string_append_printf(out, "%s %s\n  file      %s\n", listed->family, listed->style,
                         listed->file);
  g_autoptr(GError) error = NULL;
  const HfFace *face = hf_fonts_open_listed(fonts, listed, &error);
  if (face == NULL) {
    g_string_append_printf(out, "  %s\n", error->message);
    return;
  }
  g_autofree char *axes = hf_face_axes(face), *features = hf_face_features(face);
  if (axes != NULL)
    g_string_append_printf(out, "  axes      %s\n", axes);
  g_string_append_printf(out, "  features  %s\n", features);
}

char *
hf_fonts_report(HfFonts *fonts, const GPtrArray *faces)
{
  g_autoptr(GString) out = g_string_new(NULL);
  guint families = 0;
  for (guint i = 0; i < faces->len && faces->len <= MOST_TOLD_IN_FULL; i++)
    tell_in_full(out, fonts, face_at(faces, i));
  for (guint i = 0; i < faces->len && faces->len > MOST_TOLD_IN_FULL; i++) {
    const HfFontListed *face = face_at(faces, i);
    gboolean again = i > 0 && strcmp(face_at(faces, i - 1)->family, face->family) == 0;
    families += !again;
    if (again)
      g_string_append_printf(out, ", %s", face->style);
    else
      g_string_append_printf(out, "%s%s: %s", i > 0 ? "\n" : "", face->family, face->style);
  }
  if (families > 0)
    g_string_append_printf(out, "\n%u families, %u styles\n", families, faces->len);
  return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
hf_fonts_report_json(const GPtrArray *faces)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_open(json, "fonts", '[');
  for (guint i = 0; i < faces->len; i++) {
    const HfFontListed *face = face_at(faces, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "family", face->family);
    hf_json_text(json, "style", face->style);
    hf_json_text(json, "file", face->file);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  return g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
}

/* ---- the picture -------------------------------------------------------------------------------
 */

static void
sample_clear(gpointer at)
{
  HfSample *sample = at;
  g_free((char *)sample->name);
  g_free((char *)sample->why);
  hf_line_free((HfLine *)sample->line);
}

GArray *
hf_sheet_rows(void)
{
  GArray *samples = g_array_new(FALSE, TRUE, sizeof(HfSample));
  g_array_set_clear_func(samples, sample_clear);
  return samples;
}

/* A face that can't show the sample says why, instead of a row of other letters. */
static HfSample
sample_of(HfFonts *fonts, const HfFontListed *listed, const char *text)
{
  HfSample sample = {g_strconcat(listed->family, "  ", listed->style, NULL), NULL, NULL};
  g_autoptr(GError) error = NULL;
  const HfFace *face = hf_fonts_open_listed(fonts, listed, &error);
  if (face != NULL)
    sample.line = hf_type_line(fonts, face, text, NULL, NULL, &error);
  if (error != NULL) { /* what to do instead is of no use on a sheet */
    const char *fix = hf_error_fix(error);
    gsize length = strlen(error->message) - (fix != NULL ? strlen(fix) + 2 : 0);
    sample.why = g_strndup(error->message, length);
  }
  return sample;
}

/* faces.png, faces-2.png, ... */
static char *
sheet_file(const char *file, guint number)
{
  if (number == 1)
    return g_strdup(file);
  const char *slash = strrchr(file, '/'), *dot = strrchr(file, '.');
  gboolean ending = dot != NULL && dot > (slash != NULL ? slash : file);
  int stem = ending ? (int)(dot - file) : (int)strlen(file);
  return g_strdup_printf("%.*s-%u%s", stem, file, number, ending ? dot : "");
}

gboolean
hf_sheet_write(const HfSample *samples, guint n, const char *heading, const char *file,
               guint number, GError **error)
{
  g_autofree char *said =
      number == 1 ? g_strdup(heading) : g_strdup_printf("%s  (%u)", heading, number);
  g_autofree char *path = sheet_file(file, number);
  g_autoptr(GBytes) bytes = hf_out_samples(said, samples, n, SHEET_PIXELS, error);
  return bytes != NULL &&
         hf_file_write(path, g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), error);
}

guint
hf_fonts_picture(HfFonts *fonts, const GPtrArray *faces, const char *sample, const char *file,
                 HfFontsTold told, gpointer data, const HfCancel *cancel, GError **error)
{
  guint number = 0;
  for (guint first = 0; first < faces->len; first += HF_SHEET_ROWS) {
    g_autoptr(GArray) rows = hf_sheet_rows();
    for (guint i = first; i < MIN(first + HF_SHEET_ROWS, faces->len); i++) {
      if (!hf_cancel_check(cancel, error))
        return 0;
      if (told != NULL)
        told(i, faces->len, face_at(faces, i)->family, data);
      HfSample row = sample_of(fonts, face_at(faces, i), sample);
      g_array_append_val(rows, row);
    }
    if (!hf_sheet_write((const HfSample *)(void *)rows->data, rows->len, sample, file, ++number,
                        error))
      return 0;
  }
  return number;
}

/* ---- one face ----------------------------------------------------------------------------------
 */

GBytes *
hf_fonts_sample(HfFonts *fonts, const char *family, const char *style, const char *text,
                GError **error)
{
  HfFaceWanted wanted = {family, style, NULL, NULL};
  const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, error);
  g_autoptr(HfLine) line = face != NULL ? hf_type_line(fonts, face, text, NULL, NULL, error) : NULL;
  return line != NULL ? hf_out_line(line) : NULL;
}

gboolean
hf_fonts_try(HfFonts *fonts, const char *file, char **ret_family, char **ret_style, GError **error)
{
  HfFaceWanted wanted = {NULL, NULL, file, NULL};
  const HfFace *face = hf_fonts_open(fonts, &wanted, NULL, error);
  if (face == NULL)
    return FALSE;
  *ret_family = g_strdup(hf_face_family(face));
  *ret_style = g_strdup(hf_face_style(face));
  return TRUE;
}
