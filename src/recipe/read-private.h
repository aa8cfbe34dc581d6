/* SPDX-License-Identifier: GPL-3.0-or-later
 * read-private.h - from nodes to structs, driven by the schema table.
 */
#pragma once
#include "recipe/node-private.h"
#include "recipe/schema-private.h"

/* A name that some value mentions; looked up once all entries are known. */
typedef struct {
  HfMark mark;
  const char *name;     /* (borrowed) from the node */
  const HfField *field; /* that says it */
  gint entry;           /* index of the entry that says it; -1: none */
} HfMention;

struct HfReader {
  HfMistakes *mistakes;
  GArray *mentions;         /* HfMention */
  const HfMetalKind *metal; /* of the table being read, for gauges */
  gint entry;               /* being read; -1: none */
  GArray *said;             /* HfSaid, (nullable): of that entry */
  GHashTable *sized;        /* (nullable) names of entries whose size follows from their group's */
};

/** hf_read_defaults: every field of @table in @base as when nothing was given. */
void hf_read_defaults(const HfTable *table, void *base);
/** hf_read_table: fills @base, which hf_read_defaults() has prepared, from @node. */
void hf_read_table(HfReader *reader, const HfNode *node, const HfTable *table, void *base);
/** hf_read_free: frees what the fields of @table own in @base. */
void hf_read_free(const HfTable *table, void *base);

/** hf_read_entries: the list of one-key tables. */
void hf_read_entries(HfReader *reader, const HfNode *list, GPtrArray *entries);
/** hf_entry_free: and all that it owns; %NULL: nothing. */
void hf_entry_free(HfEntry *entry);

/** hf_check_entry: combinations that can't be, for one entry as written in @node. @clean: each of
 *  its values was right by itself, so its figures may be compared. */
void hf_check_entry(HfReader *reader, const HfNode *node, const HfEntry *entry, gboolean clean);
/** hf_sized_by_groups: (transfer full) the names of all members, however deep, of the groups in
 * @list (entries as nodes) that say a width or what they are inside of. */
GHashTable *hf_sized_by_groups(const HfNode *list);
/** hf_reader_is_sized: does the size of the entry written in @node follow from its group's? */
gboolean hf_reader_is_sized(const HfReader *reader, const HfNode *node);
/** hf_check_groups: an entry in two groups, or a member with a place of its own. */
void hf_check_groups(HfReader *reader, const GPtrArray *entries);
/** hf_check_layers: says of each entry in which layers it is; an entry that is held by one of
 *  another layer, a layer without entries, one whose metal is half said. */
void hf_check_layers(HfReader *reader, const HfNode *root, HfRecipe *recipe);
/** hf_check_names: names used twice, mentioned but not there, of a wrong kind, in a circle. */
void hf_check_names(HfReader *reader, const GPtrArray *entries);
/** hf_read_version: %FALSE with a mistake when the file is of a newer format. */
gboolean hf_read_version(HfReader *reader, const HfNode *root);
/** hf_check_font: a font wish that says too much or too little. @node: its value. */
void hf_check_font(HfReader *reader, const HfNode *node, const HfFontWish *font);

/** hf_check_finish: a finish that its metal can't have. @root: the recipe's. */
void hf_check_finish(HfReader *reader, const HfNode *root, const HfRecipe *recipe);

/** hf_check_agreed: a digest that none is. @root: the recipe's. */
void hf_check_agreed(HfReader *reader, const HfNode *root, const HfRecipe *recipe);
/** hf_check_cut: wishes for the cutting that can not be. @root: the recipe's. */
void hf_check_cut(HfReader *reader, const HfNode *root, const HfRecipe *recipe);

/** hf_said_units: in which unit the recipe @root tells lengths: as it says, else inches where it
 * says more of its own in inches and feet than in mm, cm and m. */
HfUnits hf_said_units(const HfNode *root);
/** hf_said_gauge: (transfer full) (nullable) its thickness, where it says that by a gauge: "10 ga"
 */
char *hf_said_gauge(const HfNode *root);
