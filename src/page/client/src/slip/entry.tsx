// SPDX-License-Identifier: GPL-3.0-or-later
// One entry of the slip: its sentence, and behind "more" what else can be said and done with it.
import { effect, signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import * as store from "../store";
import { measure, sizeOf } from "../figures";
import { anotherPlace } from "./commit";
import { doubled, hangers, without } from "./arrange";
import { LineNumber, carrying, moveTo, told } from "./line-number";
import type { Entry } from "./names";
import { groupsAround } from "./chosen";
import { entriesOf } from "./names";
import { isUnder, join } from "./path";
import { isOf } from "./schema";
import type { Schema } from "./schema";
import { called, sentenceOf } from "./sentences";
import type { Value } from "./sentences";
import { Troubles, Words, values } from "./sentence";
import { ValueWord, wanted } from "./value";

/** Which entry is unfolded; -1: none. The head is a string. */
export const unfolded = signal<number | string>(-1);

const WHERE = new Set(["on", "at", "above", "below", "left of", "right of", "gap", "shift", "turn"]);
const FONT = new Set(["style", "file", "axes", "features"]);

/** What could be said and isn't, as words to be picked; what each means is told once it is picked. */
export function Unsaid({ of }: { of: Value[] }) {
  const groups: [string, Value[]][] = [
    ["It could also say", of.filter((it) => !WHERE.has(it.field.key) && !FONT.has(it.field.key))],
    ["where it stands", of.filter((it) => WHERE.has(it.field.key))],
    ["of its font", of.filter((it) => FONT.has(it.field.key))],
  ];
  return (
    <>
      {groups.filter(([, values]) => values.length > 0).map(([title, values]) => (
        <div key={title} class="unsaid-list">
          <span>{title}: </span>
          {values.map((value, i) => (
            <span key={value.path}>{i > 0 ? ", " : ""}<ValueWord value={value} called={value.field.label} /></span>
          ))}.
        </div>
      ))}
    </>
  );
}

export function MoreWord({ which, what }: { which: number | string; what: string }) {
  const open = unfolded.value === which;
  return (
    <button type="button" class="word more" aria-expanded={open} aria-label={`${open ? "less" : "more"} about ${what}`} onClick={() => (unfolded.value = open ? -1 : which)}>
      {open ? "less" : "more"}
    </button>
  );
}

effect(() => {
  void store.folded.value;
  unfolded.value = -1;
});

const asking = signal<number>(-1);

function Deeds({ entry, count }: { entry: Entry; count: number }) {
  const state = store.state.value;
  const tree = store.tree.value;
  if (state === null) return null;
  const schema = store.schema.value;
  const needy = hangers(tree, entry, schema);
  const move = (to: number): void => {
    unfolded.value = to;
    void moveTo(entry.index, to, count);
  };
  const away = (all: Entry[]): void => {
    unfolded.value = -1;
    asking.value = -1;
    void store.edit(without(tree, all)).then(() => document.getElementById("something-more")?.focus());
  };
  const another = (): void => {
    wanted.value = { path: join("entries", entry.index + 1, entry.kind, firstKey(entry)), open: false };
    void store.edit(doubled(state, tree, entry, store.view.value, schema)).then(() => (unfolded.value = -1));
  };
  if (asking.value === entry.index)
    return (
      <div class="deeds" role="group" aria-label="take it away?">
        <p>{needy.map(called).join(", ")} {needy.length === 1 ? "needs" : "need"} it.</p>
        <button type="button" class="word" onClick={() => away([entry, ...needy])}>take all of it away</button>
        <button type="button" class="word" onClick={() => (asking.value = -1)}>keep it</button>
      </div>
    );
  return (
    <div class="deeds" role="group" aria-label={`with ${called(entry)}`}>
      <button type="button" class="word" disabled={entry.index === 0} onClick={() => move(entry.index - 1)}>move up</button>
      <button type="button" class="word" disabled={entry.index >= count - 1} onClick={() => move(entry.index + 1)}>move down</button>
      <button type="button" class="word" onClick={another}>make another</button>
      {isOf(schema, entry.kind, "pin", "rule") || entry.body["band"] !== undefined && isOf(schema, entry.kind, "lettering") ? null : (
        <button type="button" class="word" onClick={() => void store.edit(anotherPlace(tree, join(entry.path, "at")))}>at one more place</button>
      )}
      <button type="button" class="word" onClick={() => (needy.length === 0 ? away([entry]) : (asking.value = entry.index))}>take it away</button>
    </div>
  );
}

const firstKey = (entry: Entry): string => isOf(store.schema.value, entry.kind, "lettering") ? "text" : Object.keys(entry.body).find((key) => key !== "name") ?? "name";

/** What was worked out for it: "letter height 62 mm". */
function Solved({ index }: { index: number }) {
  const solved = (store.view.value?.solved ?? []).filter((it) => it.entry === index);
  if (solved.length === 0) return null;
  const said = solved.map((it) => `${it.what} ${typeof it.value === "number" ? measure(it.value, it.unit ?? "mm") : it.value}`);
  return <span class="soft solved"> ({said.join(", ")})</span>;
}

/** How large it is, and how far from the nearest edge: said where the pointer rests and to readers, so that no line
 *  moves under a click. */
function saidSize(index: number): string {
  const entry = (store.view.value?.entries ?? []).find((it) => it.index === index);
  return entry === undefined ? "" : sizeOf(entry);
}

export function EntryLine({ entry, count, schema }: { entry: Entry; count: number; schema: Schema }) {
  const sentence = sentenceOf(entry, schema);
  const line = useRef<HTMLLIElement>(null);
  const chosen = store.selection.value.entry === entry.index;
  const around = groupsAround.value.includes(entry.index);
  const stops = (store.view.value?.findings ?? []).filter((it) => it.gravity === "stop" && it.entries.includes(entry.index)).length;

  useEffect(() => {
    // chosen on the sign: brought into view, unless one is in it already
    if (chosen && line.current !== null && !line.current.contains(document.activeElement) && window.matchMedia("(min-width: 64em)").matches)
      line.current.scrollIntoView({ block: "nearest" });
  }, [chosen]);

  return (
    <li ref={line} class={`slip-entry${chosen ? " chosen" : ""}${around ? " around" : ""}${stops > 0 ? " stopped" : ""}${carrying(entry.index, count)}`} data-entry={entry.index}
      onFocusIn={() => {
        if (store.selection.peek().entry !== entry.index) store.select({ entry: entry.index });
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape") store.select({});
      }}>
      <LineNumber index={entry.index} count={count} what={called(entry)} />
      {stops > 0 ? <span class="unseen">{stops === 1 ? "one stop here. " : `${stops} stops here. `}</span> : null}
      <div class="sentence" title={saidSize(entry.index) || undefined}>
        <Words pieces={sentence.pieces} /> <Solved index={entry.index} />{" "}
        <MoreWord which={entry.index} what={called(entry)} />
        {chosen ? <span class="unseen">{saidSize(entry.index)}</span> : null}
      </div>
      <Troubles of={values(sentence.pieces)} whole={(path) => isUnder(path, `entries[${entry.index}]`)} />
      {unfolded.value === entry.index ? (
        <div class="unfold">
          <Deeds entry={entry} count={count} />
          <Unsaid of={sentence.unsaid} />
        </div>
      ) : null}
    </li>
  );
}

export function Entries({ schema }: { schema: Schema }) {
  const entries = entriesOf(store.tree.value);
  return (
    <>
      <ol class="entries">
        {entries.map((entry) => <EntryLine key={entry.path} entry={entry} count={entries.length} schema={schema} />)}
      </ol>
      <p class="unseen" aria-live="polite">{told}</p>
    </>
  );
}
