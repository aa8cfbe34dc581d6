/* SPDX-License-Identifier: GPL-3.0-or-later
 * Reading a recipe: what is understood, and what is said about mistakes, each with its place.
 */
#include "recipe/read-private.h"
#include "shop/shop-private.h"
#include "shop/shop.h"
#include <math.h>
#include <string.h>

static HfRecipe *
read_good(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfRecipe *recipe = hf_recipe_read(text, strlen(text), "boats.yaml", &error);
  g_assert_no_error(error);
  return recipe;
}

/* The sketch of the design, as it stands. */
static void
test_sketch(void)
{
  static const char sketch[] =
      "holdfast: 1\n"
      "sign: Boat yard\n"
      "metal: {kind: mild steel, thickness: 3 mm}\n"
      "process: {kerf: 1.4 mm}        # or a row of the shop's cut chart\n"
      "mount: holes\n"
      "entries:\n"
      "  - bar:   {name: rail, length: 1200 mm, height: 20 mm}\n"
      "  - words: {text: Saltmarsh Boats, font: Lobster Two, height: 140 mm, stand on: rail, "
      "spacing: joined}\n"
      "  - ear:   {on: rail, at: [left end, right end], hole: 8 mm}\n";
  g_autoptr(HfRecipe) recipe = read_good(sketch);
  g_assert_cmpstr(recipe->sign, ==, "Boat yard");
  g_assert_cmpstr(recipe->name, ==, "boats");
  g_assert_cmpstr(recipe->metal, ==, "mild steel");
  g_assert_cmpfloat(recipe->thickness, ==, 3);
  g_assert_cmpfloat(recipe->kerf, ==, 1.4);
  g_assert_true(isnan(recipe->crater));
  g_assert_cmpint(recipe->mount, ==, HF_MOUNT_HOLES);
  g_assert_cmpint(recipe->quantity, ==, 1);
  g_assert_cmpuint(recipe->entries->len, ==, 3);
  const HfEntry *rail = hf_recipe_entry(recipe, "rail");
  g_assert_cmpint(rail->kind, ==, HF_ENTRY_BAR);
  g_assert_cmpfloat(rail->bar.length, ==, 1200);
  g_assert_cmpfloat(rail->bar.corner, ==, 0);
  const HfEntry *words = hf_recipe_entry(recipe, "words 1");
  g_assert_cmpuint(words->mark.line, ==, 8);
  g_assert_cmpuint(words->mark.column, ==, 5);
  g_assert_cmpstr(g_ptr_array_index(words->words.lines, 0), ==, "Saltmarsh Boats");
  g_assert_cmpstr(words->words.font.family, ==, "Lobster Two");
  g_assert_cmpfloat(words->words.font.height, ==, 140);
  g_assert_cmpint(words->words.spacing_rule, ==, HF_SPACING_JOINED);
  g_assert_cmpstr(words->words.stand_on, ==, "rail");
  const HfEntry *ear = hf_recipe_entry(recipe, "ear 1");
  g_assert_cmpuint(ear->place.at->len, ==, 2);
  g_assert_cmpint(g_array_index(ear->place.at, HfSpot, 1).kind, ==, HF_SPOT_RIGHT_END);
  g_assert_cmpfloat(ear->ear.hole, ==, 8);
  g_assert_true(isnan(ear->ear.width));
}

/* --- mistakes: the exact message and place --- */

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\n"

typedef struct {
  const char *text, *message;
} Bad;

static void
check_bad(const char *head, const Bad *rows, gsize n)
{
  for (gsize i = 0; i < n; i++) {
    g_autoptr(GError) error = NULL;
    g_autofree char *text = g_strconcat(head, rows[i].text, NULL);
    g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), "f", &error);
    if (recipe != NULL)
      g_error("%s was taken", text);
    g_assert_cmpstr(error->message, ==, rows[i].message);
    g_assert_cmpint(hf_error_exit_code(error), ==, 2);
    g_assert_true(g_str_has_prefix(error->message, hf_error_where(error)));
    g_assert_true(strstr(error->message, hf_error_fix(error)) != NULL);
  }
}

static void
test_bad_head(void)
{
  static const Bad rows[] = {
      {"sign: x\n",
       "f:1:1: a recipe needs \"holdfast\"; add holdfast: 1\n"
       "f:1:1: a recipe needs \"metal\"; add metal: {kind: mild steel, thickness: 3 mm}\n"
       "f:1:1: a recipe needs \"entries\"; add entries: [ring: {outer: 600 mm, width: 20 "
       "mm}]"},
      {"- a\n", "f:1:1: this is not a recipe; a recipe begins with holdfast: 1 and says metal and "
                "entries; holdfast new writes one to start from"},
      {"holdfast: 2\nanything: [1]\n", "f:1:11: this file is written in version 2 of the format; "
                                       "use a newer holdfast; this one reads "
                                       "version 1"},
      {"holdfast: 1\nmetal: {kind: mild steal, thickness: 3 mm}\nentries: [bar: {length: 1 m, "
       "height: "
       "20 mm}]\n",
       "f:2:15: \"mild steal\" is not a metal; write \"mild steel\""},
      {"holdfast: 1\nmetal: {kind: mild steel, thickness: 15 ga}\nentries: [bar: {length: 1 m, "
       "height: "
       "20 mm}]\n",
       "f:2:38: \"15 ga\" is not a gauge of mild steel; write 14 ga, or the thickness in mm or in"},
      {"holdfast: 1\nmetal: {kind: mild steel, thickness: 3 m}\nentries: [bar: {length: 1 m, "
       "height: "
       "20 mm}]\n",
       "f:2:38: thickness is 3 m, which is too large; write something from 0.3 mm to 50 mm"},
      {HEAD "entries: []\n",
       "f:3:10: a sign needs at least one entry; add a bar, a plate or words"},
      {HEAD "entries: bar\n",
       "f:3:10: \"entries\" wants a list, not just \"bar\"; write it like this: entries: [ring: "
       "{outer: 600 mm, width: 20 mm}]"},
      {HEAD "entries:\n",
       "f:3:9: \"entries\" has no value; write it like this: entries: [ring: {outer: "
       "600 mm, width: 20 mm}]"},
      {HEAD "mount: hole\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:8: mount can't be \"hole\"; write \"holes\""},
      {HEAD "alone: [nobody]\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:9: no entry is called \"nobody\"; name one of the entries: bar 1"},
      {HEAD "house number: maybe\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:15: house number is \"maybe\"; write yes or no"},
      {HEAD "order: {quantity: 0}\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:19: quantity is 0, which is too small; write something from 1 to 100000"},
      {HEAD "order: {quantity: 1.5}\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:19: quantity is 1.5, which is not a whole number; write a whole number from 1 to "
       "100000"},
      {HEAD "read from: 300 m\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:12: read from is 300 m, which is too large; write something from 100 mm to 200 m"},
      {HEAD "limits: {thin-web: thick}\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:20: \"thick\" is not a limit; write it like this: 3 mm, 2 deg, 10 mm2 or 27 K"},
      {HEAD "accept: [{finding: sharp-point}]\nentries: [bar: {length: 1 m, height: 20 mm}]\n",
       "f:3:10: an accepted finding needs \"reason\"; add reason: hangs above 3 m"},
  };
  check_bad("", rows, G_N_ELEMENTS(rows));
}

/* Entries start in line 4. */
static void
test_bad_entries(void)
{
  static const Bad rows[] = {
      /* slips of the pen */
      {"- bra: {length: 1 m, height: 20 mm}\n", "f:4:3: \"bra\" is not an entry; write \"bar\""},
      {"- bar: {length: 1 m, heigth: 20 mm}\n",
       "f:4:8: a bar needs \"height\"; add height: 20 mm\n"
       "f:4:22: \"heigth\" is not a key of a bar; write \"height\""},
      {"- words: {text: S, font: Lobster Two, letter height: 20 mm}\n",
       "f:4:3: words need height, font size, width, inside, box or fill band; add height: 140 mm\n"
       "f:4:39: \"letter height\" is not a key of words; write \"height\""},
      {"- words: {text: S, font: \"a\\nb\", height: 20 mm}\n",
       "f:4:26: font is a<U+000A>b, which has a line break; write it in one line"},
      {"- words: {text: S, font: {family: Vollkorn, style: \"a\\nb\"}, height: 20 mm}\n",
       "f:4:52: style is a<U+000A>b, which has a line break; write it in one line"},
      {"- words: {text: S, font: Vollkorn, width: 90 mm, box: [90 mm, 20 mm]}\n",
       "f:4:50: words can't have both \"width\" and \"box\"; keep \"width\" or \"box\""},
      {"- words: {text: S, font: Vollkorn, inside: x}\n- dot: {name: x, diameter: 9 mm}\n",
       "f:4:36: how far inside they stay is not said; add margin: 20 mm\nf:4:44: \"x\" is a dot, "
       "and \"inside\" is no place for it; name a ring, a plate or a bar"},
      {"- plate: {shape: oval, margin: [9 mm, 8 mm]}\n",
       "f:4:24: a plate of this shape has one margin all round; write one length"},
      {"- plate: {shape: oval, width: 90 mm, height: 40 mm, margin: 9 mm}\n",
       "f:4:53: its size is said already, so a margin changes nothing; take out the margin, or one "
       "of its sizes"},
      {"- plate: {shape: oval, margin: [9 mm, 8 mm, 7 mm]}\n",
       "f:4:32: \"margin\" has 3 values; write one length, two (beside; above and below) or four "
       "(left, right, top, bottom)"},
      {"- ring: {width: 9 mm}\n",
       "f:4:3: a ring needs outer or around; add outer: 600 mm, or around: [NAME]"},
      {"- words: {text: S, font: Vollkorn, width: 90 mm, give way: [spacing]}\n",
       "f:4:60: no letter height is said, so that is what is worked out; begin with letter height, "
       "or add height: 80 mm"},
      {"- words: {text: S, font: Vollkorn, width: 90 mm, give way: [ring]}\n",
       "f:4:60: no letter height is said, so that is what is worked out; begin with letter height, "
       "or add height: 80 mm\nf:4:61: ring does not give way here; write letter height, spacing or "
       "letter width"},
      {"- stack: {of: [d], justify: by height}\n- dot: {name: d, diameter: 9 mm}\n",
       "f:4:20: how wide the lines are to be is not said; add width: 700 mm"},
      {"- row: {of: [d, d]}\n- dot: {name: d, diameter: 9 mm}\n",
       "f:4:9: \"d\" is named twice; name each once, or use columns"},
      {"- row: {of: [d], as: opening}\n- dot: {name: d, diameter: 9 mm}\n",
       "f:4:18: what is metal and what is an opening each of its members says; write it at its "
       "members"},
      {"- bar: {name: r, length: 1 m, height: 9 mm}\n- ear: {hole: 8 mm, on: r, between: [r]}\n",
       "f:5:28: an ear can't be put between two others; say where with \"at\""},
      {"- ring: {name: o, outer: 90 mm, width: 9 mm}\n"
       "- initial: {text: S, font: Vollkorn, fill window of: o, between: [o]}\n",
       "f:5:57: an initial can't have both \"fill window of\" and \"between\"; keep \"fill window "
       "of\" or \"between\""},
      {"- dot: {name:sun, diameter: 20 mm}\n",
       "f:4:9: \"name:sun\" is not a key of a dot; write a space behind the colon: name: sun"},
      {"- bar: {length: 1200, height: 20 mm}\n",
       "f:4:17: \"1200\" has no unit; say the unit: 1200 mm, or 1200 in"},
      {"- bar: {length: 1200 mm, height: 1,5 mm}\n",
       "f:4:34: \"1\" has no unit; say the unit: 1 mm, or 1 in\n"
       "f:4:36: \"5 mm\" is not a key of a bar; write decimals with a point: a comma ends the "
       "value"},
      {"- bar: {length: 11 m, height: 20 mm}\n",
       "f:4:17: length is 11 m, which is too large; write something from 0.1 mm to 10 m"},
      {"- bar: {length: 0.05 mm, height: 20 mm}\n",
       "f:4:17: length is 0.05 mm, which is too small; write something from 0.1 mm to 10 m"},
      {"- bar: {length: [1 m], height: 20 mm}\n",
       "f:4:17: \"length\" wants one value, not a list; write it like this: length: 1200 mm"},
      {"- bar\n",
       "f:4:3: an entry needs its kind and its values; write it like this: - bar: {name: "
       "rail, length: 1200 mm, height: 20 mm}"},
      {"- bar:\n",
       "f:4:3: \"bar\" needs its values; write it like this: - bar: {name: rail, length: "
       "1200 mm, height: 20 mm}"},
      {"- bar:\n  length: 1 m\n  height: 20 mm\n",
       "f:5:3: \"length\" stands beside \"bar\" in one entry; indent it to make it a value of the "
       "entry, or start a new entry with \"- \""},
      /* combinations */
      {"- ring: {outer: 300 mm, inner: 300 mm}\n",
       "f:4:25: inner is 300 mm, not less than the outer diameter; make it less than 300 mm"},
      {"- ring: {outer: 300 mm, width: 150 mm}\n",
       "f:4:25: width is 150 mm, not less than half the outer diameter; make it less than 150 mm"},
      {"- ring: {outer: 300 mm, inner: 200 mm, width: 50 mm}\n",
       "f:4:40: a ring can't have both \"inner\" and \"width\"; keep \"inner\" or \"width\""},
      {"- ring: {outer: 300 mm}\n", "f:4:3: a ring needs inner or width; add inner: 560 mm"},
      {"- plate: {shape: round, width: 30 mm, diameter: 3 cm}\n",
       "f:4:25: a plate of shape \"round\" has no \"width\"; it has diameter"},
      {"- plate: {shape: rounded, width: 30 mm, height: 3 cm}\n",
       "f:4:3: a plate of shape \"rounded\" needs \"corner\"; add corner: 12 mm"},
      {"- plate: {shape: rounded, width: 30 mm, height: 3 cm, corner: 16 mm}\n",
       "f:4:55: corner is 16 mm, more than half a side; make it at most 15 mm"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, font size: 2 cm}\n",
       "f:4:53: words can't have both \"height\" and \"font size\"; keep \"height\" or \"font "
       "size\""},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, tops: inward}\n",
       "f:4:53: \"tops\" does nothing without arc radius, band, ellipse or edge of; add arc "
       "radius, band, ellipse or edge of, or take it out"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, wave: 4 cm}\n",
       "f:4:53: \"wave\" does nothing without wave length; add wave length, or take it out"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, ellipse: [4 cm, 2 cm], arch: 4 cm}\n",
       "f:4:76: words can't have both \"ellipse\" and \"arch\"; keep \"ellipse\" or \"arch\""},
      {"- words: {text: [S, T], font: Lobster Two, height: 1 cm, ellipse: [4 cm, 2 cm]}\n",
       "f:4:58: \"ellipse\" holds one line of text; write an entry for each line"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, ellipse: [4 cm, 2 cm], spacing: "
       "joined}\n",
       "f:4:76: letters can't be joined along \"ellipse\"; say a spacing, as in 2 mm or -3 %, or "
       "put them on an arc"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, through: [4 cm, 2 cm]}\n",
       "f:4:62: \"through\" wants a list of points; write it like this: through: [[-200 mm, 0 mm], "
       "[0 mm, 60 mm], [200 mm, 0 mm]]"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, through: [[4 cm, 2 cm], [4 cm, 2 "
       "cm]]}\n",
       "f:4:77: two points of \"through\" are in one place; take one of them out"},
      {"- words: {text: S, font: Lobster Two, shaped: oval, box: [9 cm, 4 cm], depth: 2 cm}\n",
       "f:4:72: depth is 2 cm, not less than half the height of the box; make it less than 20 mm"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, arch: 0 mm}\n",
       "f:4:53: an arch of 0 mm is a straight line; say how far it rises, or take it out"},
      {"- words: {text: S, font: Lobster Two, height: 1 cm, letters: bent}\n",
       "f:4:53: letters can't be bent on a straight line; add arc radius, band or another line, "
       "or write rigid"},
      {"- words: {text: S, font: {style: Bold}, height: 1 cm}\n",
       "f:4:26: a font needs family or file; add family: Lobster Two"},
      {"- words: {text: S, font: {file: ../x.ttf}, height: 1 cm}\n",
       "f:4:33: \"../x.ttf\" lies outside the recipe's own folder; put the file beside the recipe "
       "or "
       "below it, and say its path from there"},
      {"- words: {text: S, font: {file: /etc/x.ttf}, height: 1 cm}\n",
       "f:4:33: \"/etc/x.ttf\" lies outside the recipe's own folder; put the file beside the "
       "recipe "
       "or below it, and say its path from there"},
      {"- words: {text: ' ', font: Lobster Two, height: 1 cm}\n",
       "f:4:17: text has nothing that can be seen; write what the sign is to say"},
      {"- initial: {text: SQ, font: Lobster Two, height: 1 m}\n",
       "f:4:19: an initial is one letter, this has 2; write one letter; for two or three add set "
       "as: stacked, or interlace: 4 mm"},
      {"- initial: {text: SQ, font: Lobster Two, height: 1 m, set as: tall middle}\n",
       "f:4:19: a monogram with a tall middle is three letters, this has 2; write three letters, "
       "or "
       "set as: stacked"},
      {"- initial: {text: SQRT, font: Lobster Two, height: 1 m, set as: stacked}\n",
       "f:4:19: a monogram is two or three letters, this has 4; write two or three letters"},
      {"- initial: {text: S, font: Lobster Two, height: 1 m, interlace: 4 mm}\n",
       "f:4:19: two or three letters can be interlaced, this has 1; write two or three letters"},
      {"- ear: {hole: 8 mm, width: 8 mm}\n",
       "f:4:9: hole is 8 mm, not less than the width of the ear; make it less than 8 mm"},
      {"- hole pattern: {diameter: 10 mm, columns: 3, rows: 3, pitch: 10 mm}\n",
       "f:4:18: diameter is 10 mm, not less than the distance from hole to hole; make it less than "
       "10 "
       "mm"},
      {"- hole pattern: {diameter: 10 mm, count: 6, circle: 20 mm}\n",
       "f:4:18: diameter is 10 mm, not less than the distance from hole to hole; make it less than "
       "10 "
       "mm"},
      {"- dot: {diameter: 1 cm, at: [10, 20]}\n",
       "f:4:30: \"10\" has no unit; say the unit: 10 mm, or 10 in\n"
       "f:4:34: \"20\" has no unit; say the unit: 20 mm, or 20 in"},
      {"- dot: {diameter: 1 cm, gap: 2 mm}\n", "f:4:25: \"gap\" does nothing without above, below, "
                                               "left of or right of; add above, below, left "
                                               "of or right of, or take it out"},
      /* names */
      {"- dot: {name: a, diameter: 1 cm}\n- dot: {name: a, diameter: 1 cm}\n",
       "f:5:3: two entries are called \"a\"; give it a name of its own (the first is in line 4)"},
      {"- bar: {name: rail, length: 1 m, height: 20 mm}\n- dot: {diameter: 1 cm, on: raill}\n",
       "f:5:29: no entry is called \"raill\"; write \"rail\""},
      {"- dot: {name: d, diameter: 1 cm}\n- words: {text: S, font: L, height: 1 cm, stand on: d}\n",
       "f:5:53: \"d\" is a dot, and \"stand on\" is no place for it; name a plate or a bar"},
      {"- ring: {name: r, outer: 1 m, width: 1 cm}\n- words: {text: S, font: L, height: 1 cm, "
       "band: "
       "[r, r]}\n",
       "f:5:53: a band lies between two rings; name two different rings"},
      {"- dot: {name: a, diameter: 1 cm, on: a}\n",
       "f:4:38: placed in a circle: a on a; place one of them by itself"},
      {"- dot: {name: a, diameter: 1 cm, on: b}\n- dot: {name: b, diameter: 1 cm, on: a}\n",
       "f:5:38: placed in a circle: a on b on a; place one of them by itself"},
      {"- bar: {name: a, length: 1 m, height: 1 cm, below: b}\n- words: {name: b, text: S, font: "
       "L, "
       "height: 1 cm, stand on: a}\n",
       "f:5:62: placed in a circle: a below b stand on a; place one of them by itself"},
      {"- tie: {of: 2nd A of boots}\n- words: {name: boats, text: S, font: L, height: 1 cm}\n",
       "f:4:13: no entry is called \"boots\"; write \"boats\""},
  };
  check_bad(HEAD "entries:\n", rows, G_N_ELEMENTS(rows));
}

static void
test_many_mistakes(void)
{
  g_autoptr(GString) text = g_string_new(HEAD "entries:\n");
  for (guint i = 0; i < 30; i++)
    g_string_append(text, "- bra: {}\n");
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_recipe_read(text->str, text->len, "f", &error));
  g_auto(GStrv) lines = g_strsplit(error->message, "\n", -1);
  g_assert_cmpuint(g_strv_length(lines), ==, 21);
  g_assert_cmpstr(lines[0], ==, "f:4:3: \"bra\" is not an entry; write \"bar\"");
  g_assert_cmpstr(lines[20], ==, "f: 10 more mistakes");
  g_string_assign(text, HEAD "entries:\n");
  for (guint i = 0; i < HF_RECIPE_MAX_ENTRIES; i++)
    g_string_append(text, "- dot: {diameter: 3 mm}\n");
  g_autoptr(HfRecipe) full = hf_recipe_read(text->str, text->len, "f", NULL);
  g_assert_nonnull(full);
  g_string_append(text, "- dot: {diameter: 3 mm}\n");
  g_clear_error(&error);
  g_assert_null(hf_recipe_read(text->str, text->len, "f", &error));
  g_assert_cmpstr(error->message, ==, "f:1004:3: more than 1000 entries; make it two signs");
}

/* --- values --- */

static void
test_words(void)
{
  g_autoptr(HfRecipe) recipe = read_good(
      HEAD "entries:\n"
           "- ring: {name: o, outer: 1 m, width: 2 cm}\n"
           "- ring: {name: i, outer: 80 cm, width: 2 cm}\n"
           "- words:\n"
           "    name: w\n"
           "    text: [No, 14]\n"
           "    font: {family: Lobster Two, style: Bold, features: \"ss01,-liga\"}\n"
           "    band: [i, o]\n"
           "    at: bottom\n"
           "    tops: inward\n"
           "    fill band: yes\n"
           "    bite: 2 mm\n"
           "    give way: [band, spacing]\n"
           "    spacing: 10 %\n"
           "    line spacing: 60 mm\n"
           "    letters: bent\n"
           "    align: right\n"
           "    writing: right to left\n"
           "    turn: 10 deg\n"
           "    shift: [3 mm, -1/2 in]\n"
           "- words: {text: \"a\\nb\", font: {file: fonts/x.ttf}, font size: 2 in, arc radius: 20 "
           "cm, on: "
           "o, spacing: joined pair by pair, joint: 4 mm}\n"
           "- words: {text: c, font: L, height: 2 cm, above: w, gap: -3 mm, as: opening}\n");
  const HfEntry *entry = hf_recipe_entry(recipe, "w");
  const HfWordsEntry *words = &entry->words;
  g_assert_cmpuint(words->lines->len, ==, 2);
  g_assert_cmpstr(g_ptr_array_index(words->lines, 0), ==, "No");
  g_assert_cmpstr(g_ptr_array_index(words->lines, 1), ==, "14");
  g_assert_cmpstr(words->font.style, ==, "Bold");
  g_assert_cmpstr(words->font.features, ==, "ss01,-liga");
  g_assert_cmpint(words->font.way, ==, 2);
  g_assert_cmpuint(words->band->len, ==, 2);
  g_assert_cmpint(words->facing, ==, 2);
  g_assert_true(words->fill);
  g_assert_cmpfloat(words->bite, ==, 2);
  g_assert_cmpuint(words->give_way->len, ==, 2);
  g_assert_cmpint(g_array_index(words->give_way, HfGiveWay, 0), ==, HF_GIVE_BAND);
  g_assert_true(words->spacing.is_share);
  g_assert_cmpfloat(words->spacing.value, ==, 0.1);
  g_assert_cmpfloat(words->line_spacing.value, ==, 60);
  g_assert_cmpint(words->letters, ==, HF_BENT);
  g_assert_cmpint(words->align, ==, HF_ALIGN_RIGHT);
  g_assert_true(isnan(words->font.height));
  g_assert_cmpfloat_with_epsilon(entry->place.turn, G_PI / 18, 1e-12);
  g_assert_cmpfloat(entry->place.shift_x, ==, 3);
  g_assert_cmpfloat(entry->place.shift_y, ==, -12.7);
  const HfEntry *second = hf_recipe_entry(recipe, "words 2");
  g_assert_cmpuint(second->words.lines->len, ==, 2);
  g_assert_cmpint(second->words.spacing_rule, ==, HF_SPACING_PAIRS);
  g_assert_cmpfloat(second->words.joint, ==, 4);
  g_assert_cmpfloat(second->words.font.size, ==, 50.8);
  g_assert_cmpstr(second->words.font.file, ==, "fonts/x.ttf");
  g_assert_cmpuint(second->words.give_way->len, ==, 0); /* the usual order: layout/ knows it */
  const HfEntry *third = hf_recipe_entry(recipe, "words 3");
  g_assert_cmpint(third->as, ==, HF_AS_OPENING);
  g_assert_cmpfloat(third->place.gap, ==, -3);
  g_assert_cmpfloat(third->words.spacing.value, ==, 0);
  g_assert_cmpfloat(third->words.line_spacing.value, ==, 1.5);
  g_assert_cmpint(third->words.descenders, ==, HF_DESCENDER_PASSES);
}

/* Words that YAML 1.1 takes for yes, no, numbers or dates stay the text that was written. */
static void
test_plain_texts(void)
{
  static const char *const texts[] = {"No",    "off",  "007", "1e3",           "2026-03-14",
                                      "12:30", "0x1F", "~x",  "null and void", ".5"};
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
    g_autofree char *text =
        g_strdup_printf(HEAD "entries: [words: {text: %s, font: L, height: 1 cm}]\n", texts[i]);
    g_autoptr(HfRecipe) recipe = read_good(text);
    const HfEntry *entry = hf_recipe_at(recipe, 0);
    g_assert_cmpstr(g_ptr_array_index(entry->words.lines, 0), ==, texts[i]);
  }
}

static void
test_places(void)
{
  g_autoptr(HfRecipe) recipe =
      read_good(HEAD "entries:\n"
                     "- dot: {diameter: 1 cm, at: [10 mm, -2 cm]}\n"
                     "- dot: {diameter: 1 cm, at: [[1 in, 0 mm], top, 10 o'clock, centre]}\n"
                     "- dot: {diameter: 1 cm, at: 200 deg}\n"
                     "- dot: {diameter: 1 cm, at: [10 deg, 20 deg]}\n"
                     "- hole: {diameter: 1 cm, hanging: no}\n"
                     "- hole: {diameter: 1 cm}\n");
  const HfEntry *first = hf_recipe_at(recipe, 0);
  g_assert_cmpuint(first->place.at->len, ==, 1);
  HfSpot spot = g_array_index(first->place.at, HfSpot, 0);
  g_assert_cmpint(spot.kind, ==, HF_SPOT_POINT);
  g_assert_cmpfloat(spot.point.x, ==, 10);
  g_assert_cmpfloat(spot.point.y, ==, -20);
  const HfEntry *second = hf_recipe_at(recipe, 1);
  g_assert_cmpuint(second->place.at->len, ==, 4);
  g_assert_cmpfloat(g_array_index(second->place.at, HfSpot, 0).point.x, ==, 25.4);
  g_assert_cmpint(g_array_index(second->place.at, HfSpot, 3).kind, ==, HF_SPOT_CENTRE);
  const HfEntry *third = hf_recipe_at(recipe, 2);
  g_assert_cmpfloat_with_epsilon(g_array_index(third->place.at, HfSpot, 0).angle, 200 * G_PI / 180,
                                 1e-12);
  const HfEntry *fourth = hf_recipe_at(recipe, 3);
  g_assert_cmpuint(fourth->place.at->len, ==, 2);
  g_assert_cmpfloat(hf_recipe_entry(recipe, "hole 1")->hole.hanging, ==, 0);
  g_assert_true(isnan(hf_recipe_entry(recipe, "hole 2")->hole.hanging));
}

static void
test_rest(void)
{
  g_autoptr(HfRecipe) recipe = read_good(
      "{\"holdfast\": 1, \"metal\": {\"kind\": \"Aluminum\", \"thickness\": \"10 ga\"},\n"
      " \"process\": {\"row\": \"fine\", \"crater\": \"2 mm\"}, \"mount\": \"studs\",\n"
      " \"read from\": \"120 m\", \"house number\": true, \"alone\": [\"n\"],\n"
      " \"accept\": [{\"finding\": \"sharp-point\", \"of\": \"n\", \"reason\": \"hangs high\"}],\n"
      " \"limits\": {\"thin-web\": \"3 mm\", \"out-of-level\": \"2 deg\", \"bowing-strip\": 30},\n"
      " \"order\": {\"customer\": \"Ferry Steps \\ud83d\\ude00\", \"number\": 14, \"date\": "
      "\"2026-03-14\", \"quantity\": 3},\n"
      " \"entries\": [{\"words\": {\"name\": \"n\", \"text\": 14, \"font\": \"L\", \"height\": \"1 "
      "cm\"}}]}");
  g_assert_cmpstr(recipe->metal, ==, "aluminium");
  g_assert_cmpfloat_with_epsilon(recipe->thickness, 0.1019 * 25.4, 1e-9);
  g_assert_cmpstr(recipe->row, ==, "fine");
  g_assert_true(isnan(recipe->kerf));
  g_assert_cmpfloat(recipe->read_from, ==, 120000);
  g_assert_true(recipe->house_number);
  g_assert_false(recipe->within_reach);
  g_assert_cmpstr(g_ptr_array_index(recipe->alone, 0), ==, "n");
  const HfAccepted *accepted = &g_array_index(recipe->accept, HfAccepted, 0);
  g_assert_cmpstr(accepted->reason, ==, "hangs high");
  g_assert_cmpuint(accepted->mark.line, ==, 4);
  g_assert_cmpuint(accepted->mark.column, ==, 13);
  const HfLimitOverride *limit = &g_array_index(recipe->limits, HfLimitOverride, 1);
  g_assert_cmpstr(limit->key, ==, "out-of-level");
  g_assert_cmpstr(limit->unit, ==, "deg");
  g_assert_cmpfloat(limit->value, ==, 2);
  g_assert_cmpstr(g_array_index(recipe->limits, HfLimitOverride, 2).unit, ==, "");
  g_assert_cmpstr(recipe->customer, ==, "Ferry Steps \xf0\x9f\x98\x80");
  g_assert_cmpstr(recipe->order_number, ==, "14");
  g_assert_cmpint(recipe->quantity, ==, 3);
}

/* --- the table itself --- */

/* Each example of the reference is read by the very reader that it explains. */
static void
try_example(const HfTable *table, const char *example)
{
  HfSource source;
  HfMistakes mistakes;
  hf_source_init(&source, example, strlen(example));
  hf_mistakes_init(&mistakes);
  g_autoptr(HfNode) node = hf_node_read(&source, &mistakes);
  g_assert_nonnull(node);
  HfReader reader = {&mistakes, g_array_new(FALSE, FALSE, sizeof(HfMention)),
                     hf_metal("mild steel"), -1};
  union {
    HfRecipe recipe;
    HfShop shop;
    HfEntry entry;
    HfFontWish font;
    HfAccepted accepted;
    HfChartRow row;
  } base;
  memset(&base, 0, sizeof base);
  hf_read_defaults(table, &base);
  hf_read_table(&reader, node, table, &base);
  for (guint i = 0; i < mistakes.list->len; i++) {
    const HfMistake *mistake = g_ptr_array_index(mistakes.list, i);
    if (strstr(mistake->what, " needs \"") == NULL) /* other keys are left out on purpose */
      g_error("%s: %s; %s", example, mistake->what, mistake->fix);
  }
  hf_read_free(table, &base);
  g_array_unref(reader.mentions);
  hf_mistakes_clear(&mistakes);
  hf_source_clear(&source);
}

static void
try_table(const HfTable *table)
{
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  if (table->example != NULL)
    try_example(table, table->example);
  for (const HfTable *part = table; part != NULL; part = part->also)
    for (const HfField *field = part->fields; field->key != NULL; field++) {
      g_autofree char *example = g_strdup_printf("%s: %s", field->key, field->example);
      try_example(table, example);
      g_assert_true(g_hash_table_add(seen, (gpointer)field->key)); /* no key twice */
      if (field->table != NULL && field->type != HF_FIELD_TABLE)
        try_table(field->table);
    }
}

static void
test_examples(void)
{
  try_table(&hf_table_recipe);
  try_table(&hf_table_shop);
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    try_table(&hf_kinds[i]->table);
}

static void
test_starters(void)
{
  guint n = 0;
  for (const char *const *kind = hf_recipe_starter_kinds(); *kind != NULL; kind += 2, n++) {
    g_autofree char *text = hf_recipe_starter(*kind);
    g_autoptr(HfRecipe) recipe = read_good(text);
    g_assert_cmpfloat(recipe->kerf, ==, 1.5);
    g_assert_true(strstr(text, "measure yours") != NULL);
    g_assert_nonnull(kind[1]);
  }
  g_assert_cmpuint(n, >=, 6);
  g_assert_null(hf_recipe_starter("boat"));
}

/* docs/ holds what the program prints; `holdfast recipe` writes it. */
static void
compare_doc(const char *path, const char *from, const char *made)
{
  g_autofree char *file = g_build_filename(HF_SOURCE_ROOT, path, NULL);
  g_autofree char *text = NULL;
  g_assert_true(g_file_get_contents(file, &text, NULL, NULL));
  const char *part = from != NULL ? strstr(text, from) : text;
  g_assert_nonnull(part);
  if (strcmp(part, made) != 0)
    g_error("%s is not what the program prints; run tools/recipe-docs", path);
}

static void
test_docs(void)
{
  g_autofree char *keys = hf_recipe_reference(), *shop_keys = hf_shop_reference();
  g_autofree char *reference = g_strconcat(keys, "\n", shop_keys, NULL);
  g_autofree char *recipe = hf_recipe_schema();
  g_autofree char *shop = hf_shop_schema();
  compare_doc("docs/recipe.md", "## A recipe, key by key", reference);
  compare_doc("docs/schema/recipe.schema.json", NULL, recipe);
  compare_doc("docs/schema/shop.schema.json", NULL, shop);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/recipe/sketch", test_sketch);
  g_test_add_func("/recipe/bad/head", test_bad_head);
  g_test_add_func("/recipe/bad/entries", test_bad_entries);
  g_test_add_func("/recipe/bad/many", test_many_mistakes);
  g_test_add_func("/recipe/words", test_words);
  g_test_add_func("/recipe/plain-texts", test_plain_texts);
  g_test_add_func("/recipe/places", test_places);
  g_test_add_func("/recipe/rest", test_rest);
  g_test_add_func("/recipe/examples", test_examples);
  g_test_add_func("/recipe/starters", test_starters);
  g_test_add_func("/recipe/docs", test_docs);
  return g_test_run();
}
