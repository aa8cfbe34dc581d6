/* SPDX-License-Identifier: GPL-3.0-or-later
 * findings.c - from single cases to findings: weighed, accepted, gathered, worded, in order.
 *
 *   web of 'R' 1.2 mm, stop --+                                   +- stop: 'R', 2 places, 1.2 mm
 *   web of 'R' 1.4 mm, stop --+-- same law, gravity, form, entry --+
 *   web of 'R' 2.2 mm, caution ----------------------------------- caution: 'R', 1 place
 *
 * Invariant: a stop is never accepted, whatever the recipe says.
 */
#include "hold/hold-private.h"
#include <string.h>

#define SAME_PLACE 3.0 /* mm: what a rule did not come to is looked for so near */

#define MAX_NAMES 8

static HfFinding *
finding_new(HfLawKind kind, HfPoint at)
{
  HfFinding *finding = g_new0(HfFinding, 1);
  finding->kind = kind;
  finding->at = at;
  finding->count = 1;
  finding->measured = finding->limit = NAN;
  finding->area = finding->mass = finding->reach = NAN;
  finding->box = HF_BOX_EMPTY;
  finding->places = g_array_new(FALSE, FALSE, sizeof(HfPoint));
  g_array_append_val(finding->places, at);
  finding->names = g_ptr_array_new_with_free_func(g_free);
  finding->each = g_ptr_array_new_with_free_func(g_free);
  finding->entries = g_array_new(FALSE, FALSE, sizeof(guint));
  return finding;
}

void
hf_finding_free(HfFinding *finding)
{
  if (finding == NULL)
    return;
  g_array_unref(finding->places);
  g_ptr_array_unref(finding->names);
  g_ptr_array_unref(finding->each);
  g_array_unref(finding->entries);
  g_free(finding->where);
  g_free(finding->what);
  g_free(finding->fix);
  g_free(finding->text);
  g_free(finding->accepted);
  g_free(finding);
}

int
hf_check_gravity(const HfCheck *check, HfLawKind kind, double measured)
{
  HfGravity gravity;
  double limit;
  if (!hf_law_weigh(kind, check->hold->limits[kind], measured, &gravity, &limit))
    return -1;
  return (int)gravity;
}

HfFinding *
hf_check_add(HfCheck *check, HfLawKind kind, double measured, HfPoint at)
{
  HfLimit limit = check->hold->limits[kind];
  HfGravity gravity;
  double broken;
  if (!hf_law_weigh(kind, limit, measured, &gravity, &broken))
    return NULL;
  HfFinding *finding = finding_new(kind, at);
  finding->gravity = gravity;
  finding->measured = measured;
  finding->limit = broken;
  finding->said_by = limit.said_by;
  finding->coupon = limit.coupon;
  g_ptr_array_add(check->hold->findings, finding);
  return finding;
}

static void
add_entry(HfFinding *finding, guint entry)
{
  for (guint i = 0; i < finding->entries->len; i++)
    if (g_array_index(finding->entries, guint, i) == entry)
      return;
  g_array_append_val(finding->entries, entry);
}

static void
add_name(HfFinding *finding, const char *name)
{
  if (finding->names->len < MAX_NAMES &&
      !g_ptr_array_find_with_equal_func(finding->names, name, g_str_equal, NULL))
    g_ptr_array_add(finding->names, g_strdup(name));
}

void
hf_finding_name(HfCheck *check, HfFinding *finding, guint shape)
{
  if (shape >= check->layout->shapes->len) /* HF_NO_SHAPE: nobody's */
    return;
  const HfShape *of = hf_layout_shape(check->layout, shape);
  add_name(finding, of->label);
  add_entry(finding, of->entry);
}

void
hf_finding_call(HfFinding *finding, const char *name)
{
  g_ptr_array_insert(finding->names, 0, g_strdup(name));
  if (finding->names->len > MAX_NAMES)
    g_ptr_array_set_size(finding->names, MAX_NAMES);
}

void
hf_finding_form(HfFinding *finding, const char *form)
{
  finding->form = form;
}

void
hf_finding_say(HfFinding *finding, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_free(finding->what);
  finding->what = g_strdup_vprintf(format, args);
  va_end(args);
}

void
hf_finding_fix(HfFinding *finding, const char *fix)
{
  g_free(finding->fix);
  finding->fix = g_strdup(fix);
}

guint
hf_check_shape_at(const HfCheck *check, HfEdgeId id)
{
  const HfRing *ring = hf_region_ring(check->metal->region, id.ring);
  return ring->from != NULL ? ring->from[id.vertex].shape : HF_NO_SHAPE;
}

/* Acceptance. */

static gboolean
accepts(const HfCheck *check, const HfAccepted *accepted, const HfFinding *finding)
{
  if (g_ascii_strcasecmp(accepted->finding, hf_law(finding->kind)->key) != 0)
    return FALSE;
  if (accepted->of == NULL)
    return TRUE;
  for (guint i = 0; i < finding->entries->len; i++)
    if (g_strcmp0(hf_recipe_at(check->recipe, g_array_index(finding->entries, guint, i))->name,
                  accepted->of) == 0)
      return TRUE;
  return FALSE;
}

static void
say_no_effect(HfCheck *check, const HfAccepted *accepted, const HfFinding *stop)
{
  HfPoint at = stop != NULL ? stop->at : check->hold->centroid;
  HfFinding *note = hf_check_add(check, HF_LAW_ACCEPTANCE, NAN, at);
  const char *of = accepted->of != NULL ? accepted->of : "";
  g_autofree char *whose = accepted->of != NULL ? g_strdup_printf(" of \"%s\"", of) : g_strdup("");
  if (stop != NULL) {
    hf_finding_say(note, "the recipe accepts \"%s\"%s, but here it is a stop, and a stop stays",
                   accepted->finding, whose);
    hf_finding_fix(note, "cure it, or change its limit in recipe or shop file if you know better");
  } else {
    hf_finding_say(note, "the recipe accepts \"%s\"%s, and there is none", accepted->finding,
                   whose);
    hf_finding_fix(note, "take it out of the recipe");
  }
}

static void
accept(HfCheck *check, const HfAccepted *accepted)
{
  GPtrArray *findings = check->hold->findings;
  const HfFinding *stop = NULL;
  gboolean had_effect = FALSE;
  for (guint i = 0; i < findings->len; i++) {
    HfFinding *finding = findings->pdata[i];
    if (finding->kind == HF_LAW_ACCEPTANCE || !accepts(check, accepted, finding))
      continue;
    if (finding->gravity == HF_STOP) {
      stop = stop != NULL ? stop : finding;
    } else {
      had_effect = TRUE;
      if (finding->accepted == NULL)
        finding->accepted = g_strdup(accepted->reason);
    }
  }
  gboolean of_all = check->recipe->of != NULL && /* of all sheets together: asked there */
                    g_ascii_strcasecmp(accepted->finding, hf_law(HF_LAW_NOT_AGREED)->key) == 0;
  if (stop != NULL || (!had_effect && !of_all))
    say_no_effect(check, accepted, stop);
}

/* Gathering. The order below puts alike findings side by side, the worst of them first. */

#define NO_ENTRY G_MAXUINT

static guint
own_entry(const HfFinding *finding)
{
  if (finding->entries->len == 0)
    return NO_ENTRY;
  if (hf_law(finding->kind)->note_within &&
      finding->gravity == HF_NOTE) /* one for the whole sign */
    return NO_ENTRY;
  return g_array_index(finding->entries, guint, 0);
}

static int
by_number(double a, double b)
{
  return (a > b) - (a < b);
}

static int
by_place(HfPoint a, HfPoint b)
{
  int x = by_number(a.x, b.x);
  return x != 0 ? x : by_number(b.y, a.y);
}

static int
by_badness(const HfFinding *a, const HfFinding *b)
{
  if (!isnan(a->measured) && !isnan(b->measured) && a->measured != b->measured) {
    int less = by_number(a->measured, b->measured);
    return hf_law(a->kind)->at_least ? less : -less;
  }
  if (!isnan(a->area) && !isnan(b->area))
    return -by_number(a->area, b->area);
  return 0;
}

/* Of what a rule that mends has left: it did not come to it. */
static const char NOT_COME_TO[] =
    "mending did not come to it, as there is more to mend than it takes on; mend it by hand, or "
    "mend less at once by \"of\"";

static int
by_likeness(const HfFinding *a, const HfFinding *b)
{
  int order = (int)a->kind - (int)b->kind;
  if (order == 0)
    order = (int)b->gravity - (int)a->gravity;
  if (order == 0)
    order = g_strcmp0(a->accepted, b->accepted);
  if (order == 0)
    order = g_strcmp0(a->form, b->form);
  if (order == 0 && (a->kind == HF_LAW_ACCEPTANCE || a->kind == HF_LAW_MIXED_LETTERS))
    order = g_strcmp0(a->what, b->what);
  if (order == 0)
    order = b->not_come_to - a->not_come_to;
  if (order == 0)
    order = by_number(own_entry(a), own_entry(b));
  return order;
}

static int
alike_together(gconstpointer p, gconstpointer q)
{
  const HfFinding *a = *(HfFinding *const *)p, *b = *(HfFinding *const *)q;
  int order = by_likeness(a, b);
  if (order == 0)
    order = by_badness(a, b);
  return order != 0 ? order : by_place(a->at, b->at);
}

static int
gravest_first(gconstpointer p, gconstpointer q)
{
  const HfFinding *a = *(HfFinding *const *)p, *b = *(HfFinding *const *)q;
  int order = (int)b->gravity - (int)a->gravity;
  if (order == 0)
    order = (int)a->kind - (int)b->kind;
  return order != 0 ? order : by_place(a->at, b->at);
}

void
hf_findings_sort(GPtrArray *findings)
{
  g_ptr_array_sort(findings, gravest_first);
}

static void
take_in(HfFinding *worst, const HfFinding *other)
{
  g_array_append_vals(worst->places, other->places->data, other->places->len);
  worst->count = worst->places->len;
  for (guint i = 0; i < other->names->len; i++)
    add_name(worst, other->names->pdata[i]);
  for (guint i = 0; i < other->entries->len; i++)
    add_entry(worst, g_array_index(other->entries, guint, i));
}

static GPtrArray *
gather(GPtrArray *cases)
{
  GPtrArray *findings = g_ptr_array_new_with_free_func((GDestroyNotify)hf_finding_free);
  g_ptr_array_sort(cases, alike_together);
  for (guint i = 0; i < cases->len;) {
    HfFinding *worst = g_steal_pointer(&cases->pdata[i]);
    guint own_names = worst->names->len;
    g_ptr_array_add(worst->each, hf_finding_place(worst));
    for (i++; i < cases->len && by_likeness(worst, cases->pdata[i]) == 0; i++) {
      g_ptr_array_add(worst->each, hf_finding_place(cases->pdata[i]));
      take_in(worst, cases->pdata[i]);
    }
    hf_finding_word(worst, own_names);
    g_ptr_array_add(findings, worst);
  }
  return findings;
}

/* ---- what a rule that mends has left ----------------------------------------------------------
 */

static gboolean
is_no_letter(const HfCheck *check, const HfFinding *finding)
{
  for (guint i = 0; i < finding->entries->len; i++) {
    HfEntryKind kind = hf_recipe_at(check->recipe, g_array_index(finding->entries, guint, i))->kind;
    if (kind == HF_ENTRY_WORDS || kind == HF_ENTRY_INITIAL || kind == HF_ENTRY_MEND)
      return FALSE;
  }
  return finding->entries->len > 0;
}

/* Why a stop is still there although the recipe has it mended: nobody is to be sent round again. */
static const char *
why_left(const HfCheck *check, const HfMendEntry *wish, const HfFinding *finding)
{
  HfMends mends = hf_law(finding->kind)->mends;
  gboolean usual = !wish->fill && !wish->thicken && !wish->enlarge && isnan(wish->round);
  if (mends == HF_MENDS_WEB && (wish->thicken || usual))
    return is_no_letter(check, finding)
               ? "make it wider itself: mending moves no edge of a plate, ring or bar"
               : "mending left it, as more metal there would close or change a letter or reach "
                 "beyond it; make the letters larger or bolder";
  if ((mends == HF_MENDS_GAP || mends == HF_MENDS_OPENING) && (wish->fill || usual))
    return "mending left it, as to close it would change a letter or move an edge; make the "
           "letters larger";
  return NULL;
}

/* Did rule @entry end before it came to it? */
static gboolean
was_not_come_to(const HfCheck *check, guint entry, const HfFinding *finding)
{
  const GArray *missed = check->layout->missed;
  for (guint i = 0; missed != NULL && i < missed->len; i++) {
    const HfMissed *one = &g_array_index(missed, HfMissed, i);
    if (one->why == NULL && one->entry == entry &&
        hf_law(finding->kind)->mends != HF_MENDS_NOTHING &&
        hf_law(finding->kind)->mends != HF_MENDS_PART &&
        hf_point_distance(one->at, finding->at) < SAME_PLACE)
      return TRUE;
  }
  return FALSE;
}

static void
say_what_is_left(const HfCheck *check)
{
  for (guint e = 0; e < check->recipe->entries->len; e++) {
    const HfEntry *entry = hf_recipe_at(check->recipe, e);
    if (entry->kind != HF_ENTRY_MEND || !hf_entry_is_in(entry, check->recipe->in_layer))
      continue;
    for (guint i = 0; i < check->hold->findings->len; i++) {
      HfFinding *finding = g_ptr_array_index(check->hold->findings, i);
      const char *why = finding->gravity == HF_STOP ? why_left(check, &entry->mend, finding) : NULL;
      finding->not_come_to = finding->not_come_to || was_not_come_to(check, e, finding);
      if (finding->not_come_to)
        why = NOT_COME_TO;
      if (why != NULL)
        hf_finding_fix(finding, why);
    }
  }
}

void
hf_findings_settle(HfCheck *check)
{
  say_what_is_left(check);
  const GArray *accepted = check->recipe->accept;
  for (guint i = 0; accepted != NULL && i < accepted->len; i++)
    accept(check, &g_array_index(accepted, HfAccepted, i));
  GPtrArray *cases = check->hold->findings;
  check->hold->findings = gather(cases);
  g_ptr_array_unref(cases);
  hf_findings_sort(check->hold->findings);
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_acceptance_law = {
    .key = "acceptance",
    .quantity = "acceptance that has no effect",
    .unit = "",
    .gravity = HF_NOTE,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "a stop can't be accepted, and what is not found needs no acceptance",
    .what = "the recipe accepts what is not there",
    .fix = "take it out of the recipe",
    .cures = HF_CURES("acceptance"),
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
