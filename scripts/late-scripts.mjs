// Text before script: a page reads whole without one, so that its scripts may wait for fonts and text on a slow line.
import {readdir, readFile, writeFile} from "node:fs/promises";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

/** Asks browsers to fetch the scripts of every built page last. */
export function lateScripts() {
  return {
    name: "late-scripts",
    hooks: {
      "astro:build:done": async ({dir}) => {
        const folder = fileURLToPath(dir);
        const files = await readdir(folder, {recursive: true});
        for (const file of files.filter((name) => name.endsWith(".html"))) {
          const path = join(folder, file);
          const page = await readFile(path, "utf8");
          await writeFile(
            path,
            page.replaceAll('<script type="module" src=', '<script type="module" fetchpriority="low" src='),
          );
        }
      },
    },
  };
}
