/* SPDX-License-Identifier: GPL-3.0-or-later
 * replayed-words.c - what a replay came to, in words and as JSON.
 */
#include "base/json.h"
#include "base/seen.h"
#include "base/text.h"
#include "run/replayed.h"

enum { FORMAT = 1, MOST_OF_A_KIND = 10, MOST_PIECES = 10 };

static const char *const gravities[] = {
    [HF_STOP] = "stop", [HF_CAUTION] = "caution", [HF_NOTE] = "note"};
static const char *const kinds[] = {
    [HF_PIECE_SKELETON] = "skeleton", [HF_PIECE_SIGN] = "sign", [HF_PIECE_DROP] = "drop"};

static const HfPiece *
piece_at(const HfReplay *replay, guint i)
{
  return &g_array_index(replay->pieces, HfPiece, i);
}

/* The line after which a piece hangs on the sheet no more; 0: it always hangs. */
static guint
line_loosened(const HfReplay *replay, const HfPiece *piece)
{
  return piece->loosened > 0 ? g_array_index(replay->burns, HfBurn, piece->loosened - 1).line_off
                             : 0;
}

/* ---- words ------------------------------------------------------------------------------------
 */

/* "7 min 12 s" */
static char *
time_text(double seconds)
{
  guint64 whole = (guint64)rint(fmin(seconds, 1e9));
  g_autofree char *few = hf_text_number(fmin(seconds, 1e9), 1);
  return whole >= 60 ? g_strdup_printf("%" G_GUINT64_FORMAT " min %" G_GUINT64_FORMAT " s",
                                       whole / 60, whole % 60)
                     : g_strconcat(few, " s", NULL);
}

static void
say_figures(GString *text, const HfReplayed *r)
{
  const HfReplay *replay = r->replay;
  g_autofree char *cut = hf_text_run(replay->cut_length, 2);
  g_autofree char *travel = hf_text_run(replay->travel, 2), *kerf = hf_text_mm(replay->kerf);
  g_autofree char *at_feed = time_text(replay->cut_seconds);
  g_autofree char *waits = time_text(replay->wait_seconds);
  g_autofree char *file = hf_seen_place(r->program->file);
  g_string_append_printf(text,
                         "%s: %u lines in %s, %u pierce%s, %s cut with a kerf of %s, %s travel\n",
                         file, r->program->lines, r->program->inches ? "inches" : "mm",
                         replay->burns->len, replay->burns->len == 1 ? "" : "s", cut, kerf, travel);
  g_string_append_printf(text,
                         "time: %s at its feeds and %s of waits, without travel, pierce "
                         "sensing and slowing at corners\n",
                         at_feed, waits);
}

static void
say_pieces(GString *text, const HfReplay *replay)
{
  guint n = hf_replay_count(replay, HF_PIECE_SIGN), drops = hf_replay_count(replay, HF_PIECE_DROP);
  g_string_append_printf(text, "left: %u piece%s, %u drop%s\n", n, n == 1 ? "" : "s", drops,
                         drops == 1 ? "" : "s");
  for (guint i = 0, told = 0; i < replay->pieces->len && told < MOST_PIECES; i++) {
    const HfPiece *piece = piece_at(replay, i);
    if (piece->kind != HF_PIECE_SIGN)
      continue;
    told++;
    g_autofree char *size = hf_text_size(hf_box_width(piece->box), hf_box_height(piece->box));
    g_autofree char *area = hf_text_area(piece->area);
    g_autofree char *x = hf_text_mm(piece->box.min.x), *y = hf_text_mm(piece->box.min.y);
    g_string_append_printf(text, "  %s, %s, its lower left corner at %s, %s; loose after line %u\n",
                           size, area, x, y, line_loosened(replay, piece));
  }
}

static void
say_design(GString *text, const HfReplayed *r)
{
  const HfReplay *replay = r->replay;
  if (r->sign == NULL)
    return;
  g_autofree char *x = hf_text_mm(replay->laid.x), *y = hf_text_mm(replay->laid.y);
  g_autofree char *in = hf_text_length(replay->inward, 3),
                  *out = hf_text_length(replay->outward, 3);
  g_autofree char *corners = hf_text_area(replay->kept_corners);
  g_string_append_printf(text,
                         "against the sign, laid with its lower left corner at %s, %s: at most %s "
                         "missing, %s too much; %s stay in inside corners that a round kerf can't "
                         "reach\n",
                         x, y, in, out, corners);
}

static void
say_left_out(GString *text, const HfReplayed *r)
{
  if (r->left_out > 0)
    g_string_append_printf(text,
                           "%u line%s with words of the shop file's that can't be read %s left "
                           "out: what they do is not known here\n",
                           r->left_out, r->left_out > 1 ? "s" : "",
                           r->left_out > 1 ? "were" : "was");
}

/* (nullable) what the program's own comment calls what is done in @line. */
static const char *
name_of_line(const HfProgram *program, guint line)
{
  guint low = 0, high = program->moves->len;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (hf_program_move(program, middle)->line < line)
      low = middle + 1;
    else
      high = middle;
  }
  return line > 0 && low < program->moves->len ? hf_program_name(program, low) : NULL;
}

static void
say_finding(GString *text, const HfReplayed *r, const HfReplayFinding *finding)
{
  const HfProgram *program = r->program;
  g_autofree char *file = hf_seen_place(program->file);
  g_string_append_printf(text, "%s: %s", gravities[finding->gravity], file);
  if (finding->line > 0)
    g_string_append_printf(text, ":%u", finding->line);
  const char *name = name_of_line(program, finding->line);
  g_autofree char *shown = name != NULL && *name != '\0' ? hf_seen_value(name) : NULL;
  if (shown != NULL)
    g_string_append_printf(text, " (%s)", shown);
  g_string_append_printf(text, ": %s", finding->says);
  if (isfinite(finding->at.x)) {
    g_autofree char *x = hf_text_mm(finding->at.x), *y = hf_text_mm(finding->at.y);
    g_string_append_printf(text, " (at %s, %s)", x, y);
  }
  g_string_append_c(text, '\n');
}

/* Of each kind the first ones. */
static void
say_findings(GString *text, const HfReplayed *r)
{
  g_autoptr(GHashTable) told = g_hash_table_new(g_str_hash, g_str_equal);
  guint left_out = 0;
  for (guint i = 0; i < r->replay->findings->len; i++) {
    const HfReplayFinding *finding = r->replay->findings->pdata[i];
    guint n = GPOINTER_TO_UINT(g_hash_table_lookup(told, finding->key));
    g_hash_table_replace(told, (gpointer)(gintptr)finding->key, GUINT_TO_POINTER(n + 1));
    if (n < MOST_OF_A_KIND)
      say_finding(text, r, finding);
    else
      left_out++;
  }
  if (left_out > 0)
    g_string_append_printf(text, "and %u more like these; --json tells all of them\n", left_out);
}

char *
hf_replayed_words(const HfReplayed *replayed)
{
  g_auto(HfUnitsScope) scope =
      hf_units_scope(replayed->sign != NULL ? replayed->sign->recipe->units : hf_units_now());
  GString *text = g_string_new(NULL);
  say_figures(text, replayed);
  say_pieces(text, replayed->replay);
  say_design(text, replayed);
  say_findings(text, replayed);
  say_left_out(text, replayed);
  g_string_append(text,
                  !hf_replayed_is_good(replayed) ? "not as it should be: do not cut it\n"
                  : replayed->sign != NULL
                      ? "as designed: what the program leaves is the recipe's sign\n"
                      : "nothing found against it; only --against a recipe says whether it is "
                        "the sign\n");
  return g_string_free(text, FALSE);
}

/* ---- JSON -------------------------------------------------------------------------------------
 */

static void
put_place(HfJson *json, const char *key, HfPoint at)
{
  if (!isfinite(at.x))
    return;
  hf_json_line(json, key, '{');
  hf_json_number(json, "x", at.x, 4);
  hf_json_number(json, "y", at.y, 4);
  hf_json_close(json);
}

static void
put_pieces(HfJson *json, const HfReplay *replay)
{
  hf_json_open(json, "pieces", '[');
  for (guint i = 0; i < replay->pieces->len; i++) {
    const HfPiece *piece = piece_at(replay, i);
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "kind", kinds[piece->kind]);
    hf_json_number(json, "area", piece->area, 4);
    hf_json_number(json, "loose_after_line", line_loosened(replay, piece), 0);
    put_place(json, "at", piece->at);
    put_place(json, "from", piece->box.min);
    put_place(json, "to", piece->box.max);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
put_findings(HfJson *json, const HfReplay *replay)
{
  hf_json_open(json, "findings", '[');
  for (guint i = 0; i < replay->findings->len; i++) {
    const HfReplayFinding *finding = replay->findings->pdata[i];
    hf_json_line(json, NULL, '{');
    hf_json_text(json, "key", finding->key);
    hf_json_text(json, "gravity", gravities[finding->gravity]);
    if (finding->line > 0)
      hf_json_number(json, "line", finding->line, 0);
    put_place(json, "at", finding->at);
    if (isfinite(finding->amount))
      hf_json_number(json, "amount", finding->amount, 4);
    hf_json_text(json, "says", finding->says);
    hf_json_close(json);
  }
  hf_json_close(json);
}

static void
put_figures(HfJson *json, const HfReplayed *r)
{
  const HfReplay *replay = r->replay;
  hf_json_number(json, "lines", r->program->lines, 0);
  hf_json_number(json, "left_out", r->left_out, 0);
  hf_json_number(json, "pierces", replay->burns->len, 0);
  hf_json_number(json, "cut_length", replay->cut_length, 4);
  hf_json_number(json, "cut_area", hf_region_area(replay->cut), 4);
  hf_json_number(json, "travel", replay->travel, 4);
  hf_json_number(json, "cut_seconds", replay->cut_seconds, 3);
  hf_json_number(json, "wait_seconds", replay->wait_seconds, 3);
  if (r->sign == NULL)
    return;
  put_place(json, "laid", replay->laid);
  hf_json_number(json, "inward", replay->inward, 4);
  put_place(json, "inward_at", replay->inward_at);
  hf_json_number(json, "outward", replay->outward, 4);
  put_place(json, "outward_at", replay->outward_at);
  hf_json_number(json, "kept_corners", replay->kept_corners, 4);
}

GBytes *
hf_replayed_json(const HfReplayed *replayed)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "format", FORMAT, 0);
  hf_json_text(json, "verdict", hf_replayed_is_good(replayed) ? "good" : "not good");
  put_figures(json, replayed);
  put_pieces(json, replayed->replay);
  put_findings(json, replayed->replay);
  hf_json_close(json);
  return hf_json_finish(json);
}
