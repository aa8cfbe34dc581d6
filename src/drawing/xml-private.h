/* SPDX-License-Identifier: GPL-3.0-or-later
 * xml-private.h - an XML file as a tree of elements, read with a cap on everything.
 *
 * No network, no file beside it, no external entity; entities of its own are put in, within the
 * caps.
 */
#pragma once
#include "base/error.h"

typedef struct {
  const char *name, *value; /* `xlink:href`, `xml:space`; other prefixes are left out */
} HfXmlAttribute;

typedef struct HfXmlNode HfXmlNode;
struct HfXmlNode {
  const char *name; /* local; of another namespace than the root's: "" */
  HfXmlAttribute *attributes;
  guint n_attributes;
  guint line, order; /* in the file; how many elements began before it */
  GString *text;     /* (nullable) characters directly in it */
  gsize text_before; /* bytes of its parent's text that stand before it */
  HfXmlNode *parent, *first, *last, *next;
};

typedef struct {
  HfXmlNode *root;
  GStringChunk *strings;
  GPtrArray *nodes; /* HfXmlNode *: all, in order */
} HfXml;

#define HF_XML_MOST_BYTES    (24u << 20) /* of a file */
#define HF_XML_MOST_ELEMENTS 200000
#define HF_XML_MOST_TEXT     (40u << 20) /* of attributes and characters, entities put in */
#define HF_XML_DEEPEST       100

/**
 * hf_xml_read:
 * @where: the file's name in errors
 * Returns: (transfer full), or %NULL with %HF_ERROR_BAD_VALUE (not well-formed, with its line) or
 *   %HF_ERROR_TOO_BIG (over a cap, which is said). O(bytes).
 */
HfXml *hf_xml_read(const char *where, const char *bytes, gsize length, GError **error);
/** hf_xml_free: frees it and all that it owns; %NULL: nothing. */
void hf_xml_free(HfXml *xml);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfXml, hf_xml_free)

/** hf_xml_get: (nullable) the value of attribute @name. */
const char *hf_xml_get(const HfXmlNode *node, const char *name);
