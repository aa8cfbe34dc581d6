/* SPDX-License-Identifier: GPL-3.0-or-later
 * The end of the page, raced: a client keeps the server at work in one way or another, ends it, and
 * goes on asking. Run under the address sanitizer (./check) and the thread sanitizer (./check
 * --long): nothing may be used after it was freed, and no source of the page may outlive it.
 *
 *   client   key ─ state ─ something long ─ a moment ─ SIGTERM ─ a moment ─ one more request
 *   server   ─────────────────────────────────────────┘ end: what waits is dropped
 */
#include "folder.h"
#include "page/page-private.h"
#include <glib/gstdio.h>
#include <unistd.h>

/* Its counters fall out, so that there are cures to look for. */
static const char SIGN[] =
    "holdfast: 1\n"
    "sign: Bakery\n"
    "metal: {kind: mild steel, thickness: 3 mm}\n"
    "process: {kerf: 1.5 mm}\n"
    "entries:\n"
    "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 160 mm}\n"
    "  - words: {as: opening, text: BA, font: Bebas Neue, height: 90 mm, on: board}\n";

enum { RACES = 20, RACES_LONG = 500, SEED = 8, MOST_MOMENT_US = 16000 };

typedef struct {
  char *folder, *recipe;
} Place;

static void
place_init(Place *place, gconstpointer data)
{
  (void)data;
  place->folder = g_dir_make_tmp("page-end-XXXXXX", NULL);
  place->recipe = g_build_filename(place->folder, "bakery.yaml", NULL);
  g_assert_true(g_file_set_contents(place->recipe, SIGN, -1, NULL));
}

static void
place_clear(Place *place, gconstpointer data)
{
  (void)data;
  remove_all(place->folder);
  g_free(place->folder);
  g_free(place->recipe);
}

/* ---- a client: bare sockets, as RFC 9112 has it ---------------------------------------------- */

typedef struct {
  guint16 port;
  char *place; /* where the page is once its key was used; %NULL before */
} Client;

static GSocketConnection *
dial(const Client *client)
{
  g_autoptr(GSocketClient) socket = g_socket_client_new();
  return g_socket_client_connect_to_host(socket, "127.0.0.1", client->port, NULL, NULL);
}

/* @what: method and path. FALSE: the far end has gone. */
static gboolean
ask(const Client *client, GSocketConnection *line, const char *what, const char *body)
{
  const char *path = strchr(what, ' ') + 1;
  g_autofree char *text =
      g_strdup_printf("%.*s%s%s HTTP/1.1\r\n"
                      "Host: 127.0.0.1:%u\r\n"
                      "Origin: http://127.0.0.1:%u\r\n"
                      "Content-Length: %u\r\n\r\n%s",
                      (int)(path - what), what, client->place != NULL ? client->place : "", path,
                      client->port, client->port, (guint)strlen(body), body);
  GOutputStream *stream = g_io_stream_get_output_stream(G_IO_STREAM(line));
  return g_output_stream_write_all(stream, text, strlen(text), NULL, NULL, NULL);
}

/* (transfer full) (nullable) head and body; %NULL when the far end went before all was there. */
static char *
answer(GSocketConnection *line)
{
  GInputStream *stream = g_io_stream_get_input_stream(G_IO_STREAM(line));
  GString *text = g_string_new(NULL);
  char piece[4096];
  gssize got;
  while ((got = g_input_stream_read(stream, piece, sizeof piece, NULL, NULL)) > 0) {
    g_string_append_len(text, piece, got);
    const char *body = strstr(text->str, "\r\n\r\n"), *size = strstr(text->str, "Content-Length: ");
    if (body != NULL && size != NULL && strlen(body + 4) >= strtoul(size + 16, NULL, 10))
      return g_string_free(text, FALSE);
  }
  g_string_free(text, TRUE);
  return NULL;
}

static char *
exchange(const Client *client, const char *what, const char *body)
{
  g_autoptr(GSocketConnection) line = dial(client);
  g_assert_nonnull(line);
  g_assert_true(ask(client, line, what, body));
  return answer(line);
}

static char *
between(const char *text, const char *before, const char *end)
{
  const char *at = strstr(text, before);
  g_assert_nonnull(at);
  at += strlen(before);
  return g_strndup(at, strcspn(at, end));
}

static void
enter(Client *client, const char *address)
{
  g_autofree char *port = between(address, "127.0.0.1:", "/"), *key = between(address, "?", "\n");
  g_autofree char *what = g_strconcat("GET /?", key, NULL);
  client->port = (guint16)strtoul(port, NULL, 10);
  g_autofree char *head = exchange(client, what, "");
  client->place = between(head, "url=", "\"");
  client->place[strlen(client->place) - 1] = '\0'; /* paths begin with the slash that it ends in */
}

static guint64
revision_now(const Client *client)
{
  g_autofree char *state = exchange(client, "GET /api/state", "");
  g_autofree char *digits = between(state, "\"revision\": ", ",}");
  return g_ascii_strtoull(digits, NULL, 10);
}

/* ---- one race -------------------------------------------------------------------------------- */

static const struct {
  const char *what, *more; /* more: of the body, beside the revision; %NULL: no body */
} REQUESTS[] = {
    {"POST /api/cures", ""},
    {"GET /api/sign.zip", NULL},
    {"POST /api/edit", ", \"edits\": [{\"do\": \"set\", \"path\": \"sign\", \"value\": \"Quay\"}]"},
    {"GET /api/events", NULL},
    {"GET /api/outputs", NULL},
    {"GET /api/state", NULL},
};

typedef struct {
  GAsyncQueue *printed; /* char *: what the page said */
  GRand *rand;
  gint kinds; /* of requests that are sent: so many of the first in the table */
} Race;

static gboolean
ask_one(const Client *client, GSocketConnection *line, const Race *race, guint64 revision)
{
  gint i = g_rand_int_range(race->rand, 0, race->kinds);
  g_autofree char *body =
      REQUESTS[i].more != NULL
          ? g_strdup_printf("{\"revision\": %" G_GUINT64_FORMAT "%s}", revision, REQUESTS[i].more)
          : g_strdup("");
  return ask(client, line, REQUESTS[i].what, body);
}

/* Short ones oftener: most of what races is over soon. */
static void
wait_a_moment(GRand *rand)
{
  double share = g_rand_double(rand);
  g_usleep((gulong)(share * share * MOST_MOMENT_US));
}

static gpointer
run_client(gpointer data)
{
  const Race *race = data;
  g_autofree char *address = g_async_queue_pop(race->printed);
  Client client = {0, NULL};
  enter(&client, address);
  guint64 revision = revision_now(&client);
  g_autoptr(GSocketConnection) busy = dial(&client);
  g_autoptr(GSocketConnection) late = dial(&client), later = dial(&client);
  g_autofree char *known = ask(&client, late, "GET /api/state", "") ? answer(late) : NULL;
  g_assert_nonnull(known);
  g_assert_true(ask_one(&client, busy, race, revision));
  wait_a_moment(race->rand);
  kill(getpid(), SIGTERM);
  wait_a_moment(race->rand);
  ask_one(&client, late, race, revision);
  ask_one(&client, later, race, revision);
  GInputStream *stream = g_io_stream_get_input_stream(G_IO_STREAM(busy));
  char piece[4096];
  while (g_input_stream_read(stream, piece, sizeof piece, NULL, NULL) > 0)
    ; /* to its end: the server lets nobody wait */
  g_free(client.place);
  return NULL;
}

static GAsyncQueue *printed; /* g_print has no user data */

/* GLib prints what it has to say in a test with g_print, too. */
static void
on_print(const char *text)
{
  if (g_str_has_prefix(text, "http:"))
    g_async_queue_push(printed, g_strdup(text));
}

static void
run_race(const Place *place, GRand *rand, gint kinds)
{
  g_autoptr(GError) error = NULL;
  HfPageOptions options = {place->recipe, NULL, TRUE, 60};
  printed = g_async_queue_new_full(g_free);
  Race race = {printed, rand, kinds};
  GPrintFunc before = g_set_print_handler(on_print);
  GThread *client = g_thread_new("client", run_client, &race);
  gboolean good = hf_page_serve(&options, &error);
  g_thread_join(client);
  g_set_print_handler(before);
  g_assert_no_error(error);
  g_assert_true(good);
  while (g_main_context_iteration(NULL, FALSE))
    ; /* what was left behind would run now */
  g_async_queue_unref(printed);
}

/* @data: how many kinds of requests. One: a search for cures is ended, and asked for once more. */
static void
test_races(Place *place, gconstpointer data)
{
  int n = g_strcmp0(g_getenv("HOLDFAST_LONG"), "1") == 0 ? RACES_LONG : RACES;
  g_autoptr(GRand) rand = g_rand_new_with_seed(SEED);
  for (int i = 0; i < n; i++)
    run_race(place, rand, GPOINTER_TO_INT(data));
}

/* ---- what a run has to tell ------------------------------------------------------------------ */

/* The run is done, its result waits for the main loop, which does not turn before the worker goes.
 */
static void
test_result_goes_with_the_worker(Place *place, gconstpointer data)
{
  (void)data;
  g_autoptr(GError) error = NULL;
  HfPage page = {.revision = 1};
  page.document = hf_document_open(place->recipe, place->folder, &error);
  g_assert_no_error(error);
  page.events = hf_events_new(&page);
  page.latest = hf_latest_new();
  page.worker = hf_worker_new(&page, NULL);
  hf_worker_run(page.worker);
  while (!g_main_context_pending(NULL))
    g_usleep(1000);
  hf_worker_free(page.worker);
  hf_latest_free(page.latest);
  while (g_main_context_iteration(NULL, FALSE))
    ;
  g_assert_null(page.view);
  g_assert_cmpuint(page.view_of, ==, 0);
  hf_events_free(page.events);
  hf_document_close(page.document);
}

int
main(int argc, char **argv)
{
  g_autofree char *state = g_dir_make_tmp("page-state-XXXXXX", NULL);
  g_setenv("XDG_STATE_HOME", state, TRUE);
  g_test_init(&argc, &argv, NULL);
  g_test_add("/page-end/result", Place, NULL, place_init, test_result_goes_with_the_worker,
             place_clear);
  g_test_add("/page-end/search", Place, GINT_TO_POINTER(1), place_init, test_races, place_clear);
  g_test_add("/page-end/any", Place, GINT_TO_POINTER(G_N_ELEMENTS(REQUESTS)), place_init,
             test_races, place_clear);
  int failed = g_test_run();
  remove_all(state);
  return failed;
}
