// What every command needs: the project's folder, its pinned Node, and packages that match the lockfile.
import {spawn} from "node:child_process";
import {existsSync, statSync} from "node:fs";
import {delimiter, dirname, join} from "node:path";
import {fileURLToPath} from "node:url";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const binaries = join(root, "node_modules", ".bin");
const windows = process.platform === "win32";

/** The environment in which the packages' programs run on the pinned Node. */
export const environment = (extra = {}) => ({
  ...process.env,
  ASTRO_TELEMETRY_DISABLED: "1",
  ...extra,
  PATH: `${binaries}${delimiter}${process.env.PATH ?? ""}`,
});

/** Runs a program to its end. Resolves to its exit status; its output goes where `output` says ("inherit" by default). */
export function run(command, args, {env = {}, output = "inherit"} = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, {
      cwd: root,
      env: environment(env),
      stdio: ["ignore", output, output],
      shell: windows,
    });
    child.on("error", reject);
    child.on("exit", (status) => resolve(status ?? 1));
  });
}

/** Installs the packages of the lockfile if they are missing or older than it. */
export async function installed() {
  const mark = join(root, "node_modules", ".package-lock.json");
  const lock = join(root, "package-lock.json");
  if (existsSync(mark) && existsSync(join(binaries, "node")) && statSync(mark).mtimeMs >= statSync(lock).mtimeMs)
    return;
  console.log("Installing the packages of package-lock.json …");
  const status = await run("npm", ["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
  if (status !== 0) throw new Error("npm ci failed; its own message stands above.");
}
