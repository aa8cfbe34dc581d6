/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-paint.c - whether a fill or a stroke shows, and in what colour: SVG 1.1, 11.2 and 13.
 *
 * A shade that changes over the shape or a pattern is paint all over: what it looks like is told,
 * and is nothing to a torch.
 */
#include "drawing/svg-private.h"
#include <string.h>

#define MOST_LINKS 32 /* from gradient to gradient */

/* The attribute @name of a gradient, or of the one that it goes by. */
static const char *
linked(const HfSvg *svg, const HfXmlNode *node, const char *name)
{
  for (int i = 0; node != NULL && i < MOST_LINKS; i++) {
    const char *value = hf_xml_get(node, name);
    if (value != NULL)
      return value;
    node = hf_svg_of_href(svg, node);
  }
  return NULL;
}

static gboolean
has_stops(const HfSvg *svg, const HfXmlNode *node)
{
  for (int i = 0; node != NULL && i < MOST_LINKS; i++) {
    for (const HfXmlNode *child = node->first; child != NULL; child = child->next)
      if (strcmp(child->name, "stop") == 0)
        return TRUE;
    node = hf_svg_of_href(svg, node);
  }
  return FALSE;
}

/* Is it a shade that can be laid over a shape of @box? 7.11: units of a box need one with area. */
static gboolean
can_shade(HfSvg *svg, const HfXmlNode *node, HfBox box)
{
  gboolean pattern = strcmp(node->name, "pattern") == 0;
  if (!pattern && strcmp(node->name, "linearGradient") != 0 &&
      strcmp(node->name, "radialGradient") != 0)
    return FALSE;
  const char *units = linked(svg, node, pattern ? "patternUnits" : "gradientUnits");
  gboolean own_units = units != NULL && strcmp(units, "userSpaceOnUse") == 0;
  if (!own_units && !(hf_box_width(box) > 0 && hf_box_height(box) > 0))
    return FALSE;
  return pattern || has_stops(svg, node);
}

gboolean
hf_svg_paints(HfSvg *svg, const HfPaint *paint, const HfStyle *style, double opacity, HfBox box,
              guint line, guint32 *ret_colour)
{
  HfPaint own = *paint;
  if (own.kind == HF_PAINT_CURRENT)
    own = style->color;
  if (own.kind == HF_PAINT_SERVER) {
    const char *rest = NULL;
    const HfXmlNode *server = hf_svg_of_url(svg, own.server, &rest);
    if (server != NULL && can_shade(svg, server, box)) {
      hf_drawing_note(svg->drawing, line, "a %s was taken as paint all over",
                      strcmp(server->name, "pattern") == 0 ? "pattern"
                                                           : "shade of several colours");
      own = (HfPaint){HF_PAINT_COLOUR, 0x808080, 1, NULL};
    } else if (rest == NULL || !hf_style_colour(rest, &own.colour, &own.alpha)) {
      if (rest == NULL || g_ascii_strcasecmp(rest, "currentColor") != 0)
        return FALSE;
      own = style->color;
    } else {
      own.kind = HF_PAINT_COLOUR;
    }
  }
  *ret_colour = own.colour;
  return own.kind == HF_PAINT_COLOUR && own.alpha * opacity > 0;
}
