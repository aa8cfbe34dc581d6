/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-document.c - the sections of a DXF file: what its header says, layers, blocks, entities.
 *
 *   SECTION HEADER    $ACADVER $INSUNITS $DWGCODEPAGE      TABLES    layers, off or frozen
 *           BLOCKS    things to be copied, by name         ENTITIES  what is drawn
 *
 * A file may lack any of them but the last. Names of layers and blocks are the same in capitals and
 * small letters.
 */
#include "drawing/dxf-private.h"
#include <string.h>

enum { R2007 = 1021 }; /* from there on text is UTF-8 */

/* $INSUNITS, by number (reference of the format, header variables). */
static const struct {
  const char *word;
  double mm;
} UNITS[] = {
    [1] = {"inches", 25.4},
    [2] = {"feet", 304.8},
    [3] = {"miles", 1609344},
    [4] = {"millimetres", 1},
    [5] = {"centimetres", 10},
    [6] = {"metres", 1000},
    [7] = {"kilometres", 1e6},
    [8] = {"microinches", 25.4e-6},
    [9] = {"thousandths of an inch", 0.0254},
    [10] = {"yards", 914.4},
    [11] = {"angstroms", 1e-7},
    [12] = {"nanometres", 1e-6},
    [13] = {"micrometres", 1e-3},
    [14] = {"decimetres", 100},
    [15] = {"decametres", 1e4},
    [16] = {"hectometres", 1e5},
    [17] = {"gigametres", 1e12},
    [21] = {"US survey feet", 1200000.0 / 3937},
    [22] = {"US survey inches", 100000.0 / 3937},
    [23] = {"US survey yards", 3600000.0 / 3937},
    [24] = {"US survey miles", 1200000.0 / 3937 * 5280},
};

double
hf_dxf_unit_mm(int unit)
{
  return unit > 0 && unit < (int)G_N_ELEMENTS(UNITS) ? UNITS[unit].mm : 0;
}

const char *
hf_dxf_unit_word(int unit)
{
  return unit > 0 && unit < (int)G_N_ELEMENTS(UNITS) ? UNITS[unit].word : NULL;
}

/* ---- names ----------------------------------------------------------------------------------- */

static char *
folded(const char *name)
{
  g_autofree char *copy = g_strstrip(g_strdup(name));
  return g_str_is_ascii(copy) ? g_ascii_strdown(copy, -1) : g_utf8_casefold(copy, -1);
}

static gpointer
look_up(GHashTable *table, const char *name)
{
  g_autofree char *key = folded(name);
  return g_hash_table_lookup(table, key);
}

HfDxfLayer *
hf_dxf_layer(const HfDxfDocument *document, const char *name)
{
  return (HfDxfLayer *)look_up(document->layers, name);
}

HfDxfBlock *
hf_dxf_block(const HfDxfDocument *document, const char *name)
{
  return (HfDxfBlock *)look_up(document->blocks, name);
}

static void
layer_free(gpointer data)
{
  HfDxfLayer *layer = (HfDxfLayer *)data;
  g_free(layer->name);
  g_free(layer);
}

static void
block_free(gpointer data)
{
  HfDxfBlock *block = (HfDxfBlock *)data;
  g_free(block->name);
  g_free(block);
}

/* ---- sections -------------------------------------------------------------------------------- */

static const HfDxfTag *
tag_at(const HfDxfDocument *document, guint i)
{
  return &g_array_index(document->tags->tags, HfDxfTag, i);
}

static void
read_release(HfDxfDocument *document, const HfDxfTag *value)
{
  const char *text = value->text != NULL ? value->text : "";
  const char *digits = text + strcspn(text, "0123456789");
  document->release = (int)CLAMP(g_ascii_strtoll(digits, NULL, 10), 0, 9999);
}

static void
read_unit(HfDxfDocument *document, const HfDxfTag *value)
{
  document->unit = value->number >= 0 && value->number < 100 ? (int)value->number : 0;
}

static void
read_codepage(HfDxfDocument *document, const HfDxfTag *value)
{
  document->codepage = hf_dxf_codepage(value->text != NULL ? value->text : "");
}

static void
read_header(HfDxfDocument *document, guint from, guint to)
{
  static const struct {
    const char *name;
    void (*read)(HfDxfDocument *document, const HfDxfTag *value);
  } variables[] = {
      {"$ACADVER", read_release}, {"$INSUNITS", read_unit}, {"$DWGCODEPAGE", read_codepage}};
  for (guint i = from; i + 1 < to; i++) {
    const HfDxfTag *tag = tag_at(document, i);
    for (gsize j = 0; tag->code == 9 && j < G_N_ELEMENTS(variables); j++)
      if (g_strcmp0(tag->text, variables[j].name) == 0)
        variables[j].read(document, tag + 1);
  }
}

/* A colour below 0: off. */
static void
read_tables(HfDxfDocument *document, guint from, guint to)
{
  for (guint i = from; i < to;) {
    HfDxfRecord record = hf_dxf_record_at(document->tags, i);
    i += record.n;
    if (!hf_dxf_is(record, "LAYER") || hf_dxf_text(record, 2, NULL) == NULL)
      continue;
    HfDxfLayer *layer = g_new0(HfDxfLayer, 1);
    layer->name = hf_dxf_decode(document, hf_dxf_text(record, 2, NULL));
    layer->off = hf_dxf_int(record, 62, 7) < 0;
    layer->frozen = (hf_dxf_int(record, 70, 0) & 1) != 0;
    g_hash_table_insert(document->layers, folded(layer->name), layer);
  }
}

/* @i: its BLOCK. Returns: the first pair behind its ENDBLK. */
static guint
read_block(HfDxfDocument *document, guint i, guint to)
{
  enum { ELSEWHERE = 4 | 8 };
  HfDxfRecord record = hf_dxf_record_at(document->tags, i);
  const char *name = hf_dxf_text(record, 2, hf_dxf_text(record, 3, NULL));
  HfDxfBlock *block = g_new0(HfDxfBlock, 1);
  block->from = block->to = i + record.n;
  for (int axis = 0; axis < 3; axis++)
    block->base[axis] = hf_dxf_real(record, 10 * (axis + 1), 0);
  block->outside = (hf_dxf_int(record, 70, 0) & ELSEWHERE) != 0;
  while (block->to < to) {
    HfDxfRecord inner = hf_dxf_record_at(document->tags, block->to);
    if (hf_dxf_is(inner, "ENDBLK") || hf_dxf_is(inner, "BLOCK"))
      break;
    block->to += inner.n;
  }
  guint end = block->to;
  block->name = name != NULL ? hf_dxf_decode(document, name) : g_strdup("");
  g_hash_table_insert(document->blocks, folded(block->name), block);
  return end;
}

static void
read_blocks(HfDxfDocument *document, guint from, guint to)
{
  for (guint i = from; i < to;) {
    HfDxfRecord record = hf_dxf_record_at(document->tags, i);
    i = hf_dxf_is(record, "BLOCK") ? read_block(document, i, to) : i + record.n;
  }
}

static void
read_entities(HfDxfDocument *document, guint from, guint to)
{
  HfDxfRange range = {from, to};
  g_array_append_val(document->entities, range);
}

typedef void (*ReadSection)(HfDxfDocument *document, guint from, guint to);

static ReadSection
section_called(const char *name)
{
  static const struct {
    const char *name;
    ReadSection read;
  } sections[] = {{"HEADER", read_header},
                  {"TABLES", read_tables},
                  {"BLOCKS", read_blocks},
                  {"ENTITIES", read_entities}};
  for (gsize i = 0; i < G_N_ELEMENTS(sections); i++)
    if (g_strcmp0(name, sections[i].name) == 0)
      return sections[i].read;
  return NULL;
}

static gboolean
parts_sections(HfDxfRecord record)
{
  return hf_dxf_is(record, "SECTION") || hf_dxf_is(record, "ENDSEC") || hf_dxf_is(record, "EOF");
}

/* Section by section, in order; what stands outside of all of them is something drawn. */
static void
read_sections(HfDxfDocument *document)
{
  guint end = document->tags->tags->len;
  for (guint i = 0; i < end;) {
    HfDxfRecord head = hf_dxf_record_at(document->tags, i);
    gboolean begins = hf_dxf_is(head, "SECTION"),
             outside = head.tag->code == 0 && !begins && !parts_sections(head);
    ReadSection read = begins    ? section_called(hf_dxf_text(head, 2, NULL))
                       : outside ? read_entities
                                 : NULL;
    guint from = begins ? i + MIN(2, head.n) : i; /* a header goes on in the same record */
    for (i += head.n; i < end && (begins || outside);) {
      HfDxfRecord record = hf_dxf_record_at(document->tags, i);
      if (parts_sections(record))
        break;
      i += record.n;
    }
    if (read != NULL)
      read(document, from, i);
    if (read == read_header && document->release >= R2007)
      document->codepage = "UTF-8";
  }
}

HfDxfDocument *
hf_dxf_document_new(HfDxfTags *tags, GError **error)
{
  g_autoptr(HfDxfDocument) document = g_new0(HfDxfDocument, 1);
  document->tags = tags;
  document->codepage = hf_dxf_codepage("");
  document->layers = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, layer_free);
  document->blocks = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, block_free);
  document->entities = g_array_new(FALSE, FALSE, sizeof(HfDxfRange));
  read_sections(document);
  if (document->entities->len > 0)
    return g_steal_pointer(&document);
  hf_error_set(error, HF_ERROR_BAD_VALUE, tags->name, "draw something and save it as DXF",
               "a DXF file without entities: nothing is drawn in it");
  return NULL;
}

void
hf_dxf_document_free(HfDxfDocument *document)
{
  if (document == NULL)
    return;
  g_hash_table_unref(document->layers);
  g_hash_table_unref(document->blocks);
  g_array_unref(document->entities);
  hf_dxf_tags_free(document->tags);
  g_free(document);
}
