// SPDX-License-Identifier: GPL-3.0-or-later
// The recipes of examples/ and, where the command is built (HOLDFAST), its starters, as plain trees.
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import type { Tree } from "../src/api";

declare const process: { env: Record<string, string | undefined>; cwd: () => string };
const TOP = `${process.cwd()}/../../..`;
const HOLDFAST = process.env["HOLDFAST"] ?? `${TOP}/build/holdfast`;
const READ = "import json, sys, yaml; print(json.dumps(yaml.load(sys.stdin.read(), yaml.BaseLoader)))";

export function tree(text: string): Tree {
  const done = spawnSync("/usr/bin/python3", ["-c", READ], { input: text, encoding: "utf8" });
  return JSON.parse(done.stdout) as Tree;
}

/** What the core tells the page of kinds and fields. */
export const schema = (): Tree => JSON.parse(spawnSync(HOLDFAST.replace(/[^/]*$/, "tools/recipe-docs"), ["--kinds"], { encoding: "utf8" }).stdout) as Tree;

export function recipes(): [string, Tree][] {
  const folder = `${TOP}/examples`;
  const out: [string, Tree][] = readdirSync(folder).filter((name) => name.endsWith(".yaml")).sort()
    .map((name) => [name, tree(readFileSync(`${folder}/${name}`, "utf8"))]);
  if (!existsSync(HOLDFAST)) return out;
  for (const kind of ["name", "plate", "house-number", "badge", "stake", "gate-arch", "initial", "monogram"]) {
    const text = spawnSync(HOLDFAST, ["new", kind], { encoding: "utf8" }).stdout;
    out.push([`new ${kind}`, tree(text)]);
  }
  return out;
}
