// SPDX-License-Identifier: GPL-3.0-or-later
// Answers and events come on two lines, so one may overtake the other.
import type { State } from "./api";

/**
 * The state to believe. The server counts what it tells: what was told earlier and comes later is old.
 *
 *   server    answer 20 ── the file was changed ── event 21
 *   page                                            event 21: changed ── answer 20: as it was
 *
 * Of one revision a mistake can only become known, never go away: an answer that
 * was sent before the run found it must not make the page forget it.
 *
 *   server    answer 9 ── run 9: no such font ── event 9, error
 *   page                                          event 9, error ── answer 9, none
 */
export function believe(old: State | null, next: State): State {
  if (old === null) return next;
  if ((next.told ?? 0) < (old.told ?? 0)) return old;
  if (next.revision > old.revision) return next;
  if (next.revision < old.revision) return old;
  return next.error === null && old.error !== null ? { ...next, error: old.error } : next;
}
