/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-aside.c - an opening that cuts a standing letter in two: off the letters by the least
 * distance, or so much smaller that the letter stays one.
 *
 *      |  o|          |   |             How far is computed: along each straight way to where the
 *    ==|  (_)=  ->  ==|   |==           opening lies clear of every letter (geom/apart.h) and still
 *      |   |            o               cuts what is no letter. How small: as long as what is left
 *    ==+===+==      ==+(_)+==           beside it, less the limit of a web, is one piece.
 *
 * What cuts nothing but letters is moved nowhere: in the air it would be gone, and nobody asked for
 * that. Aslant is for where no straight way is. Cost: some booleans of single letters, and the
 * edges of letters times those of the opening.
 */
#include "cure/propose-private.h"
#include "geom/apart.h"
#include "geom/row.h"
#include "recipe/kind.h"
#include <string.h>

#define COARSE   0.05 /* mm, of chords here */
#define LITTLE   0.05 /* of what is left of a letter: less than that is a crumb, not a half */
#define MOST     4    /* ways that are offered, the shortest first */
#define PLACES   80   /* of the opening, at which it is asked what it cuts */
#define CUTS     0.5  /* of the places that cut something now do so after; all, if that can be */
#define LEAST    0.5  /* of its size: smaller it is another one */
#define HALVINGS 10
#define ROOM     2.0 /* mm: so much farther than a web it may go beyond what it must */

static const double STEP = 0.5; /* mm */

typedef struct {
  HfProposing *asked;
  guint entry, copy;
  HfRegion *own;        /* of the opening */
  HfRegion *letters;    /* standing letters of words, as one */
  GPtrArray *parted;    /* HfRegion *: each letter that it cuts in two */
  GPtrArray *metal;     /* HfRegion *: what is cut that is no letter */
  GPtrArray *elsewhere; /* HfRegion *: other openings */
  GArray *places;       /* HfPoint: within the opening */
} Opening;

static void
region_free(gpointer region)
{
  hf_region_free(region);
}

static void
opening_clear(Opening *opening)
{
  hf_region_free(opening->own);
  hf_region_free(opening->letters);
  g_ptr_array_unref(opening->parted);
  g_ptr_array_unref(opening->metal);
  g_ptr_array_unref(opening->elsewhere);
  g_clear_pointer(&opening->places, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Opening, opening_clear)

/* ---- what lies there ---------------------------------------------------------------------------
 */

static gboolean
is_standing_letter(const HfProposing *asked, const HfShape *shape)
{
  return hf_proposing_entry(asked, shape->entry)->kind == HF_ENTRY_WORDS && shape->letter >= 0 &&
         shape->mends == 0 && !shape->opening;
}

/* Crumbs are none. */
static guint
pieces_of(const HfRegion *region)
{
  double least = LITTLE * hf_region_area(region);
  guint n = 0;
  for (guint r = 0; r < region->rings->len; r++) {
    if (hf_region_ring(region, r)->parent >= 0)
      continue;
    g_autoptr(HfRegion) part = hf_region_part(region, r);
    n += hf_region_area(part) >= least;
  }
  return n;
}

static gboolean
parts(const HfRegion *opening, const HfRegion *letter)
{
  g_autoptr(HfRegion) left = hf_region_subtract(letter, opening);
  return pieces_of(left) > pieces_of(letter);
}

static HfRegion *
own_of(const HfProposing *asked, guint entry, guint copy)
{
  const HfLayout *layout = asked->sign->layout;
  g_autoptr(HfRegion) rings = hf_region_new();
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    if (shape->entry == entry && shape->copy == copy && shape->opening && shape->mends == 0)
      hf_region_flatten(rings, shape->outline, s, COARSE);
  }
  return hf_region_clean(rings);
}

/* Takes @region. */
static void
add_letter(Opening *opening, HfRegion *all, HfRegion *region)
{
  hf_region_add_rings(all, region);
  if (hf_box_overlaps(hf_region_box(region), hf_region_box(opening->own)) &&
      parts(opening->own, region))
    g_ptr_array_add(opening->parted, region);
  else
    hf_region_free(region);
}

static Opening
opening_new(HfProposing *asked, guint entry, guint copy)
{
  Opening opening = {asked,
                     entry,
                     copy,
                     own_of(asked, entry, copy),
                     NULL,
                     g_ptr_array_new_with_free_func(region_free),
                     g_ptr_array_new_with_free_func(region_free),
                     g_ptr_array_new_with_free_func(region_free),
                     NULL};
  const HfLayout *layout = asked->sign->layout;
  g_autoptr(HfRegion) letters = hf_region_new();
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    if (is_standing_letter(asked, shape))
      add_letter(&opening, letters, hf_region_of_outline(shape->outline, s, COARSE));
    else if (!shape->opening)
      g_ptr_array_add(opening.metal, hf_region_of_outline(shape->outline, s, COARSE));
    else if (shape->entry != entry || shape->copy != copy)
      g_ptr_array_add(opening.elsewhere, hf_region_of_outline(shape->outline, s, COARSE));
  }
  opening.letters = hf_region_clean(letters);
  return opening;
}

/* ---- off the letters ---------------------------------------------------------------------------
 */

static gboolean
in_one_of(const GPtrArray *regions, HfPoint p)
{
  for (guint i = 0; i < regions->len; i++)
    if (hf_box_contains(hf_region_box(regions->pdata[i]), p) &&
        hf_region_contains(regions->pdata[i], p))
      return TRUE;
  return FALSE;
}

static guint
places_that_cut(const Opening *opening, HfPoint by, gboolean letters_too)
{
  guint n = 0;
  for (guint i = 0; i < opening->places->len; i++) {
    HfPoint p = hf_point_add(g_array_index(opening->places, HfPoint, i), by);
    n += !in_one_of(opening->elsewhere, p) &&
         (in_one_of(opening->metal, p) || (letters_too && hf_region_contains(opening->letters, p)));
  }
  return n;
}

/* Within it, evenly, and its corners. */
static void
take_places(Opening *opening)
{
  opening->places = hf_row_places(opening->own, PLACES);
  for (guint r = 0; r < opening->own->rings->len; r++)
    for (guint v = 0; v < hf_region_ring(opening->own, r)->n; v++) {
      HfPoint corner = hf_grid_point(hf_region_ring(opening->own, r)->at[v]);
      g_array_append_val(opening->places, corner);
    }
}

/* mm along @way to the first place that is clear of all letters and cuts enough; NAN: there is none
 * within reach. Where it cuts all over it keeps its form. */
static double
way_off(const Opening *opening, HfPoint way, guint enough)
{
  HfBox box = hf_region_box(opening->own);
  double size = fmax(hf_box_width(box), hf_box_height(box));
  double reach = 2 * size + hf_box_height(hf_region_box(opening->letters));
  g_autoptr(GArray) blocked = hf_apart_blocked(opening->own, opening->letters, way);
  for (double t = hf_apart_from(blocked, 0); t <= reach;
       t = hf_apart_from(blocked, t + fmax(STEP, size / 20)))
    if (places_that_cut(opening, hf_point_scale(way, t), FALSE) >= enough)
      return t;
  return NAN;
}

static GArray *
aims_at_parted(const HfProposing *asked)
{
  return hf_proposing_aims_in_form(asked, -1, HF_LAW_CHANGED_LETTER, "parted");
}

static void
move_off(const Opening *opening, HfPoint way, double t)
{
  HfProposing *asked = opening->asked;
  const HfEntry *e = hf_proposing_entry(asked, opening->entry);
  HfProposal *proposal =
      hf_propose(asked, aims_at_parted(asked),
                 hf_phrase_knob(hf_phrase("move %s ", hf_proposing_called(asked, e)),
                                " %s, off the letters", hf_say_way(way)));
  double least = STEP * ceil(t / STEP), web = hf_proposing_limit(asked, HF_LAW_THIN_LONG_WEB);
  hf_propose_knob(proposal, e, "at", 0, least, least + web + ROOM, STEP);
  if (!hf_propose_move(asked, proposal, opening->entry, opening->copy, hf_point(0, 0), way))
    g_ptr_array_remove(asked->found, proposal);
}

typedef struct {
  HfPoint way;
  double t;
} Off;

static int
shortest_first(gconstpointer a, gconstpointer b)
{
  const Off *p = a, *q = b;
  return (p->t > q->t) - (p->t < q->t);
}

/* Four ways, @turned from straight right: those on which there is a place into @offs. */
static void
look_along(const Opening *opening, double turned, guint enough, GArray *offs)
{
  for (int i = 0; i < 4 && hf_cancel_check(opening->asked->cancel, NULL); i++) {
    HfPoint way = hf_point_polar(hf_point(0, 0), 1, turned + i * G_PI_2);
    Off off = {way, way_off(opening, way, enough)};
    if (!isnan(off.t))
      g_array_append_val(offs, off);
  }
}

static void
propose_moves(Opening *opening)
{
  g_autoptr(GArray) offs = g_array_new(FALSE, FALSE, sizeof(Off));
  take_places(opening);
  guint now = places_that_cut(opening, hf_point(0, 0), TRUE);
  guint some = (guint)ceil(CUTS * MAX(now, 1));
  look_along(opening, 0, opening->places->len, offs);
  if (offs->len == 0)
    look_along(opening, 0, some, offs);
  if (offs->len == 0)
    look_along(opening, G_PI_4, some, offs);
  g_array_sort(offs, shortest_first);
  for (guint i = 0; i < MIN(offs->len, MOST); i++)
    move_off(opening, g_array_index(offs, Off, i).way, g_array_index(offs, Off, i).t);
}

/* ---- smaller -----------------------------------------------------------------------------------
 */

/* The figure that says how large it is, all of it; %NULL: none does, or it is as large as what goes
 * through it. */
static const HfField *
size_of(const HfEntry *e)
{
  for (const HfField *field = hf_entry_row(e)->table.fields; field->key != NULL; field++)
    if ((field->roles & (HF_ROLE_SIZE | HF_ROLE_BORE)) != 0 && !(field->roles & HF_ROLE_KEPT) &&
        !isnan(hf_entry_length(e, field)))
      return field;
  return NULL;
}

/* About where it is placed, and no letter is in two, nor hangs together by less than a web. */
static gboolean
keeps_letters(const Opening *opening, HfPoint centre, double times)
{
  double web = hf_proposing_limit(opening->asked, HF_LAW_THIN_WEB);
  g_autoptr(HfOutline) chords = hf_region_chords(opening->own);
  g_autoptr(HfOutline) scaled = hf_outline_new();
  HfMatrix about =
      hf_matrix_then(hf_matrix_move(-centre.x, -centre.y), hf_matrix_scale(times, times));
  hf_outline_append(scaled, chords, hf_matrix_then(about, hf_matrix_move(centre.x, centre.y)));
  g_autoptr(HfRegion) own = hf_region_of_outline(scaled, 0, COARSE);
  g_autoptr(HfRegion) about_it = hf_region_offset(own, web, COARSE);
  for (guint i = 0; i < opening->parted->len; i++)
    if (parts(about_it, opening->parted->pdata[i]))
      return FALSE;
  return TRUE;
}

static HfPoint
centre_of(const Opening *opening)
{
  const HfLayout *layout = opening->asked->sign->layout;
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    if (shape->entry == opening->entry && shape->copy == opening->copy)
      return hf_matrix_apply(shape->em, hf_point(0, 0));
  }
  return hf_box_centre(hf_region_box(opening->own));
}

static void
propose_smaller(Opening *opening)
{
  HfProposing *asked = opening->asked;
  const HfEntry *e = hf_proposing_entry(asked, opening->entry);
  const HfField *field = size_of(e);
  HfPoint centre = centre_of(opening);
  double fits = LEAST, not = 1;
  if (field == NULL || !keeps_letters(opening, centre, LEAST))
    return;
  for (int i = 0; i < HALVINGS; i++) {
    double times = (fits + not ) / 2;
    *(keeps_letters(opening, centre, times) ? &fits : &not ) = times;
  }
  HfProposal *proposal =
      hf_propose(asked, aims_at_parted(asked),
                 hf_phrase_turns(hf_phrase("make %s smaller: ", hf_proposing_called(asked, e)),
                                 " become ", ", so that it cuts no letter in two"));
  double size = hf_entry_length(e, field), least = STEP * floor(fits * size / STEP);
  hf_propose_knob(proposal, e, field->key, size, least, LEAST * size, STEP);
  hf_propose_turn(asked, proposal, opening->entry, field->key);
}

/* ---- the families ------------------------------------------------------------------------------
 */

static gboolean
may_be_moved(const HfEntry *e)
{
  return !hf_entry_is(e, HF_KINDS_LAST);
}

/* Each opening that cuts a letter in two. */
static void
for_each_parting(HfProposing *asked, void (*propose)(Opening *opening))
{
  const HfLayout *layout = asked->sign->layout;
  g_autoptr(GArray) aims = aims_at_parted(asked);
  guint entry = HF_NO_SHAPE, copy = 0;
  for (guint s = 0; aims->len > 0 && s < layout->shapes->len; s++) {
    const HfShape *shape = hf_layout_shape(layout, s);
    if (!shape->opening || shape->mends > 0 || (shape->entry == entry && shape->copy == copy) ||
        !may_be_moved(hf_proposing_entry(asked, shape->entry)))
      continue;
    entry = shape->entry;
    copy = shape->copy;
    g_auto(Opening) opening = opening_new(asked, entry, copy);
    if (opening.parted->len == 0)
      continue;
    propose(&opening);
  }
}

static void
propose_aside(HfProposing *asked)
{
  for_each_parting(asked, propose_moves);
}

const HfFamily hf_family_aside = {
    .key = "aside", .guards = HF_GUARDS_USUAL, .propose = propose_aside};

static void
propose_reduced(HfProposing *asked)
{
  for_each_parting(asked, propose_smaller);
}

const HfFamily hf_family_reduced = {
    .key = "reduced", .guards = HF_GUARDS_USUAL, .seen = 2, .propose = propose_reduced};
