import {posix} from "node:path";
import type {ProjectFile} from "./project-files.ts";

// From left to right: a file imports from its own room and from those before it.
const rooms = ["engine", "widgets", "lessons", "layouts", "pages"] as const;
const lines =
  /(?:^|[\s;}])(?:import|export)\s*(?:[\w*{][^"';]*?\sfrom\s*)?["']([^"']+)["']|import\(\s*["']([^"']+)["']/g;

/** The specifiers that a file imports or exports from, statically or on need. */
export function importsOf({text}: ProjectFile): readonly string[] {
  return [...text.matchAll(lines)].map(([, fixed, onNeed]) => fixed ?? onNeed ?? "");
}

/** One sentence for each import that points right, or that takes the engine out of its room. */
export function wrongImports(file: ProjectFile): readonly string[] {
  const here = roomOf(file.path);
  if (here === -1) return [];
  return importsOf(file)
    .filter((specifier) => {
      const inside = specifier.startsWith(".");
      const target = inside ? roomOf(posix.join(posix.dirname(file.path), specifier)) : -1;
      if (rooms[here] === "engine") return !inside || target !== here;
      return target > here;
    })
    .map((specifier) => `${file.path} imports ${specifier}`);
}

function roomOf(path: string): number {
  const [, room] = /^src\/([^/]+)\//.exec(path) ?? [];
  return rooms.findIndex((each) => each === room);
}
