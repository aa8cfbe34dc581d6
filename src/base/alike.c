/* SPDX-License-Identifier: GPL-3.0-or-later
 * alike.c - a table of letters, and what is said of them.
 */
#include "base/alike.h"
#include "base/seen.h"
#include "base/text.h"
#include <string.h>

/* Letters and digits of Greek, Cyrillic and Armenian whose prototype is that of one letter or digit
 * of ASCII; where several share it, the letter of the same case. Source: Unicode Technical Standard
 * 39, confusables.txt (15.0). */
static const struct {
  gunichar c;
  char plain;
} TABLE[] = {
    {0x037f, 'J'}, {0x0391, 'A'}, {0x0392, 'B'}, {0x0395, 'E'}, {0x0396, 'Z'}, {0x0397, 'H'},
    {0x0399, 'I'}, {0x039a, 'K'}, {0x039c, 'M'}, {0x039d, 'N'}, {0x039f, 'O'}, {0x03a1, 'P'},
    {0x03a4, 'T'}, {0x03a5, 'Y'}, {0x03a7, 'X'}, {0x03b1, 'a'}, {0x03b3, 'y'}, {0x03b9, 'i'},
    {0x03bd, 'v'}, {0x03bf, 'o'}, {0x03c1, 'p'}, {0x03c3, 'o'}, {0x03c5, 'u'}, {0x03d2, 'Y'},
    {0x03dc, 'F'}, {0x03e8, '2'}, {0x03f1, 'p'}, {0x03f2, 'c'}, {0x03f3, 'j'}, {0x03f9, 'C'},
    {0x03fa, 'M'}, {0x0405, 'S'}, {0x0406, 'I'}, {0x0408, 'J'}, {0x0410, 'A'}, {0x0412, 'B'},
    {0x0415, 'E'}, {0x0417, '3'}, {0x041a, 'K'}, {0x041c, 'M'}, {0x041d, 'H'}, {0x041e, 'O'},
    {0x0420, 'P'}, {0x0421, 'C'}, {0x0422, 'T'}, {0x0423, 'Y'}, {0x0425, 'X'}, {0x042c, 'b'},
    {0x0430, 'a'}, {0x0431, '6'}, {0x0433, 'r'}, {0x0435, 'e'}, {0x043e, 'o'}, {0x0440, 'p'},
    {0x0441, 'c'}, {0x0443, 'y'}, {0x0445, 'x'}, {0x0455, 's'}, {0x0456, 'i'}, {0x0458, 'j'},
    {0x0461, 'w'}, {0x0474, 'V'}, {0x0475, 'v'}, {0x04ae, 'Y'}, {0x04af, 'y'}, {0x04bb, 'h'},
    {0x04bd, 'e'}, {0x04c0, 'I'}, {0x04cf, 'i'}, {0x04e0, '3'}, {0x0501, 'd'}, {0x050c, 'G'},
    {0x051b, 'q'}, {0x051c, 'W'}, {0x051d, 'w'}, {0x054d, 'U'}, {0x054f, 'S'}, {0x0555, 'O'},
    {0x0561, 'w'}, {0x0563, 'q'}, {0x0566, 'q'}, {0x0570, 'h'}, {0x0578, 'n'}, {0x057c, 'n'},
    {0x057d, 'u'}, {0x0581, 'g'}, {0x0584, 'f'}, {0x0585, 'o'}, {0xa644, '2'}, {0xa647, 'i'},
};

static const struct {
  gunichar from, to;
  const char *name;
} ALPHABETS[] = {
    {0x0370, 0x03ff, "Greek"},      {0x0400, 0x052f, "Cyrillic"},
    {0x0530, 0x058f, "Armenian"},   {0xa640, 0xa69f, "Cyrillic"},
    {0xff01, 0xff5e, "full-width"}, {0x1d400, 0x1d7ff, "mathematical"},
};

static const char *
alphabet_of(gunichar c)
{
  for (gsize i = 0; i < G_N_ELEMENTS(ALPHABETS); i++)
    if (c >= ALPHABETS[i].from && c <= ALPHABETS[i].to)
      return ALPHABETS[i].name;
  return NULL;
}

char
hf_alike_of(gunichar c, const char **ret_alphabet)
{
  const char *alphabet = c >= 0x80 ? alphabet_of(c) : NULL;
  if (ret_alphabet != NULL)
    *ret_alphabet = alphabet;
  if (alphabet == NULL)
    return 0;
  for (gsize i = 0; i < G_N_ELEMENTS(TABLE); i++)
    if (TABLE[i].c == c)
      return TABLE[i].plain;
  gunichar made[G_UNICHAR_MAX_DECOMPOSITION_LENGTH];
  gsize n = g_unichar_fully_decompose(c, TRUE, made, G_N_ELEMENTS(made));
  return n == 1 && made[0] > ' ' && made[0] < 0x7f ? (char)made[0] : 0;
}

static gboolean
is_unseen(gunichar c)
{
  char utf8[7] = {0};
  g_unichar_to_utf8(c, utf8);
  return c >= 0x80 && !g_unichar_isspace(c) && hf_seen_is_blank(utf8);
}

char *
hf_alike_plain(const char *text)
{
  GString *plain = g_string_sized_new(strlen(text));
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    char ours = hf_alike_of(c, NULL);
    if (ours != 0)
      g_string_append_c(plain, ours);
    else if (!is_unseen(c))
      g_string_append_unichar(plain, c);
  }
  return g_string_free(plain, FALSE);
}

char *
hf_alike_say(const char *text)
{
  guint n = 0, first = 0;
  gunichar found = 0;
  gboolean ours = FALSE, theirs = FALSE;
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    n++;
    if (hf_alike_of(c, NULL) == 0) {
      ours |= c < 0x80 && g_ascii_isalpha((char)c);
      theirs |= c >= 0x80 && g_unichar_isalpha(c);
    } else if (found == 0) {
      found = c;
      first = n;
    }
  }
  if (found == 0 || (theirs && !ours))
    return NULL;
  const char *alphabet = NULL;
  char plain = hf_alike_of(found, &alphabet), utf8[7] = {0};
  g_unichar_to_utf8(found, utf8);
  g_autofree char *which = hf_text_ordinal(first);
  return g_strdup_printf("its %s character '%s' (U+%04X) is %s and only looks like %c", which, utf8,
                         found, alphabet, plain);
}

gboolean
hf_alike_mixed(const char *text)
{
  gboolean ours = FALSE, alike = FALSE;
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at)) {
    gunichar c = g_utf8_get_char(at);
    ours |= c < 0x80 && g_ascii_isalpha((char)c);
    alike |= hf_alike_of(c, NULL) != 0;
  }
  return ours && alike;
}
