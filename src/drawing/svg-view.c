/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-view.c - a box of user units brought into a viewport: SVG 1.1, 7.7 and 7.8.
 */
#include "drawing/svg-private.h"
#include <string.h>

gboolean
hf_svg_view_box(const char *text, HfBox *ret)
{
  double v[4];
  const char *p = text;
  hf_svg_space(&p);
  for (int i = 0; i < 4; i++) {
    if (!hf_svg_number(&p, &v[i]) || !isfinite(v[i]))
      return FALSE;
    hf_svg_comma(&p);
  }
  if (*p != '\0' || !(v[2] > 0 && v[3] > 0))
    return FALSE;
  *ret = (HfBox){{v[0], v[1]}, {v[0] + v[2], v[1] + v[3]}};
  return TRUE;
}

/* Which share of what is left over lies before the box: Min 0, Mid a half, Max all. */
static double
share_of(const char *word, char axis)
{
  const char *at = strchr(word, axis);
  if (at == NULL)
    return 0.5;
  return g_str_has_prefix(at + 1, "Min") ? 0 : g_str_has_prefix(at + 1, "Max") ? 1 : 0.5;
}

gboolean
hf_svg_view(const char *view_box, const char *aspect, HfPoint size, HfMatrix *ret, HfBox *ret_box)
{
  HfBox box;
  if (view_box == NULL || !hf_svg_view_box(view_box, &box)) {
    *ret = HF_MATRIX_IDENTITY;
    *ret_box = (HfBox){{0, 0}, size};
    return TRUE;
  }
  if (!(size.x > 0 && size.y > 0))
    return FALSE;
  const char *word = aspect == NULL ? "xMidYMid" : aspect;
  HfPoint k = {size.x / hf_box_width(box), size.y / hf_box_height(box)};
  if (strstr(word, "none") == NULL)
    k.x = k.y = strstr(word, "slice") != NULL ? MAX(k.x, k.y) : MIN(k.x, k.y);
  HfPoint spare = {size.x - k.x * hf_box_width(box), size.y - k.y * hf_box_height(box)};
  HfPoint at = {spare.x * share_of(word, 'x'), spare.y * share_of(word, 'Y')};
  *ret = (HfMatrix){k.x, 0, 0, k.y, at.x - k.x * box.min.x, at.y - k.y * box.min.y};
  *ret_box = (HfBox){hf_matrix_undo(*ret, hf_point(0, 0)), hf_matrix_undo(*ret, size)};
  return TRUE;
}
