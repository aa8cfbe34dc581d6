/* SPDX-License-Identifier: GPL-3.0-or-later
 * cascade.c - the cascade: which of all values that an element is told for a property holds.
 */
#include "drawing/style-private.h"
#include "drawing/svg-private.h"
#include <string.h>

#define RANK_RULE      ((guint64)1 << 56)
#define RANK_STYLE     ((guint64)1 << 58)
#define RANK_IMPORTANT ((guint64)1 << 60)

#define LONGEST_VALUE 100000 /* with all var() put in */

struct HfStyler {
  HfCssSheet *sheet;
  GHashTable *by_name; /* property name to HfProperty + 1 */
  GPtrArray *customs;  /* GHashTable *: all that were made */
};

/* What an element is told, with how strongly. */
typedef struct {
  HfStyler *styler;
  HfStyle *style;
  guint64 rank[HF_N_PROPERTIES];
  GHashTable *custom_rank; /* (nullable) name to guint64 *; made with the first */
  guint64 base;
} Gathered;

static const char *const names[] = {
#define PROPERTY(NAME, name, inherited) name,
#include "drawing/properties.def"
};

HfStyler *
hf_styler_new(const HfXml *xml, HfStyleNote note, gpointer data)
{
  HfStyler *styler = g_new0(HfStyler, 1);
  styler->sheet = hf_css_sheet_new(note, data);
  styler->customs = g_ptr_array_new_with_free_func((GDestroyNotify)g_hash_table_unref);
  styler->by_name = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < HF_N_PROPERTIES; i++)
    g_hash_table_insert(styler->by_name, (gpointer)names[i], GUINT_TO_POINTER(i + 1));
  for (guint i = 0; i < xml->nodes->len; i++) {
    const HfXmlNode *node = (const HfXmlNode *)g_ptr_array_index(xml->nodes, i);
    const char *type = strcmp(node->name, "style") == 0 ? hf_xml_get(node, "type") : NULL;
    if (strcmp(node->name, "style") == 0 && node->text != NULL &&
        (type == NULL || *type == '\0' || g_ascii_strcasecmp(type, "text/css") == 0))
      hf_css_sheet_add(styler->sheet, node->text->str, node->line);
  }
  return styler;
}

void
hf_styler_free(HfStyler *styler)
{
  if (styler == NULL)
    return;
  hf_css_sheet_free(styler->sheet);
  g_hash_table_unref(styler->by_name);
  g_ptr_array_unref(styler->customs);
  g_free(styler);
}

/* ---- gathering ------------------------------------------------------------------------------- */

static void
tell_custom(Gathered *own, const char *name, const char *value, guint64 rank)
{
  if (own->custom_rank == NULL) {
    own->custom_rank = g_hash_table_new_full(g_str_hash, g_str_equal, NULL, g_free);
    GHashTable *mine = g_hash_table_new(g_str_hash, g_str_equal);
    GHashTableIter iter;
    gpointer key, old;
    if (own->style->custom != NULL)
      for (g_hash_table_iter_init(&iter, own->style->custom);
           g_hash_table_iter_next(&iter, &key, &old);)
        g_hash_table_insert(mine, key, old);
    g_ptr_array_add(own->styler->customs, mine);
    own->style->custom = mine;
  }
  const guint64 *was = (const guint64 *)g_hash_table_lookup(own->custom_rank, name);
  if (was != NULL && *was > rank)
    return;
  g_hash_table_insert(own->custom_rank, (gpointer)name, g_memdup2(&rank, sizeof rank));
  g_hash_table_insert(own->style->custom, (gpointer)name, (gpointer)value);
}

static void
tell_one(Gathered *own, const char *name, const char *value, guint64 rank)
{
  guint i = GPOINTER_TO_UINT(g_hash_table_lookup(own->styler->by_name, name));
  if (i == 0 || own->rank[i - 1] > rank)
    return;
  own->rank[i - 1] = rank;
  own->style->told[i - 1] = value;
}

/* CSS Fonts 4, 2.7: `italic bold 12px/30px Georgia, serif`; what is not told in it is as it begins.
 */
static void
tell_font(Gathered *own, const char *value, guint64 rank)
{
  static const struct {
    HfProperty property;
    const char *words; /* between blanks */
  } kinds[] = {
      {HF_PROPERTY_FONT_STYLE, " italic oblique "},
      {HF_PROPERTY_FONT_VARIANT, " small-caps "},
      {HF_PROPERTY_FONT_WEIGHT, " bold bolder lighter 100 200 300 400 500 600 700 800 900 "},
      {HF_PROPERTY_FONT_STRETCH, " ultra-condensed extra-condensed condensed semi-condensed "
                                 "semi-expanded expanded extra-expanded ultra-expanded "},
  };
  for (guint k = 0; k < G_N_ELEMENTS(kinds); k++)
    tell_one(own, names[kinds[k].property], "initial", rank);
  const char *p = value;
  for (hf_svg_space(&p); *p != '\0'; hf_svg_space(&p)) {
    const char *word = hf_css_keep(own->styler->sheet, p, (gssize)strcspn(p, " \t\r\n/"));
    g_autofree char *between = g_strdup_printf(" %s ", word);
    guint k = 0;
    while (k < G_N_ELEMENTS(kinds) && strstr(kinds[k].words, between) == NULL)
      k++;
    if (*word == '\0' || (k == G_N_ELEMENTS(kinds) && strcmp(word, "normal") != 0))
      break;
    if (k < G_N_ELEMENTS(kinds))
      tell_one(own, names[kinds[k].property], word, rank);
    p += strlen(word);
  }
  gsize size = strcspn(p, " \t\r\n/");
  tell_one(own, "font-size", hf_css_keep(own->styler->sheet, p, (gssize)size), rank);
  p += size;
  hf_svg_space(&p);
  if (*p == '/') {
    p++;
    hf_svg_space(&p);
    p += strcspn(p, " \t\r\n");
    hf_svg_space(&p);
  }
  if (*p != '\0')
    tell_one(own, "font-family", p, rank);
}

static void
tell(Gathered *own, const char *name, const char *value, guint64 rank)
{
  if (strncmp(name, "--", 2) == 0) {
    tell_custom(own, name, value, rank);
  } else if (strcmp(name, "marker") == 0) {
    for (int i = HF_PROPERTY_MARKER_START; i <= HF_PROPERTY_MARKER_END; i++)
      tell_one(own, names[i], value, rank);
  } else if (strcmp(name, "font") == 0) {
    tell_font(own, value, rank);
  } else {
    tell_one(own, strcmp(name, "text-decoration-line") == 0 ? "text-decoration" : name, value,
             rank);
  }
}

static void
tell_rule(const GArray *declarations, guint64 rank, gpointer data)
{
  Gathered *own = (Gathered *)data;
  for (guint i = 0; i < declarations->len; i++) {
    const HfCssDeclaration *one = &g_array_index(declarations, HfCssDeclaration, i);
    tell(own, one->name, one->value, own->base + rank + (one->important ? RANK_IMPORTANT : 0));
  }
}

/* SVG 1.1, 6.4: presentation attributes are weaker than any rule and know no `!important`. */
static void
gather(Gathered *own, const HfXmlNode *node)
{
  static const char *const only[] = {"line-height", "font-kerning", "font-feature-settings", NULL};
  for (guint i = 0; i < node->n_attributes; i++)
    if (!g_strv_contains(only, node->attributes[i].name)) /* SVG 2, 6.6: properties only */
      tell_one(own, node->attributes[i].name, node->attributes[i].value, 1);
  own->base = RANK_RULE;
  hf_css_match(own->styler->sheet, node, tell_rule, own);
  const char *style = hf_xml_get(node, "style");
  if (style != NULL) {
    g_autoptr(GArray) declarations = hf_css_declarations(own->styler->sheet, style);
    own->base = RANK_STYLE;
    tell_rule(declarations, 0, own);
  }
}

/* ---- var() ----------------------------------------------------------------------------------- */

static const char *
closing(const char *p)
{
  int depth = 0;
  for (; *p != '\0'; p++) {
    depth += *p == '(' ? 1 : *p == ')' ? -1 : 0;
    if (depth < 0)
      return p;
  }
  return NULL;
}

/* Appends @value with each var() put in; %FALSE: one has no value, or they go in a circle. */
static gboolean
put_in(const HfStyle *style, const char *value, int depth, GString *out)
{
  const char *at;
  if (depth > 16)
    return FALSE;
  for (; (at = strstr(value, "var(")) != NULL; value++) {
    g_string_append_len(out, value, at - value);
    const char *end = closing(at + 4);
    if (end == NULL || out->len > LONGEST_VALUE)
      return FALSE;
    g_autofree char *inside = g_strndup(at + 4, (gsize)(end - at - 4));
    char *comma = strchr(inside, ',');
    if (comma != NULL)
      *comma++ = '\0';
    const char *own = style->custom != NULL
                          ? (const char *)g_hash_table_lookup(style->custom, g_strstrip(inside))
                          : NULL;
    if (own == NULL && comma == NULL)
      return FALSE;
    if (!put_in(style, own != NULL ? own : g_strchug(comma), depth + 1, out))
      return FALSE;
    value = end;
  }
  g_string_append(out, value);
  return out->len <= LONGEST_VALUE;
}

static void
put_in_variables(HfStyler *styler, HfStyle *style)
{
  for (guint i = 0; i < HF_N_PROPERTIES; i++) {
    if (style->told[i] == NULL || strstr(style->told[i], "var(") == NULL)
      continue;
    g_autoptr(GString) out = g_string_new(NULL);
    style->told[i] = put_in(style, style->told[i], 0, out)
                         ? hf_css_keep(styler->sheet, out->str, (gssize)out->len)
                         : NULL;
  }
}

void
hf_styler_style(HfStyler *styler, const HfXmlNode *node, const HfStyle *parent, HfStyle *ret)
{
  HfStyle style = *parent;
  memset(style.told, 0, sizeof style.told);
  Gathered own = {.styler = styler, .style = &style};
  gather(&own, node);
  put_in_variables(styler, &style);
  hf_style_compute(&style, parent);
  if (own.custom_rank != NULL)
    g_hash_table_unref(own.custom_rank);
  *ret = style;
}
