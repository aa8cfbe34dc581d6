/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads.c - letters stay letters: each piece, counter and stroke of a letter, as its face draws it,
 * is still there in the finished metal as a thing of its own.
 *
 *      o o        A piece is there by the part of its edge that shows; a counter by the part of its
 *      | |        area that is open (cut through: is metal), and where it stands by being closed
 * in;
 *      (_)        a stroke by the part of its length along which a side of it shows.
 *
 * Measured against what the face draws, whatever the recipe, a rule, a cure or a hand made of it:
 * no mending, tie, bar or bolder stroke can take such a finding away. A tie across a stroke or a
 * counter takes little of either; letters that join their neighbours lose nothing by it but where
 * strokes end within the neighbour (reads-melted.c says how far). Interlaced initials are woven by
 * rule: what passes over a counter fills it, the gap beside it opens it only where it is meant to.
 */
#include "base/text.h"
#include "hold/ink-private.h"

#define COARSE_MM      0.1   /* lengths are compared, not drawn */
#define ALL            0.997 /* a letter of which so much is edge of the metal is not asked */
#define NEARLY_ALL     0.97  /* of a counter's edge: nothing lies in it */
#define LITTLE         0.05  /* of an edge that is gone: not worth measuring the area */
#define LOOSE_MM       0.5   /* a counter's ring of the metal may reach out of its box by this */
#define MARK_MERGED    3.0   /* of one that grew into its own letter: nothing else tells it */
#define MARK_JOINED    1.5   /* times what is joined of a dot or mark */
#define CROSSED        3.0 /* more, of what lies in another word: two forms, of which neither reads */
#define DUST_STROKE    0.25 /* a piece smaller than a square of so many strokes is dust */
#define SHOWN_NATIVELY 0.6  /* of a stroke: neighbours that hide it are not the face's own */
#define EDGE_WORK      4    /* units of work for each drawn edge of a letter that is asked */

typedef struct {
  HfCheck *check;
  guint shape;
  const HfInk *ink;
  const HfNear *near;
  gboolean joins;     /* strokes may end within neighbours or a bar */
  gboolean merged;    /* bolder strokes made one piece of what its face draws as several */
  gboolean woven;     /* gaps beside what passes over it open its counters */
  gboolean of_words;  /* its face may join it to its neighbours */
  GPtrArray *regions; /* HfRegion * by shape, of letters asked as neighbours; NULL: not yet */
  const HfBox *boxes; /* by shape */
  GArray *reached;  /* (nullable: not yet) guint: shapes it may end in, whose boxes meet its own */
  GArray *crossed;  /* the same of letters of other words */
  HfRegion *native; /* (nullable) the neighbours where the face puts them; NULL: not yet */
} Reading;

/* What is worst of one kind, in %. */
typedef struct {
  double share;
  guint ring;
  HfPoint at;
  const char *how; /* static: what became of it */
} Worst;

static const Worst NOTHING = {100, 0, {0, 0}, NULL};

static void
keep_worse(Worst *worst, double share, guint ring, HfPoint at, const char *how)
{
  if (share < worst->share)
    *worst = (Worst){share, ring, at, how};
}

static gboolean
is_dust(const HfInk *ink, guint ring)
{
  double stroke = ink->rings[ink->body].width;
  return ink->rings[ring].area < DUST_STROKE * DUST_STROKE * stroke * stroke;
}

/* ---- neighbours -------------------------------------------------------------------------------
 */

static const HfRegion *
neighbour_region(const Reading *reading, guint s)
{
  if (reading->regions->pdata[s] == NULL)
    reading->regions->pdata[s] =
        hf_region_of_outline(hf_layout_shape(reading->check->layout, s)->outline, s, COARSE_MM);
  return reading->regions->pdata[s];
}

/* What the recipe lets a letter's tails end in: the bar that its words stand on. */
static const char *
joined_bar(const HfEntry *entry)
{
  gboolean tails = entry->kind == HF_ENTRY_WORDS && entry->words.descenders == HF_DESCENDER_JOINS;
  return tails ? entry->words.stand_on : NULL;
}

static gboolean
may_join(const HfCheck *check, const HfShape *own, const HfShape *other)
{
  const GPtrArray *entries = check->recipe->entries;
  const char *bar = joined_bar(entries->pdata[own->entry]);
  return (other->letter >= 0 && other->entry == own->entry) ||
         (bar != NULL &&
          g_strcmp0(bar, ((const HfEntry *)entries->pdata[other->entry])->name) == 0);
}

/* A letter of the same kind that stands elsewhere: of other words, or of another line of these. */
static gboolean
is_elsewhere(const HfShape *own, const HfShape *other)
{
  return (other->entry != own->entry || other->copy != own->copy || other->line != own->line) &&
         other->letter >= 0 && other->mends == 0 && other->opening == own->opening;
}

/* Other letters of the same words and the bar that tails run into, or letters that stand elsewhere:
 * where one of its spots can lie in them. */
static const GArray *
shapes_reached(Reading *reading, gboolean elsewhere)
{
  const HfLayout *layout = reading->check->layout;
  const HfShape *own = hf_layout_shape(layout, reading->shape);
  GArray **reached = elsewhere ? &reading->crossed : &reading->reached;
  if (*reached != NULL)
    return *reached;
  HfBox box = hf_box_grow(hf_region_box(reading->ink->drawn), 1);
  *reached = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint s = 0; s < layout->shapes->len; s++) {
    const HfShape *other = hf_layout_shape(layout, s);
    if (s != reading->shape && hf_box_overlaps(reading->boxes[s], box) &&
        (elsewhere ? is_elsewhere(own, other) : may_join(reading->check, own, other)))
      g_array_append_val(*reached, s);
  }
  return *reached;
}

static gboolean
is_within(Reading *reading, guint s, HfPoint p)
{
  return hf_box_contains(reading->boxes[s], p) &&
         hf_region_contains(neighbour_region(reading, s), p);
}

static gboolean
in_neighbour(Reading *reading, HfPoint p, gboolean letters_only)
{
  const GArray *reached = shapes_reached(reading, FALSE);
  for (guint i = 0; i < reached->len; i++) {
    guint s = g_array_index(reached, guint, i);
    if ((!letters_only || hf_layout_shape(reading->check->layout, s)->letter >= 0) &&
        is_within(reading, s, p))
      return TRUE;
  }
  return FALSE;
}

static gboolean
in_other_words(Reading *reading, HfPoint p)
{
  const GArray *crossed = shapes_reached(reading, TRUE);
  for (guint i = 0; i < crossed->len; i++)
    if (is_within(reading, g_array_index(crossed, guint, i), p))
      return TRUE;
  return FALSE;
}

/* ---- pieces -----------------------------------------------------------------------------------
 */

/* Buried in other metal (cut through: filled), or gone into the open? By what most of its hidden
 * edge lies in. */
static gboolean
mostly_metal(const HfInkRing *ring)
{
  guint metal = 0, air = 0;
  for (guint i = 0; i < ring->n; i++) {
    metal += ring->spots[i].ring < 0 && ring->spots[i].metal;
    air += ring->spots[i].ring < 0 && !ring->spots[i].metal;
  }
  return metal >= air;
}

static const char *
fate_of_piece(const Reading *reading, guint r)
{
  const HfInk *ink = reading->ink;
  gboolean metal = mostly_metal(&ink->rings[r]);
  if (ink->opening)
    return metal ? "is filled" : "runs into another opening";
  return metal ? "is lost in other metal" : "is cut away";
}

/* Share of its edge whose ink is not there at all, rather than joined to something. */
static double
edge_gone(const HfInk *ink, const HfInkRing *ring)
{
  guint gone = 0;
  for (guint i = 0; i < ring->n; i++)
    gone += ring->spots[i].ring < 0 && ring->spots[i].metal == ink->opening;
  return (double)gone / ring->n;
}

/* Share of its edge that lies in letters of other words: two forms laid over each other. */
static double
edge_crossed(Reading *reading, const HfInkRing *ring)
{
  guint crossed = 0;
  for (guint i = 0; i < ring->n && !reading->woven; i++)
    crossed += ring->spots[i].ring < 0 && ring->spots[i].metal != reading->ink->opening &&
               in_other_words(reading, ring->spots[i].at);
  return (double)crossed / ring->n;
}

/* By edge, and where ink is gone by area too. What is gone counts twice, crossed four times: what
 * is joined to something can still be told from it by the rest of its edge. A dot or mark can be
 * told less well than the body: half joined it is a bump, so there it counts half as much again. In
 * %. */
static double
share_of_piece(Reading *reading, guint r)
{
  const HfInkRing *ring = &reading->ink->rings[r];
  double gone = edge_gone(reading->ink, ring), joined = 1 - ring->shows - gone;
  double mark = reading->merged ? MARK_MERGED : MARK_JOINED;
  double crossed = joined > LITTLE ? edge_crossed(reading, ring) : 0;
  double share = 1 - 2 * gone - (r == reading->ink->body ? 1 : mark) * joined - CROSSED * crossed;
  if (gone > LITTLE)
    share = fmin(share, 1 - 2 * (1 - hf_ink_there(reading->ink, reading->near, r)));
  return 100 * fmax(share, 0);
}

static Worst
worst_piece(Reading *reading, guint *ret_gone)
{
  const HfInk *ink = reading->ink;
  double stop = reading->check->hold->limits[HF_LAW_CHANGED_LETTER].stop;
  Worst worst = NOTHING;
  *ret_gone = 0;
  for (guint r = 0; r < ink->n; r++) {
    if (ink->rings[r].counter || is_dust(ink, r))
      continue;
    double share = share_of_piece(reading, r);
    *ret_gone += r != ink->body && share < stop;
    keep_worse(&worst, share, r, hf_box_centre(ink->rings[r].box), fate_of_piece(reading, r));
  }
  return worst;
}

static guint
count_pieces(const HfInk *ink)
{
  guint pieces = 0;
  for (guint r = 0; r < ink->n; r++)
    pieces += !ink->rings[r].counter && !is_dust(ink, r);
  return pieces;
}

/* ---- counters ---------------------------------------------------------------------------------
 */

/* Is the metal's ring no hole, or one that reaches out of the box? */
static gboolean
reaches_out(const HfRegion *metal, guint r, HfBox within)
{
  const HfRing *ring = hf_region_ring(metal, r);
  HfBox box = hf_ring_box(ring);
  return ring->parent < 0 || !hf_box_contains(within, box.min) || !hf_box_contains(within, box.max);
}

/* Its wall is in the air all round: it was cut out with it. Open, unless the hole that took it lies
 * within its piece. */
static gboolean
is_cut_out(const Reading *reading, const HfInkRing *counter)
{
  const HfRegion *metal = reading->check->metal->region;
  HfBox within = hf_box_grow(reading->ink->rings[counter->piece].box, LOOSE_MM);
  HfPoint at = counter->spots[0].at;
  for (guint i = 0; i < counter->n; i++)
    if (counter->spots[i].ring >= 0 || counter->spots[i].metal)
      return FALSE;
  for (guint r = 0; r < metal->rings->len; r++)
    if (!reaches_out(metal, r, within) && hf_ring_holds(hf_region_ring(metal, r), at))
      return FALSE;
  return TRUE;
}

/* A standing letter's counter is open to what lies outside of it where the metal's ring that bounds
 * it is no hole, or reaches beyond it: however narrow the mouth is, the spots to both sides of it
 * lie on such a ring. */
static gboolean
is_open(const Reading *reading, const HfInkRing *counter)
{
  HfBox within = hf_box_grow(counter->box, hf_ink_margin(reading->ink) - 1 + LOOSE_MM);
  gint last = -1;
  for (guint i = 0; i < counter->n; i++) {
    gint r = counter->spots[i].ring;
    if (r >= 0 && r != last && reaches_out(reading->check->metal->region, (guint)r, within))
      return TRUE;
    last = r >= 0 ? r : last;
  }
  return is_cut_out(reading, counter);
}

static Worst
worst_counter(const Reading *reading)
{
  const HfInk *ink = reading->ink;
  Worst worst = NOTHING;
  for (guint r = 0; r < ink->n; r++) {
    const HfInkRing *ring = &ink->rings[r];
    if (!ring->counter || is_dust(ink, r))
      continue;
    HfPoint at = hf_box_centre(ring->box);
    if (!ink->opening && !reading->woven && is_open(reading, ring))
      keep_worse(&worst, 0, r, at, "is open to the outside");
    else if (ring->shows <= NEARLY_ALL || ink->bolder > 0) /* what fills it hides its edge */
      keep_worse(&worst, 100 * hf_ink_there(ink, reading->near, r), r, at,
                 ink->opening ? "is cut away" : "is filled");
  }
  return worst;
}

/* ---- strokes ----------------------------------------------------------------------------------
 */

/* Does the stroke show where the face itself puts the neighbours? */
static gboolean
shows_natively(Reading *reading, const HfInkStroke *stroke)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint shows = 0;
  if (reading->native == NULL)
    reading->native = hf_reads_native(reading->check, reading->shape);
  for (guint k = 0; reading->native != NULL && k <= stroke->reach; k++)
    shows +=
        !hf_region_contains(reading->native, ring->spots[(stroke->at + k) % ring->n].at) ||
        !hf_region_contains(reading->native, ring->spots[(stroke->at + ring->n - k) % ring->n].at);
  return shows > SHOWN_NATIVELY * (stroke->reach + 1);
}

/* Where it does not show it lies in the letters that it joins. */
static gboolean
ends_in_neighbour(Reading *reading, const HfInkStroke *stroke, gboolean letters_only)
{
  const HfInkRing *ring = &reading->ink->rings[stroke->ring];
  guint hidden = 0, joined = 0;
  for (guint k = 0; k <= stroke->reach; k++)
    for (int side = 0; side < 2; side++) {
      guint i = (stroke->at + (side == 0 ? k : ring->n - k)) % ring->n;
      if (ring->spots[i].ring >= 0)
        continue;
      hidden++;
      joined += in_neighbour(reading, ring->spots[i].at, letters_only) ? 1 : 0;
    }
  return 2 * joined > hidden;
}

/* A tail ends in the bar by leave of the recipe, any stroke in letters as the face has it. */
static gboolean
is_joined(Reading *reading, const HfInkStroke *stroke)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  gboolean letters_only = !hf_reads_is_below(shape, stroke->tip);
  return (reading->joins || reading->of_words) &&
         ends_in_neighbour(reading, stroke, letters_only) &&
         !(ends_in_neighbour(reading, stroke, TRUE) && shows_natively(reading, stroke));
}

static Worst
worst_stroke(Reading *reading)
{
  Worst worst = NOTHING;
  g_autoptr(GArray) strokes = hf_ink_strokes(reading->ink);
  double limit = reading->check->hold->limits[HF_LAW_CHANGED_LETTER].caution;
  for (guint i = 0; i < strokes->len; i++) {
    const HfInkStroke *stroke = &g_array_index(strokes, HfInkStroke, i);
    double share = 100 * stroke->shows;
    if (share >= limit || share >= worst.share || is_joined(reading, stroke))
      continue;
    keep_worse(&worst, share, stroke->ring, stroke->tip, "does not show");
  }
  return worst;
}

/* ---- saying -----------------------------------------------------------------------------------
 */

static HfFinding *
add_worst(Reading *reading, Worst worst, const char *form, const char *called)
{
  HfCheck *check = reading->check;
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, worst.share, worst.at);
  if (finding == NULL)
    return NULL;
  g_autofree char *share = hf_text_number(worst.share, 0);
  g_autofree char *limit = hf_text_number(finding->limit, 0);
  hf_finding_name(check, finding, reading->shape);
  hf_finding_form(finding, form);
  if (finding->gravity == HF_STOP)
    hf_finding_say(finding, "%s of it %s: %s %% is left, needs %s %%", called, worst.how, share,
                   limit);
  else
    hf_finding_say(finding, "%s of it is weakened: only %s %% is left, should be %s %%", called,
                   share, limit);
  return finding;
}

static void
say_what_it_reads(const Reading *reading, HfFinding *finding, guint gone)
{
  guint pieces = count_pieces(reading->ink);
  if (finding == NULL || gone + 1 != pieces)
    return;
  g_autofree char *letter =
      hf_reads_letter(hf_layout_shape(reading->check->layout, reading->shape));
  g_autofree char *reads = hf_reads_without_marks(letter, pieces);
  if (reads != NULL)
    hf_finding_say(finding, "it reads %s where %s was ordered: %s of it %s", reads, letter,
                   gone == 1 ? "a dot or mark" : "the dots or marks",
                   gone == 1 ? "is gone" : "are gone");
}

/* Any stroke that does not show. */
static HfFinding *
say_stroke(Reading *reading)
{
  return add_worst(reading, worst_stroke(reading), "stroke", "a stroke");
}

static gboolean
may_end_in_bar(const Reading *reading)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  return joined_bar(hf_recipe_at(reading->check->recipe, shape->entry)) != NULL;
}

static void
say_all(Reading *reading)
{
  guint gone;
  Worst piece = worst_piece(reading, &gone);
  HfFinding *lost =
      add_worst(reading, piece, "piece", piece.ring == reading->ink->body ? "much" : "a piece");
  say_what_it_reads(reading, lost, gone);
  add_worst(reading, worst_counter(reading), "counter", "a counter");
  if (lost == NULL || lost->gravity != HF_STOP)
    lost = say_stroke(reading);
  if (lost == NULL && reading->of_words)
    hf_reads_check_tail(reading->check, reading->ink, may_end_in_bar(reading));
}

static guint
pieces_now(const Reading *reading)
{
  const HfRegion *now = neighbour_region(reading, reading->shape);
  guint pieces = 0;
  for (guint r = 0; r < now->rings->len; r++)
    pieces += hf_region_ring(now, r)->parent < 0;
  return pieces;
}

/* Lighter letters that fell apart: more pieces than were drawn. */
static void
check_broken(Reading *reading)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  if (shape->drawn == NULL || reading->ink->bolder >= 0)
    return;
  guint pieces = pieces_now(reading), drawn = count_pieces(reading->ink);
  if (pieces <= drawn)
    return;
  HfFinding *finding = hf_check_add(reading->check, HF_LAW_CHANGED_LETTER, 0,
                                    hf_box_centre(hf_outline_box(shape->outline)));
  if (finding == NULL)
    return;
  hf_finding_name(reading->check, finding, reading->shape);
  hf_finding_form(finding, "broken");
  hf_finding_say(finding, "it is so light that its strokes break: %u pieces where %u %s drawn",
                 pieces, drawn, drawn == 1 ? "is" : "are");
  hf_finding_fix(finding, "make it less light, or the letters larger");
}

/* ---- the check --------------------------------------------------------------------------------
 */

static gboolean
is_woven(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = hf_recipe_at(check->recipe, shape->entry);
  return entry->kind == HF_ENTRY_INITIAL && !isnan(entry->initial.interlace);
}

static gboolean
is_asked(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
  if (shape->letter < 0 || shape->mends > 0)
    return FALSE;
  return entry->kind == HF_ENTRY_WORDS || entry->kind == HF_ENTRY_INITIAL;
}

/* Of letters that are woven what passes over comes again, in pieces. */
static gboolean
is_cover(const HfCheck *check, guint s)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  if (!is_woven(check, shape))
    return FALSE;
  for (guint i = 0; i < s; i++) {
    const HfShape *before = hf_layout_shape(check->layout, i);
    if (before->entry == shape->entry && before->copy == shape->copy &&
        before->letter == shape->letter)
      return TRUE;
  }
  return FALSE;
}

/* Most letters: all of their outline is edge of the metal, or none of it, which is said already. */
static gboolean
is_settled(const HfCheck *check, guint s)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, shape->outline, s, COARSE_MM);
  double edge = hf_region_perimeter(chords), shown = g_array_index(check->hold->shown, double, s);
  if (100 * shown < check->hold->limits[HF_LAW_HIDDEN].stop * edge)
    return TRUE;
  return shown >= ALL * edge && shape->drawn == NULL && !hf_ink_is_mended(check, s);
}

static gboolean
joins(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
  g_autofree char *letter = hf_reads_letter(shape);
  if (joined_bar(entry) != NULL ||
      (entry->kind == HF_ENTRY_WORDS && entry->words.spacing_rule != HF_SPACING_AS_GIVEN))
    return TRUE;
  static const GUnicodeScript joined[] = {
      G_UNICODE_SCRIPT_ARABIC,    G_UNICODE_SCRIPT_SYRIAC,   G_UNICODE_SCRIPT_MONGOLIAN,
      G_UNICODE_SCRIPT_NKO,       G_UNICODE_SCRIPT_MANDAIC,  G_UNICODE_SCRIPT_DEVANAGARI,
      G_UNICODE_SCRIPT_BENGALI,   G_UNICODE_SCRIPT_GURMUKHI, G_UNICODE_SCRIPT_GUJARATI,
      G_UNICODE_SCRIPT_ORIYA,     G_UNICODE_SCRIPT_TELUGU,   G_UNICODE_SCRIPT_KANNADA,
      G_UNICODE_SCRIPT_MALAYALAM, G_UNICODE_SCRIPT_SINHALA,  G_UNICODE_SCRIPT_TIBETAN};
  GUnicodeScript script = g_unichar_get_script(g_utf8_get_char(letter));
  for (guint i = 0; i < G_N_ELEMENTS(joined); i++)
    if (script == joined[i])
      return TRUE;
  return FALSE;
}

static void
read_letter(HfCheck *check, guint s, GPtrArray *regions, const HfBox *boxes)
{
  g_autoptr(HfInk) ink = hf_ink_new(check, s);
  if (ink == NULL)
    return;
  hf_cancel_count(check->cancel, EDGE_WORK * hf_region_n_edges(ink->drawn));
  HfBox box = hf_box_grow(hf_region_box(ink->drawn), hf_ink_margin(ink));
  g_autoptr(HfNear) near = hf_near_new(check->metal->region, check->index, box);
  hf_ink_look(ink, near);
  const HfShape *shape = hf_layout_shape(check->layout, s);
  gboolean of_words = hf_recipe_at(check->recipe, shape->entry)->kind == HF_ENTRY_WORDS;
  Reading reading = {.check = check,
                     .shape = s,
                     .ink = ink,
                     .near = near,
                     .joins = joins(check, shape),
                     .woven = is_woven(check, shape),
                     .of_words = of_words,
                     .regions = regions,
                     .boxes = boxes};
  reading.merged = ink->bolder > 0 && pieces_now(&reading) < count_pieces(ink);
  say_all(&reading);
  check_broken(&reading);
  hf_region_free(reading.native);
  g_clear_pointer(&reading.reached, g_array_unref);
  g_clear_pointer(&reading.crossed, g_array_unref);
}

static HfBox *
boxes_of(const HfLayout *layout)
{
  HfBox *boxes = g_new(HfBox, layout->shapes->len + 1);
  for (guint s = 0; s < layout->shapes->len; s++)
    boxes[s] = hf_outline_box(hf_layout_shape(layout, s)->outline);
  return boxes;
}

static void
region_free(gpointer region)
{
  hf_region_free(region);
}

/* A standing letter over which something was cut out later. */
static gboolean
is_cut_over(const HfCheck *check, guint s, const HfBox *boxes)
{
  const HfLayout *layout = check->layout;
  const HfShape *own = hf_layout_shape(layout, s);
  if (own->opening || is_woven(check, own))
    return FALSE;
  for (guint i = s + 1; i < layout->shapes->len; i++)
    if (hf_layout_shape(layout, i)->opening && hf_box_overlaps(boxes[i], boxes[s]))
      return TRUE;
  return FALSE;
}

static gboolean
check_reads(HfCheck *check, GError **error)
{
  guint n = check->layout->shapes->len;
  g_autoptr(GPtrArray) regions = g_ptr_array_new_full(n, region_free);
  g_ptr_array_set_size(regions, (gint)n);
  g_autofree HfBox *boxes = boxes_of(check->layout);
  g_autoptr(GArray) cut_over = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint s = 0; s < n; s++) {
    if (!is_asked(check, hf_layout_shape(check->layout, s)) || is_cover(check, s))
      continue;
    if (is_cut_over(check, s, boxes))
      g_array_append_val(cut_over, s);
    if (is_settled(check, s))
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    read_letter(check, s, regions, boxes);
  }
  hf_reads_check_ties(check);
  hf_reads_check_pairs(check);
  return hf_reads_check_parted(check, cut_over, error) && hf_reads_check_melted(check, error);
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_changed_letter_law = {
    .key = "changed-letter",
    .quantity =
        "share of a piece, a counter or a stroke of a letter, as its face draws it, that is left",
    .unit = "%",
    .at_least = TRUE,
    .gravity = HF_STOP,
    .stop = {"25 %"},
    .caution = {"50 %"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the sign says something else than what was ordered",
    .what = "only {measured} of a part of it is left{worst}, {needs} {limit}",
    .fix = "uncover it, or make it larger",
    .cures = HF_CURES("aside", "reduced", "shallow", "lighter", "bolder", "further", "arc",
                      "smaller", "larger", "plate", "scale"),
    .check = check_reads,
    .after = &hf_hidden_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
    .guards = TRUE,
};
