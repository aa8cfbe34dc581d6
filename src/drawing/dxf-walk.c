/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-walk.c - which entities of a DXF file are drawn, and in which frame.
 *
 *   model space ─┬─ LINE ...                     layer on, thawed, not hidden: drawn
 *                ├─ INSERT "leaf" ─┬─ ARC ...    each copy (rows and columns) in a frame of its
 * own; │                 └─ INSERT ...  what is on layer 0 in it: on the copy's layer └─ on paper
 * (67)                counted and told
 *
 * A copy: less the block's base, scaled, shifted to its row and column, turned, put in its place,
 * in the plane of its normal. A block that holds a copy of itself has no end: refused.
 */
#include "drawing/dxf-private.h"
#include <string.h>

#define DEGREE (G_PI / 180)

/* ---- what is filled -------------------------------------------------------------------------- */

#define MORE "more of that kind"

HfDxfNote *
hf_dxf_note(HfDxfReader *reader, guint place, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *text = g_strdup_vprintf(format, args);
  va_end(args);
  for (guint i = 0; i < reader->notes->len; i++) {
    HfDxfNote *old = (HfDxfNote *)g_ptr_array_index(reader->notes, i);
    if (strcmp(old->text, text) == 0) {
      old->times++;
      return old;
    }
  }
  if (reader->notes->len >= HF_DXF_MOST_NOTES) {
    HfDxfNote *rest = (HfDxfNote *)reader->notes->pdata[reader->notes->len - 1];
    rest->times++;
    return rest;
  }
  gboolean last = reader->notes->len + 1 == HF_DXF_MOST_NOTES;
  HfDxfNote *note = g_new0(HfDxfNote, 1);
  *note = (HfDxfNote){place, 1, last ? g_strdup(MORE) : g_steal_pointer(&text), FALSE};
  g_ptr_array_add(reader->notes, note);
  return note;
}

/* Its file says itself that it is not to be seen; "more of that kind" stays in doubt. */
static void
slight(HfDxfNote *note)
{
  note->slight = strcmp(note->text, MORE) != 0;
}

static void
note_free(gpointer data)
{
  HfDxfNote *note = (HfDxfNote *)data;
  g_free(note->text);
  g_free(note);
}

static void
piece_free(gpointer data)
{
  HfDxfPiece *piece = (HfDxfPiece *)data;
  g_free(piece->type);
  g_free(piece->layer);
  g_free(piece->block);
  g_ptr_array_unref(piece->runs);
  hf_dxf_words_free(piece->words);
  g_free(piece->name);
  g_free(piece->said);
  g_free(piece);
}

static void
run_free(gpointer data)
{
  g_array_unref((GArray *)data);
}

static void
too_many(HfDxfReader *reader, guint place, gsize most, const char *what)
{
  g_autofree char *where = hf_dxf_place(reader->document->tags, place);
  if (reader->error == NULL)
    hf_error_set(&reader->error, HF_ERROR_TOO_BIG, where, "leave out what is not to be cut",
                 "more than %" G_GSIZE_FORMAT " %s", most, what);
}

/* Its own layer; of what is on 0 in a block: the copy's. */
static char *
layer_of(const HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  g_autofree char *own = hf_dxf_decode(reader->document, hf_dxf_text(record, 8, "0"));
  g_strstrip(own);
  return where->layer != NULL && strcmp(own, "0") == 0 ? g_strdup(where->layer)
                                                       : g_steal_pointer(&own);
}

HfDxfPiece *
hf_dxf_add(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, HfDxfHow how)
{
  HfDxfPiece *piece = g_new0(HfDxfPiece, 1);
  piece->how = how;
  piece->type = g_strdup(record.tag->text);
  piece->layer = layer_of(reader, where, record);
  piece->block = g_strdup(where->block);
  piece->place = record.tag->place;
  piece->runs = g_ptr_array_new_with_free_func(run_free);
  g_ptr_array_add(reader->pieces, piece);
  if (reader->pieces->len > HF_DXF_MOST_PIECES)
    too_many(reader, piece->place, HF_DXF_MOST_PIECES, "things drawn");
  return piece;
}

void
hf_dxf_add_run(HfDxfReader *reader, HfDxfPiece *piece, GArray *run, HfMatrix matrix)
{
  if (run->len == 0) {
    g_array_unref(run);
    return;
  }
  hf_dxf_matrix_run(run, matrix);
  g_ptr_array_add(piece->runs, run);
  reader->curves += run->len;
  if (reader->curves > HF_DXF_MOST_CURVES)
    too_many(reader, piece->place, HF_DXF_MOST_CURVES, "curves");
}

/* ---- one entity ------------------------------------------------------------------------------ */

static gboolean
is_shown(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  guint place = record.tag->place;
  if (hf_dxf_int(record, 67, 0) == 1) {
    slight(
        hf_dxf_note(reader, place, "what lies on paper, not in the drawing itself, was left out"));
    return FALSE;
  }
  if (hf_dxf_int(record, 60, 0) == 1) {
    slight(hf_dxf_note(reader, place, "what is marked as not to be seen was left out"));
    return FALSE;
  }
  g_autofree char *name = layer_of(reader, where, record);
  HfDxfLayer *layer = hf_dxf_layer(reader->document, name);
  gboolean copy = hf_dxf_is(record, "INSERT");
  if (layer == NULL || !(layer->frozen || (layer->off && !copy)))
    return TRUE;
  layer->hidden++;
  slight(hf_dxf_note(reader, place, "what is on layer \"%s\", which is %s, was left out",
                     layer->name, layer->frozen ? "frozen" : "off"));
  return FALSE;
}

static void walk(HfDxfReader *reader, HfDxfWhere where, guint from, guint to);

typedef struct {
  double at[3], scale[3], turn;
  int columns, rows;
  double column_step, row_step;
} Copy;

static Copy
copy_of(HfDxfRecord record)
{
  Copy copy = {.turn = hf_dxf_real(record, 50, 0) * DEGREE,
               .columns = MAX(hf_dxf_int(record, 70, 1), 1),
               .rows = MAX(hf_dxf_int(record, 71, 1), 1),
               .column_step = hf_dxf_real(record, 44, 0),
               .row_step = hf_dxf_real(record, 45, 0)};
  hf_dxf_point(record, 10, copy.at);
  for (int axis = 0; axis < 3; axis++) {
    double scale = hf_dxf_real(record, 41 + axis, 1);
    copy.scale[axis] = scale != 0 ? scale : 1;
  }
  return copy;
}

static HfDxfSpace
frame_of_copy(const Copy *copy, const HfDxfBlock *block, int column, int row)
{
  double c = cos(copy->turn), s = sin(copy->turn);
  double x = column * copy->column_step, y = row * copy->row_step;
  HfDxfSpace scaled = HF_DXF_SPACE_WORLD;
  for (int axis = 0; axis < 3; axis++) {
    scaled.m[axis][axis] = copy->scale[axis];
    scaled.m[axis][3] = -block->base[axis] * copy->scale[axis];
  }
  scaled.m[0][3] += x;
  scaled.m[1][3] += y;
  HfDxfSpace put = {{{c, -s, 0, copy->at[0]}, {s, c, 0, copy->at[1]}, {0, 0, 1, copy->at[2]}}};
  return hf_dxf_space_then(scaled, put);
}

static void
draw_copies(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record, HfDxfBlock *block)
{
  Copy copy = copy_of(record);
  HfDxfSpace own = hf_dxf_own_space(where, record);
  g_autofree char *layer = layer_of(reader, where, record);
  HfDxfWhere inner = {.layer = layer, .block = where->block != NULL ? where->block : block->name};
  block->drawing = TRUE;
  reader->deep++;
  for (int row = 0; row < copy.rows && reader->error == NULL; row++)
    for (int column = 0; column < copy.columns && reader->error == NULL; column++) {
      inner.space = hf_dxf_space_then(frame_of_copy(&copy, block, column, row), own);
      if (++reader->walked > HF_DXF_MOST_WALKED)
        too_many(reader, record.tag->place, HF_DXF_MOST_WALKED, "copies");
      else
        walk(reader, inner, block->from, block->to);
    }
  reader->deep--;
  block->drawing = FALSE;
}

static void
refuse_loop(HfDxfReader *reader, guint place, const char *name)
{
  g_autofree char *at = hf_dxf_place(reader->document->tags, place);
  hf_error_set(&reader->error, HF_ERROR_BAD_VALUE, at, "take the copy out of the block",
               "block \"%s\" holds a copy of itself, which has no end", name);
}

static void
draw_insert(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  guint place = record.tag->place;
  g_autofree char *name = hf_dxf_decode(reader->document, hf_dxf_text(record, 2, ""));
  HfDxfBlock *block = hf_dxf_block(reader->document, name);
  if (block == NULL)
    hf_dxf_note(reader, place, "block \"%s\" is not in the file: its copies are missing", name);
  else if (block->outside)
    hf_dxf_note(reader, place, "block \"%s\" stands in another file: its copies are missing", name);
  else if (block->drawing)
    refuse_loop(reader, place, name);
  else if (reader->deep >= HF_DXF_DEEPEST)
    too_many(reader, place, HF_DXF_DEEPEST, "blocks within each other");
  else
    draw_copies(reader, where, record, block);
}

/* What only says something of others, or holds others' ends: nothing to tell. */
static gboolean
is_silent(HfDxfRecord record)
{
  static const char *const types[] = {"SEQEND", "VERTEX", "ENDBLK", "VIEWPORT", NULL};
  return g_strv_contains(types, record.tag->text);
}

static void
draw_entity(HfDxfReader *reader, const HfDxfWhere *where, HfDxfRecord record)
{
  if (!hf_dxf_is_sound(reader->document->tags, record, &reader->error) ||
      !is_shown(reader, where, record))
    return;
  HfDxfDraw draw = hf_dxf_draw_of(record.tag->text);
  if (draw != NULL)
    draw(reader, where, record);
  else if (hf_dxf_is(record, "INSERT"))
    draw_insert(reader, where, record);
  else
    hf_dxf_note(reader, record.tag->place, "%s: a kind that is no outline was left out",
                record.tag->text);
}

/* ---- all of them ----------------------------------------------------------------------------- */

/* Records of its own that follow the one at @i: vertices up to SEQEND. Attributes are things of
 * their own. */
static guint
end_of_entity(const HfDxfTags *tags, guint i, guint to)
{
  HfDxfRecord record = hf_dxf_record_at(tags, i);
  gboolean owns = hf_dxf_is(record, "POLYLINE");
  i += record.n;
  while (owns && i < to && hf_dxf_is(record = hf_dxf_record_at(tags, i), "VERTEX"))
    i += record.n;
  return i;
}

static void
walk(HfDxfReader *reader, HfDxfWhere where, guint from, guint to)
{
  const HfDxfTags *tags = reader->document->tags;
  for (guint i = from; i < to && reader->error == NULL;) {
    HfDxfRecord record = hf_dxf_record_at(tags, i);
    where.at = i;
    where.end = end_of_entity(tags, i, to);
    if (++reader->walked > HF_DXF_MOST_WALKED)
      too_many(reader, record.tag->place, HF_DXF_MOST_WALKED, "things drawn");
    else if (record.tag->code == 0 && !is_silent(record))
      draw_entity(reader, &where, record);
    i = where.end;
  }
}

HfDxfReader *
hf_dxf_read(const char *name, const char *bytes, gsize length, GError **error)
{
  HfDxfTags *tags = hf_dxf_tags_read(name, bytes, length, error);
  HfDxfDocument *document = tags != NULL ? hf_dxf_document_new(tags, error) : NULL;
  if (document == NULL)
    return NULL;
  g_autoptr(HfDxfReader) reader = g_new0(HfDxfReader, 1);
  reader->document = document;
  reader->pieces = g_ptr_array_new_with_free_func(piece_free);
  reader->notes = g_ptr_array_new_with_free_func(note_free);
  if (!tags->ended)
    hf_dxf_note(reader, g_array_index(tags->tags, HfDxfTag, tags->tags->len - 1).place,
                "the file ends in the middle: something may be missing");
  for (guint i = 0; i < document->entities->len; i++) {
    HfDxfRange range = g_array_index(document->entities, HfDxfRange, i);
    walk(reader, (HfDxfWhere){.space = HF_DXF_SPACE_WORLD}, range.from, range.to);
  }
  if (reader->error == NULL)
    return g_steal_pointer(&reader);
  g_propagate_error(error, g_steal_pointer(&reader->error));
  return NULL;
}

void
hf_dxf_reader_free(HfDxfReader *reader)
{
  if (reader == NULL)
    return;
  g_ptr_array_unref(reader->pieces);
  g_ptr_array_unref(reader->notes);
  hf_dxf_document_free(reader->document);
  g_clear_error(&reader->error);
  g_free(reader);
}
