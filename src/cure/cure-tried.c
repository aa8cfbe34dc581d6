/* SPDX-License-Identifier: GPL-3.0-or-later
 * cure-tried.c - signs of recipes that were tried already: no text is made into a sign twice where
 * it is likely to come again (ties and mending, by whatever way they were come to).
 *
 *   text ──> there? ──> the same sign, one owner more
 *              └ no ──> made, and kept where the hand says so
 *
 * A sign is immutable, so that hands may share it. Two hands that ask for one text at once both
 * make it, and one of the two equal signs is kept. What is there from an
 * earlier round costs nothing; what was made in the same round counts as if it were made again: how
 * far a budget goes must not hang on who came first. So does the bound: no more is kept once a
 * round begins with MOST_KEPT, each of which holds its metal.
 */
#include "cure/search-private.h"

enum { MOST_KEPT = 64, LEAST_WORK = 2000 }; /* signs; units of work: to read and compare it */

typedef struct {
  HfSign *sign;
  guint work, round;
} Made;

struct HfTried {
  GMutex lock;
  GHashTable *made; /* GBytes * of the text -> Made * */
  guint round;      /* of work of the search, */
  guint before;     /* and how many were there when it began */
};

static void
made_free(gpointer data)
{
  hf_sign_free(((Made *)data)->sign);
  g_free(data);
}

HfTried *
hf_tried_new(void)
{
  HfTried *tried = g_new0(HfTried, 1);
  g_mutex_init(&tried->lock);
  tried->made =
      g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, made_free);
  return tried;
}

void
hf_tried_free(HfTried *tried)
{
  g_hash_table_unref(tried->made);
  g_mutex_clear(&tried->lock);
  g_free(tried);
}

void
hf_tried_next_round(HfTried *tried)
{
  tried->round++;
  tried->before = g_hash_table_size(tried->made);
}

static HfSign *
known(HfTried *tried, GBytes *text, guint *work)
{
  g_mutex_lock(&tried->lock);
  const Made *made = g_hash_table_lookup(tried->made, text);
  HfSign *sign = made != NULL ? hf_sign_ref(made->sign) : NULL;
  *work += made != NULL && made->round == tried->round ? made->work : 0;
  g_mutex_unlock(&tried->lock);
  return sign;
}

static void
keep(HfTried *tried, GBytes *text, const HfSign *sign, guint work)
{
  g_mutex_lock(&tried->lock);
  if (tried->before < MOST_KEPT && !g_hash_table_contains(tried->made, text)) {
    Made *made = g_new(Made, 1);
    *made = (Made){hf_sign_ref(sign), work, tried->round};
    g_hash_table_insert(tried->made, g_bytes_ref(text), made);
  }
  g_mutex_unlock(&tried->lock);
}

/* @work: what was done is added. */
static HfSign *
make(const HfHand *hand, const HfSign *given, const HfTrialText *text, guint *work)
{
  HfCancel own = {.most = (gint)MIN(hand->most, G_MAXINT), .of = hand->cancel};
  HfSign *sign = hand->try_text(given, text, hand->fonts, &own);
  *work += hf_cancel_work(&own) + LEAST_WORK;
  return sign;
}

HfSign *
hf_tried_sign(const HfHand *hand, const HfSign *given, const HfTrialText *text, guint *work)
{
  if (hand->tried == NULL)
    return make(hand, given, text, work);
  g_autoptr(GBytes) key = g_bytes_new(text->text, text->length);
  HfSign *sign = known(hand->tried, key, work);
  if (sign != NULL)
    return sign;
  guint before = *work;
  sign = make(hand, given, text, work);
  if (sign != NULL && hand->keep)
    keep(hand->tried, key, sign, *work - before);
  return sign;
}
