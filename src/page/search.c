/* SPDX-License-Identifier: GPL-3.0-or-later
 * search.c - looks for cures beside everything else, tells them as they come, takes one.
 *
 *   main loop   start ─┐            hear cure 1 ...    hear the end, or: stop ─┐
 *   thread             └─ run ─ try changes ─ cure 1 ─ ... ─ ranked list      ─┘
 *
 * There is one search at most. It belongs to one revision: when the text changes it is stopped and
 * what it found is forgotten. Of each cure only its recipe, its figures and its picture are kept.
 */
#include "page/page-private.h"
#include "run/cures.h"
#ifdef __linux__
#include <sys/resource.h>
#endif

enum { PICTURE_PIXELS = 480, MOST_CURES = 200 };

/* A cure as the page knows it. */
typedef struct {
  char *id;
  char *key, *sentence;
  char *recipe;
  gsize length;
  double added, removed, shift, cost;
  guint ties, stops, cautions, notes;
  gboolean whole;
  GArray *takes; /* guint */
  GBytes *picture;
} Found;

/* Shared by the thread and the main loop; whoever lets go last frees it. */
typedef struct {
  gint references; /* atomic */
  gint *running;   /* atomic; of the page: threads that have not ended */
  HfPage *page;    /* main loop only; %NULL: nobody listens any more */
  HfVersion *version;
  HfLatest *latest;
  HfCancel cancel;
  const HfSign *given; /* thread only */
  guint nth;           /* search of this page: no two cures are called alike */
  guint n;             /* thread only: how many were told */
} Search;

struct HfSearching {
  HfPage *page;
  Search *search;   /* (nullable) the one that goes on, or that ended with the text as it is */
  GPtrArray *found; /* Found *; the best first once it has ended */
  gboolean ended;
  char *best; /* (nullable) id */
  char *why;  /* (nullable) see hf_run_cures_why() */
  gboolean no_further;
  guint searches;
  gint running; /* atomic */
};

static void
found_free(gpointer data)
{
  Found *found = data;
  g_free(found->id);
  g_free(found->key);
  g_free(found->sentence);
  g_free(found->recipe);
  g_clear_pointer(&found->takes, g_array_unref);
  g_clear_pointer(&found->picture, g_bytes_unref);
  g_free(found);
}

static void
search_unref(Search *search)
{
  if (!g_atomic_int_dec_and_test(&search->references))
    return;
  hf_version_free(search->version);
  g_free(search);
}

/* ---- news from the thread ------------------------------------------------------------------ */

typedef enum { CURE, PROGRESS, END } What;

typedef struct {
  Search *search; /* own reference */
  What what;
  Found *found;        /* CURE; taken by the main loop */
  guint tried, of;     /* PROGRESS */
  GPtrArray *ranking;  /* END: char *: recipes, the best first; %NULL: stopped or failed */
  char *best;          /* END: (nullable) recipe */
  char *why;           /* END: (nullable) why none makes it whole */
  gboolean no_further; /* END: more could have been tried */
  GError *error;       /* END */
} News;

static void
news_free(gpointer data)
{
  News *news = data;
  search_unref(news->search);
  if (news->found != NULL)
    found_free(news->found);
  g_clear_pointer(&news->ranking, g_ptr_array_unref);
  g_free(news->best);
  g_free(news->why);
  g_clear_error(&news->error);
  g_free(news);
}

static void
write_found(HfJson *json, const char *key, const Found *found, gboolean best)
{
  hf_json_line(json, key, '{');
  hf_json_text(json, "id", found->id);
  hf_json_text(json, "key", found->key);
  hf_json_text(json, "sentence", found->sentence);
  hf_json_line(json, "takes", '[');
  for (guint i = 0; i < found->takes->len; i++)
    hf_json_number(json, NULL, g_array_index(found->takes, guint, i), 0);
  hf_json_close(json);
  hf_json_number(json, "added", found->added, 3);
  hf_json_number(json, "removed", found->removed, 3);
  hf_json_number(json, "shift", found->shift, 4);
  hf_json_number(json, "ties", found->ties, 0);
  hf_json_number(json, "stops", found->stops, 0);
  hf_json_number(json, "cautions", found->cautions, 0);
  hf_json_number(json, "notes", found->notes, 0);
  hf_json_bool(json, "whole", found->whole);
  hf_json_number(json, "cost", found->cost, 4);
  hf_json_bool(json, "best", best);
  hf_json_close(json);
}

static HfJson *
begin_news(const Search *search)
{
  HfJson *json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "revision", (double)search->version->revision, 0);
  return json;
}

static void
tell(HfPage *page, const char *name, HfJson *json, gboolean newest_only)
{
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  hf_events_tell(page->events, name, bytes, newest_only);
}

static const Found *
found_with(const HfSearching *searching, const char *recipe)
{
  for (guint i = 0; recipe != NULL && i < searching->found->len; i++) {
    const Found *found = g_ptr_array_index(searching->found, i);
    if (strcmp(found->recipe, recipe) == 0)
      return found;
  }
  return NULL;
}

static void
write_why(HfJson *json, const HfSearching *searching)
{
  hf_json_text(json, "why", searching->why);
  hf_json_bool(json, "no_further", searching->no_further);
}

/* Of cures that come to the same metal the list keeps one: the order says which. */
static void
hear_end(HfSearching *searching, const News *news)
{
  g_autoptr(HfJson) json = begin_news(news->search);
  const Found *best = found_with(searching, news->best);
  searching->ended = TRUE;
  g_free(searching->best);
  searching->best = best != NULL ? g_strdup(best->id) : NULL;
  g_free(searching->why);
  searching->why = g_strdup(news->why);
  searching->no_further = news->no_further;
  hf_json_line(json, "order", '[');
  for (guint i = 0; news->ranking != NULL && i < news->ranking->len; i++) {
    const Found *found = found_with(searching, g_ptr_array_index(news->ranking, i));
    if (found != NULL)
      hf_json_text(json, NULL, found->id);
  }
  hf_json_close(json);
  hf_json_text(json, "best", searching->best);
  write_why(json, searching);
  if (news->error != NULL && !g_error_matches(news->error, HF_ERROR, HF_ERROR_CANCELLED))
    hf_answer_write_error(json, "error", searching->page, news->error);
  else
    hf_json_text(json, "error", NULL);
  tell(searching->page, "cures-done", json, TRUE);
}

static gboolean
on_news(gpointer data)
{
  News *news = data;
  HfPage *page = news->search->page;
  if (page == NULL || page->searching->search != news->search)
    return G_SOURCE_REMOVE; /* of a text that is gone */
  HfSearching *searching = page->searching;
  if (news->what == END) {
    hear_end(searching, news);
    return G_SOURCE_REMOVE;
  }
  g_autoptr(HfJson) json = begin_news(news->search);
  if (news->what == PROGRESS) {
    hf_json_number(json, "tried", news->tried, 0);
    hf_json_number(json, "of", news->of, 0);
    tell(page, "cures-progress", json, TRUE);
    return G_SOURCE_REMOVE;
  }
  write_found(json, "cure", news->found, FALSE);
  g_ptr_array_add(searching->found, g_steal_pointer(&news->found));
  tell(page, "cures", json, FALSE);
  return G_SOURCE_REMOVE;
}

/* ---- in the thread ------------------------------------------------------------------------- */

static News *
new_news(Search *search, What what)
{
  News *news = g_new0(News, 1);
  g_atomic_int_inc(&search->references);
  news->search = search;
  news->what = what;
  return news;
}

static void
send_news(News *news)
{
  g_idle_add_full(G_PRIORITY_DEFAULT, on_news, news, news_free);
}

static void
on_cured(const HfCured *cured, gpointer data)
{
  Search *search = data;
  if (search->n >= MOST_CURES)
    return;
  Found *found = g_new0(Found, 1);
  found->id = g_strdup_printf("%u-%u", search->nth, search->n++);
  found->key = g_strdup(cured->key);
  found->sentence = g_strdup(cured->sentence);
  found->recipe = g_strndup(cured->recipe, cured->length);
  found->length = cured->length;
  found->added = cured->added;
  found->removed = cured->removed;
  found->shift = cured->shift;
  found->cost = cured->cost;
  found->ties = cured->ties;
  found->stops = cured->stops;
  found->cautions = cured->cautions;
  found->notes = cured->notes;
  found->whole = cured->whole;
  found->takes = g_array_copy(cured->takes);
  found->picture = hf_cured_picture(search->given, cured, PICTURE_PIXELS);
  News *news = new_news(search, CURE);
  news->found = found;
  send_news(news);
}

static void
on_progress(guint tried, guint of, gpointer data)
{
  News *news = new_news(data, PROGRESS);
  news->tried = tried;
  news->of = of;
  send_news(news);
}

static void
rank(News *news, const HfSign *given, const GPtrArray *cures)
{
  const HfCured *best = hf_run_cures_best(cures);
  if (best == NULL && !given->hold->whole)
    news->why = hf_run_cures_why(given, cures);
  news->best = best != NULL ? g_strndup(best->recipe, best->length) : NULL;
  news->ranking = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < cures->len; i++) {
    const HfCured *cured = g_ptr_array_index(cures, i);
    g_ptr_array_add(news->ranking, g_strndup(cured->recipe, cured->length));
  }
}

enum { NICE = 10 };

/* Whoever types meanwhile comes first. On Linux a thread has a niceness of its own, and those that
 * it begins (cure/cure-search.c) have it too. */
static void
stand_back(void)
{
#ifdef __linux__
  (void)setpriority(PRIO_PROCESS, 0, NICE);
#endif
}

static gpointer
look(gpointer data)
{
  Search *search = data;
  stand_back();
  News *end = new_news(search, END);
  const HfVersion *version = search->version;
  g_autoptr(HfJob) job =
      hf_latest_job(search->latest, version, (HfWishes){0}, &search->cancel, &end->error);
  const HfSign *sign = job != NULL ? hf_job_sign(job, 0) : NULL;
  search->given = sign;
  HfCuresOptions options = {&search->cancel, 0, on_cured, on_progress, search, &end->no_further};
  g_autoptr(GPtrArray) cures =
      sign != NULL ? hf_run_cures(sign, version->text, version->length, &options, &end->error)
                   : NULL;
  if (cures != NULL)
    rank(end, sign, cures);
  send_news(end);
  gint *running = search->running;
  search_unref(search);
  g_atomic_int_dec_and_test(running);
  return NULL;
}

/* ---- in the main loop ---------------------------------------------------------------------- */

/* What was found stays, and can still be taken. */
static void
halt(HfSearching *searching)
{
  if (searching->search == NULL)
    return;
  hf_cancel_ask(&searching->search->cancel);
  searching->search->page = NULL;
  g_clear_pointer(&searching->search, search_unref);
}

void
hf_searching_stop(HfSearching *searching)
{
  halt(searching);
  g_ptr_array_set_size(searching->found, 0);
  g_clear_pointer(&searching->best, g_free);
  g_clear_pointer(&searching->why, g_free);
  searching->no_further = FALSE;
  searching->ended = FALSE;
}

static gboolean
start(HfSearching *searching, GError **error)
{
  hf_searching_stop(searching); /* what a search that was halted has found comes again */
  HfPage *page = searching->page;
  Search *search = g_new0(Search, 1);
  search->references = 2; /* here and in the thread */
  search->page = page;
  search->version = hf_version_of(page);
  search->latest = page->latest;
  search->nth = searching->searches++;
  search->running = &searching->running;
  searching->search = search;
  g_atomic_int_inc(&searching->running);
  g_autoptr(GThread) thread = hf_page_thread("cures", look, search, error);
  if (thread != NULL)
    return TRUE;
  g_atomic_int_dec_and_test(&searching->running);
  search_unref(search); /* the thread's */
  halt(searching);
  return FALSE;
}

HfSearching *
hf_searching_new(HfPage *page)
{
  HfSearching *searching = g_new0(HfSearching, 1);
  searching->page = page;
  searching->found = g_ptr_array_new_with_free_func(found_free);
  return searching;
}

/* Threads that were stopped end within a piece of their work. */
void
hf_searching_free(HfSearching *searching)
{
  if (searching == NULL)
    return;
  hf_searching_stop(searching);
  while (g_atomic_int_get(&searching->running) > 0)
    g_usleep(1000);
  g_ptr_array_unref(searching->found);
  g_free(searching);
}

static void
answer_search(HfPage *page, SoupServerMessage *message)
{
  const HfSearching *searching = page->searching;
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_line(json, NULL, '{');
  hf_json_number(json, "revision", (double)page->revision, 0);
  hf_json_bool(json, "going", searching->search != NULL && !searching->ended);
  hf_json_line(json, "cures", '[');
  for (guint i = 0; i < searching->found->len; i++) {
    const Found *found = g_ptr_array_index(searching->found, i);
    write_found(json, NULL, found, g_strcmp0(found->id, searching->best) == 0);
  }
  hf_json_close(json);
  hf_json_text(json, "best", searching->best);
  write_why(json, searching);
  hf_json_close(json);
  hf_answer_json(message, SOUP_STATUS_OK, json);
}

/* Asked again for the same text it goes on, and tells what it has found so far. */
void
hf_call_cures(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  if (hf_ask_flag(asked->body, "stop"))
    halt(page->searching);
  else if (page->searching->search == NULL && !start(page->searching, &error)) {
    hf_answer_error(page, asked->message, SOUP_STATUS_SERVICE_UNAVAILABLE, error);
    return;
  }
  answer_search(page, asked->message);
}

static const Found *
found_called(const HfSearching *searching, const char *id, gsize length)
{
  for (guint i = 0; i < searching->found->len; i++) {
    const Found *found = g_ptr_array_index(searching->found, i);
    if (strlen(found->id) == length && strncmp(found->id, id, length) == 0)
      return found;
  }
  return NULL;
}

void
hf_call_cure_svg(HfPage *page, const HfAsked *asked)
{
  const Found *found = g_str_has_suffix(asked->rest, ".svg")
                           ? found_called(page->searching, asked->rest, strlen(asked->rest) - 4)
                           : NULL;
  if (found != NULL && found->picture != NULL)
    hf_answer(asked->message, SOUP_STATUS_OK, "image/svg+xml", found->picture);
  else
    hf_answer_refusal(asked->message, SOUP_STATUS_NOT_FOUND, "there is no such cure", NULL);
}

void
hf_call_take(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  const HfSearching *searching = page->searching;
  const char *id =
      hf_ask_flag(asked->body, "best") ? searching->best : hf_ask_text(asked->body, "cure");
  const Found *found = id != NULL ? found_called(searching, id, strlen(id)) : NULL;
  if (found == NULL) {
    hf_answer_refusal(asked->message, SOUP_STATUS_NOT_FOUND, "there is no such cure",
                      searching->ended ? "choose one of those that are shown"
                                       : "wait until all have been looked for");
    return;
  }
  gboolean done = hf_document_change(page->document, found->recipe, found->length, NULL, &error);
  hf_call_changed(page, asked->message, done, error);
}
