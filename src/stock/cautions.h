/* SPDX-License-Identifier: GPL-3.0-or-later
 * cautions.h - the warnings, in one table: text, source, which outputs carry each.
 *
 * A caution informs and defers: to local codes, to the metal's and the machine's own papers, to
 * licensed practice. It never says that something is safe.
 */
#pragma once
#include <glib.h>

/* Who carries a caution. The test reads every output and looks for each where it belongs. */
typedef enum {
  HF_CARRY_PROOF = 1 << 0,    /* the customer reads it before agreeing */
  HF_CARRY_REPORT = 1 << 1,   /* report.json, key by key */
  HF_CARRY_OUTLINES = 1 << 2, /* summed up in the one line of hf_caution_line() */
  HF_CARRY_README = 1 << 3,
  HF_CARRY_SHEET = 1 << 4, /* the bench reads it */
} HfCarry;

/* When it is said. */
typedef enum {
  HF_CAUTION_ALWAYS,
  HF_CAUTION_HUNG,     /* the sign hangs */
  HF_CAUTION_ZINC,     /* galvanised sheet */
  HF_CAUTION_CHROMIUM, /* stainless */
  HF_CAUTION_OZONE,    /* aluminium, stainless */
  HF_CAUTION_HYDROGEN, /* aluminium over water */
} HfCautionWhen;

typedef struct {
  const char *key;    /* stable, in report.json */
  const char *text;   /* plain words; lower case, no full stop */
  const char *says;   /* on screen: "standard X clause Y" or "common practice" */
  const char *source; /* the handbook's own words, with its marks; docs and tests only */
  HfCautionWhen when;
  guint carried_by; /* HfCarry, or'ed */
} HfCaution;

/** hf_cautions: (transfer none) the table, @ret_n rows, in the order in which they are shown. */
const HfCaution *hf_cautions(guint *ret_n);

/** hf_caution_applies: @metal: key of a metal, e.g. "mild steel"; @hung: hung or put up high. */
gboolean hf_caution_applies(const HfCaution *caution, const char *metal, gboolean hung);

/** hf_caution_line: (transfer none) all of it in one line of plain ASCII, for files that hold
 *  outlines. */
const char *hf_caution_line(void);
