/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-ties.c - ties for what is loose, two where one is not enough; and, last of all, to let
 * it stand alone.
 */
#include "base/text.h"
#include "cure/propose-private.h"
#include "geom/index.h"
#include "recipe/kind.h"
#include "tie/tie.h"
#include <string.h>

/* ---- ties -------------------------------------------------------------------------------------
 */

gint
hf_proposing_rule(const HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_TIES)
      return (gint)i;
  return -1;
}

gboolean
hf_proposing_has_dots(const HfShape *letter)
{
  g_autoptr(HfRegion) chords = hf_region_of_outline(letter->outline, 0, HF_FLATTEN_MM);
  guint pieces = 0;
  for (guint r = 0; r < chords->rings->len; r++)
    pieces += hf_region_ring(chords, r)->parent < 0;
  return pieces > 1;
}

/* Standing letters that a wide tie spoils: it hides a dot, or reads as one stroke more. */
static gboolean
has_fine_letters(const HfProposing *asked)
{
  const HfLayout *layout = asked->sign->layout;
  for (guint i = 0; i < layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(layout, i);
    if (shape->letter >= 0 && !shape->opening &&
        (hf_strokes_is(shape) || hf_proposing_has_dots(shape)))
      return TRUE;
  }
  return FALSE;
}

static double
least_width(const HfProposing *asked)
{
  return ceil(10 * asked->sign->hold->limits[HF_LAW_THIN_LONG_WEB].stop - 1e-6) / 10;
}

void
hf_propose_ties(HfProposal *proposal)
{
  hf_propose_append(proposal, hf_node_new_entry("ties", hf_node_new_empty_table()));
}

void
hf_propose_slim_ties(const HfProposing *asked, HfProposal *proposal)
{
  HfNode *width = has_fine_letters(asked) ? hf_say_mm(NULL, "width", least_width(asked)) : NULL;
  hf_propose_append(proposal, hf_node_new_entry("ties", hf_table({"width", width})));
}

/* What holds by nothing, and what the rule could not hold. */
static GArray *
aims_at_loose(const HfProposing *asked)
{
  GArray *aims = hf_proposing_aims(asked, -1);
  for (guint i = aims->len; i-- > 0;) {
    HfLawKind kind = hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind;
    if (hf_law(kind)->trouble != HF_TROUBLE_HELD && kind != HF_LAW_UNTIED)
      g_array_remove_index(aims, i);
  }
  return aims;
}

/* What the user asked of the rule and that may be in its way. */
static void
free_the_rule(HfProposing *asked, guint entry)
{
  const HfTiesEntry *ties = &hf_proposing_entry(asked, entry)->ties;
  const struct {
    const char *key;
    gboolean given;
  } wishes[] = {{"of", ties->of != NULL && ties->of->len > 0},
                {"direction", ties->direction != HF_TIE_ANY && ties->direction != HF_TIE_USUAL},
                {"width", !isnan(ties->width)},
                {"count", ties->count > 0},
                {"keep free", ties->keep_free != NULL && ties->keep_free->len > 0},
                {"not on", ties->not_on != NULL && ties->not_on->len > 0}};
  HfProposal *proposal = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS(wishes); i++) {
    if (!wishes[i].given)
      continue;
    if (proposal == NULL)
      proposal = hf_propose(asked, aims_at_loose(asked),
                            hf_phrase("let ties run wherever they can, on every entry"));
    if (proposal == NULL)
      return;
    hf_propose_take_out(asked, proposal, entry, wishes[i].key);
  }
}

/* A narrower tie fits where the usual one does not; never under the limit of the web that it is. */
static void
narrower_ties(HfProposing *asked, guint entry)
{
  HfLimit limit = asked->sign->hold->limits[HF_LAW_THIN_LONG_WEB];
  double now = hf_proposing_entry(asked, entry)->ties.width, usual = HF_OVER_LIMIT * limit.stop;
  double from = isnan(now) ? usual : now;
  if (!(from > limit.stop + 0.05))
    return;
  HfProposal *proposal = hf_propose(asked, aims_at_loose(asked),
                                    hf_phrase_knob(hf_phrase("make the ties "), " narrower"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, hf_proposing_entry(asked, entry), "width", from, from - 0.1, limit.stop,
                  0.1);
  hf_propose_turn(asked, proposal, entry, "width");
}

static gboolean
has_openings_in_words(const HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (hf_proposing_entry(asked, i)->kind == HF_ENTRY_WORDS &&
        hf_proposing_entry(asked, i)->as == HF_AS_OPENING)
      return TRUE;
  return FALSE;
}

static void
new_rule(HfProposing *asked)
{
  HfProposal *plain = hf_propose(asked, aims_at_loose(asked), hf_phrase("tie all that is loose"));
  if (plain == NULL)
    return;
  hf_propose_ties(plain);
  if (!has_openings_in_words(asked))
    return;
  HfProposal *upright = hf_propose(asked, aims_at_loose(asked),
                                   hf_phrase("tie all that is loose, with upright ties"));
  hf_propose_append(
      upright, hf_node_new_entry("ties", hf_table({"direction", hf_node_new_word("upright")})));
}

/* ---- a tie that was placed by hand -------------------------------------------------------------
 */

/* The pin goes, and a rule finds its own place on the same letter. */
static void
rule_for_pin(HfProposing *asked, guint entry, GArray *aims, int count)
{
  const char *of = hf_proposing_entry(asked, entry)->tie.letter;
  HfPhrase phrase = count > 1 ? hf_phrase("give %s two ties, wherever they fit", of)
                              : hf_phrase("let the tie of %s find its own place", of);
  HfProposal *proposal = hf_propose(asked, aims, phrase);
  if (proposal == NULL)
    return;
  HfNode *rule = hf_table({"of", hf_say_names(&of, 1)},
                          {"count", count > 1 ? hf_node_new_number(count, 0, 0, "") : NULL});
  hf_propose_append(proposal, hf_node_new_entry("ties", rule));
  hf_propose_take_out_entry(proposal, entry);
}

/* The pin names a letter that is not there any more: no rule could find it either. */
static gboolean
pin_names_something(const HfProposing *asked, guint entry)
{
  const char *of = hf_proposing_entry(asked, entry)->tie.letter;
  g_autoptr(GArray) meant = hf_layout_meant(asked->sign->recipe, asked->sign->layout, of);
  return meant->len > 0;
}

static void
drop_pin(HfProposing *asked, guint entry, GArray *aims)
{
  HfProposal *proposal =
      hf_propose(asked, aims,
                 hf_phrase("take out the tie %s, and tie all that is loose",
                           hf_proposing_called(asked, hf_proposing_entry(asked, entry))));
  if (proposal == NULL)
    return;
  hf_propose_ties(proposal);
  hf_propose_take_out_entry(proposal, entry);
}

static void
second_tie(HfProposing *asked, guint entry)
{
  GArray *aims = hf_proposing_aims_of(asked, (gint)entry, HF_LAW_ONE_TIE);
  const HfEntry *e = hf_proposing_entry(asked, entry);
  if (e->kind == HF_ENTRY_TIE && pin_names_something(asked, entry)) {
    rule_for_pin(asked, entry, aims, 2);
    return;
  }
  if (e->kind != HF_ENTRY_TIES || e->ties.count > 1) {
    g_array_unref(aims);
    return;
  }
  HfProposal *proposal = hf_propose(asked, aims, hf_phrase("hold every part by at least two ties"));
  if (proposal != NULL)
    hf_propose_set(asked, proposal, entry, "count", hf_node_new_number(2, 0, 0, ""));
}

static void
replace_missed_pins(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    if (hf_proposing_entry(asked, i)->kind != HF_ENTRY_TIE)
      continue;
    GArray *aims = hf_proposing_aims_of(asked, (gint)i, HF_LAW_PIN_MISSED);
    if (pin_names_something(asked, i))
      rule_for_pin(asked, i, aims, 1);
    else
      drop_pin(asked, i, aims);
  }
}

/* ---- a strip that bows -------------------------------------------------------------------------
 */

#define WAYS 24

/* The nearest metal across the gap beside the strip: a pin goes there. */
static void
brace(HfProposing *asked, guint aim)
{
  const HfFinding *finding = hf_proposing_finding(asked, aim);
  if (finding->entries->len == 0)
    return;
  guint entry = g_array_index(finding->entries, guint, 0);
  const HfEntry *e = hf_proposing_entry(asked, entry);
  double least = 0.7 * hf_box_height(asked->sign->hold->box), best = NAN;
  HfPoint in_gap = finding->at;
  for (guint i = 0; i < WAYS; i++) {
    double angle = 2 * G_PI * i / WAYS;
    HfPoint way = {cos(angle), sin(angle)};
    HfRay ray;
    if (hf_proposing_ray(asked, finding->at, way, &ray) && ray.gap < least) {
      least = ray.gap;
      best = angle;
      in_gap = hf_point_add(finding->at, hf_point_scale(way, ray.leaves + ray.gap / 2));
    }
  }
  if (isnan(best) || hf_proposing_font(e) != NULL || hf_entry_is(e, HF_KINDS_LAST) ||
      (e->place.at != NULL && e->place.at->len > 1))
    return;
  GArray *aims = g_array_new(FALSE, FALSE, sizeof(guint));
  g_array_append_val(aims, aim);
  HfProposal *proposal = hf_propose(
      asked, aims,
      hf_phrase("tie %s half way along its free length, from there %s",
                hf_proposing_called(asked, e), hf_say_way(hf_point(cos(best), sin(best)))));
  HfPoint centre = hf_box_centre(hf_proposing_box(asked, entry, -1));
  HfNode *em = hf_node_new_list(hf_node_new_number(in_gap.x - centre.x, 0, 2, ""),
                                hf_node_new_number(in_gap.y - centre.y, 0, 2, ""), NULL);
  HfNode *tie =
      hf_table({"of", hf_node_new_text(e->name)}, {"em", em}, {"direction", hf_say_angle(best, 1)});
  hf_propose_append(proposal, hf_node_new_entry("tie", tie));
}

static void
propose_ties(HfProposing *asked)
{
  g_autoptr(GArray) bowing = hf_proposing_aims_of(asked, -1, HF_LAW_BOWING_STRIP);
  for (guint i = 0; i < bowing->len; i++)
    brace(asked, g_array_index(bowing, guint, i));
  gint rule = hf_proposing_rule(asked);
  if (rule < 0) {
    new_rule(asked);
  } else {
    free_the_rule(asked, (guint)rule);
    narrower_ties(asked, (guint)rule);
  }
  replace_missed_pins(asked);
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    second_tie(asked, i);
}

const HfFamily hf_family_ties = {
    .key = "ties", .is_rule = TRUE, .guards = HF_GUARDS_USUAL, .propose = propose_ties};

/* ---- slim -------------------------------------------------------------------------------------
 */

/* No wider than they must be, where the usual ones spoil a letter: a second choice, as a web at its
 * limit is a caution. */
static void
propose_slim(HfProposing *asked)
{
  if (hf_proposing_rule(asked) >= 0 || !has_fine_letters(asked))
    return;
  g_autofree char *width = hf_text_mm(least_width(asked));
  HfProposal *slim = hf_propose(asked, aims_at_loose(asked),
                                hf_phrase("tie all that is loose, with ties of %s", width));
  if (slim != NULL)
    hf_propose_slim_ties(asked, slim);
}

const HfFamily hf_family_slim = {
    .key = "slim", .is_rule = TRUE, .guards = HF_GUARDS_USUAL, .seen = 2, .propose = propose_slim};

/* ---- lowered -----------------------------------------------------------------------------------
 */

/* Is a dot or mark of a standing letter loose? */
static gboolean
has_loose_dots(HfProposing *asked)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  for (guint i = 0; i < pieces->len; i++) {
    guint s = g_array_index(pieces, HfAdrift, i).shape;
    const HfShape *shape = hf_layout_shape(asked->sign->layout, s);
    if (shape->letter >= 0 && !shape->opening && hf_proposing_has_dots(shape))
      return TRUE;
  }
  return FALSE;
}

/* Dots moved into their letter, where a tie would hide too much of it: a third choice, as they
 * stand elsewhere then than their face has them. */
static void
propose_lowered(HfProposing *asked)
{
  if (hf_proposing_rule(asked) >= 0 || !has_loose_dots(asked))
    return;
  HfProposal *lowered =
      hf_propose(asked, aims_at_loose(asked),
                 hf_phrase("lower the dots into their letters, and tie all else that is loose"));
  if (lowered != NULL)
    hf_propose_append(lowered,
                      hf_node_new_entry("ties", hf_table({"dots", hf_node_new_word("lowered")})));
}

const HfFamily hf_family_lowered = {.key = "lowered",
                                    .is_rule = TRUE,
                                    .guards = HF_GUARDS_USUAL,
                                    .seen = 3,
                                    .propose = propose_lowered};

/* ---- alone -------------------------------------------------------------------------------------
 */

/* Whole letters and entries of metal may; what a cut goes round is nobody's. */
static guint
pieces_of(HfProposing *asked, guint entry)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  guint n = 0;
  for (guint i = 0; i < pieces->len; i++) {
    const HfShape *shape =
        hf_layout_shape(asked->sign->layout, g_array_index(pieces, HfAdrift, i).shape);
    n += shape->entry == entry && !shape->opening;
  }
  return n;
}

static gboolean
is_named_alone(const HfRecipe *recipe, const char *name)
{
  for (guint i = 0; recipe->alone != NULL && i < recipe->alone->len; i++)
    if (strcmp(recipe->alone->pdata[i], name) == 0)
      return TRUE;
  return FALSE;
}

static HfNode *
with_name(const HfRecipe *recipe, const char *name)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  for (guint i = 0; recipe->alone != NULL && i < recipe->alone->len; i++)
    g_ptr_array_add(names, recipe->alone->pdata[i]);
  g_ptr_array_add(names, (char *)name);
  return hf_say_names((const char *const *)names->pdata, names->len);
}

/* Its whole letters are named already: then it is about their dots and accents. */
static void
stand_alone(HfProposing *asked, guint entry, guint pieces)
{
  const HfRecipe *recipe = asked->sign->recipe;
  const HfEntry *e = hf_proposing_entry(asked, entry);
  gboolean dots = is_named_alone(recipe, e->name);
  g_autofree char *name = g_strconcat(dots ? "dots of " : "", e->name, NULL);
  if (is_named_alone(recipe, name))
    return;
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_aims(asked, (gint)entry),
                 hf_phrase("let %s%s stand alone: %u loose piece%s the table, and you must fix "
                           "each by itself, by studs, welds or a backing",
                           dots ? "the dots of " : "", hf_proposing_called(asked, e), pieces,
                           pieces == 1 ? " comes off" : "s come off"));
  if (proposal != NULL)
    hf_edits_add(proposal->edits, HF_EDIT_SET, hf_path(HF_KEY("alone")), with_name(recipe, name));
}

static void
propose_alone(HfProposing *asked)
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    guint n = pieces_of(asked, i);
    if (n > 0)
      stand_alone(asked, i, n);
  }
}

const HfFamily hf_family_alone = {.key = "alone", .propose = propose_alone};
