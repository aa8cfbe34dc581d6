/* SPDX-License-Identifier: GPL-3.0-or-later
 * css-private.h - rules as css.c reads them and css-match.c asks them.
 */
#pragma once
#include "drawing/style-private.h"

typedef enum {
  HF_CSS_TYPE,
  HF_CSS_ID,
  HF_CSS_CLASS,
  HF_CSS_HAS,        /* [name] */
  HF_CSS_EQUALS,     /* [name=value]; the six in the order of the signs =~|^$* */
  HF_CSS_HAS_WORD,   /* ~= one of its words */
  HF_CSS_HAS_PREFIX, /* |= the value, or the value and a dash */
  HF_CSS_BEGINS,     /* ^= */
  HF_CSS_ENDS,       /* $= */
  HF_CSS_HOLDS,      /* *= */
  HF_CSS_FIRST_CHILD,
  HF_CSS_LAST_CHILD,
  HF_CSS_ROOT,
  HF_CSS_NEVER,
} HfCssTestKind;

typedef struct {
  HfCssTestKind kind;
  const char *name, *value;
} HfCssTest;

typedef struct {
  GArray *tests; /* HfCssTest */
  char hangs;    /* on the compound to its left: ' ', '>', '+', '~'; 0: it is the first */
} HfCssCompound;

typedef struct {
  GArray *compounds;    /* HfCssCompound, the last one first */
  GArray *declarations; /* HfCssDeclaration */
  guint64 special;      /* ids, then classes and attributes, then types: ten bits each */
  guint order;
} HfCssSelector;

struct HfCssSheet {
  GStringChunk *strings;
  GHashTable *buckets; /* "#id", ".class", "type" or "*" to GPtrArray of HfCssSelector */
  guint n_rules, declarations;
  guint64 tried; /* steps of matching, against selectors made to take for ever */
  HfStyleNote note;
  gpointer data;
};
