/* SPDX-License-Identifier: GPL-3.0-or-later
 * gate.c - who is let in.
 *
 *   socket     127.0.0.1 only; at most so many at once; closed when a request takes too long
 *   request    Host is this address, Origin (where there is one) too, no other site sent it
 *   user       the one-time key of the address, swapped for a cookie that scripts can't read
 *   body       of at most 1 MB (a font 32 MB)
 *
 * Another web page in the same browser may send requests here but has neither cookie (SameSite)
 * nor Origin; a name that somebody points at 127.0.0.1 is not our Host; another user of this
 * machine does not know the key. What is refused gets no word of the document.
 */
#include "page/page-private.h"
#include <errno.h>
#include <string.h>
#include <sys/random.h>
#include <sys/socket.h>

enum {
  MOST_CONNECTIONS = 64,
  SECONDS_IDLE = 60,      /* until the head of a request is there */
  SECONDS_A_REQUEST = 20, /* from there until it is answered */
  SWEEP_SECONDS = 2,
  MOST_BODY = 1 << 20,
  MOST_FONT = 32 << 20,
  MOST_DRAINED = 64 << 20,
  KEY_BYTES = 24,
};

/* One exchange, from when its socket is free for it: the library makes the next message as soon as
 * the one before is done. */
typedef struct {
  HfGate *gate;
  SoupServerMessage *message; /* (borrowed) it tells when it goes */
  GSocket *socket;
  gint64 since;
  gboolean begun;   /* its head was read */
  gboolean serving; /* it may take as long as it likes */
  gboolean stays;   /* somebody else has the connection now */
  gboolean over;    /* it is the last on its connection */
} Visitor;

struct HfGate {
  HfPage *page;
  guint16 port;
  char *host, *origin, *address;
  char *key; /* NULL once it was used */
  char *cookie_name, *cookie;
  GHashTable *visitors; /* SoupServerMessage -> Visitor */
  GArray *left;         /* Left: sockets between two exchanges */
  guint sweep, closing; /* sources; 0: none */
};

/* ---- secrets ------------------------------------------------------------------------------- */

static char *
new_secret(void)
{
  guint8 bytes[KEY_BYTES];
  gsize have = 0;
  while (have < sizeof bytes) {
    gssize got = getrandom(bytes + have, sizeof bytes - have, 0);
    if (got < 0 && errno != EINTR)
      g_error("no random numbers from the system: %s", g_strerror(errno));
    if (got > 0)
      have += (gsize)got;
  }
  GString *text = g_string_new(NULL);
  for (gsize i = 0; i < sizeof bytes; i++)
    g_string_append_printf(text, "%02x", bytes[i]);
  return g_string_free(text, FALSE);
}

/* Takes as long however much is right. */
static gboolean
same_secret(const char *a, const char *b)
{
  if (a == NULL || b == NULL || strlen(a) != strlen(b))
    return FALSE;
  int differs = 0;
  for (gsize i = 0; a[i] != '\0'; i++)
    differs |= a[i] ^ b[i];
  return differs == 0;
}

/* ---- sockets ------------------------------------------------------------------------------- */

/* A far end that goes before its first request is never reported; its message just ends. */
static void
on_message_gone(gpointer data, GObject *message)
{
  Visitor *visitor = data;
  visitor->message = NULL;
  g_hash_table_remove(visitor->gate->visitors, message);
}

static gboolean
in_use(const HfGate *gate, const GSocket *socket)
{
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init(&iter, gate->visitors);
  while (g_hash_table_iter_next(&iter, NULL, &value))
    if (((const Visitor *)value)->socket == socket)
      return TRUE;
  return FALSE;
}

/* libsoup 3.2 forgets one reference to each socket that it accepts: without what follows every
 * connection would cost a file descriptor for ever. A socket whose exchange has ended may begin
 * another (the library makes its message when the first byte comes), so it is closed only when the
 * far end has gone, or when it was silent for long. */
typedef struct {
  GSocket *socket;
  gint64 since;
  gboolean over; /* no other exchange will follow */
} Left;

static void
left_clear(gpointer data)
{
  g_object_unref(((Left *)data)->socket);
}

static gboolean
far_end_gone(const GSocket *socket)
{
  char byte;
  return recv(g_socket_get_fd((GSocket *)socket), &byte, 1, MSG_PEEK | MSG_DONTWAIT) == 0;
}

static void
close_left(HfGate *gate)
{
  gint64 now = g_get_monotonic_time();
  for (guint i = gate->left->len; i-- > 0;) {
    const Left *left = &g_array_index(gate->left, Left, i);
    gboolean used = in_use(gate, left->socket);
    gboolean old = now - left->since > SECONDS_IDLE * (gint64)G_USEC_PER_SEC;
    if (!used &&
        (left->over || old || g_socket_is_closed(left->socket) || far_end_gone(left->socket)))
      g_socket_close(left->socket, NULL);
    if (used || g_socket_is_closed(left->socket))
      g_array_remove_index_fast(gate->left, i);
  }
}

/* The next exchange on it has begun. */
static void
come_back(HfGate *gate, const GSocket *socket)
{
  for (guint i = gate->left->len; i-- > 0;)
    if (g_array_index(gate->left, Left, i).socket == socket)
      g_array_remove_index_fast(gate->left, i);
}

static gboolean
on_closing(gpointer data)
{
  HfGate *gate = data;
  gate->closing = 0;
  close_left(gate);
  return G_SOURCE_REMOVE;
}

/* Takes the socket. */
static void
leave(HfGate *gate, GSocket *socket, gboolean over)
{
  Left left = {socket, g_get_monotonic_time(), over};
  g_array_append_val(gate->left, left);
  if (gate->closing == 0)
    gate->closing = g_idle_add(on_closing, gate);
}

static void
visitor_free(gpointer data)
{
  Visitor *visitor = data;
  if (visitor->message != NULL)
    g_object_weak_unref(G_OBJECT(visitor->message), on_message_gone, visitor);
  if (visitor->stays)
    g_object_unref(visitor->socket);
  else
    leave(visitor->gate, visitor->socket, visitor->over);
  g_free(visitor);
}

static Visitor *
visitor_of(const HfGate *gate, SoupServerMessage *message)
{
  return g_hash_table_lookup(gate->visitors, message);
}

/* The library finds the far end gone and cleans up. */
static void
shut(const Visitor *visitor)
{
  g_socket_shutdown(visitor->socket, TRUE, TRUE, NULL);
}

static gboolean
sweep(gpointer data)
{
  HfGate *gate = data;
  GHashTableIter iter;
  gpointer value;
  gint64 now = g_get_monotonic_time();
  g_hash_table_iter_init(&iter, gate->visitors);
  while (g_hash_table_iter_next(&iter, NULL, &value)) {
    const Visitor *visitor = value;
    int most = visitor->begun ? SECONDS_A_REQUEST : SECONDS_IDLE;
    if (!visitor->serving && now - visitor->since > most * (gint64)G_USEC_PER_SEC)
      shut(visitor);
  }
  close_left(gate);
  return G_SOURCE_CONTINUE;
}

void
hf_gate_serving(HfGate *gate, SoupServerMessage *message)
{
  Visitor *visitor = visitor_of(gate, message);
  if (visitor != NULL)
    visitor->serving = TRUE;
}

void
hf_gate_gives(HfGate *gate, SoupServerMessage *message)
{
  Visitor *visitor = visitor_of(gate, message);
  if (visitor != NULL)
    visitor->stays = TRUE;
}

/* ---- one request --------------------------------------------------------------------------- */

static gsize
most_body(SoupServerMessage *message)
{
  const char *path = g_uri_get_path(soup_server_message_get_uri(message));
  return strcmp(path, "/api/font") == 0 ? MOST_FONT : MOST_BODY;
}

/* A body that grows beyond the limit, whatever its head said, ends the connection; what was refused
 * is read a little further and thrown away, so that the far end hears why. */
static void
on_chunk(SoupServerMessage *message, GBytes *chunk, gpointer data)
{
  HfGate *gate = data;
  gsize *have = g_object_get_data(G_OBJECT(message), "body-size");
  *have += g_bytes_get_size(chunk);
  const Visitor *visitor = visitor_of(gate, message);
  gboolean refused = soup_server_message_get_status(message) != 0;
  if (visitor != NULL && *have > (refused ? MOST_DRAINED : most_body(message)))
    shut(visitor);
}

static void
on_head(SoupServerMessage *message, gpointer data)
{
  Visitor *visitor = visitor_of(data, message);
  if (visitor == NULL)
    return;
  visitor->begun = TRUE;
  visitor->since = g_get_monotonic_time();
}

static void
on_started(SoupServer *server, SoupServerMessage *message, gpointer data)
{
  HfGate *gate = data;
  (void)server;
  GSocket *socket = soup_server_message_get_socket(message);
  if (socket == NULL)
    return;
  Visitor *visitor = g_new0(Visitor, 1);
  *visitor = (Visitor){gate,  message, g_object_ref(socket), g_get_monotonic_time(), FALSE, FALSE,
                       FALSE, TRUE};
  g_object_weak_ref(G_OBJECT(message), on_message_gone, visitor);
  g_hash_table_replace(gate->visitors, message, visitor);
  come_back(gate, socket);
  g_object_set_data_full(G_OBJECT(message), "body-size", g_new0(gsize, 1), g_free);
  g_signal_connect(message, "got-headers", G_CALLBACK(on_head), gate);
  g_signal_connect(message, "got-chunk", G_CALLBACK(on_chunk), gate);
  if (g_hash_table_size(gate->visitors) + gate->left->len > MOST_CONNECTIONS)
    shut(visitor);
}

static gboolean
says_close(SoupMessageHeaders *headers)
{
  return soup_message_headers_header_contains(headers, "Connection", "close");
}

/* Another request may follow on the same connection. */
static void
on_finished(SoupServer *server, SoupServerMessage *message, gpointer data)
{
  const HfGate *gate = data;
  Visitor *visitor = visitor_of(gate, message);
  (void)server;
  if (visitor == NULL)
    return;
  visitor->over = soup_server_message_get_http_version(message) == SOUP_HTTP_1_0 ||
                  says_close(soup_server_message_get_request_headers(message)) ||
                  says_close(soup_server_message_get_response_headers(message));
  g_hash_table_remove(gate->visitors, message);
}

static void
on_aborted(SoupServer *server, SoupServerMessage *message, gpointer data)
{
  const HfGate *gate = data;
  (void)server;
  g_hash_table_remove(gate->visitors, message);
}

static const char *
one_header(SoupServerMessage *message, const char *name)
{
  return soup_message_headers_get_one(soup_server_message_get_request_headers(message), name);
}

static gboolean
right_host(const HfGate *gate, SoupServerMessage *message)
{
  const char *host =
      soup_message_headers_get_list(soup_server_message_get_request_headers(message), "Host");
  GUri *uri = soup_server_message_get_uri(message); /* a request may name a whole address */
  return g_strcmp0(host, gate->host) == 0 && g_strcmp0(g_uri_get_host(uri), "127.0.0.1") == 0 &&
         g_uri_get_port(uri) == gate->port;
}

/* What changes something must say where it comes from. */
static gboolean
right_origin(const HfGate *gate, SoupServerMessage *message)
{
  const char *origin = one_header(message, "Origin");
  const char *site = one_header(message, "Sec-Fetch-Site");
  gboolean reads = soup_server_message_get_method(message) == SOUP_METHOD_GET;
  if (site != NULL && strcmp(site, "same-origin") != 0 && strcmp(site, "none") != 0)
    return FALSE;
  return origin == NULL ? reads : strcmp(origin, gate->origin) == 0;
}

static gboolean
right_cookie(const HfGate *gate, SoupServerMessage *message)
{
  const char *all =
      soup_message_headers_get_list(soup_server_message_get_request_headers(message), "Cookie");
  /* each page that was opened since the browser was leaves one: they may be many */
  g_auto(GStrv) parts = g_strsplit_set(all != NULL ? all : "", ";,", -1);
  gsize length = strlen(gate->cookie_name);
  for (guint i = 0; parts[i] != NULL; i++) {
    const char *part = g_strstrip(parts[i]);
    if (strncmp(part, gate->cookie_name, length) == 0 && part[length] == '=' &&
        same_secret(part + length + 1, gate->cookie))
      return TRUE;
  }
  return FALSE;
}

/* The key opens once, by reading the first address. */
static gboolean
takes_key(HfGate *gate, SoupServerMessage *message)
{
  GUri *uri = soup_server_message_get_uri(message);
  const char *query = g_uri_get_query(uri);
  if (strcmp(g_uri_get_path(uri), "/") != 0 || query == NULL || !g_str_has_prefix(query, "key=") ||
      !same_secret(query + 4, gate->key))
    return FALSE;
  g_clear_pointer(&gate->key, g_free);
  g_autofree char *cookie =
      g_strdup_printf("%s=%s; Path=/; HttpOnly; SameSite=Strict", gate->cookie_name, gate->cookie);
  soup_message_headers_append(soup_server_message_get_response_headers(message), "Set-Cookie",
                              cookie);
  return TRUE;
}

static void
send_home(SoupServerMessage *message)
{
  hf_answer_head(message);
  soup_message_headers_replace(soup_server_message_get_response_headers(message), "Location", "/");
  soup_server_message_set_status(message, SOUP_STATUS_SEE_OTHER, NULL);
}

static gboolean
has_key(SoupServerMessage *message)
{
  GUri *uri = soup_server_message_get_uri(message);
  const char *query = g_uri_get_query(uri);
  return strcmp(g_uri_get_path(uri), "/") == 0 && query != NULL && g_str_has_prefix(query, "key=");
}

/* What is refused here is not read any further: its body is thrown away, the connection ends. */
static void
refuse(SoupServerMessage *message, guint status, const char *what, const char *fix)
{
  soup_message_body_set_accumulate(soup_server_message_get_request_body(message), FALSE);
  hf_answer_refusal(message, status, what, fix);
  soup_message_headers_replace(soup_server_message_get_response_headers(message), "Connection",
                               "close");
}

/* The library asks only the handler of the longest path that fits. */
static const char *const PATHS[] = {"/", "/api"};

/* Before the body is read. A status that is set here ends the matter. */
static void
on_early(SoupServer *server, SoupServerMessage *message, const char *path, GHashTable *query,
         gpointer data)
{
  HfGate *gate = data;
  (void)server;
  (void)path;
  (void)query;
  const char *method = soup_server_message_get_method(message);
  goffset size =
      soup_message_headers_get_content_length(soup_server_message_get_request_headers(message));
  if (!right_host(gate, message))
    refuse(message, SOUP_STATUS_FORBIDDEN, "this is not the address of the page",
           "open the address that was printed");
  else if (method != SOUP_METHOD_GET && method != SOUP_METHOD_POST)
    refuse(message, SOUP_STATUS_METHOD_NOT_ALLOWED, "only GET and POST are answered", NULL);
  else if (!right_origin(gate, message))
    refuse(message, SOUP_STATUS_FORBIDDEN, "this was sent by another site", NULL);
  else if (takes_key(gate, message) || (has_key(message) && right_cookie(gate, message)))
    send_home(message);
  else if (!right_cookie(gate, message))
    refuse(message, SOUP_STATUS_FORBIDDEN, "the key is missing, wrong, or was used already",
           "start 'holdfast page' again and open the address that it prints");
  else if (size > (goffset)most_body(message))
    refuse(message, SOUP_STATUS_REQUEST_ENTITY_TOO_LARGE, "this is too large", NULL);
  else
    g_object_set_data(G_OBJECT(message), "let-in", gate);
}

gboolean
hf_gate_let_in(const HfGate *gate, SoupServerMessage *message)
{
  if (g_object_get_data(G_OBJECT(message), "let-in") == gate)
    return TRUE;
  refuse(message, SOUP_STATUS_FORBIDDEN, "this did not come through the gate", NULL);
  return FALSE;
}

/* ---- the whole ----------------------------------------------------------------------------- */

static gboolean
listen_here(HfGate *gate, GError **error)
{
  g_autoptr(GError) inner = NULL;
  SoupServer *server = gate->page->server;
  if (!soup_server_listen_local(server, 0, SOUP_SERVER_LISTEN_IPV4_ONLY, &inner)) {
    hf_error_set(error, HF_ERROR_IO, NULL, "is another program in the way?",
                 "can't serve on 127.0.0.1: %s", inner->message);
    return FALSE;
  }
  GSList *uris = soup_server_get_uris(server);
  gate->port = (guint16)g_uri_get_port(uris->data);
  g_slist_free_full(uris, (GDestroyNotify)g_uri_unref);
  return TRUE;
}

static void
make_names(HfGate *gate)
{
  gate->host = g_strdup_printf("127.0.0.1:%u", gate->port);
  gate->origin = g_strconcat("http://", gate->host, NULL);
  gate->key = new_secret();
  gate->cookie = new_secret();
  gate->cookie_name = g_strdup_printf("holdfast-%u", gate->port); /* cookies don't mind ports */
  gate->address = g_strconcat(gate->origin, "/?key=", gate->key, NULL);
}

HfGate *
hf_gate_new(HfPage *page, GError **error)
{
  HfGate *gate = g_new0(HfGate, 1);
  gate->page = page;
  gate->visitors = g_hash_table_new_full(NULL, NULL, NULL, visitor_free);
  gate->left = g_array_new(FALSE, FALSE, sizeof(Left));
  g_array_set_clear_func(gate->left, left_clear);
  if (!listen_here(gate, error)) {
    hf_gate_free(gate);
    return NULL;
  }
  make_names(gate);
  g_signal_connect(page->server, "request-started", G_CALLBACK(on_started), gate);
  g_signal_connect(page->server, "request-finished", G_CALLBACK(on_finished), gate);
  g_signal_connect(page->server, "request-aborted", G_CALLBACK(on_aborted), gate);
  for (gsize i = 0; i < G_N_ELEMENTS(PATHS); i++)
    soup_server_add_early_handler(page->server, PATHS[i], on_early, gate, NULL);
  gate->sweep = g_timeout_add_seconds(SWEEP_SECONDS, sweep, gate);
  return gate;
}

const char *
hf_gate_address(const HfGate *gate)
{
  return gate->address;
}

void
hf_gate_free(HfGate *gate)
{
  if (gate == NULL)
    return;
  if (gate->sweep != 0)
    g_source_remove(gate->sweep);
  g_signal_handlers_disconnect_by_data(gate->page->server, gate);
  g_hash_table_unref(gate->visitors);
  if (gate->closing != 0)
    g_source_remove(gate->closing);
  g_array_unref(gate->left);
  g_free(gate->host);
  g_free(gate->origin);
  g_free(gate->address);
  g_free(gate->key);
  g_free(gate->cookie);
  g_free(gate->cookie_name);
  g_free(gate);
}
