/* SPDX-License-Identifier: GPL-3.0-or-later
 * format.c - the table of formats, put together from the rows in their files.
 */
#include "out/format.h"

#define HF_FORMAT(name) extern const HfFormat hf_formats_##name[];
#include "out/formats.inc"
#undef HF_FORMAT

#define HF_FORMAT(name) hf_formats_##name,
static const HfFormat *const FILES[] = {
#include "out/formats.inc"
};
#undef HF_FORMAT

static const struct {
  const char *stems[2]; /* not whole, whole */
  const char *says;
} ABOUT[HF_N_ABOUT] = {
    [HF_ABOUT_OUTLINES] = {{"not-to-be-cut", "metal"}, "the metal itself, no kerf allowance"},
    [HF_ABOUT_PROGRAM] = {{"cut", "cut"},
                          "the cutting program, where reading it back leaves the sign"},
    [HF_ABOUT_PLAN] = {{"plan", "plan"}, "a picture of how it is cut: order, ways in, travel"},
    [HF_ABOUT_PROOF] = {{"proof", "proof"}, "what the customer agrees to"},
    [HF_ABOUT_SHEET] = {{"shop-sheet", "shop-sheet"}, "what the bench needs"},
    [HF_ABOUT_TRAVELLER] = {{"traveller", "traveller"}, "what the table needs, one page"},
    [HF_ABOUT_TEMPLATE] = {{"not-to-be-drilled", "template"},
                           "where to drill, full size; made by itself when the sign has studs"},
    [HF_ABOUT_CURED] = {{"cured", "cured"}, "the recipe with its cure"},
    [HF_ABOUT_REPORT] = {{"report", "report"}, "verdict, figures, findings"},
};

const HfFormat *
hf_format(guint i)
{
  for (gsize f = 0; f < G_N_ELEMENTS(FILES); f++)
    for (const HfFormat *row = FILES[f]; row->ending != NULL; row++)
      if (i-- == 0)
        return row;
  return NULL;
}

/* Only where there is a program. */
static gboolean
is_of_program(HfAbout about)
{
  return about == HF_ABOUT_PROGRAM || about == HF_ABOUT_PLAN || about == HF_ABOUT_TRAVELLER;
}

gboolean
hf_about_each_layer(HfAbout about)
{
  return about == HF_ABOUT_OUTLINES || is_of_program(about);
}

char *
hf_format_name(const HfFormat *format, HfLayerAt layer, gboolean whole)
{
  const char *stem = ABOUT[format->about].stems[whole ? 1 : 0];
  if (layer <= HF_LAYER_FRONT || !hf_about_each_layer(format->about))
    return g_strconcat(stem, format->ending, NULL);
  return g_strconcat(hf_layer_word(layer), "-", stem, format->ending, NULL);
}

const char *
hf_format_says(const HfFormat *format, gboolean whole)
{
  gboolean alike = g_str_equal(ABOUT[format->about].stems[0], ABOUT[format->about].stems[1]);
  return whole || alike ? format->says : "so called because the sign is not whole";
}

gboolean
hf_format_is_made(guint i, const HfMaking *making, guint64 also)
{
  const HfFormat *format = hf_format(i);
  gboolean studs = format->about == HF_ABOUT_TEMPLATE && making->sign->hold->studs->len > 0;
  if (format->option != NULL && (also >> i & 1) == 0 && !studs)
    return FALSE;
  if (is_of_program(format->about))
    return making->cutting != NULL && hf_cutting_is_good(making->cutting) &&
           (!format->rest || making->cutting->rest != NULL);
  return format->about != HF_ABOUT_CURED || making->cured != NULL;
}

const char *
hf_about_says(HfAbout about)
{
  return ABOUT[about].says;
}

GPtrArray *
hf_format_earlier(void)
{
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; hf_format(i) != NULL; i++)
    for (int layer = HF_LAYER_FRONT; layer < HF_N_LAYERS; layer++)
      for (int whole = 0; whole < 2; whole++) {
        g_autofree char *name = hf_format_name(hf_format(i), (HfLayerAt)layer, whole);
        if (!g_ptr_array_find_with_equal_func(names, name, g_str_equal, NULL))
          g_ptr_array_add(names, g_steal_pointer(&name));
      }
  return names;
}
