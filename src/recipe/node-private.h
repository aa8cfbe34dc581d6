/* SPDX-License-Identifier: GPL-3.0-or-later
 * node-private.h - a recipe's text as one tree of nodes, each with its exact place.
 *
 *   words: {text: Saltmarsh Boats, height: 140 mm}      table
 *   ^key    ^value is a table of two keys               1 line, byte offsets in the user's own text
 *
 * YAML and JSON give the same tree. Anchors, aliases, tags, merge keys and second documents are
 * refused; keys are text, and no key stands twice in a table. Depth, bytes and nodes are capped.
 */
#pragma once
#include "recipe/recipe.h"
#include "recipe/value.h"

/* Said of a text that nobody meant for a recipe. */
#define HF_NO_RECIPE "this is not a recipe"
#define HF_NO_RECIPE_FIX                                                                           \
  "a recipe begins with holdfast: 1 and says metal and entries; holdfast new writes one to start " \
  "from"

enum { HF_NODE_MAX_DEPTH = 16, HF_NODE_MAX = 40000 };

typedef enum { HF_NODE_TEXT, HF_NODE_LIST, HF_NODE_TABLE, HF_NODE_NUMBER } HfNodeKind;
typedef enum { HF_STYLE_PLAIN, HF_STYLE_SINGLE, HF_STYLE_DOUBLE, HF_STYLE_BLOCK } HfTextStyle;

/* Of a value that is not written yet: a + b times a knob, see hf_node_new_number(). */
typedef struct {
  double a, b;
  int decimals;
  const char *unit; /* static */
} HfNumber;

struct HfNode {
  HfNodeKind kind;
  HfMark mark;
  gsize start, end; /* bytes of the user's text: [start, end) */
  char *text;       /* TEXT: its value */
  HfTextStyle style;
  gboolean flow;    /* LIST, TABLE: written with brackets */
  GPtrArray *keys;  /* TABLE: HfNode * of kind TEXT, in file order */
  GPtrArray *items; /* TABLE: values, LIST: items; HfNode * */
  HfNumber number;  /* NUMBER: never in a tree that was read, nor behind hf_node_at() */
  char *written;    /* (nullable) of a value by itself: the text that it was read from */
};

/* A user's text and what leads from its bytes to lines and columns. */
typedef struct {
  const char *text; /* (borrowed) */
  gsize length;
  gsize bom;     /* bytes of the byte order mark: 0 or 3 */
  GArray *lines; /* gsize: where each line starts */
  GArray *steps; /* guint: characters before each HF_SOURCE_STEP bytes, so that the column of a byte
                    far out on a long line takes no longer than that of one near its start */
} HfSource;
enum { HF_SOURCE_STEP = 256 };

typedef struct {
  GPtrArray *list; /* HfMistake * */
  guint total;     /* also those that were not kept */
} HfMistakes;

/** hf_mistakes_init: no mistake yet. */
void hf_mistakes_init(HfMistakes *mistakes);
/** hf_mistakes_clear: and its list. */
void hf_mistakes_clear(HfMistakes *mistakes);
/** hf_mistake: @fix is what would be right; both are sentences without end. */
void hf_mistake(HfMistakes *mistakes, HfMark mark, const char *fix, const char *format, ...)
    G_GNUC_PRINTF(4, 5);
/** hf_mistakes_raise: %TRUE when there are none, else %FALSE with all of them in @error, by place.
 */
gboolean hf_mistakes_raise(HfMistakes *mistakes, const char *file, GError **error);
/** hf_mistakes_give: (transfer full) those that are told, by place. */
GPtrArray *hf_mistakes_give(HfMistakes *mistakes);

/** hf_source_init: @text (borrowed, need not end in a zero) and its lines. O(length). */
void hf_source_init(HfSource *source, const char *text, gsize length);
/** hf_source_clear: not the text, which is borrowed. */
void hf_source_clear(HfSource *source);
/** hf_source_next: first byte from @at on that is no space, line break or remark; @at is not within
 *  a value. */
gsize hf_source_next(const HfSource *source, gsize at);
/** hf_source_mark: line and column of byte @offset (beyond the end: of the end). O(log lines). */
HfMark hf_source_mark(const HfSource *source, gsize offset);

/** hf_source_is_other: is it a picture, a PDF, a drawing ...? Then the only mistake is that. */
gboolean hf_source_is_other(const HfSource *source, HfMistakes *mistakes);
/** hf_source_doubt: of a text that could not be read: when nothing in it looks like a recipe, that
 *  is the mistake, instead of those in @mistakes. */
void hf_source_doubt(const HfSource *source, HfMistakes *mistakes);

/**
 * hf_node_read:
 * Returns: (transfer full) the tree, or %NULL with at least one mistake; duplicate keys are
 *   mistakes and still give a tree
 */
HfNode *hf_node_read(const HfSource *source, HfMistakes *mistakes);
/** hf_node_of_text: (transfer full) a TEXT; HF_STYLE_DOUBLE: never to be taken for an empty one. */
HfNode *hf_node_of_text(const char *text, HfTextStyle style);
/** hf_node_become: a TEXT turns into a LIST or TABLE with nothing in it. */
void hf_node_become(HfNode *node, HfNodeKind kind);

/** hf_node_get: (transfer none) (nullable) the value of @key in a table. */
HfNode *hf_node_get(const HfNode *table, const char *key);
/** hf_node_item: (transfer none) value @i of a table or list; @i < hf_node_size(). */
HfNode *hf_node_item(const HfNode *node, guint i);
/** hf_node_key: (transfer none) key @i of a table. */
HfNode *hf_node_key(const HfNode *table, guint i);
/** hf_node_size: how many values a table or list has; a text: 0. */
guint hf_node_size(const HfNode *node);
/** hf_node_is_empty: nothing, `~` or `null` where a value should stand. */
gboolean hf_node_is_empty(const HfNode *node);
/** hf_node_equal: same tree, whatever the way it is written. */
gboolean hf_node_equal(const HfNode *a, const HfNode *b);
