/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-edit.c - what changes the document: edits, text, undo, redo, save, open.
 *
 * Each names the revision it was made on. When another page changed it meanwhile, nothing is done
 * and the answer is 409 with the state as it is now.
 */
#include "page/page-private.h"
#include <string.h>

enum { MOST_EDITS = 200 };

static void
answer_state(const HfPage *page, SoupServerMessage *message)
{
  hf_reader_answer(page->reader, message, HF_PATIENCE_LONG, FALSE);
}

/* 409: why nothing was done, and how things stand. */
static void
answer_conflict(HfPage *page, SoupServerMessage *message, const GError *error)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_answer_write_error(json, "error", page, error);
  hf_json_line(json, "state", '{');
  hf_state_write(json, page, FALSE);
  hf_json_close(json);
  hf_json_close(json);
  hf_answer_json(message, SOUP_STATUS_CONFLICT, json);
}

/* Is it about the document as it is now? */
gboolean
hf_call_is_current(HfPage *page, SoupServerMessage *message, JsonObject *ask)
{
  JsonNode *node = json_object_get_member(ask, "revision");
  gboolean number =
      node != NULL && JSON_NODE_HOLDS_VALUE(node) && json_node_get_value_type(node) == G_TYPE_INT64;
  if (!number) {
    hf_answer_refusal(message, SOUP_STATUS_BAD_REQUEST, "the revision is missing",
                      "name the revision that this is about");
    return FALSE;
  }
  if ((guint64)json_node_get_int(node) == page->revision && page->document != NULL)
    return TRUE;
  hf_call_conflict(page, message);
  return FALSE;
}

void
hf_call_conflict(HfPage *page, SoupServerMessage *message)
{
  g_autoptr(GError) error = NULL;
  if (page->document == NULL)
    hf_error_set(&error, HF_ERROR_NO_ROOM, NULL, "open a recipe or begin a new sign",
                 "no recipe is open");
  else
    hf_error_set(&error, HF_ERROR_NO_ROOM, NULL, "look at it as it is now, then do it again",
                 "the sign was changed on another page meanwhile");
  answer_conflict(page, message, error);
}

void
hf_call_changed(HfPage *page, SoupServerMessage *message, gboolean done, const GError *error)
{
  if (!done) {
    hf_answer_error(page, message, 0, error);
    return;
  }
  hf_page_changed(page);
  answer_state(page, message);
}

void
hf_call_state(HfPage *page, const HfAsked *asked)
{
  hf_reader_answer(page->reader, asked->message, HF_PATIENCE_SHORT, TRUE);
}

/* ---- edits --------------------------------------------------------------------------------- */

/* What to do, path and value of each, in turn; %NULL where one has none. */
static GPtrArray *
steps_of(JsonObject *ask, GError **error)
{
  JsonNode *node = json_object_get_member(ask, "edits");
  JsonArray *list = node != NULL && JSON_NODE_HOLDS_ARRAY(node) ? json_node_get_array(node) : NULL;
  guint n = list != NULL ? json_array_get_length(list) : 0;
  if (n == 0 || n > MOST_EDITS) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "send a list of 1 to 200 edits",
                 "there is nothing to do");
    return NULL;
  }
  static const char *const keys[] = {"do", "path", "value"};
  GPtrArray *steps = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < n; i++) {
    JsonNode *item = json_array_get_element(list, i);
    JsonObject *one = JSON_NODE_HOLDS_OBJECT(item) ? json_node_get_object(item) : NULL;
    for (gsize k = 0; k < G_N_ELEMENTS(keys); k++)
      g_ptr_array_add(steps, one != NULL ? g_strdup(hf_ask_text(one, keys[k])) : NULL);
  }
  return steps;
}

void
hf_call_edit(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  GPtrArray *steps = steps_of(asked->body, &error);
  if (steps == NULL)
    hf_answer_error(page, asked->message, 0, error);
  else
    hf_reader_edit(page->reader, asked->message, steps, hf_ask_text(asked->body, "merge"));
}

void
hf_call_text(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  const char *text = hf_ask_text(asked->body, "text");
  if (text == NULL) {
    hf_answer_refusal(asked->message, SOUP_STATUS_BAD_REQUEST, "there is no text", NULL);
    return;
  }
  gboolean done = hf_document_change(page->document, text, strlen(text),
                                     hf_ask_text(asked->body, "merge"), &error);
  hf_call_changed(page, asked->message, done, error);
}

void
hf_call_undo(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  gboolean done = hf_document_undo(page->document, &error);
  hf_call_changed(page, asked->message, done, error);
}

void
hf_call_redo(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  gboolean done = hf_document_redo(page->document, &error);
  hf_call_changed(page, asked->message, done, error);
}

/* ---- the file ------------------------------------------------------------------------------ */

/* A name that somebody typed, as a file in the folder that the server was started in. */
static char *
new_file(const HfPage *page, const char *name, GError **error)
{
  g_autofree char *stem = g_strstrip(g_strdup(name));
  if (g_str_has_suffix(stem, ".yaml"))
    stem[strlen(stem) - 5] = '\0';
  gboolean bad = *stem == '\0' || *stem == '.' || strlen(stem) > 100;
  for (const char *at = stem; *at != '\0' && !bad; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    bad = c == '/' || c == '\\' || !g_unichar_isprint(c);
  }
  if (!bad)
    return g_strconcat(page->home, "/", stem, ".yaml", NULL);
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL,
               "choose a short name of letters and digits, such as boats",
               "this can't be the name of a file");
  return NULL;
}

static gboolean
save(HfPage *page, JsonObject *ask, GError **error)
{
  const char *name = hf_ask_text(ask, "name");
  if (name == NULL)
    return hf_document_save(page->document, hf_ask_flag(ask, "over"), error);
  g_autofree char *file = new_file(page, name, error);
  if (file == NULL || !hf_document_save_as(page->document, file, error))
    return FALSE;
  hf_page_watch(page);
  return TRUE;
}

void
hf_call_save(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  gboolean saved = save(page, asked->body, &error);
  hf_page_check_disk(page);
  if (saved) {
    g_autoptr(GBytes) state = hf_state_bytes(page, FALSE);
    hf_events_tell(page->events, "state", state, TRUE);
    answer_state(page, asked->message);
  } else if (g_error_matches(error, HF_ERROR, HF_ERROR_NO_ROOM)) {
    answer_conflict(page, asked->message, error);
  } else {
    hf_answer_error(page, asked->message, 0, error);
  }
}

/* What is in the file now, to look at beside what is on the page. */
void
hf_call_disk(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = page->document != NULL ? hf_file_read(hf_document_file(page->document),
                                                                  HF_RECIPE_MAX_BYTES, &error)
                                                   : NULL;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  g_autofree char *text =
      bytes != NULL ? g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes)) : NULL;
  hf_json_text(json, "text", text);
  hf_json_close(json);
  hf_answer_json(asked->message, SOUP_STATUS_OK, json);
}

void
hf_call_reload(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  gboolean done = hf_document_reload(page->document, &error);
  hf_page_check_disk(page);
  hf_call_changed(page, asked->message, done, error);
}

/* "/boats/Ferry Lane.yaml": Ferry Lane */
static char *
called_after(const char *file)
{
  char *name = g_path_get_basename(file);
  name[strlen(name) - strlen(".yaml")] = '\0';
  return name;
}

/* A sign made from a starter bears the name that it was given, not the starter's. */
static gboolean
open_starter(HfPage *page, const char *kind, const char *name, GError **error)
{
  g_autofree char *text = hf_recipe_starter(kind);
  if (text == NULL) {
    hf_error_set(error, HF_ERROR_NOT_FOUND, NULL, "choose one of those that are shown",
                 "there is no such kind of sign");
    return FALSE;
  }
  g_autofree char *file = new_file(page, name, error);
  if (file == NULL)
    return FALSE;
  g_autofree char *called = called_after(file);
  g_autoptr(GArray) title = hf_edits_new();
  hf_edits_add(title, HF_EDIT_SET, hf_path(HF_KEY("sign")), hf_node_new_text(called));
  gsize length;
  g_autofree char *own = hf_recipe_edit(text, strlen(text), title, &length, error);
  return own != NULL && hf_file_write_new(file, own, length, error) &&
         hf_page_open(page, file, error);
}

static gboolean
open_file(HfPage *page, const char *name, GError **error)
{
  g_autofree char *file = hf_page_allowed(page, name, FALSE, error);
  return file != NULL && hf_page_open(page, file, error);
}

/* Needs no revision: whatever is open stays as it is, with its unsaved work in its journal. */
void
hf_call_open(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  const char *file = hf_ask_text(asked->body, "file"),
             *starter = hf_ask_text(asked->body, "starter");
  const char *name = hf_ask_text(asked->body, "name");
  gboolean done = FALSE;
  if (file != NULL)
    done = open_file(page, file, &error);
  else if (starter != NULL && name != NULL)
    done = open_starter(page, starter, name, &error);
  else
    hf_error_set(&error, HF_ERROR_BAD_VALUE, NULL, "name a file, or a starter and a name",
                 "there is nothing to open");
  if (done)
    answer_state(page, asked->message);
  else
    hf_answer_error(page, asked->message, 0, error);
}
