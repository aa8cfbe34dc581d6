/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-parted.c - standing letters that an opening cut in two: each half is held by something, so
 * it is no loose part, and most of the edge is there, but the letter is none.
 *
 *      |\  /|                   What is left of the letter's own area is looked at by itself,
 * without | \ *   <- star          what it stands on or touches: the legs of the M hang together
 * only |  * |      cut out      through the rail.
 *    ==+====+==
 *
 * Tried together are letters whose boxes lie apart, so that each piece of what is left belongs to
 * one of them; a line of words takes two turns. Cost: a boolean with the whole metal for each turn.
 * Letters that are cut through are crossed by ties, and fall in two rightly. No source.
 */
#include "hold/ink-private.h"

#define COARSE_MM 0.05
#define LITTLE    0.05 /* of the letter's piece: less than that is a crumb, not a half */
#define INSIDE    1e-3 /* mm: of a part, and surely of the letter that it is part of */

typedef struct {
  HfCheck *check;
  guint shape;
  HfRegion *ink; /* as laid, with what mends it */
  HfBox box;
  GArray *halves; /* Half: of what is left */
} Letter;

typedef struct {
  guint piece; /* ring of `ink` */
  double area;
  HfPoint at;
} Half;

/* The letter as the recipe made it and the metal that mending gave it. (transfer full) */
static HfRegion *
ink_of(const HfCheck *check, guint shape)
{
  const HfLayout *layout = check->layout;
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = shape; s < layout->shapes->len; s++) {
    const HfShape *of = hf_layout_shape(layout, s);
    if (s == shape || (of->mends == shape + 1 && !of->opening))
      hf_region_flatten(rings, of->outline, s, COARSE_MM);
  }
  return hf_region_clean(rings);
}

static void
letter_clear(gpointer data)
{
  Letter *letter = data;
  hf_region_free(letter->ink);
  g_array_unref(letter->halves);
}

/* ---- what is left ------------------------------------------------------------------------------
 */

static guint
piece_at(const HfRegion *ink, HfPoint p)
{
  for (guint r = 0; r < ink->rings->len; r++)
    if (hf_region_ring(ink, r)->parent < 0 && hf_ring_holds(hf_region_ring(ink, r), p))
      return r;
  return HF_NO_SHAPE;
}

static void
share_out(GArray *turn, const HfRegion *left)
{
  for (guint r = 0; r < left->rings->len; r++) {
    const HfRing *ring = hf_region_ring(left, r);
    if (ring->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(left, r);
    HfPoint p = hf_ring_beside(ring, INSIDE);
    for (guint i = 0; i < turn->len; i++) {
      const Letter *letter = g_array_index(turn, Letter *, i);
      Half half = {0, hf_region_area(part), p};
      if (!hf_box_contains(letter->box, p))
        continue;
      half.piece = piece_at(letter->ink, p);
      g_array_append_val(letter->halves, half);
      break;
    }
  }
}

/* ---- saying ------------------------------------------------------------------------------------
 */

static void
report(const Letter *letter, guint n, HfPoint at)
{
  HfFinding *finding = hf_check_add(letter->check, HF_LAW_CHANGED_LETTER, 0, at);
  if (finding == NULL)
    return;
  hf_finding_name(letter->check, finding, letter->shape);
  hf_finding_form(finding, "parted");
  hf_finding_say(finding, "an opening cuts it into %u pieces where one is drawn", n);
  hf_finding_fix(finding, "move what cuts it to where no letter is, or make it smaller");
}

static double
area_of(const Letter *letter, guint piece)
{
  double area = 0;
  for (guint i = 0; i < letter->halves->len; i++) {
    const Half *half = &g_array_index(letter->halves, Half, i);
    area += half->piece == piece ? half->area : 0;
  }
  return area;
}

/* Is the piece in several parts? Told of the first one that is, at its smallest part. */
static gboolean
judge_piece(const Letter *letter, guint piece)
{
  double least = LITTLE * area_of(letter, piece), smallest = INFINITY;
  HfPoint at = {0, 0};
  guint n = 0;
  for (guint i = 0; i < letter->halves->len; i++) {
    const Half *half = &g_array_index(letter->halves, Half, i);
    if (half->piece != piece || half->area < least)
      continue;
    n++;
    at = half->area < smallest ? half->at : at;
    smallest = fmin(smallest, half->area);
  }
  if (n > 1)
    report(letter, n, at);
  return n > 1;
}

static void
judge(const Letter *letter)
{
  for (guint r = 0; r < letter->ink->rings->len; r++)
    if (judge_piece(letter, r))
      return;
}

/* ---- turns -------------------------------------------------------------------------------------
 */

/* Takes letters whose boxes lie apart out of @letters. (transfer full) (element-type Letter *) */
static GArray *
next_turn(GPtrArray *letters, HfRegion *together)
{
  GArray *turn = g_array_new(FALSE, FALSE, sizeof(Letter *));
  for (guint i = 0; i < letters->len; i++) {
    Letter *letter = letters->pdata[i];
    gboolean free = letter != NULL;
    for (guint k = 0; free && k < turn->len; k++)
      free = !hf_box_overlaps(hf_box_grow(letter->box, 1), g_array_index(turn, Letter *, k)->box);
    if (!free)
      continue;
    g_array_append_val(turn, letter);
    letters->pdata[i] = NULL;
    for (guint r = 0; r < letter->ink->rings->len; r++) {
      const HfRing *ring = hf_region_ring(letter->ink, r);
      hf_region_add_ring(together, ring->at, NULL, ring->n);
    }
  }
  return turn;
}

gboolean
hf_reads_check_parted(HfCheck *check, const GArray *shapes, GError **error)
{
  g_autoptr(GArray) letters = g_array_sized_new(FALSE, TRUE, sizeof(Letter), shapes->len);
  g_autoptr(GPtrArray) waiting = g_ptr_array_new();
  g_array_set_clear_func(letters, letter_clear);
  for (guint i = 0; i < shapes->len; i++) {
    Letter letter = {.check = check, .shape = g_array_index(shapes, guint, i)};
    letter.ink = ink_of(check, letter.shape);
    letter.box = hf_region_box(letter.ink);
    letter.halves = g_array_new(FALSE, FALSE, sizeof(Half));
    g_array_append_val(letters, letter);
  }
  for (guint i = 0; i < letters->len; i++)
    g_ptr_array_add(waiting, &g_array_index(letters, Letter, i));
  for (;;) {
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    g_autoptr(HfRegion) rings = hf_region_new();
    g_autoptr(GArray) turn = next_turn(waiting, rings);
    if (turn->len == 0)
      break;
    g_autoptr(HfRegion) together = hf_region_clean(rings);
    g_autoptr(HfRegion) left = hf_region_intersect(together, check->metal->region);
    hf_cancel_count(check->cancel, hf_region_n_edges(check->metal->region));
    share_out(turn, left);
  }
  for (guint i = 0; i < letters->len; i++)
    judge(&g_array_index(letters, Letter, i));
  return TRUE;
}
