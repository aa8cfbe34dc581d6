/* SPDX-License-Identifier: GPL-3.0-or-later
 * In-place edits: exact results for typical ones, then random ones on hand-written files, where
 * everything outside the edited lines must stay byte for byte.
 */
#include "enough.h"
#include "recipe/edit-private.h"
#include <string.h>

/* --- exact results --- */

typedef struct {
  const char *before;
  const char *does, *path, *value, *after; /* after starting with "! ": the refusal */
} Row;

/* As somebody writes it, through the one door of edits that come as text. */
static char *
edit_text(const char *text, gsize length, const char *does, const char *path, const char *value,
          gsize *ret_length, GError **error)
{
  g_autoptr(GArray) edits = hf_edits_new();
  if (!hf_edits_read(edits, does, path, value, error))
    return NULL;
  return hf_recipe_edit(text, length, edits, ret_length, error);
}

static const Row rows[] = {
    /* set what is there */
    {"a: 1 # x\nb: 2\n", "set", "a", "3 mm", "a: 3 mm # x\nb: 2\n"},
    {"a: 'it'\n", "set", "a", "that's", "a: 'that''s'\n"},
    {"a: \"it\"\n", "set", "a", "3/16\"", "a: \"3/16\\\"\"\n"},
    {"a: x\n", "set", "a", "b: c", "a: \"b: c\"\n"},
    {"a: x\n", "set", "a", "", "a: \"\"\n"},
    {"a: x\n", "set", "a", "~", "a: \"~\"\n"},
    {"a: x\n", "set", "a", "one\ntwo", "a: \"one\\ntwo\"\n"},
    {"{a: x, b: y}", "set", "a", "1, 2", "{a: \"1, 2\", b: y}"},
    {"{a: x, b: y}", "set", "a", "5' 6-1/2\"", "{a: 5' 6-1/2\", b: y}"},
    {"{\"a\": 1, \"b\": 2}", "set", "a", "1.5", "{\"a\": 1.5, \"b\": 2}"},
    {"{\"a\": 1, \"b\": 2}", "set", "a", "3 mm", "{\"a\": \"3 mm\", \"b\": 2}"},
    {"a: [x, y] # z\n", "set", "a", "t", "a: t # z\n"},
    {"a: [x, y] # z\n", "set", "a[1]", "t", "a: [x, t] # z\n"},
    {"a:\n  - x # y\n  - z\nb: 1\n", "set", "a", "t", "a: t\nb: 1\n"},
    {"a:\n- x\n- z\nb: 1\n", "set", "a[1]", "t", "a:\n- x\n- t\nb: 1\n"},
    {"a: |\n  one\n  two\n\n# r\nb: 1\n", "set", "a", "t", "a: t\n\n# r\nb: 1\n"},
    /* set what is not there yet */
    {"a: 1 # x\n", "set", "b c", "2 mm", "a: 1 # x\nb c: 2 mm\n"},
    {"a: 1", "set", "b", "2", "a: 1\nb: 2"},
    {"a:\r\n    b: 1 # x\r\nc: 1\r\n", "set", "a.d", "2",
     "a:\r\n    b: 1 # x\r\n    d: 2\r\nc: 1\r\n"},
    {"- a: 1\n- b: 2\n", "set", "[0].c", "3", "- a: 1\n  c: 3\n- b: 2\n"},
    {"{a: 1}", "set", "b", "2", "{a: 1, b: 2}"},
    {"{\"a\":1}", "set", "b", "x", "{\"a\":1, \"b\": \"x\"}"},
    {"{\n\t\"a\": 1\n}\n", "set", "b", "2", "{\n\t\"a\": 1,\n\t\"b\": 2\n}\n"},
    {"a: {}\n", "set", "a.b", "2", "a: {b: 2}\n"},
    {"a:   # x\nb: 1\n", "set", "a", "2", "a: 2   # x\nb: 1\n"},
    {"a:   # x\nb: 1\n", "set", "a.c", "2", "a: {c: 2}   # x\nb: 1\n"},
    {"{a, b: 1}", "set", "a", "2", "{a: 2, b: 1}"},
    {"a: ~\n", "set", "a", "2", "a: 2\n"},
    {"[a: 1, b: 2]", "set", "[0].c", "3", "[{a: 1, c: 3}, b: 2]"},
    /* remove */
    {"[a: 1, b: 2]", "remove", "[0].a", NULL, "[{}, b: 2]"},
    {"[a: 1, b: 2]", "remove", "[0]", NULL, "[b: 2]"},
    {"a: 1 # x\n# y\nb: 2\n", "remove", "a", NULL, "# y\nb: 2\n"},
    {"a: 1\nb:\n  - c\n  # x\n  - d\n\ne: 2\n", "remove", "b", NULL, "a: 1\n\ne: 2\n"},
    {"a: {b: 1, c: 2, d: 3}\n", "remove", "a.b", NULL, "a: {c: 2, d: 3}\n"},
    {"a: {b: 1, c: 2, d: 3}\n", "remove", "a.d", NULL, "a: {b: 1, c: 2}\n"},
    {"a: {b: 1}\n", "remove", "a.b", NULL, "a: {}\n"},
    {"a:\n  b: 1\nc: 2\n", "remove", "a.b", NULL, "a: {}\nc: 2\n"},
    {"a:\n  # x\n  - b\nc: 2\n", "remove", "a[0]", NULL, "a:\n  # x\n  []\nc: 2\n"},
    {"{\n  \"a\": 1,\n  \"b\": 2\n}\n", "remove", "b", NULL, "{\n  \"a\": 1\n}\n"},
    {"{\n  a: 1,  # x\n  b: 2,  # y\n  c: 3\n}\n", "remove", "b", NULL,
     "{\n  a: 1,  # x\n  c: 3\n}\n"},
    {"- a: 1\n  b: 2\n- c\n", "remove", "[0].a", NULL, "- b: 2\n- c\n"},
    {"- a: 1\n  # x\n  b: 2\n", "remove", "[0].a", NULL, "- \n  # x\n  b: 2\n"},
    {"a:\n- b: 1\n  c: 2\n- d: 3\n", "remove", "a[0]", NULL, "a:\n- d: 3\n"},
    /* insert */
    {"a:\n  - b # x\n# y\nc: 1\n", "insert", "a", "ear:\n  on: r\n",
     "a:\n  - b # x\n  - ear:\n      on: r\n# y\nc: 1\n"},
    {"a:\n  # x\n  - b\n", "insert", "a[0]", "n", "a:\n  - n\n  # x\n  - b\n"},
    {"a:\n  # x\n  - b\n  # y\n  - c\n", "insert", "a[1]", "n",
     "a:\n  # x\n  - b\n  - n\n  # y\n  - c\n"},
    {"a:\n  - b\n", "insert", "a", "---\nc: 1\n", "a:\n  - b\n  - {c: 1}\n"},
    {"a:\n  - b\n", "insert", "a", "x: |\n  t\n", "a:\n  - b\n  - {x: \"t\\n\"}\n"},
    {"a: [b, c]\n", "insert", "a[1]", "ear: {on: r}", "a: [b, {ear: {on: r}}, c]\n"},
    {"a: [b, c]\n", "insert", "a[2]", "n", "a: [b, c, n]\n"},
    {"a: []\n", "insert", "a", "n", "a: [n]\n"},
    {"a:\nb: 1\n", "insert", "a", "n", "a:\n  - n\nb: 1\n"},
    {"{\"a\": [\"b\"]}", "insert", "a", "ear: {hole: 8 mm}",
     "{\"a\": [\"b\", {\"ear\": {\"hole\": \"8 mm\"}}]}"},
    /* put: a whole value */
    {"a: top # x\nb: 1\n", "put", "a", "[left end, right end]",
     "a: [left end, right end] # x\nb: 1\n"},
    {"- words: {font: Lobster Two, height: 9 mm}\n", "put", "[0].words.font",
     "{family: Lobster Two, style: Bold}",
     "- words: {font: {family: Lobster Two, style: Bold}, height: 9 mm}\n"},
    {"a: 1\n", "put", "order", "{\"customer\": \"A, B\"}",
     "a: 1\norder: {\"customer\": \"A, B\"}\n"},
    {"a:\n  - x # y\n  - z\nb: 1\n", "put", "a", "[[1 mm, 2 mm]]", "a: [[1 mm, 2 mm]]\nb: 1\n"},
    {"{\"a\": [\"x\"]}", "put", "a", "{b: 3 mm}", "{\"a\": {\"b\": \"3 mm\"}}"},
    {"a: x\n", "put", "a", "y z", "a: y z\n"},
    {"a:\nb: 1\n", "put", "a.c", "[1, 2]", "a: {c: [1, 2]}\nb: 1\n"},
    {"a: x\n", "put", "a", "b: |\n  t\n", "a: {b: \"t\\n\"}\n"},
    /* refused */
    {"a: 1\n", "remove", "b", NULL, "! b: there is nothing to remove; name what is there"},
    {"abc: {x: 1}\n", "set", "abd.x", "2", "! abd.x: there is no \"abd\"; is it \"abc\"?"},
    {"a: [1]\n", "set", "a[1]", "2",
     "! a[1]: there is no \"1\"; the list has 1 items, counted from 0"},
    {"a: 1\n", "set", "a.b", "2", "! a.b: there is no \"b\"; a value has nothing inside it"},
    {"a: 1\n", "insert", "a", "2", "! only a list takes items; name a list, such as entries"},
    {"a: [1]\n", "insert", "a", "b: [", NULL},
    {"a: [\n", "set", "a", "2", NULL},
    {"a: 1\n", "set", "a..b", "2",
     "! a..b: this is not a path; write it like "
     "entries[2].words.height"},
};

static void
test_rows(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autoptr(GError) error = NULL;
    gsize length = 0;
    g_autofree char *after = edit_text(rows[i].before, strlen(rows[i].before), rows[i].does,
                                       rows[i].path, rows[i].value, &length, &error);
    if (rows[i].after == NULL || g_str_has_prefix(rows[i].after, "! ")) {
      g_assert_null(after);
      g_assert_nonnull(error);
      g_assert_cmpint(error->code, !=, HF_ERROR_BUG);
      if (rows[i].after != NULL)
        g_assert_cmpstr(error->message, ==, rows[i].after + 2);
      continue;
    }
    if (after == NULL)
      g_error("%s %s: %s", rows[i].before, rows[i].path, error->message);
    g_assert_cmpstr(after, ==, rows[i].after);
    g_assert_cmpuint(strlen(after), ==, length);
  }
}

static void
test_several(void)
{
  static const char before[] = "holdfast: 1\nentries:\n- dot: {diameter: 3 mm}  # one\n";
  static const char *const given[][3] = {
      {"set", "entries[0].dot.diameter", "4 mm"},
      {"insert", "entries", "star: {diameter: 4 cm}"},
      {"set", "entries[1].star.points", "6"},
      {"set", "sign", "Net loft"},
  };
  g_autoptr(GArray) edits = hf_edits_new();
  for (gsize i = 0; i < G_N_ELEMENTS(given); i++)
    g_assert_true(hf_edits_read(edits, given[i][0], given[i][1], given[i][2], NULL));
  gsize length = 0;
  g_autofree char *after = hf_recipe_edit(before, strlen(before), edits, &length, NULL);
  g_assert_cmpstr(after, ==,
                  "holdfast: 1\nentries:\n- dot: {diameter: 4 mm}  # one\n"
                  "- star: {diameter: 4 cm, points: 6}\nsign: Net loft\n");
}

/* --- typed edits --- */

/* Values that code builds: each number in its own unit; a name is quoted where it must be, in the
 * way of what it takes the place of; a key may have a point in it. */
static void
test_typed(void)
{
  static const char before[] = "a: 'x'\n\"b.c\": {d: 1}\ne:\n  - f  # g\nh: [{\"i\": 1}]\n";
  g_autoptr(GArray) edits = hf_edits_new();
  hf_edits_add(edits, HF_EDIT_SET, hf_path(HF_KEY("a")), hf_node_new_text("it's {}"));
  hf_edits_add(edits, HF_EDIT_SET, hf_path(HF_KEY("b.c"), HF_KEY("d")),
               hf_node_new_list(hf_node_new_number(0.75, 9, 3, "in"),
                                hf_node_new_number(-0.0001, 0, 2, "mm"),
                                hf_node_new_number(2, 0, 0, ""), NULL));
  HfNode *body = hf_table({"name", hf_node_new_text("a: #b")}, {"left out", NULL},
                          {"at", hf_node_new_word("top")});
  hf_edits_add(edits, HF_EDIT_INSERT, hf_path(HF_KEY("e")), hf_node_new_entry("bar", body));
  hf_edits_add(edits, HF_EDIT_INSERT, hf_path(HF_KEY("h"), HF_ITEM(0)),
               hf_node_new_entry("ties", hf_node_new_empty_table()));
  hf_edits_add(edits, HF_EDIT_REMOVE, hf_path(HF_KEY("e"), HF_ITEM(0)), NULL);
  g_autoptr(GError) error = NULL;
  gsize length = 0;
  g_autofree char *after = hf_recipe_edit(before, strlen(before), edits, &length, &error);
  g_assert_no_error(error);
  g_assert_cmpstr(after, ==,
                  "a: 'it''s {}'\n\"b.c\": {d: [0.75 in, 0 mm, 2]}\n"
                  "e:\n  - bar: {name: \"a: #b\", at: top}\nh: [{ties: {}}, {\"i\": 1}]\n");
}

static void
test_paths(void)
{
  static const char *const good[] = {"", "a", "entries[2].words.height", "[0]", "[3][1].a b[0]"};
  for (gsize i = 0; i < G_N_ELEMENTS(good); i++) {
    g_autoptr(HfPath) path = hf_path_read(good[i], NULL);
    g_assert_nonnull(path);
    g_autofree char *said = hf_path_say(path);
    g_assert_cmpstr(said, ==, good[i]);
  }
  static const char *const bad[] = {".",     "a..b",           "a[",  "a[]", "a[x]",
                                    "a[-1]", "a[99999999999]", "\xff"};
  for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autoptr(GError) error = NULL;
    g_assert_null(hf_path_read(bad[i], &error));
    g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
  }
}

/* What is no edit is refused at the door, where it is wrong, and nothing is added. */
static void
test_door(void)
{
  static const struct {
    const char *does, *path, *value, *says;
  } given[] = {
      {NULL, "a", "1", "this is not an edit"},
      {"swap", "a", "1", "this is not an edit"},
      {"set", NULL, "1", "this is not an edit"},
      {"set", "a", NULL, "this is not an edit"},
      {"insert", "a", NULL, "this is not an edit"},
      {"set", "a..b", "1", "a..b: this is not a path"},
      {"set", "a", "\xff", "a: the value is no text"},
      {"put", "a", "b: [", "the new value:1:"},
      {"insert", "a", "b: 1\nb: 2\n", "the new value:2:1"},
  };
  g_autoptr(GArray) edits = hf_edits_new();
  for (gsize i = 0; i < G_N_ELEMENTS(given); i++) {
    g_autoptr(GError) error = NULL;
    g_assert_false(hf_edits_read(edits, given[i].does, given[i].path, given[i].value, &error));
    g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
    if (!g_str_has_prefix(error->message, given[i].says))
      g_error("%s", error->message);
  }
  g_assert_cmpuint(edits->len, ==, 0);
}

/* --- random edits on hand-written files --- */

static const char *const values[] = {
    "1200 mm",
    "3/16\"",
    "5' 6-1/2\"",
    "11 o'clock",
    "a: b",
    "x # y",
    "",
    " lead",
    "trail ",
    "~",
    "null",
    "- dash",
    "-",
    "[a",
    "{b}",
    "\xc3\x89",
    "\xe6\x97\xa5\xe6\x9c\xac",
    "line\nbreak",
    "\nfirst",
    "last\n",
    "tab\there",
    "\ttab",
    "quote\"s",
    "it's",
    "'",
    "\"",
    "#hash",
    "!tag",
    "&a",
    "*b",
    "%x",
    "@x",
    "`x",
    "a,b",
    "true",
    "12",
    "-3.5",
    "007",
    "\x01",
    "\x7f",
    "\xc2\x85",
    "\xe2\x80\xa8",
    "?",
    "? x",
    ":",
    "x:",
    "|",
    ">",
    "\xf0\x9f\x98\x80",
    "\xef\xbb\xbf",
    "\\",
    "\\u0041",
    "---",
    "...",
    "--- x",
    "key: [1, 2]",
    "a very long value that goes on and on until it "
    "is much longer than a line of a file should be, and then some more, just to be sure of it",
};
static const char *const items[] = {
    "x",
    "ear: {on: rail, hole: 8 mm}",
    "words:\n  text: a\n  height: 3 mm\n",
    "{\"dot\": {\"diameter\": \"3 mm\"}}",
    "text: |\n  two\n\n  lines\n",
    "# remark\ndot: {diameter: 1 cm}",
    "[1, [2, 'three']]",
    "- a\n- b: \"c\n  d\"\n",
    "\"a: b\"",
    "k:\r\n  l: 1\r\n",
};

typedef struct {
  HfNode *node, *parent;
  char *path;
} Place;

static void
place_free(gpointer data)
{
  Place *place = data;
  g_free(place->path);
  g_free(place);
}

static void
collect(GPtrArray *places, HfNode *node, HfNode *parent, const char *path)
{
  Place *place = g_new0(Place, 1);
  *place = (Place){node, parent, g_strdup(path)};
  g_ptr_array_add(places, place);
  for (guint i = 0; i < hf_node_size(node); i++) {
    g_autofree char *inner =
        node->kind == HF_NODE_LIST
            ? g_strdup_printf("%s[%u]", path, i)
            : g_strconcat(path, *path != '\0' ? "." : "", hf_node_key(node, i)->text, NULL);
    collect(places, hf_node_item(node, i), node, inner);
  }
}

static gsize
line_start(const char *text, gsize at)
{
  while (at > 0 && text[at - 1] != '\n' && text[at - 1] != '\r')
    at--;
  return at;
}

static gsize
next_line(const char *text, gsize length, gsize at)
{
  while (at < length && text[at] != '\n' && text[at] != '\r')
    at++;
  if (at < length && text[at] == '\r')
    at++;
  if (at < length && text[at] == '\n')
    at++;
  return at;
}

/* The lines of the file that an edit of @place may touch: its own, and for a flow list the line of
 * the item before it, which has the comma. */
static void
allowed_lines(const char *text, gsize length, const Place *place, gsize *ret_from, gsize *ret_to)
{
  gsize from = place->node->start, to = place->node->end;
  if (place->parent != NULL) {
    for (guint i = 0; i < hf_node_size(place->parent); i++) {
      if (hf_node_item(place->parent, i) != place->node)
        continue;
      if (place->parent->kind == HF_NODE_TABLE)
        from = MIN(from, hf_node_key(place->parent, i)->start);
      if (i > 0)
        from = MIN(from, hf_node_item(place->parent, i - 1)->end);
      else if (place->parent->kind == HF_NODE_LIST)
        from = MIN(from, place->parent->start);
      /* in brackets its comma may stand there; behind a dash the next key moves up */
      if (i + 1 < hf_node_size(place->parent))
        to = MAX(to, place->parent->kind == HF_NODE_TABLE
                         ? hf_node_key(place->parent, i + 1)->start
                         : hf_node_item(place->parent, i + 1)->start);
    }
    /* the only child of a block table: its parent becomes {} beside its key */
    if (hf_node_size(place->parent) == 1) {
      from = MIN(from, place->parent->start);
      while (from > 0 && strchr(" \t\r\n", text[from - 1]) != NULL)
        from--;
    }
  }
  *ret_from = line_start(text, from);
  *ret_to = next_line(text, length, to);
}

static gsize
same_front(const char *a, gsize n, const char *b, gsize m)
{
  gsize i = 0;
  while (i < n && i < m && a[i] == b[i])
    i++;
  return i;
}

static gsize
same_back(const char *a, gsize n, const char *b, gsize m)
{
  gsize i = 0;
  while (i < n && i < m && a[n - 1 - i] == b[m - 1 - i])
    i++;
  return i;
}

static guint
count_remark_lines(const char *text, gsize from, gsize to)
{
  guint n = 0;
  for (gsize at = from; at < to; at = next_line(text, to, at)) {
    gsize i = at;
    while (i < to && (text[i] == ' ' || text[i] == '\t'))
      i++;
    n += i < to && text[i] == '#';
  }
  return n;
}

/* Of a block item its dash, of a pair its key: remarks between them and the value go along. */
static gsize
own_start(const char *text, const Place *place)
{
  gsize at = place->node->start;
  for (guint i = 0; place->parent != NULL && i < hf_node_size(place->parent); i++)
    if (place->parent->kind == HF_NODE_TABLE && hf_node_item(place->parent, i) == place->node)
      return hf_node_key(place->parent, i)->start;
  if (place->parent == NULL || place->parent->kind != HF_NODE_LIST || place->parent->flow)
    return at;
  for (at--; at > place->parent->start; at--) { /* the value may start with a minus */
    gsize start = line_start(text, at);
    if (text[at] == '-' && start + strspn(text + start, " -") > at)
      break;
  }
  return at;
}

typedef struct {
  const char *does, *path, *value;
} Asked;

static gboolean
is(const Asked *asked, const char *does)
{
  return strcmp(asked->does, does) == 0;
}

static void
check_outside(const GString *before, const char *after, gsize length, const Place *place,
              const Asked *edit)
{
  gsize from = 0, to = 0;
  allowed_lines(before->str, before->len, place, &from, &to);
  gsize front = same_front(before->str, before->len, after, length);
  gsize back = same_back(before->str, before->len, after, length);
  if (is(edit, "insert")) { /* takes nothing away, but a null that stood for nothing */
    gsize gone = hf_node_is_empty(place->node) ? place->node->end - place->node->start : 0;
    g_assert_cmpuint(front + back + gone, >=, before->len);
    return;
  }
  if (front < from || back < before->len - to)
    g_error("%s (%s): more than its lines changed (%zu..%zu; %zu, %zu)\n%s\n----\n%s", edit->path,
            edit->does, from, to, front, before->len - back, before->str, after);
  guint inside = count_remark_lines(before->str, own_start(before->str, place), place->node->end);
  guint was = count_remark_lines(before->str, 0, before->len);
  guint is = count_remark_lines(after, 0, length);
  if (is + inside < was)
    g_error("%s: a remark was lost\n%s\n----\n%s", edit->path, before->str, after);
}

static HfNode *
parse(const char *text, gsize length)
{
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, text, length);
  hf_mistakes_init(&mistakes);
  HfNode *root = hf_node_read(&source, &mistakes);
  g_assert_cmpuint(mistakes.total, ==, 0);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
  return root;
}

typedef struct {
  guint done, refused;
} Tally;

/* One random edit of @text, in place. */
static void
step(GRand *random, GString *text, Tally *tally)
{
  g_autoptr(HfNode) root = parse(text->str, text->len);
  g_autoptr(GPtrArray) places = g_ptr_array_new_with_free_func(place_free);
  collect(places, root, NULL, "");
  const Place *place =
      g_ptr_array_index(places, (guint)g_rand_int_range(random, 0, (gint)places->len));
  g_autofree char *path = g_strdup(place->path);
  static const char *const does[] = {"set", "remove", "insert", "put"};
  Asked edit = {does[g_rand_int_range(random, 0, 4)], path, NULL};
  if (is(&edit, "set"))
    edit.value = values[g_rand_int_range(random, 0, G_N_ELEMENTS(values))];
  if (is(&edit, "insert") || is(&edit, "put"))
    edit.value = items[g_rand_int_range(random, 0, G_N_ELEMENTS(items))];
  gboolean sets = is(&edit, "set") || is(&edit, "put");
  gboolean fresh = sets && place->node->kind == HF_NODE_TABLE && g_rand_boolean(random);
  if (fresh) {
    g_free(path);
    edit.path = path = g_strconcat(place->path, *place->path != '\0' ? "." : "", "new key", NULL);
  }
  if (is(&edit, "insert") && place->node->kind == HF_NODE_LIST) {
    g_free(path);
    edit.path = path = g_strdup_printf(
        "%s[%d]", place->path, g_rand_int_range(random, 0, (gint)hf_node_size(place->node) + 1));
  }
  g_autoptr(GError) error = NULL;
  gsize length = 0;
  g_autofree char *after =
      edit_text(text->str, text->len, edit.does, edit.path, edit.value, &length, &error);
  if (after == NULL) {
    if (error->code == HF_ERROR_BUG)
      g_error("%s (%s %s): %s\n%s", path, edit.does, edit.value, error->message, text->str);
    tally->refused++;
    return;
  }
  check_outside(text, after, length, place, &edit);
  g_autoptr(HfNode) again = parse(after, length);
  if (sets && !fresh) { /* the value is there, by an independent walk */
    g_autoptr(HfNode) wanted = is(&edit, "put") ? parse(edit.value, strlen(edit.value)) : NULL;
    g_autoptr(GPtrArray) now = g_ptr_array_new_with_free_func(place_free);
    collect(now, again, NULL, "");
    gboolean there = FALSE;
    for (guint i = 0; i < now->len; i++) {
      const Place *p = g_ptr_array_index(now, i);
      if (strcmp(p->path, path) != 0)
        continue;
      there = wanted != NULL
                  ? hf_node_equal(p->node, wanted)
                  : p->node->kind == HF_NODE_TEXT && strcmp(p->node->text, edit.value) == 0;
    }
    g_assert_true(there);
  }
  tally->done++;
  g_string_truncate(text, 0);
  g_string_append_len(text, after, (gssize)length);
}

enum { WALKS = 60, STEPS = 15 };

static void
test_random(void)
{
  g_autofree char *folder = g_build_filename(HF_SOURCE_ROOT, "tests", "corpus", "edit", NULL);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  g_assert_nonnull(dir);
  Tally tally = {0};
  guint files = 0;
  for (const char *name = g_dir_read_name(dir); name != NULL;
       name = g_dir_read_name(dir), files++) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_autofree char *text = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(path, &text, &length, NULL));
    g_autoptr(GRand) random = g_rand_new_with_seed(g_str_hash(name)); /* not by reading order */
    for (guint walk = 0; walk < enough(WALKS); walk++) {
      g_autoptr(GString) now = g_string_new_len(text, (gssize)length);
      for (guint i = 0; i < STEPS; i++)
        step(random, now, &tally);
    }
  }
  g_test_message("%u files, %u edits, %u refused", files, tally.done, tally.refused);
  g_assert_cmpuint(files, >=, 12);
  g_assert_cmpuint(tally.done, >, 2 * tally.refused);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe-edit/typed", test_typed);
  g_test_add_func("/recipe-edit/paths", test_paths);
  g_test_add_func("/recipe-edit/door", test_door);
  g_test_add_func("/recipe/edit/rows", test_rows);
  g_test_add_func("/recipe/edit/several", test_several);
  g_test_add_func("/recipe/edit/random", test_random);
  return g_test_run();
}
