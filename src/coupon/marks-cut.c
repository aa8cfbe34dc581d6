/* SPDX-License-Identifier: GPL-3.0-or-later
 * marks-cut.c - figures of up to seven slots each, as numerals that light up have them, so that
 * nothing of them falls out on any sheet and most are one opening, with one pierce.
 *
 *     +--- 0 ---+       slots meet at the nodes, a little wider than the kerf; where they would go
 *     5         1       all round, two of those that lie end short of a node:
 *     +--- 6 ---+              |   ______
 *     4         2              |  |______   0, its left end: a web stays
 *     +--- 3 ---+  . 7         |
 *
 * No face is needed, and a mark is as small as the sheet allows.
 */
#include "coupon/coupon-private.h"

/* Bits by the numbers above: what is there; what ends short at its left, at its right. */
static const struct {
  char sign;
  guint8 slots, left, right;
} signs[] = {
    {'0', 0x3f, 1 << 0, 1 << 3}, {'1', 0x30, 0, 0},           {'2', 0x5b, 0, 0},
    {'3', 0x4f, 0, 0},           {'4', 0x66, 0, 0},           {'5', 0x6d, 0, 0},
    {'6', 0x7d, 1 << 3, 1 << 6}, {'7', 0x07, 0, 0},           {'8', 0x7f, 1 << 0 | 1 << 3, 1 << 6},
    {'9', 0x6f, 1 << 0, 1 << 6}, {'A', 0x77, 1 << 0, 1 << 6}, {'B', 0x7c, 1 << 3, 1 << 6},
    {'C', 0x39, 0, 0},           {'D', 0x5e, 1 << 6, 1 << 3}, {'E', 0x79, 0, 0},
    {'F', 0x71, 0, 0},           {'G', 0x3d, 0, 0},           {'.', 0x80, 0, 0},
};
enum { LIE = 1 << 0 | 1 << 3 | 1 << 6, POINT = 1 << 7 };

#define SLOT_OVER 0.3  /* mm over the kerf */
#define WEB_SHARE 0.5  /* of the usual limit of a short web */
#define GAP_SHARE 0.8  /* of that of a long one: from one figure to the next */
#define IN_SHARE  1.15 /* of it: between two slots of one figure */
#define LEAST_IN  4.0  /* mm */

HfMarkSize
hf_mark_size(const HfProcess *process)
{
  double web = hf_law_usual(HF_LAW_THIN_LONG_WEB, process).stop;
  double slot = process->kerf + SLOT_OVER;
  return (HfMarkSize){.slot = slot,
                      .web = WEB_SHARE * hf_law_usual(HF_LAW_THIN_WEB, process).stop,
                      .cell = slot + fmax(LEAST_IN, IN_SHARE * web),
                      .gap = GAP_SHARE * web};
}

static double
advance(const HfMarkSize *size, char sign)
{
  return size->slot + size->gap + (sign == '.' || sign == '1' ? 0 : size->cell);
}

double
hf_mark_width(const HfMarkSize *size, const char *mark)
{
  double width = -size->gap;
  for (const char *at = mark; *at != '\0'; at++)
    width += advance(size, *at);
  return width;
}

double
hf_mark_height(const HfMarkSize *size)
{
  return 2 * size->cell + size->slot;
}

/* One sign, its lowest left node at @node. */
static void
add_sign(const HfMarkSize *size, gsize sign, HfPoint node, const HfMarks *marks)
{
  double cell = size->cell, short_by = (size->slot + size->web) / 2;
  const HfPoint middle[] = {
      {cell / 2, 2 * cell}, {cell, 1.5 * cell}, {cell, 0.5 * cell}, {cell / 2, 0},
      {0, 0.5 * cell},      {0, 1.5 * cell},    {cell / 2, cell},   {0, 0}};
  for (guint i = 0; i < G_N_ELEMENTS(middle); i++) {
    guint bit = 1u << i;
    gboolean left = (signs[sign].left & bit) != 0, right = (signs[sign].right & bit) != 0;
    HfPoint at = hf_point_add(node, middle[i]);
    at.x += left ? short_by : right ? -short_by : 0;
    GArray *to = (bit & POINT) != 0 ? marks->points
                 : left || right    ? marks->shorter
                 : (bit & LIE) != 0 ? marks->level
                                    : marks->upright;
    if ((signs[sign].slots & bit) != 0)
      g_array_append_val(to, at);
  }
}

void
hf_mark_add(const HfMarkSize *size, const char *mark, HfPoint middle, const HfMarks *marks)
{
  HfPoint node = {middle.x - hf_mark_width(size, mark) / 2 + size->slot / 2, middle.y - size->cell};
  for (const char *at = mark; *at != '\0'; at++) {
    for (gsize i = 0; i < G_N_ELEMENTS(signs); i++)
      if (signs[i].sign == *at)
        add_sign(size, i, node, marks);
    node.x += advance(size, *at);
  }
}
