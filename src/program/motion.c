/* SPDX-License-Identifier: GPL-3.0-or-later
 * motion.c - lines and arcs of a program: NISTIR 6556, 3.5.1 to 3.5.3.
 *
 *      ,--o end        centre form: I J K lead from the start to the centre, always as increments
 *     /  /             radius form: R > 0 the arc of at most half a turn, R < 0 the other one
 *  start--o centre
 */
#include "base/units.h"
#include "program/program-private.h"
#include <string.h>

static const double RADII_MM = 0.002, RADII_INCH = 0.0002; /* 3.5.3.2: may differ by */
static const double LARGEST_RADIUS = 1e6; /* mm; beyond, centres lose their digits */

/* Far below the last digit of any program: what differs by less was rounded on the way here. */
static const double SAME_MM = 1e-7;

/* The two axes of each plane, and the offsets that go with them. */
static const struct {
  guint first, second;
  char first_offset, second_offset, no_offset;
  const char *word;
} planes[] = {
    [HF_PLANE_XY] = {0, 1, 'I', 'J', 'K', "X Y"},
    [HF_PLANE_ZX] = {2, 0, 'K', 'I', 'J', "Z X"},
    [HF_PLANE_YZ] = {1, 2, 'J', 'K', 'I', "Y Z"},
};

HfMove *
hf_reader_put(HfReader *reader, HfMoveKind kind, const double *to)
{
  HfMove move = {.kind = (guint8)kind,
                 .plane = (guint8)reader->plane,
                 .lit = reader->lit,
                 .line = reader->line,
                 .named = reader->named};
  memcpy(move.from, reader->at, sizeof move.from);
  memcpy(move.to, to, sizeof move.to);
  g_array_append_val(reader->program->moves, move);
  memcpy(reader->at, to, sizeof reader->at);
  return &g_array_index(reader->program->moves, HfMove, reader->program->moves->len - 1);
}

static gboolean
refuse_far(const HfReader *reader, char letter, double value, guint column, GError **error)
{
  g_autofree char *figure = hf_reader_figure(value);
  g_autofree char *most = hf_text_run(HF_PROGRAM_FARTHEST_MM, 0);
  return hf_reader_refuse(reader, column, "look whether the unit is right", error,
                          "%c %s lies farther than %s from zero", letter, figure, most);
}

static gboolean
find_target(const HfReader *reader, const HfBlock *block, double *to, GError **error)
{
  gboolean machine = block->of[HF_GROUP_ONCE].column != 0 && block->of[HF_GROUP_ONCE].code == 530;
  memcpy(to, reader->at, sizeof reader->at);
  for (guint axis = 0; axis < HF_AXES; axis++) {
    char letter = hf_axis_letters[axis];
    double unit, zero = reader->origin[reader->system][axis] + reader->shift[axis];
    if (!hf_block_has(block, letter))
      continue;
    guint column = hf_block_column(block, letter);
    if (!hf_reader_unit(reader, axis, column, &unit, error))
      return FALSE;
    double by = hf_block_value(block, letter) * unit;
    to[axis] = machine ? by : reader->incremental ? to[axis] + by : zero + by;
    if (axis < 3 && !(fabs(to[axis]) <= HF_PROGRAM_FARTHEST_MM))
      return refuse_far(reader, letter, hf_block_value(block, letter), column, error);
  }
  return TRUE;
}

/* ---- arcs ----------------------------------------------------------------------------------- */

typedef struct {
  HfPoint from, to;
  gboolean left; /* counter-clockwise */
  double unit;
  guint column; /* of the word that is to blame */
} Arc;

/* From the start to the end the way it turns, > 0 to the left; all round when they are one. */
static double
sweep_about(const Arc *arc, HfPoint centre)
{
  HfPoint a = hf_point_sub(arc->from, centre), b = hf_point_sub(arc->to, centre);
  if (hf_point_distance(arc->from, arc->to) <= SAME_MM)
    return arc->left ? 2 * G_PI : -2 * G_PI;
  double turn = atan2(hf_point_cross(a, b), hf_point_dot(a, b));
  if (arc->left)
    return turn <= 0 ? turn + 2 * G_PI : turn;
  return turn >= 0 ? turn - 2 * G_PI : turn;
}

static gboolean
refuse_radii(const HfReader *reader, const Arc *arc, double start, double end, GError **error)
{
  g_autofree char *a = hf_text_length(start, 4), *b = hf_text_length(end, 4);
  return hf_reader_refuse(reader, arc->column, "check the centre, or give more decimals", error,
                          "the arc starts %s from its centre and ends %s from it", a, b);
}

static gboolean
check_radius(const HfReader *reader, const Arc *arc, double radius, GError **error)
{
  if (radius <= LARGEST_RADIUS)
    return TRUE;
  g_autofree char *most = hf_text_run(LARGEST_RADIUS, 0);
  return hf_reader_refuse(reader, arc->column, "write a straight line", error,
                          "the arc's radius is larger than %s", most);
}

static gboolean
refuse_small(const HfReader *reader, const Arc *arc, double radius, double length, GError **error)
{
  g_autofree char *r = hf_text_length(radius, 4), *away = hf_text_length(length, 4);
  return hf_reader_refuse(reader, arc->column, "check radius and end", error,
                          "a radius of %s is too small to reach an end %s away", r, away);
}

static gboolean
centre_by_offsets(const HfReader *reader, const HfBlock *block, const Arc *arc, HfPoint *ret_centre,
                  GError **error)
{
  char first = planes[reader->plane].first_offset, second = planes[reader->plane].second_offset;
  HfPoint by = {hf_block_has(block, first) ? hf_block_value(block, first) * arc->unit : 0,
                hf_block_has(block, second) ? hf_block_value(block, second) * arc->unit : 0};
  *ret_centre = hf_point_add(arc->from, by);
  double start = hf_point_length(by), end = hf_point_distance(*ret_centre, arc->to);
  double most = arc->unit == 1 ? RADII_MM : RADII_INCH * arc->unit;
  if (!(start > 0 && end > 0))
    return hf_reader_refuse(reader, arc->column, "say where the centre is, as seen from the start",
                            error, "the arc has no radius");
  if (!(fabs(start - end) <= most + 1e-9))
    return refuse_radii(reader, arc, start, end, error);
  return check_radius(reader, arc, start, error);
}

static gboolean
centre_by_radius(const HfReader *reader, const HfBlock *block, const Arc *arc, HfPoint *ret_centre,
                 GError **error)
{
  double r = hf_block_value(block, 'R') * arc->unit, radius = fabs(r);
  HfPoint chord = hf_point_sub(arc->to, arc->from);
  double length = hf_point_length(chord), half = length / 2;
  double most = arc->unit == 1 ? RADII_MM : RADII_INCH * arc->unit;
  if (!(length > SAME_MM))
    return hf_reader_refuse(reader, arc->column, "give the centre by I and J", error,
                            "an arc by its radius can't end where it starts");
  if (!check_radius(reader, arc, radius, error))
    return FALSE;
  if (!(half - radius <= most))
    return refuse_small(reader, arc, radius, length, error);
  double away = sqrt(fmax(radius * radius - half * half, 0));
  HfPoint left = {-chord.y / length, chord.x / length};
  /* at most half a turn: the centre lies on the side to which it turns */
  double side = (r > 0) == arc->left ? away : -away;
  *ret_centre = hf_point_add(hf_point_mix(arc->from, arc->to, 0.5), hf_point_scale(left, side));
  return TRUE;
}

static gboolean
check_arc_words(const HfReader *reader, const HfBlock *block, guint column, GError **error)
{
  char first = planes[reader->plane].first_offset, second = planes[reader->plane].second_offset;
  char no = planes[reader->plane].no_offset;
  gboolean offsets = hf_block_has(block, first) || hf_block_has(block, second);
  if (hf_block_has(block, no))
    return hf_reader_refuse(reader, hf_block_column(block, no), "take it out, or choose the plane",
                            error, "%c says nothing about an arc in the plane of %s", no,
                            planes[reader->plane].word);
  if (!offsets && !hf_block_has(block, 'R'))
    return hf_reader_refuse(reader, column,
                            "say its centre by two of I, J and K, or its radius by R", error,
                            "the arc has neither centre nor radius");
  if (offsets && hf_block_has(block, 'R'))
    return hf_reader_refuse(reader, hf_block_column(block, 'R'), "keep one of them", error,
                            "the arc has a centre and a radius");
  return hf_block_has(block, hf_axis_letters[planes[reader->plane].first]) ||
         hf_block_has(block, hf_axis_letters[planes[reader->plane].second]) ||
         hf_reader_refuse(reader, column, "say where it ends", error,
                          "the arc has neither of the words %s", planes[reader->plane].word);
}

/* No arc may swing out of reach between its ends. */
static gboolean
check_reach(const HfReader *reader, const Arc *arc, HfPoint centre, double sweep, GError **error)
{
  HfCurve curve = {HF_CURVE_ARC, arc->from, arc->to, centre, {0, 0}, sweep};
  HfBox box = hf_curve_box(&curve), most = {{-HF_PROGRAM_FARTHEST_MM, -HF_PROGRAM_FARTHEST_MM},
                                            {HF_PROGRAM_FARTHEST_MM, HF_PROGRAM_FARTHEST_MM}};
  if (hf_box_contains(most, box.min) && hf_box_contains(most, box.max))
    return TRUE;
  g_autofree char *farthest = hf_text_run(HF_PROGRAM_FARTHEST_MM, 0);
  return hf_reader_refuse(reader, arc->column, "check its centre and which way it turns", error,
                          "the arc swings farther than %s from zero", farthest);
}

static gboolean
put_arc(HfReader *reader, const HfBlock *block, const double *to, guint column, GError **error)
{
  guint first = planes[reader->plane].first, second = planes[reader->plane].second;
  if (!check_arc_words(reader, block, column, error))
    return FALSE;
  Arc arc = {{reader->at[first], reader->at[second]},
             {to[first], to[second]},
             reader->motion == 30,
             reader->unit,
             column};
  HfPoint centre = {0, 0};
  if (!(hf_block_has(block, 'R') ? centre_by_radius(reader, block, &arc, &centre, error)
                                 : centre_by_offsets(reader, block, &arc, &centre, error)))
    return FALSE;
  double sweep = sweep_about(&arc, centre);
  if (!check_reach(reader, &arc, centre, sweep, error))
    return FALSE;
  HfMove *move = hf_reader_put(reader, HF_MOVE_ROUND, to);
  move->centre = centre;
  move->sweep = sweep;
  return TRUE;
}

/* ---- all motions ---------------------------------------------------------------------------- */

static gboolean
check_feed(const HfReader *reader, const HfBlock *block, guint column, GError **error)
{
  if (reader->inverse && !hf_block_has(block, 'F'))
    return hf_reader_refuse(reader, column, "say F on this line", error,
                            "after G93 each line that cuts needs its own feed");
  return reader->feed > 0 || hf_reader_refuse(reader, column, "say F before it or on this line",
                                              error, "there is no feed to cut with");
}

static gboolean
check_rotary(const HfReader *reader, const HfBlock *block, GError **error)
{
  for (guint axis = 3; axis < HF_AXES; axis++) {
    guint column = hf_block_column(block, hf_axis_letters[axis]);
    if (column == 0)
      continue;
    reader->program->rotary = TRUE;
    if (reader->lit)
      return hf_reader_refuse(reader, column, "cut flat", error,
                              "the torch burns while axis %c turns", hf_axis_letters[axis]);
  }
  return TRUE;
}

static void
set_feed(const HfReader *reader, HfMove *move)
{
  move->feed = reader->inverse ? reader->feed * hf_move_length(move) : reader->feed * reader->unit;
}

static gboolean
do_motion(HfReader *reader, const HfBlock *block, guint column, GError **error)
{
  double to[HF_AXES];
  if (reader->motion != 0 && !check_feed(reader, block, column, error))
    return FALSE;
  if (!check_rotary(reader, block, error) || !find_target(reader, block, to, error))
    return FALSE;
  if (reader->motion >= 20) {
    if (!put_arc(reader, block, to, column, error))
      return FALSE;
  } else {
    hf_reader_put(reader, reader->motion == 0 ? HF_MOVE_TRAVEL : HF_MOVE_LINE, to);
  }
  if (reader->motion != 0)
    set_feed(reader,
             &g_array_index(reader->program->moves, HfMove, reader->program->moves->len - 1));
  return TRUE;
}

static gboolean
check_machine_words(const HfReader *reader, const HfCode *once, GError **error)
{
  return once->column == 0 || once->code != 530 || reader->motion <= 10 ||
         hf_reader_refuse(reader, once->column, "use it with G0 or G1", error,
                          "G53 goes with straight moves only");
}

/* Group 0 words that take the axis words for themselves. */
static gboolean
takes_axes(const HfCode *once)
{
  return once->column != 0 && (once->code == 100 || once->code == 920);
}

gboolean
hf_reader_move(HfReader *reader, const HfBlock *block, GError **error)
{
  const HfCode *said = &block->of[HF_GROUP_MOTION], *once = &block->of[HF_GROUP_ONCE];
  guint axis = hf_block_first_axis(block), column = said->column != 0 ? said->column : axis;
  if (said->column != 0)
    reader->motion = said->code;
  if (takes_axes(once))
    return said->column == 0 || said->code == 800 ||
           hf_reader_refuse(reader, said->column, "put them on two lines", error,
                            "%s takes the axis words of this line for itself",
                            once->code == 920 ? "G92" : "G10");
  if (reader->motion == 800)
    return axis == 0 || hf_reader_refuse(reader, axis, "say G0, G1, G2 or G3", error,
                                         "nothing says how to move there");
  if (said->column != 0 && axis == 0)
    return hf_reader_refuse(reader, said->column, "say where to", error, "G%d has no axis word",
                            said->code / 10);
  if (!check_machine_words(reader, once, error))
    return FALSE;
  if (once->column != 0 && once->code == 530 && axis == 0)
    return hf_reader_refuse(reader, once->column, "say where to", error, "G53 has no axis word");
  return axis == 0 || do_motion(reader, block, column, error);
}
