import {readFileSync} from "node:fs";
import {basename, join} from "node:path";
import {expect, test} from "vitest";
import {projectFiles, projectRoot} from "./project-files.ts";

const files = projectFiles();
const source = files.filter(({path}) => path.startsWith("src/"));

const contentOf = (path: string) => readFileSync(join(projectRoot, path), "utf8");
const asked = JSON.parse(contentOf("package.json")) as Record<
  "dependencies" | "devDependencies",
  Record<string, string>
>;
const packages = {...asked.dependencies, ...asked.devDependencies};

test("there is a house to look at", () => {
  expect(source.length).toBeGreaterThan(50);
});

test("files are named in the house's way", () => {
  const kebab =
    /^[a-z0-9]+(-[a-z0-9]+)*(\.(element|worklet|worker|test|reference\.test|spec|config|d))?\.(ts|mts|mjs|js|css|c|py)$/;
  const wrong = files
    .map(({path}) => path)
    .filter((path) => {
      const name = basename(path);
      if (/\.(ts|mts|mjs|js|css|c|py)$/.test(name) && !/^\[\w+\]|^[a-z0-9]+\.[a-z]+\.ts$/.test(name))
        return !kebab.test(name);
      if (name.endsWith(".mdx")) return !/^\d\d(-[a-z0-9]+)+\.mdx$/.test(name);
      if (name.endsWith(".astro")) {
        return path.startsWith("src/pages/")
          ? !/^(\[\w+\]|[a-z0-9-]+)\.astro$/.test(name)
          : !/^[A-Z][A-Za-z]+\.astro$/.test(name);
      }
      return false;
    });
  expect(wrong).toEqual([]);
});

test("no file names a place on somebody's machine", () => {
  const place = /(?:^|[\s"'`(=])(\/(?:home|root|Users|work|tmp)\/\w[^\s"'`)]*|[A-Z]:\\\w+)/m;
  expect(files.flatMap(({path, text}) => (place.test(text) ? [`${path}: ${place.exec(text)?.[1]}`] : []))).toEqual([]);
});

test("the source exports by name", () => {
  const wrong = source.filter(({path, text}) => /\.(ts|js)$/.test(path) && /^export default\b/m.test(text));
  expect(wrong.map(({path}) => path)).toEqual([]);
});

test("the engine names no browser, no clock and no unseeded random", () => {
  const word =
    /\b(document|window|navigator|localStorage|fetch|Date|performance|setTimeout|requestAnimationFrame)\s*[.(]|Math\.random|\bprocess\./;
  const bare = (text: string) => text.replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, "");
  const wrong = source.filter(({path, text}) => path.startsWith("src/engine/") && word.test(bare(text)));
  expect(wrong.map(({path, text}) => `${path} names ${word.exec(bare(text))?.[0]}`)).toEqual([]);
});

test("the lockfile holds no registry's address", () => {
  const lock = contentOf("package-lock.json");
  expect(lock).not.toMatch(/"resolved"/);
});

test("every package is asked for in one exact version", () => {
  expect(Object.entries(packages).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
});

test("DEVELOPERS.md gives a reason for every package", () => {
  const guide = contentOf("DEVELOPERS.md");
  expect(Object.keys(packages).filter((name) => !guide.includes(`\`${name}\``))).toEqual([]);
});
