/* SPDX-License-Identifier: GPL-3.0-or-later
 * law.h - the limits: one table of findings, each with quantity, formula, gravity and source.
 * docs/limits.md is generated from it (tools/limits).
 */
#pragma once
#include "recipe/recipe.h"
#include "shop/shop.h"

typedef enum { HF_NOTE, HF_CAUTION, HF_STOP } HfGravity;

/* Which finding. The key in report.json is hf_law(kind)->key. */
typedef enum {
  HF_LAW_LOOSE_PART,
  HF_LAW_STANDS_ALONE,
  HF_LAW_HANGING_SPLIT,
  HF_LAW_THIN_WEB,
  HF_LAW_THIN_LONG_WEB,
  HF_LAW_WEAK_JOINT,
  HF_LAW_SMALL_OPENING,
  HF_LAW_SMALL_HOLE,
  HF_LAW_NARROW_GAP,
  HF_LAW_LOST_DETAIL,
  HF_LAW_RUN_TOGETHER,
  HF_LAW_SHARP_POINT,
  HF_LAW_BOWING_STRIP,
  HF_LAW_SMALL_LETTERS,
  HF_LAW_SMALL_NUMBER,
  HF_LAW_TOO_LARGE,
  HF_LAW_NOTHING_TO_HANG_BY,
  HF_LAW_HOLE_NEAR_EDGE,
  HF_LAW_OUT_OF_LEVEL,
  HF_LAW_FEET,
  HF_LAW_PIN_MISSED,
  HF_LAW_UNTIED,
  HF_LAW_ONE_TIE,
  HF_LAW_HIDDEN,
  HF_LAW_OFF_METAL,
  HF_LAW_NO_METAL,
  HF_LAW_ACCEPTANCE,
  HF_N_LAWS
} HfLawKind;

/* Figures that a law uses besides its limit; overridden like limits, by their own keys. */
typedef enum {
  HF_FIGURE_POINT_RADIUS,  /* "sharp-point radius": mm; rounder points do not hurt */
  HF_FIGURE_LONG_WEB,      /* "long-web": longer than so many widths is a long web */
  HF_FIGURE_NUMBER_STROKE, /* "small-number stroke": mm */
  HF_FIGURE_LEGIBILITY,    /* "small-letters distance": read from so many letter heights away */
  HF_N_FIGURES
} HfFigure;

typedef enum {
  HF_SAID_BY_PRACTICE,
  HF_SAID_BY_STANDARD,
  HF_SAID_BY_SHOP,
  HF_SAID_BY_RECIPE
} HfSaidBy;

/* What the process gives to the formulas. */
typedef struct {
  double thickness;  /* t, mm */
  double kerf;       /* k, mm */
  double crater;     /* crater radius, mm */
  double density;    /* kg/m3 */
  double expansion;  /* per kelvin */
  const char *metal; /* key of stock/ */
} HfProcess;

/* A limit worked out for one sign: below (or above) `stop` is a stop, `caution` a caution. */
typedef struct {
  double stop, caution; /* NAN: there is none */
  HfSaidBy said_by;
} HfLimit;

typedef struct {
  HfLawKind kind;
  const char *key;      /* "thin-web": stable, in report and `accept` */
  const char *quantity; /* "web width" */
  const char *unit;     /* "mm", "mm2", "deg", "K", "%"; "": it has no quantity, any is found */
  gboolean at_least;    /* TRUE: trouble is below the limit */
  gboolean note_within; /* TRUE: said as a note even within the limits */
  HfGravity gravity;    /* the gravest it can be by default */
  const char *formula_stop, *formula_caution; /* for people: "max(t, 1.5 k, 2 mm)"; NULL: none */
  double (*stop)(const HfProcess *), (*caution)(const HfProcess *); /* NULL: none */
  const char *source; /* on screen: "common practice", "standard IFC clause 505.1"; docs only:
                         `reference` */
  const char *reference;
  const char *why;
  const char *const *cures; /* keys of cures that may apply (docs/cures.md), zero-terminated, the
                               least visible first */
} HfLaw;

const HfLaw *hf_law(HfLawKind kind);
const HfLaw *hf_law_by_key(const char *key); /* (nullable) */
/** hf_law_weigh: %FALSE when @measured is within @limit and nothing is to be said; else its gravity
 *  and (NAN where there is none) the limit that it breaks. @measured NAN: a law without a quantity.
 */
gboolean hf_law_weigh(HfLawKind kind, HfLimit limit, double measured, HfGravity *ret_gravity,
                      double *ret_limit);
/** hf_law_limit: the limit for this process, overridden by shop, then by recipe (key `thin-web`
 *  sets the stop, `thin-web caution` the caution; a stop that is overridden alone carries its
 *  caution along in proportion; a law without a stop takes either key for its caution). What
 *  depends on the recipe alone is in it too: `read_from`, `within_reach`. */
HfLimit hf_law_limit(HfLawKind kind, const HfProcess *process, const HfShop *shop,
                     const HfRecipe *recipe);
/** hf_law_said_by: "your process", "standard X clause Y", "common practice", ... */
const char *hf_law_said_by(HfLawKind kind, HfSaidBy said_by);

/** hf_law_figure: (the same order of speakers) @ret_said_by nullable. */
double hf_law_figure(HfFigure figure, const HfShop *shop, const HfRecipe *recipe,
                     HfSaidBy *ret_said_by);
const char *hf_law_figure_key(HfFigure figure);
const char *hf_law_figure_unit(HfFigure figure); /* "mm", or "" for a plain number */

/** hf_law_check_overrides: %FALSE with %HF_ERROR_BAD_VALUE when recipe or shop change a limit or
 *  accept a finding that there is not: place, what was found, nearest word. */
gboolean hf_law_check_overrides(const HfRecipe *recipe, const HfShop *shop, GError **error);

/** hf_law_table: (transfer full) docs/limits.md, as Markdown. */
char *hf_law_table(void);

/** hf_process_of: kerf, crater, metal of a recipe in a shop. %NULL error set when there is no kerf
 *  from either. */
gboolean hf_process_of(const HfRecipe *recipe, const HfShop *shop, HfProcess *ret_process,
                       GError **error);
