/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-fonts.c - fonts: which there are, what they look like, one more from a file.
 */
#include "faces/faces.h"
#include "page/page-private.h"
#include <glib/gstdio.h>

enum { MOST_SAMPLE = 80, MOST_SAMPLES = 300, MOST_NAME = 80 };

/* ---- the list ------------------------------------------------------------------------------ */

static GBytes *
list_fonts(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  (void)ret_type;
  (void)cancel;
  (void)error;
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  g_autoptr(GPtrArray) faces = hf_fonts_matching(fonts, data, NULL);
  g_autoptr(HfJson) json = hf_json_new();
  const char *family = NULL;
  hf_json_open(json, NULL, '[');
  for (guint i = 0; faces != NULL && i < faces->len; i++) {
    const HfFontListed *face = g_ptr_array_index(faces, i);
    if (family == NULL || strcmp(family, face->family) != 0) {
      if (family != NULL) {
        hf_json_close(json);
        hf_json_close(json);
      }
      family = face->family;
      hf_json_line(json, NULL, '{');
      hf_json_text(json, "family", family);
      hf_json_line(json, "styles", '[');
    }
    hf_json_text(json, NULL, face->style);
  }
  if (family != NULL) {
    hf_json_close(json);
    hf_json_close(json);
  }
  hf_json_close(json);
  return hf_json_finish(json);
}

static const char *
query_word(GHashTable *query, const char *key)
{
  return query != NULL ? g_hash_table_lookup(query, key) : NULL;
}

void
hf_call_fonts(HfPage *page, const HfAsked *asked)
{
  hf_later(page, asked->message, list_fonts, NULL, g_strdup(query_word(asked->query, "find")),
           g_free);
}

/* ---- samples ------------------------------------------------------------------------------- */

/* Faces stay open between samples, but not for ever. */
struct HfSamples {
  GMutex lock;
  HfFonts *fonts; /* (nullable) */
  guint n;        /* how many were drawn */
};

typedef struct {
  HfSamples *samples;
  char *family, *style, *text;
} Sample;

HfSamples *
hf_samples_new(void)
{
  HfSamples *samples = g_new0(HfSamples, 1);
  g_mutex_init(&samples->lock);
  return samples;
}

void
hf_samples_free(HfSamples *samples)
{
  if (samples == NULL)
    return;
  hf_fonts_free(samples->fonts);
  g_mutex_clear(&samples->lock);
  g_free(samples);
}

static void
sample_free(gpointer data)
{
  Sample *sample = data;
  g_free(sample->family);
  g_free(sample->style);
  g_free(sample->text);
  g_free(sample);
}

static GBytes *
draw_sample(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  const Sample *sample = data;
  (void)cancel;
  *ret_type = "image/svg+xml";
  HfSamples *samples = sample->samples;
  g_mutex_lock(&samples->lock);
  if (samples->fonts == NULL || samples->n++ % MOST_SAMPLES == 0) {
    hf_fonts_free(samples->fonts);
    samples->fonts = hf_fonts_new();
  }
  GBytes *bytes =
      hf_fonts_sample(samples->fonts, sample->family, sample->style, sample->text, error);
  g_mutex_unlock(&samples->lock);
  return bytes;
}

static gboolean
is_line(const char *text)
{
  return text != NULL && g_utf8_validate(text, -1, NULL) &&
         g_utf8_strlen(text, -1) <= MOST_SAMPLE && strpbrk(text, "\r\n") == NULL;
}

void
hf_call_font_svg(HfPage *page, const HfAsked *asked)
{
  const char *family = query_word(asked->query, "family"),
             *style = query_word(asked->query, "style");
  const char *text = query_word(asked->query, "text");
  if (!is_line(family) || !is_line(text) || (style != NULL && !is_line(style))) {
    hf_answer_refusal(asked->message, SOUP_STATUS_BAD_REQUEST,
                      "name a family and a text of at most 80 characters", NULL);
    return;
  }
  Sample *sample = g_new(Sample, 1);
  gboolean styled = style != NULL && *style != '\0';
  *sample =
      (Sample){page->samples, g_strdup(family), styled ? g_strdup(style) : NULL, g_strdup(text)};
  hf_later(page, asked->message, draw_sample, NULL, sample, sample_free);
}

/* ---- one more ------------------------------------------------------------------------------ */

typedef struct {
  GBytes *bytes;
  char *folder, *name;
  char *state; /* folder for the try */
} Dropped;

static void
dropped_free(gpointer data)
{
  Dropped *dropped = data;
  g_bytes_unref(dropped->bytes);
  g_free(dropped->folder);
  g_free(dropped->name);
  g_free(dropped->state);
  g_free(dropped);
}

/* A name that is nothing but a name: letters, digits, and what goes between them. */
static char *
plain_name(const char *name)
{
  const char *slash = strrchr(name, '/'), *back = strrchr(name, '\\');
  if (slash != NULL)
    name = slash + 1;
  if (back != NULL && back >= name)
    name = back + 1;
  while (*name == '.')
    name++;
  g_autoptr(GString) plain = g_string_new(NULL);
  for (; *name != '\0' && plain->len < MOST_NAME; name = g_utf8_next_char(name)) {
    gunichar c = g_utf8_get_char(name);
    if (g_unichar_isalnum(c) || c == '.' || c == '-' || c == '_')
      g_string_append_unichar(plain, c);
    else
      g_string_append_c(plain, '-');
  }
  return g_string_free(g_steal_pointer(&plain), FALSE);
}

/* Nothing is kept that is no font: it is opened first, out of the way. */
static gboolean
try_font(const Dropped *dropped, char **ret_family, char **ret_style, GError **error)
{
  g_autofree char *trial = g_build_filename(dropped->state, "font-XXXXXX", NULL);
  if (g_mkdir_with_parents(dropped->state, 0700) != 0 || g_mkdtemp_full(trial, 0700) == NULL) {
    hf_error_set(error, HF_ERROR_IO, dropped->state, "make it writable for you",
                 "can't try the font");
    return FALSE;
  }
  g_autofree char *file = g_build_filename(trial, dropped->name, NULL);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  gsize length;
  const void *bytes = g_bytes_get_data(dropped->bytes, &length);
  gboolean good = hf_file_write(file, bytes, length, error) &&
                  hf_fonts_try(fonts, file, ret_family, ret_style, error);
  g_unlink(file);
  g_rmdir(trial);
  return good;
}

static gboolean
is_same_file(const char *path, GBytes *bytes)
{
  g_autoptr(GBytes) there = hf_file_read(path, g_bytes_get_size(bytes), NULL);
  return there != NULL && g_bytes_equal(there, bytes);
}

/* harbour.ttf, harbour-2.ttf, ...: never over another file; the same font is not kept twice. */
static char *
keep_font(const Dropped *dropped, GError **error)
{
  const char *dot = strrchr(dropped->name, '.');
  int stem = dot != NULL ? (int)(dot - dropped->name) : (int)strlen(dropped->name);
  gsize length;
  const void *bytes = g_bytes_get_data(dropped->bytes, &length);
  for (guint n = 1; n < 100; n++) {
    g_autofree char *name =
        n == 1 ? g_strdup(dropped->name)
               : g_strdup_printf("%.*s-%u%s", stem, dropped->name, n, dot != NULL ? dot : "");
    g_autofree char *path = g_build_filename(dropped->folder, name, NULL);
    g_autoptr(GError) inner = NULL;
    if (hf_file_write_new(path, bytes, length, &inner) || is_same_file(path, dropped->bytes))
      return g_steal_pointer(&name);
    if (!g_error_matches(inner, HF_ERROR, HF_ERROR_NO_ROOM)) {
      g_propagate_error(error, g_steal_pointer(&inner));
      return NULL;
    }
  }
  hf_error_set(error, HF_ERROR_NO_ROOM, dropped->name, "give the file another name",
               "there are a hundred files of that name");
  return NULL;
}

static GBytes *
take_font(gpointer data, const char **ret_type, const HfCancel *cancel, GError **error)
{
  const Dropped *dropped = data;
  (void)ret_type;
  (void)cancel;
  g_autofree char *family = NULL, *style = NULL, *name = NULL;
  if (!try_font(dropped, &family, &style, error))
    return NULL;
  name = keep_font(dropped, error);
  if (name == NULL)
    return NULL;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_text(json, "file", name);
  hf_json_text(json, "family", family);
  hf_json_text(json, "style", style);
  hf_json_close(json);
  return hf_json_finish(json);
}

static gboolean
has_font_ending(const char *name)
{
  static const char *const endings[] = {".ttf", ".otf", ".ttc", ".otc"};
  g_autofree char *lower = g_ascii_strdown(name, -1);
  for (gsize i = 0; i < G_N_ELEMENTS(endings); i++)
    if (g_str_has_suffix(lower, endings[i]))
      return TRUE;
  return FALSE;
}

void
hf_call_font(HfPage *page, const HfAsked *asked)
{
  const char *name = query_word(asked->query, "name");
  g_autofree char *plain =
      name != NULL && g_utf8_validate(name, -1, NULL) ? plain_name(name) : g_strdup("");
  if (!has_font_ending(plain) || strlen(plain) < 5) {
    hf_answer_refusal(asked->message, SOUP_STATUS_BAD_REQUEST, "this is no font file",
                      "drop a file that ends in .ttf or .otf");
    return;
  }
  Dropped *dropped = g_new0(Dropped, 1);
  dropped->bytes = soup_message_body_flatten(soup_server_message_get_request_body(asked->message));
  dropped->name = g_steal_pointer(&plain);
  dropped->state = g_strdup(page->state);
  dropped->folder = page->document != NULL ? g_path_get_dirname(hf_document_file(page->document))
                                           : g_strdup(page->home);
  hf_later(page, asked->message, take_font, NULL, dropped, dropped_free);
}
