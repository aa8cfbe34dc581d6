/* SPDX-License-Identifier: GPL-3.0-or-later
 * The replay by programs that a hand can check. Whole signs and shapely:
 * tests/oracle/test_replay.py.
 */
#include "replay/replay.h"
#include <string.h>

#define HEAD "G21 G90 F1000\n"
#define RECT                                                                                       \
  "G0 X0 Y0\nM3\nG1 X100 Y0\nX100 Y50\nX0 Y50\nX0 Y0\nM5\n" /* lines 2 to 8 after the head */
#define HOLE "G0 X50 Y25\nM3\nG1 X60 Y25\nG3 X60 Y25 I-10 J0\nM5\n"

typedef struct {
  HfProgram *program;
  HfReplay *replay;
} Run;

static Run
run(const char *text, HfReplayOptions options)
{
  g_autoptr(GError) error = NULL;
  Run r;
  r.program = hf_program_read("p.nc", text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  if (options.kerf == 0)
    options.kerf = 2;
  if (options.within == 0)
    options.within = 0.05;
  if (options.at.x == 0)
    options.at = hf_point(NAN, NAN);
  if (options.table.max.x == 0)
    options.table = HF_BOX_EMPTY;
  r.replay = hf_replay_new(r.program, &options, NULL, &error);
  g_assert_no_error(error);
  return r;
}

static void
run_clear(Run *r)
{
  hf_replay_free(r->replay);
  hf_program_free(r->program);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Run, run_clear)

static const HfReplayFinding *
finding(const Run *r, const char *key)
{
  for (guint i = 0; i < r->replay->findings->len; i++) {
    const HfReplayFinding *f = r->replay->findings->pdata[i];
    if (strcmp(f->key, key) == 0)
      return f;
  }
  return NULL;
}

static double
area_of(const Run *r, HfPieceKind kind)
{
  double area = 0;
  for (guint i = 0; i < r->replay->pieces->len; i++) {
    const HfPiece *piece = &g_array_index(r->replay->pieces, HfPiece, i);
    area += piece->kind == kind ? piece->area : 0;
  }
  return area;
}

/* A pierce takes a disc, a line a stadium, a square corner a quarter of a disc more outside. */
static void
test_swept(void)
{
  static const struct {
    const char *burn;
    double area;
  } burns[] = {
      {"M3 G4 P1\nM5\n", G_PI},
      {"M3 G1 X10\nM5\n", 20 + G_PI},
      {"M3 G1 X10\nX0\nM5\n", 20 + G_PI}, /* there and back */
      {"M3 G1 X10\nY10\nM5\n", 40 + G_PI - 1 + G_PI / 4},
      {"M3 G1 X10 Y0\nX10 Y10\nX0 Y10\nX0 Y0\nM5\n", 12 * 12 - 4 + G_PI - 8 * 8},
      {"M3 G3 X0 Y0 I5 J0\nM5\n", G_PI * (36 - 16)},   /* a ring */
      {"M3 G3 X0 Y0 I0.5 J0\nM5\n", G_PI * 1.5 * 1.5}, /* its middle goes, too */
      {"M3 G1 X10\nM5\nM3 G1 X20\nM5\n", 40 + G_PI},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(burns); i++) {
    g_autofree char *text = g_strconcat(HEAD, burns[i].burn, "M2\n", NULL);
    g_auto(Run) r = run(text, (HfReplayOptions){0});
    g_assert_cmpfloat_with_epsilon(hf_region_area(r.replay->cut), burns[i].area, 0.03);
    g_assert_true(hf_region_is_valid(r.replay->cut, NULL));
  }
}

/* Half a kerf of 2 mm on either side; the drop leaves its own hole. */
static void
test_pieces(void)
{
  g_auto(Run) r = run(HEAD HOLE RECT "M2\n", (HfReplayOptions){0});
  g_assert_true(hf_replay_is_good(r.replay));
  g_assert_cmpuint(hf_replay_count(r.replay, HF_PIECE_SIGN), ==, 1);
  g_assert_cmpuint(hf_replay_count(r.replay, HF_PIECE_DROP), ==, 1);
  g_assert_cmpfloat_with_epsilon(area_of(&r, HF_PIECE_SIGN), 98.0 * 48 - G_PI * 121, 0.1);
  /* the drop has lost the lead from its middle: 2 mm wide, from a round end at 50 to its rim */
  g_assert_cmpfloat_with_epsilon(area_of(&r, HF_PIECE_DROP), G_PI * 81 - 2 * 9 - G_PI / 2, 0.1);
  g_assert_cmpfloat_with_epsilon(r.replay->cut_length, 300 + 10 + 20 * G_PI, 0.01);
  g_assert_cmpfloat_with_epsilon(r.replay->cut_seconds, (310 + 20 * G_PI) / 1000 * 60, 0.001);
}

/* The hole is cut after its plate fell out. */
static void
test_loose(void)
{
  g_auto(Run) r = run(HEAD RECT HOLE "M2\n", (HfReplayOptions){0});
  const HfReplayFinding *f = finding(&r, "loose");
  g_assert_nonnull(f);
  g_assert_cmpuint(f->line, ==, 10);
  g_assert_nonnull(strstr(f->says, "line 7"));
  g_assert_false(hf_replay_is_good(r.replay));
}

/* A cut across the board after another one, before the outside: what falls apart is one part more.
 */
static void
test_split_by_two(void)
{
  g_auto(Run) r = run(HEAD "G0 X50 Y-2\nM3\nG1 Y30\nM5\nG0 Y52\nM3\nG1 Y28\nM5\n" RECT "M2\n",
                      (HfReplayOptions){0});
  g_assert_cmpuint(hf_replay_count(r.replay, HF_PIECE_SIGN), ==, 2);
  g_assert_null(finding(&r, "loose"));
  g_assert_nonnull(finding(&r, "crosses"));
}

/* Nothing comes loose where 2.1 mm are left open with a kerf of 2. */
static void
test_bridge(void)
{
  static const char *const ends[] = {"X0 Y2.1\n", "X0 Y1.9\n"};
  for (guint i = 0; i < 2; i++) {
    g_autofree char *text =
        g_strconcat(HEAD "G0 X0 Y0\nM3\nG1 X100\nY50\nX0\n", ends[i], "M5\nM2\n", NULL);
    g_auto(Run) r = run(text, (HfReplayOptions){0});
    g_assert_true((finding(&r, "held") != NULL) == (i == 0));
    g_assert_cmpuint(hf_replay_count(r.replay, HF_PIECE_SIGN), ==, i);
  }
}

static void
test_torch(void)
{
  g_auto(Run) twice = run(HEAD RECT RECT "M2\n", (HfReplayOptions){0});
  g_assert_cmpuint(finding(&twice, "nothing-to-cut")->line, ==, 11);
  g_auto(Run) pierced = run(HEAD RECT "G0 X200\nM3\nM5\nM2\n", (HfReplayOptions){0});
  g_assert_cmpuint(finding(&pierced, "only-pierced")->line, ==, 10);
  g_auto(Run) travels = run(HEAD "M3\nG0 X5\nM5\n"
                                 "M2\n",
                            (HfReplayOptions){0});
  g_assert_cmpuint(finding(&travels, "burning-travel")->line, ==, 3);
  g_auto(Run) far = run(HEAD RECT "M2\n", (HfReplayOptions){.table = {{0, 0}, {90, 60}}});
  g_assert_cmpuint(finding(&far, "off-table")->line, ==, 4);
  g_assert_cmpfloat_with_epsilon(finding(&far, "off-table")->amount, 10, 1e-6);
  g_auto(Run) over = run(HEAD HOLE RECT "M2\n", (HfReplayOptions){0});
  g_assert_cmpuint(finding(&over, "over-drops")->line, ==, 7);
}

/* ---- against a design -------------------------------------------------------------------------
 */

static HfRegion *
board(gboolean hole)
{
  g_autoptr(HfOutline) outline = hf_outline_new(), round = hf_outline_new();
  hf_outline_add_rectangle(outline, (HfBox){{1001, 1}, {1099, 49}}, 0);
  hf_outline_add_circle(round, hf_point(1050, 25), 11);
  g_autoptr(HfRegion) plate = hf_region_of_outline(outline, 0, HF_FLATTEN_MM);
  g_autoptr(HfRegion) disc = hf_region_of_outline(round, 1, HF_FLATTEN_MM);
  return hole ? hf_region_subtract(plate, disc) : hf_region_copy(plate);
}

/* Its frame is another one: it is found by what came out. */
static void
test_as_designed(void)
{
  g_autoptr(HfRegion) design = board(TRUE);
  g_auto(Run) r = run(HEAD HOLE RECT "M2\n", (HfReplayOptions){.design = design});
  g_assert_true(hf_replay_is_good(r.replay));
  g_assert_cmpfloat(r.replay->inward, <, 0.01);
  g_assert_cmpfloat(r.replay->outward, <, 0.01);
  g_assert_cmpfloat_with_epsilon(r.replay->laid.x, 1, 0.001);
  g_assert_cmpfloat_with_epsilon(r.replay->laid.y, 1, 0.001);
}

static void
test_not_as_designed(void)
{
  g_autoptr(HfRegion) design = board(TRUE), plain = board(FALSE);
  g_auto(Run) left_out = run(HEAD RECT "M2\n", (HfReplayOptions){.design = design});
  const HfReplayFinding *f = finding(&left_out, "uncut");
  g_assert_nonnull(f);
  g_assert_cmpfloat_with_epsilon(hf_point_distance(f->at, hf_point(50, 25)), 11, 0.1);
  g_auto(Run) too_much = run(HEAD HOLE RECT "M2\n", (HfReplayOptions){.design = plain});
  f = finding(&too_much, "inward");
  g_assert_cmpuint(f->line, >=, 3);
  g_assert_cmpuint(f->line, <=, 5);
  /* the hole's highest place is 25 + 11 from below, the plate's edge 49: 13 mm; its sides are
   * nearer to that edge than to others: 24 mm at their level */
  g_assert_cmpfloat_with_epsilon(f->amount, 24, 0.1);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/replay/swept", test_swept);
  g_test_add_func("/replay/pieces", test_pieces);
  g_test_add_func("/replay/loose", test_loose);
  g_test_add_func("/replay/split-by-two", test_split_by_two);
  g_test_add_func("/replay/bridge", test_bridge);
  g_test_add_func("/replay/torch", test_torch);
  g_test_add_func("/replay/as-designed", test_as_designed);
  g_test_add_func("/replay/not-as-designed", test_not_as_designed);
  return g_test_run();
}
