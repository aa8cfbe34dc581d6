/* SPDX-License-Identifier: GPL-3.0-or-later
 * written.c - a cut plan as RS-274/NGC.
 */
#include "program/written.h"
#include "base/text.h"
#include <string.h>

enum { LONGEST_COMMENT = 100 };
#define MM_PER_INCH     25.4
#define LEAST_RADIUS_MM 0.005  /* of an arc: both its radii must agree after rounding */
#define LEAST_MOVE_MM   0.003  /* what is shorter goes into the next move */
#define FLAT_MM         0.0005 /* rise of an arc that is written as a line */

typedef struct {
  const HfPlan *plan;
  const HfProgramForm *form;
  GString *text;
  HfPoint at;  /* where the torch is, as written: in the program's unit, rounded */
  double feed; /* as said last; 0: not said */
  gint held;   /* -1: not said */
} Writing;

/* ---- words ------------------------------------------------------------------------------------
 */

char *
hf_program_comment(const char *text)
{
  g_autofree char *ascii = g_str_to_ascii(text, "C");
  GString *comment = g_string_new(NULL);
  for (const char *c = ascii; *c != '\0' && comment->len < LONGEST_COMMENT; c++) {
    char put = *c;
    if (put == '(')
      put = '[';
    else if (put == ')')
      put = ']';
    else if (put < ' ' || put > '~')
      put = '?';
    g_string_append_c(comment, put);
  }
  return g_string_free(comment, FALSE);
}

static void
put_line(Writing *writing, const char *line)
{
  g_string_append(writing->text, line);
  g_string_append_c(writing->text, '\n');
}

static void
put_comment(Writing *writing, const char *text)
{
  g_autofree char *comment = hf_program_comment(text);
  g_string_append_printf(writing->text, "(%s)\n", comment);
}

static double
unit_of(const Writing *writing)
{
  return writing->form->inches ? MM_PER_INCH : 1;
}

static int
decimals_of(const Writing *writing)
{
  return writing->form->inches ? 5 : 4;
}

static double
rounded(const Writing *writing, double value)
{
  double steps = writing->form->inches ? 1e5 : 1e4;
  return rint(value * steps) / steps;
}

/* A place of the plan in the program's unit, as it will be written. */
static HfPoint
place_of(const Writing *writing, HfPoint p)
{
  double unit = unit_of(writing);
  return hf_point(rounded(writing, p.x / unit), rounded(writing, p.y / unit));
}

static void
put_number(Writing *writing, char letter, double value)
{
  g_string_append_c(writing->text, ' ');
  g_string_append_c(writing->text, letter);
  hf_text_append(writing->text, value == 0 ? 0 : value, decimals_of(writing));
}

static void
put_place(Writing *writing, HfPoint to)
{
  put_number(writing, 'X', to.x);
  put_number(writing, 'Y', to.y);
  writing->at = to;
}

/* ---- moves ------------------------------------------------------------------------------------
 */

static void
put_travel(Writing *writing, HfPoint to)
{
  HfPoint place = place_of(writing, to);
  if (place.x == writing->at.x && place.y == writing->at.y)
    return;
  g_string_append(writing->text, "G0");
  put_place(writing, place);
  g_string_append_c(writing->text, '\n');
}

static void
put_feed(Writing *writing, gboolean slow)
{
  double mm = writing->form->feed * (slow ? writing->form->slow : 1);
  double feed = rint(mm / unit_of(writing) * 10) / 10;
  if (feed == writing->feed)
    return;
  g_string_append(writing->text, " F");
  hf_text_append(writing->text, feed, 1);
  writing->feed = feed;
}

static void
put_height(Writing *writing, gboolean held)
{
  const HfProgramForm *form = writing->form;
  if (form->height_held == NULL || form->height_free == NULL || writing->held == (gint)held)
    return;
  put_line(writing, held ? form->height_held : form->height_free);
  writing->held = held;
}

/* @centre put where it is as far from @a as from @b. */
static HfPoint
on_bisector(HfPoint a, HfPoint b, HfPoint centre)
{
  HfPoint middle = hf_point_mix(a, b, 0.5), chord = hf_point_sub(b, a);
  double square = hf_point_dot(chord, chord);
  double off = hf_point_dot(hf_point_sub(centre, middle), chord) / square;
  return hf_point_sub(centre, hf_point_scale(chord, off));
}

static gboolean
is_flat(const HfCurve *curve)
{
  return curve->kind != HF_CURVE_ARC || hf_curve_radius(curve) < LEAST_RADIUS_MM ||
         (fabs(curve->sweep) < 1 && hf_curve_radius(curve) * (1 - cos(curve->sweep / 2)) < FLAT_MM);
}

static void
put_arc(Writing *writing, const HfCurve *curve, HfPoint to)
{
  HfPoint from = writing->at, centre = hf_point_scale(curve->c0, 1 / unit_of(writing));
  if (from.x != to.x || from.y != to.y)
    centre = on_bisector(from, to, centre);
  g_string_append(writing->text, curve->sweep < 0 ? "G2" : "G3");
  put_place(writing, to);
  put_number(writing, 'I', rounded(writing, centre.x - from.x));
  put_number(writing, 'J', rounded(writing, centre.y - from.y));
}

static void
put_stretch(Writing *writing, const HfCutStretch *stretch, gboolean is_last)
{
  HfPoint to = place_of(writing, stretch->curve.p1);
  double apart = hf_point_distance(to, writing->at) * unit_of(writing);
  gboolean still = apart == 0 || (apart < LEAST_MOVE_MM && !is_last);
  if (still && (is_flat(&stretch->curve) || fabs(stretch->curve.sweep) < G_PI))
    return;
  put_height(writing, stretch->is_held);
  if (is_flat(&stretch->curve)) {
    g_string_append(writing->text, "G1");
    put_place(writing, to);
  } else
    put_arc(writing, &stretch->curve, to);
  put_feed(writing, stretch->is_slow);
  g_string_append_c(writing->text, '\n');
}

/* ---- cuts -------------------------------------------------------------------------------------
 */

static void
put_wait(Writing *writing)
{
  if (!(writing->form->pierce_delay > 0))
    return;
  g_string_append(writing->text, "G4 P");
  hf_text_append(writing->text, writing->form->pierce_delay, 2);
  g_string_append_c(writing->text, '\n');
}

static void
put_cut(Writing *writing, guint i)
{
  const HfCut *cut = hf_plan_cut(writing->plan, i);
  g_autofree char *name = g_strdup_printf("%u: %s", i + 1, cut->name);
  put_comment(writing, name);
  gboolean comes_from_there = i > writing->form->from || i == 0;
  for (guint k = 0; k < cut->n_via && comes_from_there; k++)
    put_travel(writing, g_array_index(writing->plan->vias, HfPoint, cut->first_via + k));
  put_travel(writing, cut->pierce);
  put_height(writing, TRUE);
  put_line(writing, writing->form->arc_on);
  put_wait(writing);
  for (guint k = 0; k < cut->n; k++)
    put_stretch(writing, hf_plan_stretch(writing->plan, cut->first + k), k + 1 == cut->n);
  put_line(writing, writing->form->arc_off);
}

static void
put_lines(Writing *writing, const char *const *lines)
{
  for (guint i = 0; lines != NULL && lines[i] != NULL; i++)
    put_line(writing, lines[i]);
}

static void
put_head(Writing *writing)
{
  const HfProgramForm *form = writing->form;
  for (guint i = 0; form->says != NULL && form->says[i] != NULL; i++)
    put_comment(writing, form->says[i]);
  if (form->from > 0) {
    g_autofree char *from =
        g_strdup_printf("goes on from cut %u: see that all before it are done", form->from + 1);
    put_comment(writing, from);
  }
  put_line(writing, form->inches ? "G20 G17 G40 G90 G94" : "G21 G17 G40 G90 G94");
  put_lines(writing, form->before);
}

static void
put_tail(Writing *writing)
{
  const GArray *vias = writing->plan->vias;
  for (guint i = vias->len - writing->plan->n_home; i < vias->len; i++)
    put_travel(writing, g_array_index(vias, HfPoint, i));
  put_travel(writing, hf_point(0, 0));
  put_lines(writing, writing->form->after);
  put_line(writing, "M2");
}

char *
hf_program_write(const HfPlan *plan, const HfProgramForm *form)
{
  Writing writing = {plan, form, g_string_new(NULL), {0, 0}, 0, -1};
  put_head(&writing);
  for (guint i = form->from; i < plan->cuts->len; i++)
    put_cut(&writing, i);
  put_tail(&writing);
  return g_string_free(writing.text, FALSE);
}
