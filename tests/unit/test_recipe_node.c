/* SPDX-License-Identifier: GPL-3.0-or-later
 * The node tree: values and places of YAML and JSON, and what is refused.
 */
#include "recipe/node-private.h"
#include <string.h>

static void
dump(GString *out, const HfNode *node)
{
  g_string_append_printf(out, "%u:%u", node->mark.line, node->mark.column);
  if (node->kind == HF_NODE_TEXT) {
    g_string_append_printf(out, "'%s'", node->text);
    return;
  }
  g_string_append_c(out, node->kind == HF_NODE_LIST ? '[' : '{');
  for (guint i = 0; i < hf_node_size(node); i++) {
    if (i > 0)
      g_string_append_c(out, ' ');
    if (node->kind == HF_NODE_TABLE) {
      dump(out, hf_node_key(node, i));
      g_string_append_c(out, '=');
    }
    dump(out, hf_node_item(node, i));
  }
  g_string_append_c(out, node->kind == HF_NODE_LIST ? ']' : '}');
}

/* The tree as text, or the mistakes. */
static char *
outcome_of(const char *text, gsize length)
{
  HfSource source;
  HfMistakes mistakes;
  g_autoptr(GError) error = NULL;
  g_autoptr(GString) out = g_string_new(NULL);
  hf_source_init(&source, text, length);
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
  g_assert_true(root != NULL || mistakes.total > 0);
  if (hf_mistakes_raise(&mistakes, "f", &error))
    dump(out, root);
  else
    g_string_append(out, error->message);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  return g_string_free(g_steal_pointer(&out), FALSE);
}

static const struct {
  const char *text, *outcome;
} rows[] = {
    /* block and flow */
    {"a: 1\nb:\n  - x\n  - y: z\n", "1:1{1:1'a'=1:4'1' 2:1'b'=3:3[3:5'x' 4:5{4:5'y'=4:8'z'}]}"},
    {"{a: 1, b: [x, {y: z}]}", "1:1{1:2'a'=1:5'1' 1:8'b'=1:11[1:12'x' 1:15{1:16'y'=1:19'z'}]}"},
    /* line ends and the byte order mark */
    {"a: 1\r\nb: 2\r\n", "1:1{1:1'a'=1:4'1' 2:1'b'=2:4'2'}"},
    {"a: 1\rb: 2\r", "1:1{1:1'a'=1:4'1' 2:1'b'=2:4'2'}"},
    {"\xef\xbb\xbf"
     "a: 1\nb: 2\n",
     "1:1{1:1'a'=1:4'1' 2:1'b'=2:4'2'}"},
    {"\xef\xbb\xbf"
     "a: \xc3\x89\nb: 2\n",
     "1:1{1:1'a'=1:4'\xc3\x89' 2:1'b'=2:4'2'}"},
    /* columns count characters, tabs count one */
    {"{\xc3\x89t\xc3\xa9: 1, b: 2}", "1:1{1:2'\xc3\x89t\xc3\xa9'=1:7'1' 1:10'b'=1:13'2'}"},
    {"a:\t1\n", "1:1{1:1'a'=1:4'1'}"},
    /* remarks, quotes, an apostrophe and an inch in plain text */
    {"# one\na: 11 o'clock # two\n", "2:1{2:1'a'=2:4'11 o'clock'}"},
    {"{a: 3/16\", b: 5' 6\"}", "1:1{1:2'a'=1:5'3/16\"' 1:12'b'=1:15'5' 6\"'}"},
    {"a: 'it''s'\nb: \"q\\\"\\n\"\n", "1:1{1:1'a'=1:4'it's' 2:1'b'=2:4'q\"\n'}"},
    /* a line separator that YAML 1.1 counts and editors do not (U+2028) */
    {"a: \"x\xe2\x80\xa8y\"\nb: 2\n", "1:1{1:1'a'=1:4'x\xe2\x80\xa8y' 2:1'b'=2:4'2'}"},
    /* JSON, surrogate pairs among other escapes, places behind them */
    {"{\"a\": \"\\ud83d\\ude00\", \"b\": 2}", "1:1{1:2'a'=1:7'\xf0\x9f\x98\x80' 1:23'b'=1:28'2'}"},
    {"{\"a\": \"\\\\ud83d\\\\ude00\"}", "1:1{1:2'a'=1:7'\\ud83d\\ude00'}"},
    {"{\"a\": \"\\u00c9\\/\\\"\\ud83d\\ude00\"}", "1:1{1:2'a'=1:7'\xc3\x89/\"\xf0\x9f\x98\x80'}"},
    {"{a: '\\ud83d\\ude00', b: \\ud83d\\ude00}",
     "1:1{1:2'a'=1:5'\\ud83d\\ude00' 1:21'b'=1:24'\\ud83d\\ude00'}"},
    {"{a: 1, # it's \"quoted\n b: \"\\ud83d\\ude00\"}",
     "1:1{1:2'a'=1:5'1' 2:2'b'=2:5'\xf0\x9f\x98\x80'}"},
    {"{\n\t\"a\":\t1\n}\n", "1:1{2:2'a'=2:7'1'}"},
    /* no value */
    {"a:\nb: ~\n", "1:1{1:1'a'=1:3'' 2:1'b'=2:4'~'}"},
    {"---\na: 1\n...\n", "2:1{2:1'a'=2:4'1'}"},
    /* refused, with the place */
    {"", "f:1:1: there is nothing in this file; holdfast new writes one to start from"},
    {"# only a remark\n",
     "f:1:1: there is nothing in this file; holdfast new writes one to start from"},
    {"a: 1\nb: 2\na: 3\n",
     "f:3:1: \"a\" stands twice; keep one of them (the first is in line 1, column 1)"},
    {"{a: 1, \"a\": 2}",
     "f:1:8: \"a\" stands twice; keep one of them (the first is in line 1, column 2)"},
    {"a: &x 1\n",
     "f:1:4: \"&x\" is an anchor, which a recipe can't have; leave it out, or put the text into "
     "quotes"},
    {"a: 1\nb: *x\n",
     "f:2:4: \"*x\" is an alias, which a recipe can't have; write the value out, or put the text "
     "into quotes"},
    {"a: !!str 1\n",
     "f:1:4: a tag (\"!\"), which a recipe can't have; leave it out, or put the text into quotes"},
    {"a: ! x\n",
     "f:1:4: a tag (\"!\"), which a recipe can't have; leave it out, or put the text into quotes"},
    {"a: 1\n---\nb: 2\n", "f:2:1: a second document; one file holds one recipe"},
    {"? [a]\n: 1\n", "f:1:3: a key that is not a plain word; write key: value"},
    {"? a\n: 1\n", "f:1:3: a key that is not written plainly; write key: value"},
    {"b: why?\n? a\n: 1\n", "f:2:3: a key that is not written plainly; write key: value"},
    {"b: why?\na: 1\n", "1:1{1:1'b'=1:4'why?' 2:1'a'=2:4'1'}"},
    {"{b: why?, ? a : 1}", "f:1:13: a key that is not written plainly; write key: value"},
    {"{: 1}", "f:1:2: a value is missing here; write a value"},
    {"a: b: c\n",
     "f:1:5: \":\" where no key can stand; put a value that holds \":\" into quotes, and start "
     "each key on a line of its own"},
    {"a:\n\t- b\n", "f:2:1: a value can't start with this character; put the value into quotes; "
                    "indent with spaces, not tabs"},
    /* where it was opened, however far behind it the file goes on */
    {"a: {b: 1\n", "f:1:4: \"{\" is not closed, or a comma is missing; write {key: value, key: "
                   "value}; put a value that holds a comma, a bracket or a # into quotes"},
    {"a: {b: 1 #2}\nc: 1\n", "f:1:4: \"{\" is not closed, or a comma is missing; write {key: "
                             "value, key: value}; put a value "
                             "that holds a comma, a bracket or a # into quotes"},
    {"a: {b: x c: 1}\n",
     "f:1:11: \"{\" is not closed, or a comma is missing; write {key: value, key: value}; put a "
     "value that holds a comma, a bracket or a # into quotes"},
    {"a: [1, 2\nb: 1\n", "f:1:4: \"[\" is not closed, or a comma is missing; write [one, two]; put "
                         "a value that holds a comma, a bracket or a # into quotes"},
    {"a: 'open\n", "f:1:4: quotes that are not closed; close the quotes"},
    {"a: 1\nb: \"open\nc: 2\n", "f:2:4: quotes that are not closed; close the quotes"},
    {"a: 1\nb:2\nc: 3\n",
     "f:2:1: a key without \":\"; write key: value, with a space behind \":\""},
    {"a: @x\n", "f:1:4: a value can't start with this character; put the value into quotes; "
                "indent with spaces, not tabs"},
    {"a: \x01\n", "f:1:4: a control character; take it out"},
    {"\xef\xbb\xbf"
     "a: \xc3\x89\x01\n",
     "f:1:5: a control character; take it out"},
    {"a: \xff\n", "f:1:4: a byte that is not UTF-8; save the file as UTF-8"},
    {"a: \xef\xbb\xbf"
     "1\n",
     "f:1:4: a byte order mark inside the text, which nobody sees; take it out"},
    {"\xff\xfe"
     "a\n",
     "f:1:1: a byte that is not UTF-8; save the file as UTF-8"},
    {"{\"a\": \"\\ud83d\"}", "f:1:10: an escape that is no character; write the character itself"},
    {"a: \"\\x00\"\n", "f:1:4: a zero character in a text; take it out"},
    {"[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]",
     "f:1:17: brackets within brackets too deep; take brackets out"},
};

static void
test_rows(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *outcome = outcome_of(rows[i].text, strlen(rows[i].text));
    g_assert_cmpstr(outcome, ==, rows[i].outcome);
  }
}

static void
test_zero_byte(void)
{
  g_autofree char *outcome = outcome_of("a: 1\0\n", 6);
  g_assert_cmpstr(outcome, ==, "f:1:5: a zero byte; save the file as UTF-8");
}

/* Hostile sizes end quickly and with a message. */
static void
test_caps(void)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < HF_RECIPE_MAX_BYTES / 2; i++)
    g_string_append_c(text, '[');
  g_autofree char *deep = outcome_of(text->str, text->len);
  g_assert_true(g_str_has_suffix(deep, "take brackets out"));
  g_string_assign(text, "[");
  for (guint i = 0; i < HF_NODE_MAX + 10; i++)
    g_string_append(text, "1,");
  g_string_append(text, "]");
  g_autofree char *many = outcome_of(text->str, text->len);
  g_assert_true(strstr(many, "more than 40000 values; make the recipe smaller") != NULL);
  g_string_set_size(text, HF_RECIPE_MAX_BYTES + 1);
  g_autofree char *large = outcome_of(text->str, text->len);
  g_assert_cmpstr(large, ==, "f:1:1: this file is too large; a recipe may have 1 MiB");
}

/* start and end are the bytes of the value in the user's own text. */
static void
check_spans(const char *text, const HfNode *node)
{
  g_autofree char *part = g_strndup(text + node->start, node->end - node->start);
  if (node->kind == HF_NODE_TEXT && node->style == HF_STYLE_PLAIN)
    g_assert_cmpstr(part, ==, node->text);
  if (node->kind == HF_NODE_TEXT && node->style == HF_STYLE_DOUBLE)
    g_assert_true(part[0] == '"' && part[strlen(part) - 1] == '"');
  if (node->kind != HF_NODE_TEXT && node->flow)
    g_assert_true(strchr("[{", part[0]) != NULL && strchr("]}", part[strlen(part) - 1]) != NULL);
  for (guint i = 0; i < hf_node_size(node); i++) {
    if (node->kind == HF_NODE_TABLE)
      check_spans(text, hf_node_key(node, i));
    check_spans(text, hf_node_item(node, i));
  }
}

static void
test_spans(void)
{
  static const char *const texts[] = {
      "\xef\xbb\xbf"
      "a: one two # x\r\nb:\r\n  - \"\xc3\x89\"\r\n  - {c: d, e: [f]}\r\ng: h\r\n",
      "{\"a\": \"\\ud83d\\ude00\", \"b\": [\"x\", {\"c\": 1}], \"d\": 2}",
      "a:\tb\t\n\xc3\x89:   c   \nd: {e: f, \xc3\x89: g}",
  };
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
    HfSource source;
    HfMistakes mistakes;
    hf_source_init(&source, texts[i], strlen(texts[i]));
    hf_mistakes_init(&mistakes);
    g_autoptr(HfNode) root = hf_node_read(&source, &mistakes);
    g_assert_nonnull(root);
    check_spans(texts[i], root);
    hf_mistakes_clear(&mistakes);
    hf_source_clear(&source);
  }
}

/* The column of every byte of long lines, against counting from the start of the line. */
static void
test_columns(void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed(7);
  static const char *const PIECES[] = {"a", "é", "港", "\xf0\x9f\x9a\xa2", "\n", "\r\n", "\t", " "};
  for (guint round = 0; round < 20; round++) {
    g_autoptr(GString) text = g_string_new(round % 2 == 0 ? "" : "\xef\xbb\xbf");
    gboolean one_line = round < 10;
    while (text->len < 3000)
      g_string_append(text, PIECES[g_rand_int_range(rand, 0, one_line ? 4 : 8)]);
    HfSource source;
    hf_source_init(&source, text->str, text->len);
    guint line = 1, column = 1;
    for (gsize i = source.bom; i <= text->len; i++) {
      HfMark mark = hf_source_mark(&source, i);
      g_assert_cmpuint(mark.line, ==, line);
      g_assert_cmpuint(mark.column, ==, column);
      if (i == text->len)
        break;
      if (text->str[i] == '\n') {
        line++;
        column = 1;
      } else if (((guchar)text->str[i] & 0xc0) != 0x80) {
        column++;
      }
    }
    hf_source_clear(&source);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe/node/columns", test_columns);
  g_test_add_func("/recipe/node/rows", test_rows);
  g_test_add_func("/recipe/node/zero", test_zero_byte);
  g_test_add_func("/recipe/node/caps", test_caps);
  g_test_add_func("/recipe/node/spans", test_spans);
  return g_test_run();
}
