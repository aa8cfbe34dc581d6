/* SPDX-License-Identifier: GPL-3.0-or-later
 * faces-private.h - what the picture sheets share: rows of samples, and where a sheet is written.
 */
#pragma once
#include "faces/faces.h"

enum { HF_SHEET_ROWS = 24 };

/** hf_sheet_rows: (transfer full) (element-type HfSample) empty; owns what its rows name. */
GArray *hf_sheet_rows(void);

/** hf_sheet_write: sheet @number of @file: "faces.png", "faces-2.png". %FALSE with the error. */
gboolean hf_sheet_write(const HfSample *samples, guint n, const char *heading, const char *file,
                        guint number, GError **error);

/** hf_fonts_open_listed: (transfer none) (nullable) the face of a row of the list. */
const HfFace *hf_fonts_open_listed(HfFonts *fonts, const HfFontListed *listed, GError **error);
