/* SPDX-License-Identifier: GPL-3.0-or-later
 * What a shop file may say: the schema table for shop.yaml, and what is printed from it.
 */
#include "recipe/kind.h"
#include "shop/shop-private.h"
#include "shop/shop.h"
#include "stock/practice.h"

#define ROW(member) offsetof(HfChartRow, member)
static const HfField chart_fields[] = {
    {"name", HF_FIELD_TEXT, 0, ROW(name), "what a recipe calls the row by", "fine 45 A"},
    {"metal", HF_FIELD_METAL, HF_REQUIRED, ROW(metal), "which metal", "mild steel"},
    {"thickness", HF_FIELD_THICKNESS, HF_REQUIRED, ROW(thickness), "of the sheet", "3 mm", NULL,
     0.3, 50},
    {"kerf", HF_FIELD_LENGTH, HF_REQUIRED, ROW(kerf), "width of the cut, measured", "1.4 mm", NULL,
     0.1, 10},
    {"feed", HF_FIELD_QUANTITY, 0, ROW(feed), "speed of the cut", "2600 mm/min", NULL, 10, 50000,
     .units = hf_units_feed},
    {"current", HF_FIELD_QUANTITY, 0, ROW(current), "of the arc", "45 A", NULL, 1, 1000,
     .units = hf_units_ampere},
    {"pierce delay", HF_FIELD_QUANTITY, 0, ROW(pierce_delay), "from arc on to moving", "0.4 s",
     NULL, 0, 30, .units = hf_units_time},
    {"cut height", HF_FIELD_LENGTH, 0, ROW(cut_height), "torch above the sheet while cutting",
     "1.5 mm", NULL, 0.1, 50},
    {"pierce height", HF_FIELD_LENGTH, 0, ROW(pierce_height),
     "torch above the sheet while piercing", "3.8 mm", NULL, 0.1, 50},
    {"limits", HF_FIELD_LIMITS, 0, ROW(limits),
     "what this sheet holds with this kerf; `holdfast coupon` measures it", "{thin-web: 2.4 mm}"},
    {"coupon", HF_FIELD_TEXT, 0, ROW(coupon), "when that was measured, as findings say it",
     "2026-03-14"},
    {NULL},
};
static const HfTable table_chart = {
    "a row of the cut chart", "One metal and thickness, as measured on your table.", chart_fields,
    NULL, "{metal: mild steel, thickness: 3 mm, kerf: 1.4 mm, feed: 2600 mm/min}"};

#define IN(member) offsetof(HfShop, member)
static const HfField tie_fields[] = {
    {"direction", HF_FIELD_CHOICE, 0, IN(tie_direction), "which way ties run, as the letter stands",
     "upright", "usual", .choices = hf_choices_tie_direction},
    {"along", HF_FIELD_CHOICE, 0, IN(tie_along),
     "what is upright to ties: square to the line, or as the stems of a slanted face lean",
     "letter", "usual", .choices = hf_choices_tie_along},
    {"width", HF_FIELD_LENGTH, 0, IN(tie_width), "otherwise " HF_OVER_LIMIT_TEXT " times the limit",
     "4 mm", NULL, 0.1, 100},
    {"keep free", HF_FIELD_SPOTS, 0, IN(tie_free),
     "no tie leaves a part in these directions, as the letter stands: top, 11 o'clock", "[top]"},
    {"dots", HF_FIELD_CHOICE, 0, IN(tie_dots),
     "dots and accents of standing letters: tied to their letter, or moved into it", "lowered",
     "usual", .choices = hf_choices_tie_dots},
    {NULL},
};
static const HfTable table_ties = {"the habit of ties",
                                   "What a rule for ties does that does not say it.", tie_fields,
                                   NULL, "{direction: upright, width: 4 mm, dots: lowered}"};

static const HfChoice good_sides[] = {
    {"right", HF_GOOD_SIDE_RIGHT, "right", "the usual swirl of the gas"},
    {"left", HF_GOOD_SIDE_LEFT, "left", "a swirl the other way"},
    {NULL, 0}};
static const HfField moves_fields[] = {
    {"travel", HF_FIELD_QUANTITY, 0, IN(travel_speed), "speed with the torch off", "20 m/min",
     "15 m/min", 100, 200000, .units = hf_units_feed},
    {"acceleration", HF_FIELD_QUANTITY, 0, IN(acceleration), "how fast it speeds up and slows down",
     "3000 mm/s2", "1500 mm/s2", 10, 100000, .units = hf_units_faster},
    {"height time", HF_FIELD_QUANTITY, 0, IN(height_time),
     "from a stop until the sheet is found and the torch is at pierce height", "1.5 s", "2 s", 0,
     60, .units = hf_units_time},
    {"good side", HF_FIELD_CHOICE, 0, IN(good_side), "which side of travel comes out square",
     "left", "right", .choices = good_sides},
    {NULL},
};
static const HfTable table_moves = {"how the table moves", "What its axes can do.", moves_fields,
                                    NULL, "{travel: 20 m/min, acceleration: 3000 mm/s2}"};

static const HfChoice slat_runs[] = {
    {"along x", HF_SLATS_ALONG_X, "along x", "along the first of the two lengths of table"},
    {"along y", HF_SLATS_ALONG_Y, "along y", "along the second"},
    {NULL, 0}};
static const HfField slat_fields[] = {
    {"pitch", HF_FIELD_LENGTH, 0, IN(slat_pitch), "from slat to slat; 0 mm: nothing can tip",
     "100 mm", "75 mm", 0, 1000},
    {"run", HF_FIELD_CHOICE, 0, IN(slat_run), "which way they run", "along y", "along x",
     .choices = slat_runs},
    {NULL},
};
static const HfTable table_slats = {"the slats", "What lies under the sheet.", slat_fields, NULL,
                                    "{pitch: 100 mm, run: along y}"};

static const HfChoice program_units[] = {
    {"mm", HF_PROGRAM_MM}, {"inch", HF_PROGRAM_INCHES}, {NULL, 0}};
static const HfField program_fields[] = {
    {"unit", HF_FIELD_CHOICE, 0, IN(program_unit), "of its figures", "inch", "mm",
     .choices = program_units},
    {"arc on", HF_FIELD_TEXT, 0, IN(arc_on), "strikes the arc; otherwise M3", "M3"},
    {"arc off", HF_FIELD_TEXT, 0, IN(arc_off), "puts it out; otherwise M5", "M5"},
    {"height held", HF_FIELD_TEXT, 0, IN(height_held),
     "the height control keeps the torch where it is: small holes, corners, ways in", "M62 P1"},
    {"height free", HF_FIELD_TEXT, 0, IN(height_free), "it follows the sheet again", "M63 P1"},
    {"before", HF_FIELD_TEXTS, 0, IN(before), "lines before the first cut", "[M7]"},
    {"after", HF_FIELD_TEXTS, 0, IN(after), "lines behind the last", "[M9]"},
    {NULL},
};
static const HfTable table_program = {
    "what its programs are like", "Otherwise plain RS-274/NGC in mm, M3 for the arc and M5.",
    program_fields, NULL, "{unit: inch, arc on: M3, arc off: M5}"};

static const HfField shop_fields[] = {
    {"holdfast", HF_FIELD_WHOLE, HF_REQUIRED, IN(format), "version of the format", "1", NULL, 1,
     HF_RECIPE_FORMAT},
    {"kerf", HF_FIELD_LENGTH, 0, IN(kerf), "width of the cut, for whatever you cut", "1.4 mm", NULL,
     0.1, 10},
    {"crater", HF_FIELD_LENGTH, 0, IN(crater),
     "radius of the crater that piercing leaves; otherwise the kerf", "2 mm", NULL, 0.1, 30},
    {"chart", HF_FIELD_ROWS, 0, IN(chart),
     "or the cut chart, a row for each metal and thickness; between two thicknesses the kerf is "
     "worked out",
     "[{metal: mild steel, thickness: 3 mm, kerf: 1.4 mm}]", .table = &table_chart,
     .row_size = sizeof(HfChartRow)},
    {"limits", HF_FIELD_LIMITS, 0, IN(limits),
     "limits of your own: key of a finding, or key and \"caution\"",
     "{thin-web: 3 mm, thin-web caution: 4 mm}"},
    {"ties", HF_FIELD_TABLE, 0, 0,
     "your habit; a recipe's rule for ties says otherwise where it does",
     "{direction: upright, width: 4 mm}", .table = &table_ties},
    {"name", HF_FIELD_TEXT, 0, IN(name), "what the shop is called, on its papers",
     "Quay Ironworks"},
    {"address", HF_FIELD_TEXTS, 0, IN(address), "lines under it: where, telephone, anything",
     "[2 Ropewalk, Saltmarsh Quay]"},
    {"mark", HF_FIELD_PATH, 0, IN(mark),
     "its mark on the papers: a PNG beside the shop file or below it, at most 1 MiB and 4000 "
     "pixels a "
     "side",
     "mark.png"},
    {"table", HF_FIELD_POINT, 0, IN(table_width), "what your table can cut: [width, height]",
     "[1250 mm, 1250 mm]", NULL, 10, 100000},
    {"moves", HF_FIELD_TABLE, 0, 0, "how the table moves", "{travel: 20 m/min}",
     .table = &table_moves},
    {"slats", HF_FIELD_TABLE, 0, 0, "what lies under the sheet", "{pitch: 100 mm}",
     .table = &table_slats},
    {"program", HF_FIELD_TABLE, 0, 0, "what the table's programs are like", "{unit: inch}",
     .table = &table_program},
    {"sheet", HF_FIELD_POINT, 0, IN(sheet_width), "the sheet that you buy: [width, height]",
     "[1000 mm, 2000 mm]", NULL, 10, 100000},
    {NULL},
};
const HfTable hf_table_shop = {"a shop file", "What your table and your process are like.",
                               shop_fields, NULL, NULL};

char *
hf_shop_reference(void)
{
  return hf_table_reference(&hf_table_shop, "The shop file, key by key");
}

char *
hf_shop_schema(void)
{
  return hf_table_schema(&hf_table_shop, "holdfast shop file, version 1");
}
