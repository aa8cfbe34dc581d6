/* SPDX-License-Identifier: GPL-3.0-or-later
 * value.h - values that a change puts into a recipe, and places in it: typed, never printed text.
 *
 *   bar: {name: rail, length: 300 mm, at: [0 mm, 12.5 mm]}        a node: a table in a table
 *                             ^number, 0 decimals  ^number: a + b times a knob
 *
 *   entries > 2 > words > height          a path: keys, and places in lists counted from 0
 *
 * Invariant: no text is ever built to be read back. What somebody's names hold (braces, quotes,
 * colons, line breaks) is quoted once, where the recipe is written (write-scalar.c).
 */
#pragma once
#include <glib.h>

/* ---- values -------------------------------------------------------------------------------- */

typedef struct HfNode HfNode;

/** hf_node_new_text: (transfer full) what a user said: a name, a text. Plain where no reader could
 *  take it for anything but a text, else in quotes. */
HfNode *hf_node_new_text(const char *text);
/** hf_node_new_word: (transfer full) a word of the recipe itself: yes, bottom, joined. */
HfNode *hf_node_new_word(const char *word);

/**
 * hf_node_new_number:
 * @a: what it is with the knob at 0, in @unit
 * @b: how much for each step of the knob's own number; 0: it has nothing to do with a knob
 * @decimals: 0..9, most digits behind the point
 * @unit: (borrowed) static: "mm", "in", "deg", "%"; "" for a bare number
 * Returns: (transfer full)
 */
HfNode *hf_node_new_number(double a, double b, int decimals, const char *unit);

/** hf_node_new_list: (transfer full) `[a, b]`; takes the nodes, up to %NULL. */
HfNode *hf_node_new_list(HfNode *first, ...) G_GNUC_NULL_TERMINATED;

typedef struct {
  const char *key;
  HfNode *value;
} HfPair;

/** hf_node_new_table: (transfer full) `{key: a, ...}`; copies the keys, takes the values; a pair
 *  whose value is %NULL is left out. hf_table({"name", a}, {"at", b}): the same. */
HfNode *hf_node_new_table(const HfPair *pairs, gsize n);
#define hf_table(...)                                                                              \
  hf_node_new_table((const HfPair[]){__VA_ARGS__}, G_N_ELEMENTS(((const HfPair[]){__VA_ARGS__})))
/** hf_node_new_empty_list: (transfer full) `[]`, to add to. */
HfNode *hf_node_new_empty_list(void);
/** hf_node_new_empty_table: (transfer full) `{}`, to add to. */
HfNode *hf_node_new_empty_table(void);
/** hf_node_new_entry: (transfer full) `kind: {...}`, as an item of a list. Takes @body. */
HfNode *hf_node_new_entry(const char *kind, HfNode *body);
/** hf_node_put_in_entry: @key of the body of @entry, see hf_node_new_entry(); takes @item. */
void hf_node_put_in_entry(HfNode *entry, const char *key, HfNode *item);
void hf_node_add(HfNode *list, HfNode *item);                   /* takes @item */
void hf_node_put(HfNode *table, const char *key, HfNode *item); /* takes @item */

/**
 * hf_node_new_read:
 * @text: YAML or JSON of one value, as somebody wrote it
 * Returns: (transfer full) it, which keeps its remarks and spacing where it becomes an item of a
 *   block list; or %NULL with %HF_ERROR_BAD_VALUE, its place being a line and column of "the new
 *   value"
 */
HfNode *hf_node_new_read(const char *text, GError **error);

/** hf_node_at: (transfer full) a copy with the knob at @k: every number has become a text. */
HfNode *hf_node_at(const HfNode *node, double k);
/** hf_node_free: frees it and all that it owns; %NULL: nothing. */
void hf_node_free(HfNode *node);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfNode, hf_node_free)

/* ---- places -------------------------------------------------------------------------------- */

typedef struct {
  const char *key; /* %NULL: it is an item of a list */
  guint index;     /* which, from 0 */
} HfStep;

#define HF_KEY(name) ((HfStep){.key = (name)})
#define HF_ITEM(i)   ((HfStep){.index = (i)})

typedef struct {
  guint n; /* 0: the whole recipe */
  HfStep *steps;
} HfPath;

HfPath *hf_path_new(const HfStep *steps, guint n); /* (transfer full) copies the keys */
/* hf_path(HF_KEY("entries"), HF_ITEM(2)) */
#define hf_path(...)                                                                               \
  hf_path_new((const HfStep[]){__VA_ARGS__}, G_N_ELEMENTS(((const HfStep[]){__VA_ARGS__})))
/** hf_path_add: one step further down; copies its key. */
void hf_path_add(HfPath *path, HfStep step);

/** hf_path_read: (transfer full) @text as `entries[2].words.height`; %NULL with
 *  %HF_ERROR_BAD_VALUE. A key with a point or bracket in it can't be written so. */
HfPath *hf_path_read(const char *text, GError **error);
/** hf_path_say: (transfer full) it that way, for people to read. */
char *hf_path_say(const HfPath *path);
/** hf_path_free: frees it and all that it owns; %NULL: nothing. */
void hf_path_free(HfPath *path);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPath, hf_path_free)
