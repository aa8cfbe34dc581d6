/* SPDX-License-Identifier: GPL-3.0-or-later
 * out.h - one file per format; writes, decides nothing (the door of out/).
 *
 * Every writer returns bytes; run/ puts them on disk. Same input, same bytes.
 */
#pragma once
#include "metal/fit.h"
#include "sign/sign.h"

/* A cure as the report tells it. All borrowed. */
typedef struct {
  const char *key, *sentence;
  double added, removed; /* mm2 */
  double shift;          /* mm */
  double cost;           /* per cent */
  guint ties, stops, cautions, notes;
  gboolean whole;
  gboolean taken;           /* the sign that is told of is the one cured by it */
  const char *const *takes; /* zero-terminated: what findings of the given sign said */
} HfCureTold;

/* What is said of outlines and pictures below holds of a sign with its true arcs, hf_sign_fitted();
 * pictures do without. */

/** hf_out_svg: (transfer full) metal.svg: millimetres, y down, one path for each part with
 *  its openings, lines and true arcs, no transforms. */
GBytes *hf_out_svg(const HfSign *what);
typedef enum { HF_DXF_R2000, HF_DXF_R12 } HfDxfVersion;
/** hf_out_dxf: (transfer full) the same outlines, closed, outline and openings on layers of
 *  their own; mm or @inches. */
GBytes *hf_out_dxf(const HfSign *what, HfDxfVersion version, gboolean inches);
/** hf_out_png: @pixels: longer side of the picture, 200..8000. @cancel: (nullable); %NULL also with
 *  %HF_ERROR_CANCELLED, here and below. */
GBytes *hf_out_png(const HfSign *what, guint pixels, const HfCancel *cancel, GError **error);
typedef enum { HF_PAPER_A4, HF_PAPER_LETTER } HfPaper;
/** hf_out_pdf: (transfer full) proof.pdf on @paper: one page for the customer, more where the words
 *  are many. %NULL with %HF_ERROR_IO: cairo could not. */
GBytes *hf_out_pdf(const HfSign *what, HfPaper paper, const HfCancel *cancel, GError **error);
/** hf_out_sheet: (transfer full) shop-sheet.pdf at a usual scale on @paper, for the bench. */
GBytes *hf_out_sheet(const HfSign *what, HfPaper paper, const HfCancel *cancel, GError **error);

/* One row of the picture sheet of `holdfast fonts`. */
typedef struct {
  const char *name;
  const HfLine *line; /* (nullable) the sample */
  const char *why;    /* (nullable) why there is none */
} HfSample;
/** hf_out_samples: a PNG, @pixels wide, that shows the samples one under another. */
GBytes *hf_out_samples(const char *heading, const HfSample *samples, guint n, guint pixels,
                       GError **error);

typedef struct {
  const char *name;   /* "metal.svg" */
  const char *digest; /* SHA-256 */
} HfWritten;
/* What the report tells beside the sign. All borrowed. */
typedef struct {
  const HfCureTold *cures; /* (nullable) not looked for */
  guint n_cures;
  const HfWritten *written; /* what this run put into the folder */
  guint n_written;
  const GPtrArray *cuttings; /* (nullable) (element-type HfCutting) how each sheet is cut */
} HfReportMore;
/** hf_out_report: report.json */
GBytes *hf_out_report(const HfSign *what, const HfReportMore *told);
