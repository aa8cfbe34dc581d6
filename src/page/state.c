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

static void
write_members(HfJson *json, GBytes *members)
{
  gsize length;
  const char *bytes = g_bytes_get_data(members, &length);
  hf_json_members(json, bytes, length);
}

static void
write_no_tree(HfJson *json)
{
  hf_json_text(json, "tree", NULL);
  hf_json_line(json, "marks", '{');
  hf_json_close(json);
}

static void
write_no_mistakes(HfJson *json)
{
  hf_json_line(json, "mistakes", '[');
  hf_json_close(json);
}

/* The text as it was typed, and where it can't be read, or what is wrong in it. Of one that is
 * still being read the tree is that of the one before. */
static void
write_text(HfJson *json, const HfPage *page)
{
  gsize length;
  const char *text = hf_document_text(page->document, &length);
  const HfReading *reading = hf_reader_reading(page->reader);
  gboolean ready = hf_reader_is_ready(page->reader);
  const GError *wrong = ready && reading != NULL ? reading->error : NULL;
  const GError *shown = wrong != NULL ? wrong : ready ? page->trouble : NULL;
  hf_json_text(json, "text", text);
  hf_json_bool(json, "reading", !ready);
  if (reading != NULL && reading->tree != NULL)
    write_members(json, reading->tree);
  else
    write_no_tree(json);
  if (ready && reading != NULL && reading->mistakes != NULL)
    write_members(json, reading->mistakes);
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
  hf_json_bool(json, "aside", FALSE);
  hf_json_text(json, "disk", "same");
  hf_json_bool(json, "can_undo", FALSE);
  hf_json_bool(json, "can_redo", FALSE);
  hf_json_text(json, "text", "");
  hf_json_bool(json, "reading", FALSE);
  write_no_tree(json);
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
    hf_json_bool(json, "aside", hf_document_is_aside(page->document));
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
