/* SPDX-License-Identifier: GPL-3.0-or-later
 * Combinations that can't be, within one entry. Most are rows of the tables below; what needs
 * figures has a function for its kind.
 */
#include "base/text.h"
#include "recipe/read-private.h"
#include "type/type.h"
#include <string.h>

#define ANY HF_N_ENTRY_KINDS

/* Two keys that say the same thing twice or contradict each other. */
static const struct {
  HfEntryKind kind;
  const char *a, *b;
} clashes[] = {
    {HF_ENTRY_RING, "inner", "width"},
    {HF_ENTRY_ARCH, "chord", "over"},
    {HF_ENTRY_ARCH, "rise", "over"},
    {HF_ENTRY_ARCH, "legs", "over"},
    {HF_ENTRY_WORDS, "height", "font size"},
    {HF_ENTRY_WORDS, "arc radius", "band"},
    {HF_ENTRY_WORDS, "arc radius", "stand on"},
    {HF_ENTRY_WORDS, "band", "stand on"},
    {HF_ENTRY_WORDS, "stand on", "on"},
    {HF_ENTRY_WORDS, "band", "on"},
    {HF_ENTRY_INITIAL, "height", "font size"},
    {HF_ENTRY_INITIAL, "height", "fill window of"},
    {HF_ENTRY_INITIAL, "font size", "fill window of"},
    {HF_ENTRY_INITIAL, "bite", "clear"},
    {HF_ENTRY_INITIAL, "split by", "interlace"},
    {HF_ENTRY_INITIAL, "split gap", "split bar"},
    {HF_ENTRY_DOT, "band", "on"},
    {HF_ENTRY_DIAMOND, "band", "on"},
    {HF_ENTRY_STAR, "band", "on"},
    {HF_ENTRY_HOLES, "count", "columns"},
    {HF_ENTRY_HOLES, "count", "rows"},
    {HF_ENTRY_HOLES, "count", "staggered"},
    {HF_ENTRY_HOLES, "count", "pitch"},
    {HF_ENTRY_TIE, "opening", "length"},
    {HF_ENTRY_MEND, "fill", "enlarge"},
    {ANY, "above", "below"},
    {ANY, "left of", "right of"},
};

/* A key that says nothing without one of the others. */
static const struct {
  HfEntryKind kind;
  const char *key;
  const char *needs[5];
} needs[] = {
    {HF_ENTRY_ARCH, "chord", {"rise"}},
    {HF_ENTRY_ARCH, "rise", {"chord"}},
    {HF_ENTRY_ARCH, "legs", {"chord"}},
    {HF_ENTRY_ARCH, "over", {"clear"}},
    {HF_ENTRY_ARCH, "clear", {"over"}},
    {HF_ENTRY_WORDS, "tops", {"arc radius", "band"}},
    {HF_ENTRY_WORDS, "fill band", {"band"}},
    {HF_ENTRY_WORDS, "bite", {"fill band", "stand on", "spacing"}},
    {HF_ENTRY_WORDS, "give way", {"fill band"}},
    {HF_ENTRY_WORDS, "descenders", {"stand on"}},
    {HF_ENTRY_WORDS, "joint", {"spacing"}},
    {HF_ENTRY_INITIAL, "bite", {"fill window of", "split bar", "split by"}},
    {HF_ENTRY_INITIAL, "clear", {"fill window of"}},
    {HF_ENTRY_INITIAL, "split gap", {"split by"}},
    {HF_ENTRY_INITIAL, "split bar", {"split by"}},
    {HF_ENTRY_DOT, "bite", {"band"}},
    {HF_ENTRY_DIAMOND, "bite", {"band"}},
    {HF_ENTRY_STAR, "bite", {"band"}},
    {HF_ENTRY_HOLES, "columns", {"rows"}},
    {HF_ENTRY_HOLES, "rows", {"columns"}},
    {HF_ENTRY_HOLES, "columns", {"pitch"}},
    {HF_ENTRY_HOLES, "pitch", {"columns"}},
    {HF_ENTRY_HOLES, "count", {"circle"}},
    {HF_ENTRY_HOLES, "circle", {"count"}},
    {ANY, "gap", {"above", "below", "left of", "right of"}},
};

/* At least one of these must be there. */
static const struct {
  HfEntryKind kind;
  const char *one_of[4];
} lacks[] = {
    {HF_ENTRY_RING, {"inner", "width"}},
    {HF_ENTRY_ARCH, {"chord", "over"}},
    {HF_ENTRY_WORDS, {"height", "font size", "fill band"}},
    {HF_ENTRY_INITIAL, {"height", "font size", "fill window of"}},
    {HF_ENTRY_DOT, {"diameter", "band"}},
    {HF_ENTRY_DIAMOND, {"height", "band"}},
    {HF_ENTRY_STAR, {"diameter", "band"}},
    {HF_ENTRY_HOLES, {"columns", "count"}},
};

/* What each shape of plate must and may have besides. */
static const struct {
  HfPlateShape shape;
  const char *must[4], *may[4];
} shapes[] = {
    {HF_PLATE_ROUND, {"diameter"}, {NULL}},
    {HF_PLATE_OVAL, {"width", "height"}, {NULL}},
    {HF_PLATE_RECTANGLE, {"width", "height"}, {NULL}},
    {HF_PLATE_ROUNDED, {"width", "height", "corner"}, {NULL}},
    {HF_PLATE_ARCHED, {"width", "height", "rise"}, {"corner"}},
    {HF_PLATE_SHIELD, {"width", "height"}, {"corner"}},
    {HF_PLATE_POLYGON, {"diameter", "sides"}, {"corner"}},
    {HF_PLATE_OUTLINE, {"grow"}, {"around"}},
};
static const char *const plate_keys[] = {"width", "height", "diameter", "corner", "sides",
                                         "rise",  "grow",   "around",   NULL};

/* Where a key stands; the value when it has none. */
static HfMark
key_mark(const HfNode *node, const char *key)
{
  for (guint i = 0; i < hf_node_size(node); i++)
    if (strcmp(hf_node_key(node, i)->text, key) == 0)
      return hf_node_key(node, i)->mark;
  return node->mark;
}

static gboolean
applies(HfEntryKind row, const HfEntry *entry)
{
  return row == ANY || row == entry->kind;
}

static gboolean
has_any(const HfNode *node, const char *const *keys)
{
  for (; *keys != NULL; keys++)
    if (hf_node_get(node, *keys) != NULL)
      return TRUE;
  return FALSE;
}

static void
check_clashes(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (gsize i = 0; i < G_N_ELEMENTS(clashes); i++) {
    const char *a = clashes[i].a, *b = clashes[i].b;
    if (!applies(clashes[i].kind, entry) || hf_node_get(node, a) == NULL ||
        hf_node_get(node, b) == NULL)
      continue;
    g_autofree char *fix = g_strdup_printf("keep \"%s\" or \"%s\"", a, b);
    g_autofree char *called = hf_table_called(hf_table_entries[entry->kind]);
    hf_mistake(reader->mistakes, key_mark(node, b), fix, "%s can't have both \"%s\" and \"%s\"",
               called, a, b);
  }
}

static void
check_needs(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (gsize i = 0; i < G_N_ELEMENTS(needs); i++) {
    if (!applies(needs[i].kind, entry) || hf_node_get(node, needs[i].key) == NULL ||
        has_any(node, needs[i].needs))
      continue;
    g_autofree char *any = hf_text_list(needs[i].needs, "or");
    g_autofree char *fix = g_strdup_printf("add %s, or take it out", any);
    hf_mistake(reader->mistakes, key_mark(node, needs[i].key), fix,
               "\"%s\" does nothing without %s", needs[i].key, any);
  }
}

static void
check_lacks(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (gsize i = 0; i < G_N_ELEMENTS(lacks); i++) {
    if (!applies(lacks[i].kind, entry) || has_any(node, lacks[i].one_of))
      continue;
    const HfField *field = hf_table_field(hf_table_entries[entry->kind], lacks[i].one_of[0]);
    g_autofree char *any = hf_text_list(lacks[i].one_of, "or");
    g_autofree char *fix = g_strdup_printf("add %s: %s", field->key, field->example);
    g_autofree char *called = hf_table_called(hf_table_entries[entry->kind]);
    hf_mistake(reader->mistakes, entry->mark, fix, "%s need%s %s", called,
               entry->kind == HF_ENTRY_WORDS ? "" : "s", any);
  }
}

static void
check_plate(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const char *word = hf_node_get(node, "shape")->text;
  gsize row = 0;
  while (shapes[row].shape != entry->plate.shape)
    row++;
  for (gsize i = 0; shapes[row].must[i] != NULL; i++)
    if (hf_node_get(node, shapes[row].must[i]) == NULL) {
      const HfField *field = hf_table_field(hf_table_entries[HF_ENTRY_PLATE], shapes[row].must[i]);
      g_autofree char *fix = g_strdup_printf("add %s: %s", field->key, field->example);
      hf_mistake(reader->mistakes, entry->mark, fix, "a plate of shape \"%s\" needs \"%s\"", word,
                 field->key);
    }
  for (gsize i = 0; plate_keys[i] != NULL; i++) {
    if (hf_node_get(node, plate_keys[i]) == NULL ||
        g_strv_contains((const char *const *)shapes[row].must, plate_keys[i]) ||
        g_strv_contains((const char *const *)shapes[row].may, plate_keys[i]))
      continue;
    g_autofree char *list = hf_text_list((const char *const *)shapes[row].must, "and");
    g_autofree char *fix = g_strdup_printf("it has %s", list);
    hf_mistake(reader->mistakes, key_mark(node, plate_keys[i]), fix,
               "a plate of shape \"%s\" has no \"%s\"", word, plate_keys[i]);
  }
}

/* One figure that must stay under another. */
static void
check_less(HfReader *reader, const HfNode *node, const char *key, double value, const char *than,
           double most)
{
  if (!(value >= most))
    return;
  g_autofree char *limit = hf_text_mm(most);
  g_autofree char *fix = g_strdup_printf("make it less than %s", limit);
  hf_mistake(reader->mistakes, key_mark(node, key), fix, "%s is %s, not less than %s", key,
             hf_node_get(node, key)->text, than);
}

static void
check_ring(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  check_less(reader, node, "inner", entry->ring.inner, "the outer diameter", entry->ring.outer);
  check_less(reader, node, "width", entry->ring.width, "half the outer diameter",
             entry->ring.outer / 2);
}

static void
check_corner(HfReader *reader, const HfNode *node, double corner, double width, double height)
{
  if (hf_node_get(node, "corner") == NULL || isnan(width) || isnan(height))
    return;
  double most = fmin(width, height) / 2;
  if (corner > most * (1 + 1e-9)) {
    g_autofree char *limit = hf_text_mm(most);
    g_autofree char *fix = g_strdup_printf("make it at most %s", limit);
    hf_mistake(reader->mistakes, key_mark(node, "corner"), fix,
               "corner is %s, more than half a side", hf_node_get(node, "corner")->text);
  }
}

static void
check_band(HfReader *reader, const HfNode *node)
{
  const HfNode *band = hf_node_get(node, "band");
  if (band == NULL)
    return;
  if (band->kind != HF_NODE_LIST || hf_node_size(band) != 2)
    hf_mistake(reader->mistakes, band->mark, "name both rings: [inner, outer]",
               "a band lies between two rings");
  else if (strcmp(hf_node_item(band, 0)->text, hf_node_item(band, 1)->text) == 0)
    hf_mistake(reader->mistakes, hf_node_item(band, 1)->mark, "name two different rings",
               "a band lies between two rings");
}

static void
check_language(HfReader *reader, const HfNode *node, const HfFontWish *font)
{
  if (font->language != NULL && *font->language != '\0' && !hf_type_is_language(font->language))
    hf_mistake(reader->mistakes, hf_node_get(node, "language")->mark,
               "write it as " HF_TYPE_LANGUAGES, "\"%.40s\" is not the name of a language",
               font->language);
}

static void
check_words(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfWordsEntry *words = &entry->words;
  check_band(reader, node);
  check_language(reader, node, &words->font);
  if (words->letters == HF_BENT && isnan(words->arc_radius) && words->band->len == 0)
    hf_mistake(reader->mistakes, key_mark(node, "letters"),
               "add arc radius or band, or write rigid",
               "letters can't be bent on a straight line");
  if (hf_node_get(node, "joint") != NULL && words->spacing_rule == HF_SPACING_AS_GIVEN)
    hf_mistake(reader->mistakes, key_mark(node, "joint"), "write spacing: joined, or take it out",
               "\"joint\" does nothing when the spacing is not joined");
  if (words->fill && hf_node_get(node, "height") != NULL)
    hf_mistake(reader->mistakes, key_mark(node, "height"), "keep \"fill band\" or \"height\"",
               "the letter height is worked out when the band is filled");
  if (words->fill && hf_node_get(node, "font size") != NULL)
    hf_mistake(reader->mistakes, key_mark(node, "font size"), "keep \"fill band\" or \"font size\"",
               "the letter height is worked out when the band is filled");
  if (!words->fill && isnan(words->font.height) && isnan(words->font.size))
    hf_mistake(reader->mistakes, entry->mark, "add height: 140 mm", "words need a height");
}

/* Letters as people count them: an accent that follows belongs to its letter. */
static guint
count_letters(const char *text)
{
  guint n = 0;
  for (; *text != '\0'; text = g_utf8_next_char(text)) {
    gunichar c = g_utf8_get_char(text);
    if (!g_unichar_ismark(c) && !g_unichar_isspace(c) && g_unichar_isprint(c))
      n++;
  }
  return n;
}

static void
check_initial(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  check_language(reader, node, &entry->initial.font);
  guint n = count_letters(entry->initial.text);
  gboolean interlaced = !isnan(entry->initial.interlace);
  if (!interlaced && n != 1)
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark,
               "write one letter, or add interlace: 4 mm for two or three",
               "an initial is one letter, this has %u", n);
  if (interlaced && (n < 2 || n > 3))
    hf_mistake(reader->mistakes, hf_node_get(node, "text")->mark, "write two or three letters",
               "two or three letters can be interlaced, this has %u", n);
}

static void
check_ear(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  if (hf_node_get(node, "width") != NULL)
    check_less(reader, node, "hole", entry->ear.hole, "the width of the ear", entry->ear.width);
  if (hf_node_get(node, "height") != NULL)
    check_less(reader, node, "hole", entry->ear.hole, "the height of the ear", entry->ear.height);
}

static void
check_stake(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  if (hf_node_get(node, "point") != NULL)
    check_less(reader, node, "point", entry->stake.point, "the length of the stake",
               entry->stake.length);
}

static void
check_holes(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  const HfHolesEntry *holes = &entry->holes;
  double pitch = holes->pitch;
  if (holes->count > 1)
    pitch = holes->circle * sin(G_PI / holes->count);
  if (holes->count == 1 || isnan(pitch))
    return;
  check_less(reader, node, "diameter", holes->diameter, "the distance from hole to hole", pitch);
}

static void
check_ties(HfReader *reader, const HfNode *node, const HfEntry *entry)
{
  for (guint i = 0; i < entry->ties.keep_free->len; i++)
    if (g_array_index(entry->ties.keep_free, HfSpot, i).kind != HF_SPOT_DIRECTION)
      hf_mistake(reader->mistakes, key_mark(node, "keep free"),
                 "write a direction, as in top or 3 o'clock", "keep free takes directions only");
}

void
hf_check_font(HfReader *reader, const HfNode *node, const HfFontWish *font)
{
  if (node->kind != HF_NODE_TABLE)
    return;
  if (hf_node_get(node, "file") != NULL && hf_node_get(node, "family") != NULL)
    hf_mistake(reader->mistakes, key_mark(node, "file"), "keep \"family\" or \"file\"",
               "a font can't have both \"family\" and \"file\"");
  if (hf_node_get(node, "file") != NULL && hf_node_get(node, "style") != NULL)
    hf_mistake(reader->mistakes, key_mark(node, "style"), "take it out: the file is one style",
               "a font can't have both \"file\" and \"style\"");
  if (hf_node_get(node, "file") == NULL && hf_node_get(node, "family") == NULL)
    hf_mistake(reader->mistakes, node->mark, "add family: Lobster Two",
               "a font needs family or file");
  (void)font;
}

void
hf_check_entry(HfReader *reader, const HfNode *node, const HfEntry *entry, gboolean clean)
{
  guint before = reader->mistakes->total;
  check_clashes(reader, node, entry);
  check_needs(reader, node, entry);
  check_lacks(reader, node, entry);
  if (clean && entry->kind == HF_ENTRY_PLATE)
    check_plate(reader, node, entry);
  if (!clean || reader->mistakes->total != before)
    return; /* figures of a muddled entry would only add noise */
  switch (entry->kind) {
  case HF_ENTRY_RING:
    check_ring(reader, node, entry);
    break;
  case HF_ENTRY_PLATE:
    check_corner(reader, node, entry->plate.corner, entry->plate.width, entry->plate.height);
    break;
  case HF_ENTRY_BAR:
    check_corner(reader, node, entry->bar.corner, entry->bar.length, entry->bar.height);
    break;
  case HF_ENTRY_WORDS:
    check_words(reader, node, entry);
    break;
  case HF_ENTRY_INITIAL:
    check_initial(reader, node, entry);
    break;
  case HF_ENTRY_DOT:
  case HF_ENTRY_DIAMOND:
  case HF_ENTRY_STAR:
    check_band(reader, node);
    break;
  case HF_ENTRY_HOLES:
    check_holes(reader, node, entry);
    break;
  case HF_ENTRY_EAR:
    check_ear(reader, node, entry);
    break;
  case HF_ENTRY_STAKE:
    check_stake(reader, node, entry);
    break;
  case HF_ENTRY_TIES:
    check_ties(reader, node, entry);
    break;
  default:
    break;
  }
}
