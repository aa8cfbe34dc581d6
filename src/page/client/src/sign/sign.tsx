// SPDX-License-Identifier: GPL-3.0-or-later
// The sign itself, in its lights.
import * as store from "../store";

export function SignView() {
  const view = store.view.value;
  if (view === null) return <div class="wall" />;
  const [x0, y0, x1, y1] = view.box;
  return (
    <div class="wall">
      <svg viewBox={`${x0} ${-y1} ${x1 - x0} ${y1 - y0}`} role="img" aria-label={view.verdict.sentence}>
        {view.parts.map((part) => <path key={part.d} d={part.d} fill="var(--steel)" fill-rule="evenodd" />)}
      </svg>
    </div>
  );
}
