/* SPDX-License-Identifier: GPL-3.0-or-later
 * The DXF writer: pairs, handles, units, layers, bulges. Whether a general reader takes it: the
 * checks from outside, tests/oracle/test_outlines.py.
 */
#include "sample.h"
#include <stdlib.h>

typedef struct {
  int code;
  char *value;
} Pair;

static void
pair_clear(gpointer data)
{
  g_free(((Pair *)data)->value);
}

/* Reads the pairs; every code is a number, every value has its line. */
static GArray *
pairs_of(GBytes *bytes)
{
  gsize length;
  const char *data = g_bytes_get_data(bytes, &length);
  g_autofree char *text = g_strndup(data, length);
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  guint n = g_strv_length(lines);
  g_assert_cmpuint(n % 2, ==, 1); /* the last line is empty */
  GArray *pairs = g_array_new(FALSE, FALSE, sizeof(Pair));
  g_array_set_clear_func(pairs, pair_clear);
  for (guint i = 0; i + 1 < n; i += 2) {
    char *end;
    Pair pair = {(int)strtol(lines[i], &end, 10), g_strdup(lines[i + 1])};
    g_assert_true(*end == '\0' && end != lines[i]);
    for (const char *p = pair.value; *p != '\0'; p++)
      g_assert_true(*p >= 0x20 && *p < 0x7f);
    g_array_append_val(pairs, pair);
  }
  return pairs;
}

static GArray *
dxf_of(Sample *sample, HfDxfVersion version, gboolean inches)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfMetal) metal = hf_metal_new(&sample->layout, NULL, &error);
  g_assert_no_error(error);
  g_autoptr(HfFit) fit = hf_fit_new(metal, &sample->layout, 0.01);
  HfSign what = sample->what;
  what.metal = metal;
  what.fit = fit;
  g_autoptr(GBytes) bytes = hf_out_dxf(&what, version, inches);
  g_autoptr(GBytes) again = hf_out_dxf(&what, version, inches);
  g_assert_true(g_bytes_equal(bytes, again));
  return pairs_of(bytes);
}

static guint
count(const GArray *pairs, int code, const char *value)
{
  guint n = 0;
  for (guint i = 0; i < pairs->len; i++) {
    const Pair *p = &g_array_index(pairs, Pair, i);
    n += p->code == code && (value == NULL || strcmp(p->value, value) == 0);
  }
  return n;
}

/* The value after header variable @name; NULL when it is not there. */
static const char *
variable(const GArray *pairs, const char *name)
{
  for (guint i = 0; i + 1 < pairs->len; i++)
    if (g_array_index(pairs, Pair, i).code == 9 &&
        strcmp(g_array_index(pairs, Pair, i).value, name) == 0)
      return g_array_index(pairs, Pair, i + 1).value;
  return NULL;
}

static gboolean
comment_has(const GArray *pairs, const char *words)
{
  for (guint i = 0; i < pairs->len; i++)
    if (g_array_index(pairs, Pair, i).code == 999 &&
        strstr(g_array_index(pairs, Pair, i).value, words) != NULL)
      return TRUE;
  return FALSE;
}

/* The half disc of the handbook's sample, 100 wide, and a hole of 20 in it. Its lower corners are
 * square: perimeter 100 + 50 pi. */
static Sample *
half_disc(void)
{
  Sample *s = sample_new("Harbour \xc3\x89", "mild steel");
  guint plate = sample_entry(s, HF_ENTRY_PLATE, "plate");
  HfOutline *half = hf_outline_new();
  hf_outline_begin(half, hf_point(-50, 0));
  hf_outline_line_to(half, hf_point(50, 0));
  hf_outline_arc_to(half, hf_point(0, 0), G_PI, hf_point(-50, 0));
  hf_outline_close(half);
  sample_shape(s, half, FALSE, plate, "plate");
  sample_shape(s, sample_disc(0, 20, 10), TRUE, plate, "hole");
  sample_finish(s);
  return s;
}

static void
test_half_disc(void)
{
  g_autoptr(Sample) s = half_disc();
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R2000, FALSE);
  g_assert_cmpstr(variable(pairs, "$ACADVER"), ==, "AC1015");
  g_assert_cmpstr(variable(pairs, "$INSUNITS"), ==, "4"); /* handbook 6: 4 mm, 1 in */
  g_assert_cmpstr(variable(pairs, "$MEASUREMENT"), ==, "1");
  g_assert_cmpuint(count(pairs, 0, "LWPOLYLINE"), ==, 1);
  g_assert_cmpuint(count(pairs, 0, "CIRCLE"), ==, 1);
  g_assert_cmpuint(count(pairs, 42, "1.0"), ==, 1); /* half a turn: bulge 1 */
  g_assert_cmpuint(count(pairs, 8, "METAL-EDGE"), ==, 1);
  g_assert_cmpuint(count(pairs, 8, "OPENINGS"), ==, 1);
  g_assert_cmpuint(count(pairs, 40, "10.0"), ==, 1);
  g_assert_cmpuint(count(pairs, 10, "100.0"), >=, 1); /* begins at its own corner */
  g_assert_true(comment_has(pairs, "Harbour \\U+00C9"));
  g_assert_true(comment_has(pairs, "no kerf allowance"));
  g_assert_true(comment_has(pairs, "verdict: whole"));
  g_assert_false(comment_has(pairs, "NOT TO BE CUT"));
}

static void
test_inches(void)
{
  g_autoptr(Sample) s = half_disc();
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R2000, TRUE);
  g_assert_cmpstr(variable(pairs, "$INSUNITS"), ==, "1");
  g_assert_cmpstr(variable(pairs, "$MEASUREMENT"), ==, "0");
  g_assert_cmpuint(count(pairs, 10, "3.9370079"), >=, 1); /* 100 / 25.4 */
  g_assert_cmpuint(count(pairs, 40, "0.3937008"), ==, 1);
  g_assert_true(comment_has(pairs, "unit: inches"));
}

/* R12 has neither light polylines nor handles nor units. */
static void
test_r12(void)
{
  g_autoptr(Sample) s = half_disc();
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R12, FALSE);
  g_assert_cmpstr(variable(pairs, "$ACADVER"), ==, "AC1009");
  g_assert_null(variable(pairs, "$INSUNITS"));
  g_assert_cmpuint(count(pairs, 0, "LWPOLYLINE"), ==, 0);
  g_assert_cmpuint(count(pairs, 0, "POLYLINE"), ==, 1);
  g_assert_cmpuint(count(pairs, 0, "VERTEX"), ==, 2);
  g_assert_cmpuint(count(pairs, 0, "SEQEND"), ==, 1);
  g_assert_cmpuint(count(pairs, 5, NULL) + count(pairs, 100, NULL), ==, 0);
  g_assert_true(comment_has(pairs, "unit: millimetres"));
}

static void
test_handles(void)
{
  g_autoptr(Sample) s = sample_bakery();
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R2000, FALSE);
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  guint64 seed = g_ascii_strtoull(variable(pairs, "$HANDSEED"), NULL, 16);
  for (guint i = 0; i < pairs->len; i++) {
    const Pair *p = &g_array_index(pairs, Pair, i);
    gboolean header = i > 0 && g_array_index(pairs, Pair, i - 1).code == 9;
    if ((p->code == 5 && !header) || p->code == 105) {
      g_assert_true(g_hash_table_add(seen, p->value));
      g_assert_cmpuint(g_ascii_strtoull(p->value, NULL, 16), <, seed);
    }
  }
  for (guint i = 0; i < pairs->len; i++) { /* whoever is referred to is there */
    const Pair *p = &g_array_index(pairs, Pair, i);
    if ((p->code == 330 || p->code == 340 || p->code == 350) && strcmp(p->value, "0") != 0)
      g_assert_true(g_hash_table_contains(seen, p->value));
  }
}

static void
test_not_to_be_cut(void)
{
  g_autoptr(Sample) s = sample_bakery();
  for (int version = HF_DXF_R2000; version <= HF_DXF_R12; version++) {
    g_autoptr(GArray) pairs = dxf_of(s, (HfDxfVersion)version, FALSE);
    g_assert_true(comment_has(pairs, "NOT TO BE CUT"));
    g_assert_true(comment_has(pairs, "stop: "));
    g_assert_cmpuint(count(pairs, 8, "METAL-EDGE") + count(pairs, 8, "OPENINGS"), ==, 0);
    g_assert_cmpuint(count(pairs, 8, "NOT-TO-BE-CUT-METAL-EDGE"), >, 0);
    g_assert_cmpuint(count(pairs, 1, "NOT TO BE CUT"), ==, 1);
  }
}

static void
test_no_order(void)
{
  g_autoptr(Sample) s = sample_boat_yard();
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R2000, FALSE);
  g_assert_false(comment_has(pairs, s->recipe.customer));
  g_assert_false(comment_has(pairs, s->recipe.order_number));
}

/* tan (sweep / 4), from the handbook's table, on rounded polygons. */
static void
test_bulges(void)
{
  static const struct {
    double degrees;
    const char *bulge; /* to 6 digits */
  } cases[] = {{30, "0.131652"}, {45, "0.198912"}, {60, "0.267949"}, {90, "0.414214"},
               {120, "0.57735"}, {180, "1"},       {270, "0.668179"}}; /* 270: two of 135 */
  for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(Sample) s = sample_new("Slice", "mild steel");
    guint plate = sample_entry(s, HF_ENTRY_PLATE, "plate");
    double sweep = cases[i].degrees * G_PI / 180;
    HfOutline *slice = hf_outline_new();
    hf_outline_begin(slice, hf_point(70, 0));
    hf_outline_arc_to(slice, hf_point(0, 0), sweep, hf_point_polar(hf_point(0, 0), 70, sweep));
    if (cases[i].degrees != 180)
      hf_outline_line_to(slice, hf_point(0, 0));
    hf_outline_close(slice);
    sample_shape(s, slice, FALSE, plate, "plate");
    sample_finish(s);
    g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R12, FALSE);
    guint found = 0;
    for (guint k = 0; k < pairs->len; k++)
      if (g_array_index(pairs, Pair, k).code == 42)
        found += fabs(g_ascii_strtod(g_array_index(pairs, Pair, k).value, NULL) -
                      g_ascii_strtod(cases[i].bulge, NULL)) < 6e-7;
    g_assert_cmpuint(found, ==, cases[i].degrees > 180 ? 2 : 1);
  }
}

/* A long sentence is carried over whole; no line is longer than R12 takes. */
static void
test_long_comment(void)
{
  g_autoptr(Sample) s = half_disc();
  g_autoptr(GString) name = g_string_new(NULL);
  for (int i = 0; i < 60; i++)
    g_string_append_printf(name,
                           "h\xc3\xa4"
                           "fen\x01%d ",
                           i);
  g_free(s->recipe.sign);
  s->recipe.sign = g_strdup(name->str);
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R12, FALSE);
  g_autoptr(GString) all = g_string_new(NULL);
  for (guint i = 0; i < pairs->len; i++) {
    const Pair *p = &g_array_index(pairs, Pair, i);
    g_assert_cmpuint(strlen(p->value), <=, 255);
    if (p->code == 999)
      g_string_append(all, p->value);
  }
  for (int i = 0; i < 60; i++) {
    g_autofree char *word = g_strdup_printf("h\\U+00E4fen<U+0001>%d ", i);
    g_assert_nonnull(strstr(all->str, word));
  }
}

static void
test_no_metal(void)
{
  g_autoptr(Sample) s = sample_new("Nothing", "mild steel");
  s->hold.whole = FALSE;
  g_autoptr(GArray) pairs = dxf_of(s, HF_DXF_R2000, FALSE);
  g_assert_cmpuint(count(pairs, 0, "LWPOLYLINE"), ==, 0);
  g_assert_cmpuint(count(pairs, 0, "EOF"), ==, 1);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/dxf/half-disc", test_half_disc);
  g_test_add_func("/dxf/inches", test_inches);
  g_test_add_func("/dxf/r12", test_r12);
  g_test_add_func("/dxf/handles", test_handles);
  g_test_add_func("/dxf/not-to-be-cut", test_not_to_be_cut);
  g_test_add_func("/dxf/no-order", test_no_order);
  g_test_add_func("/dxf/bulges", test_bulges);
  g_test_add_func("/dxf/long-comment", test_long_comment);
  g_test_add_func("/dxf/no-metal", test_no_metal);
  return g_test_run();
}
