/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_page.c - what one browser may ask of the page, one thing after the other, through its server
 * and without a network: each request goes over a pair of sockets of its own.
 *
 *   line     a letter, then what is asked: the members of a JSON object beside the revision
 *   e t u r  edit, text, undo, redo       v l o   save, reload, open
 *   c k m    cures, take, make            g y f   state, outputs, a font
 *   capital  the same letter, and the line is the whole body
 *   x        the line is the whole request; FS (0x1c) is CR LF
 *   z        the page ends and begins again
 *
 * What must hold: every answer is HTTP with a length, what says that it is JSON is JSON; nothing is
 * our bug (500); the document is what the last answer said, also after the page ended and began
 * again; an undo that is done again leaves the text as it was.
 */
#include "../tests/unit/folder.h"
#include "page/page-private.h"
#include <sys/socket.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

enum { MOST_LINES = 40, MOST_WAIT_MS = 15000 };

static const char SIGN[] = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\n"
                           "process: {kerf: 1.5 mm}\nentries:\n"
                           "  - ring: {outer: 90 mm, inner: 70 mm}\n"
                           "  - dot: {diameter: 20 mm, at: centre}\n";

typedef struct {
  HfPage page;
  HfPageOptions options;
  char *folder, *recipe;
  char *place;
} Fuzzed;

/* ---- one exchange ---------------------------------------------------------------------------- */

typedef struct {
  guint status;
  gboolean json;
  char *body; /* (nullable) */
} Answer;

static void
answer_clear(Answer *answer)
{
  g_free(answer->body);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Answer, answer_clear)

/* Head and body; %FALSE: not all of it is there yet. */
static gboolean
is_whole(const GString *got, Answer *answer)
{
  const char *body = strstr(got->str, "\r\n\r\n"), *size = strstr(got->str, "\r\nContent-Length: ");
  if (body == NULL || size == NULL || size > body)
    return FALSE;
  gsize length = strtoul(size + 18, NULL, 10);
  gsize head = (gsize)(body + 4 - got->str);
  if (got->len < head + length)
    return FALSE;
  g_assert(g_str_has_prefix(got->str, "HTTP/1."));
  answer->status = (guint)strtoul(got->str + 9, NULL, 10);
  const char *type = strstr(got->str, "\r\nContent-Type: application/json");
  answer->json = type != NULL && type < body;
  answer->body = g_strndup(body + 4, length);
  return TRUE;
}

static gboolean
read_more(int fd, GString *got)
{
  char piece[16384];
  gssize n;
  while ((n = recv(fd, piece, sizeof piece, MSG_DONTWAIT)) > 0)
    g_string_append_len(got, piece, n);
  return n != 0; /* the far end has gone */
}

static void
check_answer(const Answer *answer)
{
  g_assert(answer->status >= 200 && answer->status != 500 && answer->status < 600);
  if (!answer->json)
    return;
  g_autoptr(JsonParser) parser = json_parser_new();
  g_assert(g_utf8_validate(answer->body, -1, NULL));
  g_assert(json_parser_load_from_data(parser, answer->body, -1, NULL));
}

/* %FALSE: the far end went without an answer, which it may do to what is no HTTP. */
static gboolean
exchange(Fuzzed *fuzzed, const char *request, gsize length, Answer *answer)
{
  int pair[2];
  if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, pair) != 0)
    return FALSE;
  g_autoptr(GSocket) socket = g_socket_new_from_fd(pair[1], NULL);
  g_autoptr(GSocketConnection) line = g_socket_connection_factory_create_connection(socket);
  g_autoptr(GSocketAddress) here = g_inet_socket_address_new_from_string("127.0.0.1", 1);
  g_assert(soup_server_accept_iostream(fuzzed->page.server, G_IO_STREAM(line), here, here, NULL));
  g_autoptr(GString) got = g_string_new(NULL);
  gsize sent = 0;
  gint64 until = g_get_monotonic_time() + MOST_WAIT_MS * 1000;
  gboolean there = FALSE, open = TRUE;
  while (!there && open) {
    gssize n = sent < length
                   ? send(pair[0], request + sent, length - sent, MSG_DONTWAIT | MSG_NOSIGNAL)
                   : 0;
    if ((n > 0 && (sent += (gsize)n) == length) || length == 0)
      shutdown(pair[0], SHUT_WR); /* what is cut short must not be waited for */
    if (!g_main_context_iteration(NULL, FALSE))
      g_usleep(100);
    open = read_more(pair[0], got);
    there = is_whole(got, answer);
    if (g_get_monotonic_time() > until)
      g_assert_cmpstr("no answer to", ==, request);
  }
  close(pair[0]);
  while (g_main_context_iteration(NULL, FALSE))
    ;
  if (there)
    check_answer(answer);
  return there;
}

static gboolean
ask(Fuzzed *fuzzed, const char *method, const char *path, const char *body, gsize length,
    Answer *answer)
{
  g_autoptr(GString) text = g_string_new(NULL);
  const char *address = hf_gate_address(fuzzed->page.gate) + strlen("http://");
  int host = (int)strcspn(address, "/");
  g_string_printf(text,
                  "%s %s%s HTTP/1.1\r\nHost: %.*s\r\nOrigin: http://%.*s\r\n"
                  "Content-Length: %" G_GSIZE_FORMAT "\r\n\r\n",
                  method, fuzzed->place != NULL ? fuzzed->place : "", path, host, address, host,
                  address, length);
  g_string_append_len(text, body, (gssize)length);
  return exchange(fuzzed, text->str, text->len, answer);
}

/* ---- the page -------------------------------------------------------------------------------- */

static void
begin(Fuzzed *fuzzed)
{
  g_auto(Answer) answer = {0};
  fuzzed->options =
      (HfPageOptions){.recipe = fuzzed->recipe, .no_browser = TRUE, .linger = 60, .pixels = 200};
  fuzzed->page = (HfPage){.options = &fuzzed->options};
  g_assert(hf_page_begin(&fuzzed->page, NULL));
  const char *key = strstr(hf_gate_address(fuzzed->page.gate), "/?key=");
  g_autofree char *path = g_strdup(key);
  g_assert(ask(fuzzed, "GET", path, "", 0, &answer) && answer.status == 200);
  const char *at = strstr(answer.body, "url=/") + 4;
  fuzzed->place = g_strndup(at, strcspn(at + 1, "/") + 1);
}

static void
end(Fuzzed *fuzzed)
{
  hf_document_end_work(fuzzed->page.document); /* on purpose */
  hf_page_end(&fuzzed->page);
  g_clear_pointer(&fuzzed->place, g_free);
  while (g_main_context_iteration(NULL, FALSE))
    ;
}

static char *
text_now(Fuzzed *fuzzed)
{
  gsize length;
  return g_strdup(hf_document_text(fuzzed->page.document, &length));
}

/* ---- one line -------------------------------------------------------------------------------- */

static const struct {
  char letter;
  const char *method, *path;
} CALLS[] = {
    {'e', "POST", "/api/edit"},
    {'t', "POST", "/api/text"},
    {'u', "POST", "/api/undo"},
    {'r', "POST", "/api/redo"},
    {'v', "POST", "/api/save"},
    {'l', "POST", "/api/reload"},
    {'o', "POST", "/api/open"},
    {'c', "POST", "/api/cures"},
    {'k', "POST", "/api/take"},
    {'m', "POST", "/api/make"},
    {'g', "GET", "/api/state"},
    {'y', "GET", "/api/outputs"},
    {'f', "POST", "/api/font?name=a.ttf"},
};

/* Done and undone, or undone and done: as it was. */
static void
there_and_back(Fuzzed *fuzzed, const char *before)
{
  g_auto(Answer) first = {0}, second = {0};
  g_autofree char *one =
      g_strdup_printf("{\"revision\": %" G_GUINT64_FORMAT "}", fuzzed->page.revision);
  if (!hf_document_can_undo(fuzzed->page.document))
    return;
  g_assert(ask(fuzzed, "POST", "/api/undo", one, strlen(one), &first) && first.status == 200);
  g_autofree char *two =
      g_strdup_printf("{\"revision\": %" G_GUINT64_FORMAT "}", fuzzed->page.revision);
  g_assert(ask(fuzzed, "POST", "/api/redo", two, strlen(two), &second) && second.status == 200);
  g_autofree char *after = text_now(fuzzed);
  g_assert_cmpstr(before, ==, after);
}

static void
restart(Fuzzed *fuzzed)
{
  g_autofree char *before = text_now(fuzzed);
  g_autofree char *file = g_strdup(hf_document_file(fuzzed->page.document));
  end(fuzzed);
  g_free(fuzzed->recipe);
  fuzzed->recipe = g_steal_pointer(&file);
  if (!g_file_test(fuzzed->recipe, G_FILE_TEST_EXISTS))
    g_assert(g_file_set_contents(fuzzed->recipe, before, -1, NULL));
  begin(fuzzed);
  g_autofree char *after = text_now(fuzzed);
  g_assert_cmpstr(before, ==, after);
}

static void
send_raw(Fuzzed *fuzzed, const char *line, gsize length)
{
  g_auto(Answer) answer = {0};
  g_autoptr(GString) request = g_string_new(NULL);
  for (gsize i = 0; i < length; i++)
    if (line[i] == 0x1c)
      g_string_append(request, "\r\n");
    else
      g_string_append_c(request, line[i]);
  exchange(fuzzed, request->str, request->len, &answer);
}

static void
do_call(Fuzzed *fuzzed, gsize i, gboolean whole, const char *line, gsize length)
{
  g_auto(Answer) answer = {0};
  g_autoptr(GString) body = g_string_new(NULL);
  if (!whole && CALLS[i].letter != 'f')
    g_string_printf(body, "{\"revision\": %" G_GUINT64_FORMAT "%s", fuzzed->page.revision,
                    length > 0 ? ", " : "");
  g_string_append_len(body, line, (gssize)length);
  if (!whole && CALLS[i].letter != 'f')
    g_string_append_c(body, '}');
  gboolean gets = CALLS[i].method[0] == 'G';
  g_autofree char *before = text_now(fuzzed);
  g_assert(ask(fuzzed, CALLS[i].method, CALLS[i].path, gets ? "" : body->str, gets ? 0 : body->len,
               &answer));
  g_autofree char *after = text_now(fuzzed);
  if (answer.status != 200)
    g_assert_cmpstr(before, ==, after);
  if (answer.status == 200 && CALLS[i].letter == 't')
    there_and_back(fuzzed, after);
}

static void
do_line(Fuzzed *fuzzed, const char *line, gsize length)
{
  if (length == 0)
    return;
  if (line[0] == 'x')
    send_raw(fuzzed, line + 1, length - 1);
  else if (line[0] == 'z')
    restart(fuzzed);
  for (gsize i = 0; i < G_N_ELEMENTS(CALLS); i++)
    if (g_ascii_tolower(line[0]) == CALLS[i].letter)
      do_call(fuzzed, i, g_ascii_isupper(line[0]), line + 1, length - 1);
}

/* What is told beside is of no interest, what GLib finds wrong is. @data: unused. */
static GLogWriterOutput
quiet(GLogLevelFlags level, const GLogField *fields, gsize n, gpointer data)
{
  if ((level & (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_ERROR)) != 0)
    return g_log_writer_default(level, fields, n, data);
  return G_LOG_WRITER_HANDLED;
}

/* Once: GLib remembers where unsaved work goes. */
static const char *
state_folder(void)
{
  static char *folder = NULL;
  if (folder != NULL)
    return folder;
  folder = g_dir_make_tmp("fuzz-page-state-XXXXXX", NULL);
  g_setenv("XDG_STATE_HOME", folder, TRUE);
  g_log_set_writer_func(quiet, NULL, NULL);
  g_log_set_always_fatal(G_LOG_LEVEL_CRITICAL | G_LOG_FATAL_MASK);
  return folder;
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  const char *state = state_folder();
  Fuzzed fuzzed = {.folder = g_dir_make_tmp("fuzz-page-XXXXXX", NULL)};
  g_autofree char *home = g_build_filename(fuzzed.folder, "signs", NULL);
  g_assert(g_mkdir(home, 0700) == 0);
  fuzzed.recipe = g_build_filename(home, "quay.yaml", NULL);
  g_assert(g_file_set_contents(fuzzed.recipe, SIGN, -1, NULL));
  begin(&fuzzed);
  const char *at = (const char *)data, *stop = at + size;
  for (guint n = 0; at < stop && n < MOST_LINES; n++) {
    const char *next = memchr(at, '\n', (gsize)(stop - at));
    do_line(&fuzzed, at, (gsize)((next != NULL ? next : stop) - at));
    at = next != NULL ? next + 1 : stop;
  }
  end(&fuzzed);
  remove_all(fuzzed.folder);
  remove_all(state);
  g_free(fuzzed.folder);
  g_free(fuzzed.recipe);
  return 0;
}
