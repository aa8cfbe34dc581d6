// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong, as sentences, each with its cures.
import * as store from "../store";

export function Findings() {
  return <ul>{(store.view.value?.findings ?? []).map((it) => <li key={it.id}>{it.text}</li>)}</ul>;
}
