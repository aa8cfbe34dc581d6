// SPDX-License-Identifier: GPL-3.0-or-later
// What came out of a coupon: the smallest that is well of each row, by a click on the picture or on its
// figure; the window and the day by hand; then into the shop file.
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as api from "../api";
import * as store from "../store";
import { said } from "../slip/value";
import { triedAt } from "./survived";

function Row({ row, now, take }: { row: api.CouponRow; now: string | undefined; take: (it: string | null) => void }) {
  return (
    <p class="coupon-row" role="group" aria-label={row.key}>
      <b>{row.letter} {row.key}</b>{" "}
      {row.places.map((it) => (
        <button key={it.figure} type="button" class="tried" aria-pressed={now === it.length} onClick={() => take(now === it.length ? null : it.length)}>{it.figure}</button>
      ))}
      <small class="soft"> {row.says}</small>
    </p>
  );
}

export function Coupon() {
  const coupon = useSignal<api.CouponView | null>(null);
  const least = useSignal<Record<string, string>>({});
  const window = useSignal("");
  const date = useSignal("");
  const told = useSignal<string | null>(null);
  const problem = useSignal<api.Trouble | null>(null);
  const state = store.state.value;
  const file = state?.file ?? null;
  const revision = store.view.value?.revision ?? 0;
  useEffect(() => {
    least.value = {};
    told.value = null;
  }, [file]);
  useEffect(() => {
    if (revision > 0) api.call.coupon().then((it) => (coupon.value = it)).catch(() => (coupon.value = null));
  }, [file, revision]);
  const meant = store.selection.value.entry;
  const take = (key: string, length: string | null): void => {
    const others = Object.fromEntries(Object.entries(least.value).filter(([it]) => it !== key));
    least.value = length === null ? others : { ...others, [key]: length };
    told.value = null;
  };
  useEffect(() => {
    const entry = store.view.value?.entries.find((it) => it.index === meant);
    const tried = coupon.value === null || entry === undefined ? null : triedAt(coupon.value, entry);
    if (tried !== null) take(tried.row.key, tried.place.length);
  }, [meant]);
  if (state === null || coupon.value === null) return null;

  const learn = (): void => {
    problem.value = null;
    const all = { ...least.value, ...(window.value.trim() === "" ? {} : { window: window.value.trim() }), ...(date.value === "" ? {} : { date: date.value }) };
    api.call.learn(state.revision, all).then((it) => (told.value = `${it.told}written into ${it.file}`)).catch((error: unknown) => {
      if (!(error instanceof api.Refused)) throw error;
      problem.value = error.trouble;
    });
  };
  return (
    <form class="coupon card" onSubmit={(event) => {
      event.preventDefault();
      learn();
    }}>
      <h2>What came out</h2>
      <p>Click the smallest of each row that came out well, on the picture or here. What you can’t judge, leave.</p>
      {coupon.value.combs.map((row) => <Row key={row.key} row={row} now={least.value[row.key]} take={(it) => take(row.key, it)} />)}
      <p>
        <label>its window, drawn {coupon.value.window}, is <input name="window" size={9} value={window.value} placeholder={coupon.value.window} onInput={(event) => (window.value = event.currentTarget.value)} /> wide on the top side</label>
      </p>
      <p>
        <label>cut on <input name="date" type="date" required value={date.value} onInput={(event) => (date.value = event.currentTarget.value)} /></label>{" "}
        <button type="submit" class="press">write it into the shop file</button>
      </p>
      <div role="status">{told.value === null ? null : <pre class="coupon-told small">{told.value}</pre>}</div>
      {problem.value === null ? null : <p role="alert" class="trouble">{said(problem.value)}</p>}
    </form>
  );
}
