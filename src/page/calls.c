/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls.c - the table of addresses. docs/page.md says what each takes and gives.
 */
#include "page/page-private.h"
#include <string.h>

static void
hf_call_events(HfPage *page, const HfAsked *asked)
{
  hf_events_join(page->events, asked->message);
}

/* What changes names the revision that it is about, and is refused when that is not the latest. */
typedef enum { READS, WRITES, CHANGES } Way;

static const struct {
  const char *path; /* ending in `/`: the rest is a name */
  Way way;
  gboolean raw; /* the body is no JSON */
  HfCall call;
} CALLS[] = {
    {"state", READS, FALSE, hf_call_state},        {"events", READS, FALSE, hf_call_events},
    {"edit", CHANGES, FALSE, hf_call_edit},        {"text", CHANGES, FALSE, hf_call_text},
    {"undo", CHANGES, FALSE, hf_call_undo},        {"redo", CHANGES, FALSE, hf_call_redo},
    {"save", CHANGES, FALSE, hf_call_save},        {"reload", CHANGES, FALSE, hf_call_reload},
    {"open", WRITES, FALSE, hf_call_open},         {"recipes", READS, FALSE, hf_call_recipes},
    {"starters", READS, FALSE, hf_call_starters},  {"kinds", READS, FALSE, hf_call_kinds},
    {"cautions", READS, FALSE, hf_call_cautions},  {"disk", READS, FALSE, hf_call_disk},
    {"fonts", READS, FALSE, hf_call_fonts},        {"font.svg", READS, FALSE, hf_call_font_svg},
    {"font", WRITES, TRUE, hf_call_font},          {"starter/", READS, FALSE, hf_call_starter_svg},
    {"choice/", READS, FALSE, hf_call_choice_svg}, {"outputs", READS, FALSE, hf_call_outputs},
    {"output/", READS, FALSE, hf_call_output},     {"cures", CHANGES, FALSE, hf_call_cures},
    {"cure/", READS, FALSE, hf_call_cure_svg},     {"take", CHANGES, FALSE, hf_call_take},
    {"sign.zip", READS, FALSE, hf_call_zip},       {"make", CHANGES, FALSE, hf_call_make},
    {"coupon", READS, FALSE, hf_call_coupon},      {"learn", CHANGES, FALSE, hf_call_learn},
};

static gboolean
fits(const char *pattern, const char *path, const char **ret_rest)
{
  gsize length = strlen(pattern);
  gboolean open = pattern[length - 1] == '/';
  *ret_rest = path + length;
  return open ? strncmp(path, pattern, length) == 0 && path[length] != '\0'
              : strcmp(path, pattern) == 0;
}

static void
do_call(HfPage *page, SoupServerMessage *message, gsize i, const char *rest, GHashTable *query)
{
  g_autoptr(GError) error = NULL;
  HfAsked asked = {message, rest, query, NULL};
  if (CALLS[i].way != READS && !CALLS[i].raw) {
    asked.body = hf_ask(message, &error);
    if (asked.body == NULL) {
      hf_answer_error(page, message, SOUP_STATUS_BAD_REQUEST, error);
      return;
    }
  }
  if (CALLS[i].way != CHANGES || hf_call_is_current(page, message, asked.body))
    CALLS[i].call(page, &asked);
  g_clear_pointer(&asked.body, json_object_unref);
}

static void
on_call(HfPage *page, SoupServerMessage *message, const char *name, GHashTable *query)
{
  gboolean reads = soup_server_message_get_method(message) == SOUP_METHOD_GET;
  const char *rest;
  for (gsize i = 0; i < G_N_ELEMENTS(CALLS); i++)
    if (fits(CALLS[i].path, name, &rest)) {
      if ((CALLS[i].way == READS) == reads)
        do_call(page, message, i, rest, query);
      else
        hf_answer_refusal(message, SOUP_STATUS_METHOD_NOT_ALLOWED,
                          reads ? "this is sent with POST" : "this is asked for with GET", NULL);
      return;
    }
  hf_answer_refusal(message, SOUP_STATUS_NOT_FOUND, "there is no such address", NULL);
}

static void
on_file(SoupServerMessage *message, const char *path)
{
  const char *type;
  g_autoptr(GBytes) bytes =
      soup_server_message_get_method(message) == SOUP_METHOD_GET ? hf_asset(path, &type) : NULL;
  if (bytes != NULL)
    hf_answer(message, SOUP_STATUS_OK, type, bytes);
  else
    hf_answer_refusal(message, SOUP_STATUS_NOT_FOUND, "there is no such address", NULL);
}

static void
on_request(SoupServer *server, SoupServerMessage *message, const char *path, GHashTable *query,
           gpointer data)
{
  HfPage *page = data;
  (void)server;
  const char *asked = hf_gate_let_in(page->gate, message, path);
  if (asked == NULL)
    return;
  if (g_str_has_prefix(asked, "/api/"))
    on_call(page, message, asked + strlen("/api/"), query);
  else
    on_file(message, asked);
}

void
hf_calls_add(HfPage *page)
{
  soup_server_add_handler(page->server, NULL, on_request, page, NULL);
}
