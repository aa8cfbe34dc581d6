// SPDX-License-Identifier: GPL-3.0-or-later
// The page: a sheet of paper with the sign, the verdict, what is wrong, and the order slip.
import { render } from "preact";
import { effect } from "@preact/signals";
import * as store from "./store";
import { SignView } from "./sign/sign";
import { VerdictLine } from "./findings/verdict";
import { Findings } from "./findings/findings";
import { Coupon } from "./findings/coupon";
import { Slip } from "./slip/slip";
import { FileText } from "./frame/text";
import { Gallery } from "./frame/gallery";
import { Outputs } from "./frame/outputs";
import { AsideNotice, DiskNotice, LineNotice, keys } from "./frame/keep";
import { DropVeil, listenForFonts } from "./frame/font-drop";
import { Foot } from "./frame/foot";

function Bench() {
  return (
    <main class={`bench${store.showText.value ? " with-text" : ""}`}>
      <div class="side-sign">
        <section class="slot-sign" aria-label="the sign"><SignView /></section>
        <section class="slot-verdict" aria-label="the verdict"><VerdictLine /></section>
        <section class="slot-findings" aria-label="what is wrong"><Findings /><Coupon /></section>
      </div>
      <div class="side-slip">
        <section class="slot-slip" aria-label="the order slip"><Slip /></section>
        {store.showText.value ? <section class="slot-text" aria-label="the file"><FileText /></section> : null}
      </div>
      <section class="slot-out" aria-label="what comes out"><Outputs /></section>
    </main>
  );
}

function Page() {
  const state = store.state.value;
  const gallery = store.gallery.value || (state !== null && state.file === null);
  return (
    <div class="page">
      <LineNotice />
      <DiskNotice />
      <AsideNotice />
      {state === null && store.trouble.value !== null ? <p role="alert" class="trouble whole">{store.trouble.value.what}</p> : null}
      {state === null ? null : gallery ? <Gallery /> : <Bench />}
      {state === null ? null : <Foot />}
      <DropVeil />
    </div>
  );
}

effect(() => {
  const root = document.documentElement;
  if (store.theme.value === "by day") delete root.dataset["theme"];
  else root.dataset["theme"] = store.theme.value;
});
effect(() => {
  const state = store.state.value;
  document.title = state === null || state.name === null ? "holdfast" : `${state.saved ? "" : "• "}${state.name}, holdfast`;
});

const root = document.getElementById("page");
if (root !== null) {
  render(<Page />, root);
  store.begin();
  addEventListener("keydown", keys);
  listenForFonts();
}
