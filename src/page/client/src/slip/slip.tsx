// SPDX-License-Identifier: GPL-3.0-or-later
// The order slip: the recipe as sentences in which every value can be changed.
import * as store from "../store";

export function Slip() {
  return <div class="card slip"><h1>{store.state.value?.name ?? "holdfast"}</h1></div>;
}
