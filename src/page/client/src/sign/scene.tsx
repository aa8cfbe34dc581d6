// SPDX-License-Identifier: GPL-3.0-or-later
// One sign in two lights, as SVG in millimetres: as it hangs on a wall, and as metal.
import { computed } from "@preact/signals";
import type { ComponentChildren } from "preact";
import type { EntryView, Finding, Part, Sheet as SheetView, View } from "../api";
import * as store from "../store";
import { groupsAround, membersInside } from "../slip/chosen";
import { areaOf, down } from "./frame";
import { heated } from "./heat";
import type { Limits } from "./heat";
import { beside } from "./likes";
import { openingAt } from "./places";
import { besideAt, perPixel } from "./seen";
import { silhouettes } from "./silhouettes";

const patternScale = computed(() => `rotate(45) scale(${perPixel.value})`);

// --- as it hangs ---

/** Face from top to bottom, the dark of its edge, the light on it. */
interface Skin {
  face: readonly [string, string, string];
  edge: string;
  shine: string;
}
const STEEL: Skin = { face: ["#585d63", "#43474c", "#35383c"], edge: "#17181a", shine: "#8d949b" };
const SKINS: readonly (readonly [RegExp, Skin])[] = [
  [/stainless/i, { face: ["#c9cdd1", "#a9aeb3", "#92979d"], edge: "#4d5156", shine: "#f3f5f6" }],
  [/alumin/i, { face: ["#d5d8db", "#bcc0c4", "#a6abb0"], edge: "#5d6166", shine: "#fafbfb" }],
  [/copper/i, { face: ["#c98058", "#ad6440", "#8f4f31"], edge: "#43220f", shine: "#f0b894" }],
  [/brass|bronze/i, { face: ["#cdb06a", "#ad8f4b", "#8f7439"], edge: "#453614", shine: "#f2deab" }],
  [/weather|corten/i, { face: ["#8c573b", "#74452d", "#5e3723"], edge: "#2a170d", shine: "#bd8565" }],
];
const bare = (metal: string): Skin => SKINS.find(([name]) => name.test(metal))?.[1] ?? STEEL;
/** As it is finished, where the recipe says so; else as its metal looks bare. */
export function skinOf(view: View): Skin {
  const look = view.look;
  if (look !== undefined && look.finish !== null) return { face: look.face, edge: look.dark, shine: look.light };
  return bare(view.metal);
}

function Beside({ view }: { view: View }) {
  const at = besideAt(view);
  if (at === null || beside.value === "nobody") return null;
  const who = silhouettes[beside.value];
  return (
    <g class="beside">
      <path class="floor" d={`M${at.x - 30000} ${at.floor}H${at.x + 60000}`} vector-effect="non-scaling-stroke" />
      <g transform={`translate(${at.x} ${at.floor})`}>
        <path class="figure" d={who.d} />
        {who.lines === "" ? null : <path class="figure-lines" d={who.lines} vector-effect="non-scaling-stroke" />}
      </g>
    </g>
  );
}

/** What the arc burns off at pointed ends: gone as it hangs; as metal a broken line round what will be gone, as the proof draws it. */
export const burntOf = (view: View): string => (view.burnt ?? []).join("");

function Unburnt({ burnt, transform, children }: { burnt: string; transform?: string; children: ComponentChildren }) {
  return <g transform={transform}><g mask={burnt === "" ? undefined : "url(#unburnt)"}>{children}</g></g>;
}

/** A sheet behind the front, and its shadow on what is behind it. */
function Sheet({ sheet, far }: { sheet: SheetView; far: number }) {
  const d = hanging(sheet.parts).map((part) => part.d).join("");
  const skin: Skin = sheet.finish === null ? bare(sheet.metal) : { face: sheet.face, edge: sheet.dark, shine: sheet.light };
  const t = Math.max(sheet.thickness, 0.6);
  return (
    <g class="sheet">
      <g filter="url(#soft)"><path class="cast" d={d} transform={`translate(${far * 0.55} ${far * 0.95})`} /></g>
      <path d={d} fill-rule="evenodd" fill={skin.edge} transform={`translate(${t * 0.2} ${t * 0.42})`} />
      <path d={d} fill-rule="evenodd" fill={skin.face[1]} />
    </g>
  );
}

function Hanging({ view, d }: { view: View; d: string }) {
  const area = areaOf(view.box);
  const burnt = burntOf(view);
  const skin = skinOf(view);
  const t = Math.max(view.thickness, 0.6);
  const far = t + Math.max(9, 0.5 * ((view.behind ?? []).at(-1)?.behind ?? 0)); // it stands a little off the wall
  return (
    <>
      <defs>
        <linearGradient id="face" gradientUnits="userSpaceOnUse" x1={area.x0} y1={area.y0} x2={area.x0 + 0.25 * (area.x1 - area.x0)} y2={area.y1}>
          <stop offset="0" stop-color={skin.face[0]} />
          <stop offset="0.5" stop-color={skin.face[1]} />
          <stop offset="1" stop-color={skin.face[2]} />
        </linearGradient>
        {burnt === "" ? null : (
          <mask id="unburnt" maskUnits="userSpaceOnUse" x={area.x0 - 60} y={area.y0 - 60} width={area.x1 - area.x0 + 140} height={area.y1 - area.y0 + 160}>
            <rect x={area.x0 - 60} y={area.y0 - 60} width={area.x1 - area.x0 + 140} height={area.y1 - area.y0 + 160} fill="#fff" />
            <path d={burnt} fill="#000" stroke="#000" stroke-width="0.3" />
          </mask>
        )}
        <filter id="soft" filterUnits="userSpaceOnUse" x={area.x0 - 60} y={area.y0 - 60} width={area.x1 - area.x0 + 140} height={area.y1 - area.y0 + 160} color-interpolation-filters="sRGB">
          <feGaussianBlur stdDeviation={far * 0.42} />
        </filter>
      </defs>
      <Beside view={view} />
      {(view.behind ?? []).map((sheet) => <Sheet key={sheet.layer} sheet={sheet} far={far} />)}
      <g filter="url(#soft)"><Unburnt burnt={burnt} transform={`translate(${far * 0.55} ${far * 0.95})`}><path class="cast" d={d} /></Unburnt></g>
      <Unburnt burnt={burnt} transform={`translate(${t * 0.2} ${t * 0.42})`}><path d={d} fill-rule="evenodd" fill={skin.edge} /></Unburnt>
      <Unburnt burnt={burnt} transform={`translate(${-t * 0.07} ${-t * 0.12})`}><path d={d} fill-rule="evenodd" fill={skin.shine} /></Unburnt>
      <Unburnt burnt={burnt}><path d={d} fill-rule="evenodd" fill="url(#face)" /></Unburnt>
    </>
  );
}

// --- as metal ---

export const limitsOf = (view: View): Limits => view.limits.web;

const openings = (view: View): string[] => {
  const found = new Set<string>();
  const small = view.findings.filter((it: Finding) => (it.about === "gap" || it.about === "opening") && it.gravity === "stop");
  for (const finding of small)
    for (const at of finding.places.slice(0, 60)) {
      const ring = openingAt(view.parts, down(at));
      if (ring !== null) found.add(ring.d);
    }
  return [...found];
};

/** How far a loose part is lifted out: some pixels at any zoom, less than it would take to lose it. */
const lift = computed(() => {
  const view = store.view.value;
  if (view === null) return 0;
  const area = areaOf(view.box);
  return Math.min(9 * perPixel.value, 0.012 * Math.max(area.x1 - area.x0, area.y1 - area.y0));
});
const lifted = computed(() => `translate(${lift.value * 0.7} ${-lift.value})`);
const fallen = computed(() => `translate(${-lift.value * 0.35} ${lift.value * 0.5})`);

function Loose({ part }: { part: Part }) {
  return (
    <g class="loose">
      <path class="was" d={part.d} vector-effect="non-scaling-stroke" />
      <g transform={lifted}>
        <path class="loose-shadow" d={part.d} transform={fallen} />
        <path class="metal" d={part.d} fill-rule="evenodd" />
        <path class="loose-hatch" d={part.d} fill-rule="evenodd" fill="url(#loose-hatch)" vector-effect="non-scaling-stroke" />
      </g>
    </g>
  );
}

function Webs({ view }: { view: View }) {
  const limits = limitsOf(view);
  return (
    <g class="webs" clip-path="url(#in-metal)">
      {heated(view.webs, limits).map((it) => <path key={it.shade} d={it.d} fill={it.shade} />)}
    </g>
  );
}

function Ties({ view }: { view: View }) {
  return (
    <g class="ties">
      {view.ties.map((tie, i) => {
        const dx = tie.x1 - tie.x0;
        const dy = tie.y1 - tie.y0;
        const long = Math.hypot(dx, dy) || 1;
        const nx = ((-dy / long) * tie.width) / 2;
        const ny = ((dx / long) * tie.width) / 2;
        const end = (x: number, y: number): string => `M${x + nx} ${-(y + ny)}L${x - nx} ${-(y - ny)}`;
        return (
          <g key={i}>
            <line x1={tie.x0} y1={-tie.y0} x2={tie.x1} y2={-tie.y1} stroke-width={tie.width} />
            <path d={end(tie.x0, tie.y0) + end(tie.x1, tie.y1)} vector-effect="non-scaling-stroke" />
          </g>
        );
      })}
    </g>
  );
}

/** A ring as large as the stud, and a cross, as the proof draws them. */
function Studs({ view }: { view: View }) {
  const d = (view.studs ?? []).map(({ x, y, diameter }) => {
    const r = diameter / 2;
    return `M${x - r} ${-y}a${r} ${r} 0 1 0 ${diameter} 0a${r} ${r} 0 1 0 ${-diameter} 0M${x - r * 0.6} ${-y}h${r * 1.2}M${x} ${-y - r * 0.6}v${r * 1.2}`;
  }).join("");
  return d === "" ? null : <path class="studs" d={d} vector-effect="non-scaling-stroke" />;
}

function Metal({ view }: { view: View }) {
  const metal = view.parts.filter((part) => !part.loose).map((part) => part.d).join("");
  const loose = view.parts.filter((part) => part.loose);
  return (
    <>
      <defs>
        {view.webs.length === 0 ? null : <clipPath id="in-metal"><path d={view.parts.map((part) => part.d).join("")} clip-rule="evenodd" /></clipPath>}
        <pattern id="loose-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform={patternScale}>
          <rect class="hatch-line" width="2.4" height="7" />
        </pattern>
        <pattern id="small-hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform={patternScale}>
          <rect class="hatch-ground" width="5" height="5" />
          <rect class="hatch-line" width="1.6" height="5" />
          <rect class="hatch-line" width="5" height="1.6" />
        </pattern>
      </defs>
      {(view.behind ?? []).map((sheet) => (
        <g key={sheet.layer} class="sheet">
          <path class="metal" d={hanging(sheet.parts).map((part) => part.d).join("")} fill-rule="evenodd" />
          {sheet.parts.filter((part) => part.loose).map((part) => <Loose key={part.d} part={part} />)}
        </g>
      ))}
      <path class="metal" d={metal} fill-rule="evenodd" />
      {openings(view).map((d) => <path key={d} class="small" d={d} fill="url(#small-hatch)" vector-effect="non-scaling-stroke" />)}
      <Ties view={view} />
      <Webs view={view} />
      <Studs view={view} />
      {burntOf(view) === "" ? null : <path class="burnt" d={burntOf(view)} vector-effect="non-scaling-stroke" />}
      {loose.map((part) => <Loose key={part.d} part={part} />)}
    </>
  );
}

// --- both ---

/** What would fall out does not hang. */
export const hanging = (parts: readonly Part[]): Part[] => parts.filter((part) => !part.loose);

/** The entries' own outlines: unseen, until the slip or the pointer means one. */
function Entries({ view }: { view: View }) {
  const meant = store.selection.value.entry;
  const inside = membersInside.value;
  const around = meant === null || inside.length === 0 ? groupsAround.value : [...groupsAround.value, meant];
  const marked = (entry: EntryView): boolean => entry.index === meant || inside.includes(entry.index);
  return (
    <g class="entries">
      {view.entries.map((entry) => (entry.outline === null || !marked(entry) ? null : <path key={`halo ${entry.index}`} class="meant-halo" d={entry.outline} vector-effect="non-scaling-stroke" />))}
      {view.entries.map(({ index, box }) => (box === null || !around.includes(index) ? null : (
        <g key={`group ${index}`}>
          {["group-halo", "group-box"].map((name) => (
            <rect key={name} class={name} data-group={index} x={box[0]} y={-box[3]} width={box[2] - box[0]} height={box[3] - box[1]} vector-effect="non-scaling-stroke" />
          ))}
        </g>
      )))}
      {view.entries.map((entry) =>
        entry.outline === null ? null : (
          <path key={entry.index} data-entry={entry.index} class={marked(entry) ? "entry meant" : "entry"} d={entry.outline}
            vector-effect="non-scaling-stroke" />
        ),
      )}
    </g>
  );
}

export function Scene({ view }: { view: View }) {
  const hangs = store.light.value === "hangs";
  return (
    <>
      {hangs ? <Hanging view={view} d={hanging(view.parts).map((part) => part.d).join("")} /> : <Metal view={view} />}
      <Entries view={view} />
    </>
  );
}
