/* SPDX-License-Identifier: GPL-3.0-or-later
 * svg-walk.c - structure: groups, links, choices, copies, viewports in viewports. SVG 1.1, 5 and 7.
 */
#include "drawing/svg-private.h"
#include <string.h>

/* ---- what is meant --------------------------------------------------------------------------- */

static HfXmlNode *
by_id(const HfSvg *svg, const char *id, gsize length)
{
  g_autofree char *key = g_strndup(id, length);
  return (HfXmlNode *)g_hash_table_lookup(svg->by_id, g_strstrip(key));
}

HfXmlNode *
hf_svg_of_url(const HfSvg *svg, const char *url, const char **ret_rest)
{
  const char *p = strchr(url, '('), *end;
  if (p == NULL || (end = strchr(p, ')')) == NULL)
    return NULL;
  if (ret_rest != NULL) {
    *ret_rest = end + 1;
    hf_svg_space(ret_rest);
  }
  p++;
  hf_svg_space(&p);
  char quote = *p == '"' || *p == '\'' ? *p++ : '\0';
  const char *close = quote != '\0' ? strchr(p, quote) : end;
  if (*p != '#' || close == NULL || close > end)
    return NULL;
  return by_id(svg, p + 1, (gsize)(close - p - 1));
}

HfXmlNode *
hf_svg_of_href(const HfSvg *svg, const HfXmlNode *node)
{
  const char *href = hf_xml_get(node, "href");
  if (href == NULL)
    href = hf_xml_get(node, "xlink:href");
  if (href == NULL)
    return NULL;
  hf_svg_space(&href);
  return *href == '#' ? by_id(svg, href + 1, strlen(href + 1)) : NULL;
}

/* ---- going in -------------------------------------------------------------------------------- */

gboolean
hf_svg_enter(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at, HfSvgAt *ret)
{
  HfMatrix m;
  *ret = *at;
  if (++svg->walked > HF_SVG_MOST_WALKED) {
    hf_svg_refuse(svg, HF_ERROR_TOO_BIG, node->line, "simplify the drawing, or take a part of it",
                  "it unfolds to more than %d elements", HF_SVG_MOST_WALKED);
    return FALSE;
  }
  if (++ret->depth > HF_SVG_DEEPEST) {
    hf_svg_refuse(svg, HF_ERROR_TOO_BIG, node->line, "take groups and copies apart",
                  "its groups and copies lie more than %d deep in each other", HF_SVG_DEEPEST);
    return FALSE;
  }
  hf_styler_style(svg->styler, node, &at->style, &ret->style);
  if (!ret->style.shown || !hf_svg_own_matrix(ret, &m))
    return FALSE;
  ret->matrix = hf_matrix_then(m, at->matrix);
  return isfinite(ret->matrix.xx + ret->matrix.xy + ret->matrix.yx + ret->matrix.yy +
                  ret->matrix.x0 + ret->matrix.y0);
}

static void
walk_children(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  for (const HfXmlNode *child = node->first; child != NULL && !hf_svg_ended(svg);
       child = child->next)
    hf_svg_walk(svg, child, at);
}

static void
walk_group(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own)
{
  gboolean none;
  own->clip = hf_svg_clip(svg, node, own, &none);
  if (!none)
    walk_children(svg, node, own);
}

/* ---- choices --------------------------------------------------------------------------------- */

/* 5.8: the tool's user reads English; a list of languages may name it. */
static gboolean
speaks(const char *languages)
{
  g_auto(GStrv) words = g_strsplit(languages, ",", 100);
  for (guint i = 0; words[i] != NULL; i++) {
    const char *word = g_strstrip(words[i]);
    if (g_ascii_strncasecmp(word, "en", 2) == 0 && (word[2] == '\0' || word[2] == '-'))
      return TRUE;
  }
  return FALSE;
}

static gboolean
may_show(const HfXmlNode *node)
{
  const char *language = hf_xml_get(node, "systemLanguage");
  const char *extensions = hf_xml_get(node, "requiredExtensions");
  return (language == NULL || speaks(language)) && extensions == NULL;
}

static const char *const drawn[] = {"g",        "a",       "svg",  "use",    "switch",
                                    "path",     "rect",    "line", "circle", "ellipse",
                                    "polyline", "polygon", "text", "image",  NULL};

static void
walk_switch(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own)
{
  gboolean none;
  own->clip = hf_svg_clip(svg, node, own, &none);
  for (const HfXmlNode *child = node->first; !none && child != NULL; child = child->next)
    if (g_strv_contains(drawn, child->name) && may_show(child)) {
      hf_svg_walk(svg, child, own);
      return;
    }
}

/* ---- viewports ------------------------------------------------------------------------------- */

static double
told(const HfXmlNode *node, const HfSvgAt *at, const char *name, int along, double otherwise)
{
  return hf_svg_told(at, hf_xml_get(node, name), along, otherwise);
}

/* What lies in a viewport of @size whose corner is the origin of @own's units. */
static void
walk_view(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own, HfPoint size)
{
  HfMatrix view;
  HfBox box;
  gboolean none;
  const char *view_box = hf_xml_get(node, "viewBox");
  if (!(size.x > 0 && size.y > 0) ||
      !hf_svg_view(view_box, hf_xml_get(node, "preserveAspectRatio"), size, &view, &box))
    return;
  own->clip = hf_svg_clip(svg, node, own, &none);
  if (none)
    return;
  if (!own->style.overflow && svg->measured == NULL)
    own->clip = hf_svg_clip_box(svg, own->clip, (HfBox){{0, 0}, size}, own->matrix);
  own->matrix = hf_matrix_then(view, own->matrix);
  if (view_box == NULL || !hf_svg_view_box(view_box, &box))
    box = (HfBox){{0, 0}, size};
  own->viewport = hf_point(hf_box_width(box), hf_box_height(box));
  walk_children(svg, node, own);
}

/* A nested svg, or one that a `use` means, which may say its size. */
static void
walk_svg(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own, const HfXmlNode *use)
{
  HfPoint at = {told(node, own, "x", 0, 0), told(node, own, "y", 1, 0)};
  HfPoint size = {told(node, own, "width", 0, own->viewport.x),
                  told(node, own, "height", 1, own->viewport.y)};
  if (use != NULL)
    size = hf_point(told(use, own, "width", 0, size.x), told(use, own, "height", 1, size.y));
  own->matrix = hf_matrix_then(hf_matrix_move(at.x, at.y), own->matrix);
  walk_view(svg, node, own, size);
}

static void
walk_symbol(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own, const HfXmlNode *use)
{
  HfPoint size = {told(node, own, "width", 0, own->viewport.x),
                  told(node, own, "height", 1, own->viewport.y)};
  size = hf_point(told(use, own, "width", 0, size.x), told(use, own, "height", 1, size.y));
  walk_view(svg, node, own, size);
}

/* ---- copies ---------------------------------------------------------------------------------- */

/* Is @node inside of @target, so that a copy of it would hold itself? */
static gboolean
lies_in(const HfXmlNode *node, const HfXmlNode *target)
{
  for (; node != NULL; node = node->parent)
    if (node == target)
      return TRUE;
  return FALSE;
}

static void
walk_target(HfSvg *svg, const HfXmlNode *target, const HfSvgAt *at, const HfXmlNode *use)
{
  gboolean view = strcmp(target->name, "svg") == 0, symbol = strcmp(target->name, "symbol") == 0;
  if (!view && !symbol) {
    hf_svg_walk(svg, target, at);
    return;
  }
  HfSvgAt own;
  if (!hf_svg_enter(svg, target, at, &own) || own.style.opacity == 0)
    return;
  if (symbol)
    walk_symbol(svg, target, &own, use);
  else
    walk_svg(svg, target, &own, use);
}

static void
walk_use(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own)
{
  const HfXmlNode *target = hf_svg_of_href(svg, node);
  gboolean none;
  if (target == NULL) {
    const char *href = hf_xml_get(node, "href");
    href = href != NULL ? href : hf_xml_get(node, "xlink:href");
    hf_drawing_note(svg->drawing, node->line,
                    href != NULL && *href != '#'
                        ? "a copy of something in another file was left out"
                        : "a copy of something that is not there was left "
                          "out");
    return;
  }
  if (lies_in(node, target) || g_ptr_array_find(svg->path, target, NULL)) {
    hf_drawing_note(svg->drawing, node->line, "a copy that holds itself was left out");
    return;
  }
  own->clip = hf_svg_clip(svg, node, own, &none);
  if (none)
    return;
  HfPoint at = {told(node, own, "x", 0, 0), told(node, own, "y", 1, 0)};
  own->matrix = hf_matrix_then(hf_matrix_move(at.x, at.y), own->matrix);
  g_ptr_array_add(svg->path, (gpointer)target);
  walk_target(svg, target, own, node);
  g_ptr_array_set_size(svg->path, (gint)svg->path->len - 1);
}

/* ---- all elements ---------------------------------------------------------------------------- */

static const struct {
  const char *name, *note; /* what is told of it; NULL: it is no picture, and not told of */
} left_out[] = {
    {"image", "a picture of dots was left out"},
    {"foreignObject", "something that is no SVG was left out"},
    {"script", "a script was left out"},
    {"animate", "movement was left out: it is as it stands before it begins"},
    {"animateTransform", "movement was left out: it is as it stands before it begins"},
    {"animateMotion", "movement was left out: it is as it stands before it begins"},
};

static void
note_left_out(HfSvg *svg, const HfXmlNode *node)
{
  for (guint i = 0; i < G_N_ELEMENTS(left_out); i++)
    if (strcmp(node->name, left_out[i].name) == 0)
      hf_drawing_note(svg->drawing, node->line, "%s", left_out[i].note);
}

static gboolean
is(const HfXmlNode *node, const char *name)
{
  return strcmp(node->name, name) == 0;
}

static void
walk_entered(HfSvg *svg, const HfXmlNode *node, HfSvgAt *own)
{
  if (is(node, "g") || is(node, "a"))
    walk_group(svg, node, own);
  else if (is(node, "svg"))
    walk_svg(svg, node, own, NULL);
  else if (is(node, "use"))
    walk_use(svg, node, own);
  else if (is(node, "switch"))
    walk_switch(svg, node, own);
  else if (is(node, "text"))
    hf_svg_draw_text(svg, node, own);
  else
    hf_svg_draw(svg, node, own);
}

void
hf_svg_walk(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  if (!g_strv_contains(drawn, node->name) || is(node, "image")) {
    HfSvgAt own;
    if (svg->measured == NULL && (*node->name == '\0' || hf_svg_enter(svg, node, at, &own)))
      note_left_out(svg, node);
    return;
  }
  HfSvgAt own;
  if (!may_show(node) || !hf_svg_enter(svg, node, at, &own) || own.style.opacity == 0)
    return;
  HfSvgName name = {hf_xml_get(node, "id"), hf_svg_title(svg, node), at->names};
  if (name.id != NULL || name.title != NULL || (!is(node, "g") && !is(node, "a")))
    own.names = &name;
  walk_entered(svg, node, &own);
}

HfBox
hf_svg_box(HfSvg *svg, const HfXmlNode *node, const HfSvgAt *at)
{
  HfBox box = HF_BOX_EMPTY, *outer = svg->measured;
  HfSvgAt own = *at;
  own.matrix = HF_MATRIX_IDENTITY;
  svg->measured = &box;
  walk_entered(svg, node, &own);
  svg->measured = outer;
  return box;
}
