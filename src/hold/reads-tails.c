/* SPDX-License-Identifier: GPL-3.0-or-later
 * reads-tails.c - letters that nothing but what hangs below their line tells from another one.
 *
 *       .--.                     Q in a bar as high as its tail is an O, a cedilla in it a plain c;
 *      |    |                    the edge that is hidden is little, and no stroke of its own where
 *    ===\__/ \===                the tail is short or goes on into the letter.
 *    =========\==   base line
 *
 * Asked is the part of the drawn edge below the line: of it so much must show as of any part of a
 * letter. Where the recipe lets tails end in the bar it is a caution at most, but for marks and for
 * what is another letter without. Marks are those that Unicode's canonical decomposition takes off
 * a letter and attaches below it (Unicode Standard, section 4.3: classes 202 and 220, from memory);
 * the table is common knowledge of readers, no source. Cost O(spots of the letter).
 */
#include "base/text.h"
#include "hold/ink-private.h"

#define TAIL_EM     0.05 /* below the line; round letters overshoot it by 0.02 */
#define LEAST_SPOTS 3    /* fewer are no tail */

enum { ATTACHED_BELOW = 202, BELOW = 220 };

/* Nothing to read like: what is left is no letter. @leave: the recipe may let it end in a bar. */
static const struct {
  const char *letter, *reads;
  gboolean leave;
} tails[] = {{"Q", "O", FALSE}, {",", ".", FALSE}, {";", ":", FALSE}, {"J", "I", TRUE},
             {"j", "i", TRUE},  {"y", "", TRUE},   {"g", "", TRUE},   {"p", "", TRUE},
             {"q", "", TRUE},   {"μ", "u", TRUE},  {"η", "n", TRUE},  {"γ", "", TRUE},
             {"ρ", "", TRUE},   {"ς", "c", FALSE}, {"у", "", TRUE},   {"р", "", TRUE},
             {"щ", "ш", FALSE}, {"Щ", "Ш", FALSE}, {"ц", "", FALSE},  {"Ц", "", FALSE},
             {"ŋ", "n", TRUE},  {"þ", "b", TRUE}};

/* The bare letter over a mark that hangs below it; 0: it has none. */
static gunichar
without_mark_below(gunichar letter)
{
  gunichar base, mark;
  while (g_unichar_decompose(letter, &base, &mark) && mark != 0) {
    int where = g_unichar_combining_class(mark);
    if (where == ATTACHED_BELOW || where == BELOW)
      return base;
    letter = base;
  }
  return 0;
}

/* (nullable) what @letter reads like without its tail. (transfer full) */
static char *
reads_without_tail(const char *letter, gboolean *ret_leave)
{
  for (guint i = 0; i < G_N_ELEMENTS(tails); i++)
    if (g_str_equal(tails[i].letter, letter)) {
      *ret_leave = tails[i].leave;
      return g_strdup(tails[i].reads);
    }
  gunichar base = without_mark_below(g_utf8_get_char(letter));
  char utf8[7] = {0};
  *ret_leave = FALSE;
  if (base == 0)
    return NULL;
  utf8[g_unichar_to_utf8(base, utf8)] = '\0';
  return g_strdup(utf8);
}

/* % of the edge below the line that shows; 100: nothing hangs there. @ret_at: where the rest is. */
static double
share_below(const HfInk *ink, HfMatrix em, HfPoint *ret_at)
{
  guint asked = 0, shows = 0;
  for (guint r = 0; r < ink->n; r++)
    for (guint i = 0; i < ink->rings[r].n; i++) {
      const HfSpotOfInk *spot = &ink->rings[r].spots[i];
      if (hf_matrix_undo(em, spot->at).y > -TAIL_EM)
        continue;
      asked++;
      guint seen = spot->ring >= 0 && spot->own; /* the bar's lower edge is no tail's */
      shows += seen;
      if (seen == 0)
        *ret_at = spot->at;
    }
  return asked < LEAST_SPOTS ? 100 : 100.0 * shows / asked;
}

gboolean
hf_reads_is_below(const HfShape *shape, HfPoint p)
{
  return hf_matrix_undo(shape->em, p).y < -TAIL_EM;
}

gboolean
hf_reads_check_tail(HfCheck *check, const HfInk *ink, gboolean leave)
{
  const HfShape *shape = hf_layout_shape(check->layout, ink->shape);
  g_autofree char *letter = hf_reads_letter(shape);
  gboolean may_end;
  g_autofree char *reads = reads_without_tail(letter, &may_end);
  HfPoint at = {0, 0};
  if (reads == NULL)
    return FALSE;
  double share = share_below(ink, shape->em, &at);
  if (leave && may_end) /* a caution at most */
    share = fmax(share, check->hold->limits[HF_LAW_CHANGED_LETTER].stop);
  HfFinding *finding = hf_check_add(check, HF_LAW_CHANGED_LETTER, share, at);
  if (finding == NULL)
    return FALSE;
  hf_finding_name(check, finding, ink->shape);
  hf_finding_form(finding, "tail");
  const char *how = share < finding->limit / 2 ? "does not show" : "hardly shows";
  if (reads[0] != '\0')
    hf_finding_say(finding, "it may read %s where %s was ordered: what hangs below its line %s",
                   reads, letter, how);
  else
    hf_finding_say(finding, "its tail %s", how);
  hf_finding_fix(finding,
                 "let its tail show: a bar less high, or one that the tail stands clear of");
  return finding->gravity == HF_STOP;
}
