/* SPDX-License-Identifier: GPL-3.0-or-later
 * colour.c - colours of CSS Color 3 and 4: names, #rgb, rgb(), hsl(), transparent.
 */
#include "drawing/style-private.h"
#include "drawing/svg-private.h"
#include <string.h>

typedef struct {
  const char *name;
  guint32 colour;
} Named;

static const Named named[] = {
#include "drawing/colours.def"
};

static gboolean
scan_name(const char **p, guint32 *ret)
{
  char word[24];
  guint n = 0;
  while (g_ascii_isalpha((*p)[n]) && n + 1 < sizeof word) {
    word[n] = g_ascii_tolower((*p)[n]);
    n++;
  }
  word[n] = '\0';
  for (guint i = 0; i < G_N_ELEMENTS(named); i++)
    if (strcmp(named[i].name, word) == 0) {
      *ret = named[i].colour;
      *p += n;
      return TRUE;
    }
  return FALSE;
}

static gboolean
scan_hex(const char **p, guint32 *ret, double *alpha)
{
  guint digit[8], n = 0;
  const char *c = *p + 1;
  while (n < 8 && g_ascii_isxdigit(c[n])) {
    digit[n] = (guint)g_ascii_xdigit_value(c[n]);
    n++;
  }
  if ((n != 3 && n != 4 && n != 6 && n != 8) || g_ascii_isxdigit(c[n]))
    return FALSE;
  guint each = n < 6 ? 1 : 2, part[4] = {0, 0, 0, 255};
  for (guint i = 0; i < n / each; i++)
    part[i] = each == 1 ? digit[i] * 17 : digit[2 * i] * 16 + digit[2 * i + 1];
  *ret = part[0] << 16 | part[1] << 8 | part[2];
  *alpha = part[3] / 255.0;
  *p = c + n;
  return TRUE;
}

/* The numbers of a function, commas or none between them; @share: those with a % sign. */
static guint
scan_numbers(const char **p, double number[4], gboolean share[4])
{
  guint n = 0;
  hf_svg_space(p);
  while (n < 4 && hf_svg_number(p, &number[n])) {
    share[n] = **p == '%';
    *p += share[n] ? 1 : 0;
    if (g_str_has_prefix(*p, "deg"))
      *p += 3;
    n++;
    hf_svg_comma(p);
    if (**p == '/') {
      (*p)++;
      hf_svg_space(p);
    }
  }
  return n;
}

static double
hue_part(double h, double s, double l, double shift)
{
  double k = fmod(shift + h / 30, 12);
  k = k < 0 ? k + 12 : k;
  return l - s * MIN(l, 1 - l) * MAX(-1, MIN(MIN(k - 3, 9 - k), 1)); /* CSS Color 4, 7.1 */
}

static guint
byte_of(double share)
{
  return (guint)lrint(CLAMP(share, 0, 1) * 255);
}

static gboolean
scan_function(const char **p, guint32 *ret, double *alpha)
{
  gboolean hsl = g_ascii_strncasecmp(*p, "hsl", 3) == 0;
  if (!hsl && g_ascii_strncasecmp(*p, "rgb", 3) != 0)
    return FALSE;
  const char *c = *p + 3;
  c += *c == 'a' || *c == 'A' ? 1 : 0;
  double v[4] = {0, 0, 0, 1};
  gboolean share[4] = {FALSE};
  if (*c++ != '(')
    return FALSE;
  guint n = scan_numbers(&c, v, share);
  if (n < 3 || *c++ != ')')
    return FALSE;
  double part[3];
  for (int i = 0; i < 3; i++) {
    static const double shift[3] = {0, 8, 4};
    part[i] = hsl ? hue_part(v[0], CLAMP(v[1] / 100, 0, 1), CLAMP(v[2] / 100, 0, 1), shift[i])
                  : v[i] / (share[i] ? 100 : 255);
  }
  *ret = byte_of(part[0]) << 16 | byte_of(part[1]) << 8 | byte_of(part[2]);
  *alpha = CLAMP(share[3] ? v[3] / 100 : v[3], 0, 1);
  *p = c;
  return TRUE;
}

gboolean
hf_style_scan_colour(const char **p, guint32 *ret_colour, double *ret_alpha)
{
  guint32 colour = 0;
  double alpha = 1;
  if (g_ascii_strncasecmp(*p, "transparent", 11) == 0) {
    *p += 11;
    alpha = 0;
  } else if (**p == '#') {
    if (!scan_hex(p, &colour, &alpha))
      return FALSE;
  } else if (!scan_function(p, &colour, &alpha) && !scan_name(p, &colour)) {
    return FALSE;
  }
  *ret_colour = colour;
  *ret_alpha = alpha;
  return TRUE;
}

gboolean
hf_style_colour(const char *text, guint32 *ret_colour, double *ret_alpha)
{
  const char *p = text;
  guint32 colour;
  double alpha;
  hf_svg_space(&p);
  if (!hf_style_scan_colour(&p, &colour, &alpha))
    return FALSE;
  hf_svg_space(&p);
  if (*p != '\0' && !g_str_has_prefix(p, "icc-color"))
    return FALSE;
  *ret_colour = colour;
  *ret_alpha = alpha;
  return TRUE;
}
