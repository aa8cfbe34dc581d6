/* SPDX-License-Identifier: GPL-3.0-or-later
 * What a recipe may say outside its entries: the table of kind.h for the whole file.
 */
#include "recipe/schema-private.h"

#define IN(member) offsetof(HfRecipe, member)
#define HF_COLOURS "RAL and a number, a name such as dark green, or #1f3d2b"
static const HfField metal_fields[] = {
    {"kind", HF_FIELD_METAL, HF_REQUIRED, IN(metal), "which metal", "mild steel"},
    {"thickness", HF_FIELD_THICKNESS, HF_REQUIRED, IN(thickness),
     "of the sheet; a gauge is understood", "3 mm", NULL, 0.3, 50},
    {NULL},
};
static const HfTable table_metal = {"metal", "What it is cut from.", metal_fields, NULL, NULL};

static const HfField process_fields[] = {
    {"kerf", HF_FIELD_LENGTH, 0, IN(kerf), "width of the cut: measure yours on a test cut",
     "1.4 mm", NULL, 0.1, 10},
    {"crater", HF_FIELD_LENGTH, 0, IN(crater),
     "radius of the crater that piercing leaves; otherwise the shop's, otherwise the kerf", "2 mm",
     NULL, 0.1, 30, .words = {.before = "craters of"}},
    {"row", HF_FIELD_TEXT, 0, IN(row), "or the name of a row of the shop's cut chart", "fine 45 A",
     .words = {.label = "row of the cut chart",
               .before = "by the row",
               .after = "of the cut chart"}},
    {NULL},
};
static const HfTable table_process = {"process",
                                      "How it is cut. Without a kerf here the shop file's is used.",
                                      process_fields, NULL, NULL};

#define FINISH(member) offsetof(HfFinish, member)
static const HfField finish_fields[] = {
    {"powder coat", HF_FIELD_COLOUR, 0, FINISH(powder), "its colour: " HF_COLOURS, "RAL 9005"},
    {"paint", HF_FIELD_COLOUR, 0, FINISH(paint), "or painted in this colour", "dark green"},
    {"coat", HF_FIELD_LENGTH, 0, FINISH(coat),
     "thickness of the coat, on every surface; otherwise 0.08 mm of powder, 0.05 mm of paint "
     "(common "
     "practice)",
     "0.08 mm", NULL, 0.01, 1},
    {NULL},
};
static const HfTable table_finish = {
    "a finish",
    "What the metal's surface becomes. Without a thickness in words: powder coat RAL 9005.",
    finish_fields, NULL, "{powder coat: RAL 9005, coat: 0.1 mm}"};

#define LAYER_FIELDS(at)                                                                           \
  {"metal",     HF_FIELD_METAL, 0, IN(layers[at].metal), "which metal; otherwise the front's",     \
   "mild steel"},                                                                                  \
      {"thickness",                                                                                \
       HF_FIELD_THICKNESS,                                                                         \
       0,                                                                                          \
       IN(layers[at].thickness),                                                                   \
       "of its sheet, said together with its metal; otherwise the front's",                        \
       "2 mm",                                                                                     \
       NULL,                                                                                       \
       0.3,                                                                                        \
       50},                                                                                        \
      {"behind",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       IN(layers[at].behind),                                                                      \
       "how far it is behind the layer before it: the length of the stand-offs",                   \
       "20 mm",                                                                                    \
       "0 mm",                                                                                     \
       0,                                                                                          \
       1000},                                                                                      \
      {"kerf",                                                                                     \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       IN(layers[at].kerf),                                                                        \
       "width of the cut in it; otherwise the front's where its sheet is the same, otherwise the " \
       "shop's",                                                                                   \
       "1.2 mm",                                                                                   \
       NULL,                                                                                       \
       0.1,                                                                                        \
       10},                                                                                        \
      {"crater",                                                                                   \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       IN(layers[at].crater),                                                                      \
       "radius of the crater that piercing leaves in it",                                          \
       "2 mm",                                                                                     \
       NULL,                                                                                       \
       0.1,                                                                                        \
       30},                                                                                        \
      {"row",                                                                                      \
       HF_FIELD_TEXT,                                                                              \
       0,                                                                                          \
       IN(layers[at].row),                                                                         \
       "or the name of a row of the shop's cut chart",                                             \
       "fine 45 A"},                                                                               \
      {"finish",                                                                                   \
       HF_FIELD_FINISH,                                                                            \
       0,                                                                                          \
       IN(layers[at].finish),                                                                      \
       "what its surface becomes; otherwise as the front",                                         \
       "brushed",                                                                                  \
       .table = &table_finish},                                                                    \
  {                                                                                                \
    NULL                                                                                           \
  }
static const HfField middle_fields[] = {LAYER_FIELDS(HF_LAYER_MIDDLE)};
static const HfField back_fields[] = {LAYER_FIELDS(HF_LAYER_BACK)};
static const HfTable table_middle = {
    "middle", "A sheet between front and back: what it is cut from, and how.", middle_fields, NULL,
    NULL};
static const HfTable table_back = {
    "back", "A sheet behind the front: what it is cut from, and how.", back_fields, NULL, NULL};

static const HfField order_fields[] = {
    {"customer", HF_FIELD_TEXT, 0, IN(customer), "shown on the proof only", "Ferry Steps Cottage"},
    {"number", HF_FIELD_TEXT, 0, IN(order_number), "of the order", "SQ-014",
     .words = {.label = "order number"}},
    {"date", HF_FIELD_TEXT, 0, IN(date), "of the order, as you write it", "2026-03-14"},
    {"quantity", HF_FIELD_WHOLE, 0, IN(quantity), "how many of this sign", "2", "1", 1, 100000},
    {"proof", HF_FIELD_TEXT, 0, IN(proof), "number of the proof that the customer gets", "3",
     .words = {.label = "number of the proof"}},
    {"revision", HF_FIELD_TEXT, 0, IN(revision), "of that proof", "B",
     .words = {.label = "revision of the proof"}},
    {NULL},
};

static const HfField agreed_fields[] = {
    {"proof", HF_FIELD_TEXT, HF_REQUIRED, IN(agreed.proof), "number of the proof that was signed",
     "3", .words = {.label = "proof that was signed"}},
    {"revision", HF_FIELD_TEXT, 0, IN(agreed.revision), "its revision", "B"},
    {"digest", HF_FIELD_TEXT, HF_REQUIRED, IN(agreed.digest),
     "as printed on it: at least the sixteen digits in bold", "3f9a-71c2-04de-88b1"},
    {NULL},
};
static const HfTable table_agreed = {
    "what was agreed", "What the customer signed. It is a caution when something else is made.",
    agreed_fields, NULL, "{proof: 3, revision: B, digest: 3f9a-71c2-04de-88b1}"};
static const HfTable table_order = {"order", "For whom it is.", order_fields, NULL, NULL};

static const HfField accept_fields[] = {
    {"finding", HF_FIELD_TEXT, HF_REQUIRED, offsetof(HfAccepted, finding), "key of a caution",
     "sharp-point"},
    {"of", HF_FIELD_NAME, 0, offsetof(HfAccepted, of), "only where this entry is concerned",
     "anchor"},
    {"reason", HF_FIELD_TEXT, HF_REQUIRED, offsetof(HfAccepted, reason),
     "stays in report and proof with your name for it", "hangs above 3 m"},
    {NULL},
};
static const HfTable table_accept = {
    "an accepted finding", "A caution that you have looked at. A stop can't be accepted.",
    accept_fields, NULL, "{finding: sharp-point, of: anchor, reason: hangs above 3 m}"};

static const HfChoice mount_choices[] = {
    {"none", HF_MOUNT_NONE, "nothing yet", "not said how it is held"},
    {"holes", HF_MOUNT_HOLES},
    {"studs", HF_MOUNT_STUDS},
    {"stake", HF_MOUNT_STAKE, "a stake"},
    {"welded", HF_MOUNT_WELDED, "welding"},
    {NULL, 0}};

static const HfChoice ways_in[] = {
    {"usual", HF_WAY_IN_USUAL, "as usual", "the best that there is room for"},
    {"arc", HF_WAY_IN_ARC, "an arc"},
    {"straight", HF_WAY_IN_STRAIGHT, "straight"},
    {"middle", HF_WAY_IN_MIDDLE, "from the middle", "of the largest circle in an opening"},
    {NULL, 0}};
static const HfChoice cut_sides[] = {{"shop", HF_CUT_SIDE_SHOP, "the shop's"},
                                     {"right", HF_CUT_SIDE_RIGHT, "right"},
                                     {"left", HF_CUT_SIDE_LEFT, "left"},
                                     {NULL, 0}};
#define WAY_FIELDS(way)                                                                            \
  {"way in",                                                                                       \
   HF_FIELD_CHOICE,                                                                                \
   0,                                                                                              \
   (way) + offsetof(HfWayWish, in),                                                                \
   "how the torch comes from the pierce to the contour",                                           \
   "straight",                                                                                     \
   "usual",                                                                                        \
   .choices = ways_in},                                                                            \
      {"way length",                                                                               \
       HF_FIELD_LENGTH,                                                                            \
       0,                                                                                          \
       (way) + offsetof(HfWayWish, length),                                                        \
       "of the way in; shorter where there is less room, which is told",                           \
       "6 mm",                                                                                     \
       NULL,                                                                                       \
       0.5,                                                                                        \
       100},                                                                                       \
  {                                                                                                \
    "way out", HF_FIELD_MAYBE, 0, (way) + offsetof(HfWayWish, leave_off),                          \
        "no: the torch goes off on the contour, a little past the start", "no"                     \
  }
#define CUT(member)  offsetof(HfRecipe, cut.member)
#define WISH(member) offsetof(HfCutWish, member)
static const HfField wish_fields[] = {
    {"of", HF_FIELD_TEXT, HF_REQUIRED, WISH(of),
     "which cuts: name of an entry, \"2nd A of NAME\", or what the program calls one", "harbour"},
    {"start", HF_FIELD_SPOTS, 0, WISH(start),
     "where each is begun: a direction from its middle, or the place on it that is nearest to a "
     "point",
     "top left"},
    WAY_FIELDS(WISH(way)),
    {NULL},
};
static const HfTable table_wish = {"a wish for cuts", "What is wanted of some of them.",
                                   wish_fields, NULL, "{of: harbour, start: bottom}"};
static const HfField cut_fields[] = {
    WAY_FIELDS(CUT(way)),
    {"good side", HF_FIELD_CHOICE, 0, CUT(good_side),
     "which side of travel comes out square; otherwise as the shop has it", "left", "shop",
     .choices = cut_sides},
    {"first", HF_FIELD_TEXTS, 0, CUT(first), "what is cut before all else, but for what lies in it",
     "[holes]"},
    {"last", HF_FIELD_TEXTS, 0, CUT(last), "what is cut after all else, but for what it lies in",
     "[harbour]"},
    {"order", HF_FIELD_TEXTS, 0, CUT(order), "each of these after the one before it",
     "[holes, harbour]"},
    {"wishes", HF_FIELD_ROWS, 0, CUT(wishes), "for some of the cuts",
     "[{of: harbour, start: bottom}]", .table = &table_wish, .row_size = sizeof(HfCutWish),
     .row_mark = WISH(mark)},
    {NULL},
};
static const HfTable table_cut = {"what is wanted of the cutting",
                                  "Starts, ways in and order; what it does not say is planned.",
                                  cut_fields, NULL, "{way in: straight, last: [harbour]}"};

static const HfField recipe_fields[] = {
    {"holdfast", HF_FIELD_WHOLE, HF_REQUIRED, IN(format), "version of the recipe's format", "1",
     NULL, 1, HF_RECIPE_FORMAT},
    {"sign", HF_FIELD_TEXT, 0, IN(sign), "what the sign is called; otherwise as the file",
     "Boat yard"},
    {"metal", HF_FIELD_TABLE, HF_REQUIRED, 0, "what it is cut from",
     "{kind: mild steel, thickness: 3 mm}", .table = &table_metal},
    {"process", HF_FIELD_TABLE, 0, 0, "how it is cut", "{kerf: 1.4 mm}", .table = &table_process},
    {"middle", HF_FIELD_TABLE, 0, 0, "what the middle layer is cut from; otherwise as the front",
     "{metal: mild steel, thickness: 2 mm, behind: 10 mm}", .table = &table_middle,
     .words = {.label = "the middle layer"}},
    {"back", HF_FIELD_TABLE, 0, 0, "what the back layer is cut from; otherwise as the front",
     "{metal: mild steel, thickness: 2 mm, behind: 20 mm}", .table = &table_back,
     .words = {.label = "the back layer"}},
    {"mount", HF_FIELD_CHOICE, 0, IN(mount), "how the sign is held where it goes", "holes", "none",
     .choices = mount_choices},
    {"finish", HF_FIELD_FINISH, 0, IN(finish),
     "what its surface becomes: raw, oiled, rusted, brushed, powder coat or paint with a colour "
     "(" HF_COLOURS "); shown in the pictures, and its coat is taken off holes and gaps",
     "powder coat RAL 9005", .table = &table_finish},
    {"wall", HF_FIELD_WALL, 0, IN(wall),
     "what is behind it in the pictures: plaster, whitewash, brick, stone, oak, slate, hedge, or a "
     "colour",
     "brick"},
    {"read from", HF_FIELD_LENGTH, 0, IN(read_from), "distance that it is to be read from", "12 m",
     NULL, 100, 200000},
    {"house number", HF_FIELD_YES, 0, IN(house_number),
     "its numbers must meet the fire code's size", "yes", "no",
     .words = {.yes = "a house number", .no = "no house number"}},
    {"within reach", HF_FIELD_YES, 0, IN(within_reach),
     "people can touch it: sharp points are a stop", "yes", "no",
     .words = {.yes = "within reach", .no = "out of reach"}},
    {"alone", HF_FIELD_NAMES, 0, IN(alone),
     "entries that may stand alone, each letter of words; \"dots of number\": its dots and accents "
     "too",
     "[number]", .words = {.label = "may stand alone"}},
    {"accept", HF_FIELD_ROWS, 0, IN(accept), "cautions that you have looked at",
     "[{finding: sharp-point, reason: hangs above 3 m}]", .table = &table_accept,
     .row_size = sizeof(HfAccepted), .row_mark = offsetof(HfAccepted, mark),
     .words = {.label = "accepted cautions"}},
    {"limits", HF_FIELD_LIMITS, 0, IN(limits),
     "limits of your own: key of a finding, or key and \"caution\"",
     "{thin-web: 3 mm, thin-web caution: 4 mm}", .words = {.label = "limits of its own"}},
    {"order", HF_FIELD_TABLE, 0, 0, "for whom it is; shown on the proof only",
     "{customer: Ferry Steps Cottage, number: SQ-014, date: 2026-03-14, quantity: 2}",
     .table = &table_order},
    {"agreed", HF_FIELD_TABLE, 0, 0,
     "what the customer signed: it is told when this is something else",
     "{proof: 3, revision: B, digest: 3f9a-71c2-04de-88b1}", .table = &table_agreed},
    {"cut", HF_FIELD_TABLE, 0, 0, "what is wanted of the cutting: starts, ways in, order",
     "{way in: straight, last: [harbour]}", .table = &table_cut,
     .words = {.label = "wishes for the cutting"}},
    {"entries", HF_FIELD_ENTRIES, HF_REQUIRED, IN(entries),
     "what the sign is made of, in order: later entries add to and cut from earlier ones",
     "[ring: {outer: 600 mm, width: 20 mm}]"},
    {NULL},
};
const HfTable hf_table_recipe = {"a recipe", "The whole file.", recipe_fields, NULL, NULL};
