/* SPDX-License-Identifier: GPL-3.0-or-later
 * Lengths, quantities and directions as people write them.
 *
 *   number   digits[.digits] | n/n | n-n/n | n n/n | digits and a vulgar fraction (1 1/2 as one
 * sign) length   [-] number unit, or feet and then inches
 *
 * 1 in = 25.4 mm and 1 ft = 304.8 mm exactly (international yard and pound agreement of 1959; from
 * memory). Nothing here looks at the locale.
 */
#include "base/text.h"
#include "recipe/measure-private.h"
#include <string.h>

static const HfUnit units_length[] = {
    {"mm", 1},    {"cm", 10},   {"m", 1000},  {"in", 25.4},  {"inch", 25.4},  {"inches", 25.4},
    {"\"", 25.4}, {"″", 25.4},  {"”", 25.4},  {"ft", 304.8}, {"foot", 304.8}, {"feet", 304.8},
    {"'", 304.8}, {"′", 304.8}, {"’", 304.8}, {NULL, 0},
};
const HfUnit hf_units_angle[] = {
    {"deg", G_PI / 180}, {"degree", G_PI / 180}, {"degrees", G_PI / 180}, {"°", G_PI / 180},
    {NULL, 0},
};
const HfUnit hf_units_feed[] = {
    {"mm/min", 1},
    {"m/min", 1000},
    {"in/min", 25.4},
    {NULL, 0},
};
const HfUnit hf_units_faster[] = {
    {"mm/s2", 1}, {"mm/s²", 1}, {"m/s2", 1000}, {"m/s²", 1000}, {"in/s2", 25.4}, {NULL, 0},
};
const HfUnit hf_units_time[] = {{"s", 1}, {"ms", 0.001}, {NULL, 0}};
const HfUnit hf_units_ampere[] = {{"A", 1}, {NULL, 0}};
static const HfUnit units_gauge[] = {{"ga", 1}, {"ga.", 1}, {"gauge", 1}, {NULL, 0}};

static const struct {
  const char *sign;
  double value;
} vulgar[] = {
    {"½", 1 / 2.0}, {"¼", 1 / 4.0}, {"¾", 3 / 4.0}, {"⅛", 1 / 8.0},
    {"⅜", 3 / 8.0}, {"⅝", 5 / 8.0}, {"⅞", 7 / 8.0},
};

static const char *
skip_space(const char *at)
{
  while (*at == ' ' || *at == '\t')
    at++;
  return at;
}

/* digits only; FALSE without any or with too many to be exact */
static gboolean
read_whole(const char **at, double *ret_value)
{
  const char *end = *at;
  double value = 0;
  for (; g_ascii_isdigit(*end); end++)
    value = value * 10 + (*end - '0');
  if (end == *at || end - *at > 9)
    return FALSE;
  *at = end;
  *ret_value = value;
  return TRUE;
}

static gboolean
read_fraction(const char **at, double *ret_value)
{
  for (gsize i = 0; i < G_N_ELEMENTS(vulgar); i++)
    if (g_str_has_prefix(*at, vulgar[i].sign)) {
      *at += strlen(vulgar[i].sign);
      *ret_value = vulgar[i].value;
      return TRUE;
    }
  const char *end = *at;
  double top = 0, bottom = 0;
  if (!read_whole(&end, &top) || *end != '/')
    return FALSE;
  end++;
  if (!read_whole(&end, &bottom) || bottom == 0)
    return FALSE;
  *at = end;
  *ret_value = top / bottom;
  return TRUE;
}

/* A number without a sign: 12, 1.5, 3/16, 1-1/2, 1 1/2. */
static gboolean
read_number(const char **at, double *ret_value)
{
  const char *end = *at;
  double value = 0, part = 0;
  if (read_fraction(&end, &value)) {
    *at = end;
    *ret_value = value;
    return TRUE;
  }
  if (*end == '-' || *end == '+' || !hf_text_parse(end, &value, &end))
    return FALSE;
  const char *more = *end == '-' ? end + 1 : skip_space(end);
  if (value == floor(value) && read_fraction(&more, &part)) {
    value += part;
    end = more;
  }
  *at = end;
  *ret_value = value;
  return TRUE;
}

static gboolean
read_sign(const char **at)
{
  static const char minus[] = "\xe2\x88\x92"; /* U+2212 */
  if (g_str_has_prefix(*at, minus)) {
    *at += strlen(minus);
    return TRUE;
  }
  if (**at == '-') {
    (*at)++;
    return TRUE;
  }
  if (**at == '+')
    (*at)++;
  return FALSE;
}

/* The longest unit that the text goes on with, up to a space, a digit or the end. */
static const HfUnit *
read_unit(const char **at, const HfUnit *units)
{
  const HfUnit *best = NULL;
  gsize longest = 0;
  for (const HfUnit *unit = units; unit->unit != NULL; unit++) {
    gsize n = strlen(unit->unit);
    if (n > longest && g_ascii_strncasecmp(*at, unit->unit, n) == 0 && !g_ascii_isalpha((*at)[n])) {
      best = unit;
      longest = n;
    }
  }
  *at += longest;
  return best;
}

static void refuse(GError **error, const char *fix, const char *format, ...) G_GNUC_PRINTF(3, 4);
static void
refuse(GError **error, const char *fix, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *what = g_strdup_vprintf(format, args);
  va_end(args);
  hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, fix, "%s", what);
}

static gboolean
refuse_not_length(const char *text, GError **error)
{
  refuse(error, "write a number and its unit: 140 mm, 5-1/2 in, 3/16\"", "\"%s\" is not a length",
         text);
  return FALSE;
}

/* 2026-03-14 (ISO 8601), 14/3/2026 */
static gboolean
is_date(const char *text)
{
  static const char *const forms[] = {"####-##-##", "####-#-#", "##/##/####", "#/##/####",
                                      "##/#/####",  "#/#/####", "##.##.####", "#.#.####"};
  for (gsize i = 0; i < G_N_ELEMENTS(forms); i++) {
    gsize k = 0;
    while (forms[i][k] == '#' ? g_ascii_isdigit(text[k])
                              : forms[i][k] != '\0' && forms[i][k] == text[k])
      k++;
    if (forms[i][k] == '\0' && text[k] == '\0')
      return TRUE;
  }
  return FALSE;
}

/* 3O mm, 1l0 mm: letters that are typed for 0 and 1. */
static char *
figure_of_letters(const char *text)
{
  char *figure = g_strdup(text);
  for (char *at = figure; *at != '\0' && (g_ascii_isdigit(*at) || strchr("oOlI.-", *at) != NULL);
       at++)
    *at = *at == 'o' || *at == 'O' ? '0' : *at == 'l' || *at == 'I' ? '1' : *at;
  return figure;
}

static gboolean
is_figure_with_letters(const char *text)
{
  double mm = 0;
  g_autofree char *figure = figure_of_letters(text);
  return strcmp(figure, text) != 0 && hf_measure_length(figure, HF_NO_GAUGE, NULL, &mm, NULL);
}

static gboolean
refuse_no_unit(const char *text, const char *rest, GError **error)
{
  if (is_date(text)) {
    refuse(error, "write a length such as 140 mm", "\"%s\" is a date, a length is wanted", text);
  } else if (*rest == '\0') {
    g_autofree char *fix = g_strdup_printf("say the unit: %s mm, or %s in", text, text);
    refuse(error, fix, "\"%s\" has no unit", text);
  } else if (*rest == ',' && g_ascii_isdigit(rest[1])) {
    g_autofree char *fix = g_strdup(text);
    fix[rest - text] = '.';
    g_autofree char *whole = g_strdup_printf("write decimals with a point: %s", fix);
    refuse(error, whole, "\"%s\" has a decimal comma", text);
  } else if (strcmp(rest, "%") == 0) {
    refuse(error, "write a length such as 140 mm", "\"%s\" is a share, a length is wanted", text);
  } else if (g_ascii_isdigit(*rest) || (g_ascii_ispunct(*rest) && strchr("%/\"'", *rest) == NULL)) {
    return refuse_not_length(text, error);
  } else if (strchr("oOlI", *rest) != NULL && is_figure_with_letters(text)) {
    g_autofree char *figure = figure_of_letters(text);
    g_autofree char *fix = g_strdup_printf("write %s", figure);
    refuse(error, fix, "\"%s\" has a letter where a digit belongs", text);
  } else {
    refuse(error, "use mm, cm, m, in or ft", "\"%s\" has the unit \"%s\", which is not known", text,
           rest);
  }
  return FALSE;
}

/* 10 ga: what it is depends on the metal. */
static gboolean
read_gauge(const char *text, double number, HfGaugeUse use, const HfMetalKind *metal,
           double *ret_mm, GError **error)
{
  if (use == HF_NO_GAUGE) {
    refuse(error, "write a length such as 3 mm", "\"%s\": a gauge is only a thickness of metal",
           text);
    return FALSE;
  }
  if (metal == NULL) {
    refuse(error, "say the kind of metal, or write the thickness in mm or in",
           "\"%s\": a gauge needs its metal", text);
    return FALSE;
  }
  int gauge = number == (double)(int)CLAMP(number, 0, 1000) ? (int)number : -1;
  double mm = gauge < 0 ? NAN : hf_gauge(metal->gauges, gauge);
  if (isnan(mm)) {
    int nearest = hf_gauge_nearest(metal->gauges, (int)CLAMP(number, 0, 1000));
    g_autofree char *fix = g_strdup_printf("write %d ga, or the thickness in mm or in", nearest);
    refuse(error, fix, "\"%s\" is not a gauge of %s", text, metal->key);
    return FALSE;
  }
  *ret_mm = mm;
  return TRUE;
}

/* 5' 6-1/2": inches after feet. */
static gboolean
read_inches(const char **at, double *ret_mm)
{
  const char *end = skip_space(*at);
  double number = 0;
  if (*end == '-')
    end = skip_space(end + 1);
  if (!read_number(&end, &number))
    return FALSE;
  end = skip_space(end);
  const HfUnit *unit = read_unit(&end, units_length);
  if (unit == NULL || unit->factor != 25.4 || number >= 12)
    return FALSE;
  *at = end;
  *ret_mm = number * 25.4;
  return TRUE;
}

gboolean
hf_measure_length(const char *text, HfGaugeUse gauge_use, const HfMetalKind *metal, double *ret_mm,
                  GError **error)
{
  const char *at = skip_space(text);
  gboolean negative = read_sign(&at);
  double number = 0, inches = 0;
  at = skip_space(at);
  if (!read_number(&at, &number))
    return refuse_not_length(text, error);
  at = skip_space(at);
  const char *rest = at;
  if (read_unit(&rest, units_gauge) != NULL && *skip_space(rest) == '\0' && !negative)
    return read_gauge(text, number, gauge_use, metal, ret_mm, error);
  rest = at;
  const HfUnit *unit = read_unit(&rest, units_length);
  if (unit == NULL)
    return refuse_no_unit(text, at, error);
  if (unit->factor == 304.8 && *skip_space(rest) != '\0' && !read_inches(&rest, &inches))
    return refuse_not_length(text, error);
  if (*skip_space(rest) != '\0')
    return refuse_not_length(text, error);
  double mm = number * unit->factor + inches;
  *ret_mm = negative ? -mm : mm;
  return TRUE;
}

const char *
hf_measure_unit(const char *text)
{
  static const char *const metric[] = {"mm", "cm", "m"};
  for (gsize i = 0; i < G_N_ELEMENTS(metric); i++) {
    const char *unit = strpbrk(text, "mMcC");
    if (unit != NULL && g_ascii_strncasecmp(unit, metric[i], strlen(metric[i])) == 0)
      return metric[i];
  }
  return "in";
}

gboolean
hf_recipe_length(const char *text, const char *metal, double *ret_mm, GError **error)
{
  const HfMetalKind *kind = metal != NULL ? hf_metal(metal) : NULL;
  return hf_measure_length(text, kind != NULL ? HF_GAUGE_ALLOWED : HF_NO_GAUGE, kind, ret_mm,
                           error);
}

gboolean
hf_measure_quantity(const char *text, const HfUnit *units, const char *example, double *ret_value,
                    GError **error)
{
  const char *at = skip_space(text);
  gboolean negative = read_sign(&at);
  double number = 0;
  const HfUnit *unit = NULL;
  if (read_number(&at, &number)) {
    at = skip_space(at);
    unit = read_unit(&at, units);
  }
  if (unit == NULL || *skip_space(at) != '\0') {
    g_autofree char *fix = g_strdup_printf("write it like this: %s", example);
    refuse(error, fix, "\"%s\" is not a number in %s", text, units->unit);
    return FALSE;
  }
  *ret_value = (negative ? -number : number) * unit->factor;
  return TRUE;
}

gboolean
hf_measure_number(const char *text, double *ret_value, GError **error)
{
  const char *at = skip_space(text);
  gboolean negative = read_sign(&at);
  double number = 0;
  if (!read_number(&at, &number) || *skip_space(at) != '\0') {
    refuse(error, "write a number such as 5 or 0.4, without a unit", "\"%s\" is not a number",
           text);
    return FALSE;
  }
  *ret_value = negative ? -number : number;
  return TRUE;
}

gboolean
hf_measure_share(const char *text, HfMeasure *ret_measure, GError **error)
{
  const char *at = skip_space(text);
  gboolean negative = read_sign(&at);
  double number = 0;
  if (read_number(&at, &number) && strcmp(skip_space(at), "%") == 0) {
    *ret_measure = (HfMeasure){(negative ? -number : number) / 100, TRUE};
    return TRUE;
  }
  double mm = 0;
  g_autoptr(GError) inner = NULL;
  if (!hf_measure_length(text, HF_NO_GAUGE, NULL, &mm, &inner)) {
    const char *bare = skip_space(text);
    negative = read_sign(&bare);
    if (read_number(&bare, &number) && *skip_space(bare) == '\0') {
      g_autofree char *fix = g_strdup_printf("say which: %s mm, or %s %%", text, text);
      refuse(error, fix, "\"%s\" is neither a length nor a share", text);
    } else {
      refuse(error, "write a length such as 2 mm, or a share such as 10 %",
             "\"%s\" is neither a length nor a share", text);
    }
    return FALSE;
  }
  *ret_measure = (HfMeasure){mm, FALSE};
  return TRUE;
}

gboolean
hf_measure_limit(const char *text, double *ret_value, const char **ret_unit, GError **error)
{
  static const HfUnit others[] = {{"mm2", 1}, {"mm²", 1}, {"deg", 1}, {"°", 1},
                                  {"K", 1},   {"%", 1},   {"kg", 1},  {NULL, 0}};
  static const char *const names[] = {"mm2", "mm2", "deg", "deg", "K", "%", "kg"};
  const char *at = skip_space(text);
  double number = 0, mm = 0;
  if (read_number(&at, &number)) {
    at = skip_space(at);
    const HfUnit *unit = read_unit(&at, others);
    if (*skip_space(at) == '\0') {
      *ret_value = number;
      *ret_unit = unit == NULL ? "" : names[unit - others];
      return TRUE;
    }
  }
  if (!hf_measure_length(text, HF_NO_GAUGE, NULL, &mm, NULL) || mm < 0) {
    refuse(error, "write it like this: 3 mm, 2 deg, 10 mm2 or 27 K", "\"%s\" is not a limit", text);
    return FALSE;
  }
  *ret_value = mm;
  *ret_unit = "mm";
  return TRUE;
}

/* Degrees counter-clockwise from 3 o'clock. */
static const struct {
  const char *word;
  HfSpotKind kind;
  double degrees;
} spots[] = {
    {"top", HF_SPOT_DIRECTION, 90},          {"bottom", HF_SPOT_DIRECTION, 270},
    {"left", HF_SPOT_DIRECTION, 180},        {"right", HF_SPOT_DIRECTION, 0},
    {"top left", HF_SPOT_DIRECTION, 135},    {"top right", HF_SPOT_DIRECTION, 45},
    {"bottom left", HF_SPOT_DIRECTION, 225}, {"bottom right", HF_SPOT_DIRECTION, 315},
    {"left end", HF_SPOT_LEFT_END, 0},       {"right end", HF_SPOT_RIGHT_END, 0},
    {"centre", HF_SPOT_CENTRE, 0},           {"center", HF_SPOT_CENTRE, 0},
};

/* 11 o'clock stands 30 degrees before 12, which is the top. */
static gboolean
read_hour(const char *text, double *ret_degrees)
{
  const char *at = text;
  double hour = 0;
  if (!read_whole(&at, &hour) || hour < 1 || hour > 12)
    return FALSE;
  at = skip_space(at);
  if (g_ascii_strcasecmp(at, "o'clock") != 0 && g_ascii_strcasecmp(at, "o’clock") != 0 &&
      g_ascii_strcasecmp(at, "oclock") != 0)
    return FALSE;
  double degrees = 90 - 30 * hour;
  *ret_degrees = degrees < 0 ? degrees + 360 : degrees;
  return TRUE;
}

gboolean
hf_measure_spot(const char *text, HfSpot *ret_spot, GError **error)
{
  g_autofree char *trimmed = g_strstrip(g_strdup(text));
  for (gsize i = 0; i < G_N_ELEMENTS(spots); i++)
    if (g_ascii_strcasecmp(trimmed, spots[i].word) == 0) {
      *ret_spot = (HfSpot){.kind = spots[i].kind, .angle = spots[i].degrees * (G_PI / 180)};
      return TRUE;
    }
  double degrees = 0, angle = 0;
  if (read_hour(trimmed, &degrees)) {
    *ret_spot = (HfSpot){.kind = HF_SPOT_DIRECTION, .angle = degrees * (G_PI / 180)};
    return TRUE;
  }
  if (hf_measure_quantity(trimmed, hf_units_angle, "30 deg", &angle, NULL) && fabs(angle) < 7) {
    *ret_spot = (HfSpot){.kind = HF_SPOT_DIRECTION, .angle = angle};
    return TRUE;
  }
  const char *words[G_N_ELEMENTS(spots) + 1] = {NULL};
  for (gsize i = 0; i < G_N_ELEMENTS(spots); i++)
    words[i] = spots[i].word;
  const char *near = hf_text_nearest(trimmed, words);
  g_autofree char *fix = near != NULL
                             ? g_strdup_printf("write \"%s\"", near)
                             : g_strdup("write top, bottom left, 11 o'clock, 30 deg, left end, "
                                        "centre or [10 mm, 20 mm]");
  refuse(error, fix, "\"%s\" is not a place or direction", text);
  return FALSE;
}

gboolean
hf_measure_looks_like_length(const char *text)
{
  const char *at = skip_space(text);
  read_sign(&at);
  double number = 0, degrees = 0, angle = 0;
  return read_number(&at, &number) && !read_hour(skip_space(text), &degrees) &&
         !hf_measure_quantity(text, hf_units_angle, "", &angle, NULL);
}
