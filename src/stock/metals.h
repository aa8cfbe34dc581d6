/* SPDX-License-Identifier: GPL-3.0-or-later
 * metals.h - what sheet metal is: properties, gauges, sheet sizes (the door of stock/).
 *
 * Tables only, each row with where its figures come from. Lengths mm, density kg/m3.
 */
#pragma once
#include <glib.h>

/* Gauge numbers mean another thickness in each family of metals. */
typedef enum {
  HF_GAUGES_STEEL,
  HF_GAUGES_GALVANISED,
  HF_GAUGES_ALUMINIUM,
  HF_GAUGES_STAINLESS,
  HF_N_GAUGES
} HfGauges;

typedef struct {
  const char *key;  /* "mild steel": as the recipe says it */
  const char *also; /* (nullable) another spelling that is accepted: "aluminum" */
  double density;   /* kg/m3 */
  double young;     /* modulus of elasticity, GPa */
  double expansion; /* per kelvin */
  double melt;      /* J/mm3 from room temperature to liquid */
  HfGauges gauges;
  const char *source; /* of the figures */
} HfMetalKind;

/** hf_metals: (array zero-terminated=1) all metals, the last row has a %NULL key. */
const HfMetalKind *hf_metals(void);
/** hf_metal: (transfer none) (nullable) the metal called @key, by either spelling, any case. */
const HfMetalKind *hf_metal(const char *key);
/** hf_metal_keys: (array zero-terminated=1) (transfer none) what a recipe may say. */
const char *const *hf_metal_keys(void);

/**
 * hf_gauge:
 * @gauge: number, e.g. 10
 * Returns: thickness in mm; NAN when @gauges has no such number. Nominal, not a tolerance.
 */
double hf_gauge(HfGauges gauges, int gauge);
/** hf_gauge_nearest: a gauge number of @gauges that is nearest to @gauge by number. */
int hf_gauge_nearest(HfGauges gauges, int gauge);

typedef struct {
  double width, height; /* mm, the shorter side first */
  const char *label;    /* "48 x 96 in" */
  const char *source;
} HfSheetSize;

/** hf_sheet_sizes: usual stock sizes; the last row has a %NULL label. */
const HfSheetSize *hf_sheet_sizes(void);
