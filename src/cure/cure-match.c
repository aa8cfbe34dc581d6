/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-match.c - which findings of one sign are gone in another.
 *
 * Two runs of two recipes: entries may have been added, parts are numbered anew, places move along
 * with what they lie on, the worst of several alike cases may be another one. So a finding has no
 * number that would survive; what it has is a law, a form, the entry it is put to, and places.
 *
 *   before:  loose "words" 3 places    narrow gap "words" 1      after:  loose "words" 1 place
 *            not gone: one is left     gone: nothing of its kind is left
 *
 * Laws that may be two names of one trouble form a family, said in their rows: what is a thin web
 * now can be a weak joint after a letter has moved. A finding F is gone exactly when of its family,
 * as grave as F or graver, there is after the change
 *   1  none of F's own law, form and entry, and
 *   2  none but such as were there before by law, form and entry, in no more places than then, and
 *   3  none at a place near one of F's, unless its own finding of before had a place as near.
 * By 1 nothing is said to be gone of which a part is left; by 2 nothing is said to be gone because
 * it is now put to another entry or takes another form; by 3 not even when that entry had such a
 * finding of its own. All three err on the side of "still there".
 */
#include "cure/search-private.h"
#include "geom/index.h"

static const double NEAR = 5;      /* mm */
static const double COARSE = 0.1;  /* mm: lengths are compared, not drawn */
static const double CROWDED = 0.7; /* of a letter's outline shows less */
static const double PUSHED = 0.1;  /* of its outline, at least, went */

/* May a finding of the one be what is left of the other? Their rows say so. */
static gboolean
of_one_trouble(HfLawKind a, HfLawKind b)
{
  return a == b ||
         (hf_law(a)->trouble != HF_TROUBLE_OWN && hf_law(a)->trouble == hf_law(b)->trouble);
}

/* The entry that it is put to, by its name: entries may have been added before it. */
static const char *
entry_of(const HfSign *sign, const HfFinding *finding)
{
  if (finding->entries->len == 0)
    return NULL;
  guint entry = g_array_index(finding->entries, guint, 0);
  return hf_recipe_at(sign->recipe, entry)->name;
}

static gboolean
same_key(const HfSign *before, const HfFinding *f, const HfSign *after, const HfFinding *g)
{
  return f->kind == g->kind && g_strcmp0(f->form, g->form) == 0 &&
         g_strcmp0(entry_of(before, f), entry_of(after, g)) == 0;
}

static double
nearest_place(const HfFinding *finding, HfPoint p)
{
  double nearest = INFINITY;
  for (guint i = 0; i < finding->places->len; i++)
    nearest = fmin(nearest, hf_point_distance(g_array_index(finding->places, HfPoint, i), p));
  return nearest;
}

/* The finding of before that @left was, as far as key and gravity tell; %NULL: there is none. */
static const HfFinding *
what_it_was(const HfSign *before, const HfSign *after, const HfFinding *left, HfGravity at_least)
{
  for (guint i = 0; i < before->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(before, i);
    if (finding->gravity >= at_least && same_key(before, finding, after, left))
      return finding;
  }
  return NULL;
}

/* Could @left, found after, be @f of before? */
static gboolean
could_be(const HfSign *before, const HfFinding *f, const HfSign *after, const HfFinding *left)
{
  if (!of_one_trouble(left->kind, f->kind) || left->gravity < f->gravity)
    return FALSE;
  const HfFinding *was = what_it_was(before, after, left, f->gravity);
  if (was == NULL || was == f || left->places->len > was->places->len)
    return TRUE;
  for (guint i = 0; i < left->places->len; i++) {
    HfPoint p = g_array_index(left->places, HfPoint, i);
    double here = nearest_place(f, p);
    if (here <= NEAR && here < nearest_place(was, p))
      return TRUE;
  }
  return FALSE;
}

static gboolean
is_gone(const HfSign *before, const HfFinding *f, const HfSign *after)
{
  for (guint i = 0; i < after->hold->findings->len; i++)
    if (could_be(before, f, after, hf_sign_finding(after, i)))
      return FALSE;
  return TRUE;
}

/* The law that places of this one are counted with. */
static const HfLaw *
counted_law(HfLawKind kind)
{
  const HfLaw *law = hf_law(kind);
  return law->counts_as != NULL ? law->counts_as : law;
}

/* What a cure may not bring: a stop, or a caution of a law that guards, as a letter that is covered
 * by half (or, see below, one whose openings close). Lumps of metal that nobody reads may be held
 * very well. */
static gboolean
is_unwelcome(const HfFinding *finding)
{
  return finding->gravity == HF_STOP ||
         (hf_law(finding->kind)->guards && finding->gravity == HF_CAUTION);
}

static guint
unwelcome_alike(const HfSign *sign, HfLawKind kind, const char *entry)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(sign, i);
    if (is_unwelcome(finding) && counted_law(finding->kind) == counted_law(kind) &&
        g_strcmp0(entry_of(sign, finding), entry) == 0)
      n += finding->places->len;
  }
  return n;
}

/* Into how many pieces a letter's outline falls by itself. */
static int
pieces_of(const HfShape *letter)
{
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, letter->outline, 0, HF_FLATTEN_MM);
  g_autoptr(HfRegion) clean = hf_region_clean(chords);
  int pieces = 0;
  for (guint r = 0; r < clean->rings->len; r++)
    pieces += hf_region_ring(clean, r)->parent < 0;
  return pieces;
}

/* Marks the counters of @one in which one of @other begins, each letter seen in its own ems. */
static void
mark_met(const GArray *one, HfMatrix one_em, const GArray *other, HfMatrix other_em,
         gboolean *met_one, gboolean *met_other)
{
  for (guint i = 0; i < other->len; i++) {
    const HfRing *ring = hf_region_ring(g_array_index(other, HfCounter, i).filled, 0);
    HfPoint ems = hf_matrix_undo(other_em, hf_grid_point(ring->at[0]));
    guint in = hf_counters_find(one, hf_matrix_apply(one_em, ems));
    met_one[in] = TRUE;
    met_other[i + 1] = met_other[i + 1] || in > 0;
  }
}

/* Of the openings of one letter, those that have none of its openings within or around them any
 * more; and the pieces that it broke into. */
static guint
spoilt_in(const HfShape *before, const HfShape *after)
{
  g_autoptr(GArray) then = hf_shape_counters(before, before->em);
  g_autoptr(GArray) now = hf_shape_counters(after, after->em);
  g_autofree gboolean *there = g_new0(gboolean, then->len + 1);
  g_autofree gboolean *new = g_new0(gboolean, now->len + 1);
  mark_met(then, before->em, now, after->em, there, new); /* smaller now */
  mark_met(now, after->em, then, before->em, new, there); /* larger now */
  guint spoilt = (guint)MAX(pieces_of(after) - pieces_of(before), 0);
  for (guint i = 1; i <= then->len; i++)
    spoilt += !there[i];
  return spoilt;
}

/* The n-th letter, from @at on. */
static const HfShape *
next_letter(const HfSign *sign, guint *at)
{
  while (*at < sign->layout->shapes->len) {
    const HfShape *shape = hf_layout_shape(sign->layout, (*at)++);
    if (shape->letter >= 0)
      return shape;
  }
  return NULL;
}

/* The middle of an e that bolder strokes have closed is no loose part any more, and no e; nor is
 * one whose lighter strokes have broken: metal and middle are one then, and nobody reads it. */
static guint
spoilt_letters(const HfSign *before, const HfSign *after)
{
  guint spoilt = 0, i = 0, k = 0;
  const HfShape *then, *now;
  while ((then = next_letter(before, &i)) != NULL && (now = next_letter(after, &k)) != NULL)
    spoilt += spoilt_in(then, now);
  return spoilt;
}

/* (element-type double) of each standing letter of words, in order: the share of its outline that
 * shows. */
static GArray *
letter_shares(const HfSign *sign)
{
  GArray *shares = g_array_new(FALSE, FALSE, sizeof(double));
  for (guint i = 0; i < sign->hold->shown->len; i++) {
    const HfShape *shape = hf_layout_shape(sign->layout, i);
    const HfEntry *entry = hf_recipe_at(sign->recipe, shape->entry);
    if (shape->letter < 0 || shape->opening || entry->kind != HF_ENTRY_WORDS)
      continue;
    g_autoptr(HfRegion) chords = hf_region_new();
    hf_region_flatten(chords, shape->outline, 0, COARSE);
    double share =
        g_array_index(sign->hold->shown, double, i) / fmax(hf_region_perimeter(chords), 1e-9);
    g_array_append_val(shares, share);
  }
  return shares;
}

/* Letters of whose outline a good part went into others: pushed into each other so far that they
 * are hard to read, though most of each is there. A tie takes less than that. */
static guint
more_crowded(const HfSign *before, const HfSign *after)
{
  g_autoptr(GArray) then = letter_shares(before), now = letter_shares(after);
  guint crowded = 0;
  for (guint i = 0; then->len == now->len && i < now->len; i++) {
    double was = g_array_index(then, double, i), is = g_array_index(now, double, i);
    crowded += is < CROWDED && was - is > PUSHED;
  }
  return crowded;
}

/* What is unwelcome of one law at one entry, beyond as many places as there were. Each such group
 * is counted at its first finding. */
static guint
fresh_trouble(const HfSign *before, const HfSign *after)
{
  guint fresh = 0;
  for (guint i = 0; i < after->hold->findings->len; i++) {
    const HfFinding *finding = hf_sign_finding(after, i);
    const char *entry = entry_of(after, finding);
    gboolean counted = !is_unwelcome(finding);
    for (guint j = 0; j < i && !counted; j++) {
      const HfFinding *earlier = hf_sign_finding(after, j);
      counted = is_unwelcome(earlier) && counted_law(earlier->kind) == counted_law(finding->kind) &&
                g_strcmp0(entry_of(after, earlier), entry) == 0;
    }
    if (counted)
      continue;
    guint now = unwelcome_alike(after, finding->kind, entry);
    guint then = unwelcome_alike(before, finding->kind, entry);
    fresh += now > then ? now - then : 0;
  }
  return fresh;
}

/* Letters that nobody reads any more, as far as @guards look at them. */
static guint
unreadable(const HfSign *before, const HfSign *after, guint guards)
{
  guint n = guards & HF_GUARD_FORM ? spoilt_letters(before, after) : 0;
  return n + (guards & HF_GUARD_CROWD ? more_crowded(before, after) : 0);
}

static guint
hidden_places(const HfSign *sign)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++)
    if (hf_law(hf_sign_finding(sign, i)->kind)->guards)
      n += hf_sign_finding(sign, i)->places->len;
  return n;
}

gboolean
hf_match_hides(const HfSign *before, const HfSign *after, guint guards)
{
  if ((guards & HF_GUARD_COVER) && hidden_places(after) > hidden_places(before))
    return TRUE;
  return unreadable(before, after, guards) > 0;
}

guint
hf_match_stops(const HfSign *sign)
{
  guint n = 0;
  for (guint i = 0; i < sign->hold->findings->len; i++)
    if (hf_sign_finding(sign, i)->gravity == HF_STOP)
      n += hf_sign_finding(sign, i)->places->len;
  return n;
}

HfMatch
hf_match_findings(const HfSign *before, const HfSign *after, guint guards)
{
  HfMatch match = {g_array_new(FALSE, FALSE, sizeof(guint)), 0,
                   fresh_trouble(before, after) + unreadable(before, after, guards),
                   hf_match_stops(after)};
  for (guint i = 0; i < before->hold->findings->len; i++)
    if (is_gone(before, hf_sign_finding(before, i), after)) {
      g_array_append_val(match.takes, i);
      match.taken += hf_sign_finding(before, i)->gravity == HF_STOP;
    }
  return match;
}

void
hf_match_clear(HfMatch *match)
{
  g_clear_pointer(&match->takes, g_array_unref);
}
