// SPDX-License-Identifier: GPL-3.0-or-later
// A sentence on the paper, and what is wrong in it under it.
import * as store from "../store";
import type { Piece, Value } from "./sentences";
import { ValueWord, said, troubleAt } from "./value";

export const values = (pieces: Piece[]): Value[] => pieces.filter((it): it is Value => typeof it !== "string");

export function Words({ pieces }: { pieces: Piece[] }) {
  return (
    <>
      {pieces.map((it, i) => (typeof it === "string" ? <span key={`${i}`}>{it}</span> : <ValueWord key={it.path} value={it} />))}
    </>
  );
}

/** Each trouble once, in the order of the values; also what is wrong with all of it: `whole`. */
export function Troubles({ of, whole }: { of: Value[]; whole: (path: string) => boolean }) {
  const texts = new Set(of.flatMap((it) => {
    const trouble = troubleAt(it.path);
    return trouble === null ? [] : [said(trouble)];
  }));
  for (const mistake of store.mistakes.value) if (whole(mistake.path ?? "")) texts.add(said(mistake));
  return <>{[...texts].map((text) => <p key={text} role="alert" class="trouble">{text}</p>)}</>;
}
