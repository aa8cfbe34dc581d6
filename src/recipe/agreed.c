/* SPDX-License-Identifier: GPL-3.0-or-later
 * agreed.c - the digest of what was agreed, as people copy it from a paper.
 */
#include "recipe/read-private.h"
#include <string.h>

gsize
hf_agreed_digits(const char *said, char *ret_digits, gsize most)
{
  gsize n = 0;
  for (const char *at = said; *at != '\0'; at++) {
    if (*at == ' ' || *at == '-')
      continue;
    if (!g_ascii_isxdigit(*at) || n + 1 >= most)
      return 0;
    ret_digits[n++] = g_ascii_tolower(*at);
  }
  ret_digits[n] = '\0';
  return n >= HF_AGREED_LEAST ? n : 0;
}

void
hf_check_agreed(HfReader *reader, const HfNode *root, const HfRecipe *recipe)
{
  const HfNode *agreed = hf_node_get(root, "agreed");
  const HfNode *said =
      agreed != NULL && agreed->kind == HF_NODE_TABLE ? hf_node_get(agreed, "digest") : NULL;
  char digits[HF_AGREED_ROOM];
  if (said == NULL || recipe->agreed.digest == NULL ||
      hf_agreed_digits(recipe->agreed.digest, digits, sizeof digits) > 0)
    return;
  hf_mistake(reader->mistakes, said->mark,
             "copy the sixteen digits in bold from the proof: 3f9a-71c2-04de-88b1",
             "this is not the digest of a proof");
}
