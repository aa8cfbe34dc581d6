/* SPDX-License-Identifier: GPL-3.0-or-later
 * formula-private.h - limits as they are written, worked out: "max(t, 1.5 k, 2 mm)".
 *
 *   formula = sum [" on sheet up to " number " mm, " sum " above"]    by the thickness of the sheet
 *   sum     = term {" + " term}
 *   term    = "any"                              0: however little
 *           | "max(" sum {", " sum} ")"
 *           | number " times the stop"
 *           | number " " (name | unit)           the unit is the law's own
 *           | name ["/" number | " / {" key "}"] over a number, or over the figure of that key
 *   name    = t (thickness) | k (kerf) | c (radius of the crater) | "reading distance"; all mm
 *
 * So the text that people read in docs, report and page is the one that counts; there is no second.
 */
#pragma once
#include "hold/law.h"

/* What the names stand for. */
typedef struct {
  const HfProcess *process;
  const HfShop *shop; /* (nullable) */
  const HfRecipe *recipe;
  const char *unit; /* of the law */
  double stop;      /* of the same law; NAN where it has none */
  HfSaidBy said_by; /* changed to who speaks for a figure that the formula uses */
} HfFormulaTerms;

/** hf_formula_value:
 *  @formula: (nullable)
 *  @ret_rest: (nullable) (transfer none) what could not be read ("": more must follow), %NULL when
 *    all was. Without it a formula that can't be read is our bug.
 *  Returns: in the unit of the law; NAN: no formula, or a name in it has no value. Same operations
 *    in the order of the text, to the last bit. Cost: some hundred ns. */
double hf_formula_value(const char *formula, HfFormulaTerms *terms, const char **ret_rest);
