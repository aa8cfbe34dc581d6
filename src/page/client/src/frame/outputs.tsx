// SPDX-License-Identifier: GPL-3.0-or-later
// What comes out: every output with a preview, into a folder or as one archive; the cautions stand
// where the outlines are taken.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as api from "../api";
import * as store from "../store";
import { said } from "../slip/value";

const size = (bytes: number): string => (bytes < 1000 ? `${bytes} B` : bytes < 1e6 ? `${(bytes / 1000).toFixed(0)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);
/** The cautions that always stand in sight: no certificate, local codes, sharp edges. */
const FOREMOST = 3;
const CautionLine = ({ of }: { of: api.Caution }) => <li>{of.text} <i class="soft">[{of.said_by}]</i></li>;

/** The file itself, small. The revision is in the address so that no older one is shown. */
function Preview({ of, revision }: { of: api.Output; revision: number }) {
  const failed = useSignal(0);
  const picture = of.shown_by;
  if (picture === null || failed.value === revision) return <span class="sheet" aria-hidden="true">{of.name.split(".")[1]}</span>;
  return <img src={`api/output/${picture}?revision=${revision}`} alt="" loading="lazy" onError={() => (failed.value = revision)} />;
}

/** What lay in the folder and is not lost. */
const kept = (it: api.Made): string =>
  (it.kept === null ? "" : ` The cured.yaml that lay there had been changed by someone: it is kept as ${it.kept.replace(/^.*\//, "")}.`)
  + (it.half_done ? " Files of a run that was stopped half way lay there; they are replaced." : "");

const WAIT_MS = 1000;

export function Outputs() {
  const cautions = useSignal<api.Caution[]>([]);
  const folder = useSignal("out");
  const made = useSignal<api.Made | null>(null);
  const problem = useSignal<api.Trouble | null>(null);
  const working = useSignal(false);
  const list = useSignal<{ revision: number; files: api.Output[] }>({ revision: 0, files: [] });
  const state = store.state.value;
  const verdict = store.verdict.value;
  useEffect(() => {
    api.call.cautions().then((it) => (cautions.value = it)).catch(store.complain);
  }, []);
  // the files are made once nobody has typed for a while
  const shown = store.view.value?.revision ?? 0;
  useEffect(() => {
    made.value = null;
    if (shown === 0) return;
    const timer = setTimeout(() => {
      api.call.outputs().then((files) => (list.value = { revision: shown, files })).catch(() => (list.value = { revision: 0, files: [] }));
    }, WAIT_MS);
    return () => clearTimeout(timer);
  }, [shown, state?.error === null]);
  if (state === null || verdict === null || store.view.value === null) return null;
  const revision = shown;
  const broken = state.error !== null;
  if (store.view.value.box === null && !broken)
    return (
      <div class="outputs card">
        <h2>To take along</h2>
        <p class="soft">Nothing yet: there is no metal in it.</p>
      </div>
    );

  const make = (): void => {
    working.value = true;
    problem.value = null;
    api.call.make(state.revision, folder.value.trim() === "" ? "out" : folder.value.trim())
      .then((it) => (made.value = it))
      .catch((error: unknown) => {
        if (!(error instanceof api.Refused)) throw error;
        problem.value = error.trouble;
      })
      .finally(() => (working.value = false));
  };

  return (
    <div class="outputs card">
      <h2>To take along</h2>
      {verdict.whole ? null : <p class="trouble">The sign is not whole. Its outlines are called <b>not-to-be-cut</b> and say so inside.</p>}
      <ul class="out-list" aria-busy={list.value.revision !== shown}>
        {list.value.files.map((it) => (
          <li key={it.name}>
            <a href={`api/output/${it.name}?revision=${list.value.revision}`} download={it.name}>
              <Preview of={it} revision={list.value.revision} />
              <b>{it.name}</b>
            </a>
            <small>{it.says}, {size(it.size)}</small>
          </li>
        ))}
      </ul>
      {broken ? <p class="soft">The recipe can’t be read as it stands: what comes out of it is here again once it can.</p> : (
      <form class="make" onSubmit={(event) => {
        event.preventDefault();
        make();
      }}>
        <label>All of it into the folder <input size={10} value={folder.value} aria-describedby="make-help" onInput={(event) => (folder.value = event.currentTarget.value)} /></label>
        <button type="submit" class="press" disabled={working.value}>{working.value ? "making …" : "make it"}</button>
        <span class="or">or <a href={`api/sign.zip?revision=${revision}`} download={`${state.name ?? "sign"}.zip`}>take it as one zip</a>, or <a href={`api/output/proof.pdf?revision=${revision}`} target="_blank" rel="noopener">open the proof to print it</a>.</span>
        <p id="make-help" class="soft small">The folder lies beside the recipe{state.folder === undefined ? "" : `, in ${state.folder}`}.</p>
      </form>)}
      <div role="status">
        {made.value === null ? null : <p class="made">Made in {made.value.folder}: {made.value.files.map((it) => it.replace(/^.*\//, "")).join(", ")}.{kept(made.value)}</p>}
      </div>
      {problem.value === null ? null : <p role="alert" class="trouble">{said(problem.value)}</p>}
      {cautions.value.length === 0 ? null : (
        <section class="cautions small" aria-label="cautions">
          <ul>{cautions.value.slice(0, FOREMOST).map((it) => <CautionLine key={it.key} of={it} />)}</ul>
          <details>
            <summary>all cautions for the cutting, and who says so</summary>
            <ul>{cautions.value.slice(FOREMOST).map((it) => <CautionLine key={it.key} of={it} />)}</ul>
          </details>
        </section>
      )}
    </div>
  );
}
