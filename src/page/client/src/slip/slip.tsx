// SPDX-License-Identifier: GPL-3.0-or-later
// The order slip: the recipe as sentences in which every value can be changed.
import * as store from "../store";
import { Builder } from "./builder";
import { Entries } from "./entry";
import { HeadLines } from "./head";
import { KeepWords } from "../frame/keep";
import { FontNotice } from "../frame/font-drop";
import { said } from "./value";

/** What the core says of the recipe as a whole, or of a place that stands in no sentence. */
function WholeTrouble() {
  const state = store.state.value;
  const error = store.mistakes.value.find((it) => (it.path ?? "") === "" || state?.tree === null) ?? null;
  const refused = store.trouble.value;
  const shown = refused ?? error;
  if (shown === null) return null;
  const place = (shown.line ?? 0) === 0 ? "" : `, line ${shown.line}`;
  return (
    <p role="alert" class="trouble whole">
      {said(shown)}{place}.{" "}
      {store.showText.value || state?.tree !== null ? null : <button type="button" class="word" onClick={() => (store.showText.value = true)}>show the file</button>}
      {refused === null ? null : <button type="button" class="word" onClick={() => (store.trouble.value = null)}>I see</button>}
    </p>
  );
}

export function Slip() {
  const known = store.schema.value;
  if (store.state.value === null || store.tree.value === null || known === null)
    return <div class="slip card"><WholeTrouble /></div>;
  return (
    <div class="slip card">
      <KeepWords />
      <HeadLines schema={known} />
      <WholeTrouble />
      <FontNotice />
      <Entries schema={known} />
      <Builder schema={known} />
    </div>
  );
}
