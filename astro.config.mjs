import mdx from "@astrojs/mdx";
import {defineConfig} from "astro/config";

// Hosted below the root? BASE_PATH=/class/ npm run build
export default defineConfig({
  base: process.env.BASE_PATH ?? "/",
  trailingSlash: "always",
  integrations: [mdx()],
  devToolbar: {enabled: false},
  build: {inlineStylesheets: "auto"},
  vite: {build: {assetsInlineLimit: 0}},
});
