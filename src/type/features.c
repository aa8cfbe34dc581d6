/* SPDX-License-Identifier: GPL-3.0-or-later
 * features.c - OpenType features that the recipe turns on or off: "ss01,-liga,cv02=3".
 */
#include "type/type-private.h"
#include <string.h>

enum { MOST = 32, MOST_TAGS = 512 };

/* Letters that are set apart must not be drawn as one: CSS Text 3, section 8.2 ("letter-spacing":
 * no optional ligatures when the spacing is not zero). What the recipe says comes later and wins.
 */
static const hb_tag_t spaced_off[] = {HB_TAG('l', 'i', 'g', 'a'), HB_TAG('c', 'l', 'i', 'g')};

static GHashTable *
features_of(hb_face_t *face)
{
  GHashTable *has = g_hash_table_new(NULL, NULL);
  const hb_tag_t tables[] = {HB_OT_TAG_GSUB, HB_OT_TAG_GPOS};
  for (gsize t = 0; t < G_N_ELEMENTS(tables); t++) {
    hb_tag_t tags[MOST_TAGS];
    guint n = MOST_TAGS;
    hb_ot_layout_table_get_feature_tags(face, tables[t], 0, &n, tags);
    for (guint i = 0; i < n; i++)
      g_hash_table_add(has, GUINT_TO_POINTER(tags[i]));
  }
  g_hash_table_add(has, GUINT_TO_POINTER(HB_TAG('k', 'e', 'r', 'n'))); /* may be an old table */
  return has;
}

static gint
by_tag(gconstpointer a, gconstpointer b)
{
  guint x = GPOINTER_TO_UINT(*(gpointer const *)a), y = GPOINTER_TO_UINT(*(gpointer const *)b);
  return x < y ? -1 : x > y;
}

static char *
features_text(GHashTable *has)
{
  guint n = 0;
  g_autofree gpointer *tags = g_hash_table_get_keys_as_array(has, &n);
  qsort(tags, n, sizeof *tags, by_tag);
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < n && i < 60; i++) {
    char tag[5] = {0};
    hb_tag_to_string(GPOINTER_TO_UINT(tags[i]), tag);
    for (guint c = 0; c < 4; c++)
      if (!g_ascii_isprint(tag[c]))
        tag[c] = '?';
    g_string_append_printf(text, "%s%s", i > 0 ? ", " : "", g_strchomp(tag));
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}

char *
hf_face_features(const HfFace *face)
{
  g_autoptr(GHashTable) has = features_of(face->face);
  return features_text(has);
}

/* HarfBuzz takes much more, ranges of text among it; this is what people write. */
static gboolean
is_plain(const char *wish)
{
  const char *at = *wish == '-' || *wish == '+' ? wish + 1 : wish;
  for (guint i = 0; i < 4; i++, at++)
    if (!g_ascii_isalnum(*at))
      return FALSE;
  if (*at == '=' && g_ascii_isdigit(at[1]))
    for (at++; g_ascii_isdigit(*at);)
      at++;
  return *at == '\0' && strlen(wish) < 16;
}

static gboolean
parse_one(const HfFace *face, const char *wish, GHashTable *has, hb_feature_t *feature,
          const char *where, GError **error)
{
  if (!is_plain(wish) || !hb_feature_from_string(wish, -1, feature)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "write features as ss01,-liga",
                 "\"%s\" is not an OpenType feature to turn on or off", wish);
    return FALSE;
  }
  /* Turning off what is not there changes nothing and is what one does to be sure. */
  if (feature->value == 0 || g_hash_table_contains(has, GUINT_TO_POINTER(feature->tag)))
    return TRUE;
  g_autofree char *list = features_text(has), *label = hf_face_label(face);
  g_autofree char *fix = g_strdup_printf("it has %s", list);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where, fix, "the font %s has no feature \"%s\"", label,
               wish);
  return FALSE;
}

GArray *
hf_features_parse(const HfFace *face, const char *features, gboolean spaced, const char *where,
                  GError **error)
{
  g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(hb_feature_t));
  for (gsize i = 0; spaced && i < G_N_ELEMENTS(spaced_off); i++) {
    hb_feature_t off = {spaced_off[i], 0, HB_FEATURE_GLOBAL_START, HB_FEATURE_GLOBAL_END};
    g_array_append_val(list, off);
  }
  if (features == NULL || *features == '\0')
    return g_steal_pointer(&list);
  g_autoptr(GHashTable) has = features_of(face->face);
  g_auto(GStrv) each = g_strsplit(features, ",", -1);
  if (g_strv_length(each) > MOST) {
    hf_error_set(error, HF_ERROR_TOO_BIG, where, NULL, "%u features; at most %d are read",
                 g_strv_length(each), MOST);
    return NULL;
  }
  for (guint i = 0; each[i] != NULL; i++) {
    hb_feature_t feature;
    if (!parse_one(face, g_strstrip(each[i]), has, &feature, where, error))
      return NULL;
    g_array_append_val(list, feature);
  }
  return g_steal_pointer(&list);
}
