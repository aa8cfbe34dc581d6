/* SPDX-License-Identifier: GPL-3.0-or-later
 * units.c - lengths, areas and weights as text, in the unit of the thread that tells them.
 *
 * 1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly (international yard and pound agreement of 1959).
 */
#include "base/units.h"
#include "base/text.h"
#include <math.h>
#include <string.h>

#define INCH      25.4
#define FOOT      304.8
#define POUND     0.45359237
#define AS_GOOD   0.001 /* in: so near to a sixteenth is one */
#define PARTS     16
#define MOST_MORE 7 /* places, so that what is something is not told as 0 */

static _Thread_local HfUnits now;

static const char *const WORDS[HF_N_UNITS] = {
    [HF_UNITS_MM] = "mm", [HF_UNITS_INCH] = "in", [HF_UNITS_INCH_DECIMAL] = "in-decimal"};

const char *
hf_units_word(HfUnits units)
{
  return WORDS[units];
}

HfUnits
hf_units_of_word(const char *word)
{
  for (guint i = HF_UNITS_MM; i < HF_N_UNITS; i++)
    if (g_ascii_strcasecmp(word, WORDS[i]) == 0)
      return (HfUnits)i;
  return HF_UNITS_UNSAID;
}

HfUnits
hf_units_now(void)
{
  return now;
}

gboolean
hf_units_are_inches(void)
{
  return now == HF_UNITS_INCH || now == HF_UNITS_INCH_DECIMAL;
}

HfUnits
hf_units_swap(HfUnits units)
{
  HfUnits before = now;
  now = units;
  return before;
}

/* ---- lengths ------------------------------------------------------------------------------- */

/* 33-7/8; %NULL where a fraction would say too little. */
static char *
sixteenths(double inches)
{
  double size = fabs(inches), parts = round(size * PARTS);
  if (size < 1 && (parts == 0 || fabs(size - parts / PARTS) > AS_GOOD))
    return NULL;
  guint64 whole = (guint64)parts / PARTS, rest = (guint64)parts % PARTS, of = PARTS;
  for (; rest > 0 && rest % 2 == 0; rest /= 2)
    of /= 2;
  const char *sign = inches < 0 ? "-" : "";
  if (rest == 0)
    return g_strdup_printf("%s%" G_GUINT64_FORMAT, sign, whole);
  if (whole == 0)
    return g_strdup_printf("%s%" G_GUINT64_FORMAT "/%" G_GUINT64_FORMAT, sign, rest, of);
  return g_strdup_printf("%s%" G_GUINT64_FORMAT "-%" G_GUINT64_FORMAT "/%" G_GUINT64_FORMAT, sign,
                         whole, rest, of);
}

static char *
decimal_inches(double inches, int more)
{
  int places = (fabs(inches) < 10 ? 3 : 2) + more;
  char *text = hf_text_number(inches, places);
  while (strcmp(text, "0") == 0 && inches != 0 && places < MOST_MORE) {
    g_free(text);
    text = hf_text_number(inches, ++places);
  }
  return text;
}

/* The figure without its unit. */
static char *
figure(double mm, int decimals)
{
  if (!hf_units_are_inches())
    return hf_text_number(mm, decimals);
  int more = MAX(decimals - 2, 0);
  char *text = now == HF_UNITS_INCH && more == 0 ? sixteenths(mm / INCH) : NULL;
  return text != NULL ? text : decimal_inches(mm / INCH, more);
}

static const char *
unit(void)
{
  return hf_units_are_inches() ? " in" : " mm";
}

char *
hf_text_length(double mm, int decimals)
{
  g_autofree char *number = figure(mm, decimals);
  return g_strconcat(number, unit(), NULL);
}

char *
hf_text_mm(double mm)
{
  return hf_text_length(mm, fabs(mm) < 100 ? 2 : 1);
}

static char *
bound(double mm, gboolean up)
{
  if (!hf_units_are_inches())
    return hf_text_mm(mm);
  double inches = mm / INCH, size = fabs(inches), hair = 1e-9;
  gboolean fraction = now == HF_UNITS_INCH && size >= 1;
  double steps = fraction ? PARTS : size < 10 ? 1000 : 100; /* to an inch */
  inches = (up ? ceil(inches * steps - hair) : floor(inches * steps + hair)) / steps;
  g_autofree char *number = fraction ? sixteenths(inches) : decimal_inches(inches, 0);
  return g_strconcat(number, unit(), NULL);
}

char *
hf_text_at_most(double mm)
{
  return bound(mm, FALSE);
}

char *
hf_text_at_least(double mm)
{
  return bound(mm, TRUE);
}

char *
hf_text_sides(double width, int width_decimals, double height, int height_decimals, const char *by)
{
  g_autofree char *w = figure(width, width_decimals), *h = figure(height, height_decimals);
  return g_strconcat(w, by, h, unit(), NULL);
}

char *
hf_text_size(double width, double height)
{
  return hf_text_sides(width, width < 100 ? 1 : 0, height, height < 100 ? 1 : 0, " x ");
}

char *
hf_text_run(double mm, int decimals)
{
  gboolean feet = hf_units_are_inches();
  g_autofree char *number =
      feet ? hf_text_number(mm / FOOT, 1) : hf_text_number(mm / 1000, decimals);
  return g_strconcat(number, feet ? " ft" : " m", NULL);
}

char *
hf_text_feed(double mm_per_minute)
{
  gboolean inches = hf_units_are_inches();
  g_autofree char *number = hf_text_number(rint(inches ? mm_per_minute / INCH : mm_per_minute), 0);
  return g_strconcat(number, inches ? " in/min" : " mm/min", NULL);
}

/* ---- areas and weights --------------------------------------------------------------------- */

static char *
inches_area(double mm2, int more)
{
  double inches = mm2 / (INCH * INCH), size = fabs(inches);
  gboolean feet = size >= 1440 && more == 0;
  g_autofree char *number = feet ? hf_text_number(inches / 144, 2)
                                 : hf_text_number(inches, (size < 1     ? 4
                                                           : size < 100 ? 2
                                                                        : 1) +
                                                              more);
  return g_strconcat(number, feet ? " ft\u00b2" : " in\u00b2", NULL);
}

char *
hf_text_area_more(double mm2, int decimals)
{
  if (hf_units_are_inches())
    return inches_area(mm2, MIN(decimals, 4));
  g_autofree char *number = hf_text_number(mm2, decimals);
  return g_strconcat(number, " mm2", NULL);
}

char *
hf_text_area(double mm2)
{
  if (hf_units_are_inches())
    return inches_area(mm2, 0);
  double size = fabs(mm2);
  const char *square = size < 1e4 ? " mm\u00b2" : size < 1e6 ? " cm\u00b2" : " m\u00b2";
  double value = size < 1e4 ? mm2 : size < 1e6 ? mm2 / 100 : mm2 / 1e6;
  g_autofree char *number = hf_text_number(value, size < 100 || size >= 1e6 ? 2 : size < 1e4);
  return g_strconcat(number, square, NULL);
}

char *
hf_text_grams(double kg)
{
  if (hf_units_are_inches()) {
    gboolean ounces = kg < POUND;
    g_autofree char *weight = ounces ? hf_text_number(kg / POUND * 16, kg < 0.003 ? 3 : 1)
                                     : hf_text_number(kg / POUND, 2);
    return g_strconcat(weight, ounces ? " oz" : " lb", NULL);
  }
  g_autofree char *number =
      kg < 1 ? hf_text_number(kg * 1000, kg < 0.01 ? 1 : 0) : hf_text_number(kg, 2);
  return g_strconcat(number, kg < 1 ? " g" : " kg", NULL);
}

/* ---- what is written once for all ---------------------------------------------------------- */

/* " mm" and nothing more: no mm2. */
static gboolean
is_unit(const char *at)
{
  return g_str_has_prefix(at, " mm") && !g_ascii_isalnum(at[3]) && (guchar)at[3] < 0x80 &&
         at[3] != '/';
}

char *
hf_text_told(const char *fixed)
{
  if (fixed == NULL || !hf_units_are_inches())
    return g_strdup(fixed);
  g_autoptr(GString) text = g_string_new(NULL);
  for (const char *at = fixed; *at != '\0';) {
    const char *end = at;
    double mm = 0;
    gboolean begins = g_ascii_isdigit(*at) && (at == fixed || !g_ascii_isalnum(at[-1]));
    if (!begins || !hf_text_parse(at, &mm, &end) || !is_unit(end)) {
      end = MAX(end, at + 1);
      g_string_append_len(text, at, end - at);
      at = end;
      continue;
    }
    g_autofree char *length = hf_text_mm(mm);
    g_string_append(text, length);
    at = end + strlen(" mm");
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}
