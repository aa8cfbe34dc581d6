// SPDX-License-Identifier: GPL-3.0-or-later
// A font file dropped anywhere on the page: it is copied beside the recipe, and can then be chosen.
import { signal } from "@preact/signals";
import * as api from "../api";
import * as store from "../store";
import { say } from "../slip/path";
import { letterings } from "../slip/builder";
import { said } from "../slip/value";

const over = signal(false);
const dropped = signal<{ file: string; trouble: api.Trouble | null } | null>(null);
const FONT = /\.(ttf|otf|ttc|otc)$/i;

export async function takeFont(file: File): Promise<void> {
  if (!FONT.test(file.name)) {
    dropped.value = { file: file.name, trouble: { what: `"${file.name}" is no font file`, fix: "drop a .ttf or .otf" } };
    return;
  }
  try {
    const answer = await api.call.addFont(file);
    dropped.value = { file: answer.file, trouble: null };
  } catch (error) {
    if (!(error instanceof api.Refused)) throw error;
    dropped.value = { file: file.name, trouble: error.trouble };
  }
}

export function listenForFonts(): void {
  const files = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;
  addEventListener("dragover", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    over.value = true;
  });
  addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) over.value = false;
  });
  addEventListener("drop", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    over.value = false;
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void takeFont(file);
  });
}

export function DropVeil() {
  return over.value ? <div class="veil" aria-hidden="true"><p>Let go: the font is copied beside the recipe.</p></div> : null;
}

export function FontNotice() {
  const it = dropped.value;
  if (it === null) return null;
  const done = (): void => {
    dropped.value = null;
  };
  return (
    <div class="notice inset" role="status">
      {it.trouble === null ? <p><b>{it.file}</b> lies beside the recipe now. Set in it:</p> : <p class="trouble">{said(it.trouble)}</p>}
      <p class="keep-deeds">
        {it.trouble !== null ? null : letterings().map((one) => (
          <button key={one.path} type="button" class="word" onClick={() => {
            void store.edit(say(store.tree.value, one.path, { file: it.file }));
            done();
          }}>{one.called}</button>
        ))}
        <button type="button" class="word" onClick={done}>{it.trouble === null ? "none yet" : "I see"}</button>
      </p>
    </div>
  );
}

/** For those who don't drag: the same by choosing a file. */
export function ChooseFont() {
  return (
    <label class="word choose-file">
      bring a font
      <input type="file" accept=".ttf,.otf,.ttc,.otc" onChange={(event) => {
        const file = event.currentTarget.files?.[0];
        if (file !== undefined) void takeFont(file);
        event.currentTarget.value = "";
      }} />
    </label>
  );
}
