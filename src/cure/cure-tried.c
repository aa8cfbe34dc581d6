/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-tried.c - signs of recipes that were tried already: no text is made into a sign twice where
 * it is likely to come again (ties and mending, by whatever way they were come to).
 *
 *   text ──> there? ──> the same sign, one owner more
 *              └ no ──> made, and kept where the hand says so
 *
 * A sign is immutable, so that hands may share it. Two hands that ask for one text at once both
 * make it, and one of the two equal signs is kept. At most MOST_KEPT are: each holds its metal.
 */
#include "cure/search-private.h"

enum { MOST_KEPT = 64 };

struct HfTried {
  GMutex lock;
  GHashTable *signs; /* GBytes * of the text -> HfSign * */
};

HfTried *
hf_tried_new(void)
{
  HfTried *tried = g_new0(HfTried, 1);
  g_mutex_init(&tried->lock);
  tried->signs = g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref,
                                       (GDestroyNotify)hf_sign_free);
  return tried;
}

void
hf_tried_free(HfTried *tried)
{
  g_hash_table_unref(tried->signs);
  g_mutex_clear(&tried->lock);
  g_free(tried);
}

static HfSign *
known(HfTried *tried, GBytes *text)
{
  g_mutex_lock(&tried->lock);
  HfSign *sign = g_hash_table_lookup(tried->signs, text);
  if (sign != NULL)
    hf_sign_ref(sign);
  g_mutex_unlock(&tried->lock);
  return sign;
}

static void
keep(HfTried *tried, GBytes *text, HfSign *sign)
{
  g_mutex_lock(&tried->lock);
  if (g_hash_table_size(tried->signs) < MOST_KEPT && !g_hash_table_contains(tried->signs, text))
    g_hash_table_insert(tried->signs, g_bytes_ref(text), hf_sign_ref(sign));
  g_mutex_unlock(&tried->lock);
}

HfSign *
hf_tried_sign(const HfHand *hand, const HfSign *given, const char *text, gsize length)
{
  if (hand->tried == NULL)
    return hand->try_text(given, text, length, hand->fonts, hand->cancel);
  g_autoptr(GBytes) key = g_bytes_new(text, length);
  HfSign *sign = known(hand->tried, key);
  if (sign != NULL)
    return sign;
  sign = hand->try_text(given, text, length, hand->fonts, hand->cancel);
  if (sign != NULL && hand->keep)
    keep(hand->tried, key, sign);
  return sign;
}
