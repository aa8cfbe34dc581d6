/* SPDX-License-Identifier: GPL-3.0-or-later
 * cutting.c - how a sheet is cut, in words and for the report.
 */
#include "out/cutting.h"
#include "base/text.h"
#include "out/format.h"
#include "out/say-private.h"

enum { MM = 4, SECONDS = 1, FEED = 1 };

void
hf_cutting_free(HfCutting *cutting)
{
  if (cutting == NULL)
    return;
  hf_replay_free(cutting->replay);
  hf_program_free(cutting->program);
  hf_plan_times_free(cutting->times);
  hf_plan_free(cutting->plan);
  hf_paths_free(cutting->paths);
  g_array_free(cutting->found, TRUE);
  g_free(cutting->metal);
  g_free(cutting->rest);
  g_free(cutting->text);
  g_free(cutting->why_not);
  g_free(cutting);
}

gboolean
hf_cutting_is_good(const HfCutting *cutting)
{
  return cutting->text != NULL && cutting->why_not == NULL;
}

/* ---- words ------------------------------------------------------------------------------------
 */

char *
hf_cutting_time(HfRange seconds)
{
  guint low = (guint)fmin(rint(seconds.low), 1e9), high = (guint)fmin(rint(seconds.high), 1e9);
  if (high - low <= 1)
    return high < 60 ? g_strdup_printf("%u s", high)
                     : g_strdup_printf("%u min %u s", high / 60, high % 60);
  if (high < 120)
    return g_strdup_printf("%u to %u s", low, high);
  guint least = low / 60, most = (high + 59) / 60;
  return g_strdup_printf("%u to %u min", least, most);
}

char *
hf_cutting_feed(const HfCutting *cutting)
{
  const HfCutRow *row = &cutting->row;
  g_autofree char *usual = hf_text_feed(row->feed.usual);
  if (row->is_measured)
    return g_strconcat(usual, ", your process (cut chart)", NULL);
  g_autofree char *low = hf_text_feed(row->feed.low), *high = hf_text_feed(row->feed.high);
  return g_strdup_printf("%s (%s to %s): starting values, make a test cut", usual, low, high);
}

/* ---- the report -------------------------------------------------------------------------------
 */

static const char *const drops[] = {
    [HF_DROP_FALLS] = "falls", [HF_DROP_LIES] = "lies", [HF_DROP_TIPS] = "tips"};

static void
write_place(HfJson *json, const char *key, HfPoint at)
{
  if (!isfinite(at.x)) {
    hf_json_text(json, key, NULL);
    return;
  }
  hf_json_line(json, key, '{');
  hf_json_number(json, "x", at.x, MM);
  hf_json_number(json, "y", at.y, MM);
  hf_json_close(json);
}

static void
write_range(HfJson *json, const char *key, HfRange range, int decimals)
{
  hf_json_line(json, key, '{');
  hf_json_number(json, "low", range.low, decimals);
  hf_json_number(json, "usual", range.usual, decimals);
  hf_json_number(json, "high", range.high, decimals);
  hf_json_close(json);
}

/* How many of the cuts that are still to come, drops or parts as @i, begin nearer to where the
 * torch is than cut @i does. */
static guint
count_nearer(const HfPlan *plan, guint i)
{
  const HfCut *cut = hf_plan_cut(plan, i);
  HfPoint here = i > 0 ? hf_plan_cut(plan, i - 1)->end : hf_point(0, 0);
  double way = hf_point_distance(here, cut->pierce);
  guint nearer = 0;
  for (guint k = i + 1; k < plan->cuts->len; k++)
    nearer += hf_plan_cut(plan, k)->is_part == cut->is_part &&
              hf_point_distance(here, hf_plan_cut(plan, k)->pierce) < way;
  return nearer;
}

char *
hf_cutting_why(const HfCutting *cutting, guint i)
{
  static const char *const places[] = {[HF_PLACE_STRAIGHT] = "on a straight edge",
                                       [HF_PLACE_CORNER] = "at an outer corner",
                                       [HF_PLACE_ROUND] = "on a curve"};
  const HfCut *cut = hf_plan_cut(cutting->plan, i);
  const char *place = places[hf_start_place(cutting->paths, cut->path, cut->start)];
  const char *way = hf_start_is_arc(cutting->paths, cut->start) ? "by an arc" : "straight in";
  guint nearer = count_nearer(cutting->plan, i);
  const char *round = cut->is_part ? "; what lies in it is cut before" : "";
  const char *kind = cut->is_part ? "parts" : "openings";
  if (nearer == 0)
    return g_strdup_printf("begins %s, %s%s; nearest of the %s left", place, way, round, kind);
  const char *wished = cutting->plan->wished > 0 ? ", and what the recipe wants" : "";
  return g_strdup_printf("begins %s, %s%s; %u of the %s left %s nearer and %s later, for the whole "
                         "order's sake: travel, starts and heat%s",
                         place, way, round, nearer, kind, nearer == 1 ? "is" : "are",
                         nearer == 1 ? "comes" : "come", wished);
}

static void
write_cuts(HfJson *json, const HfCutting *cutting)
{
  hf_json_open(json, "cuts", '[');
  for (guint i = 0; cutting->plan != NULL && i < cutting->plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(cutting->plan, i);
    const HfCutTime *time = &g_array_index(cutting->times->cuts, HfCutTime, i);
    hf_json_open(json, NULL, '{');
    hf_json_number(json, "number", i + 1, 0);
    hf_json_text(json, "name", cut->name);
    g_autofree char *why = hf_cutting_why(cutting, i);
    hf_json_text(json, "why", why);
    hf_json_text(json, "lets_loose", cut->is_part ? "part" : "drop");
    hf_json_text(json, "drop", cut->is_part ? NULL : drops[cut->drop]);
    write_place(json, "pierce", cut->pierce);
    hf_json_number(json, "length", time->length, MM);
    write_range(json, "seconds", time->seconds, SECONDS);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
write_replay(HfJson *json, const HfReplay *replay)
{
  if (replay == NULL) {
    hf_json_text(json, "replay", NULL);
    return;
  }
  hf_json_open(json, "replay", '{');
  hf_json_text(json, "verdict", hf_replay_is_good(replay) ? "good" : "not good");
  hf_json_number(json, "inward", replay->inward, MM);
  hf_json_number(json, "outward", replay->outward, MM);
  hf_json_number(json, "kept_corners", replay->kept_corners, MM);
  hf_json_open(json, "findings", '[');
  for (guint i = 0; i < replay->findings->len; i++) {
    const HfReplayFinding *finding = replay->findings->pdata[i];
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "key", finding->key);
    hf_json_text(json, "gravity", hf_say_gravity(finding->gravity));
    hf_json_number(json, "line", finding->line > 0 ? (double)finding->line : NAN, 0);
    write_place(json, "at", finding->at);
    hf_json_text(json, "says", finding->says);
    hf_json_close(json);
  }
  hf_json_close(json);
  hf_json_close(json);
}

static void
write_figures(HfJson *json, const HfCutting *cutting)
{
  const HfPlan *plan = cutting->plan;
  hf_json_number(json, "kerf", cutting->kerf, MM);
  hf_json_bool(json, "measured", cutting->row.is_measured);
  write_range(json, "feed", cutting->row.feed, FEED);
  hf_json_number(json, "current", cutting->row.current, 1);
  write_range(json, "pierce_delay", cutting->row.pierce_delay, 2);
  hf_json_number(json, "cut_height", cutting->row.cut_height, 2);
  hf_json_number(json, "pierce_height", cutting->row.pierce_height, 2);
  hf_json_number(json, "pierces", plan != NULL ? (double)plan->cuts->len : NAN, 0);
  hf_json_number(json, "length", plan != NULL ? plan->length : NAN, MM);
  hf_json_number(json, "travel", plan != NULL ? plan->travel : NAN, MM);
  if (cutting->times == NULL) {
    hf_json_text(json, "seconds", NULL);
    return;
  }
  write_range(json, "seconds", cutting->times->total, SECONDS);
}

void
hf_cutting_write(HfJson *json, const HfCutting *cutting)
{
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "layer",
               cutting->layer != HF_LAYER_UNSAID ? hf_layer_word(cutting->layer) : NULL);
  hf_json_bool(json, "written", hf_cutting_is_good(cutting));
  hf_json_text(json, "why_not", cutting->why_not);
  write_figures(json, cutting);
  write_place(json, "at", cutting->at);
  write_replay(json, cutting->replay);
  write_cuts(json, cutting);
  hf_json_close(json);
}
