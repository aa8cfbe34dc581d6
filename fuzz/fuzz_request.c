/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_request.c - any bytes as the body of a request: one JSON object, or an honest refusal.
 */
#include "page/page-private.h"

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autoptr(GError) error = NULL;
  JsonObject *ask = hf_ask_read((const char *)data, size, &error);
  g_assert((ask == NULL) == (error != NULL));
  if (ask == NULL)
    return 0;
  static const char *const keys[] = {"revision", "edits", "text", "over", "path"};
  for (gsize i = 0; i < G_N_ELEMENTS(keys); i++) {
    hf_ask_flag(ask, keys[i]);
    const char *text = hf_ask_text(ask, keys[i]);
    g_assert(text == NULL || g_utf8_validate(text, -1, NULL));
  }
  json_object_unref(ask);
  return 0;
}
