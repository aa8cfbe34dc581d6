/* SPDX-License-Identifier: GPL-3.0-or-later
 * edit-private.h - what the in-place edit is made of: places in the text, cuts, and new text.
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

/* Where a path leads: item @index of @parent, or a key that @parent has not. */
typedef struct {
  HfNode *parent;    /* NULL: the root itself */
  gint index;        /* -1: not there */
  const char *key;   /* (borrowed) last key of the path; NULL: a list item */
  HfNode *grand;     /* what holds the parent; NULL: the parent is the root */
  gint parent_index; /* of parent in grand */
} HfTarget;

/* --- scanning --- */
gsize hf_edit_line_start(const HfEditor *editor, gsize at);
gsize hf_edit_line_end(const HfEditor *editor, gsize at);  /* before the line break */
gsize hf_edit_next_line(const HfEditor *editor, gsize at); /* behind the line break */
/** hf_edit_next: as hf_source_next(). */
gsize hf_edit_next(const HfEditor *editor, gsize at);
/** hf_edit_content_end: end of a node without the line breaks behind a block text. */
gsize hf_edit_content_end(const HfEditor *editor, const HfNode *node);
gboolean hf_edit_blank(const HfEditor *editor, gsize from, gsize to); /* only spaces and tabs */
void hf_edit_splice(HfEditor *editor, gsize start, gsize end, const char *text);

/* --- the three kinds of edit: each adds splices --- */
/** hf_edit_set: @value: a text or a whole tree. */
gboolean hf_edit_set(HfEditor *editor, const HfTarget *target, const HfNode *value, GError **error);
gboolean hf_edit_remove(HfEditor *editor, const HfTarget *target, GError **error);
/** hf_edit_insert: @list is the list itself; @target where it stands; @index before which item. */
gboolean hf_edit_insert(HfEditor *editor, const HfTarget *target, const HfNode *list, guint index,
                        const char *value, const HfNode *item, GError **error);

/* --- writing values --- */
typedef enum { HF_IN_BLOCK, HF_IN_FLOW } HfContext;
/** hf_write_text: (transfer full) @value plain where that reads back the same, else in quotes.
 *  @like: (nullable) the text that it takes the place of. @json: the keys beside it have quotes. */
char *hf_write_text(const char *value, HfContext context, const HfNode *like, gboolean json);
/** hf_write_quoted: (transfer full) in double quotes, as YAML and JSON both read it. */
char *hf_write_quoted(const char *value);
/** hf_write_flow: (transfer full) a whole tree on one line. */
char *hf_write_flow(const HfNode *node, gboolean json);
