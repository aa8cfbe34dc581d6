// SPDX-License-Identifier: GPL-3.0-or-later
// The verdict: a stamp and one plain sentence.
import * as store from "../store";

export function VerdictLine() {
  const verdict = store.verdict.value;
  return <p aria-live="polite">{verdict?.sentence ?? ""}</p>;
}
