/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-scan.c - numbers and lists of transforms: SVG 1.1, 4.2 and 7.6; CSS Transforms 1.
 */
#include "drawing/svg-private.h"
#include <string.h>

gboolean
hf_svg_number(const char **p, double *ret)
{
  const char *c = *p, *digits;
  if (*c == '+' || *c == '-')
    c++;
  digits = c;
  while (g_ascii_isdigit(*c))
    c++;
  gsize n = (gsize)(c - digits);
  if (*c == '.' && g_ascii_isdigit(c[1])) {
    c++;
    while (g_ascii_isdigit(*c))
      c++;
  } else if (*c == '.' && n > 0) {
    c++; /* `1.`: a slip that everybody reads */
  } else if (n == 0) {
    return FALSE;
  }
  if ((*c == 'e' || *c == 'E') &&
      (g_ascii_isdigit(c[1]) || ((c[1] == '+' || c[1] == '-') && g_ascii_isdigit(c[2])))) {
    c += 2;
    while (g_ascii_isdigit(*c))
      c++;
  }
  *ret = g_ascii_strtod(*p, NULL);
  *p = c;
  return TRUE;
}

void
hf_svg_space(const char **p)
{
  while (**p == ' ' || **p == '\t' || **p == '\n' || **p == '\r' || **p == '\f')
    (*p)++;
}

void
hf_svg_comma(const char **p)
{
  hf_svg_space(p);
  if (**p == ',') {
    (*p)++;
    hf_svg_space(p);
  }
}

/* ---- transforms ------------------------------------------------------------------------------ */

static HfMatrix
of_matrix(const double *v, guint n G_GNUC_UNUSED)
{
  return (HfMatrix){v[0], v[2], v[1], v[3], v[4], v[5]};
}

static HfMatrix
of_translate(const double *v, guint n)
{
  return hf_matrix_move(v[0], n > 1 ? v[1] : 0);
}

static HfMatrix
of_scale(const double *v, guint n)
{
  return hf_matrix_scale(v[0], n > 1 ? v[1] : v[0]);
}

static HfMatrix
of_rotate(const double *v, guint n)
{
  HfMatrix turn = hf_matrix_turn(v[0] * G_PI / 180);
  if (n < 3)
    return turn;
  HfMatrix there = hf_matrix_move(-v[1], -v[2]), back = hf_matrix_move(v[1], v[2]);
  return hf_matrix_then(hf_matrix_then(there, turn), back);
}

static HfMatrix
of_skew_x(const double *v, guint n G_GNUC_UNUSED)
{
  return (HfMatrix){1, tan(v[0] * G_PI / 180), 0, 1, 0, 0};
}

static HfMatrix
of_skew_y(const double *v, guint n G_GNUC_UNUSED)
{
  return (HfMatrix){1, 0, tan(v[0] * G_PI / 180), 1, 0, 0};
}

static const struct {
  const char *name;
  HfMatrix (*of)(const double *values, guint n);
  guint counts; /* bits: how many values it may have */
} functions[] = {
    {"matrix", of_matrix, 1 << 6},        {"translate", of_translate, 1 << 1 | 1 << 2},
    {"scale", of_scale, 1 << 1 | 1 << 2}, {"rotate", of_rotate, 1 << 1 | 1 << 3},
    {"skewX", of_skew_x, 1 << 1},         {"skewY", of_skew_y, 1 << 1},
};

/* Units of CSS: px and deg are what attributes mean; turns and others are brought there. */
static double
unit_behind(const char **p)
{
  static const struct {
    const char *name;
    double factor;
  } units[] = {{"px", 1},         {"deg", 1},    {"rad", 180 / G_PI},
               {"grad", 0.9},     {"turn", 360}, {"mm", 96 / 25.4},
               {"cm", 96 / 2.54}, {"in", 96},    {"pt", 96.0 / 72}};
  for (guint i = 0; i < G_N_ELEMENTS(units); i++)
    if (g_str_has_prefix(*p, units[i].name)) {
      *p += strlen(units[i].name);
      return units[i].factor;
    }
  return 1;
}

static gboolean
scan_function(const char **p, HfMatrix *ret)
{
  for (guint i = 0; i < G_N_ELEMENTS(functions); i++) {
    gsize length = strlen(functions[i].name);
    if (strncmp(*p, functions[i].name, length) != 0)
      continue;
    *p += length;
    hf_svg_space(p);
    if (*(*p)++ != '(')
      return FALSE;
    double value[6];
    guint n = 0;
    hf_svg_space(p);
    while (n < 6 && hf_svg_number(p, &value[n])) {
      value[n++] *= unit_behind(p);
      hf_svg_comma(p);
    }
    if (*(*p)++ != ')' || (functions[i].counts & 1u << n) == 0)
      return FALSE;
    *ret = functions[i].of(value, n);
    return TRUE;
  }
  return FALSE;
}

gboolean
hf_svg_transform(const char *text, HfMatrix *ret)
{
  HfMatrix all = HF_MATRIX_IDENTITY, one;
  const char *p = text;
  hf_svg_space(&p);
  while (*p != '\0') {
    if (!scan_function(&p, &one))
      return FALSE;
    all = hf_matrix_then(one, all);
    hf_svg_comma(&p);
  }
  *ret = all;
  return TRUE;
}
