/* SPDX-License-Identifier: GPL-3.0-or-later
 * installed.c - what Fontconfig knows, and which of it answers a wish.
 *
 * Fontconfig's own matching always hands something back, another family if need be. A sign in
 * another face than the one asked for is a ruined plate, so here the whole list is read and only
 * an equal name will do (capitals do not matter, nor in which language the name is given).
 *
 * A font has up to two pairs of names in each language, in this order:
 *     family "Bebas Neue"       style "Bold"       the first pair: of the design
 *     family "Bebas Neue Bold"  style "Regular"    the second: for programs that know four styles
 * A family goes with the style of its own pair: "Bebas Neue" in "Regular" must not find the Bold.
 */
#include "base/alike.h"
#include "base/text.h"
#include "type/type-private.h"
#include <string.h>

static const char *
text_at(FcPattern *pattern, const char *object, int n)
{
  FcChar8 *text = NULL;
  return FcPatternGetString(pattern, object, n, &text) == FcResultMatch ? (const char *)text : NULL;
}

static double
number_of(const HfInstalled *font, const char *object, double otherwise)
{
  double value = 0;
  FcResult got = FcPatternGetDouble(font->pattern, object, 0, &value);
  return got == FcResultMatch ? value : otherwise;
}

static gint
by_name(gconstpointer a, gconstpointer b)
{
  const HfInstalled *x = *(const HfInstalled *const *)a, *y = *(const HfInstalled *const *)b;
  int order = FcStrCmpIgnoreCase((const FcChar8 *)x->family, (const FcChar8 *)y->family);
  if (order == 0)
    order = FcStrCmpIgnoreCase((const FcChar8 *)x->style, (const FcChar8 *)y->style);
  if (order == 0)
    order = y->version < x->version ? -1 : y->version > x->version;
  if (order == 0)
    order = strcmp(x->file, y->file);
  if (order == 0)
    order = x->index < y->index ? -1 : x->index > y->index;
  return order;
}

static HfInstalled *
installed_new(FcPattern *pattern)
{
  const char *family = text_at(pattern, FC_FAMILY, 0), *file = text_at(pattern, FC_FILE, 0);
  const char *format = text_at(pattern, FC_FONTFORMAT, 0), *style = text_at(pattern, FC_STYLE, 0);
  if (family == NULL || file == NULL)
    return NULL;
  int index = 0, version = 0;
  FcBool outline = FcFalse, variable = FcFalse;
  FcPatternGetInteger(pattern, FC_INDEX, 0, &index);
  FcPatternGetInteger(pattern, FC_FONTVERSION, 0, &version);
  FcPatternGetBool(pattern, FC_OUTLINE, 0, &outline);
  FcPatternGetBool(pattern, FC_VARIABLE, 0, &variable);
  gboolean sfnt =
      format != NULL && (hf_font_word_is(format, "TrueType") || hf_font_word_is(format, "CFF"));
  gboolean packed = g_str_has_suffix(file, ".woff") || g_str_has_suffix(file, ".woff2");
  HfInstalled *font = g_new(HfInstalled, 1);
  *font = (HfInstalled){pattern,      family,  style != NULL ? style : "", file,
                        (guint)index, version, sfnt && !packed && outline, variable == FcTrue};
  return font;
}

void
hf_installed_free(HfInstalled *installed)
{
  g_free(installed);
}

const GPtrArray *
hf_installed_list(HfFonts *fonts)
{
  if (fonts->installed != NULL)
    return fonts->installed;
  fonts->config = FcConfigReference(NULL);
  fonts->installed = g_ptr_array_new_with_free_func((GDestroyNotify)hf_installed_free);
  FcFontSet *set = fonts->config != NULL ? FcConfigGetFonts(fonts->config, FcSetSystem) : NULL;
  for (int i = 0; set != NULL && i < set->nfont; i++) {
    HfInstalled *font = installed_new(set->fonts[i]);
    if (font != NULL)
      g_ptr_array_add(fonts->installed, font);
  }
  g_ptr_array_sort(fonts->installed, by_name);
  return fonts->installed;
}

static const HfInstalled *
at(const GPtrArray *list, guint i)
{
  return g_ptr_array_index(list, i);
}

/* Which of the names of its own language name @n is, from 0. */
static int
place_in_language(FcPattern *pattern, const char *languages, int n)
{
  const char *language = text_at(pattern, languages, n);
  int place = 0;
  for (int i = 0; i < n; i++)
    place += g_strcmp0(text_at(pattern, languages, i), language) == 0;
  return place;
}

static gboolean
last_in_language(FcPattern *pattern, const char *languages, int n)
{
  const char *language = text_at(pattern, languages, n);
  for (int i = n + 1; text_at(pattern, languages, i) != NULL; i++)
    if (g_strcmp0(text_at(pattern, languages, i), language) == 0)
      return FALSE;
  return TRUE;
}

/* The style that goes with family name @family; in any language. */
static gboolean
has_style(const HfInstalled *font, int family, const char *style)
{
  int wanted = place_in_language(font->pattern, FC_FAMILYLANG, family);
  const char *name;
  for (int i = 0; (name = text_at(font->pattern, FC_STYLE, i)) != NULL; i++) {
    int place = place_in_language(font->pattern, FC_STYLELANG, i);
    gboolean goes =
        place == wanted || (place < wanted && last_in_language(font->pattern, FC_STYLELANG, i));
    if (goes && hf_font_word_is(name, style))
      return TRUE;
  }
  return FALSE;
}

/* Which of its names @family is; -1 for none. */
static int
family_at(const HfInstalled *font, const char *family)
{
  const char *name;
  for (int i = 0; (name = text_at(font->pattern, FC_FAMILY, i)) != NULL; i++)
    if (hf_font_word_is(name, family))
      return i;
  return -1;
}

gboolean
hf_installed_is_of(const HfInstalled *font, const char *family)
{
  return family_at(font, family) >= 0;
}

/* How far from plain: upright, of normal width, of regular weight. */
static double
strangeness(const HfInstalled *font)
{
  return fabs(number_of(font, FC_SLANT, FC_SLANT_ROMAN)) * 100 +
         fabs(number_of(font, FC_WIDTH, FC_WIDTH_NORMAL) - FC_WIDTH_NORMAL) * 10 +
         fabs(number_of(font, FC_WEIGHT, FC_WEIGHT_REGULAR) - FC_WEIGHT_REGULAR) +
         (font->variable ? 1e6 : 0);
}

/* Lower is better; INFINITY when @font does not answer. */
static double
score(const HfInstalled *font, int family, const char *style)
{
  if (style != NULL)
    return !font->variable && has_style(font, family, style) ? 0 : INFINITY;
  return has_style(font, family, "Regular") ? -1 : strangeness(font);
}

/* Borrows @name. */
static void
add_unique(GPtrArray *names, const char *name)
{
  for (guint i = 0; i < names->len; i++)
    if (hf_font_word_is(g_ptr_array_index(names, i), name))
      return;
  g_ptr_array_add(names, (char *)name);
}

typedef struct {
  const char *name;
  guint far;
} HfNear;

static gint
by_distance(gconstpointer a, gconstpointer b)
{
  const HfNear *x = a, *y = b;
  return x->far != y->far ? (x->far < y->far ? -1 : 1) : strcmp(x->name, y->name);
}

/* One inside the other ("Lobster", "Lobster Two") is as good as a letter or two astray, and nearly
 * so is the same first word. */
static gboolean
is_inside(const char *a, const char *b)
{
  gsize n = strcspn(a, " ");
  if (strlen(a) < 4 || strlen(b) < 4)
    return FALSE;
  return strstr(a, b) != NULL || strstr(b, a) != NULL ||
         (n >= 5 && strncmp(a, b, n) == 0 && (b[n] == ' ' || b[n] == '\0'));
}

char **
hf_names_near(const char *given, const GPtrArray *names, guint most, gboolean all)
{
  g_autoptr(GArray) near = g_array_new(FALSE, FALSE, sizeof(HfNear));
  g_autofree char *short_given = g_utf8_substring(given, 0, MIN(80, g_utf8_strlen(given, -1)));
  g_autofree char *folded = g_utf8_casefold(short_given, -1);
  for (guint i = 0; i < names->len; i++) {
    const char *name = g_ptr_array_index(names, i);
    g_autofree char *other = g_utf8_casefold(name, -1);
    HfNear one = {name, is_inside(folded, other) ? 1 : hf_text_distance(short_given, name)};
    g_array_append_val(near, one);
  }
  g_array_sort(near, by_distance);
  g_autoptr(GPtrArray) best = g_ptr_array_new();
  guint slip = CLAMP((guint)g_utf8_strlen(short_given, -1) / 3, 2, 4);
  for (guint i = 0; i < near->len && i < most; i++) {
    const HfNear *one = &g_array_index(near, HfNear, i);
    if (one->far > slip && !all)
      break;
    g_ptr_array_add(best, g_strdup(one->name));
  }
  g_ptr_array_add(best, NULL);
  return (char **)g_ptr_array_free(g_steal_pointer(&best), FALSE);
}

char *
hf_names_quoted(const char *const *names, guint n, guint most, const char *conjunction)
{
  g_autoptr(GPtrArray) quoted = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; names[i] != NULL && i < most; i++)
    g_ptr_array_add(quoted, g_strdup_printf("\"%s\"", names[i]));
  g_ptr_array_add(quoted, NULL);
  return hf_text_list_some((const char *const *)quoted->pdata, n, most, conjunction);
}

/* Is @asked a family and its style in one: "Allerta Stencil"? Then what to write; else %NULL. */
static char *
family_and_style(const GPtrArray *list, const char *asked)
{
  for (guint i = 0; i < list->len; i++) {
    const char *family = text_at(at(list, i)->pattern, FC_FAMILY, 0), *style = at(list, i)->style;
    if (!at(list, i)->readable || family == NULL || style == NULL)
      continue;
    g_autofree char *both = g_strconcat(family, " ", style, NULL);
    if (hf_text_distance(both, asked) == 0)
      return g_strdup_printf("write {family: %s, style: %s}", family, style);
  }
  return NULL;
}

static void
set_no_family(GError **error, const GPtrArray *list, const char *family, const char *where)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  const char *name;
  for (guint i = 0; i < list->len; i++)
    for (int n = 0;
         at(list, i)->readable && (name = text_at(at(list, i)->pattern, FC_FAMILY, n)) != NULL; n++)
      add_unique(names, name);
  g_auto(GStrv) near = hf_names_near(family, names, 3, FALSE);
  guint n = g_strv_length(near);
  g_autofree char *quoted = hf_names_quoted((const char *const *)near, n, 3, "or");
  g_autofree char *akin = near[0] == NULL ? hf_installed_akin(list, family) : NULL;
  g_autofree char *odd = hf_alike_say(family);
  g_autofree char *fix = family_and_style(list, family);
  if (fix == NULL && names->len == 0)
    fix = g_strdup("no font is installed; install one, or name a font file");
  else if (fix == NULL && near[0] != NULL)
    fix = g_strdup_printf("the nearest installed: %s; holdfast fonts lists them all", quoted);
  else if (fix == NULL)
    fix = g_strdup_printf("%s; holdfast fonts lists all %u families, or name a font file",
                          akin != NULL ? akin : "no installed font has a name like it", names->len);
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "the font \"%s\" is not installed%s%s",
               family, odd != NULL ? ": " : "", odd != NULL ? odd : "");
}

static void
set_no_style(GError **error, const GPtrArray *list, const char *family, const char *style,
             const char *where)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (guint i = 0; i < list->len; i++) {
    const HfInstalled *font = at(list, i);
    int n = font->readable && !font->variable ? family_at(font, family) : -1;
    /* The name of the pair; a family of the second pair shows that pair's style. */
    const char *name = n >= 0 ? text_at(font->pattern, FC_STYLE,
                                        place_in_language(font->pattern, FC_FAMILYLANG, n))
                              : NULL;
    if (n >= 0 && name == NULL)
      name = font->style;
    if (name != NULL && *name != '\0')
      add_unique(names, name);
  }
  g_auto(GStrv) near = hf_names_near(style, names, 12, TRUE);
  g_autofree char *quoted = hf_names_quoted((const char *const *)near, names->len, 12, "or");
  g_autofree char *fix = near[0] != NULL ? g_strdup_printf("choose %s", quoted) : NULL;
  hf_error_set(error, HF_ERROR_NOT_FOUND, where, fix, "the font \"%s\" has no style \"%s\"", family,
               style);
}

const HfInstalled *
hf_installed_find(HfFonts *fonts, const char *family, const char *style, const char *where,
                  GError **error)
{
  const GPtrArray *list = hf_installed_list(fonts);
  const HfInstalled *best = NULL, *unreadable = NULL;
  double least = INFINITY;
  gboolean known = FALSE;
  for (guint i = 0; i < list->len; i++) {
    const HfInstalled *font = at(list, i);
    int n = family_at(font, family);
    if (n < 0)
      continue;
    if (!font->readable) {
      unreadable = font;
      continue;
    }
    known = TRUE;
    double here = score(font, n, style);
    if (here < least) { /* of equals the first: newest version, then by file name */
      least = here;
      best = font;
    }
  }
  if (best != NULL)
    return best;
  if (known)
    set_no_style(error, list, family, style, where);
  else if (unreadable != NULL)
    hf_error_set(error, HF_ERROR_BAD_FONT, where,
                 "install it as TrueType or OpenType, or choose another",
                 "the font \"%s\" is installed only in a form that can't be used (%s)", family,
                 unreadable->file);
  else
    set_no_family(error, list, family, where);
  return NULL;
}

static gboolean
has_all(const FcCharSet *set, const char *text)
{
  for (; *text != '\0'; text = g_utf8_next_char(text)) {
    gunichar c = g_utf8_get_char(text);
    if (!g_unichar_isspace(c) && !FcCharSetHasChar(set, c))
      return FALSE;
  }
  return TRUE;
}

char *
hf_installed_covering(HfFonts *fonts, gunichar character, const char *text)
{
  const GPtrArray *list = hf_installed_list(fonts);
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (int all = 1; all >= 0; all--) /* first those that have all of the text, then the rest */
    for (guint i = 0; i < list->len; i++) {
      const HfInstalled *font = at(list, i);
      FcCharSet *set = NULL;
      if (font->readable &&
          FcPatternGetCharSet(font->pattern, FC_CHARSET, 0, &set) == FcResultMatch &&
          FcCharSetHasChar(set, character) && (!all || has_all(set, text)))
        add_unique(names, font->family);
    }
  if (names->len == 0)
    return NULL;
  guint n = names->len;
  g_ptr_array_add(names, NULL);
  return hf_names_quoted((const char *const *)names->pdata, n, 5, "or");
}

static void
listed_free(gpointer data)
{
  HfFontListed *listed = data;
  g_free(listed->family);
  g_free(listed->style);
  g_free(listed->file);
  g_free(listed);
}

/* Only what a name can reach: of several files under one name, the one that would be opened. */
GPtrArray *
hf_fonts_list(HfFonts *fonts)
{
  const GPtrArray *list = hf_installed_list(fonts);
  GPtrArray *listed = g_ptr_array_new_with_free_func(listed_free);
  const HfInstalled *before = NULL;
  for (guint i = 0; i < list->len; i++) {
    const HfInstalled *font = at(list, i);
    if (!font->readable || font->variable)
      continue;
    gboolean again = before != NULL && hf_font_word_is(before->family, font->family) &&
                     hf_font_word_is(before->style, font->style);
    before = font;
    if (again)
      continue;
    HfFontListed *one = g_new(HfFontListed, 1);
    *one = (HfFontListed){g_strdup(font->family), g_strdup(font->style), g_strdup(font->file),
                          font->index};
    g_ptr_array_add(listed, one);
  }
  return listed;
}
