/* SPDX-License-Identifier: GPL-3.0-or-later
 * events.c - tells every open page what is new: server-sent events (WHATWG HTML, section 9.2).
 *
 * A page that listens keeps its connection. Each has a queue of what was not sent yet; an event
 * that makes an older one of its name useless (a view, a state) takes its place, so a slow page
 * never makes the server grow. When the far end goes, reading from it ends, and the page is gone.
 */
#include "page/page-private.h"
#include <string.h>

enum { BEAT_SECONDS = 15, MOST_WAITING = 200, MOST_LISTENERS = 16 };

typedef struct {
  char *name;
  GBytes *bytes;
} Event;

typedef struct {
  HfEvents *events;
  GIOStream *stream;
  GCancellable *cancel;
  GQueue waiting; /* Event * */
  GBytes *going;  /* (nullable) being written */
  char end[256];  /* what the far end sends is of no interest, only that it ends */
  gboolean gone;
  guint calls; /* out on the stream */
} Listener;

struct HfEvents {
  HfPage *page;
  GQueue joining;       /* SoupServerMessage *: as many idle sources with this as data */
  GPtrArray *listeners; /* Listener *, not owned here: each frees itself when its calls are back */
  guint beat;
};

static void
event_free(gpointer data)
{
  Event *event = data;
  g_free(event->name);
  g_bytes_unref(event->bytes);
  g_free(event);
}

/* ---- one page ------------------------------------------------------------------------------ */

static void
free_when_back(Listener *listener)
{
  if (!listener->gone || listener->calls > 0)
    return;
  g_queue_clear_full(&listener->waiting, event_free);
  g_clear_pointer(&listener->going, g_bytes_unref);
  g_object_unref(listener->stream);
  g_object_unref(listener->cancel);
  g_free(listener);
}

static void
leave(Listener *listener)
{
  if (!listener->gone) {
    listener->gone = TRUE;
    if (listener->events != NULL)
      g_ptr_array_remove(listener->events->listeners, listener); /* the oldest stays first */
    g_cancellable_cancel(listener->cancel);
    g_io_stream_close(listener->stream, NULL, NULL);
  }
  free_when_back(listener);
}

static void send_next(Listener *listener);

static void
on_written(GObject *source, GAsyncResult *result, gpointer data)
{
  Listener *listener = data;
  gboolean good = g_output_stream_write_all_finish(G_OUTPUT_STREAM(source), result, NULL, NULL);
  listener->calls--;
  g_clear_pointer(&listener->going, g_bytes_unref);
  if (!good || listener->gone)
    leave(listener);
  else
    send_next(listener);
}

static void
send_next(Listener *listener)
{
  if (listener->going != NULL || listener->gone)
    return;
  Event *event = g_queue_pop_head(&listener->waiting);
  if (event == NULL)
    return;
  listener->going = g_bytes_ref(event->bytes);
  event_free(event);
  gsize length;
  const void *bytes = g_bytes_get_data(listener->going, &length);
  listener->calls++;
  g_output_stream_write_all_async(g_io_stream_get_output_stream(listener->stream), bytes, length,
                                  G_PRIORITY_DEFAULT, listener->cancel, on_written, listener);
}

static void
on_read(GObject *source, GAsyncResult *result, gpointer data)
{
  Listener *listener = data;
  GInputStream *input = G_INPUT_STREAM(source);
  gssize got = g_input_stream_read_finish(input, result, NULL);
  listener->calls--;
  if (got <= 0 || listener->gone) {
    leave(listener);
    return;
  }
  listener->calls++;
  g_input_stream_read_async(input, listener->end, sizeof listener->end, G_PRIORITY_DEFAULT,
                            listener->cancel, on_read, listener);
}

static void
queue(Listener *listener, const char *name, GBytes *bytes, gboolean newest_only)
{
  for (GList *at = listener->waiting.head; newest_only && at != NULL; at = at->next)
    if (strcmp(((Event *)at->data)->name, name) == 0) {
      event_free(at->data);
      g_queue_delete_link(&listener->waiting, at);
      break;
    }
  Event *event = g_new(Event, 1);
  *event = (Event){g_strdup(name), g_bytes_ref(bytes)};
  g_queue_push_tail(&listener->waiting, event);
  send_next(listener);
}

/* ---- all pages ----------------------------------------------------------------------------- */

static GBytes *
frame(const char *name, GBytes *json)
{
  gsize length;
  const char *data = g_bytes_get_data(json, &length);
  while (length > 0 && data[length - 1] == '\n')
    length--;
  GString *text = g_string_sized_new(length + 64);
  g_string_append_printf(text, "event: %s\ndata: ", name);
  g_string_append_len(text, data, (gssize)length);
  g_string_append(text, "\n\n");
  return g_string_free_to_bytes(text);
}

static void
tell_all(HfEvents *events, const char *name, GBytes *bytes, gboolean newest_only)
{
  for (guint i = events->listeners->len; i-- > 0;) {
    Listener *listener = g_ptr_array_index(events->listeners, i);
    if (listener->waiting.length >= MOST_WAITING)
      leave(listener); /* it will come again and ask for the whole state */
    else
      queue(listener, name, bytes, newest_only);
  }
}

void
hf_events_tell(HfEvents *events, const char *name, GBytes *json, gboolean newest_only)
{
  if (events->listeners->len == 0)
    return;
  g_autoptr(GBytes) bytes = frame(name, json);
  tell_all(events, name, bytes, newest_only);
}

/* A remark now and then finds out about far ends that went without a word. */
static gboolean
on_beat(gpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static(": still here\n\n", 14);
  tell_all(data, "beat", bytes, TRUE);
  return G_SOURCE_CONTINUE;
}

/* ---- joining ------------------------------------------------------------------------------- */

static GBytes *
stream_head(void)
{
  static const char head[] = "HTTP/1.1 200 OK\r\n"
                             "Content-Type: text/event-stream\r\n"
                             "Cache-Control: no-store\r\n"
                             "X-Content-Type-Options: nosniff\r\n"
                             "Connection: close\r\n"
                             "\r\n"
                             "retry: 1000\n\n";
  return g_bytes_new_static(head, sizeof head - 1);
}

/* Out of the library's own call, so that it has done with the exchange. */
static gboolean
take_stream(gpointer data)
{
  HfEvents *events = data;
  g_autoptr(SoupServerMessage) message = g_queue_pop_head(&events->joining);
  hf_visitors_gives(hf_gate_visitors(events->page->gate), message);
  GIOStream *stream = soup_server_message_steal_connection(message);
  if (stream == NULL)
    return G_SOURCE_REMOVE;
  Listener *listener = g_new0(Listener, 1);
  listener->events = events;
  listener->stream = stream;
  listener->cancel = g_cancellable_new();
  g_ptr_array_add(events->listeners, listener);
  if (events->listeners->len > MOST_LISTENERS)
    leave(g_ptr_array_index(events->listeners, 0));
  g_autoptr(GBytes) head = stream_head(), state = hf_state_bytes(events->page, TRUE);
  g_autoptr(GBytes) first = frame("state", state);
  queue(listener, "head", head, FALSE);
  queue(listener, "state", first, TRUE);
  listener->calls++;
  g_input_stream_read_async(g_io_stream_get_input_stream(stream), listener->end,
                            sizeof listener->end, G_PRIORITY_DEFAULT, listener->cancel, on_read,
                            listener);
  return G_SOURCE_REMOVE;
}

void
hf_events_join(HfEvents *events, SoupServerMessage *message)
{
  hf_visitors_serving(hf_gate_visitors(events->page->gate), message);
  soup_server_message_pause(message);
  g_queue_push_tail(&events->joining, g_object_ref(message));
  g_idle_add(take_stream, events);
}

guint
hf_events_listeners(const HfEvents *events)
{
  return events->listeners->len;
}

HfEvents *
hf_events_new(HfPage *page)
{
  HfEvents *events = g_new0(HfEvents, 1);
  events->page = page;
  events->listeners = g_ptr_array_new();
  events->beat = g_timeout_add_seconds(BEAT_SECONDS, on_beat, events);
  return events;
}

void
hf_events_free(HfEvents *events)
{
  if (events == NULL)
    return;
  g_source_remove(events->beat);
  while (g_idle_remove_by_data(events))
    ;
  g_queue_clear_full(&events->joining, g_object_unref);
  while (events->listeners->len > 0)
    leave(g_ptr_array_index(events->listeners, 0));
  g_ptr_array_unref(events->listeners);
  g_free(events);
}
