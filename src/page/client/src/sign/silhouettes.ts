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

/* A walker in a coat: neck, shoulder, sleeve, hand, the coat's hem at the knee. Half, then mirrored. */
const half: readonly (readonly number[])[] = [
  [46, -1492, 46, -1462, 54, -1442, 84, -1430],
  [140, -1412, 186, -1398, 200, -1342],
  [216, -1262, 232, -1090, 240, -930],
  [244, -890, 246, -850, 238, -812],
  [234, -786, 214, -784, 208, -806],
  [198, -840, 192, -880, 188, -930],
  [180, -1030, 168, -1130, 152, -1212],
  [146, -1120, 152, -1030, 166, -930],
  [182, -800, 192, -690, 200, -540],
  [180, -526, 150, -520, 124, -518],
  [120, -400, 112, -200, 100, -64],
  [112, -40, 138, -26, 140, 0],
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

/* Each half of the head turns as its half of the body does: where they overlap the neck stays filled. */
const head = [1, -1].map((sign) => `M0 -1700C${sign * 48} -1700 ${sign * 80} -1664 ${sign * 79} -1604C${sign * 78} -1544 ${sign * 42} -1476 0 -1476Z`).join("");
const right = `M0 -1494${side(1)}L40 0C36 -180 20 -380 6 -520L0 -520Z`;
const left = `M0 -1494${side(-1)}L-40 0C-36 -180 -20 -380 -6 -520L0 -520Z`;

const box = (x: number, y: number, w: number, h: number): string => `M${x} ${y}h${w}v${h}h${-w}Z`;

export const silhouettes: Readonly<Record<"a person" | "a door", Silhouette>> = {
  "a person": { d: head + right + left, lines: "", width: 500, height: 1700, words: "a person of 1.7 m" },
  "a door": {
    d: box(-430, -2000, 860, 2000),
    lines: box(-300, -1880, 255, 760) + box(45, -1880, 255, 760) + box(-300, -960, 255, 840) + box(45, -960, 255, 840) + "M352 -1040a24 24 0 1 0 48 0a24 24 0 1 0 -48 0Z",
    width: 860,
    height: 2000,
    words: "a door of 2 m",
  },
};
