/* SPDX-License-Identifier: GPL-3.0-or-later
 * legible.c - letters large enough to be read, house numbers large enough for the fire code.
 *
 * Letter height is the cap height. A house number is every entry with a numeral in its text; its
 * height is the ink of its lowest numeral, upright in its own ems (old-style numerals are lower
 * than capitals), its stroke the median width along the medial axis of its thinnest numeral,
 * without the branches that run out to nothing in corners.
 */
#include "base/text.h"
#include "geom/axis.h"
#include "hold/hold-private.h"
#include "recipe/kind.h"
#include <string.h>

/* Axis nodes with a smaller radius lie in a corner, mm. */
#define CORNER 0.01

static HfPoint
middle_of(const HfShape *shape)
{
  return hf_box_centre(hf_outline_box(shape->outline));
}

static char *
words_label(const HfEntry *entry)
{
  return g_strdup_printf("%s \"%s\"", hf_entry_word(entry), entry->name);
}

static HfFinding *
add_for_entry(HfCheck *check, HfLawKind kind, double measured, const HfShape *shape)
{
  HfFinding *finding = hf_check_add(check, kind, measured, middle_of(shape));
  if (finding == NULL)
    return NULL;
  g_autofree char *label = words_label(hf_recipe_at(check->recipe, shape->entry));
  hf_finding_call(finding, label);
  g_array_append_val(finding->entries, shape->entry);
  return finding;
}

/* The first letter of an entry stands for all of it: they have one letter height. */
static gboolean
is_first_letter(const HfLayout *layout, guint i)
{
  const HfShape *shape = hf_layout_shape(layout, i);
  if (shape->letter < 0)
    return FALSE;
  for (guint j = i; j-- > 0;)
    if (hf_layout_shape(layout, j)->letter >= 0 &&
        hf_layout_shape(layout, j)->entry == shape->entry)
      return FALSE;
  return TRUE;
}

static void
check_distance(HfCheck *check, const HfShape *shape)
{
  if (!(shape->letter_height > 0))
    return;
  HfFinding *finding = add_for_entry(check, HF_LAW_SMALL_LETTERS, shape->letter_height, shape);
  if (finding == NULL)
    return;
  g_autofree char *height = hf_text_mm(shape->letter_height);
  g_autofree char *wanted = hf_text_mm(finding->limit);
  g_autofree char *away = hf_text_run(check->recipe->read_from, 1);
  hf_finding_say(finding, "letters are %s high, easy reading from %s wants %s", height, away,
                 wanted);
}

/* House numbers. */

static gboolean
has_numeral(const char *text)
{
  for (const char *at = text; at != NULL && *at != '\0'; at = g_utf8_next_char(at))
    if (g_unichar_isdigit(g_utf8_get_char(at)))
      return TRUE;
  return FALSE;
}

static gboolean
entry_has_numeral(const HfEntry *entry)
{
  for (guint i = 0; hf_entry_line(entry, i) != NULL; i++)
    if (has_numeral(hf_entry_line(entry, i)))
      return TRUE;
  return FALSE;
}

/* Labels are `letter '7' of "Quay 7"`: is the letter itself a numeral? */
static gboolean
is_numeral(const HfShape *shape)
{
  const char *letter = strstr(shape->label, "letter '");
  if (shape->letter < 0 || letter == NULL)
    return FALSE;
  letter += strlen("letter '");
  return g_unichar_isdigit(g_utf8_get_char(letter));
}

/* Ink height, upright: the outline taken back to its own ems, then to size again. */
static double
ink_height(const HfShape *shape)
{
  HfMatrix m = shape->em;
  double det = m.xx * m.yy - m.xy * m.yx, size = hypot(m.xy, m.yy);
  if (det == 0)
    return hf_box_height(hf_outline_box(shape->outline));
  HfMatrix back = {m.yy / det, -m.xy / det, -m.yx / det, m.xx / det, 0, 0};
  g_autoptr(HfOutline) upright = hf_outline_new();
  hf_outline_append(upright, shape->outline, back);
  return hf_box_height(hf_outline_box(upright)) * size;
}

typedef struct {
  double width, length;
} Piece;

static int
by_width(gconstpointer p, gconstpointer q)
{
  const Piece *a = p, *b = q;
  return (a->width > b->width) - (a->width < b->width);
}

static double
median_width(GArray *pieces)
{
  double whole = 0, upto = 0;
  g_array_sort(pieces, by_width);
  for (guint i = 0; i < pieces->len; i++)
    whole += g_array_index(pieces, Piece, i).length;
  for (guint i = 0; i < pieces->len; i++) {
    upto += g_array_index(pieces, Piece, i).length;
    if (upto >= whole / 2)
      return g_array_index(pieces, Piece, i).width;
  }
  return NAN;
}

/* Out to a corner, or to a vertex of a flattened curve, the width runs to nothing. */
static gboolean
runs_into_corner(const HfAxis *axis, const HfAxisEdge *edge)
{
  return g_array_index(axis->nodes, HfAxisNode, edge->node_a).radius < CORNER ||
         g_array_index(axis->nodes, HfAxisNode, edge->node_b).radius < CORNER;
}

/* The median width of a letter along its axis, mm; NAN when it has none. */
static double
stroke_of(const HfShape *shape)
{
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, shape->outline, 0, HF_FLATTEN_MM);
  g_autoptr(HfRegion) letter = hf_region_clean(chords);
  if (hf_region_is_empty(letter))
    return NAN;
  g_autoptr(HfAxis) axis = hf_axis_new(letter, NULL, NULL);
  g_autoptr(GArray) pieces = g_array_new(FALSE, FALSE, sizeof(Piece));
  for (guint e = 0; e < axis->edges->len; e++) {
    const HfAxisEdge *edge = &g_array_index(axis->edges, HfAxisEdge, e);
    if (runs_into_corner(axis, edge))
      continue;
    for (guint k = edge->first + 1; k < edge->first + edge->n; k++) {
      const HfAxisPoint *a = &g_array_index(axis->points, HfAxisPoint, k - 1), *b = a + 1;
      Piece piece = {a->radius + b->radius, hf_point_distance(a->at, b->at)};
      g_array_append_val(pieces, piece);
    }
  }
  return median_width(pieces);
}

static void
check_number(HfCheck *check, guint first)
{
  const HfLayout *layout = check->layout;
  const HfShape *one = hf_layout_shape(layout, first), *lowest = NULL, *thinnest = NULL;
  double height = INFINITY, stroke = INFINITY;
  for (guint i = first; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->entry != one->entry || !is_numeral(shape))
      continue;
    double h = ink_height(shape), w = stroke_of(shape);
    lowest = h < height ? shape : lowest;
    height = fmin(height, h);
    thinnest = w < stroke ? shape : thinnest;
    stroke = fmin(stroke, w);
  }
  if (lowest != NULL)
    add_for_entry(check, HF_LAW_SMALL_NUMBER, height, lowest);
  double wanted = check->hold->figures[HF_FIGURE_NUMBER_STROKE];
  if (thinnest == NULL || stroke >= wanted)
    return;
  /* a stroke has a limit of its own: the law is broken, whatever the height */
  HfFinding *finding = add_for_entry(check, HF_LAW_SMALL_NUMBER, 0, thinnest);
  if (finding == NULL)
    return;
  g_autofree char *is = hf_text_mm(stroke), *needs = hf_text_mm(wanted);
  finding->measured = stroke;
  finding->limit = wanted;
  hf_finding_form(finding, "stroke");
  hf_finding_say(finding, "stroke of the number is %s, should be %s for a house number", is, needs);
  hf_finding_fix(finding,
                 "take a bolder face or larger numerals, and ask your fire department what "
                 "your town wants");
}

/* In another sheet of the sign: it is asked for its size there. */
static gboolean
is_elsewhere(const HfRecipe *recipe)
{
  for (guint i = 0; recipe->in_layer != HF_LAYER_UNSAID && i < recipe->entries->len; i++)
    if (!hf_entry_is_in(hf_recipe_at(recipe, i), recipe->in_layer) &&
        entry_has_numeral(hf_recipe_at(recipe, i)))
      return TRUE;
  return FALSE;
}

static void
say_no_number(HfCheck *check)
{
  if (is_elsewhere(check->recipe))
    return;
  HfFinding *finding = hf_check_add(check, HF_LAW_SMALL_NUMBER, 0, check->hold->centroid);
  if (finding == NULL)
    return;
  hf_finding_form(finding, "missing");
  hf_finding_say(finding, "the recipe says it is a house number, and it has no numeral");
  hf_finding_fix(finding, "write the number in numerals, not in words");
}

static gboolean
check_letters(HfCheck *check, GError **error)
{
  const HfLayout *layout = check->layout;
  gboolean is_number = check->recipe->house_number, any = FALSE;
  for (guint i = 0; i < layout->shapes->len; i++) {
    if (!is_first_letter(layout, i))
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    const HfShape *shape = hf_layout_shape(layout, i);
    check_distance(check, shape);
    if (is_number && entry_has_numeral(hf_recipe_at(check->recipe, shape->entry))) {
      any = TRUE;
      check_number(check, i);
    }
  }
  if (is_number && !any)
    say_no_number(check);
  return TRUE;
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_small_letters_law = {
    .key = "small-letters",
    .quantity = "letter height",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_NOTE,
    .caution = {"reading distance / {small-letters distance}"},
    .source = HF_COMMON_PRACTICE,
    .reference =
        "17 minutes of arc; a strict minimum is distance / 360, a careful one distance / 240",
    .why = "it is hard to read from there",
    .what = "letters are {measured} high, {needs} {limit} for that reading distance",
    .fix = "make them larger",
    .cures = HF_CURES("larger", "scale"),
    .check = check_letters,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_small_number_law = {
    .key = "small-number",
    .quantity = "height of a house number",
    .unit = "mm",
    .at_least = TRUE,
    .gravity = HF_CAUTION,
    .caution = {"102 mm", " high, stroke {small-number stroke}"},
    .source = "standard IFC clause 505.1",
    .reference = "4 in high, stroke 0.5 in; towns may ask for more",
    .why = "a fire crew must find the house",
    .what = "number is {measured} high, {needs} {limit} for a house number",
    .fix = "make it larger, and ask your fire department what your town wants",
    .cures = HF_CURES("larger", "bolder", "scale"),
    .check = check_letters,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfFigureRow hf_number_stroke_figure = {
    .law = HF_LAW_SMALL_NUMBER,
    .key = "small-number stroke",
    .value = 12.7,
    .unit = "mm",
    .meaning = "stroke of a house number, at least; standard IFC clause 505.1",
};

const HfFigureRow hf_legibility_figure = {
    .law = HF_LAW_SMALL_LETTERS,
    .key = "small-letters distance",
    .value = 200,
    .unit = "",
    .meaning = "letters are read with ease from so many letter heights away",
};
