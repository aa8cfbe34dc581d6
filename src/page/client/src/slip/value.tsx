// SPDX-License-Identifier: GPL-3.0-or-later
// One value on the paper: a word that can be typed over, stepped, or picked.
//
//   reading  ── click, Enter, or a letter ──>  typing  ── Enter, Tab, click elsewhere ──>  reading
//       ↑ ↓ + -  one step                        Escape: as it was
//
// While one types, whatever can be understood goes to the server at once, all of it one undo step;
// what can't waits. What the core refuses keeps standing as it was typed, with the reason under it.
import { signal, useSignal } from "@preact/signals";
import { useId, useLayoutEffect, useRef } from "preact/hooks";
import * as store from "../store";
import * as api from "../api";
import type { Edit, Tree, Trouble } from "../api";
import { stepped, withUnit } from "./amount";
import { useCard } from "./card";
import { editsFor, ripe, typed } from "./commit";
import { besides, fitting, optionsFor } from "./options";
import type { Option } from "./options";
import { isTable, isUnder, parent, say, steps, str, at } from "./path";
import type { Value } from "./sentences";

/** What was typed and could not be taken at all, by path: never lost. */
export const kept = signal<Record<string, { text: string; trouble: Trouble }>>({});
export const said = (it: Trouble): string => (it.fix === undefined || it.fix === null || it.fix === "" ? it.what : `${it.what}: ${it.fix}`);

function keep(path: string, text: string, trouble: Trouble | null): void {
  const { [path]: old, ...rest } = kept.value;
  if (trouble !== null) kept.value = { ...rest, [path]: { text, trouble } };
  else if (old !== undefined) kept.value = rest;
}

/** What is wrong with the value that stands at `path`, if anything is. */
export function troubleAt(path: string): Trouble | null {
  const refused = kept.value[path];
  if (refused !== undefined) return refused.trouble;
  return store.mistakes.value.find((it) => isMeant(it.path ?? "", path)) ?? null;
}

function isMeant(where: string, path: string): boolean {
  // of a list as a whole (entries[1].words.at): each of its values is meant
  return where !== "" && (isUnder(where, path) || (steps(where).length >= 4 && isUnder(path, where)));
}

/** What is wrong with the other items of a list: across and up go together. */
function troubleBeside(path: string): Trouble | null {
  if (!path.endsWith("]")) return null;
  return store.mistakes.value.find((it) => typeof it.path === "string" && parent(it.path) === parent(path)) ?? null;
}

let sessions = 0;
const newSession = (): string => `typed-${Date.now().toString(36)}-${(sessions += 1).toString(36)}`;

/** Which value is to be opened or looked at next; set by whoever adds something. */
export const wanted = signal<{ path: string; open: boolean } | null>(null);

/** To the first word of an entry's sentence. */
export function toSentence(entry: number): void {
  wanted.value = { path: `entries[${entry}]`, open: false };
}

// --- fonts: found by the server, shown in their own shapes ---

const plainFirst = (styles: string[]): string[] =>
  styles.includes("Regular") ? ["Regular", ...styles.filter((it) => it !== "Regular")] : styles;

async function findFonts(text: string, sampleText: string): Promise<Option[]> {
  const families = await api.call.fonts(text);
  return families.slice(0, 40).flatMap((it) => {
    const styles = plainFirst(it.styles.length === 0 ? ["Regular"] : it.styles);
    return styles.slice(0, families.length < 4 ? 12 : 1).map((style): Option => ({
      text: style === "Regular" ? it.family : `${it.family}\t${style}`,
      word: style === "Regular" ? it.family : `${it.family} ${style}`,
      ...(styles.length > 1 && families.length >= 4 ? { about: `${styles.length} styles` } : {}),
      picture: api.sample(it.family, style, sampleText),
    }));
  });
}

const fontFamily = (raw: Tree | undefined): string => (isTable(raw) ? str(raw["family"]) : str(raw));

/** The edits that make a font: a family alone, or with a style beside what else was said of it. */
export function fontEdits(tree: Tree, path: string, text: string): Edit[] {
  const [family = "", style = ""] = text.split("\t");
  const now = at(tree, path);
  const extras = isTable(now) ? Object.fromEntries(Object.entries(now).filter(([key]) => key === "axes" || key === "features")) : {};
  const table = { family: family.trim(), ...(style === "" ? {} : { style }), ...extras };
  return Object.keys(table).length === 1 ? say(tree, path, family.trim()) : say(tree, path, table);
}

// --- the value ---

/** called: the word that stands there while nothing is said */
export function ValueWord({ value, called }: { value: Value; called?: string }) {
  const typing = useSignal(false);
  const first = useSignal<string | null>(null);
  const button = useRef<HTMLSpanElement>(null);
  const session = useRef("");
  const back = useRef(false);
  const ahead = useRef<string | null>(null); // stepped to, not answered yet: the next step goes on from there

  useLayoutEffect(() => {
    const wish = wanted.value;
    if (wish !== null && value.raw !== undefined && isUnder(value.path, wish.path)) {
      wanted.value = null;
      if (wish.open) typing.value = true;
      else button.current?.focus();
    } else if (back.current && !typing.value) {
      back.current = false;
      button.current?.focus();
    }
  });

  void wanted.value; // so that every value looks whether it is meant
  const trouble = troubleAt(value.path);
  const bad = kept.value[value.path];
  const text = bad?.text ?? value.shown;
  const unsaid = text === "";

  const step = (by: number): boolean => {
    const next = stepped(ahead.current ?? typed(value), by, value.field.min ?? (value.field.signed ? -Infinity : null), value.field.max);
    if (next === null) return false;
    if (session.current === "") session.current = newSession();
    ahead.current = next;
    void store.edit(editsFor(store.tree.value, value, next, store.schema.value), session.current).then((problem) => {
      if (ahead.current === next) ahead.current = null;
      keep(value.path, next, problem);
    });
    return true;
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const by = { ArrowUp: 1, ArrowDown: -1, "+": 1, "-": -1 }[event.key];
    if (by !== undefined && step(event.shiftKey && event.key !== "+" ? 10 * by : by)) {
      event.preventDefault();
      return;
    }
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      typing.value = true;
    } else if (event.key === "Delete" || event.key === "Backspace") {
      event.preventDefault();
      first.value = "";
      typing.value = true;
    } else if (event.key.length === 1 && event.key !== " ") {
      event.preventDefault();
      first.value = event.key;
      typing.value = true;
    }
  };

  if (typing.value)
    return (
      <Typing
        value={value}
        start={first.value ?? bad?.text ?? (value.field.kind === "choice" || value.field.kind === "yes" ? value.shown : typed(value))}
        over={first.value === null}
        called={called}
        done={(again) => {
          first.value = null;
          back.current = again;
          typing.value = false;
        }}
      />
    );
  return (
    <span
      ref={button}
      role="button"
      tabIndex={0}
      class={`value${unsaid ? " unsaid" : ""}${trouble === null ? "" : " bad"}`}
      data-path={value.path}
      aria-label={`${unsaid ? (called ?? "not said") : text}, ${called === undefined ? value.label : `not said yet, ${value.label}`}`}
      aria-invalid={trouble === null ? undefined : "true"}
      onClick={() => (typing.value = true)}
      onFocus={() => {
        session.current = "";
        const entry = /^entries\[(\d+)\]/.exec(value.path);
        store.select({ entry: entry === null ? null : Number(entry[1]), path: value.path });
      }}
      onKeyDown={onKeyDown}
    >
      {unsaid ? (called ?? "not said") : text}
    </span>
  );
}

interface TypingProps {
  value: Value;
  start: string;
  called: string | undefined;
  /** the old text stays, chosen whole, so that typing goes over it */
  over: boolean;
  /** again: the word is to have the focus once more */
  done: (again: boolean) => void;
}

function Typing({ value, start, called, over, done }: TypingProps) {
  const text = useSignal(start);
  const touched = useSignal(!over);
  const active = useSignal(-1);
  const fonts = useSignal<Option[]>([]);
  const problem = useSignal<Trouble | null>(null);
  const input = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  const card = useCard();
  const session = useRef(newSession());
  const sent = useRef(false);
  const closed = useRef(false);
  const asks = useRef(0);
  const original = useRef<{ raw: Tree | undefined }>({ raw: value.raw });
  const id = useId();

  const isFont = value.field.kind === "font";
  const many = value.field.kind === "texts";
  const picks = value.field.kind === "choice" || value.field.kind === "yes";
  const all = isFont ? fonts.value : optionsFor(value, store.tree.value, store.schema.value);
  const options = isFont ? all : fitting(all, text.value, touched.value);
  const now = typed(value);
  const ofOne = value.field.choices.some((it) => value.field.help.startsWith(`${it.word}:`)); // it is said beside that choice

  useLayoutEffect(() => {
    const field = input.current;
    if (field === null) return;
    field.focus();
    if (over) field.select();
    if (isFont) ask("");
    if (picks) active.value = options.findIndex((it) => it.text === now);
    if (!over) live(start);
  }, []);
  useLayoutEffect(() => {
    document.getElementById(`${id}-${active.value}`)?.scrollIntoView({ block: "nearest" });
  }, [active.value]);

  function ask(find: string): void {
    const lettering = at(store.tree.value, `${parent(value.path)}.text`);
    const sampleText = typeof lettering === "string" ? lettering : Array.isArray(lettering) ? str(lettering[0]) : "Saltmarsh";
    const asked = (asks.current += 1);
    const now = fontFamily(value.raw);
    // as long as nothing is typed, the styles of the font that it is come first
    Promise.all([find === "" && now !== "" ? findFonts(now, sampleText.slice(0, 24)) : [], findFonts(find, sampleText.slice(0, 24))])
      .then(([own, all]) => {
        const words = new Set(own.map((it) => it.word));
        if (asked === asks.current) fonts.value = [...own, ...all.filter((it) => !words.has(it.word))];
      })
      .catch(() => (fonts.value = []));
  }
  function live(now: string): void {
    // what isn't said yet waits: it would move into its sentence from under the hand
    if (value.raw === undefined || !ripe(value, now)) return;
    sent.current = true;
    void store.edit(editsFor(store.tree.value, value, now, store.schema.value), session.current).then((refused) => (problem.value = refused));
  }
  const onInput = (now: string): void => {
    text.value = now;
    touched.value = true;
    active.value = -1;
    problem.value = null;
    if (isFont) ask(now);
    live(now);
  };

  async function commit(pick: Option | undefined, again: boolean): Promise<void> {
    if (closed.current) return;
    const word = text.value.trim();
    const same = all.find((it) => it.word.toLowerCase() === word.toLowerCase());
    const final = pick?.text ?? same?.text ?? text.value;
    closed.current = true;
    if (!touched.value && pick === undefined) {
      if (kept.value[value.path] === undefined || again) {
        done(again);
        return;
      }
    }
    const edits = isFont && final.trim() !== "" ? fontEdits(store.tree.value, value.path, final) : editsFor(store.tree.value, value, final, store.schema.value);
    const refused = edits.length === 0 ? null : await store.edit(edits, session.current);
    sent.current = sent.current || (refused === null && edits.length > 0);
    store.trouble.value = null;
    keep(value.path, final, refused);
    if (refused === null && value.raw === undefined && edits.length > 0) {
      if (again) wanted.value = { path: value.path, open: false }; // it stands in its sentence now
      done(false);
      return;
    }
    const wrong = refused ?? troubleAt(value.path) ?? troubleBeside(value.path);
    if (wrong !== null && again) {
      // stay with it: the reason stands under the field
      problem.value = wrong;
      closed.current = false;
      text.value = withUnit(final, now).split("\t").join(" ");
      // the sentence may have been put another way meanwhile, and the field moved in it
      requestAnimationFrame(() => input.current?.focus());
      return;
    }
    done(again);
  }
  function giveUp(): void {
    closed.current = true;
    keep(value.path, "", null);
    if (sent.current || troubleAt(value.path) !== null)
      void store.edit(say(store.tree.value, value.path, original.current.raw), session.current);
    done(true);
  }

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      giveUp();
      return;
    }
    if (event.key === "Enter" && !(many && event.shiftKey)) {
      event.preventDefault();
      return void commit(options[active.value], true);
    }
    const to = value.field.pictured ? besides(active.value, event.key, options.length, columns(`${id}-list`)) : null;
    if (to !== null) {
      event.preventDefault();
      active.value = to;
      return;
    }
    const by = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (by === 0 || (many && text.value.includes("\n"))) return;
    const next = options.length > 0 && active.value < 0 && !/^\s*[-+−]?[\d.]/.test(text.value) ? null
      : active.value >= 0 ? null
      : stepped(text.value, event.shiftKey ? -10 * by : -by, value.field.min ?? (value.field.signed ? -Infinity : null), value.field.max);
    if (next !== null) {
      event.preventDefault();
      onInput(next);
    } else if (options.length > 0) {
      event.preventDefault();
      active.value = (Math.max(active.value, by > 0 ? -1 : 0) + by + options.length) % options.length;
    }
  };

  const shownTrouble = problem.value ?? (touched.value ? null : troubleAt(value.path));
  const common = {
    id: `${id}-field`,
    ref: input,
    class: "typing",
    value: text.value,
    "aria-label": value.label,
    "aria-describedby": `${id}-help`,
    "aria-invalid": shownTrouble !== null,
    autocomplete: "off",
    spellcheck: many || value.field.kind === "text",
    onKeyDown,
    onBlur: () => void commit(undefined, false),
  };
  return (
    <div class="typing-place">
      {called === undefined ? null : `${called} `}
      {many ? (
        <textarea {...common} rows={Math.max(1, text.value.split("\n").length)} style={{ width: `${width(text.value)}ch` }} onInput={(event) => onInput(event.currentTarget.value)} />
      ) : (
        <input
          {...common}
          type="text"
          style={{ width: `${width(text.value)}ch` }}
          {...(all.length > 0 || isFont ? { role: "combobox", "aria-expanded": options.length > 0, "aria-controls": `${id}-list`, "aria-autocomplete": "list" as const } : {})}
          {...(active.value >= 0 ? { "aria-activedescendant": `${id}-${active.value}` } : {})}
          onInput={(event) => onInput(event.currentTarget.value)}
        />
      )}
      <div class="choices card" ref={card}>
        {shownTrouble === null ? null : <p role="alert" class="trouble">{said(shownTrouble)}</p>}
        <p id={`${id}-help`} class="help">
          {isFont ? "Type to find one; its name alone shows all its styles" : ofOne ? "" : value.field.help}
          {value.field.required || value.raw === undefined ? "" : value.field.help === "" ? "Leave it empty to take it out." : ". Leave it empty to take it out."}
          {many ? `${value.field.required && value.field.help !== "" ? ". " : " "}Shift and Enter: a new line.` : ""}
        </p>
        {options.length === 0 ? null : (
          <ul id={`${id}-list`} role="listbox" class={value.field.pictured ? "pictures" : ""} aria-label={`choices for ${value.label}`}>
            {options.map((it, i) => (
              <li
                key={it.text}
                id={`${id}-${i}`}
                role="option"
                aria-selected={i === active.value}
                class={it.text === now ? "now" : ""}
                {...(value.field.pictured && it.about !== undefined ? { title: it.about } : {})}
                onPointerDown={(event) => event.preventDefault()}
                onClick={() => void commit(it, true)}
              >
                {it.picture === undefined ? null : <img src={it.picture} alt="" loading="lazy" onError={(event) => (event.currentTarget.hidden = true)} />}
                <span>{it.word}</span>
                {it.about === undefined || value.field.pictured ? null : <small>{it.about}</small>}
              </li>
            ))}
          </ul>
        )}
      </div>
    </div>
  );
}

/** How many of a list's items stand in its first row. */
function columns(list: string): number {
  const items = [...(document.getElementById(list)?.children ?? [])] as HTMLElement[];
  return Math.max(1, items.filter((it) => it.offsetTop === items[0]?.offsetTop).length);
}

function width(text: string): number {
  const longest = Math.max(...text.split("\n").map((line) => line.length));
  return Math.max(4, Math.min(34, longest + 1));
}
