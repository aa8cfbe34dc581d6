// SPDX-License-Identifier: GPL-3.0-or-later
// Answers and events come on two lines, so one may overtake the other.
import type { State } from "./api";

/**
 * The state to believe. Of one revision a mistake can only become known, never go away: an answer that
 * was sent before the run found it must not make the page forget it.
 *
 *   server    answer 9 ── run 9: no such font ── event 9, error
 *   page                                          event 9, error ── answer 9, none
 */
export function believe(old: State | null, next: State): State {
  if (old === null || next.revision > old.revision) return next;
  if (next.revision < old.revision) return old;
  return next.error === null && old.error !== null ? { ...next, error: old.error } : next;
}
