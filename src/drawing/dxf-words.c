/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-words.c - text of a DXF file as people read it: code pages, escapes, marks of format.
 *
 *   in the file        before R2007 in its code page, from there on UTF-8
 *   anywhere           \U+00E9 a character, \M+1XXXX two bytes of an east Asian code page
 *   one line (TEXT)    %%d degrees, %%p plus or minus, %%c diameter, %%u underlined, %%NNN
 *   several (MTEXT)    \P a new line, \~ a blank, \f...; \H...; and so on: how it looks, \S1/2;
 *   both               ^I a tab, ^J a line feed, `^ ` a caret
 *
 * How text looks is not kept but for its face, which the style names: letters are drawn anew.
 */
#include "drawing/dxf-private.h"
#include <string.h>

/* ---- code pages ------------------------------------------------------------------------------ */

const char *
hf_dxf_codepage(const char *name)
{
  static const struct {
    const char *begins, *page;
  } families[] = {{"ANSI_125", "WINDOWS-125"},
                  {"ANSI_", "CP"},
                  {"DOS", "CP"},
                  {"ISO8859-", "ISO-8859-"},
                  {"ISO_8859-", "ISO-8859-"}};
  for (gsize i = 0; i < G_N_ELEMENTS(families); i++) {
    gsize n = strlen(families[i].begins);
    const char *number = name + n;
    gsize digits = strlen(name) > n ? strspn(number, "0123456789") : 0;
    if (g_ascii_strncasecmp(name, families[i].begins, n) == 0 && digits > 0 && digits < 5) {
      g_autofree char *page = g_strdup_printf("%s%.*s", families[i].page, (int)digits, number);
      return g_intern_string(page);
    }
  }
  return "WINDOWS-1252";
}

static char *
to_utf8(const char *text, const char *codepage)
{
  if (g_str_is_ascii(text))
    return g_strdup(text);
  if (strcmp(codepage, "UTF-8") == 0 && g_utf8_validate(text, -1, NULL))
    return g_strdup(text);
  const char *page = strcmp(codepage, "UTF-8") == 0 ? "WINDOWS-1252" : codepage;
  char *converted = g_convert(text, -1, "UTF-8", page, NULL, NULL, NULL);
  return converted != NULL ? converted : g_utf8_make_valid(text, -1);
}

/* ---- escapes --------------------------------------------------------------------------------- */

static gboolean
take_hex(const char *at, guint n, guint *ret_value)
{
  *ret_value = 0;
  for (guint i = 0; i < n; i++) {
    int digit = g_ascii_xdigit_value(at[i]);
    if (digit < 0)
      return FALSE;
    *ret_value = *ret_value * 16 + (guint)digit;
  }
  return TRUE;
}

static void
append_character(GString *out, gunichar c)
{
  g_string_append_unichar(out, g_unichar_validate(c) && c != 0 ? c : 0xfffd);
}

/* Two bytes of code page @page, 1 to 5. */
static void
append_two_bytes(GString *out, guint page, guint bytes)
{
  static const char *const pages[] = {"CP932", "BIG5", "CP949", "JOHAB", "GBK"};
  const char raw[] = {(char)(bytes >> 8), (char)bytes, '\0'};
  g_autofree char *text = page >= 1 && page <= G_N_ELEMENTS(pages)
                              ? g_convert(raw, 2, "UTF-8", pages[page - 1], NULL, NULL, NULL)
                              : NULL;
  g_string_append(out, text != NULL ? text : "\xef\xbf\xbd");
}

char *
hf_dxf_decode(const HfDxfDocument *document, const char *text)
{
  enum { UNICODE = 7, TWO_BYTES = 8 }; /* \U+XXXX, \M+NXXXX */
  if (strchr(text, '\\') == NULL)
    return to_utf8(text, document->codepage);
  g_autofree char *utf8 = to_utf8(text, document->codepage);
  GString *out = g_string_new(NULL);
  for (const char *p = utf8; *p != '\0';) {
    guint value;
    if (g_ascii_strncasecmp(p, "\\U+", 3) == 0 && take_hex(p + 3, 4, &value)) {
      append_character(out, value);
      p += UNICODE;
    } else if (g_ascii_strncasecmp(p, "\\M+", 3) == 0 && g_ascii_isdigit(p[3]) &&
               take_hex(p + 4, 4, &value)) {
      append_two_bytes(out, (guint)(p[3] - '0'), value);
      p += TWO_BYTES;
    } else {
      g_string_append_c(out, *p++);
    }
  }
  return g_string_free(out, FALSE);
}

/* `^I` and its like; returns how many bytes it took, 0: none is here. */
static guint
take_caret(const char *p, GString *out)
{
  if (p[0] != '^' || p[1] == '\0')
    return 0;
  if (p[1] == ' ')
    g_string_append_c(out, '^');
  else if (p[1] == 'J' || p[1] == 'M')
    g_string_append_c(out, '\n');
  else if (p[1] >= '@' && p[1] <= '_')
    g_string_append_c(out, ' ');
  else if (p[1] > '_' && p[1] <= '~') /* 64 less is what can be seen: `^a` is ! */
    g_string_append_c(out, (char)(p[1] - '@'));
  else if (p[1] != '?') /* delete: nothing */
    return 0;
  return 2;
}

/* ---- one line -------------------------------------------------------------------------------- */

/* What stands behind two percent signs; returns the bytes it took, 0: nothing that is known. */
static guint
take_percent(const char *p, GString *out)
{
  static const struct {
    char mark;
    const char *means;
  } marks[] = {{'d', "\xc2\xb0"}, {'p', "\xc2\xb1"}, {'c', "\xc3\x98"}, {'%', "%"},
               {'u', ""},         {'o', ""},         {'k', ""}};
  for (gsize i = 0; i < G_N_ELEMENTS(marks); i++)
    if (g_ascii_tolower(p[0]) == marks[i].mark) {
      g_string_append(out, marks[i].means);
      return 1;
    }
  guint digits = 0, code = 0;
  for (; digits < 3 && g_ascii_isdigit(p[digits]); digits++)
    code = code * 10 + (guint)(p[digits] - '0');
  if (digits > 0)
    append_character(out, code);
  return digits;
}

char *
hf_dxf_plain(const char *text)
{
  GString *out = g_string_new(NULL);
  for (const char *p = text; *p != '\0';) {
    guint taken = take_caret(p, out);
    if (taken == 0 && p[0] == '%' && p[1] == '%') {
      taken = take_percent(p + 2, out);
      taken += taken > 0 ? 2 : 0;
    }
    if (taken == 0) {
      g_string_append_c(out, *p);
      taken = 1;
    }
    p += taken;
  }
  return g_string_free(out, FALSE);
}

/* ---- several lines --------------------------------------------------------------------------- */

/* `1/2` stacked: its parts with a stroke between them, whatever parted them. */
static void
append_stacked(GString *out, const char *from, const char *to)
{
  for (const char *p = from; p < to; p++)
    g_string_append_c(out, *p == '^' || *p == '#' ? '/' : *p);
}

/* A mark begins at the backslash @p; returns what stands behind it. */
static const char *
take_mark(const char *p, GString *out)
{
  static const char with_end[] = "fFHWQTACcpS"; /* up to a semicolon */
  char mark = p[1];
  if (mark == '\0')
    return p + 1;
  if (strchr("\\{}", mark) != NULL)
    g_string_append_c(out, mark);
  else if (mark == 'P' || mark == 'N' || mark == 'X')
    g_string_append_c(out, '\n');
  else if (mark == '~')
    g_string_append_c(out, ' ');
  else if (strchr(with_end, mark) == NULL && strchr("LlOoKk", mark) == NULL)
    g_string_append_len(out, p, 2); /* no mark that is known: it stays */
  const char *end = strchr(with_end, mark) != NULL ? strchr(p + 2, ';') : NULL;
  if (end == NULL)
    return p + 2;
  if (mark == 'S')
    append_stacked(out, p + 2, end);
  return end + 1;
}

char *
hf_dxf_plain_lines(const char *text)
{
  GString *out = g_string_new(NULL);
  for (const char *p = text; *p != '\0';) {
    guint caret = take_caret(p, out);
    guint percent = caret == 0 && p[0] == '%' && p[1] == '%' ? take_percent(p + 2, out) : 0;
    if (caret > 0) {
      p += caret;
    } else if (percent > 0) {
      p += percent + 2;
    } else if (*p == '\\') {
      p = take_mark(p, out);
    } else {
      if (*p != '{' && *p != '}')
        g_string_append_c(out, *p);
      p++;
    }
  }
  return g_string_free(out, FALSE);
}
