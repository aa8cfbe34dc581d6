/* SPDX-License-Identifier: GPL-3.0-or-later
 * json.h - writes JSON, line by line, with our own numbers (base/text.h).
 *
 *   HfJson *json = hf_json_new();        {
 *   hf_json_open(json, NULL, '{');         "verdict": "whole",
 *   hf_json_text(json, "verdict", ..);     "at": {"x": 1.5, "y": 2}
 *   hf_json_line(json, "at", '{');       }
 *   ...
 * A library's printer would give 3.7037034000000002, so this one is ours. Keys are written in the
 * order in which they come. Inside an array the key is %NULL.
 */
#pragma once
#include <glib.h>

typedef struct HfJson HfJson;

HfJson *hf_json_new(void);
/** hf_json_free: frees it and all that it owns; %NULL: nothing. */
void hf_json_free(HfJson *json);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfJson, hf_json_free)

/** hf_json_open: @bracket: '{' or '['. hf_json_line: the same, all of it on one line. */
void hf_json_open(HfJson *json, const char *key, char bracket);
void hf_json_line(HfJson *json, const char *key, char bracket);
/** hf_json_close: ends the object or array that was opened last and not yet closed; there
 *  must be one. */
void hf_json_close(HfJson *json);

/** hf_json_text: %NULL gives null; bytes that are not UTF-8 become U+FFFD. */
void hf_json_text(HfJson *json, const char *key, const char *value);
/** hf_json_number: NAN and infinities give null: JSON has no word for them. */
void hf_json_number(HfJson *json, const char *key, double value, int decimals);
/** hf_json_bool: true or false. */
void hf_json_bool(HfJson *json, const char *key, gboolean value);

/** hf_json_raw: @value is JSON already. */
void hf_json_raw(HfJson *json, const char *key, const char *value, gsize length);

/** hf_json_members: @members are those of an object, as JSON already, with their keys; not empty.
 */
void hf_json_members(HfJson *json, const char *members, gsize length);

/** hf_json_finish: (transfer full) the bytes, a line break at their end; everything is closed. */
GBytes *hf_json_finish(HfJson *json);
