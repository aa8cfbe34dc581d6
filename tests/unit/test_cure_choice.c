/* SPDX-License-Identifier: GPL-3.0-or-later
 * test_cure_choice.c - which of many possible ties.
 */
#include "cure/choice-private.h"

/* Part 1 has a cheap and a dear tie to the body, part 2 hangs on part 1 or on the body; part 3 has
 * nothing. */
static void
test_small(void)
{
  const HfCandidate candidates[] = {
      {1, 0, 9}, {1, 0, 5, 0, 0, 0}, {2, 1, 2}, {0, 2, 6}, {1, 0, 6, 0, G_PI, 0},
  };
  HfNeed needs[4] = {{0}};
  needs[1] = (HfNeed){2, G_PI / 2};
  HfChoiceTask task = {3, candidates, G_N_ELEMENTS(candidates), needs, NULL, 0, {1, 0, 0, 0, 0}};
  g_autoptr(HfChoice) choice = hf_choice_new(&task, NULL, NULL);
  g_assert_cmpfloat_with_epsilon(choice->area, 13, 1e-9);
  g_assert_cmpuint(choice->chosen->len, ==, 3);
  g_assert_cmpuint(choice->unheld->len, ==, 1);
  g_assert_cmpuint(g_array_index(choice->unheld, HfUnheld, 0).part, ==, 3);
  g_assert_cmpuint(choice->lacking->len, ==, 0);
}

int
main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/cure/choice/small", test_small);
  return g_test_run();
}
