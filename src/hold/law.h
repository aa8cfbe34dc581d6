/* SPDX-License-Identifier: GPL-3.0-or-later
 * law.h - the limits: one table of findings, each with quantity, formula, gravity and source.
 * docs/limits.md is generated from it (tools/limits).
 */
#pragma once
#include "recipe/recipe.h"

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
  HF_LAW_ONE_TIE,
  HF_LAW_NO_METAL,
  HF_N_LAWS
} HfLawKind;

typedef enum {
  HF_SAID_BY_PRACTICE,
  HF_SAID_BY_STANDARD,
  HF_SAID_BY_SHOP,
  HF_SAID_BY_RECIPE
} HfSaidBy;

/* What the process gives to the formulas. */
typedef struct {
  double thickness; /* t, mm */
  double kerf;      /* k, mm */
  double crater;    /* crater radius, mm */
  double density;   /* kg/m3 */
  const char *metal;
} HfProcess;

/* A limit worked out for one sign: below (or above) `stop` is a stop, `caution` a caution. */
typedef struct {
  double stop, caution; /* NAN: there is none */
  HfSaidBy said_by;
} HfLimit;

typedef struct {
  HfLawKind kind;
  const char *key;                            /* "thin-web": stable, in report and `accept` */
  const char *quantity;                       /* "web width" */
  const char *unit;                           /* "mm", "mm2", "deg", "K", "" */
  gboolean at_least;                          /* TRUE: trouble is below the limit */
  HfGravity gravity;                          /* the gravest it can be */
  const char *formula_stop, *formula_caution; /* for people: "max(t, 1.5 k, 2 mm)"; NULL: none */
  double (*stop)(const HfProcess *), (*caution)(const HfProcess *); /* NULL: none */
  const char *source; /* on screen: "common practice", "standard IFC clause 505.1" */
  const char *why;
  const char *const *cures; /* keys of cures that apply, zero-terminated; for now words only */
} HfLaw;

const HfLaw *hf_law(HfLawKind kind);
const HfLaw *hf_law_by_key(const char *key); /* (nullable) */
/** hf_law_limit: the limit for this process, overridden by shop, then by recipe (key `thin-web`
 *  sets the stop, `thin-web caution` the caution; a stop that is overridden alone carries its
 *  caution along in proportion). */
HfLimit hf_law_limit(HfLawKind kind, const HfProcess *process, const HfShop *shop,
                     const HfRecipe *recipe);
/** hf_law_said_by: "your process", "standard X clause Y", "common practice", ... */
const char *hf_law_said_by(HfLawKind kind, HfSaidBy said_by);

/** hf_process_of: kerf, crater, metal of a recipe in a shop. %NULL error set when there is no kerf
 *  from either. */
gboolean hf_process_of(const HfRecipe *recipe, const HfShop *shop, HfProcess *ret_process,
                       GError **error);
