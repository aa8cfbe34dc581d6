/* SPDX-License-Identifier: GPL-3.0-or-later
 * text.c - numbers as text that depends on no locale, and small work on UTF-8.
 *
 * Digits are those that printf gives for the exact value in the C locale; a fast way is
 * taken where the product with a power of ten is known to be far enough from halfway.
 */
#include "base/text.h"
#include <math.h>
#include <string.h>

enum { LONGEST = 64, MOST_DECIMALS = 9 };

static const double TEN_TO[MOST_DECIMALS + 1] = {1, 10, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};

/* Up to there the product of a value and a power of ten is off by 2^-22 at most: who is further
 * than that from halfway between two whole numbers rounds as the exact value does. */
static const double SURE_UP_TO = 4294967296.0, TOO_NEAR_HALFWAY = 1e-6;

/* The same digits as below, ten times as fast: an outline has thousands of numbers. %FALSE: not
 * sure enough of the last one. */
static gboolean
format_fast(char *buffer, double value, int decimals)
{
  double scaled = fabs(value) * TEN_TO[decimals], whole = floor(scaled), rest = scaled - whole;
  if (scaled >= SURE_UP_TO || fabs(rest - 0.5) < TOO_NEAR_HALFWAY)
    return FALSE;
  guint64 digits = (guint64)whole + (rest > 0.5);
  char back[LONGEST]; /* from the last digit to the first */
  int n = 0;
  for (int place = 0; digits > 0 || place <= decimals; place++, digits /= 10) {
    if (place == decimals && place > 0)
      back[n++] = '.';
    back[n++] = (char)('0' + digits % 10);
  }
  if (signbit(value))
    back[n++] = '-';
  for (int i = 0; i < n; i++)
    buffer[i] = back[n - 1 - i];
  buffer[n] = '\0';
  return TRUE;
}

/* g_ascii_formatd never looks at the locale. */
static void
format(char *buffer, double value, int decimals)
{
  g_assert(decimals >= 0 && decimals <= MOST_DECIMALS);
  g_assert(isfinite(value) && fabs(value) < 1e15);
  if (format_fast(buffer, value, decimals))
    return;
  char how[8] = {'%', '.', (char)('0' + decimals), 'f', '\0'};
  g_ascii_formatd(buffer, LONGEST, how, value);
}

static void
trim(char *buffer)
{
  if (strchr(buffer, '.') != NULL) {
    char *last = buffer + strlen(buffer) - 1;
    while (*last == '0')
      *last-- = '\0';
    if (*last == '.')
      *last = '\0';
  }
  if (strcmp(buffer, "-0") == 0) {
    buffer[0] = '0';
    buffer[1] = '\0';
  }
}

char *
hf_text_number(double value, int decimals)
{
  char buffer[LONGEST];
  format(buffer, value, decimals);
  trim(buffer);
  return g_strdup(buffer);
}

void
hf_text_append(GString *text, double value, int decimals)
{
  char buffer[LONGEST];
  format(buffer, value, decimals);
  trim(buffer);
  g_string_append(text, buffer);
}

char *
hf_text_fixed(double value, int decimals)
{
  char buffer[LONGEST];
  format(buffer, value, decimals);
  return g_strdup(buffer);
}

char *
hf_text_angle(double angle)
{
  g_autofree char *number = hf_text_number(angle * 180 / G_PI, 1);
  return g_strconcat(number, "\u00b0", NULL);
}

gboolean
hf_text_parse(const char *text, double *ret_value, const char **end)
{
  const char *at = text;
  if (*at == '-' || *at == '+')
    at++;
  guint digits = 0;
  for (; g_ascii_isdigit(*at); at++)
    digits++;
  if (*at == '.')
    for (at++; g_ascii_isdigit(*at); at++)
      digits++;
  if (digits == 0 || digits > 40)
    return FALSE;
  g_autofree char *number = g_strndup(text, (gsize)(at - text));
  *ret_value = g_ascii_strtod(number, NULL);
  *end = at;
  return TRUE;
}

guint
hf_text_distance(const char *a, const char *b)
{
  g_autofree char *fold_a = g_utf8_casefold(a, -1);
  g_autofree char *fold_b = g_utf8_casefold(b, -1);
  glong n = 0, m = 0;
  g_autofree gunichar *s = g_utf8_to_ucs4_fast(fold_a, -1, &n);
  g_autofree gunichar *t = g_utf8_to_ucs4_fast(fold_b, -1, &m);
  gsize row = (gsize)m + 1;
  g_autofree guint *d = g_new(guint, ((gsize)n + 1) * row);
  for (gsize i = 0; i <= (gsize)n; i++)
    for (gsize j = 0; j <= (gsize)m; j++) {
      guint *here = &d[i * row + j];
      if (i == 0 || j == 0) {
        *here = (guint)(i + j);
        continue;
      }
      guint swap = s[i - 1] != t[j - 1];
      *here = MIN(MIN(here[-1], here[-(gssize)row]) + 1, d[(i - 1) * row + j - 1] + swap);
      if (i > 1 && j > 1 && s[i - 1] == t[j - 2] && s[i - 2] == t[j - 1])
        *here = MIN(*here, d[(i - 2) * row + j - 2] + 1);
    }
  return d[(gsize)n * row + (gsize)m];
}

/* stainless: the one word that goes on where @given stops, at a space or hyphen; NULL when none or
 * several do. */
static const char *
continued(const char *given, const char *const *words)
{
  gsize length = strlen(given);
  const char *only = NULL;
  for (gsize i = 0; words[i] != NULL; i++)
    if (length > 0 && g_ascii_strncasecmp(words[i], given, length) == 0 &&
        (words[i][length] == ' ' || words[i][length] == '-')) {
      if (only != NULL)
        return NULL;
      only = words[i];
    }
  return only;
}

const char *
hf_text_nearest(const char *given, const char *const *words)
{
  const char *best = NULL;
  glong length = g_utf8_strlen(given, -1);
  if (length > 80)
    return NULL;
  guint least = MAX(1, (guint)length / 3) + 1;
  for (gsize i = 0; words[i] != NULL; i++) {
    guint far = hf_text_distance(given, words[i]);
    if (far < least && far < (guint)length) { /* another word altogether is no slip */
      least = far;
      best = words[i];
    }
  }
  return best != NULL ? best : continued(given, words);
}

char *
hf_text_list(const char *const *words, const char *conjunction)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (gsize i = 0; words[i] != NULL; i++) {
    if (i > 0 && words[i + 1] == NULL)
      g_string_append_printf(text, " %s ", conjunction);
    else if (i > 0)
      g_string_append(text, ", ");
    g_string_append(text, words[i]);
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}

char *
hf_text_list_some(const char *const *words, guint n, guint most, const char *conjunction)
{
  g_autoptr(GPtrArray) shown = g_ptr_array_new();
  for (guint i = 0; i < most && words[i] != NULL; i++)
    g_ptr_array_add(shown, (gpointer)words[i]);
  guint left = n > shown->len ? n - shown->len : 0;
  g_ptr_array_add(shown, NULL);
  g_autofree char *list = hf_text_list((const char *const *)shown->pdata, conjunction);
  return left > 0 ? g_strdup_printf("%s (and %u more)", list, left) : g_steal_pointer(&list);
}

char *
hf_text_ordinal(guint n)
{
  static const char *const ends[] = {"th", "st", "nd", "rd"};
  guint last = n % 10;
  gboolean teen = n % 100 >= 11 && n % 100 <= 13;
  return g_strdup_printf("%u%s", n, teen || last > 3 ? "th" : ends[last]);
}
