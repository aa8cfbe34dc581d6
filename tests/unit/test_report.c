/* SPDX-License-Identifier: GPL-3.0-or-later
 * report.json and its writer. The schema is checked by tests/oracle/test_report.py; here: figures,
 * order, escapes, and what must not be in it.
 */
#include "base/json.h"
#include "sample.h"
#include "stock/cautions.h"
#include <json-glib/json-glib.h>

static JsonNode *
parse(GBytes *bytes)
{
  g_autoptr(JsonParser) parser = json_parser_new();
  g_autoptr(GError) error = NULL;
  gsize length;
  const char *text = g_bytes_get_data(bytes, &length);
  g_assert_true(g_utf8_validate(text, (gssize)length, NULL));
  json_parser_load_from_data(parser, text, (gssize)length, &error);
  g_assert_no_error(error);
  return json_parser_steal_root(parser);
}

static JsonNode *
report_of(const Sample *sample)
{
  g_autoptr(GBytes) bytes = hf_out_report(&sample->what, &(HfReportMore){NULL});
  return parse(bytes);
}

static JsonObject *
member(JsonNode *root, const char *key)
{
  return json_object_get_object_member(json_node_get_object(root), key);
}

static JsonArray *
list(JsonNode *root, const char *key)
{
  return json_object_get_array_member(json_node_get_object(root), key);
}

/* RFC 8259 section 7: what must be escaped, and how. */
static void
test_escapes(void)
{
  static const struct {
    const char *value, *written;
  } cases[] = {
      {"plain", "\"plain\"\n"},
      {"a\"b\\c", "\"a\\\"b\\\\c\"\n"},
      {"\n\t\r\x01\x1f", "\"\\n\\t\\u000d\\u0001\\u001f\"\n"},
      {"\xc3\x85", "\"\xc3\x85\"\n"},
      {"a\xff"
       "b",
       "\"a\xef\xbf\xbd"
       "b\"\n"},                                                      /* not UTF-8 */
      {"\xed\xa0\x80", "\"\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\"\n"}, /* half a surrogate pair */
      {NULL, "null\n"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autoptr(HfJson) json = hf_json_new();
    hf_json_text(json, NULL, cases[i].value);
    g_autoptr(GBytes) bytes = hf_json_finish(json);
    g_assert_cmpmem(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), cases[i].written,
                    strlen(cases[i].written));
  }
}

static void
test_brackets(void)
{
  g_autoptr(HfJson) json = hf_json_new();
  hf_json_open(json, NULL, '{');
  hf_json_number(json, "a", 3.7037034, 4);
  hf_json_number(json, "none", NAN, 2);
  hf_json_number(json, "endless", INFINITY, 2);
  hf_json_line(json, "at", '{');
  hf_json_number(json, "x", -0.00001, 3);
  hf_json_line(json, "in", '[');
  hf_json_bool(json, NULL, TRUE);
  hf_json_bool(json, NULL, FALSE);
  hf_json_close(json);
  hf_json_close(json);
  hf_json_open(json, "empty", '[');
  hf_json_close(json);
  hf_json_close(json);
  g_autoptr(GBytes) bytes = hf_json_finish(json);
  const char *wanted = "{\n  \"a\": 3.7037,\n  \"none\": null,\n  \"endless\": null,\n"
                       "  \"at\": {\"x\": 0, \"in\": [true, false]},\n  \"empty\": []\n}\n";
  g_assert_cmpmem(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), wanted, strlen(wanted));
}

static void
test_whole(void)
{
  g_autoptr(Sample) sample = sample_boat_yard();
  g_autoptr(JsonNode) root = report_of(sample);
  JsonObject *top = json_node_get_object(root);
  g_assert_cmpint(json_object_get_int_member(top, "report"), ==, 1);
  g_assert_cmpstr(json_object_get_string_member(top, "verdict"), ==, "whole");
  JsonObject *tally = member(root, "tally");
  g_assert_cmpint(json_object_get_int_member(tally, "stops"), ==, 0);
  g_assert_cmpint(json_object_get_int_member(tally, "cautions"), ==, 1);
  g_assert_cmpint(json_object_get_int_member(tally, "accepted"), ==, 1);
  g_assert_cmpint(json_object_get_int_member(tally, "notes"), ==, 1);
  JsonObject *figures = member(root, "figures");
  g_assert_cmpfloat_with_epsilon(json_object_get_double_member(figures, "area"), sample->hold.area,
                                 1e-3);
  /* 7850 kg/m3 (EN 1993-1-1 3.2.6 [S: scribd.com/document/416283345]) x area x 3 mm */
  g_assert_cmpfloat_with_epsilon(json_object_get_double_member(figures, "mass"),
                                 sample->hold.area * 3 * 7850e-9, 1e-6);
  g_assert_cmpint(json_object_get_int_member(figures, "pierces"), ==,
                  sample->metal.region->rings->len);
}

static void
test_not_whole(void)
{
  g_autoptr(Sample) sample = sample_bakery();
  g_autoptr(JsonNode) root = report_of(sample);
  g_assert_cmpstr(json_object_get_string_member(json_node_get_object(root), "verdict"), ==,
                  "not whole");
  JsonArray *findings = list(root, "findings");
  g_assert_cmpuint(json_array_get_length(findings), ==, 4);
  JsonObject *loose = json_array_get_object_element(findings, 0);
  g_assert_cmpstr(json_object_get_string_member(loose, "key"), ==, hf_law(HF_LAW_LOOSE_PART)->key);
  g_assert_cmpint(json_object_get_int_member(loose, "count"), ==, 4);
  g_assert_cmpuint(json_array_get_length(json_object_get_array_member(loose, "places")), ==, 4);
  g_assert_true(json_object_get_null_member(loose, "measured"));
  JsonObject *web = json_array_get_object_element(findings, 1);
  g_assert_cmpfloat(json_object_get_double_member(web, "measured"), ==, 1.2);
  g_assert_cmpfloat(json_object_get_double_member(web, "limit"), ==, 3);
  g_assert_cmpstr(json_object_get_string_member(web, "form"), ==, "neck");
  JsonObject *accepted = json_array_get_object_element(findings, 3);
  g_assert_cmpstr(json_object_get_string_member(accepted, "accepted"), ==, "hangs out of reach");
}

/* Every limit of the law table is there, in its order, whether it spoke or not. */
static void
test_limits(void)
{
  g_autoptr(Sample) sample = sample_boat_yard();
  g_autoptr(JsonNode) root = report_of(sample);
  JsonArray *limits = list(root, "limits");
  g_assert_cmpuint(json_array_get_length(limits), ==, HF_N_LAWS);
  for (guint i = 0; i < HF_N_LAWS; i++)
    g_assert_cmpstr(json_object_get_string_member(json_array_get_object_element(limits, i), "key"),
                    ==, hf_law((HfLawKind)i)->key);
}

/* The order is the customer's business: nothing of it in the report. */
static void
test_no_customer(void)
{
  g_autoptr(Sample) sample = sample_boat_yard();
  g_autoptr(GBytes) bytes = hf_out_report(&sample->what, &(HfReportMore){NULL});
  g_autofree char *text = g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
  g_assert_null(strstr(text, sample->recipe.customer));
  g_assert_null(strstr(text, sample->recipe.order_number));
  g_assert_null(strstr(text, sample->recipe.date));
  g_assert_null(strstr(text, "quantity\": 2"));
}

static void
test_same_bytes(void)
{
  g_autoptr(Sample) a = sample_bakery();
  g_autoptr(Sample) b = sample_bakery();
  static const HfWritten written[] = {{"metal.svg", "00"}, {"proof.png", "ff"}};
  HfReportMore told = {.written = written, .n_written = 2};
  g_autoptr(GBytes) one = hf_out_report(&a->what, &told);
  g_autoptr(GBytes) two = hf_out_report(&b->what, &told);
  g_assert_true(g_bytes_equal(one, two));
}

/* Each caution is in the reports of the metals that it is about, and in no other. */
static void
test_cautions(void)
{
  static const char *const metals[] = {"mild steel", "stainless steel", "aluminium",
                                       "galvanised steel"};
  guint n;
  const HfCaution *all = hf_cautions(&n);
  for (guint m = 0; m < G_N_ELEMENTS(metals); m++) {
    g_autoptr(Sample) sample = sample_new("Quay", metals[m]);
    sample_finish(sample);
    g_autoptr(JsonNode) root = report_of(sample);
    JsonArray *cautions = list(root, "cautions");
    guint at = 0;
    for (guint i = 0; i < n; i++) {
      if (!hf_caution_applies(&all[i], metals[m], TRUE))
        continue;
      JsonObject *row = json_array_get_object_element(cautions, at++);
      g_assert_cmpstr(json_object_get_string_member(row, "key"), ==, all[i].key);
      g_assert_cmpstr(json_object_get_string_member(row, "text"), ==, all[i].text);
    }
    g_assert_cmpuint(json_array_get_length(cautions), ==, at);
  }
}

static void
test_awkward(void)
{
  g_autoptr(Sample) sample = sample_awkward();
  g_autoptr(JsonNode) root = report_of(sample);
  g_assert_cmpstr(json_object_get_string_member(json_node_get_object(root), "sign"), ==,
                  "\"Quay\\\" \x01\t\xef\xbf\xbd <&> \xd9\x85\xd8\xb1\xd9\x81\xd8\xa3");
  JsonObject *tie = json_array_get_object_element(list(root, "ties"), 0);
  g_assert_cmpstr(json_object_get_string_member(tie, "name"), ==, "tie \"1\"");
  g_assert_true(json_object_get_null_member(tie, "width"));
}

static void
test_nothing(void)
{
  g_autoptr(Sample) sample = sample_nothing();
  g_autoptr(JsonNode) root = report_of(sample);
  g_assert_true(json_object_get_null_member(member(root, "figures"), "box"));
  g_assert_cmpstr(json_object_get_string_member(json_node_get_object(root), "verdict"), ==,
                  "not whole");
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/report/escapes", test_escapes);
  g_test_add_func("/report/brackets", test_brackets);
  g_test_add_func("/report/whole", test_whole);
  g_test_add_func("/report/not-whole", test_not_whole);
  g_test_add_func("/report/limits", test_limits);
  g_test_add_func("/report/no-customer", test_no_customer);
  g_test_add_func("/report/same-bytes", test_same_bytes);
  g_test_add_func("/report/cautions", test_cautions);
  g_test_add_func("/report/awkward", test_awkward);
  g_test_add_func("/report/nothing", test_nothing);
  return g_test_run();
}
