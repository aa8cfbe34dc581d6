/* SPDX-License-Identifier: GPL-3.0-or-later
 * reader.c - reads the text, and edits it, in a thread of its own: a text of 1 MB takes seconds to
 * be read, and the page answers meanwhile.
 *
 *   main loop   text 7 ─┐  text 8 ─┐             tell reading 8, answer who waits
 *   thread              └ read 7 ─ (8 waits) ─ read 8 ─┘
 *
 *   main loop   edit of 8 ─┐           still 8? the change, or: 409 ─┐
 *   thread                 └ the text that comes of it ──────────────┘
 *
 * Only the newest text waits to be read; edits come in their order. Whoever asks for the state
 * waits for the reading of it, but not for long: then the state says that it is still being read.
 *
 * What is done belongs to the reader until it is told: with the reader it goes untold.
 */
#include "page/page-private.h"

typedef struct {
  HfReader *reader;
  SoupServerMessage *message;
  gboolean with_view;
  guint timer;
} Waiting;

struct HfReader {
  HfPage *page; /* main loop only */
  GThread *thread;
  HfReading *reading; /* (nullable) the newest; main loop only */
  GQueue waiting;     /* Waiting *; main loop only */
  guint late;         /* source; 0: none */
  GAsyncQueue *done;  /* Task *: not told yet; as many idle sources with the reader as data */
  GMutex lock;
  GCond changed;
  GQueue tasks; /* Task *; all below: under the lock */
  gboolean over;
};

/* Either: read the version. Or: what comes of it with the edits. */
typedef struct {
  HfVersion *version;
  HfReading *reading;
  GPtrArray *steps;           /* (nullable) char *: what to do, path, value, in turn */
  SoupServerMessage *message; /* (nullable) who asked for the edits */
  char *merge;
  char *made; /* (nullable) the text with the edits */
  gsize length;
  GError *error;
} Task;

static void
reading_free(HfReading *reading)
{
  if (reading == NULL)
    return;
  g_clear_pointer(&reading->tree, g_bytes_unref);
  g_clear_pointer(&reading->mistakes, g_bytes_unref);
  g_clear_pointer(&reading->places, hf_places_free);
  g_clear_error(&reading->error);
  g_free(reading);
}

static void
task_free(gpointer data)
{
  Task *task = data;
  hf_version_free(task->version);
  reading_free(task->reading);
  g_clear_pointer(&task->steps, g_ptr_array_unref);
  g_clear_object(&task->message);
  g_free(task->merge);
  g_free(task->made);
  g_clear_error(&task->error);
  g_free(task);
}

/* ---- in the thread ------------------------------------------------------------------------- */

/* The members of an object that was written on one line, without its brackets. */
static GBytes *
members_of(HfJson *json)
{
  hf_json_close(json);
  g_autoptr(GBytes) whole = hf_json_finish(json);
  return g_bytes_new_from_bytes(whole, 1, g_bytes_get_size(whole) - 3);
}

static GBytes *
read_tree(const HfVersion *version)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  if (hf_recipe_tree(version->text, version->length, json, NULL))
    return members_of(json);
  return NULL;
}

/* Every mistake at its place: somebody who typed two wants to see both. */
static GBytes *
read_mistakes(const HfVersion *version, const HfPlaces *places)
{
  g_autoptr(HfJson) json = hf_json_new();
  g_autoptr(GPtrArray) all = hf_recipe_mistakes(version->text, version->length);
  hf_json_line(json, NULL, '{');
  hf_json_line(json, "mistakes", '[');
  for (guint i = 0; i < all->len; i++) {
    const HfMistake *one = g_ptr_array_index(all, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "what", one->what);
    hf_json_text(json, "fix", one->fix);
    hf_json_number(json, "line", one->mark.line, 0);
    hf_json_number(json, "column", one->mark.column, 0);
    hf_json_text(json, "path", hf_places_at(places, one->mark));
    hf_json_close(json);
  }
  hf_json_close(json);
  return members_of(json);
}

static HfReading *
read_version(const HfVersion *version)
{
  HfReading *reading = g_new0(HfReading, 1);
  reading->revision = version->revision;
  reading->tree = read_tree(version);
  reading->places = hf_recipe_places(version->text, version->length);
  g_autofree char *file = g_path_get_basename(version->file);
  g_autoptr(HfRecipe) recipe =
      hf_recipe_read(version->text, version->length, file, &reading->error);
  if (recipe == NULL)
    reading->mistakes = read_mistakes(version, reading->places);
  return reading;
}

static void
do_edits(Task *task)
{
  g_autoptr(GArray) edits = hf_edits_new();
  const HfVersion *version = task->version;
  for (guint i = 0; i + 2 < task->steps->len; i += 3)
    if (!hf_edits_read(edits, g_ptr_array_index(task->steps, i),
                       g_ptr_array_index(task->steps, i + 1), g_ptr_array_index(task->steps, i + 2),
                       &task->error))
      return;
  task->made = hf_recipe_edit(version->text, version->length, edits, &task->length, &task->error);
}

static gboolean on_done(gpointer data);

static gpointer
work(gpointer data)
{
  HfReader *reader = data;
  g_mutex_lock(&reader->lock);
  for (;;) {
    while (reader->tasks.length == 0 && !reader->over)
      g_cond_wait(&reader->changed, &reader->lock);
    if (reader->over)
      break;
    Task *task = g_queue_pop_head(&reader->tasks);
    g_mutex_unlock(&reader->lock);
    if (task->steps != NULL)
      do_edits(task);
    else
      task->reading = read_version(task->version);
    g_async_queue_push(reader->done, task);
    g_idle_add_full(G_PRIORITY_DEFAULT, on_done, reader, NULL);
    g_mutex_lock(&reader->lock);
  }
  g_mutex_unlock(&reader->lock);
  return NULL;
}

/* ---- who waits ----------------------------------------------------------------------------- */

static void
waiting_free(gpointer data)
{
  Waiting *waiting = data;
  if (waiting->timer != 0)
    g_source_remove(waiting->timer);
  g_object_unref(waiting->message);
  g_free(waiting);
}

static void
answer_now(HfPage *page, SoupServerMessage *message, gboolean with_view)
{
  g_autoptr(GBytes) bytes = hf_state_bytes(page, with_view);
  hf_answer(message, SOUP_STATUS_OK, "application/json; charset=utf-8", bytes);
}

static void
answer_waiting(Waiting *waiting)
{
  answer_now(waiting->reader->page, waiting->message, waiting->with_view);
  soup_server_message_unpause(waiting->message);
  waiting_free(waiting);
}

static gboolean
on_patience(gpointer data)
{
  Waiting *waiting = data;
  waiting->timer = 0;
  g_queue_remove(&waiting->reader->waiting, waiting);
  answer_waiting(waiting);
  return G_SOURCE_REMOVE;
}

void
hf_reader_answer(HfReader *reader, SoupServerMessage *message, HfPatience patience,
                 gboolean with_view)
{
  if (hf_reader_is_ready(reader)) {
    answer_now(reader->page, message, with_view);
    return;
  }
  Waiting *waiting = g_new0(Waiting, 1);
  *waiting = (Waiting){reader, g_object_ref(message), with_view, 0};
  waiting->timer = g_timeout_add(patience, on_patience, waiting);
  hf_visitors_serving(hf_gate_visitors(reader->page->gate), message);
  soup_server_message_pause(message);
  g_queue_push_tail(&reader->waiting, waiting);
}

/* ---- in the main loop ---------------------------------------------------------------------- */

static void
tell_state(HfPage *page)
{
  g_autoptr(GBytes) state = hf_state_bytes(page, FALSE);
  hf_events_tell(page->events, "state", state, TRUE);
}

static gboolean
on_late(gpointer data)
{
  HfReader *reader = data;
  reader->late = 0;
  tell_state(reader->page);
  return G_SOURCE_REMOVE;
}

/* A text that can't be read leaves the tree of the last one that could. */
static void
take_reading(HfReader *reader, HfReading *reading)
{
  if (reading->tree == NULL && reader->reading != NULL)
    reading->tree = g_steal_pointer(&reader->reading->tree);
  reading_free(reader->reading);
  reader->reading = reading;
  g_clear_handle_id(&reader->late, g_source_remove);
  tell_state(reader->page);
  Waiting *waiting;
  while ((waiting = g_queue_pop_head(&reader->waiting)) != NULL)
    answer_waiting(waiting);
  hf_page_settled(reader->page);
}

/* The document may be another one by now, or have been changed on another page. */
static void
take_edits(HfPage *page, const Task *task)
{
  g_autoptr(GError) error = NULL;
  if (task->version->revision != page->revision)
    hf_call_conflict(page, task->message);
  else if (task->made == NULL)
    hf_answer_error(page, task->message, 0, task->error);
  else
    hf_call_changed(
        page, task->message,
        hf_document_change(page->document, task->made, task->length, task->merge, &error), error);
  if (soup_server_message_get_status(task->message) != 0) /* else it waits for the reading now */
    soup_server_message_unpause(task->message);
}

static gboolean
on_done(gpointer data)
{
  HfReader *reader = data;
  Task *task = g_async_queue_pop(reader->done);
  if (task->steps != NULL)
    take_edits(reader->page, task);
  else if (task->version->revision == reader->page->revision)
    take_reading(reader, g_steal_pointer(&task->reading));
  task_free(task);
  return G_SOURCE_REMOVE;
}

gboolean
hf_reader_is_ready(const HfReader *reader)
{
  const HfPage *page = reader->page;
  return page->document == NULL || hf_document_is_held(page->document) ||
         (reader->reading != NULL && reader->reading->revision == page->revision);
}

const HfReading *
hf_reader_reading(const HfReader *reader)
{
  return reader->reading;
}

void
hf_reader_forget(HfReader *reader)
{
  g_clear_pointer(&reader->reading, reading_free);
}

static void
push(HfReader *reader, Task *task)
{
  g_mutex_lock(&reader->lock);
  for (GList *link = reader->tasks.head, *next; task->steps == NULL && link != NULL; link = next) {
    Task *older = link->data;
    next = link->next;
    if (older->steps != NULL)
      continue;
    g_queue_delete_link(&reader->tasks, link);
    task_free(older);
  }
  g_queue_push_tail(&reader->tasks, task);
  g_cond_signal(&reader->changed);
  g_mutex_unlock(&reader->lock);
}

void
hf_reader_read(HfReader *reader)
{
  Task *task = g_new0(Task, 1);
  task->version = hf_version_of(reader->page);
  push(reader, task);
  if (reader->late == 0)
    reader->late = g_timeout_add(HF_PATIENCE_SHORT, on_late, reader);
}

void
hf_reader_edit(HfReader *reader, SoupServerMessage *message, GPtrArray *steps, const char *merge)
{
  Task *task = g_new0(Task, 1);
  task->version = hf_version_of(reader->page);
  task->steps = steps;
  task->message = g_object_ref(message);
  task->merge = g_strdup(merge);
  hf_visitors_serving(hf_gate_visitors(reader->page->gate), message);
  soup_server_message_pause(message);
  push(reader, task);
}

HfReader *
hf_reader_new(HfPage *page, GError **error)
{
  HfReader *reader = g_new0(HfReader, 1);
  reader->page = page;
  reader->done = g_async_queue_new_full(task_free);
  g_mutex_init(&reader->lock);
  g_cond_init(&reader->changed);
  reader->thread = hf_page_thread("read", work, reader, error);
  if (reader->thread != NULL)
    return reader;
  hf_reader_free(reader);
  return NULL;
}

void
hf_reader_free(HfReader *reader)
{
  if (reader == NULL)
    return;
  g_mutex_lock(&reader->lock);
  reader->over = TRUE;
  g_cond_signal(&reader->changed);
  g_mutex_unlock(&reader->lock);
  if (reader->thread != NULL)
    g_thread_join(reader->thread);
  g_queue_clear_full(&reader->tasks, task_free);
  g_queue_clear_full(&reader->waiting, waiting_free);
  g_clear_handle_id(&reader->late, g_source_remove);
  while (g_idle_remove_by_data(reader))
    ;
  g_async_queue_unref(reader->done);
  reading_free(reader->reading);
  g_mutex_clear(&reader->lock);
  g_cond_clear(&reader->changed);
  g_free(reader);
}
