/* SPDX-License-Identifier: GPL-3.0-or-later
 * visitors.c - the sockets of the page's server: how many, how long, how much.
 *
 *   connection   at most so many at once: of those that were not let in, the oldest goes first, so
 *                that no stranger on this machine can keep the user out by holding sockets open
 *   request      its head within a minute, the rest within 20 s of it
 *   body         of at most 1 MB (a font 32 MB)
 *
 * Who is let in is a matter of gate.c.
 */
#include "page/page-private.h"
#include <string.h>
#include <sys/socket.h>

enum {
  MOST_CONNECTIONS = 64,
  SECONDS_IDLE = 60,      /* until the head of a request is there */
  SECONDS_A_REQUEST = 20, /* from there until it is answered */
  SWEEP_SECONDS = 2,
  MOST_BODY = 1 << 20,
  MOST_FONT = 32 << 20,
  MOST_DRAINED = 64 << 20,
};

/* On a socket: one that knew the secret came by it. */
#define LET_IN "holdfast-let-in"

/* One exchange, from when its socket is free for it: the library makes the next message as soon as
 * the one before is done. */
typedef struct {
  HfVisitors *visitors;
  SoupServerMessage *message; /* (borrowed) it tells when it goes */
  GSocket *socket;
  gint64 since;
  gboolean begun;    /* its head was read */
  gboolean let_in;   /* it knows the secret */
  gboolean serving;  /* it may take as long as it likes */
  gboolean stays;    /* somebody else has the connection now */
  gboolean over;     /* it is the last on its connection */
  gboolean sent_off; /* its socket is shut, it is about to go */
} Visitor;

struct HfVisitors {
  SoupServer *server;
  GHashTable *here;     /* SoupServerMessage -> Visitor */
  GArray *left;         /* Left: sockets between two exchanges */
  guint sweep, closing; /* sources; 0: none */
};

/* A far end that goes before its first request is never reported; its message just ends. */
static void
on_message_gone(gpointer data, GObject *message)
{
  Visitor *visitor = data;
  visitor->message = NULL;
  g_hash_table_remove(visitor->visitors->here, message);
}

static gboolean
in_use(const HfVisitors *visitors, const GSocket *socket)
{
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init(&iter, visitors->here);
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
close_left(HfVisitors *visitors)
{
  gint64 now = g_get_monotonic_time();
  for (guint i = visitors->left->len; i-- > 0;) {
    const Left *left = &g_array_index(visitors->left, Left, i);
    gboolean used = in_use(visitors, left->socket);
    gboolean old = now - left->since > SECONDS_IDLE * (gint64)G_USEC_PER_SEC;
    if (!used &&
        (left->over || old || g_socket_is_closed(left->socket) || far_end_gone(left->socket)))
      g_socket_close(left->socket, NULL);
    if (used || g_socket_is_closed(left->socket))
      g_array_remove_index_fast(visitors->left, i);
  }
}

/* The next exchange on it has begun. */
static void
come_back(HfVisitors *visitors, const GSocket *socket)
{
  for (guint i = visitors->left->len; i-- > 0;)
    if (g_array_index(visitors->left, Left, i).socket == socket)
      g_array_remove_index_fast(visitors->left, i);
}

static gboolean
on_closing(gpointer data)
{
  HfVisitors *visitors = data;
  visitors->closing = 0;
  close_left(visitors);
  return G_SOURCE_REMOVE;
}

/* Takes the socket. */
static void
leave(HfVisitors *visitors, GSocket *socket, gboolean over)
{
  Left left = {socket, g_get_monotonic_time(), over};
  g_array_append_val(visitors->left, left);
  if (visitors->closing == 0)
    visitors->closing = g_idle_add(on_closing, visitors);
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
    leave(visitor->visitors, visitor->socket, visitor->over);
  g_free(visitor);
}

static Visitor *
visitor_of(const HfVisitors *visitors, SoupServerMessage *message)
{
  return g_hash_table_lookup(visitors->here, message);
}

/* The library finds the far end gone and cleans up. */
static void
shut(Visitor *visitor)
{
  visitor->sent_off = TRUE;
  g_socket_shutdown(visitor->socket, TRUE, TRUE, NULL);
}

static gboolean
sweep(gpointer data)
{
  HfVisitors *visitors = data;
  GHashTableIter iter;
  gpointer value;
  gint64 now = g_get_monotonic_time();
  g_hash_table_iter_init(&iter, visitors->here);
  while (g_hash_table_iter_next(&iter, NULL, &value)) {
    Visitor *visitor = value;
    int most = visitor->begun ? SECONDS_A_REQUEST : SECONDS_IDLE;
    if (!visitor->serving && now - visitor->since > most * (gint64)G_USEC_PER_SEC)
      shut(visitor);
  }
  close_left(visitors);
  return G_SOURCE_CONTINUE;
}

void
hf_visitors_serving(HfVisitors *visitors, SoupServerMessage *message)
{
  Visitor *visitor = visitor_of(visitors, message);
  if (visitor != NULL)
    visitor->serving = TRUE;
}

void
hf_visitors_gives(HfVisitors *visitors, SoupServerMessage *message)
{
  Visitor *visitor = visitor_of(visitors, message);
  if (visitor != NULL)
    visitor->stays = TRUE;
}

/* ---- one request --------------------------------------------------------------------------- */

gsize
hf_visitors_most_body(SoupServerMessage *message)
{
  const char *path = g_uri_get_path(soup_server_message_get_uri(message));
  return g_str_has_suffix(path, "/api/font") ? MOST_FONT : MOST_BODY;
}

/* A body that grows beyond the limit, whatever its head said, ends the connection; what was refused
 * is read a little further and thrown away, so that the far end hears why. */
static void
on_chunk(SoupServerMessage *message, GBytes *chunk, gpointer data)
{
  HfVisitors *visitors = data;
  gsize *have = g_object_get_data(G_OBJECT(message), "body-size");
  *have += g_bytes_get_size(chunk);
  Visitor *visitor = visitor_of(visitors, message);
  gboolean refused = soup_server_message_get_status(message) != 0;
  if (visitor != NULL && *have > (refused ? MOST_DRAINED : hf_visitors_most_body(message)))
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

/* Connections that are not about to go. */
static guint
n_here(const HfVisitors *visitors)
{
  guint n = visitors->left->len;
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init(&iter, visitors->here);
  while (g_hash_table_iter_next(&iter, NULL, &value))
    n += !((const Visitor *)value)->sent_off;
  return n;
}

/* The oldest that was not let in; @newest where there is none. */
static Visitor *
least_welcome(const HfVisitors *visitors, Visitor *newest)
{
  Visitor *found = newest;
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init(&iter, visitors->here);
  while (g_hash_table_iter_next(&iter, NULL, &value)) {
    Visitor *visitor = value;
    if (!visitor->sent_off && !visitor->let_in && visitor->since < found->since)
      found = visitor;
  }
  return found;
}

static void
on_started(SoupServer *server, SoupServerMessage *message, gpointer data)
{
  HfVisitors *visitors = data;
  (void)server;
  GSocket *socket = soup_server_message_get_socket(message);
  if (socket == NULL)
    return;
  Visitor *visitor = g_new0(Visitor, 1);
  *visitor = (Visitor){.visitors = visitors,
                       .message = message,
                       .socket = g_object_ref(socket),
                       .since = g_get_monotonic_time(),
                       .let_in = g_object_get_data(G_OBJECT(socket), LET_IN) != NULL,
                       .over = TRUE};
  g_object_weak_ref(G_OBJECT(message), on_message_gone, visitor);
  g_hash_table_replace(visitors->here, message, visitor);
  come_back(visitors, socket);
  g_object_set_data_full(G_OBJECT(message), "body-size", g_new0(gsize, 1), g_free);
  g_signal_connect(message, "got-headers", G_CALLBACK(on_head), visitors);
  g_signal_connect(message, "got-chunk", G_CALLBACK(on_chunk), visitors);
  if (n_here(visitors) > MOST_CONNECTIONS)
    shut(least_welcome(visitors, visitor));
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
  const HfVisitors *visitors = data;
  Visitor *visitor = visitor_of(visitors, message);
  (void)server;
  if (visitor == NULL)
    return;
  visitor->over = soup_server_message_get_http_version(message) == SOUP_HTTP_1_0 ||
                  says_close(soup_server_message_get_request_headers(message)) ||
                  says_close(soup_server_message_get_response_headers(message));
  g_hash_table_remove(visitors->here, message);
}

static void
on_aborted(SoupServer *server, SoupServerMessage *message, gpointer data)
{
  const HfVisitors *visitors = data;
  (void)server;
  g_hash_table_remove(visitors->here, message);
}

void
hf_visitors_let_in(HfVisitors *visitors, SoupServerMessage *message)
{
  Visitor *visitor = visitor_of(visitors, message);
  if (visitor == NULL)
    return;
  visitor->let_in = TRUE;
  g_object_set_data(G_OBJECT(visitor->socket), LET_IN, visitors); /* and what follows on it */
}

/* ---- the whole ----------------------------------------------------------------------------- */

HfVisitors *
hf_visitors_new(SoupServer *server)
{
  HfVisitors *visitors = g_new0(HfVisitors, 1);
  visitors->server = server;
  visitors->here = g_hash_table_new_full(NULL, NULL, NULL, visitor_free);
  visitors->left = g_array_new(FALSE, FALSE, sizeof(Left));
  g_array_set_clear_func(visitors->left, left_clear);
  g_signal_connect(server, "request-started", G_CALLBACK(on_started), visitors);
  g_signal_connect(server, "request-finished", G_CALLBACK(on_finished), visitors);
  g_signal_connect(server, "request-aborted", G_CALLBACK(on_aborted), visitors);
  visitors->sweep = g_timeout_add_seconds(SWEEP_SECONDS, sweep, visitors);
  return visitors;
}

void
hf_visitors_free(HfVisitors *visitors)
{
  if (visitors == NULL)
    return;
  g_source_remove(visitors->sweep);
  g_signal_handlers_disconnect_by_data(visitors->server, visitors);
  g_hash_table_unref(visitors->here);
  if (visitors->closing != 0)
    g_source_remove(visitors->closing);
  g_array_unref(visitors->left);
  g_free(visitors);
}
