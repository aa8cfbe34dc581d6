/* SPDX-License-Identifier: GPL-3.0-or-later
 * finish.c - finishes and walls: words, colours, coats, looks.
 */
#include "stock/finish.h"
#include "base/text.h"
#include <math.h>
#include <string.h>

/* ---- colours ------------------------------------------------------------------------------- */

/* Names of our own choice for what people say. */
static const struct {
  const char *name;
  guint rgb;
} named[] = {
    {"black", 0x17181a},        {"anthracite", 0x383e42},  {"dark grey", 0x4d5154},
    {"grey", 0x83878a},         {"light grey", 0xc4c7c6},  {"white", 0xf2f1ec},
    {"cream", 0xe9e0cd},        {"sand", 0xcdb68c},        {"yellow", 0xe8b423},
    {"ochre", 0xb9863a},        {"orange", 0xd9692a},      {"red", 0xb3261e},
    {"dark red", 0x6b1f22},     {"pink", 0xd592a0},        {"violet", 0x6e4a7e},
    {"blue", 0x2f62a3},         {"dark blue", 0x1f3355},   {"light blue", 0x7fa9c6},
    {"turquoise", 0x2d8a86},    {"green", 0x3c7a45},       {"dark green", 0x1f4433},
    {"bottle green", 0x2f4a3d}, {"light green", 0x9dbb8b}, {"brown", 0x6d4a33},
    {"dark brown", 0x3f2d23},   {"night", 0x23242a},
};

const char *const *
hf_colour_names(void)
{
  static const char *names[G_N_ELEMENTS(named) + 1];
  static gsize done;
  if (g_once_init_enter(&done)) {
    for (gsize i = 0; i < G_N_ELEMENTS(named); i++)
      names[i] = named[i].name;
    g_once_init_leave(&done, 1);
  }
  return names;
}

/* "#1f3d2b": six digits, no fewer. */
static gboolean
read_hex(const char *text, guint *ret_rgb)
{
  guint rgb = 0;
  if (text[0] != '#' || strlen(text) != 7)
    return FALSE;
  for (int i = 1; i < 7; i++) {
    if (!g_ascii_isxdigit(text[i]))
      return FALSE;
    rgb = rgb * 16 + (guint)g_ascii_xdigit_value(text[i]);
  }
  *ret_rgb = rgb;
  return TRUE;
}

/* "RAL 9005", "ral9005": four digits. */
static const HfRal *
read_ral(const char *text)
{
  if (g_ascii_strncasecmp(text, "ral", 3) != 0)
    return NULL;
  text += 3 + strspn(text + 3, " -");
  if (strlen(text) != 4 || strspn(text, "0123456789") != 4)
    return NULL;
  return hf_ral((int)g_ascii_strtoll(text, NULL, 10));
}

gboolean
hf_colour_read(const char *text, HfColour *ret_colour, const char **ret_near)
{
  guint rgb;
  const HfRal *ral = read_ral(text);
  if (ret_near != NULL)
    *ret_near = NULL;
  if (ral != NULL) {
    *ret_colour = (HfColour){TRUE, ral->rgb, ral->number, ral->name};
    return TRUE;
  }
  if (read_hex(text, &rgb)) {
    *ret_colour = (HfColour){TRUE, rgb, 0, NULL};
    return TRUE;
  }
  for (gsize i = 0; i < G_N_ELEMENTS(named); i++)
    if (g_ascii_strcasecmp(text, named[i].name) == 0) {
      *ret_colour = (HfColour){TRUE, named[i].rgb, 0, named[i].name};
      return TRUE;
    }
  if (ret_near != NULL)
    *ret_near = hf_text_nearest(text, hf_colour_names());
  return FALSE;
}

char *
hf_colour_text(const HfColour *colour)
{
  if (colour->ral != 0)
    return g_strdup_printf("RAL %d (%s)", colour->ral, colour->name);
  return colour->name != NULL ? g_strdup(colour->name) : g_strdup_printf("#%06X", colour->rgb);
}

guint
hf_colour_mix(guint a, guint b, double share)
{
  guint mixed = 0;
  for (guint shift = 0; shift < 24; shift += 8) {
    double from = a >> shift & 0xff, to = b >> shift & 0xff;
    mixed |= (guint)lrint(from + (to - from) * share) << shift;
  }
  return mixed;
}

/* Relative luminance and contrast: WCAG 2.2, their definitions (from memory). */
gboolean
hf_colour_is_dark(guint rgb)
{
  static const double weights[] = {0.0722, 0.7152, 0.2126}; /* blue, green, red */
  double light = 0;
  for (guint i = 0; i < 3; i++) {
    double v = (rgb >> (8 * i) & 0xff) / 255.0;
    light += weights[i] * (v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4));
  }
  return 1.05 / (light + 0.05) > (light + 0.05) / 0.05;
}

/* ---- finishes ------------------------------------------------------------------------------ */

/* Coats: powder 0.06 to 0.12 mm (2 to 5 mil) on steel outdoors, as public pages of coaters and of
 * coating courses agree (read 30 November 2026; docs/maths.md has them); paint from memory: two
 * brushed or sprayed coats. */
static const struct {
  const char *word;
  gboolean colour;
  double coat; /* mm */
} finishes[HF_N_FINISHES] = {
    [HF_FINISH_RAW] = {"raw", FALSE, 0},
    [HF_FINISH_OILED] = {"oiled", FALSE, 0},
    [HF_FINISH_RUSTED] = {"rusted", FALSE, 0},
    [HF_FINISH_BRUSHED] = {"brushed", FALSE, 0},
    [HF_FINISH_POWDER] = {"powder coat", TRUE, 0.08},
    [HF_FINISH_PAINT] = {"paint", TRUE, 0.05},
};

const char *
hf_finish_word(HfFinishKind kind)
{
  return finishes[kind].word;
}

gboolean
hf_finish_takes_colour(HfFinishKind kind)
{
  return finishes[kind].colour;
}

double
hf_finish_usual_coat(HfFinishKind kind)
{
  return finishes[kind].coat;
}

const HfColour *
hf_finish_colour(const HfFinish *finish)
{
  return finish->kind == HF_FINISH_POWDER ? &finish->powder : &finish->paint;
}

double
hf_finish_coat(const HfFinish *finish)
{
  return finish->coat > 0 ? finish->coat : finishes[finish->kind].coat;
}

gboolean
hf_finish_rusts(const char *metal)
{
  return g_strcmp0(metal, "mild steel") == 0 || g_strcmp0(metal, "weathering steel") == 0;
}

char *
hf_finish_text(const HfFinish *finish)
{
  if (finish->kind == HF_FINISH_UNSAID)
    return NULL;
  if (!finishes[finish->kind].colour)
    return g_strdup(finishes[finish->kind].word);
  g_autofree char *colour = hf_colour_text(hf_finish_colour(finish));
  return g_strconcat(finishes[finish->kind].word, " ", colour, NULL);
}

/* How each metal looks bare and brushed, from above downwards. Keys as in metals.c; our own choice
 * of tones, dark enough against the wall. */
static const struct {
  const char *metal;
  guint bare[3], brushed[3];
} faces[] = {
    {"mild steel", {0x4b5056, 0x3d4146, 0x303438}, {0x979b9f, 0x83878b, 0x707478}},
    {"galvanised steel", {0x767c81, 0x656b70, 0x575c61}, {0x9fa4a7, 0x8c9194, 0x7a7f82}},
    {"weathering steel", {0x6f5141, 0x5d4335, 0x4b362b}, {0x979491, 0x83807d, 0x706d6a}},
    {"stainless steel", {0x7f8488, 0x6c7175, 0x5b6064}, {0xb3b7ba, 0x9da1a5, 0x888c90}},
    {"aluminium", {0x8d9194, 0x7b7f82, 0x6a6e71}, {0xbdc0c2, 0xa8abad, 0x939698}},
};

static const guint rust[] = {0x9a5b36, 0x83482a, 0x683820};
#define OIL 0x14100b

static HfSurface
coated(guint rgb)
{
  return (HfSurface){
      .tones = {hf_colour_mix(rgb, 0xffffff, 0.10), rgb, hf_colour_mix(rgb, 0x000000, 0.16)},
      .light = hf_colour_mix(rgb, 0xffffff, 0.62),
      .dark = hf_colour_mix(rgb, 0x000000, 0.62),
  };
}

HfSurface
hf_finish_surface(const HfFinish *finish, const char *metal)
{
  gsize row = 0;
  for (gsize i = 0; i < G_N_ELEMENTS(faces); i++)
    row = g_strcmp0(faces[i].metal, metal) == 0 ? i : row;
  if (finishes[finish->kind].colour)
    return coated(hf_finish_colour(finish)->rgb);
  HfSurface look = {.light = 0xdfe6ee, .dark = 0x0c0e10};
  const guint *tones = finish->kind == HF_FINISH_RUSTED    ? rust
                       : finish->kind == HF_FINISH_BRUSHED ? faces[row].brushed
                                                           : faces[row].bare;
  for (int i = 0; i < 3; i++)
    look.tones[i] = finish->kind == HF_FINISH_OILED ? hf_colour_mix(tones[i], OIL, 0.42) : tones[i];
  look.texture = finish->kind == HF_FINISH_RUSTED    ? HF_TEXTURE_RUST
                 : finish->kind == HF_FINISH_BRUSHED ? HF_TEXTURE_BRUSHED
                                                     : HF_TEXTURE_NONE;
  return look;
}

/* ---- walls --------------------------------------------------------------------------------- */

static const struct {
  const char *word;
  guint tone;
} walls[HF_N_WALLS] = {
    [HF_WALL_UNSAID] = {"plaster", 0xe9e3d7},      [HF_WALL_PLASTER] = {"plaster", 0xe9e3d7},
    [HF_WALL_WHITEWASH] = {"whitewash", 0xf2f0ea}, [HF_WALL_BRICK] = {"brick", 0x9c6350},
    [HF_WALL_STONE] = {"stone", 0xa9a294},         [HF_WALL_OAK] = {"oak", 0xa27f58},
    [HF_WALL_SLATE] = {"slate", 0x5a646b},         [HF_WALL_HEDGE] = {"hedge", 0x4a6238},
};

const char *const *
hf_wall_words(void)
{
  static const char *const words[] = {"plaster", "whitewash", "brick", "stone",
                                      "oak",     "slate",     "hedge", NULL};
  return words;
}

gboolean
hf_wall_read(const char *text, HfWall *ret_wall, const char **ret_near)
{
  for (int kind = HF_WALL_PLASTER; kind < HF_WALL_COLOUR; kind++)
    if (g_ascii_strcasecmp(text, walls[kind].word) == 0) {
      *ret_wall = (HfWall){.kind = (HfWallKind)kind};
      return TRUE;
    }
  HfWall wall = {.kind = HF_WALL_COLOUR};
  if (hf_colour_read(text, &wall.colour, ret_near)) {
    *ret_wall = wall;
    return TRUE;
  }
  const char *material = hf_text_nearest(text, hf_wall_words());
  if (ret_near != NULL && material != NULL)
    *ret_near = material;
  return FALSE;
}

char *
hf_wall_text(const HfWall *wall)
{
  return wall->kind == HF_WALL_COLOUR ? hf_colour_text(&wall->colour)
                                      : g_strdup(walls[wall->kind].word);
}

guint
hf_wall_tone(const HfWall *wall)
{
  return wall->kind == HF_WALL_COLOUR ? wall->colour.rgb : walls[wall->kind].tone;
}
