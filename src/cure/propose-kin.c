/* SPDX-License-Identifier: GPL-3.0-or-later
 * propose-kin.c - lines that belong together: the same face at the same size. What changes one of
 * them changes all, or the sign looks patched.
 *
 *   SALTMARSH   130 mm                   SALTMARSH   78 mm           not:  SALTMARSH   130 mm
 *   BOAT YARD   130 mm, over the edge    BOAT YARD   78 mm                 BOAT YARD   78 mm
 */
#include "cure/propose-private.h"
#include "recipe/kind.h"

static gboolean
same_figure(double a, double b)
{
  return (isnan(a) && isnan(b)) || fabs(a - b) < 1e-6;
}

static gboolean
are_kin(const HfEntry *a, const HfEntry *b)
{
  return a->kind == HF_ENTRY_WORDS && b->kind == HF_ENTRY_WORDS && a->as == b->as &&
         hf_font_is_face(&a->words.font, &b->words.font) &&
         same_figure(a->words.font.height, b->words.font.height) &&
         same_figure(a->words.font.size, b->words.font.size) &&
         same_figure(a->words.font.bolder, b->words.font.bolder);
}

GArray *
hf_proposing_kin(const HfProposing *asked, guint entry)
{
  GArray *kin = g_array_new(FALSE, FALSE, sizeof(guint));
  const HfEntry *e = hf_proposing_entry(asked, entry);
  for (guint i = 0; i < hf_proposing_n(asked); i++)
    if (i == entry || are_kin(e, hf_proposing_entry(asked, i)))
      g_array_append_val(kin, i);
  return kin;
}

static gint
by_number(gconstpointer p, gconstpointer q)
{
  guint a = *(const guint *)p, b = *(const guint *)q;
  return a < b ? -1 : a > b;
}

GArray *
hf_proposing_kin_aims(const HfProposing *asked, const GArray *kin)
{
  GArray *aims = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < kin->len; i++) {
    g_autoptr(GArray) own = hf_proposing_aims(asked, (gint)g_array_index(kin, guint, i));
    g_array_append_vals(aims, own->data, own->len);
  }
  g_array_sort(aims, by_number); /* findings are the gravest first */
  for (guint i = aims->len; i-- > 1;)
    if (g_array_index(aims, guint, i) == g_array_index(aims, guint, i - 1))
      g_array_remove_index(aims, i);
  return aims;
}

char *
hf_proposing_kin_called(const HfProposing *asked, const GArray *kin)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < kin->len; i++) {
    const HfEntry *e = hf_proposing_entry(asked, g_array_index(kin, guint, i));
    g_string_append(text, i == 0 ? "" : i + 1 == kin->len ? " and " : ", ");
    g_string_append(text, hf_proposing_called(asked, e));
  }
  return g_string_free(text, FALSE);
}
