/* SPDX-License-Identifier: GPL-3.0-or-later
 * The table of cautions: complete, plain, and shown in docs/cautions.md word for word. Where each
 * output carries its own is tested with the output (test_report.c, tests/oracle/test_proof.py).
 */
#include "stock/cautions.h"
#include <string.h>

static const HfCaution *
find(const char *key)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  for (guint i = 0; i < n; i++)
    if (strcmp(all[i].key, key) == 0)
      return &all[i];
  g_error("no caution '%s'", key);
}

/* Every row can be said aloud: a key of its own, lower case, no full stop, who says it, and a
 * source that carries one of the handbook's marks. */
static void
test_rows(void)
{
  guint n;
  const HfCaution *all = hf_cautions(&n);
  g_autoptr(GHashTable) keys = g_hash_table_new(g_str_hash, g_str_equal);
  g_assert_cmpuint(n, >=, 12);
  for (guint i = 0; i < n; i++) {
    const HfCaution *c = &all[i];
    g_assert_true(g_hash_table_add(keys, (gpointer)c->key));
    g_assert_true(g_ascii_islower(c->text[0]) || g_ascii_isdigit(c->text[0]));
    g_assert_cmpint(c->text[strlen(c->text) - 1], !=, '.');
    g_assert_cmpuint(strlen(c->text), <, 180);
    g_assert_cmpuint(strlen(c->says), >, 0);
    g_assert_true(strstr(c->source, "[S") != NULL || strstr(c->source, "[CP") != NULL ||
                  strstr(c->source, "[M]") != NULL);
    g_assert_true(strstr(c->says, "http") == NULL && strstr(c->says, ".com") == NULL);
    g_assert_true(c->carried_by & HF_CARRY_REPORT);
  }
}

/* Handbook section 9 names these dangers; each has its row, on the outputs that can warn of it. */
static void
test_dangers(void)
{
  static const struct {
    const char *key;
    guint carried_by;
  } wanted[] = {
      {"eyes", HF_CARRY_OUTLINES},         {"fire", HF_CARRY_OUTLINES},
      {"fumes", HF_CARRY_OUTLINES},        {"fumes-zinc", HF_CARRY_OUTLINES},
      {"fumes-chromium", HF_CARRY_REPORT}, {"fumes-ozone", HF_CARRY_REPORT},
      {"noise", HF_CARRY_OUTLINES},        {"shock", HF_CARRY_OUTLINES},
      {"water-table", HF_CARRY_REPORT},    {"hot-parts", HF_CARRY_OUTLINES},
      {"edges", HF_CARRY_PROOF},           {"hung-sign", HF_CARRY_PROOF},
      {"permit", HF_CARRY_PROOF},          {"no-certification", HF_CARRY_PROOF},
      {"local-codes", HF_CARRY_PROOF},
  };
  for (guint i = 0; i < G_N_ELEMENTS(wanted); i++)
    g_assert_cmpuint(find(wanted[i].key)->carried_by & wanted[i].carried_by, ==,
                     wanted[i].carried_by);
}

/* The figures of handbook section 9, with its sources. */
static void
test_figures(void)
{
  /* OSHA 29 CFR 1910.133(a)(5), plasma arc cutting: < 300 A 8; 300-400 A 9; 400-800 A 10
   * [S: casetext copy of 1910.133] */
  g_assert_nonnull(strstr(find("eyes")->text, "shade 8 or darker below 300 A, 9 up to 400 A, 10"));
  /* OSHA 1910.252(a)(2)(iii): 35 ft (10.7 m), at least 1/2 h after [S: OSHA Q&A] */
  g_assert_nonnull(strstr(find("fire")->text, "35 ft (10.7 m)"));
  g_assert_nonnull(strstr(find("fire")->text, "half an hour"));
  /* Cr(VI): PEL 5 ug/m3 (8 h), action level 2.5, 29 CFR 1910.1026 [S: GPO copy] */
  g_assert_nonnull(strstr(find("fumes-chromium")->text, "5 ug/m3 over 8 h, action from 2.5"));
  /* zinc oxide fume 5 mg/m3 [S: engineeringtoolbox.com] */
  g_assert_nonnull(strstr(find("fumes-zinc")->text, "5 mg/m3"));
  /* plasma, hand, up to 100 A: 98-105 dB(A) [S: hse.gov.uk/welding/noise-vibration.htm] */
  g_assert_nonnull(strstr(find("noise")->text, "98 to 105 dB(A)"));
  /* working load of chain and cable <= 1/5 of breaking strength [S: jerseycoil county code] */
  g_assert_nonnull(strstr(find("hung-sign")->text, "1/5"));
}

static void
test_when(void)
{
  static const struct {
    const char *key, *metal;
    gboolean hung, applies;
  } cases[] = {
      {"eyes", "mild steel", FALSE, TRUE},
      {"hung-sign", "mild steel", TRUE, TRUE},
      {"hung-sign", "mild steel", FALSE, FALSE},
      {"fumes-zinc", "galvanised steel", FALSE, TRUE},
      {"fumes-zinc", "mild steel", FALSE, FALSE},
      {"fumes-chromium", "stainless steel", FALSE, TRUE},
      {"fumes-chromium", "aluminium", FALSE, FALSE},
      {"fumes-ozone", "stainless steel", FALSE, TRUE},
      {"fumes-ozone", "aluminium", FALSE, TRUE},
      {"fumes-ozone", "weathering steel", FALSE, FALSE},
      {"water-table", "aluminium", FALSE, TRUE},
      {"water-table", "stainless steel", FALSE, FALSE},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++)
    g_assert_cmpint(hf_caution_applies(find(cases[i].key), cases[i].metal, cases[i].hung), ==,
                    cases[i].applies);
}

/* The line goes into DXF R12 comments: plain ASCII, at most 255 bytes, no line break. */
static void
test_line(void)
{
  const char *line = hf_caution_line();
  g_assert_true(g_str_is_ascii(line));
  g_assert_cmpuint(strlen(line), <, 250);
  g_assert_null(strchr(line, '\n'));
  g_assert_null(strstr(line, "--")); /* may stand in an XML comment */
  static const char *const about[] = {"eyes",       "fire", "fumes", "noise",
                                      "shock",      "hot",  "sharp", "strength, wind or fixings",
                                      "local codes"};
  for (guint i = 0; i < G_N_ELEMENTS(about); i++)
    g_assert_nonnull(strstr(line, about[i]));
}

static void
test_doc(void)
{
  g_autofree char *doc = NULL;
  g_assert_true(g_file_get_contents(HF_SOURCE_ROOT "/docs/cautions.md", &doc, NULL, NULL));
  guint n;
  const HfCaution *all = hf_cautions(&n);
  for (guint i = 0; i < n; i++) {
    g_autofree char *row = g_strdup_printf("| `%s` | %s | %s | %s |", all[i].key, all[i].text,
                                           all[i].says, all[i].source);
    if (strstr(doc, row) == NULL)
      g_error("docs/cautions.md lacks the row\n%s", row);
  }
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cautions/rows", test_rows);
  g_test_add_func("/cautions/dangers", test_dangers);
  g_test_add_func("/cautions/figures", test_figures);
  g_test_add_func("/cautions/when", test_when);
  g_test_add_func("/cautions/line", test_line);
  g_test_add_func("/cautions/doc", test_doc);
  return g_test_run();
}
