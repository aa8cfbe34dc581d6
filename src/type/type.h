/* SPDX-License-Identifier: GPL-3.0-or-later
 * type.h - from a font and a text to shaped letters with true outlines (the door of type/).
 *
 * All measures are in ems: 1.0 is the font size. y is up, the baseline is y = 0. A caller scales
 * once, when the letter height is known, so a solver can try heights without shaping again.
 */
#pragma once
#include "base/error.h"
#include "geom/outline.h"

/* Which face is wanted. All borrowed. */
typedef struct {
  const char *family; /* (nullable) when file is given */
  const char *style;  /* (nullable) "Regular" where the family has it, else its plainest: upright,
                         of normal width, nearest to regular weight */
  const char *file;   /* (nullable) path of a font file; family and style then only choose among
                         the faces and named styles in it */
  const char *axes;   /* (nullable) "wght=650,wdth=80": variable axes in the font's own tags */
} HfFaceWanted;

/* The fonts of this machine and those already opened. One per run or per thread; several may be
 * in use at once. Fontconfig is started only when a font is looked up by name. */
typedef struct HfFonts HfFonts;
/** hf_fonts_new: (transfer full) no font looked at yet; the list of installed ones is read
 *  when first asked for. */
HfFonts *hf_fonts_new(void);
/** hf_fonts_ref: one more owner, for runs one after another; each lets go by hf_fonts_free(). */
HfFonts *hf_fonts_ref(HfFonts *fonts);
void hf_fonts_free(HfFonts *fonts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFonts, hf_fonts_free)

typedef struct HfFace HfFace;

/**
 * hf_fonts_open:
 * @where: (nullable) place of the wish, for the error
 * Returns: (transfer none) owned by @fonts, the same for the same wish; or %NULL with
 *   %HF_ERROR_NOT_FOUND (names the nearest installed families or styles) or %HF_ERROR_BAD_FONT.
 *   Never another family or style than the one asked for.
 */
const HfFace *hf_fonts_open(HfFonts *fonts, const HfFaceWanted *wanted, const char *where,
                            GError **error);

/* A face as CSS asks for it. */
typedef enum { HF_SLANT_UPRIGHT, HF_SLANT_ITALIC, HF_SLANT_OBLIQUE } HfSlant;
typedef struct {
  const char *family; /* borrowed */
  int weight;         /* 1 to 1000; 400 regular, 700 bold */
  HfSlant slant;
  double width; /* percent; 100 normal */
} HfFaceLike;

/**
 * hf_fonts_open_like:
 * @where: (nullable) place of the wish, for the error
 * Returns: (transfer none) owned by @fonts: the installed face of the family that is nearest by the
 *   rules of CSS Fonts 4, 5.2; or %NULL as hf_fonts_open() has it. Never of another family.
 */
const HfFace *hf_fonts_open_like(HfFonts *fonts, const HfFaceLike *like, const char *where,
                                 GError **error);

/* What a face is called, and the bytes it came from. All (transfer none). */
const char *hf_face_family(const HfFace *face);
/** hf_face_style: (transfer none) "Bold Italic", as the file says it. */
const char *hf_face_style(const HfFace *face);
/** hf_face_file: (transfer none) where it lies. */
const char *hf_face_file(const HfFace *face);
const char *hf_face_digest(const HfFace *face); /* SHA-256 of the file */
gboolean hf_face_may_embed(const HfFace *face); /* OS/2 fsType allows embedding in a document */
gboolean hf_face_has(const HfFace *face, gunichar character);
/** hf_face_axes: (transfer full) (nullable) "wght (100 to 900), slnt (-10 to 0)"; %NULL: not
 * variable. hf_face_features: (transfer full) "kern, liga, ss01". */
char *hf_face_axes(const HfFace *face);
char *hf_face_features(const HfFace *face);
/** hf_face_cap_height: ink height of 'H', in ems; 0 when the face has no H. */
double hf_face_cap_height(const HfFace *face);
/** hf_face_lean: how far its stems lean to the right, rad, as the font says it (axis slnt, or
 *  italicAngle); 0: upright. */
double hf_face_lean(const HfFace *face);

/* The lines a face keeps to, in ems; what it does not say is taken as usual. */
typedef struct {
  double ascent, descent; /* above and below the baseline, both > 0 as a rule */
  double x_height;
  double underline, underline_thick; /* its middle above the baseline: below it < 0 */
  double strike, strike_thick;       /* through letters */
  double superscript, subscript;     /* how far up and how far down */
} HfFaceMetrics;
/** hf_face_metrics: by value. O(1). */
HfFaceMetrics hf_face_metrics(const HfFace *face);

typedef enum { HF_WAY_AUTO, HF_WAY_LEFT_TO_RIGHT, HF_WAY_RIGHT_TO_LEFT } HfWay;

typedef struct {
  const char *features; /* (nullable) "ss01,-liga": OpenType features on and off */
  const char *language; /* (nullable) BCP 47 */
  HfWay way;
  double spacing; /* ems added after each letter (cluster), the last one too; never between two
                     letters that the writing joins (Arabic and its like), as that would tear them
                     apart. When it is not 0, optional ligatures (liga, clig) are off unless
                     `features` says otherwise (CSS Text 3, 8.2): who tries out spacings sets the
                     line once with 0 and moves the letters himself, minding HfLine.joined */
} HfTypeOptions;

/* One glyph, in visual order from left to right. Marks are glyphs of their own. */
typedef struct {
  const HfOutline *outline; /* (borrowed) from the face; ems, origin at the pen; may be empty */
  HfPoint at;               /* where its origin stands, ems from the line's start */
  double advance;           /* ems */
  guint cluster;            /* byte offset in the text of the first character it stands for */
  guint letter;             /* letters are numbered from 0 in visual order; glyphs of one cluster
                               share a number, so an accent belongs to its letter */
  HfBox ink;                /* ems, placed; empty for a space */
} HfGlyph;

typedef struct {
  const HfFace *face;
  GArray *glyphs;     /* HfGlyph */
  GPtrArray *letters; /* char *: the characters of letter i, as typed */
  GArray *joined;     /* gboolean: the writing joins letter i to the next one on its right */
  double advance;     /* ems, spacing after the last letter included */
  HfBox ink;          /* ems */
  double cap_height;  /* ems: of H, or the ink height of the text where the face has none or the
                         script has no capitals of that kind (Arabic, Hebrew, CJK, ...); text of
                         no script, such as digits, goes by H */
} HfLine;

/** hf_line_free: frees it and all that it owns; %NULL: nothing. */
void hf_line_free(HfLine *line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfLine, hf_line_free)

/** hf_type_is_language: has @text the form of the name of a language (BCP 47)? */
gboolean hf_type_is_language(const char *text);
#define HF_TYPE_LANGUAGES "en, de-AT or sr-Latn"

/**
 * hf_type_line:
 * @text: one line of valid UTF-8, at most 2,000 characters, no line breaks
 * @where: (nullable) place of the text, for the error
 * Shapes @text: bidirectional order, scripts split, kerning, ligatures, marks. OpenType shaping
 * only, whatever else HarfBuzz was built with. The language is never taken from the locale.
 * Returns: (transfer full) or %NULL with %HF_ERROR_NOT_FOUND: a character that the face lacks, its
 *   place in the text, and installed families that have it; %HF_ERROR_BAD_VALUE: features or a
 *   language that can't be; %HF_ERROR_BAD_FONT: outlines or places beyond all reason. Empty text
 *   gives no glyphs.
 * Cost about 4 us a letter.
 */
HfLine *hf_type_line(HfFonts *fonts, const HfFace *face, const char *text,
                     const HfTypeOptions *options, const char *where, GError **error);

/* Listing, for `holdfast fonts`. */
typedef struct {
  char *family, *style, *file;
  guint index;
} HfFontListed;
/** hf_fonts_list: (transfer full) (element-type HfFontListed) installed fonts that can be used,
 * each family and style once, sorted. The array frees its elements. Upper 16 bits of `index`: the
 * named style of a variable font. */
GPtrArray *hf_fonts_list(HfFonts *fonts);
