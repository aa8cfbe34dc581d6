/* SPDX-License-Identifier: GPL-3.0-or-later
 * agreed-digest.c - what the customer sees of a sign in one number, and whether it is what was
 * agreed.
 *
 *   metal, thickness, finish, mount ──┐
 *   outlines to 0.01 mm ──────────────┴──> text ──SHA-256──> 3f9a-71c2-04de-88b1 ...
 *
 * Neither kerf nor limits are in it, nor texts, fonts or names: only what they came to. The text is
 * described in docs/maths.md; rings begin at their lowest leftmost point and stand in the order of
 * their text, so that it does not hang on how the metal was made one.
 */
#include "base/file.h"
#include "base/text.h"
#include "hold/hold-private.h"
#include <string.h>

#define STEP (HF_GRID_PER_MM / 100.0) /* 0.01 mm in grid units */

static gint32
rounded(gint32 at)
{
  return (gint32)lrint(at / STEP);
}

/* The ring in hundredths of a millimetre, points that fall together once. */
static GArray *
coarse(const HfRing *ring)
{
  GArray *points = g_array_new(FALSE, FALSE, sizeof(HfGrid));
  for (guint i = 0; i < ring->n; i++) {
    HfGrid at = {rounded(ring->at[i].x), rounded(ring->at[i].y)};
    if (points->len == 0 || !hf_grid_equal(g_array_index(points, HfGrid, points->len - 1), at))
      g_array_append_val(points, at);
  }
  while (points->len > 1 && hf_grid_equal(g_array_index(points, HfGrid, 0),
                                          g_array_index(points, HfGrid, points->len - 1)))
    g_array_set_size(points, points->len - 1);
  return points;
}

/* Does the ring read from @a come before the same read from @b? */
static gboolean
reads_before(const GArray *points, guint a, guint b)
{
  for (guint i = 0; i < points->len; i++) {
    int order = hf_grid_compare(g_array_index(points, HfGrid, (a + i) % points->len),
                                g_array_index(points, HfGrid, (b + i) % points->len));
    if (order != 0)
      return order < 0;
  }
  return FALSE;
}

static char *
ring_text(const HfRing *ring)
{
  g_autoptr(GArray) points = coarse(ring);
  GString *text = g_string_sized_new(points->len * 12);
  guint first = 0;
  for (guint i = 1; i < points->len; i++)
    if (reads_before(points, i, first))
      first = i;
  for (guint i = 0; i < points->len; i++) {
    HfGrid at = g_array_index(points, HfGrid, (first + i) % points->len);
    g_string_append_printf(text, "%d %d ", (int)at.x, (int)at.y);
  }
  return g_string_free(text, FALSE);
}

static int
by_text(gconstpointer a, gconstpointer b)
{
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static const char *
mount_word(HfMount mount)
{
  static const char *const words[] = {[HF_MOUNT_NONE] = "none",
                                      [HF_MOUNT_HOLES] = "holes",
                                      [HF_MOUNT_STUDS] = "studs",
                                      [HF_MOUNT_STAKE] = "stake",
                                      [HF_MOUNT_WELDED] = "welded"};
  return words[mount];
}

static void
append_head(GString *text, const HfRecipe *recipe, const HfProcess *process)
{
  const HfFinish *finish = &recipe->finish;
  g_autofree char *thickness = hf_text_fixed(process->thickness, 2);
  const char *word = hf_finish_word(finish->kind);
  g_string_append_printf(text, "holdfast 1\n%s %s\n%s\n%s", process->metal, thickness,
                         mount_word(recipe->mount), word != NULL ? word : "unsaid");
  const HfColour *colour = hf_finish_colour(finish);
  if (colour->ral != 0)
    g_string_append_printf(text, " RAL %d", colour->ral);
  else if (colour->said)
    g_string_append_printf(text, " #%06x", colour->rgb);
  g_string_append_c(text, '\n');
}

char *
hf_hold_digest(const HfRecipe *recipe, const HfProcess *process, const HfRegion *metal)
{
  g_autoptr(GPtrArray) rings = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < metal->rings->len; i++)
    g_ptr_array_add(rings, ring_text(hf_region_ring(metal, i)));
  g_ptr_array_sort(rings, by_text);
  g_autoptr(GString) text = g_string_new(NULL);
  append_head(text, recipe, process);
  for (guint i = 0; i < rings->len; i++)
    g_string_append_printf(text, "%s\n", (const char *)rings->pdata[i]);
  return hf_file_digest(text->str, text->len);
}

gboolean
hf_hold_is_agreed(const HfRecipe *recipe, const char *digest)
{
  char digits[HF_AGREED_ROOM];
  gsize n = recipe->agreed.digest != NULL
                ? hf_agreed_digits(recipe->agreed.digest, digits, sizeof digits)
                : 0;
  return n == 0 || strncmp(digits, digest, n) == 0;
}

/* (nullable) the finding, where @digest is not what was agreed. */
static HfFinding *
find_other(HfCheck *check, const char *digest)
{
  const HfAgreed *agreed = &check->recipe->agreed;
  if (hf_hold_is_agreed(check->recipe, digest))
    return NULL;
  HfFinding *finding = hf_check_add(check, HF_LAW_NOT_AGREED, NAN, check->hold->centroid);
  if (finding != NULL)
    hf_finding_say(finding, "this is not what was agreed on proof %s%s%s", agreed->proof,
                   agreed->revision != NULL ? ", revision " : "",
                   agreed->revision != NULL ? agreed->revision : "");
  return finding;
}

static gboolean
says_what_was_agreed(const HfRecipe *recipe)
{
  return recipe->agreed.digest != NULL && recipe->agreed.proof != NULL;
}

static gboolean
check_agreed(HfCheck *check, GError **error G_GNUC_UNUSED)
{
  if (!says_what_was_agreed(check->recipe) || check->recipe->of != NULL)
    return TRUE; /* one of several sheets is not the sign: hf_hold_join_agreed() */
  g_autofree char *digest =
      hf_hold_digest(check->recipe, &check->hold->process, check->metal->region);
  find_other(check, digest);
  return TRUE;
}

void
hf_hold_join_agreed(HfHold *all, const HfRecipe *recipe, const char *digest)
{
  HfCheck check = {.recipe = recipe, .hold = all};
  HfFinding *finding = says_what_was_agreed(recipe) ? find_other(&check, digest) : NULL;
  if (finding == NULL)
    return;
  for (guint i = 0; recipe->accept != NULL && i < recipe->accept->len; i++) {
    const HfAccepted *accepted = &g_array_index(recipe->accept, HfAccepted, i);
    if (g_ascii_strcasecmp(accepted->finding, hf_not_agreed_law.key) == 0 && accepted->of == NULL &&
        finding->accepted == NULL && finding->gravity != HF_STOP)
      finding->accepted = g_strdup(accepted->reason);
  }
  g_ptr_array_add(finding->each, hf_finding_place(finding));
  hf_finding_word(finding, finding->names->len);
  all->whole = all->whole && finding->gravity != HF_STOP;
  hf_findings_sort(all->findings);
}

/* ---- the law ------------------------------------------------------------------------------ */

const HfLaw hf_not_agreed_law = {
    .key = "not-agreed",
    .quantity = "outlines, metal, finish and mount that differ from those that were signed",
    .unit = "",
    .gravity = HF_CAUTION,
    .caution = {"any"},
    .source = HF_COMMON_PRACTICE,
    .reference = "no source",
    .why = "the customer signed for something else",
    .what = "this is not what was agreed",
    .fix = "make it as it was, or send a new proof and have it signed",
    .cures = HF_NO_CURES,
    .check = check_agreed,
    .measures = HF_MEASURES_OTHER,
    .trouble = HF_TROUBLE_OWN,
    .mends = HF_MENDS_NOTHING,
};
