/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-crossed.c - a bar or a dot that somebody laid on a letter, and that reads as part of it.
 *
 *      | |              The middle line of a bar is walked where it comes by the letter: in its
 * ink,
 *   ===|l|===  passes   or free: there, and open at both of its sides. Ink with the free bar to
 * both | |              sides of it is crossed; a free bar between ink and ink bridges a counter.
 * The
 *     (===)   bridges   tables say what a letter reads like then. What is no letter is a caution: a
 *                       stroke that is half as wide or less is seen to be none.
 *
 * A small thing at the lower right of an O makes a Q of it, two dots above an o an ö (Unicode's
 * composition has the table; Unicode Standard, section 3.11). The bar that the words stand on by
 * the recipe is not asked, nor what is laid across 7 and z, which many write so. Letters that are
 * set together from strokes have a check of their own (reads-ties.c). Cost: O(letters * bars and
 * dots), and some hundred places for each pair that meets. The tables are common knowledge of
 * readers, no source.
 */
#include "base/text.h"
#include "hold/ink-private.h"
#include "recipe/kind.h"

#define STEPS    8    /* places along a stroke's width of the bar */
#define BESIDE   0.3  /* mm beside the bar it is open */
#define SHOWS    0.3  /* strokes: of a bar that passes, to each side */
#define BRIDGE   0.5  /* strokes: of one that bridges */
#define THICKEST 2.0  /* strokes: what is thicker covers, and is told as that */
#define HALF     0.5  /* of a stroke: from here on a bar can be one */
#define QUARTER  0.25 /* the same where it makes a letter: a caution */
#define SLOPE    0.36 /* rise over run of what is still level, 20 degrees */

typedef enum { PASSES = 1, BRIDGES = 2 } How;
typedef enum { LEVEL = 1, UPRIGHT = 2, SLANTED = 4 } Way;

/* `from`, `to`: where up the letter, as shares of its height. */
static const struct {
  const char *letter, *reads;
  How how;
  guint ways;
  double from, to;
} strokes[] = {{"l", "t", PASSES, LEVEL, 0.45, 0.95},
               {"i", "t", PASSES, LEVEL, 0.3, 0.8},
               {"ı", "t", PASSES, LEVEL, 0.3, 0.95},
               {"l", "ł", PASSES, SLANTED, 0.2, 0.9},
               {"L", "Ł", PASSES, LEVEL | SLANTED, 0.25, 0.8},
               {"D", "Đ", PASSES, LEVEL, 0.3, 0.7},
               {"d", "đ", PASSES, LEVEL, 0.7, 1},
               {"H", "Ħ", PASSES, LEVEL, 0.65, 0.95},
               {"h", "ħ", PASSES, LEVEL, 0.65, 0.95},
               {"T", "Ŧ", PASSES, LEVEL, 0.25, 0.7},
               {"C", "€", PASSES, LEVEL, 0.3, 0.7},
               {"c", "¢", PASSES, UPRIGHT, 0, 1},
               {"S", "$", PASSES, UPRIGHT, 0, 1},
               {"Y", "¥", PASSES, LEVEL, 0.1, 0.6},
               {"P", "₽", PASSES, LEVEL, 0.1, 0.45},
               {"Р", "₽", PASSES, LEVEL, 0.1, 0.45},
               {"Г", "Ғ", PASSES, LEVEL, 0.25, 0.75},
               {"O", "Θ", BRIDGES, LEVEL, 0.3, 0.7},
               {"0", "Θ", BRIDGES, LEVEL, 0.3, 0.7},
               {"Ο", "Θ", BRIDGES, LEVEL, 0.3, 0.7},
               {"О", "Ө", BRIDGES, LEVEL, 0.3, 0.7},
               {"o", "ө", BRIDGES, LEVEL, 0.3, 0.7},
               {"о", "ө", BRIDGES, LEVEL, 0.3, 0.7},
               {"ο", "θ", BRIDGES, LEVEL, 0.3, 0.7},
               {"O", "Ø", BRIDGES, SLANTED, 0.3, 0.7},
               {"o", "ø", BRIDGES, SLANTED, 0.3, 0.7},
               {"O", "Φ", BRIDGES, UPRIGHT, 0, 1},
               {"Ο", "Φ", BRIDGES, UPRIGHT, 0, 1},
               {"О", "Ф", BRIDGES, UPRIGHT, 0, 1},
               {"ο", "φ", BRIDGES, UPRIGHT, 0, 1},
               {"о", "ф", BRIDGES, UPRIGHT, 0, 1},
               {"Λ", "Α", BRIDGES, LEVEL, 0.15, 0.6},
               {"7", NULL, PASSES, LEVEL | SLANTED, 0, 1},
               {"Z", NULL, PASSES, LEVEL | SLANTED, 0, 1},
               {"z", NULL, PASSES, LEVEL | SLANTED, 0, 1}};

/* ---- the bar ----------------------------------------------------------------------------------
 */

/* A bar as it lies by one letter. */
typedef struct {
  HfPoint from, to, beside; /* its middle line; from there to just beyond its side */
  double width;
} Bar;

static gboolean
is_rectangle(const HfOutline *outline)
{
  if (hf_outline_n_contours(outline) != 1 || outline->curves->len != 4)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    if (g_array_index(outline->curves, HfCurve, i).kind != HF_CURVE_LINE)
      return FALSE;
  return TRUE;
}

static Bar
bar_of(const HfOutline *outline)
{
  HfPoint at[4];
  for (guint i = 0; i < 4; i++)
    at[i] = g_array_index(outline->curves, HfCurve, i).p0;
  guint k = hf_point_distance(at[0], at[1]) >= hf_point_distance(at[1], at[2]) ? 0 : 1;
  HfPoint across = hf_point_sub(at[(k + 2) % 4], at[k + 1]);
  double width = hf_point_length(across);
  return (Bar){hf_point_mix(at[k], at[(k + 3) % 4], 0.5),
               hf_point_mix(at[k + 1], at[(k + 2) % 4], 0.5),
               hf_point_scale(across, (width / 2 + BESIDE) / fmax(width, 1e-9)), width};
}

/* What the middle line comes by. */
typedef enum { NOTHING, INK, END, FREE, COVERED } State; /* END: ink on one side of the bar only */

static State
state_at(const HfInk *ink, const HfNear *near, const Bar *bar, HfPoint p)
{
  HfPoint a = hf_point_add(p, bar->beside), b = hf_point_sub(p, bar->beside);
  if (hf_region_contains(ink->drawn, p))
    return hf_region_contains(ink->drawn, a) && hf_region_contains(ink->drawn, b) ? INK : END;
  if (hf_near_contains(near, p) == ink->opening)
    return NOTHING;
  return hf_near_contains(near, a) == ink->opening && hf_near_contains(near, b) == ink->opening
             ? FREE
             : COVERED;
}

/* Of the ways in which it meets the ink, all that are there. Places where a slanted edge covers one
 * side are neither ink nor free. */
static guint
ways_met(const GArray *states, double step, double stroke)
{
  guint met = 0, free_now = 0, free_before = 0;
  gboolean ink = FALSE, through = FALSE;
  for (guint i = 0; i < states->len; i++) {
    State state = g_array_index(states, State, i);
    if (state == FREE) {
      free_now++;
      if (through && free_before * step >= SHOWS * stroke && free_now * step >= SHOWS * stroke)
        met |= PASSES;
    } else if (state == INK || state == END) {
      if (ink && free_now * step >= BRIDGE * stroke)
        met |= BRIDGES;
      if (free_now > 0 || !ink) {
        free_before = free_now;
        through = FALSE;
      }
      free_now = 0;
      ink = TRUE;
      through = through || state == INK;
    } else if (state == NOTHING) {
      free_now = 0;
      ink = through = FALSE;
    }
  }
  return met;
}

static guint
walk(const HfInk *ink, const HfNear *near, const Bar *bar, double stroke)
{
  g_autoptr(GArray) states = g_array_new(FALSE, FALSE, sizeof(State));
  double length = hf_point_distance(bar->from, bar->to), step = stroke / STEPS;
  for (double at = step / 2; at < length; at += step) {
    HfPoint p = hf_point_mix(bar->from, bar->to, at / length);
    State state = NOTHING;
    if (hf_box_contains(near->box, hf_point_add(p, bar->beside)) &&
        hf_box_contains(near->box, hf_point_sub(p, bar->beside)))
      state = state_at(ink, near, bar, p);
    g_array_append_val(states, state);
  }
  return ways_met(states, step, stroke);
}

/* ---- the letter's own frame -------------------------------------------------------------------
 */

static HfBox
box_in_em(const HfRegion *ink, HfMatrix em)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint r = 0; r < ink->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(ink, r)->n; v++)
      box = hf_box_add_point(box, hf_matrix_undo(em, hf_grid_point(hf_region_ring(ink, r)->at[v])));
  return box;
}

static Way
way_of(const Bar *bar, HfMatrix em)
{
  HfPoint along = hf_point_sub(hf_matrix_undo(em, bar->to), hf_matrix_undo(em, bar->from));
  if (fabs(along.y) < SLOPE * fabs(along.x))
    return LEVEL;
  return fabs(along.x) < SLOPE * fabs(along.y) ? UPRIGHT : SLANTED;
}

static double
share_up(const HfInk *ink, HfMatrix em, HfPoint p)
{
  HfBox box = box_in_em(ink->drawn, em);
  return (hf_matrix_undo(em, p).y - box.min.y) / fmax(hf_box_height(box), 1e-9);
}

/* ---- bars -------------------------------------------------------------------------------------
 */

/* Where the bar comes nearest to the middle of the letter. */
static HfPoint
place_of(const HfInk *ink, const Bar *bar)
{
  return hf_segment_nearest(bar->from, bar->to, hf_box_centre(hf_region_box(ink->drawn)), NULL);
}

static const char *
word_for(const HfCheck *check, guint shape)
{
  return hf_entry_word(hf_recipe_at(check->recipe, hf_layout_shape(check->layout, shape)->entry));
}

static HfFinding *
add(HfCheck *check, const HfInk *ink, guint other, double share, HfPoint at)
{
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, share, at);
  if (finding == NULL)
    return NULL;
  hf_finding_name(check, finding, ink->shape);
  hf_finding_name(check, finding, other);
  hf_finding_form(finding, "crossed");
  hf_finding_fix(finding, "lay it where no stroke can be meant, or take it half as wide");
  return finding;
}

static void
report_bar(HfCheck *check, const HfInk *ink, guint other, const Bar *bar, double stroke,
           const char *letter, const char *reads)
{
  double at_most = check->hold->limits[HF_LAW_CHANGED_LETTER].stop, share = bar->width / stroke;
  double left = fmax(100 * (1 - share), at_most); /* merely crossed */
  if (reads != NULL)
    left = share >= HALF ? 0 : share >= QUARTER ? at_most : 100;
  HfFinding *finding = add(check, ink, other, left, place_of(ink, bar));
  if (finding == NULL)
    return;
  g_autofree char *wide = hf_text_mm(bar->width), *strokes_are = hf_text_mm(stroke);
  const char *word = word_for(check, other);
  if (reads != NULL)
    hf_finding_say(finding,
                   "it may read %s where %s was ordered: a %s of %s lies across it, and its "
                   "strokes are %s wide",
                   reads, letter, word, wide, strokes_are);
  else
    hf_finding_say(finding, "a %s of %s lies across it, and its strokes are %s wide", word, wide,
                   strokes_are);
}

static void
check_bar(HfCheck *check, const HfInk *ink, guint other, const char *letter)
{
  const HfShape *own = hf_layout_shape(check->layout, ink->shape);
  Bar bar = bar_of(hf_layout_shape(check->layout, other)->outline);
  double stroke = ink->rings[ink->body].width;
  if (bar.width < QUARTER * stroke || bar.width > THICKEST * stroke)
    return;
  HfBox box = hf_box_grow(hf_region_box(ink->drawn), stroke + bar.width / 2 + 2 * BESIDE);
  g_autoptr(HfNear) near = hf_near_new(check->metal->region, check->index, box);
  guint met = walk(ink, near, &bar, stroke);
  if (met == 0)
    return;
  Way way = way_of(&bar, own->em);
  double up = share_up(ink, own->em, place_of(ink, &bar));
  for (guint i = 0; i < G_N_ELEMENTS(strokes); i++) {
    if (!g_str_equal(strokes[i].letter, letter) || (met & strokes[i].how) == 0 ||
        (way & strokes[i].ways) == 0 || up < strokes[i].from || up > strokes[i].to)
      continue;
    if (strokes[i].reads != NULL)
      report_bar(check, ink, other, &bar, stroke, letter, strokes[i].reads);
    return;
  }
  if ((met & PASSES) != 0)
    report_bar(check, ink, other, &bar, stroke, letter, NULL);
}

/* ---- the check --------------------------------------------------------------------------------
 */

static const char *
stands_on(const HfEntry *entry)
{
  return entry->kind == HF_ENTRY_WORDS ? entry->words.stand_on : NULL;
}

static gboolean
is_laid(const HfCheck *check, const HfShape *shape)
{
  HfEntryKind kind = hf_recipe_at(check->recipe, shape->entry)->kind;
  return shape->letter < 0 && shape->mends == 0 &&
         (kind == HF_ENTRY_BAR || kind == HF_ENTRY_TIE || kind == HF_ENTRY_PLATE) &&
         is_rectangle(shape->outline);
}

static void
check_letter(HfCheck *check, guint s, const GArray *laid)
{
  const HfShape *own = hf_layout_shape(check->layout, s);
  HfBox box = hf_outline_box(own->outline);
  g_autoptr(HfInk) ink = NULL;
  g_autofree char *letter = hf_reads_letter(own);
  const HfEntry *entry = hf_recipe_at(check->recipe, own->entry);
  for (guint i = 0; i < laid->len; i++) {
    guint t = g_array_index(laid, guint, i);
    const HfShape *shape = hf_layout_shape(check->layout, t);
    const char *name = hf_recipe_at(check->recipe, shape->entry)->name;
    if (shape->opening != own->opening || !hf_box_overlaps(box, hf_outline_box(shape->outline)) ||
        (stands_on(entry) != NULL && g_strcmp0(stands_on(entry), name) == 0))
      continue;
    if (ink == NULL)
      ink = hf_ink_new(check, s);
    if (ink != NULL)
      check_bar(check, ink, t, letter);
  }
}

void
hf_reads_check_crossed(HfCheck *check)
{
  guint n = check->layout->shapes->len;
  g_autoptr(GArray) laid = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint t = 0; t < n; t++)
    if (is_laid(check, hf_layout_shape(check->layout, t)))
      g_array_append_val(laid, t);
  for (guint s = 0; laid->len > 0 && s < n; s++) {
    const HfShape *shape = hf_layout_shape(check->layout, s);
    if (hf_reads_is_of_words(check, shape) && !hf_reads_is_built_of_strokes(shape))
      check_letter(check, s, laid);
  }
}
