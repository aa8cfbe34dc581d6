// SPDX-License-Identifier: GPL-3.0-or-later
// What the page knows and how it changes it, against a small server of the tests' own: it counts revisions and
// refuses what is about another one, as docs/page.md says. What is expected is reckoned on its side.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Cure, Edit, State, Trouble, View } from "../src/api";
import * as store from "../src/store";

interface Asked {
  path: string;
  body: { revision: number; edits?: Edit[]; merge?: string; text?: string };
}

const blank: State = {
  revision: 1, file: "/boats.yaml", name: "boats", saved: true, draft: false, can_undo: false, can_redo: false, text: "", tree: null, marks: {}, error: null, view: null,
};

class Server {
  now: State = { ...blank, text: "v1" };
  asked: Asked[] = [];
  refusals: Trouble[] = [];
  down = false;
  /** something else changes the document just before each of so many requests */
  meddling = 0;
  search: object = { revision: 0, going: true, cures: [] };

  bump(text: string): void {
    this.now = { ...this.now, revision: this.now.revision + 1, text };
  }
  async answer(path: string, init?: { body?: string }): Promise<{ ok: boolean; status: number; json: () => Promise<unknown> }> {
    await new Promise((done) => setTimeout(done, 1)); // as a network does: later
    if (this.down) throw new TypeError("fetch failed");
    const say = (status: number, body: unknown) => ({ ok: status < 400, status, json: () => Promise.resolve(body) });
    if (init?.body === undefined) return say(200, path === "api/kinds" ? {} : this.now);
    const body = JSON.parse(init.body) as Asked["body"];
    this.asked.push({ path, body });
    if (this.meddling > 0) {
      this.meddling -= 1;
      this.bump("theirs");
    }
    if (body.revision !== this.now.revision) return say(409, { error: { what: "the recipe has changed", fix: "" }, state: this.now });
    const refusal = this.refusals.shift();
    if (refusal !== undefined) return say(400, { error: refusal });
    if (path === "api/cures") return say(200, this.search);
    this.bump(body.edits?.[0]?.value ?? body.text ?? path);
    return say(200, this.now);
  }
}

class Line {
  static open: Line[] = [];
  hears = new Map<string, (event: { data: string }) => void>();
  onopen: () => void = () => undefined;
  onerror: () => void = () => undefined;
  closed = false;
  constructor(readonly path: string) {
    Line.open.push(this);
  }
  addEventListener(name: string, take: (event: { data: string }) => void): void {
    this.hears.set(name, take);
  }
  tell(name: string, data: unknown): void {
    this.hears.get(name)?.({ data: JSON.stringify(data) });
  }
  close(): void {
    this.closed = true;
  }
}

/** A page that has just been opened on a server of its own. */
function opened(): Server {
  const server = new Server();
  Object.assign(globalThis, { fetch: (path: string, init?: { body?: string }) => server.answer(path, init), EventSource: Line });
  store.state.value = null;
  store.view.value = null;
  store.tree.value = null;
  store.trouble.value = null;
  store.cures.value = [];
  store.curing.value = "no";
  store.takeIn(server.now);
  return server;
}

const view = (revision: number): View => ({ revision }) as View;
const cure = (id: string, part: Partial<Cure> = {}): Cure => ({ id, key: "ties", sentence: id, takes: [], added: 0, removed: 0, shift: 0, ties: 0, stops: 0, cautions: 0, notes: 0, whole: false, ...part });
const set = (value: string, merge?: string) => store.set("sign", value, merge);

test("changes go out one after the other, each about the newest revision", async () => {
  const server = opened();
  assert.deepEqual(await Promise.all([set("a"), set("b"), set("c")]), [null, null, null]);
  assert.deepEqual(server.asked.map((it) => [it.body.revision, it.body.edits?.[0]?.value]), [[1, "a"], [2, "b"], [3, "c"]]);
  assert.equal(store.state.value?.revision, 4);
  assert.equal(store.state.value?.text, "c");
});

test("of what waits under one token only the last is sent, and all hear of it", async () => {
  const server = opened();
  const heard = await Promise.all(["1", "12", "123", "1234"].map((it) => set(it, "typing")));
  assert.deepEqual(heard, [null, null, null, null]);
  assert.deepEqual(server.asked.map((it) => it.body.edits?.[0]?.value), ["1", "1234"]); // the first was on its way
  await Promise.all([set("x", "one"), set("y", "two"), set("z", "one")]);
  assert.deepEqual(server.asked.slice(2).map((it) => it.body.edits?.[0]?.value), ["x", "y", "z"]); // no change overtakes another
});

test("what was about an older text is sent once more about the newest", async () => {
  const server = opened();
  server.meddling = 1;
  assert.equal(await set("mine"), null);
  assert.deepEqual(server.asked.map((it) => it.body.revision), [1, 2]);
  assert.equal(store.state.value?.text, "mine");
  server.meddling = 2; // twice in a row: it is said
  const problem = await set("mine again");
  assert.equal(problem?.what, "the recipe has changed");
  assert.equal(store.trouble.value?.what, "the recipe has changed");
  assert.equal(store.state.value?.text, "theirs");
});

test("a refusal is kept until the next change is taken, and the document stays", async () => {
  const server = opened();
  server.refusals = [{ what: "no such unit", fix: "mm, in" }];
  assert.equal((await set("12 parsecs"))?.what, "no such unit");
  assert.equal(store.trouble.value?.fix, "mm, in");
  assert.equal(store.state.value?.revision, 1);
  assert.equal(await set("12 mm"), null);
  assert.equal(store.trouble.value, null);
});

test("a server that doesn't answer is said, and what waits behind is still tried", async () => {
  const server = opened();
  server.down = true;
  const [first, second] = await Promise.all([set("a"), set("b")]);
  assert.match(first?.what ?? "", /doesn't answer/);
  assert.match(second?.what ?? "", /doesn't answer/);
  server.down = false;
  assert.equal(await set("c"), null);
  assert.equal(store.state.value?.text, "c");
});

test("each thing that is done to the document asks at its address", async () => {
  const server = opened();
  const does: [() => Promise<Trouble | null>, string][] = [
    [store.undo, "api/undo"], [store.redo, "api/redo"], [store.save, "api/save"], [store.takeTheirs, "api/reload"], [store.takeBest, "api/take"],
    [() => store.takeCure("0-1"), "api/take"], [() => store.setText("all of it"), "api/text"],
  ];
  for (const [run, path] of does) {
    const before = store.state.value?.revision;
    assert.equal(await run(), null);
    const last = server.asked[server.asked.length - 1];
    assert.equal(last?.path, path);
    assert.equal(last?.body.revision, before);
  }
});

test("a picture of an older text never takes the place of a newer one", () => {
  opened();
  store.takeIn({ ...blank, revision: 5 });
  store.takeView(view(4));
  assert.equal(store.behind.value, true);
  store.takeView(view(5));
  assert.equal(store.behind.value, false);
  store.takeView(view(3));
  assert.equal(store.view.value?.revision, 5);
});

test("another document: its own picture, nothing chosen, all folded", () => {
  opened();
  store.takeIn({ ...blank, revision: 2, tree: { sign: "Boats" }, view: view(2) });
  store.select({ entry: 3 });
  const folded = store.folded.value;
  store.takeIn({ ...blank, revision: 3, file: "/ferry.yaml", tree: null });
  assert.equal(store.view.value, null);
  assert.equal(store.tree.value, null);
  assert.deepEqual(store.selection.value, store.nothing);
  assert.equal(store.folded.value, folded + 1);
});

test("a picture that came before the answer to opening its document stays", () => {
  opened();
  store.takeIn({ ...blank, revision: 2, tree: { sign: "Boats" }, view: view(2) });
  store.takeView(view(3));
  store.takeIn({ ...blank, revision: 3, file: "/ferry.yaml", tree: null });
  assert.equal(store.view.value?.revision, 3);
});

test("a text that can't be read leaves the tree that could", () => {
  opened();
  store.takeIn({ ...blank, revision: 2, tree: { sign: "Boats" } });
  store.takeIn({ ...blank, revision: 3, tree: null, error: { what: "not YAML", fix: "" } });
  assert.deepEqual(store.tree.value, { sign: "Boats" });
  assert.deepEqual(store.mistakes.value.map((it) => it.what), ["not YAML"]);
  store.takeIn({ ...blank, revision: 4, error: { what: "first", fix: "" }, mistakes: [{ what: "first", fix: "" }, { what: "second", fix: "" }] });
  assert.deepEqual(store.mistakes.value.map((it) => it.what), ["first", "second"]);
});

test("cures come one by one, are put in order at the end, and go with their text", async () => {
  const server = opened();
  const end = store.begin();
  const line = Line.open[Line.open.length - 1] as Line;
  server.search = { revision: 1, going: true, cures: [cure("early")] };
  await store.lookForCures();
  assert.equal(store.curing.value, "looking");
  await store.lookForCures(); // asked for already
  assert.equal(server.asked.length, 1);
  line.tell("cures", { revision: 1, cure: cure("b") });
  line.tell("cures", { revision: 1, cure: cure("a") });
  line.tell("cures", { revision: 0, cure: cure("of an older text") });
  line.tell("cures-progress", { revision: 1, tried: 3, of: 9 });
  assert.deepEqual(store.cures.value.map((it) => it.id), ["early", "b", "a"]);
  assert.deepEqual(store.curesTried.value, { tried: 3, of: 9 });
  line.tell("cures-done", { revision: 0, order: [], best: null, error: null });
  assert.equal(store.curing.value, "looking");
  line.tell("cures-done", { revision: 1, order: ["a", "early"], best: "a", why: "in the way:\n  a web\n", no_further: true, error: null });
  assert.deepEqual(store.curesWhy.value, ["in the way:", "  a web"]);
  assert.equal(store.curesNoFurther.value, true);
  assert.deepEqual(store.cures.value.map((it) => [it.id, it.best]), [["a", true], ["early", false]]);
  assert.equal(store.curing.value, "done");
  await set("another text");
  assert.deepEqual(store.cures.value, []);
  assert.deepEqual(store.curesWhy.value, []);
  assert.equal(store.curing.value, "no");
  end();
  assert.equal(line.closed, true);
});

test("a search that is stopped keeps what it found; one about an older text brings the newer", async () => {
  const server = opened();
  server.search = { revision: 1, going: true, cures: [cure("a")] };
  await store.lookForCures();
  await store.stopCures();
  assert.deepEqual(store.cures.value.map((it) => it.id), ["a"]);
  assert.equal(store.curing.value, "no");
  server.meddling = 1;
  await store.lookForCures();
  assert.equal(store.state.value?.text, "theirs");
  assert.equal(store.curing.value, "no");
});

test("the file on disk: what was told first never undoes what was told later", () => {
  opened();
  const end = store.begin();
  const line = Line.open[Line.open.length - 1] as Line;
  line.tell("disk", { changed: true, told: 7 });
  assert.equal(store.diskChanged.value, true);
  line.tell("disk", { changed: false, told: 6 });
  assert.equal(store.diskChanged.value, true);
  line.tell("disk", { changed: false, gone: true, told: 8 });
  assert.equal(store.state.value?.disk, "gone");
  line.tell("disk", { changed: false, told: 9 });
  assert.equal(store.diskChanged.value, false);
  end();
});

test("when the line is up again the page asks what it has missed", async () => {
  const server = opened();
  const end = store.begin();
  const line = Line.open[Line.open.length - 1] as Line;
  line.onopen();
  line.onerror();
  assert.equal(store.line.value, false);
  server.bump("meanwhile");
  line.onopen();
  assert.equal(store.line.value, true);
  while (store.state.value?.text !== "meanwhile") await new Promise((done) => setTimeout(done, 1));
  end();
});

test("figures are shown in the recipe's unit until the reader likes another", () => {
  const seen = (units?: View["units"]): string => {
    store.view.value = { units } as View;
    return store.units.value;
  };
  assert.equal(seen("in"), "inch");
  assert.equal(seen("in-decimal"), "decimal");
  assert.equal(seen("mm"), "mm");
  assert.equal(seen(), "mm");
  store.figures.value = "mm";
  assert.equal(seen("in"), "mm");
  store.figures.value = "recipe";
  store.view.value = null;
});
