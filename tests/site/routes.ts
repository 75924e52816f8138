import {readdirSync, readFileSync} from "node:fs";
import {join, resolve} from "node:path";
import {parseHTML} from "linkedom";

export type Site = Readonly<{folder: string; base: string}>;

const root = join(import.meta.dirname, "..", "..");

/** The two builds that npm test makes; `SITE_FOLDER` stands in for the one at the root. */
export const atRoot: Site = {folder: resolve(root, process.env["SITE_FOLDER"] ?? "dist"), base: "/"};
export const underClass: Site = {folder: join(root, "tests", "output", "dist-class"), base: "/class/"};

/** Every page of a build, as its path under the base: `""`, `"lessons/"`, … So a new page is tested by being there. */
export function routesOf({folder}: Site): readonly string[] {
  const found = readdirSync(folder, {recursive: true, encoding: "utf8"})
    .map((path) => path.replaceAll("\\", "/"))
    .filter((path) => path === "index.html" || path.endsWith("/index.html"))
    .map((path) => path.slice(0, -"index.html".length));
  if (found.length === 0) throw new Error(`no page in ${folder}: build the site first, with npm run build`);
  return found.sort();
}

/** The document that a host sends for `route`, before any script. */
export function documentOf({folder}: Site, route: string): Document {
  return parseHTML(readFileSync(join(folder, route, "index.html"), "utf8")).document;
}
