/* SPDX-License-Identifier: GPL-3.0-or-later
 * The rows of the kinds: each says all that is asked of it, no role is forgotten, and what a role
 * promises (a length, a name) is what the field holds.
 */
#include "recipe/kind.h"
#include <math.h>
#include <string.h>

typedef void (*Each)(const HfKind *kind, const HfField *field);

static void
each_field(Each each)
{
  guint n = 0;
  for (gsize i = 0; hf_kinds[i] != NULL; i++)
    for (const HfTable *part = &hf_kinds[i]->table; part != NULL; part = part->also)
      for (const HfField *field = part->fields; field->key != NULL; field++, n++)
        each(hf_kinds[i], field);
  g_assert_cmpuint(n, >, 17 * 12);
}

static gboolean
is_in_mm(const HfField *field)
{
  return field->type == HF_FIELD_LENGTH || field->type == HF_FIELD_POINT ||
         field->type == HF_FIELD_SPOTS || field->type == HF_FIELD_SPACING ||
         field->type == HF_FIELD_SHARE || field->type == HF_FIELD_MARGIN ||
         field->type == HF_FIELD_POINTS;
}

/* Every field has a role, or says that it has none; a length always says whether it scales. */
static void
check_roles(const HfKind *kind, const HfField *field)
{
  const guint mm = HF_ROLE_PICTURE | HF_ROLE_KEPT;
  const guint names = HF_ROLE_STAND | HF_ROLE_AROUND | HF_ROLES_WAIT;
  g_test_message("%s: %s", kind->table.name, field->key);
  g_assert_cmpuint(field->roles, !=, 0);
  if ((field->roles & HF_ROLE_NONE) != 0)
    g_assert_cmpuint(field->roles, ==, HF_ROLE_NONE);
  if (field->type == HF_FIELD_LENGTH || field->type == HF_FIELD_POINT)
    g_assert_true((field->roles & mm) == HF_ROLE_PICTURE || (field->roles & mm) == HF_ROLE_KEPT);
  if ((field->roles & mm) != 0)
    g_assert_true(is_in_mm(field));
  gboolean named = field->type == HF_FIELD_NAME || field->type == HF_FIELD_NAMES;
  g_assert_true(named == ((field->roles & names) != 0));
  gboolean pinned = field->type == HF_FIELD_PIN || field->type == HF_FIELD_PINS;
  g_assert_true(pinned == ((field->roles & (HF_ROLE_PART | HF_ROLE_SPARED)) != 0));
  if ((field->roles & (HF_ROLE_BITE | HF_ROLE_CLEAR | HF_ROLE_BORE | HF_ROLE_SIZE)) != 0)
    g_assert_cmpint(field->type, ==, HF_FIELD_LENGTH);
}

static void
test_roles(void)
{
  each_field(check_roles);
}

static void
check_lengths(const HfKind *kind, const HfField *field)
{
  (void)kind;
  if (field->grip.at != HF_GRIP_NONE) {
    gboolean two = field->grip.at == HF_GRIP_AXES || field->grip.at == HF_GRIP_SIDES;
    g_assert_cmpint(field->type, ==, two ? HF_FIELD_POINT : HF_FIELD_LENGTH);
    g_assert_nonnull(field->grip.name);
  }
  if (field->strip.way != 0) {
    g_assert_cmpint(field->type, ==, HF_FIELD_LENGTH);
    for (guint i = 0; i < 3; i++)
      g_assert_true(g_utf8_validate(field->strip.words[i], -1, NULL));
  }
}

static void
test_grips_and_strips(void)
{
  each_field(check_lengths);
}

/* `{outer}`, `{?as=opening}`, `{a shape}` of a sentence are fields of the kind, `{place}` and
 * `{rest}` are not. */
static void
check_sentence(const HfKind *kind)
{
  g_autoptr(GRegex) value = g_regex_new("\\{([?!]|a )?([^}=]+)(=[^}]*)?\\}", 0, 0, NULL);
  g_autoptr(GMatchInfo) found = NULL;
  guint n = 0;
  for (g_regex_match(value, kind->sentence, 0, &found); g_match_info_matches(found);
       g_match_info_next(found, NULL), n++) {
    g_autofree char *key = g_match_info_fetch(found, 2);
    if (strcmp(key, "place") != 0 && strcmp(key, "rest") != 0)
      g_assert_nonnull(hf_table_field(&kind->table, key));
  }
  g_assert_cmpuint(n, >, 1);
}

static void
check_keys(const HfKind *kind, const char *const *keys)
{
  for (; *keys != NULL; keys++)
    g_assert_nonnull(hf_table_field(&kind->table, *keys));
}

static void
test_rows(void)
{
  g_autoptr(GHashTable) words = g_hash_table_new(g_str_hash, g_str_equal);
  guint has_kind[HF_N_ENTRY_KINDS] = {0};
  for (gsize i = 0; hf_kinds[i] != NULL; i++) {
    const HfKind *kind = hf_kinds[i];
    g_assert_true(g_hash_table_add(words, (gpointer)kind->table.name));
    g_assert_true(hf_kind_of_word(kind->table.name) == kind);
    has_kind[kind->kind]++;
    g_assert_true(kind->called != NULL && kind->first != NULL && kind->table.example != NULL);
    g_assert_nonnull(hf_table_field(&kind->table, kind->first));
    g_assert_true((kind->kind == HF_ENTRY_SEPARATOR) == (kind->shape != NULL));
    check_sentence(kind);
    check_keys(kind, kind->one_of);
    for (const HfClash *clash = kind->table.clashes; clash != NULL && clash->a != NULL; clash++)
      check_keys(kind, (const char *const[]){clash->a, clash->b, NULL});
    for (const HfNeed *need = kind->table.needs; need != NULL && need->key != NULL; need++) {
      check_keys(kind, (const char *const[]){need->key, NULL});
      check_keys(kind, need->needs);
    }
  }
  for (guint i = 0; i < HF_N_ENTRY_KINDS; i++)
    g_assert_cmpuint(has_kind[i], >, 0);
  g_assert_null(hf_kind_of_word("boat"));
}

/* A shape of half height 1 about its middle, as the solver of a band takes it. */
static void
test_shapes(void)
{
  HfSeparatorEntry plain = {.size = NAN, .width = NAN, .depth = NAN, .bite = NAN};
  for (gsize i = 0; hf_kinds[i] != NULL; i++) {
    const HfSeparatorShape *shape = hf_kinds[i]->shape;
    if (shape == NULL)
      continue;
    g_autoptr(HfOutline) own = hf_outline_new();
    shape->draw(own, &plain);
    HfBox box = hf_outline_box(own);
    HfTips tips = shape->tips(&plain);
    double tip = tips.tip_below ? -box.min.y : box.max.y;
    g_assert_cmpfloat_with_epsilon(tip, 1, 1e-9);
    g_assert_cmpfloat(fmax(-box.min.y, box.max.y), <=, 1 + 1e-9);
    g_assert_true(tips.half_angle >= 0 && tips.half_angle < G_PI_2);
    g_assert_true(tips.beta >= 0 && tips.beta < G_PI_2);
  }
}

static void
test_entry(void)
{
  static const char text[] = "holdfast: 1\n"
                             "metal: {kind: mild steel, thickness: 3 mm}\n"
                             "entries:\n"
                             "  - ring: {name: in, outer: 300 mm, width: 20 mm}\n"
                             "  - ring: {name: out, outer: 600 mm, width: 20 mm}\n"
                             "  - star: {band: [in, out], at: left, bite: 3 mm}\n"
                             "  - dot: {diameter: 14 mm, on: out, at: top}\n"
                             "  - words: {text: A, font: Lobster Two, height: 20 mm, below: in}\n";
  g_autoptr(GError) error = NULL;
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
  g_assert_no_error(error);
  const HfEntry *star = recipe->entries->pdata[2], *dot = recipe->entries->pdata[3],
                *words = recipe->entries->pdata[4];
  g_assert_cmpstr(hf_entry_word(star), ==, "star");
  g_assert_cmpint(star->kind, ==, dot->kind);
  g_assert_cmpstr(star->name, ==, "star 1");
  g_assert_cmpuint(hf_entry_band(star)->len, ==, 2);
  g_assert_null(hf_entry_band(dot));
  g_assert_true(hf_entry_names(star, HF_ROLE_BAND, "in"));
  g_assert_false(hf_entry_names(star, HF_ROLE_STAND, "in"));
  g_assert_true(hf_entry_names(dot, HF_ROLE_STAND, "out"));
  g_assert_true(hf_entry_names(words, HF_ROLES_WAIT, "in"));
  g_assert_true(hf_entry_says(star, "bite") && !hf_entry_says(star, "diameter"));
  g_assert_cmpfloat(hf_entry_length(star, hf_entry_role(star, HF_ROLE_BITE)), ==, 3);
  g_assert_true(hf_entry_font(words) == &words->words.font && hf_entry_font(dot) == NULL);
  g_assert_true(hf_entry_is(words, HF_KIND_LETTERING) && !hf_entry_is(dot, HF_KIND_FIXTURE));
}

/* Each choice of shapes has a recipe that shows it, says it, and is taken as it stands. */
static void
check_shown(const HfKind *kind, const HfField *field)
{
  if ((field->flags & HF_PICTURED) == 0)
    return;
  g_assert_cmpint(field->type, ==, HF_FIELD_CHOICE);
  for (const HfChoice *choice = field->choices; choice->word != NULL; choice++) {
    g_autofree char *text = hf_recipe_shown(kind->table.name, field->key, choice->word);
    g_autofree char *said = g_strdup_printf("%s: %s", field->key, choice->word);
    g_autoptr(GError) error = NULL;
    g_autoptr(HfRecipe) recipe = hf_recipe_read(text, strlen(text), NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(strstr(text, said));
    g_assert_cmpuint(recipe->entries->len, >, 0);
  }
}

static void
test_shown(void)
{
  each_field(check_shown);
  g_assert_null(hf_recipe_shown("ornament", "form", "no such form"));
  g_assert_null(hf_recipe_shown("no such kind", "form", "heart"));
  g_assert_null(hf_recipe_shown("words", "align", "left")); /* no shape */
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/kinds/roles", test_roles);
  g_test_add_func("/kinds/grips-and-strips", test_grips_and_strips);
  g_test_add_func("/kinds/rows", test_rows);
  g_test_add_func("/kinds/shapes", test_shapes);
  g_test_add_func("/kinds/entry", test_entry);
  g_test_add_func("/kinds/shown", test_shown);
  return g_test_run();
}
