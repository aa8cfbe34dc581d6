// SPDX-License-Identifier: GPL-3.0-or-later
// Who stands beside a sign to show its size: a person of 1.7 m and a door of 2 m, drawn by us.
// mm, y down, standing on y = 0, x from -half to +half of their width.

export interface Silhouette {
  d: string;
  /** thin lines on it */
  lines: string;
  width: number;
  height: number;
  words: string;
}

/* Head, neck, shoulders; a coat that widens to the knee; legs a little apart. Half, then mirrored. */
const half: readonly (readonly number[])[] = [
  [52, -1462, 50, -1440, 74, -1418, 120, -1404],
  [180, -1388, 214, -1352, 226, -1290],
  [240, -1210, 262, -1010, 266, -880],
  [268, -846, 264, -800, 248, -770],
  [238, -752, 218, -760, 214, -784],
  [208, -880, 196, -1010, 178, -1130],
  [176, -980, 188, -800, 204, -600],
  [196, -590, 178, -584, 160, -580],
  [156, -420, 146, -240, 136, -60],
  [150, -40, 168, -24, 168, 0],
];

function side(sign: number): string {
  return half
    .map((piece) => {
      const points = piece.map((value, i) => (i % 2 === 0 ? sign * value : value));
      if (points.length === 8) return `L${points.slice(0, 2).join(" ")}C${points.slice(2).join(" ")}`;
      return `C${points.join(" ")}`;
    })
    .join("");
}

const head = "M0 -1700C62 -1700 98 -1656 96 -1590C94 -1528 52 -1470 0 -1470C-52 -1470 -94 -1528 -96 -1590C-98 -1656 -62 -1700 0 -1700Z";
const right = `M0 -1480${side(1)}L58 0C48 -180 22 -420 12 -560L0 -560Z`;
const left = `M0 -1480${side(-1)}L-58 0C-48 -180 -22 -420 -12 -560L0 -560Z`;

const box = (x: number, y: number, w: number, h: number): string => `M${x} ${y}h${w}v${h}h${-w}Z`;

export const silhouettes: Readonly<Record<"a person" | "a door", Silhouette>> = {
  "a person": { d: head + right + left, lines: "", width: 540, height: 1700, words: "a person of 1.7 m" },
  "a door": {
    d: box(-430, -2000, 860, 2000),
    lines: box(-300, -1880, 255, 760) + box(45, -1880, 255, 760) + box(-300, -960, 255, 840) + box(45, -960, 255, 840) + "M352 -1040a24 24 0 1 0 48 0a24 24 0 1 0 -48 0Z",
    width: 860,
    height: 2000,
    words: "a door of 2 m",
  },
};
