/* SPDX-License-Identifier: GPL-3.0-or-later
 * law.h - the limits: every law is one row, with quantity, formula, gravity and source, beside its
 * check; laws.def lists them. docs/limits.md is generated from the rows (tools/limits).
 */
#pragma once
#include "recipe/recipe.h"
#include "shop/shop.h"
#include "stock/practice.h"

typedef enum { HF_NOTE, HF_CAUTION, HF_STOP } HfGravity;

/* Which finding: HF_LAW_THIN_WEB and its like, from laws.def. The key in report.json is
 * hf_law(kind)->key. */
#define LAW(NAME, name, file) HF_LAW_##NAME,
typedef enum {
#include "hold/laws.def"
  HF_N_LAWS
} HfLawKind;

/* Figures that a law uses besides its limit; overridden like limits, by their own keys. */
#define FIGURE(NAME, name) HF_FIGURE_##NAME,
typedef enum {
#include "hold/laws.def"
  HF_N_FIGURES
} HfFigure;

typedef enum {
  HF_SAID_BY_PRACTICE,
  HF_SAID_BY_STANDARD,
  HF_SAID_BY_SHOP,
  HF_SAID_BY_COUPON, /* a row of the shop's chart, by a test coupon */
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
  const char *coupon; /* (nullable) interned: COUPON: when it was measured */
} HfLimit;

/* A limit as it is written. @formula is worked out and is what people read (formula-private.h has
 * its grammar): "max(t, 1.5 k, 2 mm)", "any"; %NULL: there is none. @words follow for people alone:
 * ", turned either way"; %NULL: none. In both {key} stands for the figure of that key. */
typedef struct {
  const char *formula, *words;
} HfBound;

/* What the rest of the tree must know of a law is said in its row: 0 is "forgotten", and a test
 * fails. */

/* The width of metal or of a gap between two edges (checks look as far as its caution), the size of
 * an opening, a whole part, or something else. What measures a gap or an opening gets worse where
 * metal is added. */
typedef enum {
  HF_MEASURES_METAL = 1,
  HF_MEASURES_GAP,
  HF_MEASURES_OPENING,
  HF_MEASURES_PART,
  HF_MEASURES_OTHER
} HfMeasures;

/* Laws that may be names of one trouble: what is a thin web now may be a weak joint once a letter
 * has moved. HF_TROUBLE_OWN: no other law's. */
typedef enum {
  HF_TROUBLE_OWN = 1,
  HF_TROUBLE_HELD,
  HF_TROUBLE_WEB,
  HF_TROUBLE_OPENING,
  HF_TROUBLE_GAP
} HfTrouble;

/* What mending can work on: metal to thicken, a gap to fill, an opening to fill or enlarge, a round
 * hole to enlarge, a point to round; a part that it may not loosen. */
typedef enum {
  HF_MENDS_NOTHING = 1,
  HF_MENDS_WEB,
  HF_MENDS_GAP,
  HF_MENDS_OPENING,
  HF_MENDS_HOLE,
  HF_MENDS_POINT,
  HF_MENDS_PART
} HfMends;

typedef struct HfCheck HfCheck; /* hold-private.h */
/* Adds what it finds to check->hold. %FALSE only when stopped (error set by hf_cancel_check). */
typedef gboolean (*HfCheckFunc)(HfCheck *check, GError **error);

/* All that there is to say of a law, in one row beside its check; laws.def lists the rows. What is
 * left out is FALSE or none. */
typedef struct HfLaw HfLaw;
struct HfLaw {
  const char *key;      /* "thin-web": stable, in report and `accept` */
  const char *quantity; /* "web width"; {key} as in HfBound */
  const char *unit;     /* "mm", "mm2", "deg", "K", "%"; "": it has no quantity, any is found */
  gboolean at_least;    /* trouble is below the limit, not above it */
  gboolean note_within; /* said as a note even within the limits */
  HfGravity gravity;    /* the gravest it can be by default */
  HfBound stop, caution;
  gboolean stop_within_reach; /* `stop` counts where the recipe says within reach */
  const char *source;         /* on screen: "common practice", "standard IFC clause 505.1" */
  const char *reference;      /* docs only: about the source */
  const char *why;            /* docs and page: what goes wrong otherwise */
  const char *what, *fix;     /* patterns of the sentence: sentence.c */
  const char *const *cures;   /* keys of cures that may apply (docs/cures.md), %NULL-terminated,
                                 the least visible first */
  HfCheckFunc check;          /* may be that of several laws; %NULL: found by hold.c itself */
  const HfLaw *after;         /* (nullable) whose check leaves what this one reads */
  HfMeasures measures;
  HfTrouble trouble;      /* what it can be another name of */
  const HfLaw *counts_as; /* (nullable) the law that its places are counted with */
  HfMends mends;
  gboolean guards; /* no cure may bring even a caution of it: reading suffers */
};

#define HF_CURES(...)      ((const char *const[]){__VA_ARGS__, NULL})
#define HF_NO_CURES        ((const char *const[]){NULL}) /* what was meant only the user knows */
#define HF_COMMON_PRACTICE "common practice"
#define HF_TIMES_THE_STOP  HF_OVER_LIMIT_TEXT " times the stop"

/* A figure besides the limit of @law, whose source speaks for it. */
typedef struct {
  HfLawKind law;
  const char *key;            /* "long-web" */
  double value;               /* by default */
  const char *unit, *meaning; /* "mm", or "" for a plain number; docs */
} HfFigureRow;

#define LAW(NAME, name, file) extern const HfLaw hf_##name##_law;
#define FIGURE(NAME, name)    extern const HfFigureRow hf_##name##_figure;
#include "hold/laws.def"

const HfLaw *hf_law(HfLawKind kind);
const HfLaw *hf_law_by_key(const char *key); /* (nullable) */
/** hf_law_weigh: %FALSE when @measured is within @limit and nothing is to be said; else its gravity
 *  and (NAN where there is none) the limit that it breaks. @measured NAN: a law without a quantity.
 */
gboolean hf_law_weigh(HfLawKind kind, HfLimit limit, double measured, HfGravity *ret_gravity,
                      double *ret_limit);
/** hf_law_is_of_gap: does it get worse where metal is added? */
gboolean hf_law_is_of_gap(HfLawKind kind);
/** hf_law_quantity: what it measures: "web width, no longer than 3 widths". (transfer full) */
char *hf_law_quantity(const HfLaw *law);
/** hf_law_formula: how its stop (or its caution) reads: "1.25 times the stop"; %NULL: it has none.
 *  (transfer full) */
char *hf_law_formula(const HfLaw *law, gboolean stop);
/** hf_law_usual: the limit for this process when nobody changes it. */
HfLimit hf_law_usual(HfLawKind kind, const HfProcess *process);
/** hf_law_limit: the limit for this process, overridden by shop, by the row of its chart for just
 *  this sheet and kerf (hf_process_row(); where several are, by the strictest of them), then by
 *  recipe (key `thin-web`
 *  sets the stop, `thin-web caution` the caution; a stop that is overridden alone carries its
 *  caution along in proportion; a law without a stop takes either key for its caution). What
 *  depends on the recipe alone is in it too: `read_from`, `within_reach`. */
HfLimit hf_law_limit(HfLawKind kind, const HfProcess *process, const HfShop *shop,
                     const HfRecipe *recipe);
/** hf_law_said_by: "your process", "standard X clause Y", "common practice", ... @coupon:
 * (nullable) when that was measured. */
const char *hf_law_said_by(HfLawKind kind, HfSaidBy said_by, const char *coupon);

/** hf_law_figure: (the same order of speakers) @ret_said_by nullable. */
double hf_law_figure(HfFigure figure, const HfShop *shop, const HfRecipe *recipe,
                     HfSaidBy *ret_said_by);
/** hf_law_figure_row: (transfer none) the row of @figure. */
const HfFigureRow *hf_law_figure_row(HfFigure figure);

/** hf_law_check_overrides: %FALSE with %HF_ERROR_BAD_VALUE when recipe or shop change a limit or
 *  accept a finding that there is not: place, what was found, nearest word. */
gboolean hf_law_check_overrides(const HfRecipe *recipe, const HfShop *shop, GError **error);

/** hf_law_table: (transfer full) docs/limits.md, as Markdown. */
char *hf_law_table(void);

/** hf_process_row: (nullable) (transfer none) the row of the cut chart that @process is cut by: of
 *  the same metal and thickness, its kerf within 5 % of the one that is cut with, the nearest; that
 *  which the recipe names, if it names one. Where several are as near, the next behind @after
 *  (%NULL: the first). O(rows). */
const HfChartRow *hf_process_row(const HfProcess *process, const HfShop *shop,
                                 const HfRecipe *recipe, const HfChartRow *after);
/** hf_process_of: kerf, crater, metal of a recipe in a shop. %FALSE with %HF_ERROR_BAD_VALUE: no
 *  kerf from either, no such metal, or no such row of the cut chart. */
gboolean hf_process_of(const HfRecipe *recipe, const HfShop *shop, HfProcess *ret_process,
                       GError **error);
