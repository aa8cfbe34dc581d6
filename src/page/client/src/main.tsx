// SPDX-License-Identifier: GPL-3.0-or-later
// The page: a sheet of paper with the sign, the verdict, what is wrong, and the order slip.
import { render } from "preact";
import { effect } from "@preact/signals";
import * as store from "./store";
import { SignView } from "./sign/sign";
import { VerdictLine } from "./findings/verdict";
import { Findings } from "./findings/findings";
import { Slip } from "./slip/slip";

function Page() {
  return (
    <div class="page">
      <main class="bench">
        <section class="slot-sign" aria-label="the sign"><SignView /></section>
        <section class="slot-verdict" aria-label="the verdict"><VerdictLine /></section>
        <section class="slot-findings" aria-label="what is wrong"><Findings /></section>
        <section class="slot-slip" aria-label="the order slip"><Slip /></section>
      </main>
    </div>
  );
}

effect(() => {
  const root = document.documentElement;
  if (store.theme.value === "by day") delete root.dataset.theme;
  else root.dataset.theme = store.theme.value;
});

const root = document.getElementById("page");
if (root !== null) {
  render(<Page />, root);
  store.begin();
}
