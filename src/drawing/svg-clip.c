/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-clip.c - what clip paths leave: SVG 1.1, 14.3. Masks are told and not followed.
 *
 * A clip is the union of its children's forms (each by its own clip), within the clip's own clip.
 */
#include "drawing/svg-private.h"
#include <string.h>

static void
part_free(gpointer data)
{
  HfSvgClipPart *part = (HfSvgClipPart *)data;
  hf_linework_free(part->lines);
  g_free(part);
}

void
hf_svg_clip_free(gpointer data)
{
  HfSvgClip *clip = (HfSvgClip *)data;
  g_ptr_array_unref(clip->parts);
  g_free(clip);
}

static HfSvgClip *
clip_new(HfSvg *svg, const HfSvgClip *outer)
{
  HfSvgClip *clip = g_new0(HfSvgClip, 1);
  clip->parts = g_ptr_array_new_with_free_func(part_free);
  clip->outer = outer;
  clip->box = HF_BOX_EMPTY;
  g_ptr_array_add(svg->clips, clip);
  return clip;
}

static void
add_part(HfSvgClip *clip, HfLinework *lines, HfMatrix matrix, gboolean even_odd,
         const HfSvgClip *own)
{
  HfSvgClipPart *part = g_new0(HfSvgClipPart, 1);
  *part = (HfSvgClipPart){lines, matrix, even_odd, own};
  g_ptr_array_add(clip->parts, part);
}

static HfLinework *
box_lines(HfBox box)
{
  HfLinework *lines = hf_linework_new();
  hf_linework_begin(lines, box.min);
  hf_linework_line(lines, hf_point(box.max.x, box.min.y));
  hf_linework_line(lines, box.max);
  hf_linework_line(lines, hf_point(box.min.x, box.max.y));
  hf_linework_close(lines);
  return lines;
}

const HfSvgClip *
hf_svg_clip_box(HfSvg *svg, const HfSvgClip *outer, HfBox box, HfMatrix matrix)
{
  HfSvgClip *clip = clip_new(svg, outer);
  add_part(clip, box_lines(box), matrix, FALSE, NULL);
  if (matrix.xy == 0 && matrix.yx == 0) {
    clip->box = hf_box_add_point(clip->box, hf_matrix_apply(matrix, box.min));
    clip->box = hf_box_add_point(clip->box, hf_matrix_apply(matrix, box.max));
  }
  return clip;
}

/* ---- clipPath -------------------------------------------------------------------------------- */

static const HfSvgClip *clip_of(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfBox box,
                                gboolean *ret_none);

static gboolean
is_followed(const HfSvg *svg, const HfXmlNode *node)
{
  return g_ptr_array_find(svg->path, node, NULL);
}

/* One child, or what a `use` among them means: 14.3.5. */
static void
add_child(HfSvg *svg, HfSvgClip *clip, const HfXmlNode *node, const HfSvgAt *at, gboolean may_use)
{
  HfSvgAt own;
  if (!hf_svg_enter(svg, node, at, &own))
    return;
  gboolean none = FALSE;
  const HfSvgClip *by = hf_svg_clip(svg, node, &own, &none);
  if (none)
    return;
  own.clip = by;
  if (strcmp(node->name, "use") == 0) {
    const HfXmlNode *target = may_use ? hf_svg_of_href(svg, node) : NULL;
    if (target == NULL)
      return;
    HfPoint shift = {hf_svg_told(&own, hf_xml_get(node, "x"), 0, 0),
                     hf_svg_told(&own, hf_xml_get(node, "y"), 1, 0)};
    own.matrix = hf_matrix_then(hf_matrix_move(shift.x, shift.y), own.matrix);
    add_child(svg, clip, target, &own, FALSE);
    return;
  }
  gboolean is_text = strcmp(node->name, "text") == 0;
  HfLinework *lines = is_text             ? hf_svg_text_lines(svg, node, &own)
                      : own.style.visible ? hf_svg_shape(svg, node, &own)
                                          : NULL;
  if (lines != NULL)
    add_part(clip, lines, own.matrix, own.style.clip_even_odd && !is_text, by);
}

/* The style that a clip's children inherit from where the clip stands, not from what is clipped. */
void
hf_svg_style_there(HfSvg *svg, const HfXmlNode *node, HfStyle *ret)
{
  HfStyle parent = hf_style_initial();
  if (node->parent != NULL)
    hf_svg_style_there(svg, node->parent, &parent);
  hf_styler_style(svg->styler, node, &parent, ret);
}

/* @box: of what is clipped, in its units. */
static const HfSvgClip *
follow(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfBox box, gboolean *ret_none)
{
  HfSvgAt own = *at;
  own.clip = NULL;
  hf_svg_style_there(svg, node, &own.style);
  HfMatrix m;
  if (!hf_svg_own_matrix(&own, &m)) {
    *ret_none = TRUE;
    return NULL;
  }
  own.matrix = hf_matrix_then(m, own.matrix);
  const char *units = hf_xml_get(node, "clipPathUnits");
  if (units != NULL && strcmp(units, "objectBoundingBox") == 0) {
    if (!(hf_box_width(box) > 0 && hf_box_height(box) > 0)) {
      *ret_none = TRUE;
      return NULL;
    }
    HfMatrix to_box = {hf_box_width(box), 0, 0, hf_box_height(box), box.min.x, box.min.y};
    own.matrix = hf_matrix_then(to_box, own.matrix);
  }
  const HfSvgClip *outer = at->clip;
  if (own.style.clip_path != NULL) { /* the clip's own clip, in the units of what is clipped */
    HfSvgAt there = *at;
    there.style = own.style;
    outer = clip_of(svg, node, &there, box, ret_none);
    if (*ret_none)
      return NULL;
  }
  HfSvgClip *clip = clip_new(svg, outer);
  for (const HfXmlNode *child = node->first; child != NULL && !hf_svg_ended(svg);
       child = child->next)
    add_child(svg, clip, child, &own, TRUE);
  return clip;
}

static gboolean
is_url(const char *text)
{
  return g_ascii_strncasecmp(text, "url(", 4) == 0;
}

/* What `clip-path` of @at's style says. */
static const HfSvgClip *
clip_of(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfBox box, gboolean *ret_none)
{
  const char *told = at->style.clip_path;
  HfXmlNode *target = told != NULL && is_url(told) ? hf_svg_of_url(svg, told, NULL) : NULL;
  if (told != NULL && !is_url(told))
    hf_drawing_note(svg->drawing, node->line, "a clip by a formula of CSS was left out");
  if (target == NULL || strcmp(target->name, "clipPath") != 0)
    return at->clip;
  if (is_followed(svg, target)) {
    hf_drawing_note(svg->drawing, node->line, "a clip that leads back to itself was left out");
    return at->clip;
  }
  g_ptr_array_add(svg->path, target);
  const HfSvgClip *clip = follow(svg, target, at, box, ret_none);
  g_ptr_array_set_size(svg->path, (gint)svg->path->len - 1);
  return clip;
}

const HfSvgClip *
hf_svg_clip(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, gboolean *ret_none)
{
  *ret_none = FALSE;
  if (at->style.mask != NULL)
    hf_drawing_note(svg->drawing, node->line, "a mask was left out: it may hide parts");
  if (at->style.filter != NULL)
    hf_drawing_note(svg->drawing, node->line, "a filter was left out");
  if (at->style.clip_path == NULL || svg->measured != NULL)
    return at->clip;
  const char *units = NULL;
  HfXmlNode *target =
      is_url(at->style.clip_path) ? hf_svg_of_url(svg, at->style.clip_path, NULL) : NULL;
  if (target != NULL)
    units = hf_xml_get(target, "clipPathUnits");
  HfBox box = units != NULL && strcmp(units, "objectBoundingBox") == 0 ? hf_svg_box(svg, node, at)
                                                                       : HF_BOX_EMPTY;
  return clip_of(svg, node, at, box, ret_none);
}
