/* SPDX-License-Identifier: GPL-3.0-or-later
 * say.c - the sentences that picture, paper and report share.
 */
#include "base/file.h"
#include "base/text.h"
#include "out/say-private.h"

HfTally
hf_say_tally(const HfHold *hold)
{
  HfTally tally = {0};
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *finding = g_ptr_array_index(hold->findings, i);
    if (finding->gravity == HF_STOP)
      tally.stops++;
    else if (finding->gravity == HF_CAUTION && finding->accepted != NULL)
      tally.accepted++;
    else if (finding->gravity == HF_CAUTION)
      tally.cautions++;
    else
      tally.notes++;
  }
  return tally;
}

const char *
hf_say_gravity(HfGravity gravity)
{
  static const char *const names[] = {
      [HF_NOTE] = "note", [HF_CAUTION] = "caution", [HF_STOP] = "stop"};
  return names[gravity];
}

const char *
hf_say_verdict(const HfHold *hold)
{
  return hold->whole ? "whole" : "not whole";
}

static void
append_count(GString *text, guint n, const char *one, const char *many)
{
  if (n == 0)
    return;
  if (text->len > 0)
    g_string_append(text, ", ");
  g_string_append_printf(text, "%u %s", n, n == 1 ? one : many);
}

char *
hf_say_sentence(const HfHold *hold)
{
  HfTally tally = hf_say_tally(hold);
  GString *text = g_string_new(NULL);
  append_count(text, tally.stops, "stop: must not be cut like this",
               "stops: must not be cut like this");
  append_count(text, tally.cautions, "caution", "cautions");
  append_count(text, tally.accepted, "accepted as it is", "accepted as they are");
  append_count(text, tally.notes, "note", "notes");
  if (hold->whole) {
    gboolean one = hold->parts->len == 1 && hold->layers == 0;
    g_string_prepend(text, text->len > 0 ? "; " : "");
    g_string_prepend(text, one ? "one piece, held and fit to be cut"
                               : "every piece held and fit to be cut");
  }
  return g_string_free(text, FALSE);
}

char *
hf_say_finding(const HfFinding *finding)
{
  GString *text = g_string_new(NULL);
  g_string_append_printf(text, "%s: %s [%s]", hf_say_gravity(finding->gravity), finding->text,
                         hf_law_said_by(finding->kind, finding->said_by, finding->coupon));
  if (finding->accepted != NULL)
    g_string_append_printf(text, "; accepted: %s", finding->accepted);
  return g_string_free(text, FALSE);
}

static char *
metal_of_sheet(const HfSign *what)
{
  const HfProcess *process = &what->hold->process;
  g_autofree char *thickness = hf_text_mm(process->thickness);
  const char *gauge = hf_units_are_inches() ? what->recipe->gauge : NULL;
  if (gauge == NULL)
    return g_strconcat(thickness, " ", process->metal, NULL);
  return g_strconcat(gauge, " (", thickness, ") ", process->metal, NULL);
}

char *
hf_say_metal(const HfSign *what)
{
  if (what->layers == NULL)
    return metal_of_sheet(what);
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < what->layers->len; i++) {
    const HfSign *layer = hf_sign_layer(what, i);
    g_autofree char *metal = metal_of_sheet(layer);
    g_string_append_printf(text, "%s%s %s", i > 0 ? ", " : "",
                           hf_layer_word(layer->recipe->in_layer), metal);
  }
  return g_string_free(text, FALSE);
}

char *
hf_say_sheets(const HfSign *what, char *(*say)(const HfSign *sheet), const char *between,
              const char *silent)
{
  g_autoptr(GString) text = g_string_new(NULL);
  char *first = say(hf_sign_layer(what, 0));
  gboolean same = TRUE;
  for (guint i = 0; i < hf_sign_n_layers(what); i++) {
    const HfSign *layer = hf_sign_layer(what, i);
    g_autofree char *own = say(layer);
    same = same && g_strcmp0(own, first) == 0;
    g_string_append_printf(text, "%s%s %s", i > 0 ? between : "",
                           hf_layer_word(layer->recipe->in_layer), own != NULL ? own : silent);
  }
  if (same)
    return first;
  g_free(first);
  return g_strdup(text->str);
}

static char *
finish_of_sheet(const HfSign *what)
{
  return hf_finish_text(&what->recipe->finish);
}

char *
hf_say_finish(const HfSign *what)
{
  return hf_say_sheets(what, finish_of_sheet, ", ", "bare metal");
}

double
hf_say_coat(const HfSign *what)
{
  double most = 0;
  for (guint i = 0; i < hf_sign_n_layers(what); i++)
    most = fmax(most, hf_finish_coat(&hf_sign_layer(what, i)->recipe->finish));
  return most;
}

char *
hf_say_size(const HfHold *hold)
{
  return hf_text_sides(hf_box_width(hold->box), 1, hf_box_height(hold->box), 1,
                       " \303\227 "); /* multiplication sign */
}

const char *
hf_say_kerf_said_by(const HfSign *what)
{
  if (isfinite(what->recipe->kerf))
    return hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_RECIPE, NULL);
  if (what->shop != NULL && what->shop->kerf == what->hold->process.kerf)
    return hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_SHOP, NULL);
  return "your process (cut chart)";
}

const char *
hf_say_crater_said_by(const HfSign *what)
{
  if (isfinite(what->recipe->crater))
    return hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_RECIPE, NULL);
  if (what->shop != NULL && isfinite(what->shop->crater))
    return hf_law_said_by(HF_LAW_THIN_WEB, HF_SAID_BY_SHOP, NULL);
  return "common practice";
}

gboolean
hf_say_hung(const HfSign *what)
{
  if (what->recipe->mount == HF_MOUNT_HOLES)
    return TRUE;
  for (guint i = 0; i < what->layout->hangs->len; i++)
    if (g_array_index(what->layout->hangs, HfHang, i).kind == HF_HANG_HOLE)
      return TRUE;
  return FALSE;
}

gboolean
hf_say_caution(const HfSign *what, const HfCaution *caution)
{
  gboolean hung = hf_say_hung(what);
  for (guint i = 0; i < hf_sign_n_layers(what); i++)
    if (hf_caution_applies(caution, hf_sign_layer(what, i)->hold->process.metal, hung))
      return TRUE;
  return FALSE;
}
