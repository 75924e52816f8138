// Runs one of the packages' programs on the pinned Node: node scripts/with-node.mjs astro dev
import {installed, run} from "./project.mjs";

const [command, ...args] = process.argv.slice(2);
if (!command) throw new Error("name a program, as in: node scripts/with-node.mjs astro dev");
await installed();
process.exitCode = await run(command, args);
