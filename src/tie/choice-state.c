/* SPDX-License-Identifier: GPL-3.0-or-later
 * choice-state.c - a choice that is changed tie by tie.
 *
 *   flip a tie:  its cost, its two parts (what they lack, how it stands), its seat in the row of
 *                twins, who is held: each goes on from what it was; the journal takes all back
 *
 * Invariant: after every step `key` equals hf_net_key() of `in` (tested at random steps), and
 * undoing to a length restores every field. One flip costs the ties of its two parts; whether a
 * part is still held is walked from it, WALK steps at most, and out of reach counts as not held:
 * that errs towards one tie too many, never towards a part in the air.
 */
#include "tie/choice-state-private.h"
#include <string.h>

#define WALK 150 /* steps; a part that is farther off counts as out of reach, which errs safely */

/* One twin's places, and the same place of all twins of a class: looked up by (who, place). */
static guint
numbered(GHashTable *known, guint who, guint place, guint *count)
{
  guint64 key = (guint64)who << 32 | place;
  gpointer value = g_hash_table_lookup(known, &key);
  if (value == NULL) {
    value = GUINT_TO_POINTER(++*count);
    g_hash_table_insert(known, g_memdup2(&key, sizeof key), value);
  }
  return GPOINTER_TO_UINT(value) - 1;
}

static void
seat_ties(HfState *state)
{
  const HfNet *net = state->net;
  g_autoptr(GHashTable) seats = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr(GHashTable) rows = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
  guint n_seats = 0, n_rows = 0, most = 2 * net->n_ties + 1;
  state->seat_ties = g_new0(guint, most);
  state->seat_row = g_new0(guint, most);
  state->row_taken = g_new0(guint, most);
  state->row_size = g_new0(guint, most);
  for (guint side = 0; side < 2; side++)
    state->seat[side] = g_new(guint, most);
  for (guint t = 0; t < net->n_ties; t++)
    for (guint side = 0; side < 2; side++) {
      guint part = net->ties[t].part[side], place = net->ties[t].place[side];
      guint class = part == 0 ? 0 : net->needs[part].twins;
      state->seat[side][t] = G_MAXUINT;
      if (class == 0 || net->weights.alike <= 0 || net->class_sizes[part] < 2)
        continue;
      /* without a place each tie has a seat and a row of its own: taken, it differs by one */
      guint seat = place == 0 ? n_seats++ : numbered(seats, part, place, &n_seats);
      guint row = place == 0 ? n_rows++ : numbered(rows, class, place, &n_rows);
      state->seat[side][t] = seat;
      state->seat_row[seat] = row;
      state->row_size[row] = place == 0 ? 2 : net->class_sizes[part];
    }
}

HfState *
hf_state_new(const HfNet *net, gboolean *in)
{
  HfState *state = g_new0(HfState, 1);
  guint n = net->n + 1, m = net->n_ties + 1;
  state->net = net;
  state->in = in;
  state->fixed = g_new0(gboolean, m);
  state->on = g_new0(guint, 2 * m);
  state->n_on = g_new0(guint, n);
  state->lacks = g_new0(guint, n);
  state->terms = g_new0(gint64, n);
  state->held = g_new0(gboolean, n);
  state->both = g_new0(gboolean, n);
  state->level = g_new0(guint, n);
  state->mark = g_new0(guint, n);
  state->on_way = g_new0(guint, n);
  state->to = g_new0(guint, 2 * m);
  state->stack = g_new0(guint, 2 * m + n);
  state->came = g_new0(guint, n);
  state->seen = g_new0(guint, n + 2 * WALK);
  state->journal = g_array_new(FALSE, FALSE, sizeof(guint));
  state->key.unheld = net->n;
  seat_ties(state);
  for (guint p = 1; p <= net->n; p++)
    state->any_both = state->any_both || net->needs[p].ties > 1;
  for (guint t = 0; t < net->n_ties; t++)
    if (in[t]) {
      in[t] = FALSE;
      hf_state_flip(state, t);
    }
  hf_state_count(state);
  return state;
}

void
hf_state_free(HfState *state)
{
  if (state == NULL)
    return;
  void *arrays[] = {state->on,       state->to,        state->n_on,     state->lacks,
                    state->terms,    state->held,      state->both,     state->seat[0],
                    state->seat[1],  state->seat_ties, state->seat_row, state->row_taken,
                    state->row_size, state->level,     state->mark,     state->on_way,
                    state->stack,    state->came,      state->seen,     state->fixed};
  for (guint i = 0; i < G_N_ELEMENTS(arrays); i++)
    g_free(arrays[i]);
  g_array_unref(state->journal);
  g_free(state);
}

/* What a part lacks and costs, after its ties have changed. */
static void
refresh(HfState *state, guint part)
{
  const guint *on = state->on + state->net->at_start[part];
  gboolean spread = FALSE;
  guint lacks = 0;
  gint64 terms = 0;
  if (state->held[part]) {
    lacks = hf_net_lacks(state->net, part, on, state->n_on[part], &spread);
    terms = hf_net_terms(state->net, part, on, state->n_on[part]);
  }
  lacks += (guint)spread;
  state->key.lacks += lacks - state->lacks[part];
  state->key.cost += terms - state->terms[part];
  state->lacks[part] = lacks;
  state->terms[part] = terms;
}

static void
set_on(HfState *state, guint part, guint tie, gboolean in)
{
  guint start = state->net->at_start[part], *on = state->on + start, *to = state->to + start;
  guint *n = &state->n_on[part], i = 0;
  if (in) {
    for (i = (*n)++; i > 0 && on[i - 1] > tie; i--)
      on[i] = on[i - 1], to[i] = to[i - 1];
    on[i] = tie;
    to[i] = hf_net_other(state->net, tie, part);
  } else {
    while (on[i] != tie)
      i++;
    for (--*n; i < *n; i++)
      on[i] = on[i + 1], to[i] = to[i + 1];
  }
  refresh(state, part);
}

static void
set_seat(HfState *state, guint seat, gboolean in)
{
  guint row = state->seat_row[seat], *taken = &state->row_taken[row], size = state->row_size[row];
  gint64 before = hf_net_differing(*taken, size);
  if (in ? state->seat_ties[seat]++ == 0 : --state->seat_ties[seat] == 0)
    *taken += in ? 1 : -1u;
  state->key.cost += (gint64)state->net->weights.alike * (hf_net_differing(*taken, size) - before);
}

static void
flip(HfState *state, guint tie)
{
  const HfNetTie *t = &state->net->ties[tie];
  gboolean in = state->in[tie] = !state->in[tie];
  state->key.cost += in ? t->cost : -t->cost;
  for (guint side = 0; side < 2; side++) {
    if (t->part[side] != 0)
      set_on(state, t->part[side], tie, in);
    if (state->seat[side][tie] != G_MAXUINT)
      set_seat(state, state->seat[side][tie], in);
  }
}

void
hf_state_flip(HfState *state, guint tie)
{
  flip(state, tie);
  g_array_append_val(state->journal, tie);
}

static void
hold(HfState *state, guint part, gboolean held)
{
  state->held[part] = held;
  state->key.unheld += held ? -1u : 1;
  refresh(state, part);
}

void
hf_state_hold(HfState *state, guint part)
{
  guint note = part | HF_STATE_HELD;
  hold(state, part, TRUE);
  g_array_append_val(state->journal, note);
}

void
hf_state_undo(HfState *state, guint length)
{
  while (state->journal->len > length) {
    guint note = g_array_index(state->journal, guint, state->journal->len - 1);
    g_array_set_size(state->journal, state->journal->len - 1);
    if ((note & HF_STATE_HELD) != 0)
      hold(state, note & ~HF_STATE_HELD, FALSE);
    else
      flip(state, note);
  }
}

/* Steps from the body, breadth first. */
static void
count_levels(HfState *state)
{
  const HfNet *net = state->net;
  guint head = 0, tail = 0;
  state->stamp++;
  for (guint i = net->at_start[0]; i < net->at_start[1]; i++) {
    guint part = hf_net_other(net, net->at[i], 0);
    if (!state->in[net->at[i]] || state->mark[part] == state->stamp)
      continue;
    state->mark[part] = state->stamp;
    state->level[part] = 1;
    state->stack[tail++] = part;
  }
  while (head < tail) {
    guint part = state->stack[head++];
    for (guint i = 0; i < state->n_on[part]; i++) {
      guint other = state->to[net->at_start[part] + i];
      if (other == 0 || state->mark[other] == state->stamp)
        continue;
      state->mark[other] = state->stamp;
      state->level[other] = state->level[part] + 1;
      state->stack[tail++] = other;
    }
  }
}

void
hf_state_count(HfState *state)
{
  g_autofree gboolean *held = g_new(gboolean, state->net->n + 1);
  hf_net_bridges(state->net, state->in, held, state->both);
  for (guint p = 1; p <= state->net->n; p++) {
    if (held[p] != state->held[p])
      hold(state, p, held[p]);
    state->both[p] = state->both[p] && state->net->needs[p].ties > 1;
  }
  count_levels(state);
  g_array_set_size(state->journal, 0);
}

/* Pushes what lies next to a part and was not seen; what lies nearer to the body is popped first.
 * Returns: the tie to the body; or G_MAXUINT. */
static guint
push_next(HfState *state, guint part, guint *depth)
{
  const guint *on = state->on + state->net->at_start[part];
  const guint *to = state->to + state->net->at_start[part];
  for (guint nearer = 0; nearer < 2; nearer++)
    for (guint i = 0; i < state->n_on[part]; i++) {
      guint tie = on[i], other = to[i];
      if (other == 0)
        return tie;
      if (state->mark[other] == state->stamp ||
          (state->level[other] < state->level[part]) != nearer)
        continue;
      state->mark[other] = state->stamp;
      state->came[other] = tie;
      state->stack[(*depth)++] = other;
    }
  return G_MAXUINT;
}

/* A way from @part to the body. Returns: its last tie, and @ret_last the part that it leaves; or
 * G_MAXUINT: there is none, or none was found within WALK steps. */
static guint
go(HfState *state, guint part, guint *ret_last)
{
  guint depth = 0;
  state->stamp++;
  state->mark[part] = state->stamp;
  state->came[part] = G_MAXUINT;
  state->stack[depth++] = part;
  for (guint step = 0; depth > 0 && step < WALK; step++) {
    *ret_last = state->stack[--depth];
    guint tie = push_next(state, *ret_last, &depth);
    if (tie != G_MAXUINT)
      return tie;
  }
  return G_MAXUINT;
}

gboolean
hf_state_reaches(HfState *state, guint part)
{
  guint last;
  return part == 0 || go(state, part, &last) != G_MAXUINT;
}

/* From a part on, against the first way but not along it, toward the body first; what is come
 * across is added to `seen`. Returns: was the body reached? */
static gboolean
flood(HfState *state, guint part, guint *n_seen)
{
  guint depth = 1;
  state->stack[0] = state->seen[(*n_seen)++] = part;
  state->mark[part] = state->stamp;
  while (depth > 0 && *n_seen < WALK) {
    guint here = state->stack[--depth], n = state->n_on[here];
    guint barred = state->on_way[here] == state->stamp ? state->came[here] : G_MAXUINT;
    const guint *on = state->on + state->net->at_start[here];
    const guint *to = state->to + state->net->at_start[here];
    for (guint k = 0; n > 0 && k < 2 * n; k++) { /* twice over: what lies nearer last */
      guint tie = on[k % n], other = to[k % n];
      if (tie == barred)
        continue;
      if (other == 0)
        return TRUE;
      if (state->mark[other] == state->stamp || (k < n && state->level[other] < state->level[here]))
        continue;
      state->mark[other] = state->stamp;
      state->stack[depth++] = state->seen[(*n_seen)++] = other;
    }
  }
  return FALSE;
}

/* The first way to the body, turned round: `came` leads from each part to the next. */
static gboolean
first_way(HfState *state, guint part)
{
  guint at, tie = go(state, part, &at);
  if (tie == G_MAXUINT)
    return FALSE;
  state->stamp++;
  for (;;) {
    guint before = state->came[at];
    state->on_way[at] = state->stamp;
    state->came[at] = tie;
    if (at == part)
      return TRUE;
    tie = before;
    at = hf_net_other(state->net, tie, at);
  }
}

/* Two ways to the body that share no tie: a flow of two.
 *
 *    part ===>=== cut --->--- y ===>=== body     what the second way can reach before a tie of the
 *      \_________/             \_________/       first that it can't pass hangs on that tie; then
 *                                               it goes on behind the tie
 */
gboolean
hf_state_keeps_both(HfState *state, guint part)
{
  const HfNet *net = state->net;
  guint n_seen = 0;
  if (part == 0 || !state->any_both)
    return TRUE;
  if (!first_way(state, part))
    return FALSE;
  for (guint cut = part; cut != 0;) {
    guint begun = n_seen;
    if (flood(state, cut, &n_seen))
      return TRUE;
    if (n_seen >= WALK)
      return FALSE;
    for (guint i = begun; i < n_seen; i++)
      if (state->both[state->seen[i]])
        return FALSE;
    while (cut != 0 && state->mark[cut] == state->stamp)
      cut = hf_net_other(net, state->came[cut], cut);
  }
  return TRUE;
}
