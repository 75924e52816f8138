// npm start: installs if needed, builds the site, serves it and prints the address.
import {installed, root, run} from "./project.mjs";
import {servedFolder} from "./served-folder.mjs";
import {join} from "node:path";

await installed();
const base = process.env.BASE_PATH ?? "/";
const status = await run("astro", ["build", "--silent"]);
if (status !== 0) process.exit(status);
const wanted = Number(process.env.PORT ?? 4321);
const {address} = await servedFolder(join(root, "dist"), {base, port: wanted});
console.log(`\nPart by Part is at ${address}\nStop it with Ctrl+C.`);
