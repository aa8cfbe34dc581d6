/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-transform.c - an element's own matrix, about its own origin: CSS Transforms 1, 4 to 6.
 */
#include "drawing/svg-private.h"
#include <string.h>

/* A keyword or a length along one axis. */
static gboolean
scan_origin(const char **p, const HfSvgAt *at, int axis, double *ret)
{
  static const struct {
    const char *word;
    double share;
    int axis; /* 2: either */
  } words[] = {
      {"left", 0, 0}, {"right", 1, 0}, {"top", 0, 1}, {"bottom", 1, 1}, {"center", 0.5, 2}};
  double whole = axis == 0 ? at->viewport.x : at->viewport.y;
  for (guint i = 0; i < G_N_ELEMENTS(words); i++)
    if (g_str_has_prefix(*p, words[i].word) && (words[i].axis == axis || words[i].axis == 2)) {
      *p += strlen(words[i].word);
      *ret = words[i].share * whole;
      return TRUE;
    }
  HfStyleLength length;
  if (!hf_style_scan_length(p, &at->style, &length))
    return FALSE;
  *ret = length.unit == HF_UNIT_PERCENT ? length.value / 100 * whole : length.value;
  return TRUE;
}

static HfPoint
origin_of(const HfSvgAt *at)
{
  const char *text = at->style.transform_origin, *p = text;
  if (text == NULL)
    return hf_point(0, 0);
  HfPoint origin = hf_point_scale(at->viewport, 0.5);
  hf_svg_space(&p);
  gboolean down_first = g_str_has_prefix(p, "top") || g_str_has_prefix(p, "bottom");
  if (!scan_origin(&p, at, down_first ? 1 : 0, down_first ? &origin.y : &origin.x))
    return hf_point(0, 0);
  hf_svg_space(&p);
  if (*p != '\0' && !scan_origin(&p, at, down_first ? 0 : 1, down_first ? &origin.x : &origin.y))
    return hf_point(0, 0);
  return origin;
}

gboolean
hf_svg_own_matrix(const HfSvgAt *at, HfMatrix *ret)
{
  HfMatrix m;
  if (at->style.transform == NULL || !hf_svg_transform(at->style.transform, &m)) {
    *ret = HF_MATRIX_IDENTITY;
    return TRUE;
  }
  double det = m.xx * m.yy - m.xy * m.yx;
  if (!isfinite(det) || fabs(det) < 1e-18 || !isfinite(m.x0 + m.y0))
    return FALSE;
  HfPoint origin = origin_of(at);
  HfMatrix there = hf_matrix_move(-origin.x, -origin.y), back = hf_matrix_move(origin.x, origin.y);
  *ret = hf_matrix_then(hf_matrix_then(there, m), back);
  return TRUE;
}
