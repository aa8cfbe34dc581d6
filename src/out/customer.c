/* SPDX-License-Identifier: GPL-3.0-or-later
 * customer.c - what the proof tells in words: to whoever pays for the sign, hangs it and walks
 * under it. Nothing of the bench: no kerf, no pierces, no limits.
 */
#include "base/text.h"
#include "out/known-size-private.h"
#include "out/sheet-private.h"
#include "stock/cautions.h"

static const HfPenStyle plain = {.size = 9.5}, small = {.size = 8};

/* What becomes of it outdoors, by finish; of metal that rusts alone. */
static const char *const weathers[HF_N_FINISHES] = {
    [HF_FINISH_UNSAID] = "none ordered: bare metal, which rusts outdoors",
    [HF_FINISH_RAW] = "raw: it rusts outdoors",
    [HF_FINISH_OILED] = "oiled: oil it again now and then, or it rusts",
    [HF_FINISH_RUSTED] = "rusted: what runs off it stains stone and clothes",
};

static char *
finish_of_sheet(const HfSign *what)
{
  const HfFinish *finish = &what->recipe->finish;
  if (hf_finish_rusts(what->hold->process.metal) && weathers[finish->kind] != NULL)
    return g_strdup(weathers[finish->kind]);
  char *text = hf_finish_text(finish);
  return text != NULL ? text : g_strdup("none ordered: bare metal");
}

static char *
finish_text(const HfSign *what)
{
  return hf_say_sheets(what, finish_of_sheet, "; ", "");
}

static gboolean
takes_colour(const HfSign *what)
{
  for (guint i = 0; i < hf_sign_n_layers(what); i++)
    if (hf_finish_takes_colour(hf_sign_layer(what, i)->recipe->finish.kind))
      return TRUE;
  return FALSE;
}

static void
tell_sign(HfFlow *flow, const HfSign *what, const HfKnown *beside)
{
  g_autofree char *size = hf_say_size(what->hold), *metal = hf_say_metal(what);
  g_autofree char *finish = finish_text(what), *weight = hf_facts_weight(what);
  g_autofree char *hanging = hf_facts_hanging(what), *holes = hf_facts_holes(what);
  g_autofree char *wall = hf_wall_text(&what->recipe->wall);
  hf_flow_heading(flow, "The sign");
  hf_flow_row(flow, "size", size);
  hf_flow_row(flow, "metal", metal);
  hf_flow_row(flow, "finish", finish);
  hf_flow_row(flow, "weight", weight);
  hf_flow_row(flow, hf_facts_hanging_word(what), hanging);
  hf_flow_row(flow, "holes", hanging == NULL ? holes : NULL);
  hf_flow_row(flow, "its colour",
              takes_colour(what) ? "by its number or a sample: a print is no colour card" : NULL);
  hf_flow_row(flow, "wall", what->recipe->wall.kind != HF_WALL_UNSAID ? wall : NULL);
  hf_flow_row(flow, "beside it", beside != NULL ? hf_known_words(beside) : NULL);
}

/* What holds it up is no part of it. */
static const char *const left_out[] = {
    [HF_MOUNT_NONE] = "whatever it is fixed with",
    [HF_MOUNT_HOLES] = "screws and plugs, or chain, cable and anchors",
    [HF_MOUNT_STUDS] = "studs, distance sleeves, glue and the holes in the wall",
    [HF_MOUNT_STAKE] = "digging it in",
    [HF_MOUNT_WELDED] = "what it is welded to, and the welding there",
};

static char *
delivered_text(const HfSign *what)
{
  GString *text = g_string_new(NULL);
  int n = what->recipe->quantity;
  g_autofree char *finish = hf_say_finish(what);
  g_string_append_printf(text, "%d sign%s as drawn", n, n == 1 ? "" : "s");
  if (what->hold->parts->len > 1)
    g_string_append_printf(text, ", each in %u pieces", what->hold->parts->len);
  if (finish != NULL)
    g_string_append_printf(text, ", %s", finish);
  return g_string_free(text, FALSE);
}

static void
tell_delivery(HfFlow *flow, const HfSign *what)
{
  g_autofree char *given = delivered_text(what);
  g_autofree char *kept =
      g_strdup_printf("%s; putting it up, and any permit", left_out[what->recipe->mount]);
  hf_flow_heading(flow, "Delivered");
  hf_flow_text(flow, &plain, HF_INK, given);
  hf_flow_heading(flow, "Not delivered unless the order says so");
  hf_flow_text(flow, &plain, HF_INK, kept);
}

/* Findings that whoever reads, hangs or touches the sign wants to know of; the others are the
 * bench's business. */
static gboolean
concerns_customer(const HfFinding *finding)
{
  static const HfLawKind laws[] = {
      HF_LAW_SHARP_POINT,  HF_LAW_SMALL_LETTERS, HF_LAW_SMALL_NUMBER, HF_LAW_NOTHING_TO_HANG_BY,
      HF_LAW_OUT_OF_LEVEL, HF_LAW_FEET,          HF_LAW_HIDDEN,       HF_LAW_CHANGED_LETTER,
      HF_LAW_BOWING_STRIP, HF_LAW_TIGHT_MARGIN,  HF_LAW_NOT_AGREED,   HF_LAW_MIXED_LETTERS};
  if (finding->gravity == HF_STOP || finding->accepted != NULL)
    return TRUE;
  for (guint i = 0; finding->gravity == HF_CAUTION && i < G_N_ELEMENTS(laws); i++)
    if (finding->kind == laws[i])
      return TRUE;
  return FALSE;
}

static char *
finding_text(const HfFinding *finding)
{
  GString *text = g_string_new(NULL);
  if (finding->where != NULL)
    g_string_append_printf(text, "%s: ", finding->where);
  g_string_append(text, finding->what);
  if (finding->accepted != NULL)
    g_string_append_printf(text, "; accepted: %s", finding->accepted);
  return g_string_free(text, FALSE);
}

static void
tell_findings(HfFlow *flow, const HfHold *hold)
{
  gboolean headed = FALSE;
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(hold->findings, i);
    if (!concerns_customer(finding))
      continue;
    if (!headed)
      hf_flow_heading(flow, hold->whole ? "Looked at" : "To be put right first");
    headed = TRUE;
    g_autofree char *text = finding_text(finding);
    hf_flow_marked(flow, finding, i + 1, text);
  }
}

void
hf_customer_facts(HfFlow *flow, const HfPen *pen, const HfSign *what, const HfKnown *beside)
{
  hf_facts_words(flow, pen, what);
  tell_sign(flow, what, beside);
  tell_findings(flow, what->hold);
  tell_delivery(flow, what);
  hf_facts_cautions(flow, "Please mind", &small, HF_CARRY_PROOF, what);
}
