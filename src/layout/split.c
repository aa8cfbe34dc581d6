/* SPDX-License-Identifier: GPL-3.0-or-later
 * split.c - an initial split by words that run across it.
 *
 *        /~~~\                  clear: a slot as high as the words' ink and `split gap` above and
 *       |  S     upper half     below; whoever holds the halves (a ring) holds them
 *     =========== bar           gap below 0: each half runs into the words' ink by that
 *       Harbour   words         split bar: the words bite a bar below by their feet and one above
 *     =========== bar           by their tops; each half ends half way into its bar, so all is one
 *            |   lower half
 *       \___/
 */
#include "base/text.h"
#include "layout/cut-private.h"
#include "layout/initial-private.h"

#include <string.h>

#define USUAL_GAP 2.0 /* of the joint limit, above and below the words; ours */

typedef struct {
  HfLaying *laying;
  guint entry, words;
  const HfInitialEntry *initial;
  const HfLaid *laid; /* the words */
  double low, high;   /* the halves end at these heights */
} Split;

/* ---- levels of the words ------------------------------------------------------------------- */

/* The laid letters once more, in mm over their baseline, so that contact.c can look at them. */
static HfWording *
letters_in_mm(const HfLaid *laid, double *ret_baseline)
{
  HfWording *wording = hf_wording_empty();
  HfLetterLine line = {.ink = HF_BOX_EMPTY};
  *ret_baseline = NAN;
  for (guint i = 0; i < laid->shapes->len; i++) {
    const HfShape *shape = (const HfShape *)g_ptr_array_index(laid->shapes, i);
    if (shape->copy != 0 || shape->letter < 0)
      continue;
    if (isnan(*ret_baseline))
      *ret_baseline = shape->em.y0;
    HfLetter letter = {.text = "", .outline = hf_outline_new()};
    hf_outline_append(letter.outline, shape->outline, hf_matrix_move(0, -*ret_baseline));
    letter.ink = hf_outline_box(letter.outline);
    g_array_append_val(wording->letters, letter);
    wording->cap = MAX(wording->cap, shape->letter_height);
    line.n++;
  }
  g_array_append_val(wording->lines, line);
  return wording;
}

/* Level of an edge that the letters bite by exactly @bite on @side; over the baseline. */
static gboolean
biting_level(const HfWording *wording, HfSide side, double bite, double *ret_level)
{
  g_autoptr(HfCrown) crown = hf_crown_new(wording, side, -1, HF_REACH * wording->cap);
  double sign = side == HF_SIDE_TOPS ? 1 : -1;
  HfBiteEdge edge = {.size = 1, .across = 1, .edge = 0, .sign = sign};
  HfBiteMark least, deepest;
  do {
    if (!hf_crown_measure(crown, &edge, &least, &deepest))
      return FALSE;
    edge.edge += sign * (least.depth - bite);
  } while (hf_crown_close_dips(crown, &edge, bite, HF_SLIT * wording->cap) > 0 &&
           hf_wording_goes_on(wording));
  *ret_level = edge.edge;
  return TRUE;
}

/* ---- bars ------------------------------------------------------------------------------------ */

static void
add_bar(Split *split, GPtrArray *shapes, HfBox box, const char *where, gboolean opening)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, box, 0);
  char *label =
      g_strdup_printf("bar %s \"%s\"", where, hf_lay_entry(split->laying, split->words)->name);
  g_ptr_array_add(shapes, hf_shape_new(outline, label, split->entry, -1, opening));
}

static gboolean
set_bars(Split *split, GPtrArray *shapes, HfBox initial, GError **error)
{
  double high = split->initial->split_bar, baseline, feet, tops;
  double bite =
      isnan(split->initial->bite) ? MAX(split->laying->joint_limit / 2, 1) : split->initial->bite;
  g_autoptr(HfWording) letters = letters_in_mm(split->laid, &baseline);
  if (letters->letters->len == 0 || !biting_level(letters, HF_SIDE_FEET, bite, &feet) ||
      !biting_level(letters, HF_SIDE_TOPS, bite, &tops))
    return hf_lay_refuse(split->laying, split->entry, error, HF_ERROR_NO_ROOM,
                         "leave out 'split bar'", "the words have no feet and tops to hold bars");
  if (bite >= high) {
    g_autofree char *deep = hf_text_mm(bite), *has = hf_text_mm(high);
    return hf_lay_refuse(split->laying, split->entry, error, HF_ERROR_NO_ROOM,
                         "make the bars higher or the bite smaller",
                         "the words bite by %s and the bars are only %s high", deep, has);
  }
  double left = MIN(initial.min.x, split->laid->box.min.x);
  double right = MAX(initial.max.x, split->laid->box.max.x);
  gboolean opening = hf_lay_entry(split->laying, split->entry)->as == HF_AS_OPENING;
  double low = baseline + feet, above = baseline + tops;
  add_bar(split, shapes, (HfBox){{left, low - high}, {right, low}}, "below", opening);
  add_bar(split, shapes, (HfBox){{left, above}, {right, above + high}}, "above", opening);
  split->low = low - high / 2;
  split->high = above + high / 2;
  return TRUE;
}

/* ---- halves ---------------------------------------------------------------------------------- */

static gboolean
runs_across(Split *split, HfBox initial, GError **error)
{
  if (split->low > initial.min.y && split->high < initial.max.y && split->low < split->high)
    return TRUE;
  return hf_lay_refuse(split->laying, split->entry, error, HF_ERROR_NO_ROOM,
                       "make the initial larger, or move the words to its middle",
                       "\"%s\" does not run across the initial \"%s\" with metal above and below",
                       split->initial->split_by, split->initial->text);
}

static void
keep_half(HfShape *shape, double level, gboolean above)
{
  HfOutline *half = hf_cut_level(shape->outline, level, above);
  hf_outline_free(shape->outline);
  shape->outline = half;
  if (shape->drawn != NULL) {
    half = hf_cut_level(shape->drawn, level, above);
    hf_outline_free(shape->drawn);
    shape->drawn = half;
  }
  char *label = g_strdup_printf("%s half of %s", above ? "upper" : "lower", shape->label);
  g_free(shape->label);
  shape->label = label;
}

static HfShape *
copy_of(const HfShape *shape)
{
  HfShape *copy = hf_shape_new(hf_outline_copy(shape->outline), g_strdup(shape->label),
                               shape->entry, shape->letter, shape->opening);
  copy->drawn = shape->drawn == NULL ? NULL : hf_outline_copy(shape->drawn);
  copy->copy = shape->copy;
  copy->em = shape->em;
  copy->letter_height = shape->letter_height;
  copy->lean = shape->lean;
  copy->pen = shape->pen;
  copy->line = shape->line;
  return copy;
}

gboolean
hf_split(HfLaying *laying, guint entry, GPtrArray *shapes, guint first, GError **error)
{
  Split split = {
      .laying = laying, .entry = entry, .initial = &hf_lay_entry(laying, entry)->initial};
  split.laid = hf_lay_named(laying, split.initial->split_by, &split.words);
  double gap =
      isnan(split.initial->split_gap) ? USUAL_GAP * laying->joint_limit : split.initial->split_gap;
  HfBox box = HF_BOX_EMPTY;
  guint end = shapes->len;
  for (guint i = first; i < end; i++)
    box = hf_box_union(box, hf_outline_box(((HfShape *)g_ptr_array_index(shapes, i))->outline));
  split.low = split.laid->box.min.y - gap;
  split.high = split.laid->box.max.y + gap;
  if (!isnan(split.initial->split_bar) && !set_bars(&split, shapes, box, error))
    return FALSE;
  if (!runs_across(&split, box, error))
    return FALSE;
  for (guint i = first; i < end; i++) {
    HfShape *upper = (HfShape *)g_ptr_array_index(shapes, i), *lower = copy_of(upper);
    keep_half(upper, split.high, TRUE);
    keep_half(lower, split.low, FALSE);
    g_ptr_array_add(shapes, lower);
  }
  return TRUE;
}
