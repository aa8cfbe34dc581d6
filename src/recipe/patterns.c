/* SPDX-License-Identifier: GPL-3.0-or-later
 * patterns.c - what a value looks like when it is written well: regular expressions for editors
 * and for the page, which tries a value while one types. The reader itself does not go by them.
 */
#include "recipe/schema-private.h"
#include <string.h>

#define NUMBER "(\\d+/\\d+|\\d+[- ]\\d+/\\d+|\\d+ ?[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\\d+\\.?\\d*|\\.\\d+)"
#define INCH   "(inches|inch|in|\"|″|”)"
#define FEET   "(feet|foot|ft|'|′|’)"
#define LENGTH                                                                                     \
  "[-+−]? ?" NUMBER " ?(mm|cm|m|" INCH ")|[-+−]? ?" NUMBER " ?" FEET "( ?-? ?" NUMBER " ?" INCH ")?"

static const struct {
  const char *name, *pattern;
} texts[] = {
    {"length", "^(" LENGTH ")$"},
    {"thickness", "^(" LENGTH "|\\d+ ?(ga|ga\\.|gauge))$"},
    {"length-or-share", "^(" LENGTH "|[-+−]?" NUMBER " ?%)$"},
    {"spacing", "^(joined|joined pair by pair|" LENGTH "|[-+−]?" NUMBER " ?%)$"},
    {"quantity", "^[-+−]?" NUMBER " ?[A-Za-z°/]+$"},
    {"limit", "^(" NUMBER " ?(mm2|mm²|deg|°|K)?|" LENGTH ")$"},
    {"place", "^(top|bottom|left|right|(top|bottom) (left|right)|(left|right) end|cent(re|er)|"
              "(1[0-2]|[1-9]) ?o['’]?clock|[-+−]?" NUMBER " ?(deg|degree|degrees|°))$"},
    {"file", "^(?![/\\\\~])(?!.*\\.\\.).+$"},
};

const char *const hf_patterns[] = {"length",  "thickness", "length-or-share",
                                   "spacing", "quantity",  "limit",
                                   "place",   "file",      NULL};

const char *
hf_field_ref(HfFieldType type)
{
  static const char *const refs[HF_N_FIELD_TYPES] = {
      [HF_FIELD_LENGTH] = "length",
      [HF_FIELD_THICKNESS] = "thickness",
      [HF_FIELD_SHARE] = "length-or-share",
      [HF_FIELD_SPACING] = "spacing",
      [HF_FIELD_QUANTITY] = "quantity",
      [HF_FIELD_YES] = "yes-or-no",
      [HF_FIELD_MAYBE] = "yes-or-no",
      [HF_FIELD_TEXT] = "text",
      [HF_FIELD_NAME] = "text",
      [HF_FIELD_PIN] = "text",
      [HF_FIELD_PATH] = "file",
      [HF_FIELD_SPOT] = "place",
      [HF_FIELD_COLOUR] = "text",
      [HF_FIELD_WALL] = "text",
  };
  return refs[type];
}

/* The reader takes units and places in either case; JSON Schema knows no such flag, so each letter
 * outside brackets becomes a class of two. */
static char *
either_case(const char *pattern)
{
  GString *text = g_string_new(NULL);
  gboolean in_class = FALSE;
  for (const char *c = pattern; *c != '\0'; c++) {
    in_class = *c == '[' || (in_class && *c != ']');
    if (*c == '\\' && c[1] != '\0') {
      g_string_append_len(text, c++, 2);
    } else if (!in_class && g_ascii_isalpha(*c)) {
      g_string_append_printf(text, "[%c%c]", g_ascii_tolower(*c), g_ascii_toupper(*c));
    } else {
      g_string_append_c(text, *c);
    }
  }
  return g_string_free(text, FALSE);
}

char *
hf_pattern(const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
    if (strcmp(texts[i].name, name) == 0)
      return strcmp(name, "file") == 0 ? g_strdup(texts[i].pattern) : either_case(texts[i].pattern);
  return NULL;
}
