// SPDX-License-Identifier: GPL-3.0-or-later
import js from "@eslint/js";
import ts from "typescript-eslint";

export default ts.config(
  { ignores: ["node_modules/", "out/"] },
  js.configs.recommended,
  {
    files: ["src/**/*.ts", "src/**/*.tsx", "test/**/*.ts", "test/**/*.tsx"],
    extends: [ts.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: new URL(".", import.meta.url).pathname } },
    rules: {
      eqeqeq: "error",
      "no-console": "error",
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
    },
  },
  {
    files: ["*.mjs", "*.js", "dev/*.mjs"],
    languageOptions: { globals: { process: "readonly", console: "readonly", Buffer: "readonly", URL: "readonly", setTimeout: "readonly", setInterval: "readonly", clearInterval: "readonly", fetch: "readonly" } },
  },
);
