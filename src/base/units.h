/* SPDX-License-Identifier: GPL-3.0-or-later
 * units.h - in which unit lengths are told, and how one becomes text: the only door.
 *
 * Lengths are mm everywhere; only their text differs. Sentences are made deep in the stages, in
 * several threads at once, of several signs at once: so the unit belongs to the thread that makes a
 * sign, for as long as a scope lasts, and to every thread that it begins by base/beside.h.
 *
 *   nobody said   12.4 mm
 *   MM            12.4 mm
 *   INCH          33-7/8 in, 3/16 in, 0.098 in    sixteenths; below an inch what is none of them
 * has three places, as limits are finer than a sixteenth INCH_DECIMAL  33.88 in, 0.188 in
 */
#pragma once
#include <glib.h>

typedef enum {
  HF_UNITS_UNSAID,
  HF_UNITS_MM,
  HF_UNITS_INCH,
  HF_UNITS_INCH_DECIMAL,
  HF_N_UNITS
} HfUnits;

/** hf_units_word: (transfer none) "mm", "in", "in-decimal"; %NULL of what nobody said. */
const char *hf_units_word(HfUnits units);
/** hf_units_of_word: %HF_UNITS_UNSAID: there is no such word. */
HfUnits hf_units_of_word(const char *word);

/** hf_units_now: of this thread. */
HfUnits hf_units_now(void);
/** hf_units_are_inches: does this thread tell lengths in inches, either way? */
gboolean hf_units_are_inches(void);
/** hf_units_swap: from now on this thread tells lengths in @units. Returns: what it was. */
HfUnits hf_units_swap(HfUnits units);

/* A variable of it is there to end: it is no mistake that nobody reads it. */
typedef struct {
  HfUnits before;
} HfUnitsScope G_GNUC_UNUSED;
/** hf_units_scope: as hf_units_swap(), until the variable goes: g_auto(HfUnitsScope) scope = ... */
static inline HfUnitsScope
hf_units_scope(HfUnits units)
{
  return (HfUnitsScope){hf_units_swap(units)};
}
static inline void
hf_units_scope_end(HfUnitsScope *scope)
{
  hf_units_swap(scope->before);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(HfUnitsScope, hf_units_scope_end)

/** hf_text_mm: "12.4 mm", in the thread's unit. (transfer full), as all of these. @mm finite. */
char *hf_text_mm(double mm);
/** hf_text_length: the same with @decimals (0..4) of a millimetre at most; with 3 or 4 inches have
 *  as many more places instead of a fraction, and never come to a 0 that is none. */
char *hf_text_length(double mm, int decimals);
/** hf_text_at_most, hf_text_at_least: of advice such as `take 61 mm letters, which fit`: what is
 * said in inches is rounded down, or up, so that it holds. @mm is rounded for mm already. */
char *hf_text_at_most(double mm);
char *hf_text_at_least(double mm);
/** hf_text_size: "1320 x 410 mm". hf_text_sides: with @decimals and @by between them. */
char *hf_text_size(double width, double height);
char *hf_text_sides(double width, int width_decimals, double height, int height_decimals,
                    const char *by);
/** hf_text_run: what is long, "12.37 m" or "40.6 ft"; @decimals of a metre. */
char *hf_text_run(double mm, int decimals);
/** hf_text_feed: "2600 mm/min" or "102 in/min". */
char *hf_text_feed(double mm_per_minute);
/** hf_text_area: "34.2 mm²" below 100 cm², "123 cm²" from there on, "1.25 m²" from 1 m²; or in²,
 * and ft² from 10 of them on. */
char *hf_text_area(double mm2);
/** hf_text_area_more: in the smallest unit, with @decimals (1..4) of it, so that two may be told
 *  apart: "34.21 mm2". */
char *hf_text_area_more(double mm2, int decimals);
/** hf_text_grams: "240 g" below 1 kg, "1.24 kg" from there on; with inches ounces and pounds. */
char *hf_text_grams(double kg);
/** hf_text_told: @fixed, a sentence of ours, each length such as "3 mm" in it in the thread's unit.
 */
char *hf_text_told(const char *fixed);
