// SPDX-License-Identifier: GPL-3.0-or-later
// The little of node that the tests use.
declare module "node:test" {
  export function test(name: string, run: () => void | Promise<void>): void;
}
declare module "node:assert/strict" {
  const assert: {
    equal: (actual: unknown, expected: unknown, message?: string) => void;
    deepEqual: (actual: unknown, expected: unknown, message?: string) => void;
    ok: (value: unknown, message?: string) => void;
    match: (value: string, pattern: RegExp, message?: string) => void;
  };
  export default assert;
}
declare module "node:fs" {
  export function readFileSync(path: string, encoding: "utf8"): string;
  export function readdirSync(path: string): string[];
  export function existsSync(path: string): boolean;
}
declare module "node:child_process" {
  export function spawnSync(command: string, words: string[], options: { input?: string; encoding: "utf8" }): { stdout: string; status: number | null };
}
