/* SPDX-License-Identifier: GPL-3.0-or-later
 * The program reader by worked examples: NISTIR 6556 (the section stands beside each), and geometry
 * that a hand can check. The report's own files: tests/oracle/test_program.py.
 */
#include "program/program.h"
#include <string.h>

static HfProgram *
read_text(const char *text)
{
  g_autoptr(GError) error = NULL;
  HfProgram *program = hf_program_read("p.nc", text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  return program;
}

static const HfMove *
last_of(const HfProgram *program)
{
  return hf_program_move(program, program->moves->len - 1);
}

static void
assert_near(double a, double b)
{
  g_assert_cmpfloat_with_epsilon(a, b, 1e-6);
}

static void
assert_at(const HfMove *move, double x, double y)
{
  assert_near(move->to[0], x);
  assert_near(move->to[1], y);
}

/* ---- values --------------------------------------------------------------------------------- */

static const struct {
  const char *text;
  double value;
} values[] = {
    {"12", 12},
    {"-.5", -0.5},
    {"+0. 12 34", 0.1234}, /* 3.3: blanks within a number */
    {"0.1", 0.1},          /* as strtod has it, bit by bit */
    {"1456.789012345", 1456.789012345},
    {"[2.0 / 3 * 1.5 - 5.5 / 11.0]", 0.5}, /* 3.3.2.3 */
    {"[2 ** 3 ** 2]", 64},                 /* from left to right */
    {"[-7 MOD 4]", 1},
    {"[1 --3]", 4},
    {"[10 - 2 - 3]", 5},
    {"[1 or 1 and 0]", 0}, /* alike: from left to right */
    {"[1 XOR 2]", 0},
    {"atan[1]/[-1]", 135},
    {"round[-0.5]", -1},
    {"fix[-0.499]", -1},
    {"fup[-0.499]", 0},
    {"s q r t [ 16 ]", 4},
    {"abs[0 - 3]", 3},
    {"[[[3]]]", 3},
};

static void
test_values(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(values); i++) {
    g_autofree char *text = g_strdup_printf("g21 g0 x %s\nm2\n", values[i].text);
    g_autoptr(HfProgram) program = read_text(text);
    g_assert_cmpfloat(last_of(program)->to[0], ==, values[i].value);
  }
}

/* 3.3.3: settings of a line take effect after it; ## is the parameter that # names. */
static void
test_parameters(void)
{
  g_autoptr(HfProgram) program = read_text("#3=15\nG21 G0 #3=6 X#3\nX#3 #4=3 #5=4\nX##4\nM2\n");
  static const double expected[] = {15, 6, 6};
  g_assert_cmpuint(program->moves->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    assert_near(hf_program_move(program, i)->to[0], expected[i]);
}

/* ---- arcs ----------------------------------------------------------------------------------- */

static const struct {
  const char *text;
  double x, y, sweep_deg, length; /* centre */
} arcs[] = {
    /* 3.5.3.2: a clockwise arc of radius 5 about (10, 11) */
    {"g0 x7 y7\ng2 x10 y16 i3 j4", 10, 11, -143.130102, 12.490458},
    {"g0 x16 y2.5\ng3 x13.5 y0 i-2.5", 13.5, 2.5, 270, 11.780972},  /* C.1, n0190 */
    {"g0 x32.5 y0\ng2 x32.5 j2.5", 32.5, 2.5, -360, 15.707963},     /* C.1, n0320 */
    {"g0 x64 y4\ng2 x69 r4", 66.5, 0.877501, -77.364375, 5.401052}, /* C.1, n0490 */
    {"g0 x79.5 y0\ng2 j2.5 y5", 79.5, 2.5, -180, 7.853982},         /* C.1, n0590 */
    {"g0 x1 y0\ng3 x0 y1 r1", 0, 0, 90, 1.570796},                  /* R > 0: the short one */
    {"g0 x1 y0\ng3 x0 y1 r-1", 1, 1, 270, 4.712389},                /* R < 0: the long one */
    {"g0 x1 y0\ng2 x0 y1 r-1", 0, 0, -270, 4.712389},
    {"g0 x1 y0\ng2 x0 y1 r1", 1, 1, -90, 1.570796},
    {"g0 x0 y0\ng3 x2 y0 r0.9999", 1, 0, 180, 3.141593},  /* within 0.002 of half way */
    {"g91\ng0 x1 y0\ng3 x-1 y1 i-1", 0, 0, 90, 1.570796}, /* 3.5.17: I J stay increments */
};

static void
test_arcs(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(arcs); i++) {
    g_autofree char *text = g_strdup_printf("g21 f100\n%s\nm2\n", arcs[i].text);
    g_autoptr(HfProgram) program = read_text(text);
    const HfMove *move = last_of(program);
    g_assert_cmpint(move->kind, ==, HF_MOVE_ROUND);
    assert_near(move->centre.x, arcs[i].x);
    assert_near(move->centre.y, arcs[i].y);
    assert_near(move->sweep * 180 / G_PI, arcs[i].sweep_deg);
    assert_near(hf_move_length(move), arcs[i].length);
    assert_near(hf_move_seconds(move), arcs[i].length / 100 * 60);
  }
}

/* G18 turns from Z to X, G19 from Y to Z (3.5.3). A quarter turn with a rise of 3 is a helix. */
static void
test_planes(void)
{
  static const struct {
    const char *text;
    HfPlane plane;
  } planes[] = {{"g17 g3 x0 y1 i-1 z3", HF_PLANE_XY},
                {"g18 g3 z0 x1 k-1 y3", HF_PLANE_ZX},
                {"g19 g3 y0 z1 j-1 x3", HF_PLANE_YZ}};
  static const char *const starts[] = {"x1", "z1", "y1"};
  for (guint i = 0; i < 3; i++) {
    g_autofree char *text = g_strdup_printf("g21 f100 g0 %s\n%s\nm2\n", starts[i], planes[i].text);
    g_autoptr(HfProgram) program = read_text(text);
    const HfMove *move = last_of(program);
    g_assert_cmpint(move->plane, ==, planes[i].plane);
    assert_near(move->sweep, G_PI / 2);
    assert_near(hf_move_length(move), hypot(G_PI / 2, 3));
  }
}

/* ---- order, modes, offsets ------------------------------------------------------------------ */

/* Table 8: the arc burns and waits before the move of its line, whatever stands first. */
static void
test_order(void)
{
  g_autoptr(HfProgram) program =
      read_text("(first) g21\nx10 g4 p0.3 g1 m3 f1200 (letter R)\nx20 m5\nm30\nnot read");
  static const HfMoveKind kinds[] = {HF_MOVE_TORCH_ON, HF_MOVE_WAIT, HF_MOVE_LINE,
                                     HF_MOVE_TORCH_OFF, HF_MOVE_LINE};
  g_assert_cmpuint(program->moves->len, ==, G_N_ELEMENTS(kinds));
  for (guint i = 0; i < G_N_ELEMENTS(kinds); i++) {
    g_assert_cmpint(hf_program_move(program, i)->kind, ==, kinds[i]);
    g_assert_cmpstr(hf_program_name(program, i), ==, "letter R");
    g_assert_cmpuint(hf_program_move(program, i)->line, ==, i < 3 ? 2 : 3);
  }
  assert_near(hf_program_move(program, 1)->seconds, 0.3);
  assert_near(hf_move_seconds(hf_program_move(program, 2)), 0.5);
  g_assert_true(hf_program_move(program, 2)->lit);
  g_assert_false(hf_program_move(program, 4)->lit);
  g_assert_cmpuint(program->lines, ==, 4);
}

static const struct {
  const char *text;
  double x, y;
} places[] = {
    {"g20 g0 x1 y2", 25.4, 50.8},
    {"g21 g0 x1 y2\ng20 x1", 25.4, 2},
    {"g21 g91 g0 x1 y2\nx1 y1", 2, 3},
    {"g21 g10 l2 p1 x10 y20\ng0 x1 y2", 11, 22},
    {"g21 g10 l2 p3 x10\ng56 g0 x1\ng54 y2", 11, 2},
    {"g21 g10 l2 p9 y5\ng59.3 g0 x0 y0", 0, 5},
    {"g21 g0 x5 y5\ng92 x0\nx1", 6, 5},
    {"g21 g0 x5 y5\ng92 x0\ng10 l2 p1 y3\ng0 x1 y0", 6, 3},
    {"g21 g0 x5 y5\ng92 x0\ng92 y0\ng0 x1 y1", 6, 6},
    {"g21 g0 x5\ng92 x0\ng53 x1", 1, 0},
    {"g21 g0 x5\ng92 x0\ng92.2\nx1\ng92.3\nx1", 6, 0},
    {"g21 g0 x5\ng92 x0\ng92.1\ng92.3\nx1", 1, 0},
    {"g21 g0 x5\ng92 x0\nx#5211", 10, 0}, /* 3.2.1: parameter 5211 */
    {"g20 g10 l2 p2 x2\ng0 x#5241", 50.8, 0},
    {"g21 g55\ng0 x#5220", 2, 0},
    {"%\ng21 g0 x1\n%\nx2", 1, 0}, /* 3.1: the second % ends it */
};

static void
test_places(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(places); i++) {
    g_autofree char *text = g_strdup_printf("%s\nm2\n", places[i].text);
    g_autoptr(HfProgram) program = read_text(text);
    assert_at(last_of(program), places[i].x, places[i].y);
  }
}

/* 3.5.19: after G93 a line takes 1/F minutes. */
static void
test_inverse_time(void)
{
  g_autoptr(HfProgram) program = read_text("g21 g93 g1 x30 f4\nm2\n");
  assert_near(hf_move_seconds(last_of(program)), 15);
}

/* ---- errors --------------------------------------------------------------------------------- */

static const struct {
  const char *text, *where, *says;
} errors[] = {
    {"g21\ng17 x0 g18\nm2", "p.nc:2:8", "G17 and G18 are of one group"}, /* Table 4 */
    {"g21 m3 m5\nm2", "p.nc:1:8", "of one group"},
    {"(a (b)\nm2", "p.nc:1:4", "within a comment"}, /* 3.3.4 */
    {"g21\n  (a\nm2", "p.nc:2:3", "no end"},
    {"n000009 g21\nm2", "p.nc:1:1", "6 digits"}, /* 3.3.1 */
    {"g21 n9\nm2", "p.nc:1:5", "begins with N"},
    {"g21 g0 x1\n", "p.nc:1:1", "no end"}, /* 3.1 */
    {"%\ng21\nm2\n", "p.nc:1:1", "no other line"},
    {"g21\n%\n", "p.nc:2:1", "no % began"},
    {"g21 g0 x7 y7\ng2 f9 x10 y16.003 i3 j4\nm2", "p.nc:2:1",
     "starts 5 mm from its centre and ends 5.003 mm"},             /* 3.5.3.2 */
    {"g21 g0 x7 y7\ng2 f9 x7 y7 r4\nm2", "p.nc:2:1", "can't end"}, /* 3.5.3.1 */
    {"g21 g2 f9 x9 r4\nm2", "p.nc:1:5", "too small"},
    {"g21 g2 f9 x9\nm2", "p.nc:1:5", "neither centre nor radius"},
    {"g21 g2 f9 x9 i1 r4\nm2", "p.nc:1:17", "a centre and a radius"},
    {"g21 g2 f9 i1\nm2", "p.nc:1:11", "I belongs to"},
    {"g21 g2 f9 z1 i1\nm2", "p.nc:1:5", "neither of the words X Y"},
    {"g21 g2 f9 x1 k1\nm2", "p.nc:1:14", "K says nothing"},
    {"g21 g1 x1\nm2", "p.nc:1:5", "no feed"}, /* 3.5.2 */
    {"g21 f1 g1 x1\ng20 x2\nm2", "p.nc:2:5", "no feed"},
    {"g21 g93 f1 g1 x1\nx2\nm2", "p.nc:2:1", "its own feed"},
    {"g21 g0\nm2", "p.nc:1:5", "no axis word"},
    {"g21 x1\nm2", "p.nc:1:5", "nothing says how to move"},
    {"g0 x1\nm2", "p.nc:1:4", "mm or inches"},
    {"g21 g0 x1 x2\nm2", "p.nc:1:11", "stands twice"},
    {"g21 g0 x1 g92 y1\nm2", "p.nc:1:5", "takes the axis words"},
    {"g21 g92\nm2", "p.nc:1:5", "no axis word"},
    {"g4 p-1\nm2", "p.nc:1:1", "not below 0"}, /* 3.5.4 */
    {"g21 g0 x[1/0]\nm2", "p.nc:1:11", "no number"},
    {"g21 g0 xsqrt[-1]\nm2", "p.nc:1:9", "no sqrt of -1"},
    {"g21 g0 xln[0]\nm2", "p.nc:1:9", "no ln of 0"},
    {"g21 g0 xasin[1.1]\nm2", "p.nc:1:9", "no asin of 1.1"},
    {"g21 g0 x[1 [2]]\nm2", "p.nc:1:12", "where an operation or a ]"},
    {"g21 g0 x[1\nm2", "p.nc:1:11", "the line ends"},
    {"g21 g0 x-[1]\nm2", "p.nc:1:9", "a number"},
    {"g21 g0 x1e3\nm2", "p.nc:1:10", "begins with E"},
    {"g21 g0 x#7\nm2", "p.nc:1:10", "never set"},
    {"#5400=1\nm2", "p.nc:1:2", "no parameter 5400"},
    {"#0=1\nm2", "p.nc:1:2", "no parameter 0"},
    {"#1.5=1\nm2", "p.nc:1:2", "no parameter 1.5"},
    {"#5221=1\nm2", "p.nc:1:2", "the machine's own"},
    {"g21 g41 d1\nm2", "p.nc:1:5", "G41 is not read"},
    {"g21 g81 x1 r1 z1\nm2", "p.nc:1:5", "G81 is not read"},
    {"g28 x0\nm2", "p.nc:1:1", "G28 is not read"},
    {"g5 x0\nm2", "p.nc:1:1", "no G5"},
    {"m98\nm2", "p.nc:1:1", "no M98"},
    {"o100 sub\nm2", "p.nc:1:1", "begins with O"},
    {"/g21\nm2", "p.nc:1:1", "a switch at the machine"},
    {"g21 ; mm\nm2", "p.nc:1:5", "belongs to no word"},
    {"g21 p1\nm2", "p.nc:1:5", "P belongs to"},
    {"g21 g0 x15001\nm2", "p.nc:1:8", "farther than"},
    {"g21 g0 x14999\nm3 g3 f1 x14999 y1 r-500\nm2", "p.nc:2:4", "swings farther"},
    {"m0 m3 m6 m7 m48\nm2", "p.nc:1:13", "at most 4 M words"}, /* 3.3.5 */
    {"g21 m3 g1 f1 a1\nm2", "p.nc:1:14", "axis A turns"},
    {"g21 g53 g2 f1 x1 r1\nm2", "p.nc:1:5", "straight moves"},
    {"g10 l3 p1\nm2", "p.nc:1:5", "L can't be 3"},
    {"g10 l2 p10\nm2", "p.nc:1:8", "P can't be 10"},
};

static void
test_errors(void)
{
  for (gsize i = 0; i < G_N_ELEMENTS(errors); i++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(HfProgram) program =
        hf_program_read("p.nc", errors[i].text, strlen(errors[i].text), NULL, &error);
    g_test_message("%s", errors[i].text);
    g_assert_null(program);
    g_assert_error(error, HF_ERROR, HF_ERROR_BAD_VALUE);
    g_assert_cmpstr(hf_error_where(error), ==, errors[i].where);
    g_assert_nonnull(strstr(error->message, errors[i].says));
    g_assert_nonnull(hf_error_fix(error));
  }
}

/* 256 characters are a line, 257 are none; 32 brackets in each other are, 33 are not. */
static void
test_caps(void)
{
  for (guint over = 0; over < 2; over++) {
    g_autofree char *fill = g_strnfill(256 - 6 + over, 'x');
    g_autofree char *open = g_strnfill(31 + over, '['), *close = g_strnfill(31 + over, ']');
    g_autofree char *long_line = g_strdup_printf("g21 (%s)\nm2", fill);
    g_autofree char *deep = g_strdup_printf("g21 g0 x%s1%s\nm2", open, close);
    const char *const texts[] = {long_line, deep};
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
      g_autoptr(GError) error = NULL;
      g_autoptr(HfProgram) program =
          hf_program_read("p.nc", texts[i], strlen(texts[i]), NULL, &error);
      g_assert_true((program == NULL) == (over == 1));
    }
  }
}

static void
test_cancelled(void)
{
  HfCancel cancel = {0};
  hf_cancel_ask(&cancel);
  g_autoptr(GString) text = g_string_new("g21 f100\n");
  for (guint i = 0; i < 2000; i++)
    g_string_append(text, "g1 x1\n");
  g_string_append(text, "m2\n");
  g_autoptr(GError) error = NULL;
  g_assert_null(hf_program_read("p.nc", text->str, text->len, &cancel, &error));
  g_assert_error(error, HF_ERROR, HF_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/program/values", test_values);
  g_test_add_func("/program/parameters", test_parameters);
  g_test_add_func("/program/arcs", test_arcs);
  g_test_add_func("/program/planes", test_planes);
  g_test_add_func("/program/order", test_order);
  g_test_add_func("/program/places", test_places);
  g_test_add_func("/program/inverse-time", test_inverse_time);
  g_test_add_func("/program/errors", test_errors);
  g_test_add_func("/program/caps", test_caps);
  g_test_add_func("/program/cancelled", test_cancelled);
  return g_test_run();
}
