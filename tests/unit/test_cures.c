/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cures.c - the search for cures on signs whose cures are known: t = 3 mm, k = 1.5 mm.
 */
#include "cure/search-private.h"
#include "run/cures.h"
#include "run/run-private.h"
#include <string.h>

#define HEAD "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
#define ALL  (HF_GUARD_COVER | HF_GUARD_CROWD | HF_GUARD_FORM)
#define RIM  "  - ring: {name: rim, outer: 240 mm, width: 20 mm}\n"

/* A ring of 100 mm inner radius, a loose dot of 10 mm radius in its middle. */
#define LOOSE                                                                                      \
  HEAD "entries:\n" RIM "  # a bead that falls out\n"                                              \
       "  - dot: {name: bead, diameter: 20 mm, shift: [0 mm, 0 mm]}\n"

static HfSign *
run_of(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfSign *sign = hf_run_text(text, strlen(text), NULL, &(HfRunOptions){NULL, NULL, FALSE}, &error);
  g_assert_no_error(error);
  return sign;
}

static void
aim(HfProposal *proposal, guint finding)
{
  g_array_append_val(proposal->targets, finding);
}

static void
append(HfProposal *proposal, const char *entry)
{
  g_assert_true(hf_edits_read(proposal->edits, "insert", "entries", entry, NULL));
}

/* Moves an entry to the right. */
static HfProposal *
shift_of(const char *path, double least, double most, double step)
{
  HfProposal *proposal =
      hf_proposal_new(hf_cure_family("ring"), hf_phrase_knob_last(hf_phrase("move the bead by ")));
  proposal->least = least;
  proposal->most = most;
  proposal->step = step;
  proposal->from = 0;
  proposal->unit = "mm";
  hf_edits_add(
      proposal->edits, HF_EDIT_SET, hf_path_read(path, NULL),
      hf_node_new_list(hf_proposal_knob(proposal), hf_node_new_number(0, 0, 0, "mm"), NULL));
  aim(proposal, 0);
  return proposal;
}

static GPtrArray *
list_new(void)
{
  return g_ptr_array_new_with_free_func((GDestroyNotify)hf_proposal_free);
}

static GPtrArray *
find(const HfSign *sign, const char *text, const GPtrArray *proposals, guint hands)
{
  g_autoptr(GError) error = NULL;
  HfCuresOptions options = {.hands = hands};
  GPtrArray *cures =
      hf_cures_among(sign, text, strlen(text), proposals, hf_run_try, &options, &error);
  g_assert_no_error(error);
  return cures;
}

static gboolean
is_whole_at(const char *template, double x)
{
  g_autofree char *shift =
      g_strdup_printf("[%d.%d mm, 0 mm]", (int)(x * 2) / 2, (int)(x * 2) % 2 * 5);
  g_auto(GStrv) pieces = g_strsplit(template, "[0 mm, 0 mm]", -1);
  g_autofree char *text = g_strjoinv(shift, pieces);
  g_autoptr(HfSign) sign = run_of(text);
  return sign->hold->whole;
}

/* The knob stops at the least value that cures, to its step, though it cures for a while only: at
 * 200 mm the bead is loose again, outside. */
static void
test_knob(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_assert_false(sign->hold->whole);
  g_autoptr(GPtrArray) proposals = list_new();
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 0.5, 200, 0.5));
  g_autoptr(GPtrArray) cures = find(sign, LOOSE, proposals, 1);
  g_assert_cmpuint(cures->len, ==, 1);
  const HfCured *cured = cures->pdata[0];
  g_assert_true(cured->whole && cured->sign->hold->whole);
  g_assert_cmpuint(cured->stops, ==, 0);
  g_assert_cmpuint(cured->takes->len, >=, 1);
  g_assert_true(hf_cures_best(cures) == cured);
  g_assert_nonnull(strstr(cured->recipe, "# a bead that falls out"));
  const char *at = strstr(cured->recipe, "shift: [");
  double x = g_ascii_strtod(at + strlen("shift: ["), NULL);
  g_assert_cmpfloat(x, >, 90); /* where the two touch */
  g_assert_cmpfloat(x, <, 110);
  g_assert_true(is_whole_at(LOOSE, x));
  g_assert_false(is_whole_at(LOOSE, x - 0.5));
  g_autofree char *sentence = g_strdup_printf("move the bead by %g mm", x);
  g_assert_cmpstr(cured->sentence, ==, sentence);
}

/* What does not cure is not in the list: too short a way, an edit that can't be made, a run that
 * can't be done. */
static void
test_not_cured(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 0.5, 80, 0.5));
  g_ptr_array_add(proposals, shift_of("entries[7].dot.shift", 0.5, 200, 0.5));
  g_ptr_array_add(proposals, shift_of("entries[1].dot.diameter", 0.5, 200, 0.5));
  g_autoptr(GPtrArray) cures = find(sign, LOOSE, proposals, 2);
  g_assert_cmpuint(cures->len, ==, 0);
  g_assert_null(hf_cures_best(cures));
}

/* A finding that is there under another name is not gone. */
static void
test_renamed(void)
{
  g_autoptr(HfSign) before = run_of(LOOSE);
  g_autoptr(HfSign) after =
      run_of(HEAD "entries:\n" RIM "  - dot: {name: pearl, diameter: 20 mm, at: [3 mm, 0 mm]}\n");
  g_auto(HfMatch) match = hf_match_findings(before, after, ALL);
  g_assert_cmpuint(match.taken, ==, 0);
  g_assert_cmpuint(match.fresh, ==, 1);
  g_assert_cmpuint(match.stops, ==, hf_match_stops(before));
}

/* One of two loose beads is held: the finding that gathers both is not gone. */
static void
test_part_of_it(void)
{
  g_autoptr(HfSign) before = run_of(HEAD "entries:\n" RIM "  - dot: {name: bead, diameter: 20 mm, "
                                         "at: [[0 mm, 0 mm], [50 mm, 0 mm]]}\n");
  g_autoptr(HfSign) after = run_of(HEAD "entries:\n" RIM "  - dot: {name: bead, diameter: 20 mm, "
                                        "at: [[0 mm, 0 mm], [98 mm, 0 mm]]}\n");
  g_assert_cmpuint(hf_match_stops(before), ==, 2);
  g_auto(HfMatch) match = hf_match_findings(before, after, ALL);
  g_assert_cmpuint(match.taken, ==, 0);
  g_assert_cmpuint(match.fresh, ==, 0);
  g_assert_cmpuint(match.stops, ==, 1);
}

/* Gone is gone, also where an entry was put in before it. */
static void
test_gone(void)
{
  g_autoptr(HfSign) before = run_of(LOOSE);
  g_autoptr(HfSign) after =
      run_of(HEAD "entries:\n  - bar: {name: rail, length: 230 mm, height: 8 mm}\n" RIM
                  "  - dot: {name: bead, diameter: 20 mm}\n");
  g_auto(HfMatch) match = hf_match_findings(before, after, ALL);
  g_assert_cmpuint(match.taken, ==, 1);
  g_assert_cmpuint(match.stops, ==, 0);
}

/* A cure that brings a stop with it is none: the bead touches the rim, a second one comes loose. */
static void
test_fresh_stop(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  HfProposal *proposal = shift_of("entries[1].dot.shift", 98, 98, 1);
  append(proposal, "dot: {name: other, diameter: 20 mm}");
  g_ptr_array_add(proposals, proposal);
  g_autoptr(GPtrArray) cures = find(sign, LOOSE, proposals, 1);
  g_assert_cmpuint(cures->len, ==, 0);
}

static HfRegion *
region_of(HfOutline *outline)
{
  g_autoptr(HfRegion) raw = hf_region_new();
  hf_region_flatten(raw, outline, 0, HF_FLATTEN_MM);
  hf_outline_free(outline);
  return hf_region_clean(raw);
}

static HfRegion *
square_with(double tab)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{0, 0}, {100, 100}}, 0);
  if (tab > 0)
    hf_outline_add_rectangle(outline, (HfBox){{99, 40}, {100 + tab, 50}}, 0);
  return region_of(outline);
}

static HfRegion *
disc(double radius)
{
  HfOutline *outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), radius);
  return region_of(outline);
}

/* Closed forms: a tab of 30 mm reaches 30 mm out; circles of 50 and 53 mm are 3 mm apart; of a
 * bar of 4 mm across the middle of a window of 40 mm the sides are 18 mm from the nearest edge. */
static void
test_shift(void)
{
  g_autoptr(HfRegion) plain = square_with(0), tab = square_with(30);
  g_assert_cmpfloat_with_epsilon(hf_measure_shift(plain, tab), 30, 0.02);
  g_assert_cmpfloat_with_epsilon(hf_measure_shift(tab, plain), 30, 0.02);
  g_assert_cmpfloat(hf_measure_shift(tab, tab), ==, 0);
  g_autoptr(HfRegion) small = disc(50), large = disc(53);
  g_assert_cmpfloat_with_epsilon(hf_measure_shift(small, large), 3, 0.02);
  HfOutline *window = hf_outline_new();
  hf_outline_add_rectangle(window, (HfBox){{30, 10}, {70, 50}}, 0);
  HfOutline *bar = hf_outline_new();
  hf_outline_add_rectangle(bar, (HfBox){{20, 28}, {80, 32}}, 0);
  g_autoptr(HfRegion) hole = region_of(window), tie = region_of(bar);
  g_autoptr(HfRegion) outer = square_with(0), open = hf_region_subtract(outer, hole);
  const HfRegion *both[] = {open, tie};
  g_autoptr(HfRegion) barred = hf_region_union(both, 2);
  g_assert_cmpfloat_with_epsilon(hf_measure_shift(open, barred), 18, 0.02);
}

/* Figures of a cure: the dot's own metal went, and came where it did not bite. */
static void
test_figures(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 98, 98, 1));
  g_autoptr(GPtrArray) cures = find(sign, LOOSE, proposals, 1);
  g_assert_cmpuint(cures->len, ==, 1);
  const HfCured *cured = cures->pdata[0];
  double dot = G_PI * 100, bitten = sign->hold->area + 0 - cured->sign->hold->area;
  g_assert_cmpfloat_with_epsilon(cured->removed, dot, 0.5);
  g_assert_cmpfloat_with_epsilon(cured->added, dot - bitten, 0.5);
  g_assert_cmpuint(cured->ties, ==, 0);
  double diagonal = hypot(240, 240);
  double net = cured->removed - cured->added; /* more goes than comes */
  double cost = 100 * (net + cured->added / 2) / sign->hold->area + 100 * cured->shift / diagonal;
  g_assert_cmpfloat_with_epsilon(cured->cost, cost, 1e-3);
}

/* The least that is seen comes first; the same metal twice is told once; one hand or three, the
 * same list. */
static void
test_order(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  HfProposal *bar = hf_proposal_new(hf_cure_family("bar"), hf_phrase("put a bar across"));
  append(bar, "bar: {length: 210 mm, height: 60 mm}");
  aim(bar, 0);
  g_ptr_array_add(proposals, bar);
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 97, 97, 1));
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 97, 97, 1));
  g_autoptr(GPtrArray) one = find(sign, LOOSE, proposals, 1);
  g_autoptr(GPtrArray) three = find(sign, LOOSE, proposals, 3);
  g_assert_cmpuint(one->len, ==, 2);
  g_assert_cmpuint(three->len, ==, 2);
  for (guint i = 0; i < 2; i++) {
    const HfCured *a = one->pdata[i], *b = three->pdata[i];
    g_assert_cmpstr(a->sentence, ==, b->sentence);
    g_assert_cmpfloat(a->cost, ==, b->cost);
  }
  g_assert_cmpstr(((const HfCured *)one->pdata[0])->key, ==, "ring");
}

/* The bead falls out, the bar is thin: neither ties alone nor thickening alone makes it whole. */
static void
test_combined(void)
{
  static const char text[] =
      LOOSE "  - bar: {name: stick, length: 60 mm, height: 1 mm, at: [-149 mm, 0 mm]}\n";
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) cures =
      hf_cures_find(sign, text, strlen(text), hf_run_try, &(HfCuresOptions){.hands = 2}, &error);
  g_assert_no_error(error);
  const HfCured *best = hf_cures_best(cures);
  g_assert_nonnull(best);
  g_assert_cmpuint(best->steps->len, >=, 2);
  g_assert_nonnull(strstr(best->sentence, ", and "));
  g_autoptr(HfSign) again = run_of(best->recipe);
  g_assert_true(again->hold->whole);
  for (guint i = 0; i < cures->len; i++) {
    const HfCured *cured = cures->pdata[i];
    g_assert_true(cured->steps->len > 1 || !cured->whole || cured->as_is);
  }
}

/* Letters that are pushed into each other are held, and nobody reads them; a joint is no lump. */
#define HELM(spacing)                                                                              \
  HEAD "entries:\n  - words: {name: lane, text: HELM, font: Bebas Neue, height: 100 mm, "          \
       "spacing: " spacing "}\n"
static void
test_lump(void)
{
  g_autoptr(HfSign) apart = run_of(HELM("2 mm"));
  g_autoptr(HfSign) joined = run_of(HELM("joined pair by pair"));
  g_autoptr(HfSign) lump = run_of(HELM("-24 mm"));
  g_assert_false(apart->hold->whole);
  g_assert_true(joined->hold->whole);
  g_assert_false(hf_match_hides(apart, joined, ALL));
  g_assert_true(hf_match_hides(apart, lump, ALL));
  g_assert_false(hf_match_hides(lump, lump, ALL));
  g_auto(HfMatch) good = hf_match_findings(apart, joined, ALL),
                  bad = hf_match_findings(apart, lump, ALL);
  g_assert_cmpuint(good.fresh, ==, 0);
  g_assert_cmpuint(bad.fresh, >, 0);
}

#define HAIRLINES(weight)                                                                          \
  HEAD "entries:\n"                                                                                \
       "  - plate: {name: board, shape: rectangle, width: 400 mm, height: 300 mm}\n"               \
       "  - words: {name: w, text: Od, font: Vollkorn, height: 216 mm, as: opening, "              \
       "bolder: " weight "}\n"

/* Much lighter, the O is two crescents and its middle not loose: nobody reads it. */
static void
test_broken(void)
{
  g_autoptr(HfSign) given = run_of(HAIRLINES("0 mm")), light = run_of(HAIRLINES("-1 mm")),
                    broken = run_of(HAIRLINES("-7.55 mm"));
  g_assert_cmpuint(given->hold->parts->len, ==, 3);
  g_assert_cmpuint(broken->hold->parts->len, ==, 1);
  g_assert_false(hf_match_hides(given, light, ALL));
  g_assert_true(hf_match_hides(given, broken, ALL));
}

/* ---- none too many, none too large */

static HfCured *
made_of(const HfSign *sign, const char *text, HfCureLink *links, guint n)
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

/* A bar across holds the bead wherever it is: that it was moved is of no use any more. */
static void
test_needless(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(HfProposal) move = shift_of("entries[1].dot.shift", 0.5, 200, 0.5);
  g_autoptr(HfProposal) bar = hf_proposal_new(hf_cure_family("bar"), hf_phrase("put a bar across"));
  append(bar, "bar: {length: 210 mm, height: 60 mm}");
  g_autoptr(HfCured) cured = made_of(sign, LOOSE, (HfCureLink[]){{move, 3}, {bar, NAN}}, 2);
  g_assert_true(cured->whole);
  g_assert_cmpstr(cured->sentence, ==, "put a bar across");
  g_assert_cmpstr(cured->key, ==, "bar");
  g_assert_cmpuint(cured->steps->len, ==, 1);
  g_assert_nonnull(strstr(cured->recipe, "shift: [0 mm, 0 mm]"));
}

/* Both are needed, and the first was turned too far. */
static void
test_turned_back(void)
{
  static const char text[] =
      LOOSE "  - bar: {name: stick, length: 60 mm, height: 1 mm, at: [-149 mm, 0 mm]}\n";
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(HfProposal) move = shift_of("entries[1].dot.shift", 0.5, 200, 0.5);
  g_autoptr(HfProposal) mend = hf_proposal_new(hf_cure_family("mend"), hf_phrase("thicken"));
  append(mend, "mend: {thicken: yes}");
  g_autoptr(HfCured) cured = made_of(sign, text, (HfCureLink[]){{move, 99}, {mend, NAN}}, 2);
  g_assert_true(cured->whole);
  g_assert_cmpstr(cured->key, ==, "ring+mend");
  double x = g_ascii_strtod(strstr(cured->recipe, "shift: [") + strlen("shift: ["), NULL);
  g_assert_cmpfloat(x, >, 90);
  g_assert_cmpfloat(x, <, 98);
  g_assert_true(is_whole_at(LOOSE, x));
  g_assert_false(is_whole_at(LOOSE, x - 0.5));
}

/* Two panels, the mark of what comes, no words; the same bytes each time. */
static void
test_picture(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 98, 98, 1));
  g_autoptr(GPtrArray) cures = find(sign, LOOSE, proposals, 1);
  g_autoptr(GBytes) one = hf_cured_picture(sign, cures->pdata[0], 400);
  g_autoptr(GBytes) two = hf_cured_picture(sign, cures->pdata[0], 400);
  g_assert_true(g_bytes_equal(one, two));
  g_autofree char *svg = g_strndup(g_bytes_get_data(one, NULL), g_bytes_get_size(one));
  for (const char *const *part =
           (const char *const[]){"<svg ", "url(#comes)", "url(#goes)", "</svg>", NULL};
       *part != NULL; part++)
    g_assert_nonnull(strstr(svg, *part));
  g_assert_null(strstr(svg, "<text"));
  g_assert_null(strstr(svg, "bead"));
}

static void
ask_to_stop(guint tried, guint of, gpointer data)
{
  g_assert_cmpuint(tried, <=, of);
  hf_cancel_ask(data);
}

static void
test_stopped(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  for (int i = 0; i < 4; i++)
    g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 0.5, 80, 0.5));
  HfCancel cancel = {0};
  g_autoptr(GError) error = NULL;
  HfCuresOptions options = {
      .cancel = &cancel, .hands = 1, .progress = ask_to_stop, .data = &cancel};
  g_autoptr(GPtrArray) cures =
      hf_cures_among(sign, LOOSE, strlen(LOOSE), proposals, hf_run_try, &options, &error);
  g_assert_null(cures);
  g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
}

/* ---- the budget -------------------------------------------------------------------------------
 */

typedef struct {
  guint tried, whole_after; /* changes tried when the first whole one was told */
  gboolean proven;
} Heard;

static void
hear_progress(guint tried, guint of, gpointer data)
{
  g_assert_cmpuint(tried, <=, of);
  ((Heard *)data)->tried = tried;
}

static void
hear_cure(const HfCured *cured, gpointer data)
{
  Heard *heard = data;
  if (!cured->whole || cured->as_is || heard->whole_after != 0)
    return;
  heard->whole_after = heard->tried;
  g_autoptr(HfSign) again = run_of(cured->recipe);
  heard->proven = again->hold->whole;
}

/* A bead that falls out and a stick that is too thin: whole by two rules, told before half of all
 * was tried, and whole by a run of its own. */
static void
test_first_whole(void)
{
  static const char text[] =
      LOOSE "  - bar: {name: stick, length: 60 mm, height: 1 mm, at: [-149 mm, 0 mm]}\n";
  g_autoptr(HfSign) sign = run_of(text);
  g_autoptr(GError) error = NULL;
  Heard heard = {0, 0, FALSE};
  HfCuresOptions options = {
      .hands = 1, .found = hear_cure, .progress = hear_progress, .data = &heard};
  g_autoptr(GPtrArray) cures =
      hf_cures_find(sign, text, strlen(text), hf_run_try, &options, &error);
  g_assert_no_error(error);
  g_assert_nonnull(hf_cures_best(cures));
  g_assert_true(heard.proven);
  g_assert_cmpuint(heard.whole_after, >, 0);
  g_assert_cmpuint(2 * heard.whole_after, <, heard.tried);
}

static gint n_runs; /* atomic */

static HfSign *
counted_try(const HfSign *given, const HfTrialText *text, HfFonts *fonts, const HfCancel *cancel)
{
  g_atomic_int_inc(&n_runs);
  return hf_run_try(given, text, fonts, cancel);
}

/* Two thousand knobs that do nothing: the search ends by its budget, and says so; after two it does
 * not. */
static void
test_budget(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(GPtrArray) proposals = list_new();
  enum { KNOBS = 2000 };
  for (int i = 0; i < KNOBS; i++)
    g_ptr_array_add(proposals, shift_of("entries[1].dot.shift", 0.5, 40, 0.5));
  gboolean no_further = FALSE;
  HfCuresOptions options = {.hands = 1, .ret_no_further = &no_further};
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) cures =
      hf_cures_among(sign, LOOSE, strlen(LOOSE), proposals, counted_try, &options, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(cures->len, ==, 0);
  g_assert_true(no_further);
  g_ptr_array_set_size(proposals, 2);
  no_further = FALSE;
  g_autoptr(GPtrArray) few =
      hf_cures_among(sign, LOOSE, strlen(LOOSE), proposals, hf_run_try, &options, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(few->len, ==, 0);
  g_assert_false(no_further);
  guint runs = (guint)g_atomic_int_get(&n_runs);
  g_assert_cmpuint(runs, >, 100);
  g_assert_cmpuint(runs * hf_trial_work(sign), <=, 4500000 / 2 * 5 / 4);
}

/* What spoils what it cures is behind every other that makes the sign whole, whatever it costs. */
static void
test_last_of_all(void)
{
  HfCured bar = {.key = (char *)"bar", .whole = TRUE, .last = TRUE, .cost = 1},
          dear = {.key = (char *)"scale", .whole = TRUE, .cost = 60}, *p = &bar, *q = &dear;
  g_assert_cmpint(hf_cures_compare(&p, &q), >, 0);
  g_assert_cmpint(hf_cures_compare(&q, &p), <, 0);
}

/* The text of LOOSE with a rule behind it, made from the sign of LOOSE and from nothing. */
static void
test_goes_on(void)
{
  static const char *const rules[] = {"  - ties: {}\n", "  - mend: {thicken: yes}\n  - ties: {}\n"};
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  for (guint i = 0; i < G_N_ELEMENTS(rules); i++) {
    g_autofree char *text = g_strconcat(LOOSE, rules[i], NULL);
    HfTrialText from = {text, strlen(text), TRUE}, anew = {text, strlen(text), FALSE};
    g_autoptr(HfSign) a = hf_run_try(sign, &from, fonts, NULL);
    g_autoptr(HfSign) b = hf_run_try(sign, &anew, fonts, NULL);
    g_assert_nonnull(a);
    g_assert_nonnull(b);
    g_assert_true(hf_measure_equal(a->metal->region, b->metal->region));
    g_assert_cmpuint(a->works->len, ==, b->works->len);
    g_assert_cmpuint(a->work, ==, b->work);
    g_assert_cmpuint(a->hold->findings->len, ==, b->hold->findings->len);
    for (guint k = 0; k < a->hold->findings->len; k++)
      g_assert_cmpstr(hf_sign_finding(a, k)->text, ==, hf_sign_finding(b, k)->text);
  }
}

/* A run that may do less than it takes ends, and what it did is counted all the way up. */
static void
test_run_ends(void)
{
  g_autoptr(HfSign) sign = run_of(LOOSE);
  g_autoptr(HfFonts) fonts = hf_fonts_new();
  HfTrialText text = {LOOSE, strlen(LOOSE), FALSE};
  HfCancel above = {0}, enough = {.most = (gint)sign->work, .of = &above},
           less = {.most = (gint)sign->work / 2, .of = &above};
  g_autoptr(HfSign) made = hf_run_try(sign, &text, fonts, &enough);
  g_assert_nonnull(made);
  g_assert_cmpuint(hf_cancel_work(&above), ==, sign->work);
  g_assert_null(hf_run_try(sign, &text, fonts, &less));
  g_assert_cmpuint(hf_cancel_work(&above), >, sign->work);
  g_assert_true(hf_cancel_check(&above, NULL));
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cures/knob", test_knob);
  g_test_add_func("/cures/not-cured", test_not_cured);
  g_test_add_func("/cures/renamed", test_renamed);
  g_test_add_func("/cures/part-of-it", test_part_of_it);
  g_test_add_func("/cures/gone", test_gone);
  g_test_add_func("/cures/fresh-stop", test_fresh_stop);
  g_test_add_func("/cures/shift", test_shift);
  g_test_add_func("/cures/figures", test_figures);
  g_test_add_func("/cures/order", test_order);
  g_test_add_func("/cures/combined", test_combined);
  g_test_add_func("/cures/lump", test_lump);
  g_test_add_func("/cures/broken", test_broken);
  g_test_add_func("/cures/needless", test_needless);
  g_test_add_func("/cures/turned-back", test_turned_back);
  g_test_add_func("/cures/picture", test_picture);
  g_test_add_func("/cures/stopped", test_stopped);
  g_test_add_func("/cures/first-whole", test_first_whole);
  g_test_add_func("/cures/budget", test_budget);
  g_test_add_func("/cures/last-of-all", test_last_of_all);
  g_test_add_func("/cures/goes-on", test_goes_on);
  g_test_add_func("/cures/run-ends", test_run_ends);
  return g_test_run();
}
