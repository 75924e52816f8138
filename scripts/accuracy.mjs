// The accuracy table: what each outside check expected and what the engine made of it.
import {cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {dirname, join} from "node:path";
import {fileURLToPath} from "node:url";
import {root} from "./project.mjs";

const parts = join(root, "tests", "output", "accuracy");
const whole = join(root, "tests", "output", "accuracy.json");

/** Joins the tables that the test files left in tests/output/accuracy into tests/output/accuracy.json, by table and id. */
export function gatherAccuracy() {
  if (!existsSync(parts)) return;
  const tables = readdirSync(parts).filter((name) => name.endsWith(".json"));
  const rows = tables.sort().flatMap((name) => {
    const table = name.slice(0, -".json".length);
    return JSON.parse(readFileSync(join(parts, name), "utf8")).map((row) => ({table, ...row}));
  });
  writeFileSync(whole, `${JSON.stringify(rows, undefined, 1)}\n`);
  console.log(`accuracy table: ${rows.length} outside checks`);
}

/** Puts the table of the last test run into the build, as about/checks/accuracy.json, where there is one. */
export const accuracyInBuild = () => ({
  name: "accuracy-table",
  hooks: {
    "astro:build:done": ({dir}) => {
      if (!existsSync(whole)) return;
      const target = join(fileURLToPath(dir), "about", "checks", "accuracy.json");
      mkdirSync(dirname(target), {recursive: true});
      cpSync(whole, target);
    },
  },
});
