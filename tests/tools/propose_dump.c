/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose_dump.c - which changes are proposed for a recipe, and what each of them comes to.
 *
 * usage: propose_dump [--try|--find] FILE...
 *   a line for each file: FILE whole|not whole, stops, cautions; below it a line for each proposal:
 *   key, what it comes to (with --try), knob, targets, sentence. Tried are up to nine places of the
 *   knob, from the smallest change on, until the sign is whole. --find: the ranked list of
 *   hf_cures_find() instead.
 */
#include "base/file.h"
#include "run/cures.h"
#include <stdio.h>
#include <string.h>

#define PLACES 9

typedef struct {
  guint gravity[3];
  gboolean whole;
} Count;

static Count
count(const HfHold *hold)
{
  Count n = {{0}, hold->whole};
  for (guint i = 0; i < hold->findings->len; i++)
    n.gravity[((const HfFinding *)hold->findings->pdata[i])->gravity]++;
  return n;
}

static gboolean
still_there(const HfHold *hold, const HfFinding *finding)
{
  for (guint i = 0; i < hold->findings->len; i++) {
    const HfFinding *other = hold->findings->pdata[i];
    if (other->kind == finding->kind && other->gravity >= finding->gravity &&
        other->entries->len > 0 && finding->entries->len > 0 &&
        g_array_index(other->entries, guint, 0) == g_array_index(finding->entries, guint, 0))
      return TRUE;
    if (other->kind == finding->kind && finding->entries->len == 0)
      return TRUE;
  }
  return FALSE;
}

/* What the proposal comes to with its knob at @value. */
static char *
outcome(const HfSign *sign, const HfProposal *proposal, double value, const char *text,
        gsize length, const char *file, int *ret_rank)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) edits = hf_proposal_edits_at(proposal, value);
  gsize n = 0;
  *ret_rank = 0;
  g_autofree char *cured = hf_recipe_edit(text, length, edits, &n, &error);
  if (cured == NULL)
    return g_strdup_printf("NO EDIT %s", error->message);
  HfRunOptions options = {NULL, NULL, FALSE};
  g_autoptr(HfSign) after = hf_run_text(cured, n, file, &options, &error);
  if (after == NULL)
    return g_strdup_printf("refused (%s)", error->message);
  Count was = count(sign->hold), is = count(after->hold);
  const HfFinding *first = sign->hold->findings->pdata[g_array_index(proposal->targets, guint, 0)];
  gboolean taken = !still_there(after->hold, first);
  *ret_rank = is.whole && taken ? 4 : is.gravity[2] < was.gravity[2] ? 3 : taken ? 2 : 1;
  return g_strdup_printf("%s%s %u>%u stops %u>%u cautions", is.whole ? "whole" : "not whole",
                         taken ? ", taken" : "", was.gravity[2], is.gravity[2], was.gravity[1],
                         is.gravity[1]);
}

static void
try(const HfSign *sign, const HfProposal *proposal, const char *text, gsize length,
    const char *file)
{
  gboolean knob = !isnan(proposal->step);
  g_autofree char *best = NULL;
  double at = proposal->least;
  int rank = -1;
  for (int i = 0; i < (knob ? PLACES : 1) && rank < 4; i++) {
    double value = proposal->least + (proposal->most - proposal->least) * i / (PLACES - 1);
    int here = 0;
    g_autofree char *what = outcome(sign, proposal, value, text, length, file, &here);
    if (here <= rank)
      continue;
    rank = here;
    at = value;
    g_free(best);
    best = g_steal_pointer(&what);
  }
  printf("  %-10s %-52s", proposal->family->key, best);
  g_autofree char *sentence = hf_proposal_sentence_at(proposal, at);
  printf(" | %s", sentence);
}

static void
find(const HfSign *sign, const char *text, gsize length)
{
  g_autoptr(GError) error = NULL;
  HfCuresOptions options = {.hands = 1};
  g_autoptr(GPtrArray) cures = hf_run_cures(sign, text, length, &options, &error);
  for (guint i = 0; cures != NULL && i < cures->len; i++) {
    const HfCured *cured = cures->pdata[i];
    printf("  %-16s %-9s %u stops %u cautions, cost %.2f, takes %u | %s\n", cured->key,
           cured->whole ? "whole" : "not whole", cured->stops, cured->cautions, cured->cost,
           cured->takes->len, cured->sentence);
  }
}

static void
dump(const char *file, gboolean tried, gboolean found)
{
  g_autoptr(GError) error = NULL;
  gsize length = 0;
  g_autofree char *text = NULL;
  HfRunOptions options = {NULL, NULL, FALSE};
  if (!g_file_get_contents(file, &text, &length, &error)) {
    printf("%s %s\n", file, error->message);
    return;
  }
  g_autoptr(HfSign) sign = hf_run_text(text, length, file, &options, &error);
  if (sign == NULL) {
    printf("%s refused: %s\n", file, error->message);
    return;
  }
  Count n = count(sign->hold);
  printf("%s %s, %u stops, %u cautions\n", file, n.whole ? "whole" : "not whole", n.gravity[2],
         n.gravity[1]);
  for (guint i = 0; i < sign->hold->findings->len; i++)
    if (((HfFinding *)sign->hold->findings->pdata[i])->gravity > HF_NOTE)
      printf("    %s: %.140s\n", hf_law(((HfFinding *)sign->hold->findings->pdata[i])->kind)->key,
             ((HfFinding *)sign->hold->findings->pdata[i])->text);
  if (found) {
    find(sign, text, length);
    fflush(stdout);
    return;
  }
  g_autoptr(GPtrArray) proposals = hf_cure_proposals(sign, NULL);
  for (guint i = 0; i < proposals->len; i++) {
    const HfProposal *proposal = proposals->pdata[i];
    if (tried)
      try(sign, proposal, text, length, file);
    else
      printf("  %-10s %s%s%s", proposal->family->key, proposal->phrase.before,
             proposal->phrase.after != NULL ? "{}" : "",
             proposal->phrase.after != NULL ? proposal->phrase.after : "");
    printf(" | %g..%g by %g %s | ", proposal->least, proposal->most, proposal->step,
           proposal->unit);
    for (guint k = 0; k < proposal->targets->len; k++) {
      const HfFinding *finding =
          sign->hold->findings->pdata[g_array_index(proposal->targets, guint, k)];
      printf("%s%s", k > 0 ? " " : "", hf_law(finding->kind)->key);
    }
    printf("\n");
  }
  fflush(stdout);
}

int
main(int argc, char **argv)
{
  gboolean tried = argc > 1 && strcmp(argv[1], "--try") == 0;
  gboolean found = argc > 1 && strcmp(argv[1], "--find") == 0;
  for (int i = tried || found ? 2 : 1; i < argc; i++)
    dump(argv[i], tried, found);
  return 0;
}
