// SPDX-License-Identifier: GPL-3.0-or-later
// Choices of shapes: which have a picture, and where the arrows lead among them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { besides, optionsFor } from "../src/slip/options";
import { readSchema } from "../src/slip/schema";
import type { Value } from "../src/slip/sentences";
import { schema as told } from "./recipes";

test("arrows go beside in order, up and down in a column, round at the edges", () => {
  // 0 1 2 3
  // 4 5 6 7
  // 8 9
  const go = (now: number, key: string): number | null => besides(now, key, 10, 4);
  assert.deepEqual(["ArrowRight", "ArrowLeft", "ArrowDown", "ArrowUp"].map((key) => go(5, key)), [6, 4, 9, 1]);
  assert.equal(go(9, "ArrowRight"), 0);
  assert.equal(go(0, "ArrowLeft"), 9);
  assert.equal(go(9, "ArrowDown"), 1);
  assert.equal(go(6, "ArrowDown"), 2); // nothing stands below it
  assert.equal(go(2, "ArrowUp"), 6);
  assert.equal(go(-1, "ArrowDown"), 0);
  assert.equal(go(-1, "ArrowUp"), 9);
  assert.equal(go(-1, "ArrowRight"), null); // the cursor of what is typed
  assert.equal(besides(0, "ArrowDown", 0, 1), null);
  assert.equal(go(3, "Enter"), null);
});

test("ornaments, borders and plates are chosen from pictures, other choices are not", () => {
  const schema = readSchema(told());
  const pictured = [...schema.entries].flatMap(([kind, { fields }]) => fields.filter((it) => it.pictured).map((it) => `${kind} ${it.key}`));
  assert.deepEqual(pictured.sort(), ["border form", "ornament form", "plate shape"]);
  for (const [kind, { fields }] of schema.entries)
    for (const field of fields.filter((it) => it.kind === "choice")) {
      const value: Value = { path: `entries[2].${kind}.${field.key}`, field, raw: undefined, shown: "", label: "" };
      for (const it of optionsFor(value, null, schema))
        assert.equal(it.picture, field.pictured ? `api/choice/${kind}/${field.key}/${encodeURIComponent(it.text)}.svg` : undefined);
    }
});
