// SPDX-License-Identifier: GPL-3.0-or-later
// How the recipe is kept: saved or a draft, undo and redo, and what to do when the file was changed
// by something else.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as api from "../api";
import * as store from "../store";

export function keptWords(state: api.State): string {
  if (state.disk === "changed") return "kept as a draft; the file was changed by something else";
  if (state.disk === "gone") return "kept as a draft; the file is gone";
  return state.saved ? "saved" : "kept as a draft";
}

export function KeepWords() {
  const state = store.state.value;
  if (state === null) return null;
  return (
    <div class="keep small">
      <p class="soft" role="status">
        <span class="file">{state.file?.replace(/^.*\//, "") ?? ""}</span>, {store.line.value ? keptWords(state) : "the line to holdfast is down; trying again"}
      </p>
      <p class="keep-deeds">
        <button type="button" class="word" disabled={!state.can_undo} aria-keyshortcuts="Control+Z" onClick={() => void store.undo()}>undo</button>
        <button type="button" class="word" disabled={!state.can_redo} aria-keyshortcuts="Control+Shift+Z" onClick={() => void store.redo()}>redo</button>
        <button type="button" class={state.saved ? "word" : "word hot"} disabled={state.saved} aria-keyshortcuts="Control+S" onClick={() => void store.save()}>save</button>
      </p>
    </div>
  );
}

/** Ctrl+Z, Ctrl+Shift+Z, Ctrl+Y outside fields; Ctrl+S anywhere. */
export function keys(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const typing = event.target instanceof Element && event.target.closest("input, textarea, select, [contenteditable]") !== null;
  if (key === "s") {
    event.preventDefault();
    if (store.state.value?.saved === false) void store.save();
  } else if (!typing && (key === "z" || key === "y")) {
    event.preventDefault();
    void (key === "y" || event.shiftKey ? store.redo() : store.undo());
  }
}

const GONE_MS = 3000; // shorter breaks heal by themselves and are said in the slip only

/** The server was ended, or killed: said where it can't be missed, with what to do. */
export function LineNotice() {
  const gone = useSignal(false);
  const up = store.line.value;
  useEffect(() => {
    if (up) gone.value = false;
    const timer = up ? undefined : setTimeout(() => (gone.value = true), GONE_MS);
    return () => clearTimeout(timer);
  }, [up]);
  if (!gone.value) return null;
  return (
    <section class="notice card" role="alert" aria-label="holdfast has ended">
      <p>
        <b>holdfast has ended, so nothing can be changed here now.</b> What you did before is kept. Start it again with{" "}
        <b>holdfast page</b> and go on in the window that it opens.
      </p>
    </section>
  );
}

/** What was not saved had ended the server: it was set aside, and the file is open. */
export function AsideNotice() {
  const state = store.state.value;
  if (state?.aside !== true) return null;
  return (
    <section class="notice card" role="alert" aria-label="set aside">
      <p>
        <b>What was not saved ended holdfast when it was worked out last, so it is set aside.</b> This is the file as it was saved. Undo brings the other back.
      </p>
      <p class="keep-deeds">
        <button type="button" class="word" onClick={() => void store.undo()}>undo</button>
      </p>
    </section>
  );
}

export function DiskNotice() {
  const both = useSignal<string | null>(null);
  const state = store.state.value;
  const shown = store.diskChanged.value && state !== null && state.file !== null;
  useEffect(() => {
    if (!shown) both.value = null;
  }, [shown]);
  if (!shown) return null;
  const gone = state.disk === "gone";
  return (
    <section class="notice card" role="alert" aria-label="the file on disk">
      <p>
        <b>{state.file?.replace(/^.*\//, "")}</b>{" "}
        {gone ? "is no longer in its folder. What stands here is kept." : "was changed by something else. Nothing of yours is lost: choose."}
      </p>
      <p class="keep-deeds">
        <button type="button" class="word" onClick={() => void store.save(true)}>{gone ? "write it again" : "keep mine, write over it"}</button>
        {gone ? null : <button type="button" class="word" onClick={() => void store.takeTheirs()}>take theirs</button>}
        {gone ? null : (
          <button type="button" class="word" aria-expanded={both.value !== null} onClick={() => {
            if (both.value !== null) both.value = null;
            else api.call.disk().then((it) => (both.value = it.text ?? "")).catch(() => (both.value = ""));
          }}>look at both</button>
        )}
      </p>
      {both.value === null ? null : (
        <div class="both">
          <Side title="yours" text={state.text} other={both.value} />
          <Side title="on disk" text={both.value} other={state.text} />
        </div>
      )}
    </section>
  );
}

/** One of two texts, with the lines marked that the other hasn't. */
function Side({ title, text, other }: { title: string; text: string; other: string }) {
  const there = new Set(other.split("\n"));
  return (
    <figure>
      <figcaption>{title}</figcaption>
      <pre tabIndex={0}>{text.split("\n").map((line, i) => (there.has(line) ? <span key={i}>{line}{"\n"}</span> : <mark key={i}>{line}{"\n"}</mark>))}</pre>
    </figure>
  );
}
