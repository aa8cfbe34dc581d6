// SPDX-License-Identifier: GPL-3.0-or-later
// The head of the slip: what the sign is called, for whom, of what, how it is held; and the lines for
// limits of its own and for cautions that somebody has looked at.
import { useSignal } from "@preact/signals";
import * as store from "../store";
import { at, isTable, say, str } from "./path";
import { ownField } from "./schema";
import type { Schema } from "./schema";
import { headOf } from "./sentences";
import type { Value } from "./sentences";
import { MoreWord, Unsaid, unfolded } from "./entry";
import { Troubles, Words, values } from "./sentence";
import { ValueWord } from "./value";

export function HeadLines({ schema }: { schema: Schema }) {
  const tree = store.tree.value;
  const head = headOf(tree, schema);
  const open = unfolded.value === "head";
  const rest = [...head.order.unsaid, ...head.metal.unsaid, ...head.use.unsaid];
  const all = [...(head.title === null ? [] : [head.title]), ...[head.order, head.metal, head.use].flatMap((it) => values(it.pieces)), ...(open ? [] : rest)];
  return (
    <header class="slip-head">
      <h1>{head.title === null ? store.state.value?.name : <ValueWord value={head.title} />}</h1>
      {head.order.pieces.length === 0 ? null : <div class="sentence order"><Words pieces={head.order.pieces} /></div>}
      <div class="sentence"><Words pieces={head.metal.pieces} /> <Words pieces={head.use.pieces} /> <MoreWord which="head" what="the sign" /></div>
      <Limits tree={tree} />
      <Accepted tree={tree} />
      <Troubles of={all} whole={(path) => path !== "" && !/^entries\[/.test(path)} />
      {open ? (
        <div class="unfold">
          <Unsaid of={rest} />
          <AddLimit />
          <Accept />
        </div>
      ) : null}
    </header>
  );
}

const figure = (path: string, raw: string, label: string, help: string, kind: "limit" | "text"): Value => ({
  path, raw, shown: raw, label,
  field: ownField(label, kind, help),
});

function Limits({ tree }: { tree: typeof store.tree.value }) {
  const limits = at(tree, "limits");
  if (!isTable(limits) || Object.keys(limits).length === 0) return null;
  return (
    <div class="sentence">
      Held against limits of its own:{" "}
      {Object.entries(limits).map(([key, raw], i) => (
        <span key={key}>{i > 0 ? ", " : ""}{key} <ValueWord value={figure(`limits.${key}`, str(raw), `limit for ${key}`, "a figure with its unit; yours comes before common practice", "limit")} /></span>
      ))}.
    </div>
  );
}

function AddLimit() {
  const law = useSignal("");
  const value = useSignal("");
  const known = [...new Set((store.view.value?.findings ?? []).filter((it) => it.limit !== null).map((it) => it.law))];
  return (
    <form class="line-form" onSubmit={(event) => {
      event.preventDefault();
      if (law.value === "" || value.value === "") return;
      void store.edit(say(store.tree.value, `limits.${law.value.trim()}`, value.value.trim())).then((problem) => {
        if (problem === null) law.value = value.value = "";
      });
    }}>
      <label>A limit of its own for <input list="laws" value={law.value} onInput={(event) => (law.value = event.currentTarget.value)} placeholder="thin-web" /></label>
      <datalist id="laws">{known.map((key) => <option key={key} value={key} />)}</datalist>
      <label> of <input size={8} value={value.value} onInput={(event) => (value.value = event.currentTarget.value)} placeholder="3 mm" /></label>{" "}
      <button type="submit" class="word">set it</button>
    </form>
  );
}

function Accepted({ tree }: { tree: typeof store.tree.value }) {
  const rows = at(tree, "accept");
  if (!Array.isArray(rows) || rows.length === 0) return null;
  return (
    <ul class="accepted-list">
      {rows.map((row, i) => {
        if (!isTable(row)) return null;
        const part = (key: string, label: string, help: string): Value => figure(`accept[${i}].${key}`, str(row[key]), label, help, "text");
        return (
          <li key={i} class="sentence">
            Accepted: <ValueWord value={part("finding", "key of the caution", "key of a caution")} />
            {row["of"] === undefined ? null : <> of <ValueWord value={part("of", "whose caution", "only where this entry is concerned")} /></>}
            , because “<ValueWord value={part("reason", "reason", "stays in report and proof with your name for it")} />”.{" "}
            <button type="button" class="word more" onClick={() => void store.edit(rows.length === 1 ? [{ do: "remove", path: "accept" }] : [{ do: "remove", path: `accept[${i}]` }])}>no longer</button>
          </li>
        );
      })}
    </ul>
  );
}

/** A caution that is there now, and why it may stay. */
function Accept() {
  const which = useSignal("");
  const reason = useSignal("");
  const open = (store.view.value?.findings ?? []).filter((it) => it.gravity === "caution" && it.accepted === null);
  if (open.length === 0) return null;
  return (
    <form class="line-form" onSubmit={(event) => {
      event.preventDefault();
      const finding = open.find((it) => String(it.id) === which.value) ?? open[0];
      if (finding === undefined || reason.value.trim() === "") return;
      const tree = store.tree.value;
      const row = { finding: finding.law, reason: reason.value.trim() };
      const rows = at(tree, "accept");
      void store.edit(Array.isArray(rows) && rows.length > 0 ? [{ do: "insert", path: "accept", value: JSON.stringify(row) }] : say(tree, "accept", [row])).then((problem) => {
        if (problem === null) reason.value = "";
      });
    }}>
      <label>Accept that <select value={which.value} onChange={(event) => (which.value = event.currentTarget.value)}>
        {open.map((it) => <option key={it.id} value={it.id}>{it.text}</option>)}
      </select></label>
      <label> because <input value={reason.value} onInput={(event) => (reason.value = event.currentTarget.value)} placeholder="it hangs above 3 m" /></label>{" "}
      <button type="submit" class="word">accept it</button>
    </form>
  );
}
