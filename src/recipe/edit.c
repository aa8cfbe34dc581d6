/* SPDX-License-Identifier: GPL-3.0-or-later
 * In-place edits: find the place, splice the text, read it again and compare.
 *
 * The proof: the edit is also done on the tree that was read. The new text must read as just that
 * tree; whatever the splicing did wrong is found here, before anybody sees it.
 */
#include "recipe/edit.h"
#include "base/text.h"
#include "recipe/edit-private.h"
#include <string.h>

/* --- reading --- */

static HfNode *
read_tree(const HfSource *source, const char *called, GError **error)
{
  HfMistakes mistakes;
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) root = hf_node_read(source, &mistakes);
  gboolean good = hf_mistakes_raise(&mistakes, called, error);
  hf_mistakes_clear(&mistakes);
  return good ? g_steal_pointer(&root) : NULL;
}

static void
editor_clear(HfEditor *editor)
{
  for (guint i = 0; editor->splices != NULL && i < editor->splices->len; i++)
    g_free(g_array_index(editor->splices, HfSplice, i).text);
  g_clear_pointer(&editor->splices, g_array_unref);
  g_clear_pointer(&editor->root, hf_node_free);
  hf_source_clear(&editor->source);
}

static void
find_eol(HfEditor *editor)
{
  const HfSource *source = &editor->source;
  gsize end = hf_edit_line_end(editor, source->bom);
  gsize n = hf_edit_next_line(editor, source->bom) - end;
  if (n == 0)
    strcpy(editor->eol, "\n");
  else
    memcpy(editor->eol, source->text + end, n);
}

/* A block text that ends the file without a line break would get one by whatever comes below it. */
static gboolean
ends_well(const HfEditor *editor, GError **error)
{
  const HfNode *last = editor->root;
  while (hf_node_size(last) > 0)
    last = hf_node_item(last, hf_node_size(last) - 1);
  if (last->style != HF_STYLE_BLOCK || last->end < editor->source.length ||
      strchr("\r\n", editor->source.text[last->end - 1]) != NULL)
    return TRUE;
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "end it with a line break",
               "the last line of the recipe has none");
  return FALSE;
}

static gboolean
editor_init(HfEditor *editor, const char *text, gsize length, GError **error)
{
  *editor = (HfEditor){.splices = g_array_new(FALSE, FALSE, sizeof(HfSplice))};
  hf_source_init(&editor->source, text, length);
  find_eol(editor);
  editor->root = read_tree(&editor->source, "recipe", error);
  return editor->root != NULL && ends_well(editor, error);
}

/* --- paths --- */

static gboolean
refuse_path(const char *path, const char *part, const HfNode *node, GError **error)
{
  g_autofree char *fix = NULL;
  if (node->kind == HF_NODE_TABLE) {
    g_autofree const char **keys = g_new0(const char *, hf_node_size(node) + 1);
    for (guint i = 0; i < hf_node_size(node); i++)
      keys[i] = hf_node_key(node, i)->text;
    const char *near = hf_text_nearest(part, keys);
    fix = near != NULL ? g_strdup_printf("is it \"%s\"?", near) : g_strdup("name what is there");
  } else if (node->kind == HF_NODE_LIST) {
    fix = g_strdup_printf("the list has %u items, counted from 0", hf_node_size(node));
  } else {
    fix = g_strdup("a value has nothing inside it");
  }
  hf_error_set(error, HF_ERROR_NOT_FOUND, path, fix, "there is no \"%s\"", part);
  return FALSE;
}

/* One step of a path: a key up to `.` or `[`, or a number in brackets. */
static char *
next_part(const char **at, gboolean *ret_number)
{
  const char *start = *at;
  *ret_number = *start == '[';
  if (*ret_number) {
    const char *end = strchr(start, ']');
    if (end == NULL)
      return NULL;
    *at = end + 1;
    if (**at == '.')
      (*at)++;
    return g_strndup(start + 1, (gsize)(end - start - 1));
  }
  gsize n = strcspn(start, ".[");
  *at = start + n;
  if (**at == '.')
    (*at)++;
  return n > 0 ? g_strndup(start, n) : NULL;
}

static int
index_of(const HfNode *node, const char *part, gboolean number)
{
  if (number) {
    guint64 index = 0;
    if (node->kind != HF_NODE_LIST ||
        !g_ascii_string_to_unsigned(part, 10, 0, G_MAXINT, &index, NULL))
      return -2;
    return index < hf_node_size(node) ? (int)index : -1;
  }
  if (node->kind != HF_NODE_TABLE)
    return -2;
  for (guint i = 0; i < hf_node_size(node); i++)
    if (strcmp(hf_node_key(node, i)->text, part) == 0)
      return (int)i;
  return -1;
}

/* Where a path leads, in one tree. The last step may be missing: index is -1 then. */
typedef struct {
  HfTarget target;
  HfNode *node; /* NULL when missing */
  char *last;   /* (owned) last part */
  gboolean number;
} Found;

static gboolean
find(HfNode *root, const char *path, Found *found, GError **error)
{
  const char *at = path;
  *found = (Found){.node = root, .target = {.index = -1, .parent_index = -1}};
  if (!g_utf8_validate(path, -1, NULL)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "give it as UTF-8", "the path is no text");
    return FALSE;
  }
  while (*at != '\0') {
    g_autofree char *part = next_part(&at, &found->number);
    HfNode *holder = found->node;
    if (part == NULL) {
      hf_error_set(error, HF_ERROR_BAD_VALUE, path, "write it like entries[2].words.height",
                   "this is not a path");
      return FALSE;
    }
    int index = index_of(holder, part, found->number);
    gboolean fresh = hf_node_is_empty(holder) && *at == '\0';
    if ((index == -2 && !fresh) || (index < 0 && *at != '\0'))
      return refuse_path(path, part, holder, error);
    found->target.grand = found->target.parent;
    found->target.parent_index = found->target.index;
    found->target.parent = holder;
    found->target.index = MAX(index, -1);
    found->node = index >= 0 ? hf_node_item(holder, (guint)index) : NULL;
    g_free(found->last);
    found->last = g_steal_pointer(&part);
    found->target.key = found->number ? NULL : found->last;
  }
  return TRUE;
}

static void
found_clear(Found *found)
{
  g_clear_pointer(&found->last, g_free);
}

/* --- the same edit on the tree --- */

static HfNode *
text_node(const char *value)
{
  HfNode *node = g_new0(HfNode, 1);
  node->kind = HF_NODE_TEXT;
  node->style = HF_STYLE_DOUBLE;
  node->text = g_strdup(value);
  return node;
}

static void
become(HfNode *node, HfNodeKind kind)
{
  g_clear_pointer(&node->text, g_free);
  node->kind = kind;
  node->items = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
  if (kind == HF_NODE_TABLE)
    node->keys = g_ptr_array_new_with_free_func((GDestroyNotify)hf_node_free);
}

/* Takes @value. */
static void
tree_set(const Found *found, HfNode *value)
{
  HfNode *parent = found->target.parent;
  if (parent->kind == HF_NODE_TEXT)
    become(parent, HF_NODE_TABLE);
  if (found->target.index < 0) {
    g_ptr_array_add(parent->keys, text_node(found->last));
    g_ptr_array_add(parent->items, value);
    return;
  }
  hf_node_free(parent->items->pdata[found->target.index]);
  parent->items->pdata[found->target.index] = value;
}

static void
tree_remove(const Found *found)
{
  HfNode *parent = found->target.parent;
  g_ptr_array_remove_index(parent->items, (guint)found->target.index);
  if (parent->kind == HF_NODE_TABLE)
    g_ptr_array_remove_index(parent->keys, (guint)found->target.index);
}

static void
tree_insert(HfNode *list, guint index, HfNode *item)
{
  if (list->kind == HF_NODE_TEXT)
    become(list, HF_NODE_LIST);
  g_ptr_array_insert(list->items, (int)index, item);
}

/* --- one edit --- */

static int
by_start(gconstpointer a, gconstpointer b)
{
  const HfSplice *p = a, *q = b;
  return p->start < q->start ? -1 : p->start > q->start;
}

static GString *
apply_splices(HfEditor *editor)
{
  GString *out = g_string_sized_new(editor->source.length + 64);
  gsize at = 0;
  g_array_sort(editor->splices, by_start);
  for (guint i = 0; i < editor->splices->len; i++) {
    const HfSplice *splice = &g_array_index(editor->splices, HfSplice, i);
    g_assert(at <= splice->start && splice->start <= splice->end);
    g_string_append_len(out, editor->source.text + at, (gssize)(splice->start - at));
    g_string_append(out, splice->text);
    at = splice->end;
  }
  g_string_append_len(out, editor->source.text + at, (gssize)(editor->source.length - at));
  return out;
}

static gboolean
need_there(const Found *found, const char *path, GError **error)
{
  if (found->node != NULL && found->target.parent != NULL)
    return TRUE;
  hf_error_set(error, HF_ERROR_NOT_FOUND, path, "name what is there", "there is nothing to remove");
  return FALSE;
}

/* A new key is words that one can read; YAML takes no longer key than 1024 bytes. */
static gboolean
is_key(const char *text)
{
  if (strlen(text) > 200)
    return FALSE;
  for (; *text != '\0'; text = g_utf8_next_char(text)) {
    gunichar c = g_utf8_get_char(text);
    if (c != ' ' && !g_unichar_isgraph(c))
      return FALSE;
  }
  return TRUE;
}

/* Takes @value, on success and on failure. */
static gboolean
set_node(HfEditor *editor, const HfEdit *edit, Found *found, HfNode *value, GError **error)
{
  g_autoptr(HfNode) mine = value;
  if (found->node == NULL && found->number)
    return refuse_path(edit->path, found->last, found->target.parent, error);
  if (found->node == NULL && !is_key(found->last)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "write it in plain words", "this is no key");
    return FALSE;
  }
  if (!hf_edit_set(editor, &found->target, mine, error))
    return FALSE;
  tree_set(found, g_steal_pointer(&mine));
  return TRUE;
}

static gboolean
set_one(HfEditor *editor, const HfEdit *edit, Found *found, GError **error)
{
  if (edit->value != NULL && g_utf8_validate(edit->value, -1, NULL))
    return set_node(editor, edit, found, text_node(edit->value), error);
  hf_error_set(error, HF_ERROR_BAD_VALUE, edit->path, "give it as UTF-8", "the value is no text");
  return FALSE;
}

static HfNode *
read_value(const char *value, GError **error)
{
  HfSource source;
  hf_source_init(&source, value != NULL ? value : "", value != NULL ? strlen(value) : 0);
  HfNode *node = read_tree(&source, "the new value", error);
  hf_source_clear(&source);
  return node;
}

static gboolean
put_one(HfEditor *editor, const HfEdit *edit, Found *found, GError **error)
{
  g_autoptr(HfNode) node = read_value(edit->value, error);
  if (node == NULL)
    return FALSE;
  HfNode *value = node->kind == HF_NODE_TEXT ? text_node(node->text) : g_steal_pointer(&node);
  return set_node(editor, edit, found, value, error);
}

static gboolean
remove_one(HfEditor *editor, const HfEdit *edit, Found *found, GError **error)
{
  if (!need_there(found, edit->path, error) || !hf_edit_remove(editor, &found->target, error))
    return FALSE;
  tree_remove(found);
  return TRUE;
}

/* The path names a list (append) or a place in one, which may be just behind its end. */
static gboolean
insert_one(HfEditor *editor, const HfEdit *edit, Found *found, GError **error)
{
  g_autoptr(HfNode) item = read_value(edit->value, error);
  if (item == NULL)
    return FALSE;
  HfTarget target = found->target;
  HfNode *list = found->node;
  guint index = list != NULL ? hf_node_size(list) : 0;
  if (found->number) {
    guint64 wanted = 0;
    list = found->target.parent;
    g_ascii_string_to_unsigned(found->last, 10, 0, G_MAXINT, &wanted, NULL);
    if (wanted > hf_node_size(list))
      return refuse_path(edit->path, found->last, list, error);
    index = (guint)wanted;
    target.parent = found->target.grand;
    target.index = found->target.parent_index;
  }
  if (list == NULL)
    return refuse_path(edit->path, found->last, found->target.parent, error);
  if (!hf_edit_insert(editor, &target, list, index, edit->value, item, error))
    return FALSE;
  tree_insert(list, index, g_steal_pointer(&item));
  return TRUE;
}

static gboolean
prove(const HfEditor *editor, const GString *made, const char *path, GError **error)
{
  HfSource source;
  g_autoptr(GError) inner = NULL;
  hf_source_init(&source, made->str, made->len);
  g_autoptr(HfNode) again = read_tree(&source, "edited", &inner);
  hf_source_clear(&source);
  if (again != NULL && hf_node_equal(again, editor->root))
    return TRUE;
  hf_error_set(error, HF_ERROR_BUG, path, "change it by hand, and please report this",
               "the edited recipe would not read as it should; nothing was changed");
  return FALSE;
}

static GString *
edit_one(const char *text, gsize length, const HfEdit *edit, GError **error)
{
  static gboolean (*const kinds[])(HfEditor *, const HfEdit *, Found *,
                                   GError **) = {[HF_EDIT_SET] = set_one,
                                                 [HF_EDIT_REMOVE] = remove_one,
                                                 [HF_EDIT_INSERT] = insert_one,
                                                 [HF_EDIT_PUT] = put_one};
  HfEditor editor;
  Found found = {0};
  GString *made = NULL;
  if (editor_init(&editor, text, length, error) && find(editor.root, edit->path, &found, error) &&
      kinds[edit->kind](&editor, edit, &found, error)) {
    made = apply_splices(&editor);
    if (!prove(&editor, made, edit->path, error))
      g_string_free(g_steal_pointer(&made), TRUE);
  }
  found_clear(&found);
  editor_clear(&editor);
  return made;
}

char *
hf_recipe_edit(const char *text, gsize length, const HfEdit *edits, guint n, gsize *ret_length,
               GError **error)
{
  g_return_val_if_fail(text != NULL && (edits != NULL || n == 0) && ret_length != NULL, NULL);
  g_autoptr(GString) now = g_string_new_len(text, (gssize)length);
  for (guint i = 0; i < n; i++) {
    GString *next = edit_one(now->str, now->len, &edits[i], error);
    if (next == NULL)
      return NULL;
    g_string_free(now, TRUE);
    now = next;
  }
  *ret_length = now->len;
  return g_string_free(g_steal_pointer(&now), FALSE);
}
