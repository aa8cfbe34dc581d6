/* SPDX-License-Identifier: GPL-3.0-or-later
 * type-private.h - what the files of type/ share.
 *
 *   wish --installed.c--> file, index --face.c--> HfFace --glyph.c--> outlines, kept in the face
 *   text --itemise.c----> pieces of one script and direction --line.c--> HfLine
 *
 * Font files are foreign input: whatever HarfBuzz hands back is checked against the caps below
 * before anything else sees it.
 */
#pragma once
#include "type/type.h"
#include <fontconfig/fontconfig.h>
#include <hb-ot.h>
#include <hb.h>

#define HF_FONT_MAX_BYTES      (64u << 20)
#define HF_FONT_MAX_AXES       64
#define HF_GLYPH_MAX_CONTOURS  10000
#define HF_GLYPH_MAX_CURVES    50000
#define HF_GLYPH_MAX_EMS       16.0 /* of any coordinate or advance */
#define HF_LINE_MAX_CHARACTERS 2000
#define HF_LINE_MAX_GLYPHS     20000

/* HarfBuzz places glyphs in whole numbers: 1/64 of a font unit is fine enough that the kerning of
 * a variable font is not rounded visibly. Exact for every other font. */
#define HF_SUBUNITS 64

struct HfFonts {
  GHashTable *faces;    /* wish -> HfFace */
  FcConfig *config;     /* NULL until a family is looked up: a font by file must not pay for it */
  GPtrArray *installed; /* HfInstalled, sorted; NULL until then */
  hb_draw_funcs_t *pen;
  gint others; /* atomic: owners besides the first */
};

struct HfFace {
  char *family, *style, *file;
  GOnce *digest; /* char *, worked out when first asked for */
  GBytes *bytes;
  hb_face_t *face;
  hb_font_t *font;
  hb_draw_funcs_t *pen; /* (borrowed) from HfFonts */
  GHashTable *shapes;   /* glyph -> HfGlyphShape, filled on demand */
  double em;            /* HarfBuzz units to the em */
  double cap_height;    /* ems */
  double lean;          /* rad, to the right */
  gboolean may_embed;
};

/* One font that Fontconfig knows. Strings are borrowed from the pattern. */
typedef struct {
  FcPattern *pattern;
  const char *family, *style, *file;
  guint index; /* face in the file; named instance in the upper 16 bits */
  int version;
  gboolean readable; /* TrueType or CFF outlines in an SFNT file */
  gboolean variable; /* the whole design space of a variable font, not one style of it */
} HfInstalled;

/* The outline of one glyph. */
typedef struct {
  HfOutline *outline; /* ems */
  HfBox ink;
} HfGlyphShape;

/* installed.c */
const HfInstalled *hf_installed_find(HfFonts *fonts, const char *family, const char *style,
                                     const char *where, GError **error);
/** hf_installed_covering: (transfer full) (nullable) up to five installed families, quoted, that
 *  have @character, those that have all of @text first. */
char *hf_installed_covering(HfFonts *fonts, gunichar character, const char *text);
/** hf_names_near: (transfer full) up to @most of @names, nearest to @given first; unless @all,
 *  only those that look like it, perhaps none. */
char **hf_names_near(const char *given, const GPtrArray *names, guint most, gboolean all);
/** hf_names_quoted: (transfer full) `"a", "b" or "c" (and 4 more)` of @n names, of which @names has
 *  the first. */
char *hf_names_quoted(const char *const *names, guint n, guint most, const char *conjunction);

/** hf_installed_akin: (transfer full) (nullable) `installed scripts: "a" and "b" (and 4 more)`,
 * those of the kind that the name @wanted tells of; @list of HfInstalled. Opens files. kinship.c */
char *hf_installed_akin(const GPtrArray *list, const char *wanted);
/** hf_installed_list: (transfer none) (element-type HfInstalled) all, read when first needed:
 *  Fontconfig takes milliseconds to start. */
const GPtrArray *hf_installed_list(HfFonts *fonts);
/** hf_installed_is_of: is @family one of its names? */
gboolean hf_installed_is_of(const HfInstalled *font, const char *family);
/** hf_installed_like: (nullable) the face of @like's family that is nearest to it. like.c */
const HfInstalled *hf_installed_like(HfFonts *fonts, const HfFaceLike *like);
/** hf_installed_free: frees it and all that it owns; %NULL: nothing. */
void hf_installed_free(HfInstalled *installed);

/* face.c */
HfFace *hf_face_new(const char *file, GBytes *bytes, guint index, hb_draw_funcs_t *pen,
                    const char *where, GError **error);
/** hf_face_free: frees it and all that it owns; %NULL: nothing. */
void hf_face_free(HfFace *face);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFace, hf_face_free)
/** hf_face_finish: outlines may be read from here on; measures the capitals. */
gboolean hf_face_finish(HfFace *face, const char *where, GError **error);
/** hf_face_name: (transfer full) (nullable) a name out of the font file, at most 100 characters. */
char *hf_face_name(hb_face_t *face, hb_ot_name_id_t id);
/** hf_face_label: (transfer full) `"Bebas Neue Regular"` */
char *hf_face_label(const HfFace *face);

/* collection.c: which face or named style of one file is meant */
gboolean hf_collection_pick(GBytes *bytes, const HfFaceWanted *wanted, const char *where,
                            guint *ret_index, GError **error);

/* axes.c */
gboolean hf_axes_apply(HfFace *face, guint instance, const char *axes, const char *where,
                       GError **error);

/* glyph.c */
hb_draw_funcs_t *hf_pen_new(void);
/** hf_face_shape: (transfer none) the outline of @glyph, or %NULL with %HF_ERROR_BAD_FONT. */
const HfGlyphShape *hf_face_shape(const HfFace *face, hb_codepoint_t glyph, const char *where,
                                  GError **error);
/** hf_glyph_shape_free: frees it and all that it owns; %NULL: nothing. */
void hf_glyph_shape_free(HfGlyphShape *shape);

/* features.c: (element-type hb_feature_t) or %NULL with the error. @spaced: letters are set apart
 */
GArray *hf_features_parse(const HfFace *face, const char *features, gboolean spaced,
                          const char *where, GError **error);

/* A stretch of text of one script and one direction. */
typedef struct {
  guint start, length; /* bytes */
  hb_script_t script;
  gboolean right_to_left;
} HfPiece;

typedef struct {
  guint n; /* characters */
  gunichar *characters;
  guint *offsets;    /* n + 1: byte of each, and of the end */
  gboolean *joined;  /* n: this letter joins the one before it (Arabic and its like) */
  gboolean capitals; /* measured by its capitals: see hf_itemise() */
  GArray *pieces;    /* HfPiece, from left to right */
} HfItems;

/**
 * hf_itemise:
 * @text: valid UTF-8, at most %HF_LINE_MAX_CHARACTERS
 * Unicode bidirectional algorithm (UAX 9, through FriBidi), then pieces of one script (UAX 24;
 * characters of no script go with what stands before them).
 */
HfItems *hf_itemise(const char *text, HfWay way);
/** hf_items_free: frees it and all that it owns; %NULL: nothing. */
void hf_items_free(HfItems *items);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfItems, hf_items_free)
/** hf_items_at: which character begins at byte @offset. */
guint hf_items_at(const HfItems *items, guint offset);

/** hf_font_word_is: are they one word to a font, capitals or not? @a: (nullable) */
static inline gboolean
hf_font_word_is(const char *a, const char *b)
{
  return a != NULL && FcStrCmpIgnoreCase((const FcChar8 *)a, (const FcChar8 *)b) == 0;
}
