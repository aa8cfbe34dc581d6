/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-private.h - what the in-place edit is made of: places in the text, cuts, and new text.
 *
 *   edit.c         reads, applies, proves        edit-place.c   where a path leads
 *   edit-scan.c    lines, dashes, commas         edit-set.c     a value, a new key
 *   edit-remove.c  what goes                     edit-insert.c  an item of a list
 *   write-scalar.c values as text, quoted where needed
 */
#pragma once
#include "recipe/edit.h"
#include "recipe/node-private.h"

/* Bytes [start, end) of the text give way to @text. */
typedef struct {
  gsize start, end;
  char *text;
} HfSplice;

typedef struct {
  HfSource source;
  HfNode *root;
  GArray *splices; /* HfSplice */
  char eol[3];     /* as the file has it */
} HfEditor;

/* --- places --- */

/* Where a path leads: item @index of @parent, or a key that @parent has not. */
typedef struct {
  HfNode *parent;    /* NULL: the root itself */
  gint index;        /* -1: not there */
  const char *key;   /* (borrowed) last key of the path; NULL: a list item */
  HfNode *grand;     /* what holds the parent; NULL: the parent is the root */
  gint parent_index; /* of parent in grand */
  HfNode *node;      /* what is there; NULL: nothing */
} HfTarget;

/** hf_edit_find: the last step may lead to what is not there yet. %HF_ERROR_NOT_FOUND */
gboolean hf_edit_find(HfNode *root, const HfPath *path, HfTarget *ret_target, GError **error);
/** hf_edit_refuse_path: %FALSE, with what there is in the place of @step. */
gboolean hf_edit_refuse_path(const HfPath *path, const HfStep *step, const HfNode *holder,
                             GError **error);

/* --- scanning --- */
gsize hf_edit_line_start(const HfEditor *editor, gsize at);
gsize hf_edit_line_end(const HfEditor *editor, gsize at);  /* before the line break */
gsize hf_edit_next_line(const HfEditor *editor, gsize at); /* behind the line break */
/** hf_edit_next: as hf_source_next(). */
gsize hf_edit_next(const HfEditor *editor, gsize at);
/** hf_edit_content_end: end of a node without the line breaks behind a block text. */
gsize hf_edit_content_end(const HfEditor *editor, const HfNode *node);
/** hf_edit_item_start, hf_edit_item_end: of item @i with its key. */
gsize hf_edit_item_start(const HfNode *node, guint i);
gsize hf_edit_item_end(const HfEditor *editor, const HfNode *node, guint i);
/** hf_edit_colon: behind the colon of key @i; 0 when it has none ({a, b}). */
gsize hf_edit_colon(const HfEditor *editor, const HfNode *table, guint i);
/** hf_edit_dash: of item @i of a block list. */
gsize hf_edit_dash(const HfEditor *editor, const HfNode *list, guint i);
/** hf_edit_first_on_line, hf_edit_last_on_line: but for spaces, and for a remark behind it. */
gboolean hf_edit_first_on_line(const HfEditor *editor, gsize at);
gboolean hf_edit_last_on_line(const HfEditor *editor, gsize at);
/** hf_edit_indent: (transfer full) the white space that a new line below the item at @first starts
 *  with. */
char *hf_edit_indent(const HfEditor *editor, gsize first);
/** hf_edit_is_json: written the way of JSON: the nearest table with keys says so. */
gboolean hf_edit_is_json(const HfEditor *editor, const HfNode *parent);
/** hf_edit_is_bare: the one pair of [key: value]: a table without brackets. */
gboolean hf_edit_is_bare(const HfEditor *editor, const HfNode *node);
/** hf_edit_splice: puts @text in place of bytes [@start, @end) of the source; edits are
 *  gathered and made in one go. */
void hf_edit_splice(HfEditor *editor, gsize start, gsize end, const char *text);
/** hf_edit_refuse: %FALSE, with %HF_ERROR_BAD_VALUE. */
gboolean hf_edit_refuse(GError **error, const char *fix, const char *what);

/* --- the three kinds of edit: each adds splices --- */
gboolean hf_edit_set(HfEditor *editor, const HfTarget *target, const HfNode *value, GError **error);
/** hf_edit_remove: takes the value at its path out, with its key or its dash; comments beside
 *  it stay. */
gboolean hf_edit_remove(HfEditor *editor, const HfTarget *target, GError **error);
/** hf_edit_insert: @target is the list itself; @index before which item. */
gboolean hf_edit_insert(HfEditor *editor, const HfTarget *target, guint index, const HfNode *item,
                        GError **error);
/** hf_edit_replace: item @index of @parent (%NULL: the root), which is @node, becomes @text. */
void hf_edit_replace(HfEditor *editor, const HfNode *parent, gint index, const HfNode *node,
                     const char *text);
/** hf_edit_add_to_flow: one item more of a list or table in brackets, before item @index. */
void hf_edit_add_to_flow(HfEditor *editor, const HfNode *node, guint index, const char *text);

/* --- writing values --- */
typedef enum { HF_IN_BLOCK, HF_IN_FLOW } HfContext;
/** hf_write_text: (transfer full) @value plain where that reads back the same, else in quotes.
 *  @like: (nullable) the text that it takes the place of. @json: the keys beside it have quotes. */
char *hf_write_text(const char *value, HfContext context, const HfNode *like, gboolean json);
/** hf_write_quoted: (transfer full) in double quotes, as YAML and JSON both read it. */
char *hf_write_quoted(const char *value);
/** hf_write_flow: (transfer full) a whole tree on one line. */
char *hf_write_flow(const HfNode *node, gboolean json);
