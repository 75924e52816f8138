// npm run bench: runs every script in this folder and prints a table of the ratios they found. A script prints lines such as
//   ratio response-against-mathjs 640 600
// that is a name without spaces, the ratio, and the least it should be; and, for what is worth knowing but has no mark,
//   figure ladder-of-5-nodes,-microseconds-a-sweep 40
// Status 1 if a ratio misses its mark or a script fails.
import {spawnSync} from "node:child_process";
import {readdirSync} from "node:fs";
import {join} from "node:path";

type Row = Readonly<{script: string; name: string; ratio: number; least: number}>;

const scripts = readdirSync(import.meta.dirname).filter((name) => name.endsWith(".ts") && name !== "all.ts");
const rows: Row[] = [];
const figures: (readonly [string, string])[] = [];
const failed: string[] = [];
for (const script of scripts.sort()) {
  console.log(`\n${script}`);
  const {status, stdout} = spawnSync(process.execPath, [join(import.meta.dirname, script)], {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "inherit"],
  });
  process.stdout.write(stdout);
  if (status !== 0) failed.push(`${script} ended with status ${status}`);
  for (const [, name = "", ratio, least] of stdout.matchAll(/^ratio (\S+) (\S+) (\S+)$/gm)) {
    rows.push({script, name, ratio: Number(ratio), least: Number(least)});
  }
  for (const [, name = "", value = ""] of stdout.matchAll(/^figure (\S+) (\S+)$/gm)) figures.push([name, value]);
}

console.log("\n| figure | |\n| --- | --- |");
for (const [name, value] of figures) console.log(`| ${name.replaceAll(/(?<!1e)-/g, " ")} | ${value} |`);
console.log("\n| what against what | ratio | at least | |\n| --- | --- | --- | --- |");
for (const {script, name, ratio, least} of rows) {
  const held = ratio >= least;
  console.log(`| ${name.replaceAll("-", " ")} | ${ratio.toPrecision(3)} | ${least} | ${held ? "" : "missed"} |`);
  if (!held) failed.push(`${script}: ${name} is ${ratio.toPrecision(3)}, under ${least}`);
}
if (rows.length === 0) failed.push("no script printed a ratio");
for (const sentence of failed) console.log(sentence);
process.exitCode = failed.length === 0 ? 0 : 1;
