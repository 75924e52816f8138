// Text before script: a page reads whole without one, so that its scripts begin once it has been painted.
import {readdir, readFile, writeFile} from "node:fs/promises";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

const moduleTag = /<script type="module" src="([^"]+)"><\/script>/g;

/** Has the scripts of every built page fetched after its first paint; when all have run, the page's root is marked `data-alive`. */
export function lateScripts() {
  return {
    name: "late-scripts",
    hooks: {
      "astro:build:done": async ({dir}) => {
        const folder = fileURLToPath(dir);
        const files = await readdir(folder, {recursive: true});
        for (const file of files.filter((name) => name.endsWith(".html"))) {
          const path = join(folder, file);
          await writeFile(path, startedLate(await readFile(path, "utf8")));
        }
      },
    },
  };
}

function startedLate(page) {
  const addresses = [...new Set(Array.from(page.matchAll(moduleTag), ([, address]) => address))];
  const start = `<script>${starter(addresses)}</script>`;
  return page.replaceAll(moduleTag, "").replace("</body>", () => `${start}</body>`);
}

// A hidden page is not painted: then the clock starts what the painting would have.
const starter = (addresses) => `{
let begun;
const begin = () => {
  begun ??= Promise.all(${JSON.stringify(addresses)}.map((address) => import(address)));
  begun.then(() => (document.documentElement.dataset.alive = ""));
};
requestAnimationFrame(() => setTimeout(begin));
setTimeout(begin, 500);
}`;
