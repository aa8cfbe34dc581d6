/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit.c - in-place edits: find the place, splice the text, read it again and compare.
 *
 * The proof: the edit is also done on the tree that was read. The new text must read as just that
 * tree; whatever the splicing did wrong is found here, before anybody sees it.
 */
#include "recipe/edit.h"
#include "recipe/edit-private.h"
#include <string.h>

/* --- lists of edits --- */

static void
edit_clear(gpointer data)
{
  HfEdit *edit = data;
  hf_path_free(edit->path);
  hf_node_free(edit->value);
}

GArray *
hf_edits_new(void)
{
  GArray *edits = g_array_new(FALSE, TRUE, sizeof(HfEdit));
  g_array_set_clear_func(edits, edit_clear);
  return edits;
}

void
hf_edits_add(GArray *edits, HfEditKind kind, HfPath *path, HfNode *value)
{
  g_return_if_fail(path != NULL &&
                   (value != NULL) == (kind == HF_EDIT_SET || kind == HF_EDIT_INSERT));
  HfEdit edit = {kind, path, value};
  g_array_append_val(edits, edit);
}

static HfNode *
read_text(const char *value, const char *path, GError **error)
{
  if (g_utf8_validate(value, -1, NULL))
    return hf_node_of_text(value, HF_STYLE_DOUBLE);
  hf_error_set(error, HF_ERROR_BAD_VALUE, path, "give it as UTF-8", "the value is no text");
  return NULL;
}

gboolean
hf_edits_read(GArray *edits, const char *does, const char *path, const char *value, GError **error)
{
  static const struct {
    const char *does;
    HfEditKind kind;
    gboolean as_text;
  } words[] = {{"set", HF_EDIT_SET, TRUE},
               {"put", HF_EDIT_SET, FALSE},
               {"insert", HF_EDIT_INSERT, FALSE},
               {"remove", HF_EDIT_REMOVE, FALSE}};
  guint i = 0;
  while (i < G_N_ELEMENTS(words) && g_strcmp0(does, words[i].does) != 0)
    i++;
  gboolean takes = i < G_N_ELEMENTS(words) && words[i].kind != HF_EDIT_REMOVE;
  if (i == G_N_ELEMENTS(words) || path == NULL || (takes && value == NULL)) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL,
                 "each has do (set, put, remove or insert), path and value, all of them text",
                 "this is not an edit");
    return FALSE;
  }
  g_autoptr(HfPath) place = hf_path_read(path, error);
  g_autoptr(HfNode) node = place == NULL || !takes ? NULL
                           : words[i].as_text      ? read_text(value, path, error)
                                                   : hf_node_new_read(value, error);
  if (place == NULL || (takes && node == NULL))
    return FALSE;
  hf_edits_add(edits, words[i].kind, g_steal_pointer(&place), g_steal_pointer(&node));
  return TRUE;
}

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

/* --- the same edit on the tree --- */

/* Takes @value. */
static void
tree_set(const HfTarget *target, HfNode *value)
{
  HfNode *parent = target->parent;
  if (parent->kind == HF_NODE_TEXT)
    hf_node_become(parent, HF_NODE_TABLE);
  if (target->index < 0) {
    hf_node_put(parent, target->key, value);
    return;
  }
  hf_node_free(parent->items->pdata[target->index]);
  parent->items->pdata[target->index] = value;
}

static void
tree_remove(const HfTarget *target)
{
  HfNode *parent = target->parent;
  g_ptr_array_remove_index(parent->items, (guint)target->index);
  if (parent->kind == HF_NODE_TABLE)
    g_ptr_array_remove_index(parent->keys, (guint)target->index);
}

static void
tree_insert(HfNode *list, guint index, HfNode *item)
{
  if (list->kind == HF_NODE_TEXT)
    hf_node_become(list, HF_NODE_LIST);
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

static const HfStep *
last_step(const HfEdit *edit)
{
  return edit->path->n > 0 ? &edit->path->steps[edit->path->n - 1] : NULL;
}

static gboolean
set_one(HfEditor *editor, const HfEdit *edit, const HfTarget *target, GError **error)
{
  g_autoptr(HfNode) value = hf_node_at(edit->value, 0);
  if (value->kind == HF_NODE_TEXT) /* a text, also where it says `null` */
    value->style = HF_STYLE_DOUBLE;
  if (target->node == NULL && target->key == NULL)
    return hf_edit_refuse_path(edit->path, last_step(edit), target->parent, error);
  if (target->node == NULL && !is_key(target->key))
    return hf_edit_refuse(error, "write it in plain words", "this is no key");
  if (!hf_edit_set(editor, target, value, error))
    return FALSE;
  tree_set(target, g_steal_pointer(&value));
  return TRUE;
}

static gboolean
remove_one(HfEditor *editor, const HfEdit *edit, const HfTarget *target, GError **error)
{
  if (target->node == NULL || target->parent == NULL) {
    g_autofree char *where = hf_path_say(edit->path);
    hf_error_set(error, HF_ERROR_NOT_FOUND, where, "name what is there",
                 "there is nothing to remove");
    return FALSE;
  }
  if (!hf_edit_remove(editor, target, error))
    return FALSE;
  tree_remove(target);
  return TRUE;
}

/* The path names a list (append) or a place in one, which may be just behind its end. */
static gboolean
insert_one(HfEditor *editor, const HfEdit *edit, const HfTarget *target, GError **error)
{
  const HfStep *step = last_step(edit);
  HfTarget list = *target;
  guint index = list.node != NULL ? hf_node_size(list.node) : 0;
  if (step != NULL && step->key == NULL) {
    list = (HfTarget){.parent = target->grand, .index = target->parent_index};
    list.node = target->parent;
    index = step->index;
    if (index > hf_node_size(list.node))
      return hf_edit_refuse_path(edit->path, step, list.node, error);
  }
  if (list.node == NULL)
    return hf_edit_refuse_path(edit->path, step, target->parent, error);
  g_autoptr(HfNode) item = hf_node_at(edit->value, 0);
  if (!hf_edit_insert(editor, &list, index, item, error))
    return FALSE;
  tree_insert(list.node, index, g_steal_pointer(&item));
  return TRUE;
}

static gboolean
prove(const HfEditor *editor, const GString *made, const HfPath *path, GError **error)
{
  HfSource source;
  g_autoptr(GError) inner = NULL;
  hf_source_init(&source, made->str, made->len);
  g_autoptr(HfNode) again = read_tree(&source, "edited", &inner);
  hf_source_clear(&source);
  if (again != NULL && hf_node_equal(again, editor->root))
    return TRUE;
  g_autofree char *where = hf_path_say(path);
  hf_error_set(error, HF_ERROR_BUG, where, "change it by hand, and please report this",
               "the edited recipe would not read as it should; nothing was changed");
  return FALSE;
}

static GString *
edit_one(const char *text, gsize length, const HfEdit *edit, GError **error)
{
  static gboolean (*const kinds[])(HfEditor *, const HfEdit *, const HfTarget *, GError **) = {
      [HF_EDIT_SET] = set_one, [HF_EDIT_REMOVE] = remove_one, [HF_EDIT_INSERT] = insert_one};
  HfEditor editor;
  HfTarget target;
  GString *made = NULL;
  if (editor_init(&editor, text, length, error) &&
      hf_edit_find(editor.root, edit->path, &target, error) &&
      kinds[edit->kind](&editor, edit, &target, error)) {
    made = apply_splices(&editor);
    if (!prove(&editor, made, edit->path, error))
      g_string_free(g_steal_pointer(&made), TRUE);
  }
  editor_clear(&editor);
  return made;
}

/* (nullable) a copy of what is at @path. */
static HfNode *
copy_of(const char *text, gsize length, const HfPath *path, GError **error)
{
  HfEditor editor;
  HfTarget target;
  HfNode *copy = NULL;
  if (editor_init(&editor, text, length, error) &&
      hf_edit_find(editor.root, path, &target, error) && target.node != NULL)
    copy = hf_node_at(target.node, 0);
  else if (error != NULL && *error == NULL)
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, NULL, "there is nothing there to move");
  editor_clear(&editor);
  return copy;
}

/* Added behind all others, then taken out where it was. */
static GString *
edit_last(const char *text, gsize length, const HfEdit *edit, GError **error)
{
  g_return_val_if_fail(edit->path->n > 0, NULL);
  g_autoptr(HfNode) value = copy_of(text, length, edit->path, error);
  g_autoptr(HfPath) list = hf_path_new(edit->path->steps, edit->path->n - 1);
  if (value == NULL)
    return NULL;
  HfEdit add = {HF_EDIT_INSERT, list, value}, take = {HF_EDIT_REMOVE, edit->path, NULL};
  g_autoptr(GString) both = edit_one(text, length, &add, error);
  return both != NULL ? edit_one(both->str, both->len, &take, error) : NULL;
}

char *
hf_recipe_edit(const char *text, gsize length, const GArray *edits, gsize *ret_length,
               GError **error)
{
  g_return_val_if_fail(text != NULL && edits != NULL && ret_length != NULL, NULL);
  g_autoptr(GString) now = g_string_new_len(text, (gssize)length);
  for (guint i = 0; i < edits->len; i++) {
    const HfEdit *edit = &g_array_index(edits, HfEdit, i);
    GString *next =
        (edit->kind == HF_EDIT_LAST ? edit_last : edit_one)(now->str, now->len, edit, error);
    if (next == NULL)
      return NULL;
    g_string_free(now, TRUE);
    now = next;
  }
  *ret_length = now->len;
  return g_string_free(g_steal_pointer(&now), FALSE);
}
