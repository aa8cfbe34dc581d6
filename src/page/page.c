/* SPDX-License-Identifier: GPL-3.0-or-later
 * page.c - the server's life: open, serve, follow the file on disk, end.
 */
#include "base/beside.h"
#include "page/page-private.h"
#include "page/trial-private.h"
#include <errno.h>
#include <glib-unix.h>
#ifdef __GLIBC__
#include <malloc.h>
#endif
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DISK_CHECK_MS = 150, SYNC_MS = 1000, LINGER_CHECK_SECONDS = 1 };

/* ---- folders ------------------------------------------------------------------------------- */

static gboolean
is_below(const char *path, const char *folder)
{
  gsize length = strlen(folder);
  return strncmp(path, folder, length) == 0 && (path[length] == '/' || length == 1);
}

/* Links are followed first, so that none leads out. */
char *
hf_page_allowed(const HfPage *page, const char *file, gboolean itself, GError **error)
{
  g_autofree char *path =
      g_path_is_absolute(file) ? g_strdup(file) : g_build_filename(page->home, file, NULL);
  char *found = realpath(path, NULL);
  for (guint i = 0; found != NULL && i < page->folders->len; i++)
    if (is_below(found, g_ptr_array_index(page->folders, i)) ||
        (itself && strcmp(found, g_ptr_array_index(page->folders, i)) == 0)) {
      char *own = g_strdup(found);
      free(found);
      return own;
    }
  free(found);
  hf_error_set(error, HF_ERROR_NOT_FOUND, NULL,
               "start holdfast page with --folder to open files elsewhere",
               "there is no such file in the folders that this page may use");
  return NULL;
}

static gboolean
add_folder(HfPage *page, const char *folder, GError **error)
{
  char *found = realpath(folder, NULL);
  if (found == NULL || !g_file_test(found, G_FILE_TEST_IS_DIR)) {
    free(found);
    hf_error_set(error, HF_ERROR_NOT_FOUND, folder, "name a folder", "there is no such folder");
    return FALSE;
  }
  g_ptr_array_add(page->folders, g_strdup(found));
  free(found);
  return TRUE;
}

static gboolean
find_folders(HfPage *page, GError **error)
{
  const HfPageOptions *options = page->options;
  g_autofree char *home =
      options->recipe != NULL ? g_path_get_dirname(options->recipe) : g_get_current_dir();
  page->folders = g_ptr_array_new_with_free_func(g_free);
  if (!add_folder(page, home, error))
    return FALSE;
  for (guint i = 0; options->folders != NULL && options->folders[i] != NULL; i++)
    if (!add_folder(page, options->folders[i], error))
      return FALSE;
  page->home = g_strdup(g_ptr_array_index(page->folders, 0));
  page->state = g_build_filename(g_get_user_state_dir(), "holdfast", "page", NULL);
  return TRUE;
}

/* ---- the document -------------------------------------------------------------------------- */

/* Each run has threads of its own, and glibc gives threads heaps of their own, whose free pieces
 * add up: a tenth more memory from edit 1,000 to 10,000. Two heaps, large blocks outside of them,
 * and what is free given back when it is quiet (bench/page_memory.py). */
static void
keep_memory_steady(void)
{
#ifdef __GLIBC__
  mallopt(M_ARENA_MAX, 2);
  mallopt(M_MMAP_THRESHOLD, 128 * 1024);
#endif
}

static void
let_go(void)
{
#ifdef __GLIBC__
  malloc_trim(0);
#endif
}

static gboolean
on_sync(gpointer data)
{
  HfPage *page = data;
  page->sync = 0;
  if (page->document != NULL)
    hf_document_sync(page->document);
  let_go();
  return G_SOURCE_REMOVE;
}

static void
work_out(HfPage *page)
{
  hf_document_begin_work(page->document);
  hf_reader_read(page->reader);
  hf_worker_run(page->worker);
}

/* Shown, but neither read nor run. */
static void
hold(HfPage *page)
{
  hf_error_set(&page->trouble, HF_ERROR_BAD_VALUE, NULL,
               "change what may be too much of it; then it is worked out again",
               "this recipe ended holdfast when it was worked out last, so only its text is shown");
  g_autoptr(GBytes) state = hf_state_bytes(page, FALSE);
  hf_events_tell(page->events, "state", state, TRUE);
}

void
hf_page_changed(HfPage *page)
{
  page->revision++;
  g_clear_error(&page->trouble);
  hf_kept_forget(page->kept);
  hf_searching_stop(page->searching);
  if (hf_document_is_held(page->document))
    hold(page);
  else
    work_out(page);
  if (page->sync == 0)
    page->sync = g_timeout_add(SYNC_MS, on_sync, page);
}

void
hf_page_settled(HfPage *page)
{
  if (page->run_of == page->revision && hf_reader_is_ready(page->reader))
    hf_document_end_work(page->document);
}

void
hf_page_check_disk(HfPage *page)
{
  HfDisk before = page->disk;
  page->disk = page->document != NULL ? hf_document_disk(page->document) : HF_DISK_SAME;
  if (page->disk == before)
    return;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_bool(json, "changed", page->disk == HF_DISK_CHANGED);
  hf_json_bool(json, "gone", page->disk == HF_DISK_GONE);
  hf_json_number(json, "told", (double)++page->told, 0);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  hf_events_tell(page->events, "disk", bytes, TRUE);
}

static gboolean
on_disk_check(gpointer data)
{
  HfPage *page = data;
  page->disk_check = 0;
  hf_page_check_disk(page);
  return G_SOURCE_REMOVE;
}

/* Editors write in several steps: look when it is quiet again. */
static void
on_disk(GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, gpointer data)
{
  HfPage *page = data;
  (void)monitor;
  (void)file;
  (void)other;
  (void)event;
  if (page->disk_check != 0)
    g_source_remove(page->disk_check);
  page->disk_check = g_timeout_add(DISK_CHECK_MS, on_disk_check, page);
}

void
hf_page_watch(HfPage *page)
{
  if (page->monitor != NULL)
    g_file_monitor_cancel(page->monitor);
  g_clear_object(&page->monitor);
  g_autoptr(GFile) file = g_file_new_for_path(hf_document_file(page->document));
  page->monitor = g_file_monitor_file(file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  if (page->monitor != NULL)
    g_signal_connect(page->monitor, "changed", G_CALLBACK(on_disk), page);
}

gboolean
hf_page_open(HfPage *page, const char *file, GError **error)
{
  if (page->document != NULL && strcmp(hf_document_file(page->document), file) == 0)
    return TRUE;
  HfDocument *document = hf_document_open(file, page->state, error);
  if (document == NULL)
    return FALSE;
  hf_document_close(page->document);
  page->document = document;
  page->disk = hf_document_disk(document);
  g_clear_pointer(&page->view, g_bytes_unref);
  hf_reader_forget(page->reader);
  hf_page_watch(page);
  if (hf_document_is_aside(document))
    g_printerr("holdfast: what was not saved ended holdfast when it was worked out last; it is set "
               "aside and the recipe is opened as it was saved; undo brings it back\n");
  hf_page_changed(page);
  return TRUE;
}

/* ---- its life ------------------------------------------------------------------------------ */

static gboolean
on_signal(gpointer data)
{
  g_main_loop_quit(((HfPage *)data)->loop);
  return G_SOURCE_CONTINUE;
}

typedef struct {
  HfPage *page;
  guint alone; /* seconds without a page, once there was one; longer before the first */
  gboolean had;
} Lingering;

enum { FIRST_PAGE_SECONDS = 600 };

static gboolean
on_second(gpointer data)
{
  Lingering *lingering = data;
  if (hf_events_listeners(lingering->page->events) > 0) {
    lingering->had = TRUE;
    lingering->alone = 0;
    return G_SOURCE_CONTINUE;
  }
  lingering->alone += LINGER_CHECK_SECONDS;
  guint most = lingering->had ? lingering->page->options->linger : FIRST_PAGE_SECONDS;
  if (lingering->alone >= MAX(most, 1))
    g_main_loop_quit(lingering->page->loop);
  return G_SOURCE_CONTINUE;
}

static void
open_browser(HfPage *page)
{
  if (page->options->no_browser)
    return;
  g_autoptr(GError) error = NULL;
  g_autofree char *door = hf_gate_door(page->gate, &error);
  if (door == NULL || !g_app_info_launch_default_for_uri(door, NULL, &error))
    g_printerr("holdfast: no browser could be opened; open the address yourself\n");
}

/* ---- threads ------------------------------------------------------------------------------- */

void
hf_page_no_thread(GError **error)
{
  hf_error_set(error, HF_ERROR_IO, NULL, "end some other programs, then try again",
               "the system has no thread left for this");
}

GThread *
hf_page_thread(const char *name, GThreadFunc func, gpointer data, GError **error)
{
  GThread *thread = hf_beside_thread(name, func, data);
  if (thread == NULL)
    hf_page_no_thread(error);
  return thread;
}

static gpointer
stand_by(gpointer data)
{
  GMutex *busy = data;
  g_mutex_lock(busy);
  g_mutex_unlock(busy);
  return NULL;
}

/* The libraries begin threads of their own (signals, files that are followed) and abort where there
 * are none: so there must be some to spare before they are asked to. */
static gboolean
spare_threads(GError **error)
{
  enum { SPARE = 4 };
  GThread *threads[SPARE];
  GMutex busy;
  guint n = 0;
  g_mutex_init(&busy);
  g_mutex_lock(&busy);
  while (n < SPARE && (threads[n] = hf_page_thread("spare", stand_by, &busy, error)) != NULL)
    n++;
  g_mutex_unlock(&busy);
  for (guint i = 0; i < n; i++)
    g_thread_join(threads[i]);
  g_mutex_clear(&busy);
  return n == SPARE;
}

static gboolean
begin_threads(HfPage *page, GError **error)
{
  return (page->reader = hf_reader_new(page, error)) != NULL &&
         (page->worker = hf_worker_new(page, error)) != NULL &&
         (page->later = hf_later_new(page, error)) != NULL && spare_threads(error);
}

gboolean
hf_page_begin(HfPage *page, GError **error)
{
  page->server = soup_server_new("server-header", NULL, NULL);
  page->loop = g_main_loop_new(NULL, FALSE);
  page->events = hf_events_new(page);
  page->latest = hf_latest_new();
  page->kept = hf_kept_new();
  page->samples = hf_samples_new();
  page->starters = hf_starters_new();
  page->searching = hf_searching_new(page);
  page->revision = 1;
  if (!begin_threads(page, error) || !find_folders(page, error))
    return FALSE;
  hf_calls_add(page);
  page->gate = hf_gate_new(page, error);
  if (page->gate == NULL)
    return FALSE;
  if (page->options->recipe == NULL)
    return TRUE;
  return hf_page_open(page, page->options->recipe, error);
}

/* The loop has ended and does not turn again: first the door is shut, then the threads end, and
 * what they had to tell goes with them. No source of ours is left behind. */
void
hf_page_end(HfPage *page)
{
  soup_server_disconnect(page->server);
  hf_gate_free(page->gate);
  hf_searching_free(page->searching);
  hf_later_free(page->later);
  hf_worker_free(page->worker);
  hf_reader_free(page->reader);
  hf_latest_free(page->latest);
  hf_kept_unref(page->kept);
  hf_samples_free(page->samples);
  hf_starters_free(page->starters);
  hf_events_free(page->events);
  if (page->disk_check != 0)
    g_source_remove(page->disk_check);
  if (page->sync != 0)
    g_source_remove(page->sync);
  if (page->monitor != NULL)
    g_file_monitor_cancel(page->monitor);
  g_clear_object(&page->monitor);
  g_clear_object(&page->server);
  hf_document_close(page->document);
  g_clear_pointer(&page->view, g_bytes_unref);
  g_clear_error(&page->trouble);
  g_clear_pointer(&page->folders, g_ptr_array_unref);
  g_clear_pointer(&page->loop, g_main_loop_unref);
  g_free(page->home);
  g_free(page->state);
}

static void
serve(HfPage *page)
{
  static const int signals[] = {SIGINT, SIGTERM, SIGHUP};
  guint sources[G_N_ELEMENTS(signals)];
  Lingering lingering = {page, 0, FALSE};
  for (gsize i = 0; i < G_N_ELEMENTS(signals); i++)
    sources[i] = g_unix_signal_add(signals[i], on_signal, page);
  guint second = g_timeout_add_seconds(LINGER_CHECK_SECONDS, on_second, &lingering);
  g_print("%s\nThis address is for you alone and works once. Ctrl-C ends the page.\n",
          hf_gate_address(page->gate));
  fflush(stdout);
  open_browser(page);
  g_main_loop_run(page->loop);
  for (gsize i = 0; i < G_N_ELEMENTS(signals); i++)
    g_source_remove(sources[i]);
  g_source_remove(second);
}

static gpointer
leave(gpointer data)
{
  g_autofree HfPageOptions *options = data;
  options->leave(0);
  return NULL;
}

/* Threads in the midst of geometry may take seconds: all that was typed is on the disk by now. */
static void
leave_soon(HfPage *page)
{
  if (page->document != NULL)
    hf_document_end_work(page->document); /* ended on purpose: that says nothing of the text */
  if (page->options->leave == NULL)
    return;
  if (page->document != NULL)
    hf_document_sync(page->document);
  HfPageOptions *own = g_memdup2(page->options, sizeof *own); /* ours may be gone by then */
  g_autoptr(GThread) thread = hf_beside_thread("leave", leave, own);
  if (thread == NULL)
    leave(own);
}

gboolean
hf_page_serve(const HfPageOptions *options, GError **error)
{
  HfPage page = {.options = options};
  hf_trial_watch();
  keep_memory_steady();
  gboolean good = hf_page_begin(&page, error);
  if (good) {
    serve(&page);
    leave_soon(&page);
  }
  hf_page_end(&page);
  return good;
}
