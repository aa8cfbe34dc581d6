/* SPDX-License-Identifier: GPL-3.0-or-later
 * proven.c - paths, plan, text, reading back: one sheet. Nothing is written that the replay does
 * not take for the sign.
 */
#include "run/proven.h"
#include "base/seen.h"
#include "base/text.h"
#include "program/written.h"
#include "run/cut-wished-private.h"
#include "run/own-words-private.h"
#include "run/ring-names-private.h"
#include "stock/cautions.h"
#include <string.h>

#define FROM_CORNER_MM 10.0 /* sheet's corner to what is burnt; common practice, no source */
#define SLOW_SHARE     0.6  /* of the feed, in small holes; common practice, no source */
#define CLEAR_MM       5.0  /* about a thin web: no start there */
#define CIRCLE_MM      0.5
enum { MOST_CAUTIONS = 3, MOST_CLEAR = 200 };

/* ---- what is found ----------------------------------------------------------------------------
 */

/* Takes @where and @says. @at: sign's frame; NAN: nowhere. */
static void
add_found(HfCutting *cutting, HfLawKind kind, HfPoint at, char *where, char *says)
{
  HfCutFound found = {kind, at, cutting->layer, where, says};
  g_array_append_val(cutting->found, found);
}

static void
found_clear(gpointer data)
{
  HfCutFound *found = data;
  g_free((char *)found->where);
  g_free((char *)found->says);
}

/* Contours that the torch can't be started on: the sign can't be cut. */
static void
find_no_ways(HfCutting *cutting, const char *const *names)
{
  for (guint i = 0; i < cutting->paths->shorts->len; i++) {
    const HfLeadShort *one = &g_array_index(cutting->paths->shorts, HfLeadShort, i);
    if (one->has_none)
      add_found(cutting, HF_LAW_NO_WAY_IN, one->at, g_strdup(names[one->ring]),
                g_strdup("the torch can't start here without burning metal that stays"));
  }
}

/* Pierces that are nearer to metal than they should be: one note for all. */
static void
find_near_pierces(HfCutting *cutting, const char *const *names)
{
  const HfLeadShort *nearest = NULL;
  guint n = 0;
  for (guint i = 0; i < cutting->paths->shorts->len; i++) {
    const HfLeadShort *one = &g_array_index(cutting->paths->shorts, HfLeadShort, i);
    if (one->has_none || one->path < 0)
      continue;
    n++;
    if (nearest == NULL || one->has < nearest->has)
      nearest = one;
  }
  if (nearest == NULL)
    return;
  g_autofree char *has = hf_text_mm(nearest->has), *needs = hf_text_mm(nearest->needs);
  g_autofree char *more = n > 1 ? g_strdup_printf(" at the worst, in %u places", n) : g_strdup("");
  add_found(cutting, HF_LAW_PROGRAM_DOUBT, nearest->at, g_strdup(names[nearest->ring]),
            g_strdup_printf("the arc strikes %s from metal that stays%s, %s is usual; it may leave "
                            "a notch",
                            has, more, needs));
}

/* What `cut` wishes for and there was no room for. */
static void
find_unmet(HfCutting *cutting)
{
  const HfPaths *paths = cutting->paths;
  for (guint i = 0; i < paths->unmet->len; i++) {
    const HfLeadUnmet *one = &g_array_index(paths->unmet, HfLeadUnmet, i);
    add_found(cutting, HF_LAW_PROGRAM_DOUBT, one->at,
              g_strdup(hf_torch_path(paths, one->path)->name), g_strdup(one->says));
  }
}

static void
find_over(HfCutting *cutting)
{
  guint over = cutting->plan->over;
  if (over > 0)
    add_found(cutting, HF_LAW_PROGRAM_DOUBT, hf_point(NAN, NAN), NULL,
              g_strdup_printf("the torch travels %u time%s over a drop that can tip up on the "
                              "slats; see that it travels high enough",
                              over, over > 1 ? "s" : ""));
}

/* Round the thinnest webs: where a start would make them hot or leave its notch in them. */
static HfRegion *
keep_clear(const HfSign *sign)
{
  g_autoptr(HfOutline) circles = hf_outline_new();
  const GArray *webs = sign->hold->webs;
  for (guint i = 0; i < MIN(webs->len, MOST_CLEAR); i++) {
    const HfWeb *web = &g_array_index(webs, HfWeb, i);
    hf_outline_add_circle(circles, web->at, web->width + CLEAR_MM);
  }
  return hf_region_of_outline(circles, HF_NO_SHAPE, CIRCLE_MM);
}

/* ---- the program ------------------------------------------------------------------------------
 */

/* Does the metal lie to the left of travel? */
static gboolean
is_mirrored(const HfSign *layer)
{
  int said = layer->recipe->cut.good_side;
  return said == HF_CUT_SIDE_SHOP ? layer->shop->good_side == HF_GOOD_SIDE_LEFT
                                  : said == HF_CUT_SIDE_LEFT;
}

static gboolean
plan_it(HfCutting *cutting, const HfSign *layer, const HfCancel *cancel, GError **error)
{
  const HfProcess *process = &layer->hold->process;
  g_autoptr(HfRegion) clear = keep_clear(layer);
  g_auto(GStrv) names = hf_ring_names(layer);
  const char *const *called = (const char *const *)names;
  g_autofree HfLeadWish *wishes = hf_cut_wished_ways(layer, called);
  HfLeadOptions options = {.kerf = process->kerf,
                           .crater = process->crater,
                           .thickness = process->thickness,
                           .mirrored = is_mirrored(layer),
                           .keep_clear = clear,
                           .wishes = wishes};
  cutting->paths =
      hf_paths_new(layer->metal, layer->fit, layer->layout, called, &options, cancel, error);
  if (cutting->paths == NULL)
    return FALSE;
  find_no_ways(cutting, called);
  if (cutting->found->len > 0) {
    cutting->why_not = g_strdup(g_array_index(cutting->found, HfCutFound, 0).says);
    return TRUE;
  }
  find_near_pierces(cutting, called);
  find_unmet(cutting);
  g_autoptr(GArray) order = hf_cut_wished_order(layer, called, cutting->paths, error);
  if (order == NULL)
    return FALSE;
  HfBox box = cutting->paths->box;
  cutting->at = hf_point(FROM_CORNER_MM - box.min.x, FROM_CORNER_MM - box.min.y);
  HfPlaced placed = {cutting->paths, cutting->at, (const HfPlanBefore *)(void *)order->data,
                     order->len};
  HfPlanTable table = hf_plan_table_of(layer->shop);
  cutting->plan = hf_plan_new(&placed, 1, &table, process->thickness, 0, cancel, error);
  if (cutting->plan == NULL)
    return FALSE;
  find_over(cutting);
  cutting->times = hf_plan_times(cutting->plan, layer->shop, &cutting->row, SLOW_SHARE);
  return TRUE;
}

static GPtrArray *
head_of(const HfCutting *cutting, const HfSign *layer)
{
  GPtrArray *says = g_ptr_array_new_with_free_func(g_free);
  g_autofree char *thick = hf_text_mm(cutting->thickness), *kerf = hf_text_mm(cutting->kerf);
  g_autofree char *feed = hf_cutting_feed(cutting);
  g_autofree char *current = hf_text_number(cutting->row.current, 0);
  g_autofree char *cut = hf_text_mm(cutting->row.cut_height);
  g_autofree char *pierce = hf_text_mm(cutting->row.pierce_height);
  if (layer->recipe->sign != NULL)
    g_ptr_array_add(says, g_strdup(layer->recipe->sign));
  if (cutting->layer != HF_LAYER_UNSAID)
    g_ptr_array_add(says, g_strconcat("layer: ", hf_layer_word(cutting->layer), NULL));
  g_ptr_array_add(says, g_strdup_printf("%s %s, kerf %s, zero: lower left corner of the sheet",
                                        cutting->metal, thick, kerf));
  g_ptr_array_add(says, g_strdup_printf("%s A, feed %s", current, feed));
  g_ptr_array_add(says, g_strdup_printf("pierce height %s, cut height %s", pierce, cut));
  g_auto(GStrv) mind = g_strsplit(hf_caution_line(), "; ", -1);
  for (guint i = 0; mind[i] != NULL; i++)
    g_ptr_array_add(says, g_strdup(mind[i]));
  g_ptr_array_add(says, NULL);
  return says;
}

static const char *const *
lines_of(GPtrArray *lines, GPtrArray *to)
{
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    g_ptr_array_add(to, lines->pdata[i]);
  g_ptr_array_add(to, NULL);
  return (const char *const *)to->pdata;
}

static char *
text_of(const HfCutting *cutting, const HfSign *layer, guint from)
{
  const HfShop *shop = layer->shop;
  g_autoptr(GPtrArray) says = head_of(cutting, layer);
  g_autoptr(GPtrArray) before = g_ptr_array_new(), after = g_ptr_array_new();
  HfProgramForm form = {.feed = cutting->row.feed.usual,
                        .slow = SLOW_SHARE,
                        .pierce_delay = cutting->row.pierce_delay.usual,
                        .inches = shop->program_unit == HF_PROGRAM_INCHES,
                        .arc_on = shop->arc_on != NULL ? shop->arc_on : "M3",
                        .arc_off = shop->arc_off != NULL ? shop->arc_off : "M5",
                        .before = lines_of(shop->before, before),
                        .after = lines_of(shop->after, after),
                        .says = (const char *const *)says->pdata,
                        .from = from};
  if (shop->height_held != NULL && shop->height_free != NULL) {
    form.height_held = shop->height_held;
    form.height_free = shop->height_free;
  }
  return hf_program_write(cutting->plan, &form);
}

/* Reads the program; words of the table's own that are in the way are left out of what is proven,
 * which is told. */
static gboolean
read_back(HfCutting *cutting, const HfSign *layer, const HfCancel *cancel, GError **error)
{
  guint left_out = 0;
  g_autofree char *readable = hf_own_words_out(layer->shop, cutting->text, &left_out);
  cutting->program = hf_program_read("cut.nc", readable, strlen(readable), cancel, error);
  if (cutting->program != NULL && left_out > 0)
    add_found(cutting, HF_LAW_PROGRAM_DOUBT, hf_point(NAN, NAN), NULL,
              g_strdup("words of the shop file's program can't be read back; all else of it was, "
                       "without them"));
  return cutting->program != NULL;
}

/* ---- the proof --------------------------------------------------------------------------------
 */

/* Its stops: what comes off the table would not be what was checked. */
static void
find_stops(HfCutting *cutting)
{
  for (guint i = 0; i < cutting->replay->findings->len; i++) {
    const HfReplayFinding *one = cutting->replay->findings->pdata[i];
    if (one->gravity != HF_STOP)
      continue;
    g_autofree char *line = one->line > 0 ? g_strdup_printf(", line %u", one->line) : g_strdup("");
    char *says = g_strdup_printf("the program, read back%s: %s", line, one->says);
    if (cutting->why_not == NULL)
      cutting->why_not = g_strdup(says);
    if (g_str_equal(one->key, "off-table")) /* that says `too-large` of the sign, a caution */
      g_free(says);
    else
      add_found(cutting, HF_LAW_PROGRAM_DIFFERS,
                isnan(one->at.x) ? one->at : hf_point_sub(one->at, cutting->at), NULL, says);
  }
}

static gboolean
prove_it(HfCutting *cutting, const HfSign *layer, const HfCancel *cancel, GError **error)
{
  HfPlanTable table = hf_plan_table_of(layer->shop);
  HfBox metal = hf_region_box(layer->metal->region);
  cutting->design =
      (HfBox){hf_point_add(metal.min, cutting->at), hf_point_add(metal.max, cutting->at)};
  HfReplayOptions options = {.kerf = cutting->kerf,
                             .design = layer->metal->region,
                             .within = HF_REPLAY_WITHIN_MM,
                             .at = cutting->design.min,
                             .table = table.width > 0 && table.height > 0
                                          ? (HfBox){{0, 0}, {table.width, table.height}}
                                          : HF_BOX_EMPTY};
  if (!read_back(cutting, layer, cancel, error))
    return FALSE;
  cutting->replay = hf_replay_new(cutting->program, &options, cancel, error);
  if (cutting->replay == NULL)
    return FALSE;
  find_stops(cutting);
  return TRUE;
}

static HfCutting *
cutting_new(const HfSign *layer)
{
  const HfProcess *process = &layer->hold->process;
  HfCutting *cutting = g_new0(HfCutting, 1);
  cutting->layer = layer->recipe->in_layer;
  cutting->kerf = process->kerf;
  cutting->thickness = process->thickness;
  cutting->metal = g_strdup(process->metal);
  cutting->row = hf_cut_row(layer->shop, layer->recipe->row, process->metal, process->thickness,
                            process->kerf);
  cutting->design = HF_BOX_EMPTY;
  cutting->found = g_array_new(FALSE, FALSE, sizeof(HfCutFound));
  g_array_set_clear_func(cutting->found, found_clear);
  return cutting;
}

/* A torch that died: the same program without what is done. */
static gboolean
find_rest(HfCutting *cutting, const HfSign *layer, HfFromCut from, GError **error)
{
  guint from_cut = from.cut;
  gboolean is_other = from.layer != HF_LAYER_UNSAID && cutting->layer != HF_LAYER_UNSAID &&
                      from.layer != cutting->layer;
  if (from_cut == 0 || is_other || !hf_cutting_is_good(cutting))
    return TRUE;
  guint n = cutting->plan->cuts->len;
  if (from_cut > n) {
    g_autofree char *fix = g_strdup_printf("give a number from 1 to %u", n);
    hf_error_set(error, HF_ERROR_BAD_VALUE, "--from-cut", fix, "there is no cut %u", from_cut);
    return FALSE;
  }
  cutting->rest = text_of(cutting, layer, from_cut - 1);
  return TRUE;
}

HfCutting *
hf_prove_cutting(const HfSign *layer, HfFromCut from, const HfCancel *cancel, GError **error)
{
  g_autoptr(HfCutting) cutting = cutting_new(layer);
  g_autoptr(GError) inner = NULL;
  gboolean ok = plan_it(cutting, layer, cancel, &inner);
  if (ok && cutting->why_not == NULL) {
    cutting->text = text_of(cutting, layer, 0);
    ok = prove_it(cutting, layer, cancel, &inner);
  }
  if (ok)
    return find_rest(cutting, layer, from, error) ? g_steal_pointer(&cutting) : NULL;
  gboolean wished =
      layer->recipe->cut.order->len + layer->recipe->cut.first->len + layer->recipe->cut.last->len >
      0;
  if (wished || (inner->code != HF_ERROR_BAD_VALUE && inner->code != HF_ERROR_TOO_BIG)) {
    g_propagate_error(error, g_steal_pointer(&inner));
    return NULL;
  }
  cutting->why_not = g_strdup(inner->message);
  return g_steal_pointer(&cutting);
}

/* ---- words ------------------------------------------------------------------------------------
 */

static void
say_cautions(GString *text, const HfReplay *replay)
{
  guint told = 0, more = 0;
  for (guint i = 0; i < replay->findings->len; i++) {
    const HfReplayFinding *finding = replay->findings->pdata[i];
    if (finding->gravity != HF_CAUTION)
      continue;
    if (told++ < MOST_CAUTIONS)
      g_string_append_printf(text, "  caution program, line %u: %s\n", finding->line,
                             finding->says);
    else
      more++;
  }
  if (more > 0)
    g_string_append_printf(text, "          and %u more like these; report.json tells them\n",
                           more);
}

static void
say_good(GString *text, const HfCutting *cutting)
{
  const HfPlan *plan = cutting->plan;
  g_autofree char *cut = hf_text_run(plan->length, 2), *travel = hf_text_run(plan->travel, 2);
  g_autofree char *time = hf_cutting_time(cutting->times->total);
  g_autofree char *feed = hf_cutting_feed(cutting);
  g_string_append_printf(text,
                         "%u cuts, %s with ways in, %s travel, %s; read back, it leaves the sign\n",
                         plan->cuts->len, cut, travel, time);
  g_string_append_printf(text, "          feed %s\n", feed);
  say_cautions(text, cutting->replay);
}

char *
hf_prove_words(const GPtrArray *cuttings)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < cuttings->len; i++) {
    const HfCutting *cutting = cuttings->pdata[i];
    g_string_append(text, "  program ");
    if (cutting->layer > HF_LAYER_FRONT)
      g_string_append_printf(text, "(%s) ", hf_layer_word(cutting->layer));
    if (hf_cutting_is_good(cutting)) {
      say_good(text, cutting);
      continue;
    }
    g_autofree char *why = hf_seen_message(cutting->why_not, FALSE);
    g_string_append_printf(text, "none: %s\n", why);
  }
  return g_string_free(text, FALSE);
}
