// SPDX-License-Identifier: GPL-3.0-or-later
import assert from "node:assert/strict";
import { test } from "node:test";
import type { State } from "../src/api";
import { believe } from "../src/later";

const state = (part: Partial<State>): State => ({
  revision: 9, file: "/boats.yaml", name: "Boats", saved: true, draft: false, can_undo: false, can_redo: false, text: "", tree: null, marks: {}, error: null, view: null, ...part,
});
const noFont = { what: 'the font "No Such Face" is not installed', fix: "" };

test("an answer that comes after what the run found doesn't make it forgotten", () => {
  const told = state({ error: noFont });
  assert.deepEqual(believe(told, state({ saved: false })), state({ saved: false, error: noFont }));
});

test("what was told earlier and comes later is old", () => {
  const changed = state({ told: 21, disk: "changed" });
  assert.equal(believe(changed, state({ told: 20, disk: "same" })), changed);
  assert.equal(believe(changed, state({ told: 22, disk: "same" })).disk, "same");
});

test("a newer text is believed whatever was wrong before, an older one never", () => {
  const told = state({ error: noFont });
  assert.equal(believe(told, state({ revision: 10 })).error, null);
  assert.equal(believe(told, state({ revision: 8 })), told);
  assert.equal(believe(null, told), told);
});
