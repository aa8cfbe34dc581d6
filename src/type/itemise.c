/* SPDX-License-Identifier: GPL-3.0-or-later
 * itemise.c - a line of text into pieces of one direction and one script, from left to right.
 *
 *   typed     B o a t _ 1 2 _ S A L O M          (capitals at the end: a right-to-left script)
 *   levels    0 0 0 0 0 0 0 0 1 1 1 1 1
 *   pieces    [Boat 12 ] ->       <- [SALOM]
 *
 * Levels come from FriBidi (UAX 9); runs of one level are put in their places by its rule L2:
 * from the highest level down to the lowest odd one, turn round every stretch at that level or
 * above.
 */
#include "type/type-private.h"
#include <fribidi.h>

/* Scripts that have capitals of the kind that a letter height is told by. */
static const hb_script_t with_capitals[] = {
    HB_SCRIPT_LATIN,  HB_SCRIPT_GREEK,   HB_SCRIPT_CYRILLIC,      HB_SCRIPT_ARMENIAN,
    HB_SCRIPT_COPTIC, HB_SCRIPT_DESERET, HB_SCRIPT_GLAGOLITIC,    HB_SCRIPT_CHEROKEE,
    HB_SCRIPT_OSAGE,  HB_SCRIPT_ADLAM,   HB_SCRIPT_OLD_HUNGARIAN,
};

static gboolean
has_capitals(hb_script_t script)
{
  for (gsize i = 0; i < G_N_ELEMENTS(with_capitals); i++)
    if (with_capitals[i] == script)
      return TRUE;
  return FALSE;
}

static gboolean
of_no_script(hb_script_t script)
{
  return script == HB_SCRIPT_COMMON || script == HB_SCRIPT_INHERITED || script == HB_SCRIPT_UNKNOWN;
}

/* A character of no script goes with what stands before it; at the start, with what comes. */
static hb_script_t *
scripts_of(HfItems *items)
{
  hb_unicode_funcs_t *unicode = hb_unicode_funcs_get_default();
  hb_script_t *scripts = g_new(hb_script_t, MAX(1, items->n)), last = HB_SCRIPT_COMMON;
  gboolean any = FALSE, capitals = FALSE;
  guint leading = 0;
  for (guint i = 0; i < items->n; i++) {
    hb_script_t script = hb_unicode_script(unicode, items->characters[i]);
    if (!of_no_script(script)) {
      any = TRUE;
      capitals = capitals || has_capitals(script);
      last = script;
    }
    if (last == HB_SCRIPT_COMMON)
      leading = i + 1;
    scripts[i] = last;
  }
  for (guint i = 0; i < leading && leading < items->n; i++)
    scripts[i] = scripts[leading];
  items->capitals = capitals || !any;
  return scripts;
}

static FriBidiParType
base_of(HfWay way)
{
  return way == HF_WAY_AUTO            ? FRIBIDI_PAR_ON
         : way == HF_WAY_RIGHT_TO_LEFT ? FRIBIDI_PAR_RTL
                                       : FRIBIDI_PAR_LTR;
}

/* Letters that join their neighbour in the writing: each says so, and nothing that breaks the
 * join stands between. */
static void
mark_joined(HfItems *items, const FriBidiCharType *types, const FriBidiLevel *levels)
{
  g_autofree FriBidiArabicProp *props = g_new0(FriBidiArabicProp, MAX(1, items->n));
  fribidi_get_joining_types(items->characters, (FriBidiStrIndex)items->n, props);
  g_autofree guint8 *kinds = g_memdup2(props, MAX(1, items->n));
  fribidi_join_arabic(types, (FriBidiStrIndex)items->n, levels, props);
  gint before = -1;
  for (guint i = 0; i < items->n; i++) {
    if (FRIBIDI_IS_JOINING_TYPE_T(kinds[i]) || FRIBIDI_IS_JOINING_TYPE_G(kinds[i]))
      continue;
    items->joined[i] = before >= 0 && levels[before] == levels[i] &&
                       (props[before] & FRIBIDI_JOINS_FOLLOWING_MASK(levels[i])) != 0 &&
                       (props[i] & FRIBIDI_JOINS_PRECEDING_MASK(levels[i])) != 0;
    before = (gint)i;
  }
}

typedef struct {
  HfPiece piece;
  FriBidiLevel level;
} HfLevelled;

static void
turn_round(GArray *runs, guint from, guint to)
{
  while (from + 1 < to) {
    HfLevelled *a = &g_array_index(runs, HfLevelled, from++);
    HfLevelled *b = &g_array_index(runs, HfLevelled, --to), keep = *a;
    *a = *b;
    *b = keep;
  }
}

/* UAX 9, rule L2. */
static void
put_in_order(GArray *runs)
{
  FriBidiLevel top = 0;
  for (guint i = 0; i < runs->len; i++)
    top = MAX(top, g_array_index(runs, HfLevelled, i).level);
  for (FriBidiLevel level = top; level >= 1; level--)
    for (guint i = 0; i < runs->len; i++) {
      guint end = i;
      while (end < runs->len && g_array_index(runs, HfLevelled, end).level >= level)
        end++;
      turn_round(runs, i, end);
      i = MAX(i, end);
    }
}

static void
cut_up(HfItems *items, const FriBidiLevel *levels, const hb_script_t *scripts)
{
  g_autoptr(GArray) runs = g_array_new(FALSE, FALSE, sizeof(HfLevelled));
  for (guint i = 0, end; i < items->n; i = end) {
    for (end = i + 1; end < items->n && levels[end] == levels[i] && scripts[end] == scripts[i];)
      end++;
    guint start = items->offsets[i];
    HfLevelled run = {{start, items->offsets[end] - start, scripts[i], levels[i] % 2 == 1},
                      levels[i]};
    g_array_append_val(runs, run);
  }
  put_in_order(runs);
  for (guint i = 0; i < runs->len; i++)
    g_array_append_val(items->pieces, g_array_index(runs, HfLevelled, i).piece);
}

HfItems *
hf_itemise(const char *text, HfWay way)
{
  HfItems *items = g_new0(HfItems, 1);
  glong n = 0;
  items->characters = g_utf8_to_ucs4_fast(text, -1, &n);
  items->n = (guint)n;
  items->offsets = g_new(guint, items->n + 1);
  items->joined = g_new0(gboolean, items->n + 1);
  items->pieces = g_array_new(FALSE, FALSE, sizeof(HfPiece));
  const char *at = text;
  for (guint i = 0; i <= items->n; i++) {
    items->offsets[i] = (guint)(at - text);
    at = g_utf8_next_char(at);
  }
  if (n == 0)
    return items;
  g_autofree FriBidiCharType *types = g_new(FriBidiCharType, items->n);
  g_autofree FriBidiBracketType *brackets = g_new(FriBidiBracketType, items->n);
  g_autofree FriBidiLevel *levels = g_new0(FriBidiLevel, items->n);
  fribidi_get_bidi_types(items->characters, (FriBidiStrIndex)n, types);
  fribidi_get_bracket_types(items->characters, (FriBidiStrIndex)n, types, brackets);
  FriBidiParType base = base_of(way);
  /* 0 only when memory runs out, and then GLib has stopped us already. */
  FriBidiLevel top =
      fribidi_get_par_embedding_levels_ex(types, brackets, (FriBidiStrIndex)n, &base, levels);
  g_assert(top > 0);
  g_autofree hb_script_t *scripts = scripts_of(items);
  mark_joined(items, types, levels);
  cut_up(items, levels, scripts);
  return items;
}

void
hf_items_free(HfItems *items)
{
  if (items == NULL)
    return;
  g_free(items->characters);
  g_free(items->offsets);
  g_free(items->joined);
  g_array_unref(items->pieces);
  g_free(items);
}

guint
hf_items_at(const HfItems *items, guint offset)
{
  guint low = 0, high = items->n;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (items->offsets[middle] < offset)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}
