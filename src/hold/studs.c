/* SPDX-License-Identifier: GPL-3.0-or-later
 * studs.c - the studs that a rule asks for, piece by piece of the metal, and what is wrong with
 * them. They mark places; no metal changes.
 *
 *   part ──upright as its letter stands, its centre of mass at 0, 0──> piece ──> choice ──> studs
 *
 * A piece that is like one before has the same studs, so equal letters are fixed alike.
 */
#include "base/text.h"
#include "hold/hold-private.h"
#include "hold/studs-private.h"
#include "recipe/kind.h"

static const double SLACK = 0.01; /* mm: chords and grid; so much more is left to every edge */

/* A piece in its own frame, with what was chosen for it. */
typedef struct {
  HfRegion *piece;
  HfStudChoice choice;
  double radius; /* mm, of the largest circle in it */
  double holds;  /* mm: the widest of thinner studs that would hold it; 0: none, or not asked */
  double diameter, edge;
} Done;

static void
done_clear(gpointer data)
{
  Done *done = data;
  hf_region_free(done->piece);
  hf_stud_choice_clear(&done->choice);
}

typedef struct {
  HfCheck *check;
  const HfRegion *metal; /* that the parts are numbered in */
  GArray *done;          /* Done */
} Studding;

/* ---- a piece in its own frame -----------------------------------------------------------------
 */

/* How far its letter is turned; what is no letter stands upright. */
static double
turn_of(const HfCheck *check, const HfPart *part)
{
  for (guint i = 0; i < part->shapes->len; i++) {
    const HfShape *shape = hf_layout_shape(check->layout, g_array_index(part->shapes, guint, i));
    if (shape->letter >= 0 && !shape->opening)
      return atan2(shape->em.yx, shape->em.xx);
  }
  return 0;
}

static HfMatrix
frame_of(const HfCheck *check, const HfPart *part)
{
  return hf_matrix_then(hf_matrix_turn(turn_of(check, part)),
                        hf_matrix_move(part->centroid.x, part->centroid.y));
}

static HfRegion *
piece_of(const HfRegion *metal, const HfPart *part, HfMatrix frame)
{
  HfMatrix back = hf_matrix_then(hf_matrix_move(-frame.x0, -frame.y0),
                                 hf_matrix_turn(-atan2(frame.yx, frame.xx)));
  g_autoptr(HfRegion) own = hf_region_part(metal, part->outer);
  g_autoptr(HfRegion) turned = hf_region_new();
  for (guint r = 0; r < own->rings->len; r++) {
    const HfRing *ring = hf_region_ring(own, r);
    g_autofree HfGrid *at = g_new(HfGrid, ring->n);
    for (guint v = 0; v < ring->n; v++)
      at[v] = hf_grid_snap(hf_matrix_apply(back, hf_grid_point(ring->at[v])));
    hf_region_add_ring(turned, at, NULL, ring->n);
  }
  return hf_region_clean(turned);
}

/* ---- the choice -------------------------------------------------------------------------------
 */

static HfStudAsk
ask_of(const HfStudsEntry *rule)
{
  return (HfStudAsk){rule->diameter, rule->edge + SLACK, rule->reach};
}

/* Whole millimetres below what does not hold. */
static double
thinner_that_holds(const HfStudRoom *room, HfStudAsk ask)
{
  for (double d = ceil(ask.diameter) - 1; d >= 2; d--) {
    ask.diameter = d;
    g_auto(HfStudChoice) choice = hf_studs_choose(room, &ask);
    if (hf_studs_hold(&choice))
      return d;
  }
  return 0;
}

static const Done *
choose(Studding *studding, HfRegion *piece, const HfStudsEntry *rule)
{
  for (guint i = 0; i < studding->done->len; i++) {
    const Done *before = &g_array_index(studding->done, Done, i);
    if (before->diameter == rule->diameter && before->edge == rule->edge &&
        hf_studs_alike(piece, before->piece, SLACK)) {
      hf_region_free(piece);
      return before;
    }
  }
  HfStudAsk ask = ask_of(rule);
  g_autoptr(HfStudRoom) room = hf_stud_room_new(piece, studding->check->cancel);
  Done done = {.piece = piece,
               .choice = hf_studs_choose(room, &ask),
               .radius = hf_stud_room_radius(room),
               .diameter = rule->diameter,
               .edge = rule->edge};
  done.holds = hf_studs_hold(&done.choice) ? 0 : thinner_that_holds(room, ask);
  g_array_append_val(studding->done, done);
  return &g_array_index(studding->done, Done, studding->done->len - 1);
}

/* ---- findings ---------------------------------------------------------------------------------
 */

static HfFinding *
add(HfCheck *check, HfLawKind kind, guint entry, const HfPart *part, const char *form)
{
  HfFinding *finding = hf_check_add(check, kind, NAN, part->centroid);
  hf_finding_call(finding, part->name);
  hf_finding_form(finding, form);
  for (guint i = 0; i < part->shapes->len; i++) {
    guint of = hf_layout_shape(check->layout, g_array_index(part->shapes, guint, i))->entry;
    if (i == 0)
      g_array_append_val(finding->entries, of);
  }
  g_array_append_val(finding->entries, entry);
  finding->box = part->box;
  return finding;
}

static void
say_thinner(HfFinding *finding, double mm)
{
  if (!(mm > 0))
    return;
  g_autofree char *text = hf_text_length(mm, 1);
  g_autofree char *fix = g_strdup_printf("studs of %s would do; or leave less to the edge", text);
  hf_finding_fix(finding, fix);
}

static void
say_no_room(HfCheck *check, guint entry, const HfPart *part, const Done *done)
{
  HfFinding *finding = add(check, HF_LAW_NO_STUD, entry, part, NULL);
  g_autofree char *wide = hf_text_length(done->diameter, 1);
  g_autofree char *edge = hf_text_length(done->edge, 1);
  finding->measured = 2 * fmax(done->radius - done->edge, 0);
  hf_finding_say(finding, "no room for a stud of %s with %s to the edge", wide, edge);
  say_thinner(finding, done->holds);
}

static void
say_outside(HfCheck *check, guint entry, const HfPart *part, const Done *done)
{
  HfFinding *finding = add(check, HF_LAW_STUDS_OUTSIDE, entry, part, NULL);
  g_autofree char *far = hf_text_length(done->choice.outside, 1);
  finding->measured = done->choice.outside;
  hf_finding_say(finding, "its centre of mass lies %s outside what its studs span: it tips", far);
  say_thinner(finding, done->holds);
}

static void
say_few(HfCheck *check, guint entry, const HfPart *part, const Done *done)
{
  gboolean one = done->choice.at->len == 1;
  HfFinding *finding = add(check, HF_LAW_FEW_STUDS, entry, part, one ? "one" : "two");
  g_autofree char *beside = hf_text_length(done->choice.beside, 1);
  finding->measured = done->choice.beside;
  if (one)
    hf_finding_say(finding,
                   "room for one stud, %s from its centre of mass: nothing keeps it from "
                   "turning",
                   beside);
  else
    hf_finding_say(finding,
                   "too narrow for three studs about its centre of mass: %u in a line, it "
                   "lies between them",
                   done->choice.at->len);
}

static void
say(HfCheck *check, guint entry, const HfPart *part, const Done *done)
{
  guint n = done->choice.at->len;
  if (n == 0)
    say_no_room(check, entry, part, done);
  else if (done->choice.outside > 0)
    say_outside(check, entry, part, done);
  else if (done->choice.few)
    say_few(check, entry, part, done);
}

/* ---- the rules --------------------------------------------------------------------------------
 */

static gboolean *
meant_by(const HfCheck *check, const HfStudsEntry *rule)
{
  guint n = check->layout->shapes->len;
  gboolean *meant = g_new0(gboolean, n + 1), all = rule->of->len == 0;
  for (guint s = 0; s < n; s++)
    meant[s] = all;
  for (guint i = 0; i < rule->of->len; i++) {
    g_autoptr(GArray) shapes =
        hf_layout_meant(check->recipe, check->layout, g_ptr_array_index(rule->of, i));
    for (guint k = 0; k < shapes->len; k++)
      meant[g_array_index(shapes, guint, k)] = TRUE;
  }
  return meant;
}

/* Metal that an opening of it bounds is not its metal. */
static gboolean
is_meant(const HfCheck *check, const HfPart *part, const gboolean *meant)
{
  for (guint i = 0; i < part->shapes->len; i++) {
    guint s = g_array_index(part->shapes, guint, i);
    if (meant[s] && !hf_layout_shape(check->layout, s)->opening)
      return TRUE;
  }
  return FALSE;
}

static void
stud(Studding *studding, guint entry, guint number)
{
  HfCheck *check = studding->check;
  const HfStudsEntry *rule = &hf_recipe_at(check->recipe, entry)->studs;
  const HfPart *part = &g_array_index(check->hold->parts, HfPart, number);
  HfMatrix frame = frame_of(check, part);
  const Done *done = choose(studding, piece_of(studding->metal, part, frame), rule);
  for (guint i = 0; i < done->choice.at->len; i++) {
    HfPoint at = hf_matrix_apply(frame, g_array_index(done->choice.at, HfPoint, i));
    HfStud one = {at, rule->diameter, entry, number};
    g_array_append_val(check->hold->studs, one);
  }
  say(check, entry, part, done);
}

static gboolean
run_rule(Studding *studding, guint entry, gboolean *taken, GError **error)
{
  HfCheck *check = studding->check;
  g_autofree gboolean *meant = meant_by(check, &hf_recipe_at(check->recipe, entry)->studs);
  for (guint i = 0; i < check->hold->parts->len; i++) {
    const HfPart *part = &g_array_index(check->hold->parts, HfPart, i);
    if (taken[i] || part->loose || !is_meant(check, part, meant))
      continue;
    if (!hf_cancel_check(check->cancel, error))
      return FALSE;
    taken[i] = TRUE;
    stud(studding, entry, i);
  }
  return TRUE;
}

/* Studs that nobody placed: a sign that is screwed through holes may call them so. */
static void
say_unsaid(HfCheck *check)
{
  const GPtrArray *shapes = check->layout->shapes;
  if (check->recipe->mount != HF_MOUNT_STUDS)
    return;
  for (guint s = 0; s < shapes->len; s++)
    if (hf_entry_is(hf_recipe_at(check->recipe, hf_layout_shape(check->layout, s)->entry),
                    HF_KIND_OPENS))
      return;
  hf_check_add(check, HF_LAW_STUDS_UNSAID, NAN, check->hold->centroid);
}

static gboolean
check_studs(HfCheck *check, GError **error)
{
  gboolean any = FALSE, done = TRUE;
  Studding studding = {check, check->hold->cut != NULL ? check->hold->cut : check->metal->region,
                       g_array_new(FALSE, FALSE, sizeof(Done))};
  g_array_set_clear_func(studding.done, done_clear);
  g_autofree gboolean *taken = g_new0(gboolean, check->hold->parts->len + 1);
  for (guint i = 0; done && i < check->recipe->entries->len; i++)
    if (hf_recipe_at(check->recipe, i)->kind == HF_ENTRY_STUDS) {
      any = TRUE;
      done = run_rule(&studding, i, taken, error);
    }
  g_array_unref(studding.done);
  if (done && !any)
    say_unsaid(check);
  return done;
}

/* ---- the laws ---------------------------------------------------------------------------------
 */

const HfLaw hf_no_stud_law = {
    .key = "no-stud",
    .quantity = "piece without room for a stud",
    .unit = "",
    .at_least = TRUE,
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "geometry: see docs/maths.md",
    .why = "nothing fixes that piece to the wall",
    .what = "no room for a stud",
    .fix = "take thinner studs, leave less to the edge, or take a bolder face",
    .cures = HF_CURES("thinner", "edge", "larger"),
    .check = check_studs,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_studs_outside_law = {
    .key = "studs-outside",
    .quantity = "centre of mass outside what the studs span",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "statics: see docs/maths.md",
    .why = "the piece tips about its studs",
    .what = "its centre of mass lies outside what its studs span",
    .fix = "take thinner studs, leave less to the edge, or take a bolder face",
    .cures = HF_CURES("thinner", "edge", "larger"),
    .check = check_studs,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_few_studs_law = {
    .key = "few-studs",
    .quantity = "piece too narrow for three studs",
    .unit = "",
    .gravity = HF_NOTE,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "two studs let it rock, one lets it turn",
    .what = "too narrow for three studs about its centre of mass",
    .fix = "take thinner studs, or glue it too",
    .cures = HF_NO_CURES,
    .check = check_studs,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};

const HfLaw hf_studs_unsaid_law = {
    .key = "studs-unsaid",
    .quantity = "studs that no entry places",
    .unit = "",
    .gravity = HF_NOTE,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "without places there is no drilling template",
    .what = "the sign is mounted by studs, and no entry says how thick they are",
    .fix = "add an entry studs with diameter: 6 mm and edge: 3 mm",
    .cures = HF_CURES("studs"),
    .check = check_studs,
    .after = &hf_loose_part_law,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
