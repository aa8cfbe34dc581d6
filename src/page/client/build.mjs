// SPDX-License-Identifier: GPL-3.0-or-later
// node build.mjs [FOLDER]: bundles the page into FOLDER (out): page.js, page.css, index.html, and the
// faces of Debian's fonts-vollkorn when it is installed (without them the page falls back to a serif).
import { build } from "esbuild";
import { copyFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

const here = dirname(fileURLToPath(import.meta.url));
const out = resolve(process.argv[2] ?? join(here, "out"));
const FACES = "/usr/share/fonts/truetype/vollkorn";
const faces = { "Vollkorn-Regular.ttf": "face-regular.ttf", "Vollkorn-SemiBold.ttf": "face-bold.ttf", "Vollkorn-Italic.ttf": "face-italic.ttf" };

mkdirSync(out, { recursive: true });
await build({
  entryPoints: { page: join(here, "src/main.tsx") },
  outdir: out,
  bundle: true,
  minify: true,
  target: ["es2022"],
  format: "iife",
  legalComments: "none",
  jsx: "automatic",
  jsxImportSource: "preact",
  absWorkingDir: here,
  logLevel: "warning",
});
await build({ entryPoints: { page: join(here, "src/style.css") }, outdir: out, bundle: true, minify: true, external: ["*.ttf"], absWorkingDir: here, logLevel: "warning" });
copyFileSync(join(here, "src/index.html"), join(out, "index.html"));
for (const [from, to] of Object.entries(faces))
  if (existsSync(join(FACES, from))) copyFileSync(join(FACES, from), join(out, to));

const sizes = ["page.js", "page.css", "index.html"].map((name) => [name, gzipSync(readFileSync(join(out, name))).length]);
const total = sizes.reduce((sum, [, size]) => sum + size, 0);
const LIMIT = 80 * 1024;
console.log(`page: ${(total / 1024).toFixed(1)} kB gzipped of ${LIMIT / 1024}`);
if (total > LIMIT) {
  console.error("the page has grown over its limit");
  process.exit(1);
}
