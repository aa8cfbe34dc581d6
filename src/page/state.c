/* SPDX-License-Identifier: GPL-3.0-or-later
 * state.c - the one document as the page sees it (State in docs/page.md).
 */
#include "page/page-private.h"

static const char *const DISK[] = {
    [HF_DISK_SAME] = "same", [HF_DISK_CHANGED] = "changed", [HF_DISK_GONE] = "gone"};

static void
write_names(HfJson *json, const HfPage *page)
{
  const char *file = hf_document_file(page->document);
  g_autofree char *base = g_path_get_basename(file), *folder = g_path_get_dirname(file);
  hf_json_text(json, "file", base);
  hf_json_text(json, "folder", folder);
  char *dot = strrchr(base, '.');
  if (dot != NULL && dot != base)
    *dot = '\0';
  hf_json_text(json, "name", base);
}

/* A text that can't be read leaves the tree of the last one that could. */
static void
write_tree(HfJson *json, HfPage *page, const char *text, gsize length)
{
  if (hf_recipe_tree(text, length, json, NULL)) {
    g_free(page->readable);
    page->readable = g_strndup(text, length);
    page->readable_length = length;
    return;
  }
  if (page->readable != NULL && hf_recipe_tree(page->readable, page->readable_length, json, NULL))
    return;
  hf_json_text(json, "tree", NULL);
  hf_json_line(json, "marks", '{');
  hf_json_close(json);
}

/* Every mistake at its place: somebody who typed two wants to see both. */
static void
write_mistakes(HfJson *json, const char *text, gsize length)
{
  g_autoptr(GPtrArray) all = hf_recipe_mistakes(text, length);
  hf_json_line(json, "mistakes", '[');
  for (guint i = 0; i < all->len; i++) {
    const HfMistake *one = g_ptr_array_index(all, i);
    g_autofree char *path = hf_recipe_path_at(text, length, one->mark);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "what", one->what);
    hf_json_text(json, "fix", one->fix);
    hf_json_number(json, "line", one->mark.line, 0);
    hf_json_number(json, "column", one->mark.column, 0);
    hf_json_text(json, "path", path);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_no_mistakes(HfJson *json)
{
  hf_json_line(json, "mistakes", '[');
  hf_json_close(json);
}

/* The text as it was typed, and where it can't be read, or what is wrong in it. */
static void
write_text(HfJson *json, HfPage *page)
{
  gsize length;
  const char *text = hf_document_text(page->document, &length);
  g_autoptr(GError) error = NULL;
  hf_json_text(json, "text", text);
  write_tree(json, page, text, length);
  g_autofree char *file = g_path_get_basename(hf_document_file(page->document));
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, length, file, &error);
  const GError *shown = recipe == NULL ? error : page->trouble;
  if (recipe == NULL)
    write_mistakes(json, text, length);
  else
    write_no_mistakes(json);
  if (shown != NULL)
    hf_answer_write_error(json, "error", page, shown);
  else
    hf_json_text(json, "error", NULL);
}

static void
write_nothing(HfJson *json, const HfPage *page)
{
  hf_json_text(json, "file", NULL);
  hf_json_text(json, "folder", page->home);
  hf_json_text(json, "name", "");
  hf_json_bool(json, "saved", TRUE);
  hf_json_bool(json, "draft", FALSE);
  hf_json_text(json, "disk", "same");
  hf_json_bool(json, "can_undo", FALSE);
  hf_json_bool(json, "can_redo", FALSE);
  hf_json_text(json, "text", "");
  hf_json_text(json, "tree", NULL);
  hf_json_line(json, "marks", '{');
  hf_json_close(json);
  write_no_mistakes(json);
  hf_json_text(json, "error", NULL);
}

void
hf_state_write(HfJson *json, HfPage *page, gboolean with_view)
{
  hf_json_number(json, "revision", (double)page->revision, 0);
  hf_json_number(json, "told", (double)++page->told, 0);
  if (page->document == NULL) {
    write_nothing(json, page);
  } else {
    write_names(json, page);
    hf_json_bool(json, "saved", hf_document_is_saved(page->document));
    hf_json_bool(json, "draft", hf_document_is_draft(page->document));
    hf_json_text(json, "disk", DISK[page->disk]);
    hf_json_bool(json, "can_undo", hf_document_can_undo(page->document));
    hf_json_bool(json, "can_redo", hf_document_can_redo(page->document));
    write_text(json, page);
  }
  if (with_view && page->view != NULL) {
    gsize length;
    const char *view = g_bytes_get_data(page->view, &length);
    hf_json_raw(json, "view", view, length - 1); /* without the line break at its end */
  } else {
    hf_json_text(json, "view", NULL);
  }
}

GBytes *
hf_state_bytes(HfPage *page, gboolean with_view)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_state_write(json, page, with_view);
  hf_json_close(json);
  return hf_json_finish(json);
}
