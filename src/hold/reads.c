/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads.c - letters stay letters: each piece, counter and stroke of a letter, as its face draws it,
 * is still there in the finished metal as a thing of its own.
 *
 *      o o        A piece is there by the part of its edge that shows; a counter by the part of
 *      | |        its area that is open (cut through: is metal), and where it stands by being
 *      (_)        closed in; a stroke, and its end by itself, by what of its length shows.
 *
 * Measured against what the face draws, whatever the recipe, a rule, a cure or a hand made of it:
 * no mending, tie, bar or bolder stroke can take such a finding away. A tie across a stroke or a
 * counter takes little of either; letters that join their neighbours lose nothing by it but where
 * strokes end within the neighbour (reads-melted.c says how far). Interlaced initials are woven by
 * rule: what passes over a counter fills it, the gap beside it opens it only where it is meant to.
 */
#include "base/text.h"
#include "hold/reads-private.h"

#define COARSE_MM 0.1   /* lengths are compared, not drawn */
#define ALL       0.997 /* a letter of which so much is edge of the metal is not asked */
#define EDGE_WORK 4     /* units of work for each drawn edge of a letter that is asked */

/* ---- saying ------------------------------------------------------------------------------- */

static HfFinding *
add_worst(HfReading *reading, HfWorst worst, const char *form, const char *called)
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
say_what_it_reads(const HfReading *reading, HfFinding *finding, guint gone)
{
  guint pieces = hf_reading_count_pieces(reading->ink);
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

/* What a letter reads like without its stroke between two others; common knowledge, no source. */
static const struct {
  const char *letter, *reads;
  gboolean level; /* that stroke lies along the line */
} unlinked[] = {{"H", "II", TRUE},  {"N", "II", FALSE}, {"A", "Λ", TRUE}, {"e", "c", TRUE},
                {"Θ", "O", TRUE},   {"Н", "II", TRUE},  {"А", "Λ", TRUE}, {"Η", "II", TRUE},
                {"И", "II", FALSE}, {"Ν", "II", FALSE}};

static const char *
reads_without(const char *letter, const HfLink *link)
{
  for (guint i = 0; i < G_N_ELEMENTS(unlinked); i++)
    if (g_str_equal(unlinked[i].letter, letter) && unlinked[i].level == link->level)
      return unlinked[i].reads;
  return NULL;
}

static void
say_link(HfReading *reading)
{
  HfCheck *check = reading->check;
  HfLink link = hf_reading_worst_link(reading);
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, link.share, link.at);
  if (finding == NULL)
    return;
  g_autofree char *letter = hf_reads_letter(hf_layout_shape(check->layout, reading->shape));
  g_autofree char *share = hf_text_number(link.share, 0);
  g_autofree char *limit = hf_text_number(finding->limit, 0);
  const char *reads = reads_without(letter, &link);
  hf_finding_name(check, finding, reading->shape);
  hf_finding_form(finding, "link");
  if (finding->gravity != HF_STOP)
    hf_finding_say(finding,
                   "a stroke of it between others is weakened: only %s %% is left, should be %s %%",
                   share, limit);
  else if (reads != NULL)
    hf_finding_say(finding,
                   "it may read %s where %s was ordered: of the stroke between others %s %% is "
                   "left, needs %s %%",
                   reads, letter, share, limit);
  else
    hf_finding_say(finding, "a stroke of it between others is gone: %s %% is left, needs %s %%",
                   share, limit);
}

static gboolean
may_end_in_bar(const HfReading *reading)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  return hf_reads_joined_bar(hf_recipe_at(reading->check->recipe, shape->entry)) != NULL;
}

/* Strokes that end; what hangs below the line is told as that where it is known what it makes. */
static void
say_strokes(HfReading *reading)
{
  gboolean tail = reading->of_words &&
                  hf_reads_check_tail(reading->check, reading->ink, may_end_in_bar(reading));
  add_worst(reading, hf_reading_worst_stroke(reading, !tail), "stroke", "a stroke");
}

static void
say_all(HfReading *reading)
{
  guint gone;
  HfWorst piece = hf_reading_worst_piece(reading, &gone);
  HfFinding *lost =
      add_worst(reading, piece, "piece", piece.ring == reading->ink->body ? "much" : "a piece");
  say_what_it_reads(reading, lost, gone);
  add_worst(reading, hf_reading_worst_counter(reading), "counter", "a counter");
  if (lost == NULL || lost->gravity != HF_STOP)
    say_strokes(reading);
  if (!reading->woven)
    say_link(reading);
}

static guint
pieces_now(const HfReading *reading)
{
  const HfRegion *now = hf_reading_region(reading, reading->shape);
  guint pieces = 0;
  for (guint r = 0; r < now->rings->len; r++)
    pieces += hf_region_ring(now, r)->parent < 0;
  return pieces;
}

/* Lighter letters that fell apart: more pieces than were drawn. */
static void
check_broken(HfReading *reading)
{
  const HfShape *shape = hf_layout_shape(reading->check->layout, reading->shape);
  if (shape->drawn == NULL || reading->ink->bolder >= 0)
    return;
  guint pieces = pieces_now(reading), drawn = hf_reading_count_pieces(reading->ink);
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

/* ---- the check ---------------------------------------------------------------------------- */

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

/* Something of the other kind, laid over it later: an island in a fat stroke leaves all its edge.
 */
static gboolean
is_laid_over(const HfCheck *check, guint s, const HfBox *boxes)
{
  const HfLayout *layout = check->layout;
  const HfShape *own = hf_layout_shape(layout, s);
  for (guint i = s + 1; i < layout->shapes->len; i++) {
    const HfShape *other = hf_layout_shape(layout, i);
    if (other->opening != own->opening && other->mends == 0 && other->entry != own->entry &&
        hf_recipe_at(check->recipe, other->entry)->kind != HF_ENTRY_TIES &&
        hf_box_overlaps(boxes[i], boxes[s]))
      return TRUE;
  }
  return FALSE;
}

/* Most letters: all of their outline is edge of the metal, or none of it, which is said already. */
static gboolean
is_settled(const HfCheck *check, guint s, const HfBox *boxes)
{
  const HfShape *shape = hf_layout_shape(check->layout, s);
  g_autoptr(HfRegion) chords = hf_region_new();
  hf_region_flatten(chords, shape->outline, s, COARSE_MM);
  double edge = hf_region_perimeter(chords), shown = g_array_index(check->hold->shown, double, s);
  if (100 * shown < check->hold->limits[HF_LAW_HIDDEN].stop * edge)
    return TRUE;
  return shown >= ALL * edge && shape->drawn == NULL && !hf_ink_is_mended(check, s) &&
         !is_laid_over(check, s, boxes);
}

static gboolean
joins(const HfCheck *check, const HfShape *shape)
{
  const HfEntry *entry = check->recipe->entries->pdata[shape->entry];
  g_autofree char *letter = hf_reads_letter(shape);
  if (hf_reads_joined_bar(entry) != NULL ||
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

/* Was a stop told since there were @said findings? */
static gboolean
is_stopped(const HfCheck *check, guint said)
{
  const GPtrArray *findings = check->hold->findings;
  for (guint i = said; i < findings->len; i++)
    if (((const HfFinding *)findings->pdata[i])->gravity == HF_STOP)
      return TRUE;
  return FALSE;
}

/* Did a bar laid across it give a finding? */
static gboolean
is_told_crossed(const HfCheck *check, const HfShape *shape)
{
  const GPtrArray *findings = check->hold->findings;
  for (guint i = 0; i < findings->len; i++) {
    const HfFinding *finding = findings->pdata[i];
    if (g_strcmp0(finding->form, "crossed") == 0 && finding->names->len > 0 &&
        g_str_equal(finding->names->pdata[0], shape->label))
      return TRUE;
  }
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
  HfReading reading = {.check = check,
                       .shape = s,
                       .ink = ink,
                       .near = near,
                       .joins = joins(check, shape),
                       .woven = is_woven(check, shape),
                       .of_words = of_words,
                       .crossed_by_bar = is_told_crossed(check, shape),
                       .regions = regions,
                       .boxes = boxes};
  reading.merged = ink->bolder > 0 && pieces_now(&reading) < hf_reading_count_pieces(ink);
  guint said = check->hold->findings->len;
  say_all(&reading);
  if (!is_stopped(check, said))
    hf_reading_check_covered(&reading);
  if (!is_stopped(check, said))
    hf_reading_check_lumps(&reading);
  if (!is_stopped(check, said) && !reading.crossed_by_bar)
    hf_reading_check_bridged(&reading);
  check_broken(&reading);
  hf_reading_check_closed(&reading);
  hf_region_free(reading.native);
  g_clear_pointer(&reading.reached, g_array_unref);
  g_clear_pointer(&reading.crossed, g_array_unref);
  g_clear_pointer(&reading.about, g_array_unref);
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
  hf_reads_check_crossed(check);
  for (guint s = 0; s < n; s++) {
    if (!is_asked(check, hf_layout_shape(check->layout, s)) || is_cover(check, s))
      continue;
    if (is_cut_over(check, s, boxes))
      g_array_append_val(cut_over, s);
    if (is_settled(check, s, boxes))
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    read_letter(check, s, regions, boxes);
  }
  hf_reads_check_ties(check);
  hf_reads_check_dots(check);
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
    .cures = HF_CURES("aside", "reduced", "shallow", "uncover", "lighter", "bolder", "further",
                      "arc", "smaller", "larger", "plate", "scale"),
    .check = check_reads,
    .after = &hf_hidden_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
    .guards = TRUE,
};
