/* SPDX-License-Identifier: GPL-3.0-or-later
 * shop.h - the shop file: what the table and the process are like (the door of shop/).
 *
 * Read from shop.yaml the way a recipe is, by a schema table of its own (schema-shop.c). Lengths
 * mm; a number that was not given is NAN.
 */
#pragma once
#include "recipe/recipe.h"

/* One metal and thickness of the cut chart, as measured. */
typedef struct {
  char *name;  /* (nullable) what a recipe's `process: {row: NAME}` calls it by */
  char *metal; /* key of a metal in stock/ */
  double thickness, kerf;
  double feed;         /* mm/min */
  double current;      /* A */
  double pierce_delay; /* s */
  double cut_height, pierce_height;
  GArray *limits; /* HfLimitOverride: what this sheet holds, by a test coupon */
  char *coupon;   /* (nullable) date of that */
} HfChartRow;

/* Which side of travel comes out square: the right one where the gas swirls clockwise. */
typedef enum { HF_GOOD_SIDE_RIGHT, HF_GOOD_SIDE_LEFT } HfGoodSide;

/* Which way slats run. */
typedef enum { HF_SLATS_ALONG_X, HF_SLATS_ALONG_Y } HfSlatRun;

typedef enum { HF_PROGRAM_MM, HF_PROGRAM_INCHES } HfProgramUnit;

typedef struct {
  char *file; /* NULL: there is none */
  int format;
  double kerf;                      /* NAN: from the chart */
  double crater;                    /* crater radius; NAN: the kerf */
  GArray *chart;                    /* HfChartRow */
  GArray *limits;                   /* HfLimitOverride */
  double table_width, table_height; /* what the table can cut */
  double sheet_width, sheet_height; /* the sheet that is bought */
  double travel_speed;              /* mm/min, torch off */
  double acceleration;              /* mm/s2 */
  double height_time;               /* s, from a stop to the torch at pierce height */
  int good_side;                    /* HfGoodSide */
  double slat_pitch;                /* mm; 0: no slats */
  int slat_run;                     /* HfSlatRun */
  int program_unit;                 /* HfProgramUnit */
  char *arc_on, *arc_off;           /* words of its programs */
  char *height_held, *height_free;  /* (nullable) */
  GPtrArray *before, *after;        /* (nullable) char *: lines about the cuts */
  int tie_direction, tie_along;     /* HfTieDirection, HfTieAlong: for rules that don't say */
  int tie_dots;                     /* HfTieDots */
  double tie_width;                 /* NAN: from the limits */
  GArray *tie_free;                 /* HfSpot: directions that ties keep free */
  char *name;                       /* (nullable) of the shop, on its papers */
  GPtrArray *address;               /* (nullable) char *: lines under it */
  char *mark;                       /* (nullable) its mark: a PNG beside the shop file */
  GBytes *mark_png;                 /* (nullable) what is in that file */
  gint others;                      /* atomic: owners besides the first */
} HfShop;

/** hf_shop_read: as hf_recipe_read(); its mark is not looked at. */
HfShop *hf_shop_read(const char *text, gsize length, const char *file, GError **error);
/** hf_shop_own_file: (transfer full) where the user's own lies, whether it is there or not. */
char *hf_shop_own_file(void);
/** hf_shop_read_file: as hf_recipe_read_file(). */
HfShop *hf_shop_read_file(const char *file, GError **error);
/** hf_shop_find: (transfer full) shop.yaml beside @recipe_file (nullable), else in the user's
 * config folder; an empty shop when there is none, %NULL when the one that is there can't be read.
 */
HfShop *hf_shop_find(const char *recipe_file, GError **error);
/** hf_shop_ref: one more owner, in any thread; each lets go by hf_shop_free(). */
HfShop *hf_shop_ref(HfShop *shop);
void hf_shop_free(HfShop *shop);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfShop, hf_shop_free)

/** hf_shop_reference: (transfer full) the printed reference of a shop file, the last part of
 *  docs/recipe.md; hf_shop_schema: (transfer full) its JSON Schema (draft 2020-12). */
char *hf_shop_reference(void);
char *hf_shop_schema(void);
