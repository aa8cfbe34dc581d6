/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-size.c - letters larger, up to what their face needs to be cut; or smaller, where they do
 * not fit on the metal.
 */
#include "cure/propose-private.h"
#include "hold/hold.h"
#include <string.h>

#define MOST_LETTERS 6
#define COARSE       0.05 /* mm, of their chords: this is only how far to look */
#define MOST_TIMES   4.0  /* larger than this the sign is another one */
#define LEAST_TIMES  0.5
#define TENTH        0.1  /* of the size: a coarse step */
#define TO_SPAN      1.5  /* studs that do not span the centre of mass: a guess, no source */
#define MARGIN       1.15 /* beyond what one letter alone needs: other letters, joints, ties */

/* ---- how much larger ---------------------------------------------------------------------------
 */

/* Of a piece without room for its studs, whose rule is the last entry that it names. */
static double
wanted_for_stud(const HfProposing *asked, const HfFinding *finding)
{
  guint rule = g_array_index(finding->entries, guint, finding->entries->len - 1);
  const HfStudsEntry *studs = &hf_proposing_entry(asked, rule)->studs;
  if (finding->kind == HF_LAW_STUDS_OUTSIDE)
    return TO_SPAN;
  return (studs->diameter / 2 + studs->edge) / fmax(finding->measured / 2 + studs->edge, 0.1);
}

/* What a finding asks for, if all grows alike; 1 when it does not say. */
static double
wanted_by(const HfProposing *asked, const HfFinding *finding)
{
  const HfLaw *law = hf_law(finding->kind);
  if (finding->kind == HF_LAW_NO_STUD || finding->kind == HF_LAW_STUDS_OUTSIDE)
    return wanted_for_stud(asked, finding);
  if (isnan(finding->limit) || !(finding->measured > 0))
    return 1;
  if (finding->kind == HF_LAW_LOST_DETAIL) /* an area of corners that stays, of one that grows */
    return sqrt(finding->measured / finding->limit);
  if (strcmp(law->unit, "mm") != 0 || !law->at_least)
    return 1;
  return finding->limit / finding->measured;
}

static double
wanted_by_all(const HfProposing *asked, const GArray *aims)
{
  double most = 1;
  for (guint i = 0; i < aims->len; i++)
    most = fmax(most, wanted_by(asked, hf_proposing_finding(asked, g_array_index(aims, guint, i))));
  return most;
}

static gboolean
is_named(const HfProposing *asked, const GArray *aims, const char *label)
{
  for (guint i = 0; i < aims->len; i++) {
    const GPtrArray *names = hf_proposing_finding(asked, g_array_index(aims, guint, i))->names;
    for (guint k = 0; k < names->len; k++)
      if (strcmp(names->pdata[k], label) == 0)
        return TRUE;
  }
  return FALSE;
}

/* What the letters that @aims name need by themselves, each character once: the smallest size of
 * the face for them. */
static double
needed_by_face(const HfProposing *asked, guint entry, const GArray *aims)
{
  const HfSign *sign = asked->sign;
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  double most = 1;
  for (guint i = 0; i < sign->layout->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(sign->layout, i);
    const char *letter = shape->label != NULL ? strstr(shape->label, "letter '") : NULL;
    if (shape->entry != entry || shape->letter < 0 || shape->copy > 0 || letter == NULL ||
        g_hash_table_size(seen) >= MOST_LETTERS || !is_named(asked, aims, shape->label) ||
        !g_hash_table_add(seen, (char *)letter))
      continue;
    g_autoptr(HfRegion) raw = hf_region_new();
    hf_region_flatten(raw, shape->outline, 0, COARSE);
    g_autoptr(HfRegion) region = hf_region_clean(raw);
    HfSmallest smallest =
        hf_hold_smallest(region, shape->opening, &sign->hold->process, sign->shop, most);
    if (!isinf(smallest.scale))
      most = fmax(most, smallest.scale);
  }
  return most;
}

/* Of what hangs in the air: so much larger that it reaches. */
static double
wanted_to_reach(HfProposing *asked, guint entry, double height)
{
  const GArray *pieces = hf_proposing_pieces(asked);
  double most = 0;
  for (guint i = 0; i < pieces->len; i++) {
    const HfAdrift *piece = &g_array_index(pieces, HfAdrift, i);
    if (hf_layout_shape(asked->sign->layout, piece->shape)->entry == entry)
      most = fmax(most, piece->gap);
  }
  return 1 + 2 * most / height;
}

static gboolean
is_about_widths(HfLawKind kind)
{
  return kind == HF_LAW_THIN_WEB || kind == HF_LAW_THIN_LONG_WEB || kind == HF_LAW_SMALL_OPENING ||
         kind == HF_LAW_NARROW_GAP;
}

static double
times_larger(HfProposing *asked, guint entry, const GArray *aims, double height)
{
  double most = fmax(wanted_by_all(asked, aims), wanted_to_reach(asked, entry, height));
  for (guint i = 0; i < aims->len; i++)
    if (is_about_widths(hf_proposing_finding(asked, g_array_index(aims, guint, i))->kind))
      return fmin(fmax(most, needed_by_face(asked, entry, aims)) * MARGIN, MOST_TIMES);
  return fmin(most * MARGIN, MOST_TIMES);
}

/* ---- letters ------------------------------------------------------------------------------------
 */

/* The key that says the size of the letters; %NULL: a solver works it out. */
static const char *
size_key(const HfFontWish *font)
{
  if (font == NULL)
    return NULL;
  return !isnan(font->height) ? "height" : !isnan(font->size) ? "font size" : NULL;
}

static double
step_for(double size)
{
  return size < 60 ? 0.5 : size < 300 ? 1 : 5;
}

/* All of @kin, of which the first stands for them. */
static void
turn_all(const HfProposing *asked, HfProposal *proposal, const GArray *kin, const char *key)
{
  for (guint i = 0; i < kin->len; i++)
    hf_propose_turn(asked, proposal, g_array_index(kin, guint, i), key);
}

/* "make the letters of name and yard smaller: " */
static HfPhrase
resized(const HfProposing *asked, const GArray *kin, const char *how, const char *after)
{
  const HfEntry *first = hf_proposing_entry(asked, g_array_index(kin, guint, 0));
  g_autofree char *called = hf_proposing_kin_called(asked, kin);
  gboolean words = first->kind == HF_ENTRY_WORDS;
  return hf_phrase_turns(hf_phrase("make %s%s %s: ", words ? "the letters of " : "", called, how),
                         words ? " letters become " : " become ", after);
}

static void
enlarge(HfProposing *asked, const GArray *kin)
{
  guint first = g_array_index(kin, guint, 0);
  const HfEntry *e = hf_proposing_entry(asked, first);
  const HfFontWish *font = hf_proposing_font(e);
  const char *key = size_key(font);
  g_autoptr(GArray) aims = hf_proposing_kin_aims(asked, kin);
  double height = hf_proposing_height(asked, first), times = 1;
  if (key == NULL || aims->len == 0 || !(height > 0))
    return;
  for (guint i = 0; i < kin->len; i++)
    times = fmax(times, times_larger(asked, g_array_index(kin, guint, i), aims, height));
  double size = strcmp(key, "height") == 0 ? font->height : font->size, step = step_for(size);
  double most = fmax(size * times, size + 2 * step);
  HfProposal *proposal = hf_propose(asked, g_array_ref(aims), resized(asked, kin, "larger", ""));
  hf_propose_knob(proposal, e, key, size, size + step, most, step);
  turn_all(asked, proposal, kin, key);
}

HfProposal *
hf_propose_letters(HfProposing *asked, const GArray *kin, GArray *aims, double least, double most,
                   const char *after)
{
  const HfEntry *e = hf_proposing_entry(asked, g_array_index(kin, guint, 0));
  const HfFontWish *font = hf_proposing_font(e);
  const char *key = size_key(font);
  if (key == NULL)
    g_array_set_size(aims, 0);
  HfProposal *proposal = hf_propose(asked, aims, resized(asked, kin, "larger", after));
  if (proposal == NULL)
    return NULL;
  double size = strcmp(key, "height") == 0 ? font->height : font->size, step = step_for(size);
  step *= ceil(TENTH * size / step);
  hf_propose_knob(proposal, e, key, size, step * ceil(least * size / step), most * size, step);
  turn_all(asked, proposal, kin, key);
  return proposal;
}

void
hf_proposing_each_kin(HfProposing *asked, void (*propose)(HfProposing *asked, const GArray *kin))
{
  for (guint i = 0; i < hf_proposing_n(asked); i++) {
    g_autoptr(GArray) kin = hf_proposing_kin(asked, i);
    if (g_array_index(kin, guint, 0) == i)
      propose(asked, kin);
  }
}

static void
propose_larger(HfProposing *asked)
{
  hf_proposing_each_kin(asked, enlarge);
}

const HfFamily hf_family_larger = {
    .key = "larger", .guards = HF_GUARDS_USUAL, .propose = propose_larger};

static gboolean
is_among(const GArray *kin, guint entry)
{
  for (guint i = 0; i < kin->len; i++)
    if (g_array_index(kin, guint, i) == entry)
      return TRUE;
  return FALSE;
}

static gboolean
is_beside(const HfEntry *e, const HfEntry *other)
{
  return g_strcmp0(e->place.left_of, other->name) == 0 ||
         g_strcmp0(e->place.right_of, other->name) == 0;
}

/* Some words of a row that is cut through, and not the others: crippled. See propose-middle.c. */
static gboolean
leaves_a_row(const HfProposing *asked, const GArray *kin)
{
  for (guint i = 0; i < kin->len; i++)
    for (guint k = 0; k < hf_proposing_n(asked); k++) {
      const HfEntry *e = hf_proposing_entry(asked, g_array_index(kin, guint, i));
      const HfEntry *other = hf_proposing_entry(asked, k);
      if (!is_among(kin, k) && e->as == HF_AS_OPENING && other->as == HF_AS_OPENING &&
          other->kind == HF_ENTRY_WORDS && (is_beside(e, other) || is_beside(other, e)))
        return TRUE;
    }
  return FALSE;
}

static void
reduce(HfProposing *asked, const GArray *kin)
{
  const HfEntry *e = hf_proposing_entry(asked, g_array_index(kin, guint, 0));
  const HfFontWish *font = hf_proposing_font(e);
  const char *key = size_key(font);
  if (key == NULL || leaves_a_row(asked, kin))
    return;
  double size = strcmp(key, "height") == 0 ? font->height : font->size, step = step_for(size);
  HfProposal *proposal =
      hf_propose(asked, hf_proposing_kin_aims(asked, kin),
                 resized(asked, kin, "smaller", ", so that they fit on the metal"));
  if (proposal == NULL)
    return;
  hf_propose_knob(proposal, e, key, size, size - step, size * LEAST_TIMES, step);
  turn_all(asked, proposal, kin, key);
}

static void
propose_smaller(HfProposing *asked)
{
  hf_proposing_each_kin(asked, reduce);
}

const HfFamily hf_family_smaller = {
    .key = "smaller", .guards = HF_GUARDS_USUAL, .seen = 2, .propose = propose_smaller};
