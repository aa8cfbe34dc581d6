// SPDX-License-Identifier: GPL-3.0-or-later
// What is said together: one key brings along the other that it is nothing without. Pure.
import type { Table } from "./path";
import { withRole } from "./schema";
import type { EntryKind } from "./schema";
import { usual } from "./usual";

const MARGIN = 20;
/** Adds what an entry must say besides: how far inside or round others it stays, how long its wave is. */
export function companions(kind: EntryKind, body: Table, inches: boolean): void {
  const close = withRole(kind, "around").some((it) => body[it.key] !== undefined) || body["inside"] !== undefined;
  if (close && kind.fields.some((it) => it.key === "margin") && body["margin"] === undefined && body["grow"] === undefined && body["shape"] !== "outline") body["margin"] = usual(MARGIN, inches);
  for (const [key = "", ...any] of kind.needs) {
    const [other] = any;
    const field = kind.fields.find((it) => it.key === other);
    if (body[key] === undefined || any.length !== 1 || field === undefined || body[field.key] !== undefined || field.usual === null) continue;
    body[field.key] = field.kind === "whole" ? String(field.usual) : usual(field.usual, inches);
  }
}
