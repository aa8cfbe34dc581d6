/* SPDX-License-Identifier: GPL-3.0-or-later
 * faces.h - what `holdfast fonts` tells: which fonts there are, what they look like, and how small
 * each may be cut (the door of faces/). No sign is made for it.
 */
#pragma once
#include "out/out.h"

/** HfFontsTold: called before each face; @total of them. */
typedef void (*HfFontsTold)(guint done, guint total, const char *face, gpointer data);

/**
 * hf_fonts_matching:
 * @word: (nullable) a part of the family's name, or of family and style; any case
 * Returns: (transfer full) (element-type HfFontListed), sorted; or %NULL with %HF_ERROR_NOT_FOUND
 *   and the nearest families.
 */
GPtrArray *hf_fonts_matching(HfFonts *fonts, const char *word, GError **error);

/** hf_fonts_report: (transfer full) a line for each family with its styles; of up to twelve faces
 *  also the file, axes and features. hf_fonts_report_json: every face with its file. */
char *hf_fonts_report(HfFonts *fonts, const GPtrArray *faces);
char *hf_fonts_report_json(const GPtrArray *faces);

/**
 * hf_fonts_picture:
 * @sample: the words that each face shows
 * @file: "faces.png"; what does not fit on one sheet goes on to faces-2.png and so on
 * Returns: how many sheets were written; 0 with the error.
 */
guint hf_fonts_picture(HfFonts *fonts, const GPtrArray *faces, const char *sample, const char *file,
                       HfFontsTold told, gpointer data, const HfCancel *cancel, GError **error);

/** hf_fonts_symbols_report: (transfer full) a line for each family of @faces that has symbols which
 *  may serve as ornaments, and these; %NULL with %HF_ERROR_CANCELLED. */
char *hf_fonts_symbols_report(HfFonts *fonts, const GPtrArray *faces, const HfCancel *cancel,
                              GError **error);

/** hf_fonts_symbols_picture: the same as picture sheets, with their code points. Returns: how many
 *  were written; 0 with the error, %HF_ERROR_NOT_FOUND: there is none. */
guint hf_fonts_symbols_picture(HfFonts *fonts, const GPtrArray *faces, const char *file,
                               HfFontsTold told, gpointer data, const HfCancel *cancel,
                               GError **error);

/** hf_fonts_sample: (transfer full) an SVG of @text in one face; %NULL with %HF_ERROR_NOT_FOUND
 * (also a character that the face lacks), %HF_ERROR_BAD_FONT. @style nullable. */
GBytes *hf_fonts_sample(HfFonts *fonts, const char *family, const char *style, const char *text,
                        GError **error);

/** hf_fonts_try: opens the font file @file as any other; what it is called. (transfer full) */
gboolean hf_fonts_try(HfFonts *fonts, const char *file, char **ret_family, char **ret_style,
                      GError **error);

/** hf_fonts_process: how a sheet of @metal (a key of stock/, borrowed by the result) is cut, mm;
 * @kerf NAN: as the shop's cut chart says. %FALSE with %HF_ERROR_BAD_VALUE: it is not said there.
 */
gboolean hf_fonts_process(const char *metal, double thickness, double kerf, const HfShop *shop,
                          HfProcess *ret_process, GError **error);

/* How small one face may be cut, standing or cut through. */
typedef struct {
  double height;  /* letter height, mm, to 0.1 mm; INFINITY: no size will do */
  HfLawKind kind; /* the limit that decides */
  char *letter;   /* the character that decides */
  char *tips;     /* (nullable) the letters with a tip that is too sharp at any size */
} HfFaceLeast;

typedef struct {
  char *family, *style;
  char *why; /* (nullable) why there is no answer; then the rest is empty */
  HfFaceLeast standing, cut_through;
} HfFaceSmallest;

/**
 * hf_fonts_smallest:
 * @text: (nullable) the characters that will be used; %NULL: those of A-Z, a-z and 0-9 that the
 *   face has
 * @shop: (nullable) its limits count
 * Returns: (transfer full) (element-type HfFaceSmallest) one for each face, or %NULL with
 *   %HF_ERROR_CANCELLED. Cost about a tenth of a second a face.
 */
GPtrArray *hf_fonts_smallest(HfFonts *fonts, const GPtrArray *faces, const char *text,
                             const HfProcess *process, const HfShop *shop, HfFontsTold told,
                             gpointer data, const HfCancel *cancel, GError **error);

/** hf_fonts_smallest_report: (transfer full) as a table for people; as JSON. */
char *hf_fonts_smallest_report(const GPtrArray *smallest, const char *text,
                               const HfProcess *process);
/** hf_fonts_smallest_json: (transfer full) the same as JSON. */
char *hf_fonts_smallest_json(const GPtrArray *smallest, const char *text, const HfProcess *process);
