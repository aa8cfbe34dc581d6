/* SPDX-License-Identifier: GPL-3.0-or-later
 * kinship.c - what kind of face a family is: a script, a slab, a stencil ...
 *
 * Who asks for a script that is not installed wants to hear of scripts, not of the name that has
 * most letters in common. Of the family that is asked for there is only its name: words in it, then
 * a table of families that customers name. Of an installed one also what its file says (OpenType,
 * table OS/2: sFamilyClass, PANOSE); many files say nothing there.
 */
#include "base/text.h"
#include "type/type-private.h"
#include <string.h>

enum {
  MOST_OPENED = 400, /* files of which the table is read */
  MOST_NAMED = 4,
};

static const char SCRIPT[] = "scripts", SLAB[] = "slab faces", STENCIL[] = "stencil faces",
                  ROUNDED[] = "rounded faces", TYPEWRITER[] = "typewriter faces",
                  CONDENSED[] = "condensed faces", BLACKLETTER[] = "blackletters",
                  SERIF[] = "faces with serifs", PLAIN[] = "faces without serifs";

/* Words in the name of a family; the first that is met counts. Common practice, no source. */
static const struct {
  const char *word, *kind;
} WORDS[] = {
    {"stencil", STENCIL},
    {"schablone", STENCIL},
    {"script", SCRIPT},
    {"brush", SCRIPT},
    {"handwrit", SCRIPT},
    {"cursive", SCRIPT},
    {"calligraph", SCRIPT},
    {"chancery", SCRIPT},
    {"signature", SCRIPT},
    {"fraktur", BLACKLETTER},
    {"blackletter", BLACKLETTER},
    {"textura", BLACKLETTER},
    {"slab", SLAB},
    {"egyptian", SLAB},
    {"rounded", ROUNDED},
    {"mono", TYPEWRITER},
    {"typewriter", TYPEWRITER},
    {"courier", TYPEWRITER},
    {"condensed", CONDENSED},
    {"compressed", CONDENSED},
    {"narrow", CONDENSED},
    {"sans", PLAIN},
    {"grotesk", PLAIN},
    {"grotesque", PLAIN},
    {"gothic", PLAIN},
    {"serif", SERIF},
    {"antiqua", SERIF},
    {"mincho", SERIF},
    {"roman", SERIF},
};

/* Families whose names do not say it. From memory. */
static const struct {
  const char *begin, *kind;
} FAMILIES[] = {
    {"lobster", SCRIPT},
    {"pacifico", SCRIPT},
    {"leckerli", SCRIPT},
    {"great vibes", SCRIPT},
    {"sacramento", SCRIPT},
    {"kaushan", SCRIPT},
    {"cookie", SCRIPT},
    {"satisfy", SCRIPT},
    {"yellowtail", SCRIPT},
    {"allura", SCRIPT},
    {"alex brush", SCRIPT},
    {"comic", SCRIPT},
    {"caveat", SCRIPT},
    {"indie flower", SCRIPT},
    {"parisienne", SCRIPT},
    {"tangerine", SCRIPT},
    {"mistral", SCRIPT},
    {"zapfino", SCRIPT},
    {"snell", SCRIPT},
    {"vivaldi", SCRIPT},
    {"z003", SCRIPT},
    {"dancing", SCRIPT},
    {"rockwell", SLAB},
    {"arvo", SLAB},
    {"alfa slab", SLAB},
    {"bitter", SLAB},
    {"zilla", SLAB},
    {"clarendon", SLAB},
    {"memphis", SLAB},
    {"allerta", STENCIL},
    {"black ops", STENCIL},
    {"stardos", STENCIL},
    {"nunito", ROUNDED},
    {"varela", ROUNDED},
    {"quicksand", ROUNDED},
    {"fredoka", ROUNDED},
    {"comfortaa", ROUNDED},
    {"cooper", ROUNDED},
    {"bebas", CONDENSED},
    {"oswald", CONDENSED},
    {"anton", CONDENSED},
    {"impact", CONDENSED},
    {"league gothic", CONDENSED},
    {"teko", CONDENSED},
    {"unifraktur", BLACKLETTER},
    {"old english", BLACKLETTER},
    {"times", SERIF},
    {"c059", SERIF},
    {"p052", SERIF},
    {"urw bookman", SERIF},
    {"bookman", SERIF},
    {"century school", SERIF},
    {"georgia", SERIF},
    {"garamond", SERIF},
    {"eb garamond", SERIF},
    {"palatino", SERIF},
    {"vollkorn", SERIF},
    {"playfair", SERIF},
    {"cinzel", SERIF},
    {"trajan", SERIF},
    {"baskerville", SERIF},
    {"bodoni", SERIF},
    {"didot", SERIF},
    {"caslon", SERIF},
    {"arial", PLAIN},
    {"helvetica", PLAIN},
    {"verdana", PLAIN},
    {"calibri", PLAIN},
    {"futura", PLAIN},
    {"gill", PLAIN},
    {"inter", PLAIN},
    {"roboto", PLAIN},
    {"montserrat", PLAIN},
    {"poppins", PLAIN},
    {"lato", PLAIN},
    {"raleway", PLAIN},
    {"tahoma", PLAIN},
    {"league spartan", PLAIN},
    {"univers", PLAIN},
    {"frutiger", PLAIN},
};

static const char *
kind_of_name(const char *family)
{
  g_autofree char *lower = g_utf8_strdown(family, -1);
  for (gsize i = 0; i < G_N_ELEMENTS(WORDS); i++)
    if (strstr(lower, WORDS[i].word) != NULL)
      return WORDS[i].kind;
  for (gsize i = 0; i < G_N_ELEMENTS(FAMILIES); i++)
    if (g_str_has_prefix(lower, FAMILIES[i].begin))
      return FAMILIES[i].kind;
  return NULL;
}

/* Source: OpenType 1.9, OS/2: sFamilyClass at byte 30 (IBM Font Class), PANOSE at 32 (family kind,
 * then serif style of latin text). */
static const char *
kind_of_table(const guint8 *os2)
{
  switch (os2[30]) {
  case 5:
    return SLAB;
  case 8:
    return PLAIN;
  case 10:
    return SCRIPT;
  default:
    break;
  }
  const guint8 *panose = os2 + 32;
  if (panose[0] == 3)
    return SCRIPT;
  if (panose[0] != 2)
    return NULL;
  return panose[3] == 9                       ? TYPEWRITER
         : panose[1] == 6                     ? SLAB
         : panose[1] == 15                    ? ROUNDED
         : panose[1] >= 11 && panose[1] <= 13 ? PLAIN
         : panose[1] >= 2 && panose[1] <= 10  ? SERIF
                                              : NULL;
}

static const char *
kind_of_file(const HfInstalled *font)
{
  hb_blob_t *file = hb_blob_create_from_file(font->file);
  hb_face_t *face = hb_face_create(file, font->index & 0xffff);
  hb_blob_t *table = hb_face_reference_table(face, HB_TAG('O', 'S', '/', '2'));
  guint length = 0;
  const guint8 *bytes = (const guint8 *)hb_blob_get_data(table, &length);
  const char *kind = length >= 42 ? kind_of_table(bytes) : NULL;
  hb_blob_destroy(table);
  hb_face_destroy(face);
  hb_blob_destroy(file);
  return kind;
}

static gboolean
is_new(const GPtrArray *names, const char *family)
{
  for (guint i = 0; i < names->len; i++)
    if (hf_font_word_is(g_ptr_array_index(names, i), family))
      return FALSE;
  return TRUE;
}

char *
hf_installed_akin(const GPtrArray *list, const char *wanted)
{
  const char *kind = kind_of_name(wanted);
  guint opened = 0;
  g_autoptr(GPtrArray) akin = g_ptr_array_new();
  for (guint i = 0; kind != NULL && i < list->len; i++) {
    const HfInstalled *font = g_ptr_array_index(list, i);
    if (!font->readable || font->variable || !is_new(akin, font->family))
      continue;
    const char *its = kind_of_name(font->family);
    if (its == NULL && opened++ < MOST_OPENED)
      its = kind_of_file(font);
    if (its == kind)
      g_ptr_array_add(akin, (gpointer)font->family);
  }
  if (akin->len == 0)
    return NULL;
  guint n = akin->len;
  g_ptr_array_add(akin, NULL);
  g_autofree char *list_of =
      hf_names_quoted((const char *const *)akin->pdata, n, MOST_NAMED, "and");
  return g_strdup_printf("installed %s: %s", kind, list_of);
}
