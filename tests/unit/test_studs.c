/* SPDX-License-Identifier: GPL-3.0-or-later
 * Studs of single pieces: how many, that there is room all round each, that the centre of mass lies
 * within what they span, that mirror images stay so. Closed forms for a disc and a bar.
 */
#include "hold/studs-private.h"

#define NEAR 0.02

static const HfStudAsk six = {6, 3, 250};

/* In its own frame: the centre of mass at 0, 0. */
static HfRegion *
piece_of(const HfOutline *outline)
{
  g_autoptr(HfRegion) given = hf_region_of_outline(outline, HF_NO_SHAPE, HF_FLATTEN_MM);
  HfPoint c = hf_region_centroid(given);
  g_autoptr(HfOutline) moved = hf_outline_new();
  hf_outline_append(moved, outline, hf_matrix_move(-c.x, -c.y));
  return hf_region_of_outline(moved, HF_NO_SHAPE, HF_FLATTEN_MM);
}

static HfRegion *
polygon(const HfPoint *at, guint n)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_polygon(outline, at, n);
  return piece_of(outline);
}

/* The least distance of the centre of mass from a side; < 0 outside. Corners by angle about it,
 * which is right where it lies inside. */
static gboolean
is_inside(const GArray *studs)
{
  for (guint i = 0; i < studs->len; i++) {
    HfPoint p = g_array_index(studs, HfPoint, i);
    double left = 0, right = 0;
    for (guint j = 0; j < studs->len; j++) {
      double side = hf_point_cross(p, g_array_index(studs, HfPoint, j));
      left = fmax(left, side);
      right = fmin(right, side);
    }
    if (!(left > 0 && right < 0)) /* all others on one side of the line through it */
      return FALSE;
  }
  return TRUE;
}

static void
check_room(const HfStudRoom *room, const HfStudAsk *ask, const HfStudChoice *choice)
{
  for (guint i = 0; i < choice->at->len; i++) {
    HfPoint p = g_array_index(choice->at, HfPoint, i);
    g_assert_cmpfloat(hf_stud_room_clear(room, p), >=, ask->diameter / 2 + ask->edge - NEAR);
    for (guint j = 0; j < i; j++)
      g_assert_cmpfloat(hf_point_distance(p, g_array_index(choice->at, HfPoint, j)), >=,
                        2 * ask->diameter - NEAR);
  }
}

static void
check_mirror(const HfStudRoom *room, const HfStudChoice *choice)
{
  for (guint i = 0; i < choice->at->len; i++) {
    HfPoint q = hf_stud_room_mirrored(room, g_array_index(choice->at, HfPoint, i));
    double nearest = INFINITY;
    for (guint j = 0; j < choice->at->len; j++)
      nearest = fmin(nearest, hf_point_distance(q, g_array_index(choice->at, HfPoint, j)));
    g_assert_cmpfloat(nearest, <, NEAR);
  }
}

static HfStudChoice
chosen(const HfRegion *piece, const HfStudAsk *ask, HfStudMirror mirror)
{
  g_autoptr(HfStudRoom) room = hf_stud_room_new(piece, NULL);
  HfStudChoice choice = hf_studs_choose(room, ask);
  g_assert_cmpint(hf_stud_room_mirror(room), ==, mirror);
  check_room(room, ask, &choice);
  if (mirror != HF_STUD_NO_MIRROR)
    check_mirror(room, &choice);
  return choice;
}

/* Three round a circle twice as far from the edge as asked: an equilateral triangle has the centre
 * at half its radius from each side. */
static void
test_disc(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), 60);
  g_autoptr(HfRegion) piece = piece_of(outline);
  g_auto(HfStudChoice) choice = chosen(piece, &six, HF_STUD_UPRIGHT_MIRROR);
  g_assert_cmpuint(choice.at->len, ==, 3);
  g_assert_true(hf_studs_hold(&choice) && !choice.few && is_inside(choice.at));
  for (guint i = 0; i < 3; i++) {
    HfPoint p = g_array_index(choice.at, HfPoint, i);
    g_assert_cmpfloat_with_epsilon(hf_point_length(p), 48, 1);
  }
}

static void
test_narrow(void)
{
  g_autoptr(HfRegion) bar =
      polygon((HfPoint[]){{0, 0}, {200, 0}, {200, 20}, {0, 20}}, 4); /* 8 mm of room across */
  g_auto(HfStudChoice) two = chosen(bar, &six, HF_STUD_UPRIGHT_MIRROR);
  g_assert_true(hf_studs_hold(&two) && two.few);
  g_assert_cmpuint(two.at->len, ==, 2);
  HfPoint a = g_array_index(two.at, HfPoint, 0), b = g_array_index(two.at, HfPoint, 1);
  g_assert_cmpfloat_with_epsilon(a.x + b.x, 0, NEAR);
  g_assert_cmpfloat(a.x * b.x, <, 0);
  g_assert_cmpfloat_with_epsilon(fabs(a.y), 0, 6);
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), 9);
  g_autoptr(HfRegion) dot = piece_of(outline);
  g_auto(HfStudChoice) one = chosen(dot, &six, HF_STUD_UPRIGHT_MIRROR);
  g_assert_true(hf_studs_hold(&one) && one.few);
  g_assert_cmpuint(one.at->len, ==, 1);
  g_assert_cmpfloat_with_epsilon(one.beside, 0, NEAR);
}

static void
test_no_room(void)
{
  g_autoptr(HfRegion) bar = polygon((HfPoint[]){{0, 0}, {200, 0}, {200, 11}, {0, 11}}, 4);
  g_auto(HfStudChoice) none = chosen(bar, &six, HF_STUD_UPRIGHT_MIRROR);
  g_assert_cmpuint(none.at->len, ==, 0);
  g_assert_false(hf_studs_hold(&none));
  static const HfStudAsk four = {4, 3, 250};
  g_auto(HfStudChoice) some = chosen(bar, &four, HF_STUD_UPRIGHT_MIRROR);
  g_assert_true(hf_studs_hold(&some));
}

/* A disc on a long thin arm: there is room in the disc alone, and the mass is out on the arm. */
static void
test_outside(void)
{
  g_autoptr(HfOutline) outline = hf_outline_new();
  hf_outline_add_circle(outline, hf_point(0, 0), 30);
  hf_outline_add_rectangle(outline, (HfBox){{0, -5}, {800, 5}}, 0);
  g_autoptr(HfRegion) piece = piece_of(outline);
  g_auto(HfStudChoice) choice = chosen(piece, &six, HF_STUD_LEVEL_MIRROR);
  g_assert_cmpuint(choice.at->len, >=, 2);
  g_assert_false(hf_studs_hold(&choice));
  double nearest = INFINITY;
  for (guint i = 0; i < choice.at->len; i++)
    nearest = fmin(nearest, hf_point_length(g_array_index(choice.at, HfPoint, i)));
  g_assert_cmpfloat(choice.outside, >, 20);
  g_assert_cmpfloat(choice.outside, <=, nearest + NEAR);
}

/* Three mirror images have their one stud on the line: in an H on its crossbar, with the centre of
 * mass at a corner of what they span. So it gets four. */
static void
test_letters(void)
{
  static const HfPoint h[] = {{0, 0},     {24, 0},   {24, 65}, {76, 65}, {76, 0},   {100, 0},
                              {100, 150}, {76, 150}, {76, 85}, {24, 85}, {24, 150}, {0, 150}};
  static const HfPoint t[] = {{40, 0},    {64, 0},  {64, 126}, {104, 126},
                              {104, 150}, {0, 150}, {0, 126},  {40, 126}};
  static const HfPoint e[] = {{0, 0},   {80, 0},  {80, 24},  {24, 24},  {24, 63},  {70, 63},
                              {70, 87}, {24, 87}, {24, 126}, {80, 126}, {80, 150}, {0, 150}};
  static const HfPoint l[] = {{0, 0}, {80, 0}, {80, 24}, {24, 24}, {24, 150}, {0, 150}};
  static const struct {
    const HfPoint *at;
    guint n, studs;
    HfStudMirror mirror;
  } rows[] = {{h, G_N_ELEMENTS(h), 4, HF_STUD_UPRIGHT_MIRROR},
              {t, G_N_ELEMENTS(t), 3, HF_STUD_UPRIGHT_MIRROR},
              {e, G_N_ELEMENTS(e), 3, HF_STUD_LEVEL_MIRROR},
              {l, G_N_ELEMENTS(l), 3, HF_STUD_NO_MIRROR}};
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_test_message("letter %u", i);
    g_autoptr(HfRegion) piece = polygon(rows[i].at, rows[i].n);
    g_auto(HfStudChoice) choice = chosen(piece, &six, rows[i].mirror);
    g_assert_true(hf_studs_hold(&choice) && !choice.few && is_inside(choice.at));
    g_assert_cmpuint(choice.at->len, ==, rows[i].studs);
  }
}

/* No place with room is out of reach. */
static void
test_reach(void)
{
  g_autoptr(HfRegion) board = polygon((HfPoint[]){{0, 0}, {1600, 0}, {1600, 700}, {0, 700}}, 4);
  g_autoptr(HfStudRoom) room = hf_stud_room_new(board, NULL);
  g_auto(HfStudChoice) choice = hf_studs_choose(room, &six);
  g_autoptr(GArray) spots = hf_stud_spots(room, 6);
  check_room(room, &six, &choice);
  g_assert_cmpuint(choice.at->len, >, 6);
  for (guint i = 0; i < spots->len; i++) {
    double nearest = INFINITY;
    for (guint j = 0; j < choice.at->len; j++)
      nearest = fmin(nearest, hf_point_distance(g_array_index(spots, HfPoint, i),
                                                g_array_index(choice.at, HfPoint, j)));
    g_assert_cmpfloat(nearest, <=, six.reach);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/studs/disc", test_disc);
  g_test_add_func("/studs/narrow", test_narrow);
  g_test_add_func("/studs/no-room", test_no_room);
  g_test_add_func("/studs/outside", test_outside);
  g_test_add_func("/studs/letters", test_letters);
  g_test_add_func("/studs/reach", test_reach);
  return g_test_run();
}
