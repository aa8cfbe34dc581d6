/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-search.c - a good choice for a net of any size: a start, then steps that better it.
 *
 *   start   the cheapest ties that join parts to the body (Kruskal), then what parts still need,
 *           then a second way for parts that hang on one tie
 *   step    force a tie in: its foes go, what they held is mended by the cheapest ties that will
 *           do, what is not needed any more goes too; kept when the whole is better, else undone
 *   pair    the same with two ties at once, for parts that need two
 *   class   the same for all twins at once: take the places that some of them have
 *
 * No step leaves a part unheld, or on one tie, that was held, or held both ways, before.
 */
#include "tie/choice-state-private.h"
#include <string.h>

#define PASSES   6
#define FOES     4 /* a tie with more foes in is not forced */
#define PAIRS    3
#define KICKED   12    /* pairs of a part */
#define KICKS    30000 /* by ties */
#define PATTERNS 4     /* sets of places that are tried on all twins of a class */

static void
join_all(const HfNet *net, gboolean *in)
{
  g_autofree guint *up = g_new(guint, net->n + 1);
  for (guint p = 0; p <= net->n; p++)
    up[p] = p;
  for (guint t = 0; t < net->n_ties; t++) {
    guint a = hf_choice_root(up, net->ties[t].part[0]),
          b = hf_choice_root(up, net->ties[t].part[1]);
    if (a == b || !hf_net_is_free(net, in, t))
      continue;
    in[t] = TRUE;
    up[a] = b;
  }
  for (guint t = 0; t < net->n_ties; t++)
    in[t] = in[t] && hf_choice_root(up, net->ties[t].part[1]) == hf_choice_root(up, 0);
}

static gboolean
can_add(const HfState *state, guint tie)
{
  const HfNetTie *t = &state->net->ties[tie];
  return !state->in[tie] && !state->fixed[tie] && (t->part[0] == 0 || state->held[t->part[0]]) &&
         state->held[t->part[1]] && hf_net_is_free(state->net, state->in, tie);
}

/* Adds to a part, the cheapest first, until it lacks no more than @lacks; two at once where one
 * alone does not help (the first of a pair that is far enough apart). */
static void
supply(HfState *state, guint part, guint lacks)
{
  const HfNet *net = state->net;
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++) {
    guint tie = net->at[i], before = state->lacks[part];
    if (before <= lacks)
      return;
    if (!can_add(state, tie))
      continue;
    hf_state_flip(state, tie);
    if (state->lacks[part] >= before)
      hf_state_undo(state, state->journal->len - 1);
  }
}

/* Two ways to the body for parts that need them: over each tie that such parts hang on the cheapest
 * candidate past it; one after another, counting anew, as long as it helps. */
static void
supply_both(HfState *state)
{
  const HfNet *net = state->net;
  for (guint pass = 0; pass < PASSES && state->any_both; pass++) {
    gboolean helped = FALSE;
    hf_state_count(state);
    for (guint p = 1; p <= net->n; p++) {
      if (net->needs[p].ties < 2 || state->both[p] || !state->held[p])
        continue;
      for (guint i = net->at_start[p]; i < net->at_start[p + 1]; i++) {
        guint tie = net->at[i];
        if (!can_add(state, tie))
          continue;
        hf_state_flip(state, tie);
        state->both[p] = TRUE;
        if ((helped = hf_state_keeps_both(state, p)))
          break;
        state->both[p] = FALSE;
        hf_state_undo(state, state->journal->len - 1);
      }
    }
    if (!helped)
      break;
  }
  hf_state_count(state);
}

/* Leaves a tie out if nothing suffers, @dear: and it is better so. */
static gboolean
drop(HfState *state, guint tie, gboolean dear)
{
  HfChoiceKey before = state->key;
  const guint *part = state->net->ties[tie].part;
  if (state->fixed[tie])
    return FALSE;
  hf_state_flip(state, tie);
  if (state->key.lacks <= before.lacks && (!dear || state->key.cost < before.cost) &&
      hf_state_reaches(state, part[0]) && hf_state_reaches(state, part[1]) &&
      hf_state_keeps_both(state, part[0]) && hf_state_keeps_both(state, part[1]))
    return TRUE;
  hf_state_undo(state, state->journal->len - 1);
  return FALSE;
}

/* Drops what a part does not need, the dearest first. */
static void
prune(HfState *state, guint part, guint but, guint nor)
{
  const guint *on = state->on + state->net->at_start[part];
  for (guint i = state->n_on[part]; part != 0 && i-- > 0;)
    if (on[i] != but && on[i] != nor)
      drop(state, on[i], TRUE);
}

/* A part was left without a way to the body: the cheapest tie that gives it one again. */
static gboolean
mend_reach(HfState *state, guint part)
{
  const HfNet *net = state->net;
  if (hf_state_reaches(state, part))
    return TRUE;
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++) {
    guint tie = net->at[i];
    if (!can_add(state, tie) || !hf_state_reaches(state, hf_net_other(net, tie, part)))
      continue;
    hf_state_flip(state, tie);
    return TRUE;
  }
  return FALSE;
}

/* The dearest tie at a part that could go once @tie is there: its other end can spare it. */
static gint64
may_go(const HfState *state, guint part, guint tie)
{
  const HfNet *net = state->net;
  const guint *on = state->on + net->at_start[part];
  if (state->n_on[part] < net->needs[part].ties)
    return 0;
  for (guint i = state->n_on[part]; i-- > 0;) {
    guint other = hf_net_other(net, on[i], part);
    guint gains = other == net->ties[tie].part[0] || other == net->ties[tie].part[1];
    if (other == 0 || state->n_on[other] + gains > net->needs[other].ties)
      return net->ties[on[i]].cost;
  }
  return 0;
}

/* The most that forcing a tie can save: if it costs more it is not tried. */
static gint64
may_save(const HfState *state, guint tie)
{
  const HfNet *net = state->net;
  gint64 sum = 0, go[2] = {0, 0};
  gboolean both = TRUE;
  for (guint f = net->foe_start[tie]; f < net->foe_start[tie + 1]; f++)
    sum += state->in[net->foe[f]] ? net->ties[net->foe[f]].cost : 0;
  for (guint side = 0; side < 2; side++) {
    guint part = net->ties[tie].part[side];
    if (part == 0)
      continue;
    if (!state->held[part] || state->lacks[part] > 0)
      return G_MAXINT64;
    go[side] = may_go(state, part, tie);
    both = both && net->needs[part].ties > 1;
    sum += state->terms[part];
    sum += state->seat[side][tie] != G_MAXUINT ? (gint64)net->weights.alike : 0;
  }
  return sum + (both ? go[0] + go[1] : MAX(go[0], go[1]));
}

/* Ends of what was taken out: parts to be looked after. Returns: FALSE when there are too many. */
static gboolean
oust(HfState *state, guint tie, guint *parts, guint *n)
{
  const HfNet *net = state->net;
  for (guint f = net->foe_start[tie]; f < net->foe_start[tie + 1]; f++) {
    guint foe = net->foe[f];
    if (!state->in[foe])
      continue;
    if (state->fixed[foe] || *n + 2 > 2 * FOES)
      return FALSE;
    for (guint side = 0; side < 2; side++)
      parts[(*n)++] = net->ties[foe].part[side];
    hf_state_flip(state, foe);
  }
  return TRUE;
}

static gboolean
mend(HfState *state, const guint *parts, guint n)
{
  for (guint i = 0; i < n; i++)
    if (parts[i] != 0 && !mend_reach(state, parts[i]))
      return FALSE;
  for (guint i = 0; i < n; i++)
    if (parts[i] != 0)
      supply(state, parts[i], 0);
  for (guint i = 0; i < n; i++)
    if (!hf_state_keeps_both(state, parts[i]))
      return FALSE;
  return TRUE;
}

static gboolean
put_in(HfState *state, guint tie, guint *parts, guint *n)
{
  const guint *ends = state->net->ties[tie].part;
  if (state->in[tie])
    return TRUE;
  if (ends[0] != 0 && !state->held[ends[0]] && !state->held[ends[1]])
    return FALSE;
  if (!oust(state, tie, parts, n))
    return FALSE;
  hf_state_flip(state, tie);
  for (guint side = 0; side < 2; side++)
    if (ends[side] != 0 && !state->held[ends[side]]) {
      hf_state_hold(state, ends[side]);
      supply(state, ends[side], 0);
    }
  return hf_state_reaches(state, ends[1]);
}

/* One tie in, or two that go together, and all that follows from it. Returns: is it sound? */
static gboolean
bring_in(HfState *state, guint tie, guint other)
{
  const HfNet *net = state->net;
  guint parts[2 * FOES + 2], n = 0;
  gboolean sound = put_in(state, tie, parts, &n);
  sound = sound && (other == G_MAXUINT || put_in(state, other, parts, &n));
  sound = sound && mend(state, parts, n);
  for (guint side = 0; sound && side < 2; side++)
    prune(state, net->ties[tie].part[side], tie, other);
  for (guint side = 0; sound && other != G_MAXUINT && side < 2; side++)
    prune(state, net->ties[other].part[side], tie, other);
  for (guint i = 0; sound && i < n; i++)
    prune(state, parts[i], tie, other);
  return sound;
}

/* One step. Returns: is the choice better now? Else it is as before. */
static gboolean
force(HfState *state, guint tie, guint other)
{
  HfChoiceKey before = state->key;
  guint length = state->journal->len;
  if (bring_in(state, tie, other) && hf_choice_key_less(state->key, before))
    return TRUE;
  hf_state_undo(state, length);
  return FALSE;
}

/* The pairs of ties that would cost a part the least by themselves, style included. */
typedef struct {
  gint64 cost[KICKED];
  guint pair[KICKED][2], n, room; /* so many are kept */
} Pairs;

static void
keep_pair(Pairs *pairs, gint64 cost, guint a, guint b)
{
  guint i = pairs->n < pairs->room ? pairs->n++ : pairs->room - 1;
  for (; i > 0 && pairs->cost[i - 1] > cost; i--) {
    pairs->cost[i] = pairs->cost[i - 1];
    memcpy(pairs->pair[i], pairs->pair[i - 1], sizeof pairs->pair[i]);
  }
  pairs->cost[i] = cost;
  pairs->pair[i][0] = a;
  pairs->pair[i][1] = b;
}

static gboolean
are_foes(const HfNet *net, guint a, guint b)
{
  for (guint f = net->foe_start[a]; f < net->foe_start[a + 1]; f++)
    if (net->foe[f] == b)
      return TRUE;
  return FALSE;
}

static Pairs
pairs_of(const HfState *state, guint part, gint64 most, guint room)
{
  const HfNet *net = state->net;
  const guint *at = net->at + net->at_start[part];
  guint n = net->at_start[part + 1] - net->at_start[part];
  Pairs pairs = {.room = room};
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++) {
      guint pair[2] = {at[i], at[j]};
      gint64 cost = net->ties[pair[0]].cost + net->ties[pair[1]].cost;
      if (cost >= (pairs.n == room ? MIN(most, pairs.cost[room - 1]) : most))
        break; /* they are in order of cost */
      gboolean crowded;
      cost += hf_net_terms(net, part, pair, 2);
      hf_net_lacks(net, part, pair, 2, &crowded);
      if (!crowded && cost < (pairs.n == room ? MIN(most, pairs.cost[room - 1]) : most) &&
          (!state->in[pair[0]] || !state->in[pair[1]]) && !state->fixed[pair[0]] &&
          !state->fixed[pair[1]] && !are_foes(net, pair[0], pair[1]))
        keep_pair(&pairs, cost, pair[0], pair[1]);
    }
  return pairs;
}

/* From top and bottom to left and right: no step with one tie leads there. */
static void
force_pairs(HfState *state, guint part)
{
  const HfNet *net = state->net;
  const guint *on = state->on + net->at_start[part];
  gint64 now = state->terms[part];
  if (net->needs[part].ties < 2 || !state->held[part])
    return;
  for (guint i = 0; i < state->n_on[part]; i++)
    now += net->ties[on[i]].cost;
  Pairs pairs = pairs_of(state, part, now, PAIRS);
  for (guint i = 0; i < pairs.n; i++)
    if (force(state, pairs.pair[i][0], pairs.pair[i][1]))
      break;
}

/* In later passes only ties that end where the last one changed something. */
static gboolean
is_due(const HfState *state, const gboolean *fresh, guint tie)
{
  const HfNet *net = state->net;
  if (fresh[net->ties[tie].part[0]] || fresh[net->ties[tie].part[1]])
    return TRUE;
  for (guint f = net->foe_start[tie]; f < net->foe_start[tie + 1]; f++)
    if (fresh[net->ties[net->foe[f]].part[1]])
      return TRUE;
  return FALSE;
}

static void
force_each(HfState *state, const gboolean *fresh, const HfCancel *cancel)
{
  for (guint p = 1; p <= state->net->n; p++)
    if (fresh[p])
      prune(state, p, G_MAXUINT, G_MAXUINT);
  for (guint t = 0; t < state->net->n_ties; t++) {
    if (t % 256 == 0 && !hf_cancel_check(cancel, NULL))
      return;
    if (!state->in[t] && !state->fixed[t] && is_due(state, fresh, t) &&
        state->net->ties[t].cost < may_save(state, t))
      force(state, t, G_MAXUINT);
  }
  for (guint p = 1; p <= state->net->n; p++)
    if (fresh[p])
      force_pairs(state, p);
}

/* The places of a part's ties, ascending. */
static GArray *
pattern_of(const HfState *state, guint part)
{
  const HfNet *net = state->net;
  GArray *places = g_array_new(FALSE, FALSE, sizeof(guint));
  for (guint i = 0; i < state->n_on[part]; i++) {
    guint tie = state->on[net->at_start[part] + i];
    guint place = net->ties[tie].place[hf_net_side(net, tie, part)], at = places->len;
    while (at > 0 && g_array_index(places, guint, at - 1) > place)
      at--;
    if (place != 0 && (at == 0 || g_array_index(places, guint, at - 1) != place))
      g_array_insert_val(places, at, place);
  }
  return places;
}

static gboolean
has_place(const GArray *pattern, guint place)
{
  for (guint i = 0; i < pattern->len; i++)
    if (g_array_index(pattern, guint, i) == place)
      return TRUE;
  return FALSE;
}

/* A twin takes the places of a pattern, as far as nothing stands in the way. */
static void
adopt(HfState *state, guint part, const GArray *pattern)
{
  const HfNet *net = state->net;
  g_autoptr(GArray) mine = pattern_of(state, part);
  for (guint i = net->at_start[part]; i < net->at_start[part + 1]; i++) {
    guint tie = net->at[i], place = net->ties[tie].place[hf_net_side(net, tie, part)];
    if (place == 0 || has_place(mine, place) || !has_place(pattern, place) || !can_add(state, tie))
      continue;
    hf_state_flip(state, tie);
    g_array_append_val(mine, place);
  }
  const guint *on = state->on + net->at_start[part];
  for (guint i = state->n_on[part]; i-- > 0;)
    if (!has_place(pattern, net->ties[on[i]].place[hf_net_side(net, on[i], part)]))
      drop(state, on[i], FALSE);
}

typedef struct {
  GArray *places;
  guint count;
} Pattern;

/* Of as many places each; none at all have no data to compare. */
static gint
places_compare(const GArray *a, const GArray *b)
{
  return a->len == 0 ? 0 : memcmp(a->data, b->data, a->len * sizeof(guint));
}

static gint
pattern_compare(gconstpointer p, gconstpointer q)
{
  const Pattern *a = p, *b = q;
  if (a->count != b->count)
    return a->count > b->count ? -1 : 1;
  if (a->places->len != b->places->len)
    return a->places->len < b->places->len ? -1 : 1;
  return places_compare(a->places, b->places);
}

static void
pattern_clear(gpointer data)
{
  g_array_unref(((Pattern *)data)->places);
}

/* What the twins have, the commonest first. */
static GArray *
patterns_of(const HfState *state, const guint *twins, guint n)
{
  GArray *patterns = g_array_new(FALSE, FALSE, sizeof(Pattern));
  g_array_set_clear_func(patterns, pattern_clear);
  for (guint i = 0; i < n; i++) {
    Pattern mine = {pattern_of(state, twins[i]), 1};
    gboolean known = FALSE;
    for (guint k = 0; k < MIN(patterns->len, 64) && !known; k++) {
      Pattern *pattern = &g_array_index(patterns, Pattern, k);
      known = pattern->places->len == mine.places->len &&
              places_compare(pattern->places, mine.places) == 0;
      pattern->count += known ? 1 : 0;
    }
    if (known || patterns->len >= 64)
      g_array_unref(mine.places);
    else
      g_array_append_val(patterns, mine);
  }
  g_array_sort(patterns, pattern_compare);
  return patterns;
}

static void
tie_alike(HfState *state, const guint *twins, guint n)
{
  g_autoptr(GArray) patterns = patterns_of(state, twins, n);
  for (guint k = 0; k < MIN(patterns->len, PATTERNS); k++) {
    HfChoiceKey before = state->key;
    guint length = state->journal->len;
    for (guint i = 0; i < n; i++)
      if (state->held[twins[i]])
        adopt(state, twins[i], g_array_index(patterns, Pattern, k).places);
    if (!hf_choice_key_less(state->key, before))
      hf_state_undo(state, length);
  }
}

typedef struct {
  guint class, part;
} Twin;

static gint
twin_compare(gconstpointer p, gconstpointer q)
{
  const Twin *a = p, *b = q;
  if (a->class != b->class)
    return a->class < b->class ? -1 : 1;
  return a->part < b->part ? -1 : a->part > b->part;
}

static void
tie_classes_alike(HfState *state)
{
  const HfNet *net = state->net;
  g_autofree Twin *twins = g_new(Twin, net->n + 1);
  g_autofree guint *parts = g_new(guint, net->n + 1);
  guint n = 0;
  for (guint p = 1; p <= net->n && net->weights.alike > 0; p++)
    if (net->class_sizes[p] > 1)
      twins[n++] = (Twin){net->needs[p].twins, p};
  qsort(twins, n, sizeof *twins, twin_compare);
  for (guint i = 0, end; i < n; i = end) {
    for (end = i; end < n && twins[end].class == twins[i].class; end++)
      parts[end] = twins[end].part;
    tie_alike(state, parts + i, end - i);
  }
}

/* What the journal says has changed. */
static void
note_fresh(const HfState *state, gboolean *fresh)
{
  memset(fresh, 0, (state->net->n + 1) * sizeof *fresh);
  for (guint i = 0; i < state->journal->len; i++) {
    guint note = g_array_index(state->journal, guint, i);
    for (guint side = 0; side < 2 && (note & HF_STATE_HELD) == 0; side++)
      fresh[state->net->ties[note].part[side]] = TRUE;
  }
  fresh[0] = FALSE;
}

void
hf_net_start(const HfNet *net, gboolean *in)
{
  join_all(net, in);
}

/* Steps from where @fresh says that something changed, until none betters the choice. */
static void
descend(HfState *state, gboolean *fresh, const HfCancel *cancel)
{
  for (guint pass = 0; pass < PASSES && hf_cancel_check(cancel, NULL); pass++) {
    HfChoiceKey before = state->key;
    hf_cancel_count(cancel, state->net->n_ties);
    force_each(state, fresh, cancel);
    tie_classes_alike(state);
    if (!hf_choice_key_less(state->key, before))
      break;
    note_fresh(state, fresh);
    hf_state_count(state);
  }
}

/* ---- kicks ----------------------------------------------------------------------------------- */

/* The best choice so far, to go back to. */
typedef struct {
  HfState *state;
  HfChoiceKey key; /* all lacks counted */
  gboolean *in, *fresh;
  const HfCancel *cancel;
} Kicks;

static HfChoiceKey
whole_key(HfState *state)
{
  hf_state_count(state);
  HfChoiceKey key = state->key;
  for (guint p = 1; p <= state->net->n; p++)
    key.lacks += state->held[p] && state->net->needs[p].ties > 1 && !state->both[p];
  return key;
}

/* Kept when it is better than the best, else back to that. */
static gboolean
settle(Kicks *kicks)
{
  HfState *state = kicks->state;
  HfChoiceKey key = whole_key(state);
  gboolean better = hf_choice_key_less(key, kicks->key);
  for (guint t = 0; t < state->net->n_ties; t++)
    if (better)
      kicks->in[t] = state->in[t];
    else if (kicks->in[t] != state->in[t])
      hf_state_flip(state, t);
  if (better)
    kicks->key = key;
  else
    hf_state_count(state);
  return better;
}

/* A tie is taken out and its ends are mended otherwise. Returns: is it sound? */
static gboolean
take_out(HfState *state, guint tie)
{
  guint *ends = state->net->ties[tie].part;
  hf_state_flip(state, tie);
  return mend(state, ends, 2);
}

/* One tie, or two, against what is in: in when it is out, out when it is in, whatever it costs; all
 * about it finds its best place while it stays so. */
static gboolean
kick(Kicks *kicks, guint tie, guint other)
{
  HfState *state = kicks->state;
  gboolean out = state->in[tie] && other == G_MAXUINT;
  state->fixed[tie] = TRUE;
  if (other != G_MAXUINT)
    state->fixed[other] = TRUE;
  gboolean sound = out ? take_out(state, tie) : bring_in(state, tie, other);
  if (sound) {
    note_fresh(state, kicks->fresh);
    hf_state_count(state);
    descend(state, kicks->fresh, kicks->cancel);
  } else
    hf_state_undo(state, 0);
  state->fixed[tie] = FALSE;
  if (other != G_MAXUINT)
    state->fixed[other] = FALSE;
  return sound && settle(kicks);
}

/* The likeliest pairs of each part that needs two. Returns: did any help? */
static gboolean
kick_pairs(Kicks *kicks)
{
  const HfNet *net = kicks->state->net;
  gboolean helped = FALSE;
  for (guint p = 1; p <= net->n; p++) {
    if (net->needs[p].ties < 2 || !kicks->state->held[p])
      continue;
    Pairs pairs = pairs_of(kicks->state, p, G_MAXINT64, KICKED);
    for (guint i = 0; i < pairs.n; i++)
      helped = kick(kicks, pairs.pair[i][0], pairs.pair[i][1]) || helped;
  }
  return helped;
}

/* Every tie in turn, until none of them helps or @most have been kicked. */
static void
kick_all(HfState *state, guint most, const HfCancel *cancel)
{
  guint n = state->net->n_ties;
  g_autofree gboolean *fresh = g_new0(gboolean, state->net->n + 1);
  Kicks kicks = {state, whole_key(state), NULL, fresh, cancel};
  g_autofree gboolean *in = kicks.in = g_memdup2(state->in, (n + 1) * sizeof *in);
  guint idle = 0, done = 0;
  for (guint t = 0; n > 0 && done < most && hf_cancel_check(cancel, NULL);
       t = (t + 1) % n, done++) {
    idle = kick(&kicks, t, G_MAXUINT) ? 0 : idle + 1;
    if (idle < n)
      continue;
    if (!kick_pairs(&kicks))
      break;
    done += KICKED * state->net->n;
    idle = 0;
  }
}

void
hf_net_search(const HfNet *net, gboolean *in, const HfCancel *cancel)
{
  g_autoptr(HfState) state = hf_state_new(net, in);
  for (guint p = 1; p <= net->n; p++)
    if (state->held[p])
      supply(state, p, 0);
  supply_both(state);
  g_autofree gboolean *fresh = g_new0(gboolean, net->n + 1);
  for (guint p = 0; p <= net->n; p++)
    fresh[p] = p > 0;
  descend(state, fresh, cancel);
  kick_all(state, KICKS / MAX(net->n_ties, 1), cancel);
}
