// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe's file as it is, beside the slip: typed in, with its mistakes at their lines.
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Trouble } from "../api";
import * as store from "../store";
import { said } from "../slip/value";

const WAIT_MS = 250;
const placed = (it: Trouble): boolean => (it.line ?? 0) > 0;
let sessions = 0;

export function FileText() {
  const state = store.state.value;
  const text = useSignal(state?.text ?? "");
  const mine = useRef<string | null>(null); // what was sent last; null: nothing is under way
  const timer = useRef<ReturnType<typeof setTimeout>>();
  const session = useRef("");
  const gutter = useRef<HTMLPreElement>(null);
  const area = useRef<HTMLTextAreaElement>(null);

  useEffect(() => {
    // what others changed comes in, unless one is in the middle of typing
    if (state !== null && mine.current === null && state.text !== text.value) text.value = state.text;
  }, [state?.revision]);
  useEffect(() => () => clearTimeout(timer.current), []);

  if (state === null) return null;
  const send = (): void => {
    const now = text.value;
    mine.current = now;
    void store.setText(now, session.current).then(() => {
      if (mine.current === text.value) mine.current = null;
    });
  };
  const onInput = (now: string): void => {
    text.value = now;
    mine.current = now;
    if (session.current === "") session.current = `text-${Date.now().toString(36)}-${(sessions += 1)}`;
    clearTimeout(timer.current);
    timer.current = setTimeout(send, WAIT_MS);
  };
  const wrong = store.mistakes.value;
  const wrongLines = new Set(wrong.map((it) => it.line));
  const lines = text.value.split("\n").length;
  const select = store.selection.value.path;
  const mark = select === null ? undefined : state.marks[select];

  return (
    <div class="file-text card">
      <h2>{state.file?.replace(/^.*\//, "") ?? "the file"}</h2>
      <p class="soft small" id="file-help">The recipe as it stands in its file. What stands behind # is a remark.</p>
      <div role="alert">
        {wrong.map((it, i) => (
          <p key={i} class="trouble">
            {placed(it) ? <><a href="#file-area" onClick={(event) => {
              event.preventDefault();
              goTo(area.current, it.line ?? 1, it.column ?? 1);
            }}>line {it.line}</a>: </> : ""}{said(it)}
          </p>
        ))}
      </div>
      <div class="lines">
        <pre ref={gutter} aria-hidden="true">{Array.from({ length: lines }, (_, i) => {
          const here = wrongLines.has(i + 1);
          return <span key={i} class={here ? "wrong" : mark?.line === i + 1 ? "looked-at" : ""}>{`${here ? "▸" : ""}${i + 1}\n`}</span>;
        })}</pre>
        <textarea
          id="file-area" ref={area} aria-label="the recipe’s text" aria-describedby="file-help" aria-invalid={wrong.length > 0} spellcheck={false} autocomplete="off" wrap="off"
          rows={Math.min(40, Math.max(12, lines + 1))} value={text.value}
          onInput={(event) => onInput(event.currentTarget.value)}
          onBlur={() => {
            clearTimeout(timer.current);
            if (text.value !== store.state.value?.text) send();
            session.current = "";
          }}
          onScroll={(event) => {
            if (gutter.current !== null) gutter.current.scrollTop = event.currentTarget.scrollTop;
          }}
        />
      </div>
    </div>
  );
}

function goTo(area: HTMLTextAreaElement | null, line: number, column: number): void {
  if (area === null) return;
  const before = area.value.split("\n").slice(0, line - 1).join("\n");
  const at = before.length + (line > 1 ? 1 : 0) + column - 1;
  area.focus();
  area.setSelectionRange(at, at);
}
