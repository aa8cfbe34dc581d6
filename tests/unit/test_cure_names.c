/* SPDX-License-Identifier: GPL-3.0-or-later
 * Whatever entries are called, each family of cures says and writes just that.
 *
 *   sign with the name zqname ──> proposals ──> sentence A, cured recipe A
 *   the same sign, name `a: {}` ──> proposals ──> sentence B, cured recipe B
 *
 * B must be A with the one name in the place of the other: in the sentence letter by letter, in the
 * recipe as it reads, tree against tree. The check knows nothing of quotes: both trees come from
 * libyaml.
 */
#include "base/json.h"
#include "cure-cases.h"
#include "cure/cure.h"
#include "recipe/tree.h"
#include "run/run.h"
#include <string.h>

#define PLAIN "zqname" /* stands nowhere else */

static const char *const nasty[] = {
    "{}",
    "{0;1;in}",
    "{a;b}",
    "{",
    "}",
    "{a: b}",
    "[a]",
    "[",
    "]",
    "a, b",
    ",",
    "a: b",
    "a:",
    ": a",
    ":",
    "a # b",
    "# b",
    "#",
    "|",
    "||",
    "|-",
    ">",
    "- a",
    "-",
    "---",
    "...",
    "? a",
    "?",
    "'",
    "it's",
    "\"",
    "a\"b",
    "\"quoted\"",
    "\\",
    "\\n",
    "\\u0041",
    "a\tb",
    "a\nb",
    "\n",
    "%",
    "%s",
    "%d%n%s",
    "%YAML 1.2",
    "@a",
    "`a`",
    "!a",
    "&a",
    "*a",
    "~a",
    "yes",
    "no",
    "on",
    "true",
    "12",
    "-3.5",
    "1e3",
    "0x1F",
    "12 mm",
    "3/16\"",
    "=",
    "<<",
    "a.b",
    "a[0]",
    "entries[0]",
    "the words",
    "\xc3\x89t\xc3\xa9",
    "\xe6\x97\xa5\xe6\x9c\xac\xe8\xaa\x9e",
    "\xd7\xa2\xd7\x91\xd7\xa8\xd7\x99\xd7\xaa",
    "\xd8\xb9\xd8\xb1\xd8\xa8\xd9\x8a",
    "\xf0\x9f\x98\x80",
    "a\xc2\xa0"
    "b",
    "\xe2\x80\x8f"
    "a",
};

/* ---- the same sign under another name -------------------------------------------------------- */

/* "old" where it is a value by itself, or the end of `O of old`: in quotes with @name in its
 * place. Quotes as JSON has them, written by the JSON writer. */
static char *
quoted(const char *before, const char *name)
{
  g_autoptr(HfJson) json = hf_json_new();
  g_autofree char *text = g_strconcat(before, name, NULL);
  hf_json_line(json, NULL, '[');
  hf_json_text(json, NULL, text);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  g_autofree char *all = g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
  const char *start = strchr(all, '"'), *end = strrchr(all, '"');
  return g_strndup(start, (gsize)(end - start + 1));
}

typedef struct {
  const char *name;
} Renaming;

static gboolean
put_name(const GMatchInfo *match, GString *out, gpointer data)
{
  const Renaming *renaming = data;
  g_autofree char *before = g_match_info_fetch(match, 1);
  g_autofree char *text = quoted(before, renaming->name);
  g_string_append(out, text);
  return FALSE;
}

static char *
renamed(const char *text, const char *old, const char *name)
{
  g_autofree char *pattern = g_strdup_printf("(?<=: |\\[|, )((?:\\w+ )*of |)%s(?=[,}\\]])", old);
  g_autoptr(GRegex) regex = g_regex_new(pattern, 0, 0, NULL);
  Renaming renaming = {name};
  return g_regex_replace_eval(regex, text, -1, 0, 0, put_name, &renaming, NULL);
}

/* The names of a case: what stands behind `name: `, but not a direction of the recipe. */
static GPtrArray *
names_of(const char *text)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GRegex) regex = g_regex_new("name: (\\w+)", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_regex_match(regex, text, 0, &match);
  for (; g_match_info_matches(match); g_match_info_next(match, NULL)) {
    char *name = g_match_info_fetch(match, 1);
    if (strcmp(name, "top") == 0)
      g_free(name);
    else
      g_ptr_array_add(names, name);
  }
  return names;
}

/* ---- what is proposed ------------------------------------------------------------------------ */

/* What is called @from is called @to. */
static char *
replaced(const char *text, const char *from, const char *to)
{
  g_auto(GStrv) parts = g_strsplit(text, from, -1);
  return g_strjoinv(to, parts);
}

/* The cured recipe as it reads, without its places. */
static char *
tree_of(const HfProposal *proposal, const char *text)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, proposal->least);
  gsize length = 0;
  g_autofree char *cured = hf_recipe_edit(text, strlen(text), edits, &length, &error);
  g_assert_no_error(error);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(cured, length, "quay.yaml", &error);
  if (recipe == NULL)
    g_error("%s\n%s", error->message, cured);
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  g_assert_true(hf_recipe_tree(cured, length, json, &error));
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  char *all = g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
  char *marks = strstr(all, "\"marks\"");
  g_assert_nonnull(marks);
  *marks = '\0';
  return all;
}

/* Of @key, in their order; the metal is the same whatever an entry is called. */
static GPtrArray *
proposals_of(const HfSign *sign, const HfRecipe *recipe, const char *key)
{
  HfSign named = *sign; /* borrowed */
  named.recipe = recipe;
  GPtrArray *all = hf_cure_proposals(&named, NULL);
  for (guint i = all->len; i-- > 0;)
    if (strcmp(((const HfProposal *)all->pdata[i])->family->key, key) != 0)
      g_ptr_array_remove_index(all, i);
  return all;
}

static void
compare(const HfProposal *plain, const char *plain_text, const HfProposal *other,
        const char *other_text, const char *name)
{
  g_autofree char *said = hf_proposal_sentence_at(plain, plain->least),
                  *says = hf_proposal_sentence_at(other, other->least);
  g_autofree char *said_so = replaced(said, PLAIN, name), *says_so = replaced(says, PLAIN, name);
  g_assert_cmpstr(said_so, ==, says_so);
  g_autofree char *was = tree_of(plain, plain_text), *is = tree_of(other, other_text);
  g_autofree char *quotes = quoted("", name);
  g_autofree char *bare = g_strndup(quotes + 1, strlen(quotes) - 2);
  g_autofree char *wanted = replaced(was, PLAIN, bare);
  g_assert_cmpstr(wanted, ==, is);
}

/* The sanitizers look at the same code whatever the name is; they take ten times as long. */
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
enum { STRIDE = 12, TAKEN_AT_LEAST = 4 };
#else
enum { STRIDE = 1, TAKEN_AT_LEAST = 60 };
#endif

/* How many names the recipe takes. */
static guint
check_name(const HfSign *sign, const char *key, const char *case_text, const char *old, gsize first,
           gsize stride)
{
  guint taken = 0;
  g_autofree char *plain_text = renamed(case_text, old, PLAIN);
  g_autoptr(HfRecipe) recipe = hf_recipe_read(plain_text, strlen(plain_text), "quay.yaml", NULL);
  g_assert_nonnull(recipe);
  g_autoptr(GPtrArray) plain = proposals_of(sign, recipe, key);
  g_assert_cmpuint(plain->len, >, 0);
  for (gsize i = first; i < G_N_ELEMENTS(nasty); i += stride) {
    g_autofree char *text = renamed(case_text, old, nasty[i]);
    g_autoptr(HfRecipe) other = hf_recipe_read(text, strlen(text), "quay.yaml", NULL);
    if (other == NULL)
      continue;
    taken++;
    g_autoptr(GPtrArray) proposals = proposals_of(sign, other, key);
    g_assert_cmpuint(proposals->len, ==, plain->len);
    for (guint k = 0; k < plain->len; k++)
      compare(plain->pdata[k], plain_text, proposals->pdata[k], text, nasty[i]);
  }
  return taken;
}

static void
test_names(gconstpointer data)
{
  guint c = GPOINTER_TO_UINT(data);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) names = names_of(cases[c].text);
  if (names->len == 0) {
    g_test_skip("nothing in it has a name");
    return;
  }
  g_autofree char *text = renamed(cases[c].text, names->pdata[0], PLAIN);
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) sign = hf_run_text(text, strlen(text), "quay.yaml", &options, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(
      check_name(sign, cases[c].key, cases[c].text, names->pdata[0], c % STRIDE, STRIDE), >=,
      TAKEN_AT_LEAST);
  for (guint i = 1; i < names->len; i++) /* of the others in turn */
    check_name(sign, cases[c].key, cases[c].text, names->pdata[i], (c + i) % 7, 7 * STRIDE);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *path = g_strconcat("/cure-names/", cases[i].name, NULL);
    if (cases[i].outcome != NOT_OFFERED)
      g_test_add_data_func(path, GUINT_TO_POINTER(i), test_names);
  }
  return g_test_run();
}
