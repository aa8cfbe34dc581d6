/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-tags-private.h - a DXF file as what it is made of: pairs of a code and a value.
 *
 *   text     a line with a code, a line with its value   0 LF LINE LF 8 LF rail LF 10 LF 12.5 LF
 *   binary   a mark of 22 bytes, then codes and values as bytes (two-byte codes from R13 on)
 *
 * The code says what its value is: a text, a real or an integer (ranges of codes: the reference of
 * the format, "Group Code Value Types"). Both forms give the same pairs.
 */
#pragma once
#include "base/error.h"

typedef struct {
  gint32 code;
  guint32
      place; /* the line of its code, from 1; of a binary file the byte at which its code stands */
  const char *text; /* as in the file, not decoded; %NULL: a number */
  double number;    /* NAN: what stands there is no number */
} HfDxfTag;

typedef struct {
  char *name; /* the file's, for places */
  char *bytes;
  GStringChunk *strings;
  GArray *tags; /* HfDxfTag */
  gboolean binary;
  gboolean ended; /* `0 EOF` was there: else something may be missing */
} HfDxfTags;

/* A run of pairs of one thing: it begins with its code 0. */
typedef struct {
  const HfDxfTag *tag;
  guint n;
} HfDxfRecord;

#define HF_DXF_MOST_BYTES (48u << 20)
#define HF_DXF_MOST_TAGS  3000000

/** hf_dxf_looks_like: may these bytes be DXF, text or binary? Looks at the first few lines. */
gboolean hf_dxf_looks_like(const char *bytes, gsize length);

/**
 * hf_dxf_tags_read:
 * @name: the file's name in errors
 * Returns: (transfer full), or %NULL with %HF_ERROR_BAD_VALUE (where a code should be there is
 *   none: with its place) or %HF_ERROR_TOO_BIG. O(bytes).
 */
HfDxfTags *hf_dxf_tags_read(const char *name, const char *bytes, gsize length, GError **error);
/** hf_dxf_tags_free: frees it and all that it owns; %NULL: nothing. */
void hf_dxf_tags_free(HfDxfTags *tags);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDxfTags, hf_dxf_tags_free)

/** hf_dxf_place: (transfer full) `boats.dxf:120` or `boats.dxf, byte 0x1f0`. */
char *hf_dxf_place(const HfDxfTags *tags, guint place);

/** hf_dxf_record_at: from the pair @i, whose code is 0, to the next such. O(its pairs). */
HfDxfRecord hf_dxf_record_at(const HfDxfTags *tags, guint i);
/** hf_dxf_find: (nullable) the first pair of @code; what other programs hung on is not looked at.
 *  O(pairs). */
const HfDxfTag *hf_dxf_find(HfDxfRecord record, int code);
/** hf_dxf_real, hf_dxf_int, hf_dxf_text: what stands behind @code, else @fallback. An integer is
 *  clamped to 32 bits. (transfer none) */
double hf_dxf_real(HfDxfRecord record, int code, double fallback);
int hf_dxf_int(HfDxfRecord record, int code, int fallback);
const char *hf_dxf_text(HfDxfRecord record, int code, const char *fallback);
/** hf_dxf_is: is it a record of @type? */
gboolean hf_dxf_is(HfDxfRecord record, const char *type);
/** hf_dxf_is_sound: no number of it is none, none beyond 1e9; else %HF_ERROR_BAD_VALUE with its
 *  place. O(pairs). */
gboolean hf_dxf_is_sound(const HfDxfTags *tags, HfDxfRecord record, GError **error);
