// SPDX-License-Identifier: GPL-3.0-or-later
// What comes out: every output with a preview, into a folder or as one archive; the cautions stand
// where the outlines are taken.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as api from "../api";
import * as store from "../store";
import { said } from "../slip/value";

interface Output {
  name: string;
  about: string;
  picture: boolean;
}

const outputs = (whole: boolean): Output[] => [
  { name: whole ? "metal.svg" : "not-to-be-cut.svg", about: "the outlines, true arcs, in millimetres", picture: true },
  { name: whole ? "metal.dxf" : "not-to-be-cut.dxf", about: "the same, for tables that read DXF", picture: false },
  { name: "proof.png", about: "the picture that the customer agrees to", picture: true },
  { name: "proof.pdf", about: "the proof at scale, with figures and a place to sign", picture: false },
  { name: "report.json", about: "all figures and findings, for scripts", picture: false },
];

/** The cautions that always stand in sight: no certificate, local codes, sharp edges. */
const FOREMOST = 3;
const CautionLine = ({ of }: { of: api.Caution }) => <li>{of.text} <i class="soft">[{of.said_by}]</i></li>;

function Preview({ name, revision }: { name: string; revision: number }) {
  const failed = useSignal(0);
  if (revision === 0 || failed.value === revision) return <span class="sheet" aria-hidden="true">{name.split(".")[1]}</span>;
  return <img src={`api/output/${name}?revision=${revision}`} alt="" loading="lazy" onError={() => (failed.value = revision)} />;
}

export function Outputs() {
  const cautions = useSignal<api.Caution[]>([]);
  const folder = useSignal("out");
  const made = useSignal<string[] | null>(null);
  const problem = useSignal<api.Trouble | null>(null);
  const working = useSignal(false);
  const calm = useSignal(0); // the revision that the previews are of: they wait until nobody types
  const state = store.state.value;
  const verdict = store.verdict.value;
  useEffect(() => {
    api.call.cautions().then((it) => (cautions.value = it)).catch(store.complain);
  }, []);
  useEffect(() => {
    made.value = null;
    const timer = setTimeout(() => (calm.value = store.view.value?.revision ?? 0), 1200);
    return () => clearTimeout(timer);
  }, [state?.revision, store.view.value?.revision]);
  if (state === null || verdict === null || store.view.value === null) return null;
  const revision = store.view.value.revision;
  const broken = state.error !== null;

  const make = (): void => {
    working.value = true;
    problem.value = null;
    api.call.make(state.revision, folder.value.trim() === "" ? "out" : folder.value.trim())
      .then((it) => (made.value = it.files))
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
      <ul class="out-list">
        {outputs(verdict.whole).map((it) => (
          <li key={it.name}>
            <a href={`api/output/${it.name}?revision=${revision}`} download={it.name} class={it.picture ? "with-picture" : ""}>
              {it.picture ? <Preview name={it.name} revision={calm.value} /> : <span class="sheet" aria-hidden="true">{it.name.split(".")[1]}</span>}
              <b>{it.name}</b>
            </a>
            <small>{it.about}</small>
          </li>
        ))}
      </ul>
      <form class="make" onSubmit={(event) => {
        event.preventDefault();
        make();
      }}>
        <label>All of it into the folder <input size={10} value={folder.value} aria-describedby="make-help" onInput={(event) => (folder.value = event.currentTarget.value)} /></label>
        <button type="submit" class="press" disabled={working.value || broken}>{working.value ? "making …" : "make it"}</button>
        <span class="or">or <a href={`api/sign.zip?revision=${revision}`} download={`${state.name ?? "sign"}.zip`}>take it as one zip</a>, or <a href={`api/output/proof.pdf?revision=${revision}`} target="_blank" rel="noopener">open the proof to print it</a>.</span>
        <p id="make-help" class="soft small">The folder lies beside the recipe{state.folder === undefined ? "" : `, in ${state.folder}`}.</p>
      </form>
      <div role="status">
        {made.value === null ? null : <p class="made">Made: {made.value.map((it) => it.replace(/^.*\//, "")).join(", ")}.</p>}
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
