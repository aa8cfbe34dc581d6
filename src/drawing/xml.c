/* SPDX-License-Identifier: GPL-3.0-or-later
 * xml.c - libxml2's events into a tree of our own, which ends at the first cap.
 */
#include "drawing/xml-private.h"
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <string.h>

#define XLINK "http://www.w3.org/1999/xlink"
#define XML   "http://www.w3.org/XML/1998/namespace"

typedef struct {
  HfXml *xml;
  HfXmlNode *open; /* (nullable) innermost element that has begun */
  guint depth;
  gsize text;    /* bytes kept so far */
  char *space;   /* (nullable) namespace of the root */
  char *too_big; /* (nullable) the cap that was met */
} Reading;

static Reading *
reading_of(void *context)
{
  return (Reading *)((xmlParserCtxtPtr)context)->_private;
}

static void
stop(void *context, char *why)
{
  Reading *own = reading_of(context);
  if (own->too_big == NULL)
    own->too_big = why;
  else
    g_free(why);
  xmlStopParser((xmlParserCtxtPtr)context);
}

static void
count_text(void *context, gsize more)
{
  Reading *own = reading_of(context);
  own->text += more;
  if (own->text > HF_XML_MOST_TEXT)
    stop(context, g_strdup_printf("it unfolds to more than %u MB", HF_XML_MOST_TEXT >> 20));
}

static const char *
attribute_name(HfXml *xml, const xmlChar **a)
{
  const char *name = (const char *)a[0], *uri = (const char *)a[2];
  if (uri == NULL)
    return g_string_chunk_insert_const(xml->strings, name);
  if (strcmp(uri, XLINK) != 0 && strcmp(uri, XML) != 0)
    return NULL;
  g_autofree char *full = g_strconcat(strcmp(uri, XML) == 0 ? "xml:" : "xlink:", name, NULL);
  return g_string_chunk_insert_const(xml->strings, full);
}

/* libxml2 hands on: local name, prefix, namespace, first and last byte of the value. */
static void
add_attributes(void *context, HfXmlNode *node, int n, const xmlChar **a)
{
  Reading *own = reading_of(context);
  node->attributes = g_new(HfXmlAttribute, (gsize)n);
  for (int i = 0; i < n; i++, a += 5) {
    const char *name = attribute_name(own->xml, a);
    gssize length = a[4] - a[3];
    count_text(context, (gsize)length);
    if (own->too_big != NULL)
      return;
    if (name != NULL)
      node->attributes[node->n_attributes++] = (HfXmlAttribute){
          name, g_string_chunk_insert_len(own->xml->strings, (const char *)a[3], length)};
  }
}

static void
hang_in(Reading *own, HfXmlNode *node)
{
  node->parent = own->open;
  node->text_before = own->open != NULL && own->open->text != NULL ? own->open->text->len : 0;
  if (own->open == NULL)
    own->xml->root = node;
  else if (own->open->last == NULL)
    own->open->first = own->open->last = node;
  else
    own->open->last = own->open->last->next = node;
  own->open = node;
}

static void
on_start(void *context, const xmlChar *name, const xmlChar *prefix G_GNUC_UNUSED,
         const xmlChar *uri, int n_spaces G_GNUC_UNUSED, const xmlChar **spaces G_GNUC_UNUSED,
         int n, int n_defaulted G_GNUC_UNUSED, const xmlChar **attributes)
{
  Reading *own = reading_of(context);
  if (own->too_big != NULL)
    return;
  if (++own->depth > HF_XML_DEEPEST) {
    stop(context,
         g_strdup_printf("its elements lie more than %d deep in each other", HF_XML_DEEPEST));
    return;
  }
  if (own->xml->nodes->len >= HF_XML_MOST_ELEMENTS) {
    stop(context, g_strdup_printf("it has more than %d elements", HF_XML_MOST_ELEMENTS));
    return;
  }
  if (own->xml->root == NULL)
    own->space = g_strdup((const char *)uri);
  HfXmlNode *node = g_new0(HfXmlNode, 1);
  node->order = own->xml->nodes->len;
  node->line = (guint)MAX(xmlSAX2GetLineNumber(context), 1);
  node->name = g_strcmp0(own->space, (const char *)uri) == 0
                   ? g_string_chunk_insert_const(own->xml->strings, (const char *)name)
                   : "";
  g_ptr_array_add(own->xml->nodes, node);
  hang_in(own, node);
  add_attributes(context, node, n, attributes);
}

static void
on_end(void *context, const xmlChar *name G_GNUC_UNUSED, const xmlChar *prefix G_GNUC_UNUSED,
       const xmlChar *uri G_GNUC_UNUSED)
{
  Reading *own = reading_of(context);
  if (own->too_big != NULL || own->open == NULL)
    return;
  own->depth--;
  own->open = own->open->parent;
}

static void
on_text(void *context, const xmlChar *text, int length)
{
  Reading *own = reading_of(context);
  if (own->too_big != NULL || own->open == NULL)
    return;
  count_text(context, (gsize)length);
  if (own->open->text == NULL)
    own->open->text = g_string_new(NULL);
  g_string_append_len(own->open->text, (const char *)text, length);
}

static xmlParserInputPtr
no_other_file(void *context G_GNUC_UNUSED, const xmlChar *public_id G_GNUC_UNUSED,
              const xmlChar *system_id G_GNUC_UNUSED)
{
  return NULL;
}

static void
quiet(void *context G_GNUC_UNUSED, const char *message G_GNUC_UNUSED, ...)
{
}

static xmlSAXHandler
handler_of_ours(void)
{
  xmlSAXHandler sax;
  memset(&sax, 0, sizeof sax);
  xmlSAXVersion(&sax, 2);
  sax.startElementNs = on_start;
  sax.endElementNs = on_end;
  sax.characters = sax.ignorableWhitespace = sax.cdataBlock = on_text;
  sax.comment = NULL;
  sax.processingInstruction = NULL;
  sax.reference = NULL;
  sax.externalSubset = NULL;
  sax.resolveEntity = no_other_file;
  sax.warning = sax.error = sax.fatalError = quiet;
  sax.serror = NULL;
  return sax;
}

/* A message of libxml2 as part of a sentence. */
static void
set_error(xmlParserCtxtPtr context, const Reading *own, const char *where, GError **error)
{
  if (own->too_big != NULL) {
    hf_error_set(error, HF_ERROR_TOO_BIG, where, "simplify the drawing, or take a part of it", "%s",
                 own->too_big);
    return;
  }
  const xmlError *last = xmlCtxtGetLastError(context);
  if (last != NULL && last->message != NULL && strstr(last->message, "Huge input") != NULL) {
    hf_error_set(error, HF_ERROR_TOO_BIG, where, "simplify the drawing, or take a part of it",
                 "one value in it has more than 10 MB"); /* libxml2's own cap */
    return;
  }
  if (last != NULL && last->message != NULL) {
    g_autofree char *what = g_strchomp(g_utf8_make_valid(last->message, -1));
    g_autofree char *at = g_strdup_printf("%s:%d", where, last->line);
    hf_error_set(error, HF_ERROR_BAD_VALUE, at, "save the drawing anew", "it is no sound XML: %s",
                 what);
  } else {
    hf_error_set(error, HF_ERROR_BAD_VALUE, where, "save the drawing anew", "it is no sound XML");
  }
}

HfXml *
hf_xml_read(const char *where, const char *bytes, gsize length, GError **error)
{
  if (length > HF_XML_MOST_BYTES) {
    hf_error_set(error, HF_ERROR_TOO_BIG, where, "simplify the drawing, or take a part of it",
                 "it has more than %u MB", HF_XML_MOST_BYTES >> 20);
    return NULL;
  }
  g_autoptr(HfXml) xml = g_new0(HfXml, 1);
  xml->strings = g_string_chunk_new(4096);
  xml->nodes = g_ptr_array_new();
  Reading own = {.xml = xml};
  xmlSAXHandler sax = handler_of_ours();
  xmlParserCtxtPtr context = xmlCreatePushParserCtxt(&sax, NULL, NULL, 0, NULL);
  g_assert(context != NULL);
  context->_private = &own;
  xmlCtxtUseOptions(context,
                    XML_PARSE_NOENT | XML_PARSE_NONET | XML_PARSE_NOWARNING | XML_PARSE_NOERROR);
  xmlParseChunk(context, bytes, (int)length, 1);
  gboolean fine = context->wellFormed && own.too_big == NULL && xml->root != NULL;
  if (!fine)
    set_error(context, &own, where, error);
  if (context->myDoc != NULL)
    xmlFreeDoc(context->myDoc);
  xmlFreeParserCtxt(context);
  g_free(own.space);
  g_free(own.too_big);
  return fine ? g_steal_pointer(&xml) : NULL;
}

void
hf_xml_free(HfXml *xml)
{
  if (xml == NULL)
    return;
  for (guint i = 0; i < xml->nodes->len; i++) {
    HfXmlNode *node = (HfXmlNode *)g_ptr_array_index(xml->nodes, i);
    g_free(node->attributes);
    if (node->text != NULL)
      g_string_free(node->text, TRUE);
    g_free(node);
  }
  g_ptr_array_unref(xml->nodes);
  g_string_chunk_free(xml->strings);
  g_free(xml);
}

const char *
hf_xml_get(const HfXmlNode *node, const char *name)
{
  for (guint i = 0; i < node->n_attributes; i++)
    if (strcmp(node->attributes[i].name, name) == 0)
      return node->attributes[i].value;
  return NULL;
}
