/* SPDX-License-Identifier: GPL-3.0-or-later
 * tie-words.c - chosen bars as ties: what each is pinned to, where in it, what it is called; and
 * why a part could not be tied.
 */
#include "base/text.h"
#include "tie/set-private.h"
#include <string.h>

#define SAME 1e-3 /* ems or mm: bars in one row */

/* ---- as a pin says it ------------------------------------------------------------------------ */

/* Standing letter: the opening that the bar lies in. Cut-through: the counter that it holds. */
static int
opening_of(const HfShape *shape, const HfBar *bar, GHashTable *known)
{
  GArray *counters = g_hash_table_lookup(known, shape);
  if (counters == NULL) {
    counters = hf_shape_counters(shape, shape->em);
    g_hash_table_insert(known, (gpointer)shape, counters);
  }
  if (!shape->opening)
    return (int)hf_counters_find(counters, bar->at);
  return (int)hf_counters_find(counters, hf_bar_point(bar, -bar->end[0].middle - 1e-3, 0));
}

static guint
pinned_to(const HfOffers *offers, const HfBar *bar)
{
  const HfGround *ground = offers->ground;
  guint shape = ground->views[bar->part[0]].shape;
  for (int which = 0; which < 2 && shape == HF_NO_SHAPE; which++)
    shape = hf_ground_shape(ground, bar->end[which].edge);
  return shape == HF_NO_SHAPE ? 0 : shape;
}

static HfTie
tie_of(const HfOffers *offers, const HfBar *bar, GHashTable *known)
{
  HfTie tie = {.from = hf_bar_point(bar, -bar->end[0].middle, 0),
               .to = hf_bar_point(bar, bar->end[1].middle, 0),
               .width = bar->width,
               .length = NAN,
               .area = bar->area,
               .part_a = bar->part[0],
               .part_b = bar->part[1],
               .shape = pinned_to(offers, bar)};
  const HfShape *shape = hf_layout_shape(offers->ground->sign->layout, tie.shape);
  tie.opening = shape->letter >= 0 ? opening_of(shape, bar, known) : 0;
  HfPoint middle = bar->at;
  if (!bar->straight) { /* a pin finds no ends there: it is told how long the bar is */
    tie.length = bar->end[0].bar + bar->end[1].bar;
    middle = hf_bar_point(bar, (bar->end[1].bar - bar->end[0].bar) / 2, 0);
  }
  tie.em = hf_matrix_undo(shape->em, middle);
  tie.angle = remainder(hf_angle_of(bar->way) - atan2(shape->em.yx, shape->em.xx), 2 * G_PI);
  tie.outline = hf_bar_outline(bar);
  return tie;
}

/* ---- in order -------------------------------------------------------------------------------- */

/* By letter, by opening, from the top, then from the left. */
static int
in_order(gconstpointer p, gconstpointer q)
{
  const HfTie *a = p, *b = q;
  if (a->shape != b->shape)
    return a->shape < b->shape ? -1 : 1;
  if (a->opening != b->opening)
    return a->opening < b->opening ? -1 : 1;
  if (fabs(a->em.y - b->em.y) > SAME)
    return a->em.y > b->em.y ? -1 : 1;
  if (fabs(a->em.x - b->em.x) > SAME)
    return a->em.x < b->em.x ? -1 : 1;
  return (a->angle > b->angle) - (a->angle < b->angle);
}

static void
hand_on(const HfOffers *offers, HfWork *work)
{
  guint number = 0;
  for (guint i = 0; i < work->ties->len; i++) {
    HfTie *tie = &g_array_index(work->ties, HfTie, i);
    const HfShape *of = hf_layout_shape(offers->ground->sign->layout, tie->shape);
    gboolean same = i > 0 && (tie - 1)->shape == tie->shape;
    number = same ? number + 1 : 1;
    tie->label = g_strdup_printf("tie %u of %s", number, of->label);
    HfShape *shape =
        hf_shape_new(hf_outline_copy(tie->outline), g_strdup(tie->label), work->entry, -1, FALSE);
    shape->copy = i;
    shape->em = of->em;
    g_ptr_array_add(work->shapes, shape);
  }
}

void
hf_bars_tell(const HfOffers *offers, const GArray *chosen, HfWork *work)
{
  g_autoptr(GHashTable) known =
      g_hash_table_new_full(NULL, NULL, NULL, (GDestroyNotify)g_array_unref);
  for (guint i = 0; i < chosen->len; i++) {
    guint bar = g_array_index(chosen, guint, i);
    HfTie tie = tie_of(offers, &g_array_index(offers->bars, HfBar, bar), known);
    g_array_append_val(work->ties, tie);
  }
  g_array_sort(work->ties, in_order);
  hand_on(offers, work);
}

/* ---- what could not be tied ------------------------------------------------------------------ */

static const char *
way_words(const HfTieLaw *law)
{
  switch (law->direction) {
  case HF_TIE_UPRIGHT:
    return "upright";
  case HF_TIE_LEVEL:
    return "level";
  default:
    return "straight across the stroke";
  }
}

/* (transfer full) @ret_help: static. */
static char *
why_not(const HfTieLaw *law, HfBarFault fault, const char **ret_help)
{
  g_autofree char *width = hf_text_mm(isnan(law->given) ? law->short_web : law->given);
  g_autofree char *web = hf_text_mm(law->short_web), *gap = hf_text_mm(law->gap);
  switch (fault) {
  case HF_BAR_DIRECTION:
    *ret_help = "leave the direction of the ties free";
    return g_strdup_printf("no bar that runs %s meets other metal", way_words(law));
  case HF_BAR_KEPT_FREE:
    *ret_help = "keep fewer directions free";
    return g_strdup("every bar would leave it in a direction to be kept free");
  case HF_BAR_EDGE:
    *ret_help = "take larger or bolder letters";
    return g_strdup_printf("no bar of %s meets metal over its whole width at both ends", width);
  case HF_BAR_HOLE:
    *ret_help = "move the hole, or let ties touch what is named under not on";
    return g_strdup("all it could be tied to is a hole to be fastened by, another tie, or metal "
                    "that no tie may touch");
  case HF_BAR_THIN:
    *ret_help =
        "take larger or bolder letters, or have thin metal thickened before the ties (mend)";
    return g_strdup_printf("where a bar could end, the metal is narrower than %s", web);
  case HF_BAR_CLOSE:
    *ret_help = "take larger letters, or move it";
    return g_strdup_printf("every bar would leave a gap narrower than %s beside it", gap);
  default:
    *ret_help = "bring it nearer to other metal, or let it bite";
    return g_strdup("no straight bar leads from it to metal that is held");
  }
}

/* What most bars failed by; that they met nothing only when all did. */
static HfBarFault
main_fault(const guint *faults)
{
  HfBarFault most = HF_BAR_NOTHING;
  for (guint i = HF_BAR_DIRECTION; i < HF_N_BAR_FAULTS; i++)
    if (faults[i] > 0 && (most == HF_BAR_NOTHING || faults[i] > faults[most]))
      most = (HfBarFault)i;
  return most;
}

void
hf_untied_tell(const HfOffers *offers, const HfUnheld *unheld, HfWork *work)
{
  guint part = g_array_index(offers->needy, guint, unheld->part - 1);
  const HfPart *its = &g_array_index(offers->ground->sign->hold->parts, HfPart, part);
  HfUntied untied = {.part = part, .at = its->centroid, .name = g_strdup(its->name)};
  const char *help = "take larger letters, or move it";
  switch (unheld->why) {
  case HF_UNHELD_NO_CANDIDATE:
    untied.why = why_not(&offers->law,
                         main_fault(offers->faults + (unheld->part - 1) * HF_N_BAR_FAULTS), &help);
    break;
  case HF_UNHELD_NEIGHBOURS:
    untied.why = g_strdup("it could only be tied to parts that nothing holds");
    help = "tie those first, or bring it nearer to metal that is held";
    break;
  default:
    untied.why = g_strdup("every bar that could hold it would cross or crowd one that holds "
                          "another part");
  }
  untied.help = g_strdup(help);
  g_array_append_val(work->untied, untied);
}
