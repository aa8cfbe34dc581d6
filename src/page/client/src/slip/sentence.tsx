// SPDX-License-Identifier: GPL-3.0-or-later
// A sentence on the paper, and what is wrong in it under it.
import type { ComponentChildren } from "preact";
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

/** Each trouble once, in the order of the values. */
export function Troubles({ of, children }: { of: Value[]; children?: ComponentChildren }) {
  const texts = new Set(of.flatMap((it) => {
    const trouble = troubleAt(it.path);
    return trouble === null ? [] : [said(trouble)];
  }));
  return (
    <>
      {[...texts].map((text) => <p key={text} role="alert" class="trouble">{text}</p>)}
      {children}
    </>
  );
}
