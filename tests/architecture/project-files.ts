import {readdirSync, readFileSync} from "node:fs";
import {join, relative, sep} from "node:path";

export const projectRoot = join(import.meta.dirname, "..", "..");

export type ProjectFile = Readonly<{path: string; text: string}>;

const made = new Set(["node_modules", "dist", ".git", ".astro", "output", "reference", "test-results", "generated"]);
const written = /\.(ts|mts|mjs|js|astro|mdx|md|css|json|c|py|sh)$|\/run$/;

/** Every file that somebody wrote below `folder`, with its path from the project's root, written with slashes. */
export function projectFiles(folder = "."): readonly ProjectFile[] {
  return readdirSync(join(projectRoot, folder), {withFileTypes: true}).flatMap((entry): readonly ProjectFile[] => {
    const full = join(projectRoot, folder, entry.name);
    const path = relative(projectRoot, full).split(sep).join("/");
    if (entry.isDirectory()) return made.has(entry.name) ? [] : projectFiles(path);
    if (!written.test(`/${path}`) || entry.name === "package-lock.json") return [];
    return [{path, text: readFileSync(full, "utf8")}];
  });
}
