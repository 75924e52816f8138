import astro from "eslint-plugin-astro";
import tseslint from "typescript-eslint";

export default tseslint.config(
  {
    ignores: [
      "dist/",
      ".astro/",
      "tests/output/",
      "test-results/",
      "src/layouts/early.js",
      "src/engine/realtime/generated/",
    ],
  },
  ...tseslint.configs.strict,
  ...astro.configs.recommended,
  {
    rules: {
      "no-console": "error",
      "prefer-const": "error",
      eqeqeq: "error",
      // Where an assertion holds, the comment that switches the rule off says why.
      "@typescript-eslint/no-non-null-assertion": "error",
      "@typescript-eslint/no-unused-vars": ["error", {argsIgnorePattern: "^_", varsIgnorePattern: "^_"}],
      "no-restricted-syntax": [
        "error",
        {selector: "ExportDefaultDeclaration", message: "Export it by its name."},
        {
          selector: "CallExpression[callee.name='eval'], NewExpression[callee.name='Function']",
          message: "No code from text.",
        },
      ],
    },
  },
  {
    files: ["*.config.{js,mjs,ts}", "tests/bench/**", "scripts/**"],
    rules: {"no-restricted-syntax": "off", "no-console": "off"},
  },
  {files: ["tests/**"], rules: {"@typescript-eslint/no-non-null-assertion": "off"}},
  {files: ["**/*.astro"], rules: {"no-restricted-syntax": "off"}},
);
