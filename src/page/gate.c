/* SPDX-License-Identifier: GPL-3.0-or-later
 * gate.c - who is let in.
 *
 *   socket     127.0.0.1 only (visitors.c: how many, how long, how much)
 *   request    Host is this address, Origin (where there is one) too, no other site sent it
 *   user       the one-time key of the printed address, swapped for the place: a path that nobody
 *              can guess, under which everything lies
 *
 *   /?key=KEY          once: an answer that leads on to
 *   /PLACE/            the page, and PLACE/api/... what it asks for
 *
 * No cookie: a browser sends those to every port of this machine, so that another user's server
 * could collect them (RFC 6265, 8.5). A path is sent to nobody else (Referrer-Policy: no-referrer).
 *
 * Another web page in the same browser may send requests here but knows no place, and its Origin is
 * its own; a name that somebody points at 127.0.0.1 is not our Host; another user of this machine
 * does not know the key. What is refused gets no word of the document.
 */
#include "page/page-private.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/random.h>

enum { KEY_BYTES = 24 };

struct HfGate {
  HfPage *page;
  guint16 port;
  char *host, *origin, *address;
  char *key;   /* NULL once it was used */
  char *place; /* secret: the path of the page is /PLACE/ */
  char *door;  /* (nullable) a file that leads the browser here, see hf_gate_door() */
  HfVisitors *visitors;
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

/* What is asked for below the place, from its `/` on; %NULL: it lies elsewhere. */
static const char *
below_place(const HfGate *gate, const char *path)
{
  gsize length = strlen(gate->place);
  if (path[0] != '/' || strlen(path) < length + 2 || path[1 + length] != '/')
    return NULL;
  g_autofree char *place = g_strndup(path + 1, length);
  return same_secret(place, gate->place) ? path + 1 + length : NULL;
}

/* The key opens once, by reading the first address. */
static gboolean
is_key(const HfGate *gate, SoupServerMessage *message)
{
  GUri *uri = soup_server_message_get_uri(message);
  const char *query = g_uri_get_query(uri);
  return soup_server_message_get_method(message) == SOUP_METHOD_GET &&
         strcmp(g_uri_get_path(uri), "/") == 0 && query != NULL &&
         g_str_has_prefix(query, "key=") && same_secret(query + 4, gate->key);
}

/* A page that leads to @address by itself, in place of itself. */
static GBytes *
leads_to(const char *address)
{
  char *text =
      g_strdup_printf("<!DOCTYPE html>\n<html lang=\"en\"><meta charset=\"utf-8\">"
                      "<meta name=\"referrer\" content=\"no-referrer\">"
                      "<meta http-equiv=\"refresh\" content=\"0; url=%s\">"
                      "<title>holdfast</title><p><a href=\"%s\">To the page</a></p></html>\n",
                      address, address);
  return g_bytes_new_take(text, strlen(text));
}

/* A redirection would carry on who sent the user here; a page of ours sends them itself. */
static void
lead_in(HfGate *gate, SoupServerMessage *message)
{
  g_autofree char *place = g_strconcat("/", gate->place, "/", NULL);
  g_autoptr(GBytes) page = leads_to(place);
  g_clear_pointer(&gate->key, g_free);
  hf_gate_close_door(gate);
  hf_answer(message, SOUP_STATUS_OK, "text/html; charset=utf-8", page);
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

/* Before the body is read. A status that is set here ends the matter. */
static void
on_early(SoupServer *server, SoupServerMessage *message, const char *path, GHashTable *query,
         gpointer data)
{
  HfGate *gate = data;
  (void)server;
  (void)query;
  const char *method = soup_server_message_get_method(message);
  goffset size =
      soup_message_headers_get_content_length(soup_server_message_get_request_headers(message));
  gboolean key = is_key(gate, message); /* a link from anywhere may hold it */
  if (!right_host(gate, message))
    refuse(message, SOUP_STATUS_FORBIDDEN, "this is not the address of the page",
           "open the address that was printed");
  else if (method != SOUP_METHOD_GET && method != SOUP_METHOD_POST)
    refuse(message, SOUP_STATUS_METHOD_NOT_ALLOWED, "only GET and POST are answered", NULL);
  else if (!key && !right_origin(gate, message))
    refuse(message, SOUP_STATUS_FORBIDDEN, "this was sent by another site", NULL);
  else if (key)
    lead_in(gate, message);
  else if (below_place(gate, path) == NULL)
    refuse(message, SOUP_STATUS_FORBIDDEN, "the key is missing, wrong, or was used already",
           "start 'holdfast page' again and open the address that it prints");
  else if (size < 0 || size > (goffset)hf_visitors_most_body(message))
    refuse(message, SOUP_STATUS_REQUEST_ENTITY_TOO_LARGE, "this is too large", NULL);
  else
    g_object_set_data(G_OBJECT(message), "let-in", gate);
  if (g_object_get_data(G_OBJECT(message), "let-in") != NULL)
    hf_visitors_let_in(gate->visitors, message);
}

const char *
hf_gate_let_in(const HfGate *gate, SoupServerMessage *message, const char *path)
{
  if (g_object_get_data(G_OBJECT(message), "let-in") == gate)
    return below_place(gate, path);
  if (soup_server_message_get_status(message) == 0)
    refuse(message, SOUP_STATUS_FORBIDDEN, "this did not come through the gate", NULL);
  return NULL;
}

HfVisitors *
hf_gate_visitors(const HfGate *gate)
{
  return gate->visitors;
}

/* ---- the door: a file that only this user can read ---------------------------------------- */

/* Whatever opens the browser puts what it opens into the list of processes, which everybody on the
 * machine can read: it gets the name of a file, and the key stands in there. */
char *
hf_gate_door(HfGate *gate, GError **error)
{
  g_autofree char *folder = g_build_filename(g_get_user_runtime_dir(), "holdfast", NULL);
  g_autofree char *name = g_strdup_printf("page-%u.html", gate->port);
  g_autoptr(GBytes) page = leads_to(gate->address);
  if (g_mkdir_with_parents(folder, 0700) != 0 || g_chmod(folder, 0700) != 0) {
    hf_error_set(error, HF_ERROR_IO, folder, "open the address yourself",
                 "this folder can't be made: %s", g_strerror(errno));
    return NULL;
  }
  hf_gate_close_door(gate);
  g_autofree char *file = g_build_filename(folder, name, NULL);
  gsize length;
  const char *bytes = g_bytes_get_data(page, &length);
  if (!g_file_set_contents_full(file, bytes, (gssize)length, G_FILE_SET_CONTENTS_CONSISTENT, 0600,
                                error))
    return NULL;
  gate->door = g_steal_pointer(&file);
  return g_filename_to_uri(gate->door, NULL, error);
}

void
hf_gate_close_door(HfGate *gate)
{
  if (gate->door != NULL)
    g_unlink(gate->door);
  g_clear_pointer(&gate->door, g_free);
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
  gate->place = new_secret();
  gate->address = g_strconcat(gate->origin, "/?key=", gate->key, NULL);
}

HfGate *
hf_gate_new(HfPage *page, GError **error)
{
  HfGate *gate = g_new0(HfGate, 1);
  gate->page = page;
  if (!listen_here(gate, error)) {
    hf_gate_free(gate);
    return NULL;
  }
  make_names(gate);
  gate->visitors = hf_visitors_new(page->server);
  soup_server_add_early_handler(page->server, NULL, on_early, gate, NULL);
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
  hf_gate_close_door(gate);
  hf_visitors_free(gate->visitors);
  g_free(gate->host);
  g_free(gate->origin);
  g_free(gate->address);
  g_free(gate->key);
  g_free(gate->place);
  g_free(gate);
}
