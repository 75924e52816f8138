import mdx from "@astrojs/mdx";
import {defineConfig} from "astro/config";
import {accuracyInBuild} from "./scripts/accuracy.mjs";
import {lateScripts} from "./scripts/late-scripts.mjs";
import {scriptGroups} from "./scripts/script-groups.mjs";

// Hosted below the root? BASE_PATH=/class/ npm run build
export default defineConfig({
  base: process.env.BASE_PATH ?? "/",
  trailingSlash: "always",
  integrations: [mdx(), accuracyInBuild(), lateScripts()],
  devToolbar: {enabled: false},
  build: {inlineStylesheets: "always"},
  vite: {
    build: {assetsInlineLimit: 0},
    environments: {client: {build: {rolldownOptions: {output: {codeSplitting: scriptGroups}}}}},
  },
});
