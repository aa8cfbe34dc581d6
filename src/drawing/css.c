/* SPDX-License-Identifier: GPL-3.0-or-later
 * css.c - style sheets into rules: selectors and declarations, by the error rules of CSS Syntax 3:
 * what is not understood is left out up to where it ends, and nothing else.
 *
 *     g#boat > .sail:first-child [data-x="a"] { fill: red; }
 *     compounds, the last one first, each a list of tests, and how it hangs on the one before it
 */
#include "drawing/css-private.h"
#include <string.h>

#define MOST_RULES        5000
#define MOST_DECLARATIONS 200000

static gboolean
is_space(char c)
{
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

static gboolean
is_word(char c)
{
  return g_ascii_isalnum(c) || c == '-' || c == '_' || (guchar)c >= 0x80;
}

static const char *
skip_space(const char *p)
{
  while (is_space(*p))
    p++;
  return p;
}

/* Behind a text in quotes that begins at @p. */
static const char *
skip_quoted(const char *p)
{
  char quote = *p++;
  while (*p != '\0' && *p != quote)
    p += *p == '\\' && p[1] != '\0' ? 2 : 1;
  return *p == '\0' ? p : p + 1;
}

/* To the first of @ends that stands in no bracket and no quotes, or to the end. */
static const char *
find_end(const char *p, const char *ends)
{
  int depth = 0;
  while (*p != '\0') {
    if (depth == 0 && strchr(ends, *p) != NULL)
      return p;
    if (*p == '"' || *p == '\'') {
      p = skip_quoted(p);
      continue;
    }
    if (*p == '\\' && p[1] != '\0')
      p++;
    else if (*p == '(' || *p == '[' || *p == '{')
      depth++;
    else if ((*p == ')' || *p == ']' || *p == '}') && depth > 0)
      depth--;
    p++;
  }
  return p;
}

const char *
hf_css_keep(HfCssSheet *sheet, const char *text, gssize length)
{
  return g_string_chunk_insert_len(sheet->strings, text, length);
}

static const char *
keep_word(HfCssSheet *sheet, const char *text, gssize length)
{
  g_autofree char *word = g_strndup(text, (gsize)(length < 0 ? (gssize)strlen(text) : length));
  return g_string_chunk_insert_const(sheet->strings, word);
}

/* ---- declarations ---------------------------------------------------------------------------- */

/* Cuts `!important` off the end of @value. */
static gboolean
cut_important(char *value)
{
  char *mark = strrchr(value, '!');
  if (mark == NULL || g_ascii_strcasecmp(skip_space(mark + 1), "important") != 0)
    return FALSE;
  *mark = '\0';
  g_strchomp(value);
  return TRUE;
}

static void
add_declaration(HfCssSheet *sheet, GArray *to, const char *name, gssize length, const char *value)
{
  g_autofree char *lower = g_strndup(name, (gsize)length);
  if (strncmp(lower, "--", 2) != 0)
    for (char *c = lower; *c != '\0'; c++)
      *c = g_ascii_tolower(*c);
  g_autofree char *text = g_strdup(value);
  gboolean important = cut_important(text);
  HfCssDeclaration one = {keep_word(sheet, lower, -1), hf_css_keep(sheet, text, -1), important};
  g_array_append_val(to, one);
}

GArray *
hf_css_declarations(HfCssSheet *sheet, const char *text)
{
  GArray *all = g_array_new(FALSE, FALSE, sizeof(HfCssDeclaration));
  const char *p = text;
  while (*(p = skip_space(p)) != '\0' && ++sheet->declarations < MOST_DECLARATIONS) {
    const char *end = find_end(p, ";"), *name = p;
    while (is_word(*p))
      p++;
    gssize length = p - name;
    p = skip_space(p);
    if (length > 0 && *p == ':' && p < end) {
      p = skip_space(p + 1);
      g_autofree char *value = g_strchomp(g_strndup(p, end > p ? (gsize)(end - p) : 0));
      add_declaration(sheet, all, name, length, value);
    }
    p = *end == ';' ? end + 1 : end;
  }
  return all;
}

/* ---- selectors ------------------------------------------------------------------------------- */

static gboolean
scan_word(HfCssSheet *sheet, const char **p, const char **ret)
{
  GString *word = g_string_new(NULL);
  const char *c = *p;
  while (is_word(*c) || (*c == '\\' && c[1] != '\0' && c[1] != '\n')) {
    if (*c == '\\')
      c++;
    g_string_append_c(word, *c++);
  }
  gboolean some = word->len > 0;
  if (some)
    *ret = keep_word(sheet, word->str, (gssize)word->len);
  g_string_free(word, TRUE);
  *p = c;
  return some;
}

/* `[name]`, `[name=value]`, `[name~="value"]`, ... */
static gboolean
scan_attribute(HfCssSheet *sheet, const char **p, HfCssTest *test)
{
  *p = skip_space(*p + 1);
  if (!scan_word(sheet, p, &test->name))
    return FALSE;
  *p = skip_space(*p);
  test->kind = HF_CSS_HAS;
  if (**p == ']') {
    (*p)++;
    return TRUE;
  }
  static const char signs[] = "=~|^$*";
  const char *sign = **p != '\0' ? strchr(signs, **p) : NULL;
  if (sign == NULL)
    return FALSE;
  test->kind = (HfCssTestKind)(HF_CSS_EQUALS + (sign - signs));
  *p += *sign == '=' ? 1 : 2;
  if (*sign != '=' && (*p)[-1] != '=')
    return FALSE;
  *p = skip_space(*p);
  if (**p == '"' || **p == '\'') {
    const char *end = skip_quoted(*p);
    if (end - *p < 2)
      return FALSE;
    test->value = keep_word(sheet, *p + 1, end - *p - 2);
    *p = end;
  } else if (!scan_word(sheet, p, &test->value)) {
    return FALSE;
  }
  *p = skip_space(*p);
  return *(*p)++ == ']';
}

static gboolean
scan_pseudo(HfCssSheet *sheet, const char **p, HfCssTest *test)
{
  (*p)++;
  const char *word;
  if (!scan_word(sheet, p, &word))
    return FALSE;
  test->kind = strcmp(word, "first-child") == 0  ? HF_CSS_FIRST_CHILD
               : strcmp(word, "last-child") == 0 ? HF_CSS_LAST_CHILD
               : strcmp(word, "root") == 0       ? HF_CSS_ROOT
                                                 : HF_CSS_NEVER; /* :hover and its like */
  return **p != '('; /* :not() and others with arguments are not understood */
}

static gboolean
scan_test(HfCssSheet *sheet, const char **p, HfCssTest *test)
{
  switch (**p) {
  case '#':
    (*p)++;
    test->kind = HF_CSS_ID;
    return scan_word(sheet, p, &test->name);
  case '.':
    (*p)++;
    test->kind = HF_CSS_CLASS;
    return scan_word(sheet, p, &test->name);
  case '[':
    return scan_attribute(sheet, p, test);
  case ':':
    return scan_pseudo(sheet, p, test);
  default:
    return FALSE;
  }
}

/* One compound: a type or `*`, then tests. */
static gboolean
scan_compound(HfCssSheet *sheet, const char **p, HfCssCompound *compound, guint64 *special)
{
  const char *start = *p;
  compound->tests = g_array_new(FALSE, TRUE, sizeof(HfCssTest));
  HfCssTest type = {HF_CSS_TYPE, NULL, NULL};
  if (**p == '*') {
    (*p)++;
  } else if (scan_word(sheet, p, &type.name)) {
    g_array_append_val(compound->tests, type);
    *special += 1;
  }
  while (**p == '#' || **p == '.' || **p == '[' || **p == ':') {
    HfCssTest test = {HF_CSS_NEVER, NULL, NULL};
    if (!scan_test(sheet, p, &test))
      return FALSE;
    *special += test.kind == HF_CSS_ID ? 1 << 20 : 1 << 10;
    g_array_append_val(compound->tests, test);
  }
  return *p > start;
}

static void
compound_clear(gpointer data)
{
  g_array_unref(((HfCssCompound *)data)->tests);
}

static void
selector_free(gpointer data)
{
  HfCssSelector *selector = (HfCssSelector *)data;
  g_array_unref(selector->compounds);
  g_array_unref(selector->declarations);
  g_free(selector);
}

/* A selector from @p up to @end; %NULL: not understood. */
static HfCssSelector *
scan_selector(HfCssSheet *sheet, const char *p, const char *end)
{
  HfCssSelector *selector = g_new0(HfCssSelector, 1);
  selector->declarations = g_array_new(FALSE, FALSE, sizeof(HfCssDeclaration));
  selector->compounds = g_array_new(FALSE, TRUE, sizeof(HfCssCompound));
  g_array_set_clear_func(selector->compounds, compound_clear);
  char hangs = '\0';
  for (p = skip_space(p); p < end;) {
    HfCssCompound compound = {NULL, hangs};
    gboolean fine = scan_compound(sheet, &p, &compound, &selector->special);
    g_array_prepend_val(selector->compounds, compound);
    if (!fine || p > end)
      goto wrong;
    const char *gap = p;
    p = skip_space(p);
    hangs = p > gap ? ' ' : '\0';
    if (p < end && strchr(">+~", *p) != NULL) {
      hangs = *p;
      p = skip_space(p + 1);
    }
    if (p < end && hangs == '\0')
      goto wrong;
  }
  if (selector->compounds->len > 0)
    return selector;
wrong:
  selector_free(selector);
  return NULL;
}

/* ---- rules ----------------------------------------------------------------------------------- */

/* Rules are found by the most telling test of their last compound. */
static char *
bucket_of(const HfCssSelector *selector)
{
  const GArray *tests = g_array_index(selector->compounds, HfCssCompound, 0).tests;
  const char *type = NULL, *one_class = NULL;
  for (guint i = 0; i < tests->len; i++) {
    const HfCssTest *test = &g_array_index(tests, HfCssTest, i);
    if (test->kind == HF_CSS_ID)
      return g_strconcat("#", test->name, NULL);
    if (test->kind == HF_CSS_CLASS)
      one_class = test->name;
    else if (test->kind == HF_CSS_TYPE)
      type = test->name;
  }
  return one_class != NULL ? g_strconcat(".", one_class, NULL)
                           : g_strdup(type != NULL ? type : "*");
}

static void
add_selector(HfCssSheet *sheet, HfCssSelector *selector)
{
  selector->order = sheet->n_rules++;
  char *key = bucket_of(selector);
  GPtrArray *bucket = (GPtrArray *)g_hash_table_lookup(sheet->buckets, key);
  if (bucket == NULL) {
    bucket = g_ptr_array_new_with_free_func(selector_free);
    g_hash_table_insert(sheet->buckets, key, bucket);
  } else {
    g_free(key);
  }
  g_ptr_array_add(bucket, selector);
}

static void
add_rule(HfCssSheet *sheet, const char *p, const char *body, const char *end, guint line)
{
  g_autofree char *text = g_strndup(body, (gsize)(end - body));
  g_autoptr(GArray) declarations = hf_css_declarations(sheet, text);
  while (p < body - 1) {
    const char *comma = find_end(p, ",{");
    HfCssSelector *selector =
        sheet->n_rules < MOST_RULES ? scan_selector(sheet, p, MIN(comma, body - 1)) : NULL;
    if (selector != NULL) {
      g_array_unref(selector->declarations);
      selector->declarations = g_array_ref(declarations);
      add_selector(sheet, selector);
    } else {
      sheet->note(line, "a rule of its style sheet was not understood and left out", sheet->data);
    }
    p = comma + 1;
  }
}

static gboolean
is_for_all(const char *p, const char *end)
{
  g_autofree char *media = g_ascii_strdown(p, end - p);
  g_strstrip(media);
  return strcmp(media, "") == 0 || strstr(media, "all") != NULL || strstr(media, "screen") != NULL;
}

static void add_rules(HfCssSheet *sheet, const char *p, guint line);

/* `@media ... { rules }`, `@import ...;` and others. Returns what stands behind it. */
static const char *
at_rule(HfCssSheet *sheet, const char *p, guint line)
{
  const char *end = find_end(p, ";{");
  if (*end == ';' || *end == '\0') {
    if (g_str_has_prefix(p, "@import"))
      sheet->note(line, "a style sheet in another file was left out", sheet->data);
    return *end == ';' ? end + 1 : end;
  }
  const char *close = find_end(end + 1, "}");
  if (g_str_has_prefix(p, "@media") && is_for_all(p + 6, end)) {
    g_autofree char *inner = g_strndup(end + 1, (gsize)(close - end - 1));
    add_rules(sheet, inner, line);
  } else if (!g_str_has_prefix(p, "@font-face")) {
    sheet->note(line, "a block of its style sheet that is not for all media was left out",
                sheet->data);
  }
  return *close == '}' ? close + 1 : close;
}

static void
add_rules(HfCssSheet *sheet, const char *p, guint line)
{
  while (*(p = skip_space(p)) != '\0') {
    if (*p == '@') {
      p = at_rule(sheet, p, line);
      continue;
    }
    if (*p == '}') {
      p++;
      continue;
    }
    const char *open = find_end(p, "{");
    if (*open == '\0')
      return;
    const char *close = find_end(open + 1, "}");
    add_rule(sheet, p, open + 1, close, line);
    p = *close == '}' ? close + 1 : close;
  }
}

/* Comments become a space; `<!--` and `-->` too. */
static char *
without_comments(const char *text)
{
  GString *out = g_string_new(NULL);
  for (const char *p = text; *p != '\0';) {
    if (p[0] == '/' && p[1] == '*') {
      const char *end = strstr(p + 2, "*/");
      p = end == NULL ? p + strlen(p) : end + 2;
      g_string_append_c(out, ' ');
    } else if (g_str_has_prefix(p, "<!--") || g_str_has_prefix(p, "-->")) {
      p += *p == '<' ? 4 : 3;
    } else if (*p == '"' || *p == '\'') {
      const char *end = skip_quoted(p);
      g_string_append_len(out, p, end - p);
      p = end;
    } else {
      g_string_append_c(out, *p++);
    }
  }
  return g_string_free(out, FALSE);
}

HfCssSheet *
hf_css_sheet_new(HfStyleNote note, gpointer data)
{
  HfCssSheet *sheet = g_new0(HfCssSheet, 1);
  sheet->strings = g_string_chunk_new(1024);
  sheet->buckets =
      g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_ptr_array_unref);
  sheet->note = note;
  sheet->data = data;
  return sheet;
}

void
hf_css_sheet_free(HfCssSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_hash_table_unref(sheet->buckets);
  g_string_chunk_free(sheet->strings);
  g_free(sheet);
}

void
hf_css_sheet_add(HfCssSheet *sheet, const char *text, guint line)
{
  g_autofree char *plain = without_comments(text);
  add_rules(sheet, plain, line);
}
