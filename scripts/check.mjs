// npm run check: formatting, lint and types. Says how many of them passed.
import {installed, run} from "./project.mjs";

const steps = [
  {name: "formatting", command: ["prettier", "--check", "--log-level", "warn", "."]},
  {name: "lint", command: ["eslint", "--max-warnings", "0", "."]},
  {name: "types of the engine", command: ["tsc", "-p", "src/engine"]},
  {name: "types of the site", command: ["astro", "check", "--minimumFailingSeverity", "warning"]},
];

/** Runs every step, even after one that failed. Returns how many passed and failed. */
export async function check() {
  const tally = {passed: 0, failed: 0};
  for (const {name, command} of steps) {
    const [program, ...args] = command;
    const status = await run(program, args);
    tally[status === 0 ? "passed" : "failed"]++;
    console.log(`${status === 0 ? "ok" : "NOT OK"}: ${name}`);
  }
  return tally;
}

if (import.meta.filename === process.argv[1] || process.argv[1]?.endsWith("check.mjs")) {
  await installed();
  const {failed} = await check();
  process.exitCode = failed === 0 ? 0 : 1;
}
