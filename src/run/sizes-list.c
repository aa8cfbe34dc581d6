/* SPDX-License-Identifier: GPL-3.0-or-later
 * sizes-list.c - the size of every entry as a plain table, for a terminal.
 *
 *   entry   kind     width   height     left    bottom   clear of
 *   board   plate   400 mm   120 mm  -200 mm    -60 mm   21.4 mm name
 */
#include "base/seen.h"
#include "base/text.h"
#include "recipe/kind.h"
#include "run/run.h"

enum { ENTRY, KIND, WIDTH, HEIGHT, LEFT, BOTTOM, CLEAR, N_COLUMNS };

static const struct {
  const char *head;
  gboolean right; /* figures stand at the right of their column */
} COLUMNS[N_COLUMNS] = {
    [ENTRY] = {"entry", FALSE},   [KIND] = {"kind", FALSE}, [WIDTH] = {"width", TRUE},
    [HEIGHT] = {"height", TRUE},  [LEFT] = {"left", TRUE},  [BOTTOM] = {"bottom", TRUE},
    [CLEAR] = {"clear of", FALSE}};

typedef char *Row[N_COLUMNS];

static void
fill(Row row, const HfSign *sign, const HfEntrySize *size)
{
  const HfEntry *entry = hf_recipe_at(sign->recipe, size->entry);
  gboolean none = hf_box_is_empty(size->box);
  row[ENTRY] = hf_seen_value(entry->name);
  row[KIND] = g_strdup(hf_entry_word(entry));
  row[WIDTH] = none ? g_strdup("-") : hf_text_mm(hf_box_width(size->box));
  row[HEIGHT] = none ? g_strdup("-") : hf_text_mm(hf_box_height(size->box));
  row[LEFT] = none ? g_strdup("-") : hf_text_mm(size->box.min.x);
  row[BOTTOM] = none ? g_strdup("-") : hf_text_mm(size->box.min.y);
  if (size->from < 0) {
    row[CLEAR] = g_strdup("-");
    return;
  }
  g_autofree char *clear = hf_text_mm(size->clear);
  g_autofree char *from = hf_seen_value(hf_recipe_at(sign->recipe, (guint)size->from)->name);
  row[CLEAR] = g_strconcat(clear, " ", from, NULL);
}

static void
add_row(GString *text, char *const *row, const glong *wide)
{
  for (guint c = 0; c < N_COLUMNS; c++) {
    int pad = (int)(wide[c] - g_utf8_strlen(row[c], -1));
    gboolean last = c + 1 == N_COLUMNS;
    g_string_append_printf(text, "  %*s%s%*s", COLUMNS[c].right ? pad : 0, "", row[c],
                           COLUMNS[c].right || last ? 0 : pad, "");
  }
  g_string_append_c(text, '\n');
}

char *
hf_run_sizes(const HfSign *sign)
{
  g_auto(HfUnitsScope) scope = hf_units_scope(sign->recipe->units);
  g_autoptr(GArray) sizes = hf_sign_sizes(sign, TRUE);
  g_autofree Row *rows = g_new0(Row, sizes->len + 1);
  glong wide[N_COLUMNS] = {0};
  for (guint c = 0; c < N_COLUMNS; c++)
    rows[0][c] = g_strdup(COLUMNS[c].head);
  for (guint i = 0; i < sizes->len; i++)
    fill(rows[i + 1], sign, &g_array_index(sizes, HfEntrySize, i));
  for (guint i = 0; i <= sizes->len; i++)
    for (guint c = 0; c < N_COLUMNS; c++)
      wide[c] = MAX(wide[c], g_utf8_strlen(rows[i][c], -1));
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i <= sizes->len; i++) {
    add_row(text, rows[i], wide);
    for (guint c = 0; c < N_COLUMNS; c++)
      g_free(rows[i][c]);
  }
  return g_string_free(g_steal_pointer(&text), FALSE);
}
