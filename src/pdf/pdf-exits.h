/* SPDX-License-Identifier: GPL-3.0-or-later
 * pdf-exits.h - how the program holdfast-pdf ends, for the reader that starts it (the door of
 * pdf/).
 */
#pragma once

typedef enum {
  HF_PDF_DONE = 0,
  HF_PDF_LOCKED = 10,  /* it asks for a password */
  HF_PDF_BROKEN = 11,  /* no PDF, or none that can be drawn */
  HF_PDF_NO_PAGE = 12, /* it has fewer pages */
  HF_PDF_TOO_BIG = 13, /* over a cap on bytes */
  HF_PDF_MISUSED = 14, /* our bug */
} HfPdfExit;
