/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_written.c - programs that are written, read back by the reader of the report's language.
 */
#include "program/program.h"
#include "program/written.h"
#include "run/run.h"
#include <math.h>
#include <string.h>

typedef struct {
  HfSign *sign;
  HfPaths *paths;
  HfPlan *plan;
} Case;

static Case
case_of(const char *name)
{
  static const char text[] =
      "holdfast: 1\nsign: Piece\nmetal: {kind: mild steel, thickness: 3 mm}\n"
      "process: {kerf: 1.5 mm}\nentries:\n"
      "  - plate: {name: board, shape: oval, width: 200 mm, height: 100 mm}\n"
      "  - hole: {diameter: 20 mm, on: board, at: [[-60 mm, 0 mm], [60 mm, 0 mm]]}\n";
  g_autoptr(GError) error = NULL;
  HfRunOptions run = {.shown = TRUE};
  g_autoptr(HfSign) made = hf_run_text(text, strlen(text), "piece.yaml", &run, &error);
  g_assert_no_error(error);
  Case one = {.sign = hf_sign_fitted(made)};
  HfLeadOptions options = {1.5, 1.5, 3, FALSE, NULL};
  const char *names[] = {name, name, name};
  one.paths =
      hf_paths_new(one.sign->metal, one.sign->fit, one.sign->layout, names, &options, NULL, &error);
  HfPlaced placed = {.paths = one.paths, .at = {120.123456, 60.654321}};
  HfPlanTable table = {.travel_speed = 100, .acceleration = 1000, .slat_pitch = 75};
  one.plan = hf_plan_new(&placed, 1, &table, 3, 0, NULL, &error);
  g_assert_no_error(error);
  return one;
}

static void
case_clear(Case *one)
{
  hf_plan_free(one->plan);
  hf_paths_free(one->paths);
  hf_sign_free(one->sign);
}

static const HfProgramForm USUAL = {
    .feed = 2600, .slow = 0.6, .pierce_delay = 0.4, .arc_on = "M3", .arc_off = "M5"};

static HfProgram *
read_back(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfProgram *program = hf_program_read("cut.nc", text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  return program;
}

/* Each burning move goes where a stretch does, in order; what was left out is short. */
static void
check_moves(const HfPlan *plan, const HfProgram *program, double within)
{
  guint k = 0, burning = 0;
  for (guint i = 0; i < program->moves->len; i++) {
    const HfMove *move = hf_program_move(program, i);
    if (!move->lit || (move->kind != HF_MOVE_LINE && move->kind != HF_MOVE_ROUND))
      continue;
    burning++;
    for (;; k++) {
      g_assert_cmpuint(k, <, plan->stretches->len);
      HfPoint to = hf_plan_stretch(plan, k)->curve.p1;
      if (hf_point_distance(to, hf_point(move->to[0], move->to[1])) < within)
        break;
    }
    const HfCutStretch *stretch = hf_plan_stretch(plan, k++);
    if (move->kind == HF_MOVE_ROUND) {
      double a = hf_point_distance(move->centre, hf_point(move->from[0], move->from[1]));
      double b = hf_point_distance(move->centre, hf_point(move->to[0], move->to[1]));
      g_assert_cmpfloat_with_epsilon(a, b, 0.0005);
      g_assert_cmpfloat_with_epsilon(a, hf_curve_radius(&stretch->curve), 0.005);
      g_assert_true((move->sweep > 0) == (stretch->curve.sweep > 0));
    }
  }
  g_assert_cmpuint(burning, >, 20);
}

static void
check_lines(const char *text)
{
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    g_assert_cmpuint(strlen(lines[i]), <, 256);
}

static void
test_mm(void)
{
  Case one = case_of("hole");
  g_autofree char *text = hf_program_write(one.plan, &USUAL);
  check_lines(text);
  g_autoptr(HfProgram) program = read_back(text);
  g_assert_false(program->inches);
  check_moves(one.plan, program, 1e-4);
  guint on = 0;
  double waited = 0, slow = 0, fast = 0;
  for (guint i = 0; i < program->moves->len; i++) {
    const HfMove *move = hf_program_move(program, i);
    on += move->kind == HF_MOVE_TORCH_ON;
    waited += move->seconds;
    slow += move->lit && move->feed == 1560 ? hf_move_length(move) : 0;
    fast += move->lit && move->feed == 2600 ? hf_move_length(move) : 0;
  }
  g_assert_cmpuint(on, ==, 3);
  g_assert_cmpfloat_with_epsilon(waited, 1.2, 1e-9);
  g_assert_cmpfloat_with_epsilon(slow + fast, one.plan->length, 0.01);
  g_assert_cmpfloat(slow, >, 2 * 18.5 * G_PI); /* both holes */
  case_clear(&one);
}

static void
test_inches(void)
{
  Case one = case_of("hole");
  HfProgramForm form = USUAL;
  form.inches = TRUE;
  g_autofree char *text = hf_program_write(one.plan, &form);
  g_autoptr(HfProgram) program = read_back(text);
  g_assert_true(program->inches);
  check_moves(one.plan, program, 3e-4);
  case_clear(&one);
}

static void
test_words(void)
{
  Case one = case_of("hole");
  const char *before[] = {"M7", NULL}, *after[] = {"M9", NULL}, *says[] = {"harbour", NULL};
  HfProgramForm form = USUAL;
  form.height_held = "M62P1";
  form.height_free = "M63P1";
  form.before = before;
  form.after = after;
  form.says = says;
  g_autofree char *text = hf_program_write(one.plan, &form);
  g_assert_true(g_str_has_prefix(text, "(harbour)\nG21 G17 G40 G90 G94\nM7\n"));
  g_assert_true(g_str_has_suffix(text, "M9\nM2\n"));
  g_assert_nonnull(strstr(text, "M62P1\nM3\nG4 P0.4\n"));
  g_assert_nonnull(strstr(text, "M63P1\nG"));
  case_clear(&one);
}

/* From the second cut on: as many arcs struck as are left, the head says so. */
static void
test_from(void)
{
  Case one = case_of("hole");
  HfProgramForm form = USUAL;
  form.from = 1;
  g_autofree char *text = hf_program_write(one.plan, &form);
  g_assert_true(g_str_has_prefix(text, "(goes on from cut 2: see that all before it are done)\n"));
  g_autoptr(HfProgram) program = read_back(text);
  guint on = 0;
  for (guint i = 0; i < program->moves->len; i++)
    on += hf_program_move(program, i)->kind == HF_MOVE_TORCH_ON;
  g_assert_cmpuint(on, ==, 2);
  case_clear(&one);
}

/* Whatever somebody calls a letter, the program reads the same. */
static void
test_names(void)
{
  static const char *const names[] = {"a (b) c",
                                      "x)\nM3\nG1 X0 Y0\n(",
                                      "Jürgen",
                                      "\xd7\xa9\xd7\x9c",
                                      "MSG, stop it",
                                      "\x1b[2J",
                                      "%",
                                      "\xff\xfe"};
  Case plain = case_of("hole");
  g_autofree char *usual = hf_program_write(plain.plan, &USUAL);
  g_autoptr(HfProgram) expected = read_back(usual);
  for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
    Case one = case_of(names[i]);
    g_autofree char *text = hf_program_write(one.plan, &USUAL);
    for (const char *c = text; *c != '\0'; c++)
      g_assert_true(*c == '\n' || (*c >= ' ' && *c <= '~'));
    check_lines(text);
    g_autoptr(HfProgram) program = read_back(text);
    g_assert_cmpuint(program->moves->len, ==, expected->moves->len);
    case_clear(&one);
  }
  g_autofree char *comment = hf_program_comment("Jürgen (2)");
  g_assert_cmpstr(comment, ==, "Jurgen [2]");
  case_clear(&plain);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/written/mm", test_mm);
  g_test_add_func("/written/inches", test_inches);
  g_test_add_func("/written/words", test_words);
  g_test_add_func("/written/from", test_from);
  g_test_add_func("/written/names", test_names);
  return g_test_run();
}
