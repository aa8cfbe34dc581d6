// SPDX-License-Identifier: GPL-3.0-or-later
// npm test: bundles each test/*.test.ts(x) for node and runs them with node's own test runner.
import { build } from "esbuild";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "holdfast-page-"));
const tests = readdirSync(join(here, "test")).filter((name) => /\.test\.tsx?$/.test(name));
await build({
  entryPoints: tests.map((name) => join(here, "test", name)),
  outdir: folder,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  platform: "node",
  format: "esm",
  target: ["node18"],
  jsx: "automatic",
  jsxImportSource: "preact",
  absWorkingDir: here,
  logLevel: "warning",
});
const done = spawnSync(process.execPath, ["--test", ...readdirSync(folder).map((name) => join(folder, name))], { stdio: "inherit", cwd: here });
rmSync(folder, { recursive: true, force: true });
process.exit(done.status ?? 1);
