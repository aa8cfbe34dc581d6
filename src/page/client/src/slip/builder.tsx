// SPDX-License-Identifier: GPL-3.0-or-later
// "and something more": a new entry, picked by its kind or said in words.
import { useSignal } from "@preact/signals";
import { useLayoutEffect, useId, useRef } from "preact/hooks";
import * as store from "../store";
import { useCard } from "./card";
import { entriesOf } from "./names";
import { isTable, join, say, at } from "./path";
import { asItem, understand } from "./phrase";
import type { Phrase } from "./phrase";
import { called, plain, sentenceOf } from "./sentences";
import { isOf } from "./schema";
import type { EntryKind, Schema } from "./schema";
import { wanted } from "./value";

export function add(phrase: Phrase, schema: Schema): void {
  const tree = store.tree.value;
  const list = at(tree, "entries");
  const index = Array.isArray(list) ? list.length : 0;
  const key = schema.entries.get(phrase.kind)?.first ?? "name";
  const first = phrase.body[key] === undefined ? Object.keys(phrase.body).find((it) => it !== "name") : key;
  if (first !== undefined) wanted.value = { path: join("entries", index, phrase.kind, first) + (Array.isArray(phrase.body[first]) && first !== "text" ? "[0]" : ""), open: false };
  const edits = Array.isArray(list) && list.length > 0 ? [{ do: "insert" as const, path: "entries", value: asItem(phrase) }]
    : say(tree, "entries", [{ [phrase.kind]: phrase.body }]);
  void store.edit(edits).then((problem) => {
    if (problem === null) store.select({ entry: index });
  });
}

export function Builder({ schema }: { schema: Schema }) {
  const open = useSignal(false);
  const text = useSignal("");
  const active = useSignal(-1);
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const card = useCard();
  const button = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    if (open.value) input.current?.focus();
  }, [open.value]);

  const tree = store.tree.value;
  const phrase = text.value.trim() === "" ? null : understand(text.value, tree, schema);
  const kinds = [...schema.entries.values()].filter((it) => text.value.trim() === "" || it.called.includes(text.value.trim().toLowerCase()));
  const preview = phrase === null ? "" : plain(sentenceOf({ index: entriesOf(tree).length, kind: phrase.kind, name: phrase.kind, named: false, body: phrase.body, path: `entries[0].${phrase.kind}` }, schema));

  const close = (): void => {
    open.value = false;
    text.value = "";
    active.value = -1;
  };
  const take = (kind: EntryKind | undefined): void => {
    const it = kind === undefined ? phrase : understand(kind.called, tree, schema);
    if (it === null) return;
    close();
    add(it, schema);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === "Escape") {
      event.preventDefault();
      close();
      setTimeout(() => button.current?.focus());
    } else if (event.key === "Enter") {
      event.preventDefault();
      take(kinds[active.value] ?? (phrase === null ? kinds[0] : undefined));
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && kinds.length > 0) {
      event.preventDefault();
      const by = event.key === "ArrowDown" ? 1 : -1;
      active.value = (Math.max(active.value, by > 0 ? -1 : 0) + by + kinds.length) % kinds.length;
    }
  };

  if (!open.value)
    return (
      <p class="builder">
        <button ref={button} id="something-more" type="button" class="word more" onClick={() => (open.value = true)}>and something more …</button>
      </p>
    );
  return (
    <div class="builder">
      <label for={`${id}-field`}>and </label>
      <input
        id={`${id}-field`} ref={input} class="typing" role="combobox" aria-expanded={kinds.length > 0} aria-controls={`${id}-list`} aria-autocomplete="list" autocomplete="off"
        {...(active.value >= 0 ? { "aria-activedescendant": `${id}-${active.value}` } : {})} aria-describedby={`${id}-help`}
        placeholder="a hole of 6 mm at the top" value={text.value} onKeyDown={onKeyDown}
        onInput={(event) => {
          text.value = event.currentTarget.value;
          active.value = -1;
        }}
        onBlur={close}
      />
      <div class="choices card" ref={card}>
        <p id={`${id}-help`} class="help" aria-live="polite">
          {phrase === null ? "Say it, or pick: what isn’t said is guessed from the sign and can be changed." : `Enter: ${preview}${phrase.unread.length === 0 ? "" : ` Not understood: ${phrase.unread.join(", ")}.`}`}
        </p>
        {kinds.length === 0 ? null : (
          <ul id={`${id}-list`} role="listbox" aria-label="kinds of entry">
            {kinds.map((kind, i) => (
              <li key={kind.word} id={`${id}-${i}`} role="option" aria-selected={i === active.value} onPointerDown={(event) => event.preventDefault()} onClick={() => take(kind)}>
                <span>{kind.called}</span>
                <small>{kind.about}</small>
              </li>
            ))}
          </ul>
        )}
      </div>
    </div>
  );
}

/** What a dropped font can be given to. */
export const letterings = (): { path: string; called: string }[] =>
  entriesOf(store.tree.value).filter((it) => isOf(store.schema.value, it.kind, "lettering") || isTable(it.body["font"]))
    .map((it) => ({ path: join(it.path, "font"), called: called(it) }));
