/* SPDX-License-Identifier: GPL-3.0-or-later
 * calls-coupon.c - what came out of a coupon, said on its picture.
 */
#include "page/page-private.h"
#include "run/couponed.h"
#include <string.h>

enum { MOST_SAID = 12, MOST_LETTERS = 100 };

void
hf_call_coupon(HfPage *page, const HfAsked *asked)
{
  HfVersion *open = page->document != NULL ? hf_version_of(page) : NULL;
  g_autoptr(GBytes) bytes =
      open != NULL ? hf_coupon_seen(open->text, open->length) : g_bytes_new_static("null\n", 5);
  hf_version_free(open);
  hf_answer(asked->message, SOUP_STATUS_OK, "application/json; charset=utf-8", bytes);
}

/* Keys and texts of `said` in turn, by name; anything else in it is refused with the results. */
static GPtrArray *
said_of(JsonObject *ask)
{
  GPtrArray *said = g_ptr_array_new_with_free_func(g_free);
  JsonNode *node = json_object_get_member(ask, "said");
  JsonObject *all =
      node != NULL && JSON_NODE_HOLDS_OBJECT(node) ? json_node_get_object(node) : NULL;
  g_autoptr(GList) keys = all != NULL ? json_object_get_members(all) : NULL;
  for (GList *at = keys; at != NULL && said->len < 2 * MOST_SAID; at = at->next) {
    const char *value = hf_ask_text(all, at->data);
    if (value == NULL || strlen(value) > MOST_LETTERS || strlen(at->data) > MOST_LETTERS)
      continue;
    g_ptr_array_add(said, g_strdup(at->data));
    g_ptr_array_add(said, g_strdup(value));
  }
  g_ptr_array_add(said, NULL);
  return said;
}

void
hf_call_learn(HfPage *page, const HfAsked *asked)
{
  g_autoptr(GError) error = NULL;
  HfVersion *open = hf_version_of(page);
  g_autoptr(GPtrArray) said = said_of(asked->body);
  g_autofree char *told = NULL;
  g_autofree char *file = hf_coupon_take_said(open->text, open->length, open->file,
                                              (const char *const *)said->pdata, &told, &error);
  hf_version_free(open);
  if (file == NULL) {
    hf_answer_error(page, asked->message, 0, error);
    return;
  }
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "file", file);
  hf_json_text(json, "told", told);
  hf_json_close(json);
  hf_answer_json(asked->message, SOUP_STATUS_OK, json);
}
