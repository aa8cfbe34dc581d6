/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cure_search.c - the parts of the search one by one, on signs small enough to try everything:
 * what the knob is turned to is held against every other place of it, what is left of several
 * changes against leaving each of them out. t = 3 mm, k = 1.5 mm.
 */
#include "cure/search-private.h"
#include "run/cures.h"
#include "run/run-private.h"
#include <string.h>

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"

/* A ring of 100 mm inner radius, a loose dot of 10 mm radius in its middle. */
#define LOOSE                                                                                      \
  HEAD "entries:\n"                                                                                \
       "  - ring: {name: rim, outer: 240 mm, width: 20 mm}\n"                                      \
       "  - dot: {name: bead, diameter: 20 mm, shift: [0 mm, 0 mm]}\n"
#define STICK "  - bar: {name: stick, length: 60 mm, height: 1 mm, at: [-149 mm, 0 mm]}\n"

static HfSign *
run_of(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfSign *sign = hf_run_text(text, strlen(text), NULL, &(HfRunOptions){NULL, NULL, FALSE}, &error);
  g_assert_no_error(error);
  return sign;
}

static HfProposal *
change(const char *key, const char *sentence)
{
  HfProposal *proposal = hf_proposal_new(hf_cure_family(key), hf_phrase("%s", sentence));
  guint first = 0;
  g_array_append_val(proposal->targets, first);
  return proposal;
}

static void
add(HfProposal *proposal, const char *does, const char *path, const char *value)
{
  g_assert_true(hf_edits_read(proposal->edits, does, path, value, NULL));
}

/* The bead goes to a side: @each mm of it for each unit of the knob. */
static HfProposal *
shift(double each, double least, double most, double step, const char *unit)
{
  HfProposal *proposal = change("nearer", "move the bead");
  proposal->least = least;
  proposal->most = most;
  proposal->step = step;
  proposal->from = 0;
  proposal->unit = unit;
  hf_edits_add(proposal->edits, HF_EDIT_SET,
               hf_path(HF_KEY("entries"), HF_ITEM(1), HF_KEY("dot"), HF_KEY("shift")),
               hf_node_new_list(hf_node_new_number(0, each, 4, "mm"),
                                hf_node_new_number(0, 0, 0, "mm"), NULL));
  return proposal;
}

/* ---- one change: its knob -------------------------------------------------------------------- */

static gboolean
is_whole_at(const HfProposal *proposal, const char *text, int i)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, hf_trial_value(proposal, i));
  gsize length = 0;
  g_autofree char *changed = hf_recipe_edit(text, strlen(text), edits, &length, &error);
  g_assert_no_error(error);
  g_autoptr(HfSign) sign = run_of(changed);
  return sign->hold->whole;
}

/* By trying all of them; -1: none. */
static int
least_by_trying(const HfProposal *proposal, const char *text, int n)
{
  for (int i = 0; i <= n; i++)
    if (is_whole_at(proposal, text, i))
      return i;
  return -1;
}

static HfTurned
turn(const HfProposal *proposal, const char *text, gboolean alone)
{
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  HfCureBase base = {sign, text, strlen(text)};
  HfTurned turned;
  g_assert_true(hf_trial_turn(&base, proposal, alone, G_MAXUINT,
                              &(HfHand){hf_run_try, fonts, NULL, NULL, FALSE, 0}, &turned, NULL));
  return turned;
}

static void
turned_free(HfTurned *turned)
{
  hf_trial_free(turned->cure);
  hf_trial_free(turned->nearer);
}

/* To the right, to the left, in inches, down from the far side: always the first place of the knob
 * that makes it whole, to its step. */
static void
test_least(void)
{
  static const struct {
    double each, least, most, step;
    const char *unit;
    int n;
  } rows[] = {
      {1, 84, 104, 1, "mm", 20},
      {-1, 84, 104, 1, "mm", 20},
      {25.4, 3.3, 4.1, 0.05, "in", 16},
      {1, 140, 120, 1, "mm", 20},
  };
  for (gsize r = 0; r < G_N_ELEMENTS(rows); r++) {
    g_autoptr(HfProposal) proposal =
        shift(rows[r].each, rows[r].least, rows[r].most, rows[r].step, rows[r].unit);
    int wanted = least_by_trying(proposal, LOOSE, rows[r].n);
    g_assert_cmpint(wanted, >, 0);
    HfTurned turned = turn(proposal, LOOSE, TRUE);
    g_assert_nonnull(turned.cure);
    g_assert_true(turned.cure->sign->hold->whole);
    g_assert_cmpfloat_with_epsilon(turned.cure->value, hf_trial_value(proposal, wanted), 1e-9);
    g_assert_cmpuint(turned.work, >, 0);
    turned_free(&turned);
  }
}

/* As the first of several changes it is no cure, however good; what leaves no fewer stops is not
 * handed on at all. */
static void
test_nearer(void)
{
  g_autoptr(HfProposal) proposal = shift(1, 84, 104, 1, "mm"), idle = shift(1, 1, 20, 1, "mm");
  HfTurned turned = turn(proposal, LOOSE STICK, FALSE);
  g_assert_null(turned.cure);
  g_assert_nonnull(turned.nearer);
  g_assert_false(turned.nearer->sign->hold->whole);
  g_autoptr(HfSign) given = run_of(LOOSE STICK);
  g_assert_cmpuint(turned.nearer->match.stops, <, hf_match_stops(given));
  turned_free(&turned);
  turned = turn(idle, LOOSE, FALSE);
  g_assert_null(turned.cure);
  g_assert_null(turned.nearer);
}

/* Without a knob there is one place; the steps of a knob go from the smallest change on, either
 * way. */
static void
test_values(void)
{
  g_autoptr(HfProposal) up = shift(1, 2, 10, 0.5, "mm"), down = shift(1, -2, -10, 0.5, "mm"),
                        none = change("bar", "put a bar across");
  g_assert_cmpfloat(hf_trial_value(up, 0), ==, 2);
  g_assert_cmpfloat(hf_trial_value(up, 3), ==, 3.5);
  g_assert_cmpfloat(hf_trial_value(down, 3), ==, -3.5);
  g_assert_true(isnan(hf_trial_value(none, 0)));
  add(none, "insert", "entries", "bar: {length: 210 mm, height: 60 mm}");
  HfTurned turned = turn(none, LOOSE, TRUE);
  g_assert_nonnull(turned.cure);
  g_assert_true(turned.cure->sign->hold->whole && isnan(turned.cure->value));
  turned_free(&turned);
}

/* ---- several: none too many ------------------------------------------------------------------ */

static HfCured *
tidied(const HfSign *sign, const char *text, const HfCureLink *links, guint n)
{
  HfCured *cured = g_new0(HfCured, 1);
  cured->cost = INFINITY;
  cured->links = g_array_new(FALSE, FALSE, sizeof(HfCureLink));
  g_array_append_vals(cured->links, links, n);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  hf_cure_tidy(&(HfCureBase){sign, text, strlen(text)}, cured, G_MAXUINT,
               &(HfHand){hf_run_try, fonts, NULL, NULL, FALSE, 0});
  return cured;
}

/* Is the sign whole with all of @links but that at @without? */
static gboolean
whole_without(const char *text, const GArray *links, guint without)
{
  g_autofree char *now = g_strdup(text);
  for (guint i = 0; i < links->len; i++) {
    const HfCureLink *link = &g_array_index(links, HfCureLink, i);
    g_autoptr(GArray) edits = hf_proposal_edits_at(link->proposal, link->value);
    gsize length = 0;
    if (i == without)
      continue;
    char *next = hf_recipe_edit(now, strlen(now), edits, &length, NULL);
    g_assert_nonnull(next);
    g_free(now);
    now = next;
  }
  g_autoptr(HfSign) sign = run_of(now);
  return sign->hold->whole;
}

/* Of four changes two do something; each of the two that stay is needed, and the list says so. */
static void
test_only_what_is_needed(void)
{
  static const char text[] = LOOSE STICK;
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(HfProposal) move = shift(1, 1, 60, 1, "mm"), bar = change("bar", "put a bar across"),
                        mend = change("mend", "thicken"), smaller = change("smaller", "less");
  add(bar, "insert", "entries", "bar: {length: 210 mm, height: 60 mm}");
  add(mend, "insert", "entries", "mend: {thicken: yes}");
  add(smaller, "set", "entries[1].dot.diameter", "19 mm");
  g_autoptr(HfCured) cured =
      tidied(sign, text, (HfCureLink[]){{move, 5}, {bar, NAN}, {smaller, NAN}, {mend, NAN}}, 4);
  g_assert_true(cured->whole);
  g_assert_cmpstr(cured->key, ==, "bar+mend");
  g_assert_cmpstr(cured->sentence, ==, "put a bar across, and thicken");
  for (guint i = 0; i < cured->links->len; i++)
    g_assert_false(whole_without(text, cured->links, i));
  g_assert_true(whole_without(text, cured->links, cured->links->len));
}

/* An entry is named by its number: what made one is never left out before a change that names it,
 * nor what was put before all others. */
static void
test_numbers_stay(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(HfProposal) made = change("bar", "add a bar"), named = change("wider", "make it wider"),
                        first = change("plate", "add a plate"), bar = change("bar", "put a bar"),
                        move = shift(1, 1, 60, 1, "mm");
  add(made, "insert", "entries", "bar: {name: spoke, length: 210 mm, height: 2 mm}");
  add(named, "set", "entries[2].bar.height", "60 mm");
  add(first, "insert", "entries[0]",
      "plate: {name: tab, shape: round, diameter: 30 mm, at: [0 mm, 115 mm]}");
  add(bar, "insert", "entries", "bar: {length: 210 mm, height: 60 mm}");
  g_autoptr(HfCured) both =
      tidied(sign, LOOSE, (HfCureLink[]){{move, 5}, {made, NAN}, {named, NAN}}, 3);
  g_assert_true(both->whole);
  g_assert_cmpstr(both->key, ==, "bar+wider");
  g_autoptr(HfCured) kept = tidied(sign, LOOSE, (HfCureLink[]){{first, NAN}, {bar, NAN}}, 2);
  g_assert_cmpstr(kept->key, ==, "plate+bar");
}

/* What is left out of several changes is tried as a recipe: where a number came to mean another
 * entry of the same kind, nothing would tell. */
static void
test_numbers_of_a_kind(void)
{
  static const char text[] =
      LOOSE "  - bar: {name: one, length: 210 mm, height: 60 mm}\n"
            "  - bar: {name: other, length: 210 mm, height: 60 mm, shift: [0 mm, 0 mm]}\n";
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(HfProposal) out = change("ties", "take one out"), named = change("wider", "the other");
  add(out, "remove", "entries[2]", NULL);
  add(named, "set", "entries[2].bar.height", "62 mm");
  g_autoptr(HfCured) cured = tidied(sign, text, (HfCureLink[]){{out, NAN}, {named, NAN}}, 2);
  g_assert_true(cured->whole);
  g_assert_null(strstr(cured->recipe, "{name: one, length: 210 mm, height: 62 mm}"));
}

/* ---- several: which ---------------------------------------------------------------------------
 */

/* Two beads and a thin stick: changes are combined, a rule stands in no combination twice, and what
 * is handed on is whole by a run of its own. */
static void
test_combinations(void)
{
  static const char text[] =
      LOOSE "  - dot: {name: pearl, diameter: 16 mm, shift: [0 mm, 40 mm]}\n" STICK;
  g_autoptr(GError) error = NULL;
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(GPtrArray) cures =
      hf_cures_find(sign, text, strlen(text), hf_run_try, &(HfCuresOptions){.hands = 1}, &error);
  g_assert_no_error(error);
  guint combined = 0;
  for (guint i = 0; i < cures->len; i++) {
    const HfCured *cured = cures->pdata[i];
    g_auto(GStrv) keys = g_strsplit(cured->key, "+", -1);
    g_assert_cmpuint(g_strv_length(keys), ==, cured->steps->len);
    g_assert_cmpuint(cured->steps->len, <=, 4);
    if (cured->steps->len < 2)
      continue;
    combined++;
    g_autoptr(HfSign) again = run_of(cured->recipe);
    g_assert_true(again->hold->whole && cured->whole);
    for (guint a = 0; keys[a] != NULL; a++)
      for (guint b = 0; b < a; b++)
        g_assert_false(strcmp(keys[a], keys[b]) == 0 && hf_cure_family(keys[a])->is_rule);
  }
  g_assert_cmpuint(combined, >, 0);
}

/* What several changes may hurt is what any of them may. */
static void
test_guards(void)
{
  g_autoptr(HfProposal) bolder = change("bolder", "bolder"), ear = change("ear", "an ear"),
                        accept = change("acceptance", "no acceptance");
  g_autoptr(GArray) links = g_array_new(FALSE, FALSE, sizeof(HfCureLink));
  g_array_append_vals(links, (HfCureLink[]){{bolder, 1}, {ear, NAN}, {accept, NAN}}, 3);
  g_assert_true(hf_cure_guards(links, -1) & HF_GUARD_FORM);
  g_assert_false(hf_cure_guards(links, 0) & HF_GUARD_FORM);
  g_assert_cmpuint(hf_cure_guards(links, 0), ==, ear->family->guards);
  g_assert_cmpuint(hf_cure_guards(NULL, -1), ==, 0);
  g_assert_cmpuint(accept->family->guards, ==, 0);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cure-search/least", test_least);
  g_test_add_func("/cure-search/nearer", test_nearer);
  g_test_add_func("/cure-search/values", test_values);
  g_test_add_func("/cure-search/only-what-is-needed", test_only_what_is_needed);
  g_test_add_func("/cure-search/numbers-stay", test_numbers_stay);
  g_test_add_func("/cure-search/numbers-of-a-kind", test_numbers_of_a_kind);
  g_test_add_func("/cure-search/combinations", test_combinations);
  g_test_add_func("/cure-search/guards", test_guards);
  return g_test_run();
}
