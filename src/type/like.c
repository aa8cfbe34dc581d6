/* SPDX-License-Identifier: GPL-3.0-or-later
 * like.c - which installed face of a family is meant by weight, slant and width: how a drawing
 * asks.
 *
 * CSS Fonts 4, 5.2: width first, then slant, then weight, each the nearest by its own rule. Of
 * another family there is never one.
 */
#include "type/type-private.h"
#include <string.h>

static double
number_of(const HfInstalled *font, const char *object, double otherwise)
{
  double value = 0;
  return FcPatternGetDouble(font->pattern, object, 0, &value) == FcResultMatch ? value : otherwise;
}

static int
weight_of(const HfInstalled *font)
{
  return (int)lround(FcWeightToOpenTypeDouble(number_of(font, FC_WEIGHT, FC_WEIGHT_REGULAR)));
}

/* Normal or narrower: narrower ones first, then wider; else the other way round. */
static double
width_miss(double wanted, double has)
{
  gboolean first_side = wanted <= 100 ? has <= wanted : has >= wanted;
  return fabs(has - wanted) + (first_side ? 0 : 1000);
}

/* Upright, italic, oblique: which of them will do, the best first. */
static double
slant_miss(HfSlant wanted, double has)
{
  static const double miss[3][3] = {{0, 2, 1}, {2, 0, 1}, {2, 1, 0}};
  int is = has >= FC_SLANT_OBLIQUE ? 2 : has >= FC_SLANT_ITALIC ? 1 : 0;
  return miss[wanted][is];
}

/* 400 to 500: first up to 500, then down, then up; below: down first; above: up first. */
static double
weight_miss(int wanted, int has)
{
  double far = abs(has - wanted);
  if (wanted >= 400 && wanted <= 500)
    return has >= wanted && has <= 500 ? far : has < wanted ? 1000 + far : 2000 + far;
  gboolean first_side = wanted < 400 ? has <= wanted : has >= wanted;
  return far + (first_side ? 0 : 1000);
}

static double
miss_of(const HfInstalled *font, const HfFaceLike *like)
{
  double width = width_miss(like->width, number_of(font, FC_WIDTH, FC_WIDTH_NORMAL));
  double slant = slant_miss(like->slant, number_of(font, FC_SLANT, FC_SLANT_ROMAN));
  return width * 1e6 + slant * 1e5 + weight_miss(like->weight, weight_of(font));
}

const HfInstalled *
hf_installed_like(HfFonts *fonts, const HfFaceLike *like)
{
  const GPtrArray *list = hf_installed_list(fonts);
  const HfInstalled *best = NULL;
  double least = INFINITY;
  for (guint i = 0; i < list->len; i++) {
    const HfInstalled *font = (const HfInstalled *)g_ptr_array_index(list, i);
    if (!font->readable || font->variable || !hf_installed_is_of(font, like->family))
      continue;
    double miss = miss_of(font, like);
    if (miss < least) {
      least = miss;
      best = font;
    }
  }
  return best;
}
