// Text before script: a page reads whole without one, so that its scripts begin once it has been painted.
import {readdir, readFile, writeFile} from "node:fs/promises";
import {join, posix} from "node:path";
import {fileURLToPath} from "node:url";

const moduleTag = /<script type="module" src="([^"]+)"><\/script>/g;
const staticImport = /(?:from|import)\s*["'](\.[^"']+)["']/g;
/** What is left of a script whose modules all travel in groups: the groups' names. */
const onlyImports = /^(?:import\s*"[^"]+";?\s*)+$/;

/**
 * Has the scripts of every built page fetched after its first paint, with all that they import at once, not one behind the other;
 * when all have run, the page's root is marked `data-alive`.
 */
export function lateScripts() {
  return {
    name: "late-scripts",
    hooks: {
      "astro:build:done": async ({dir}) => {
        const folder = fileURLToPath(dir);
        const files = await readdir(folder, {recursive: true});
        const scripts = new Map();
        const groupsOf = new Map();
        for (const file of files.filter((name) => name.endsWith(".js"))) {
          const text = await readFile(join(folder, file), "utf8");
          const imported = Array.from(text.matchAll(staticImport), ([, address]) => address);
          const names = imported.map((address) => posix.basename(address));
          if (onlyImports.test(text)) groupsOf.set(posix.basename(file), names);
          scripts.set(posix.basename(file), names);
        }
        for (const file of files.filter((name) => name.endsWith(".html"))) {
          const path = join(folder, file);
          await writeFile(path, startedLate(await readFile(path, "utf8"), scripts, groupsOf));
        }
      },
    },
  };
}

function startedLate(page, scripts, groupsOf) {
  const addresses = [...new Set(Array.from(page.matchAll(moduleTag), ([, address]) => address))];
  const tags = addresses.map((address) => posix.basename(address));
  const names = [...new Set(tags.flatMap((name) => groupsOf.get(name) ?? [name]))];
  const behind = [];
  for (const name of names.flatMap((each) => scripts.get(each) ?? [])) if (!names.includes(name)) add(name);
  function add(name) {
    if (behind.includes(name)) return;
    behind.push(name);
    for (const further of scripts.get(name) ?? []) add(further);
  }
  const folder = addresses[0]?.slice(0, -(tags[0]?.length ?? 0)) ?? "";
  const start = `<script>${starter(folder, names, behind)}</script>`;
  return page.replaceAll(moduleTag, "").replace("</body>", () => `${start}</body>`);
}

// A hidden page is not painted: then the clock starts what the painting would have. A button pressed before its script is there is
// pressed again once it is: no press is lost, none counts twice, and the first sound waits for nothing but what it needs.
const starter = (folder, names, behind) => `{
const at = (name) => ${JSON.stringify(folder)} + name;
let begun, early;
const keep = ({target}) => {
  const button = target.closest("button[type=button]");
  let host = button;
  while (host && !host.localName.includes("-")) host = host.parentElement;
  if (button && !customElements.get(host?.localName)) early = button;
};
addEventListener("click", keep, true);
const begin = () => {
  if (begun) return;
  begun = true;
  for (const name of ${JSON.stringify(behind)}) document.head.append(Object.assign(document.createElement("link"), {rel: "modulepreload", href: at(name)}));
  Promise.all(${JSON.stringify(names)}.map((name) => import(at(name)))).then(() => {
    document.documentElement.dataset.alive = "";
    removeEventListener("click", keep, true);
    early?.click();
  });
};
addEventListener("pointerdown", begin, {capture: true, once: true});
requestAnimationFrame(() => setTimeout(begin));
setTimeout(begin, 500);
}`;
