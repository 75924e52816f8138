// Makes src/styles/fonts from the full typefaces (SIL Open Font License): only the characters the course writes, only the
// weights it uses. Run by hand after a change of either: npm run fonts
import {mkdir, readFile, writeFile} from "node:fs/promises";
import {createRequire} from "node:module";
import subsetFont from "subset-font";

const require = createRequire(import.meta.url);
const ascii = Array.from({length: 95}, (_, index) => String.fromCharCode(32 + index)).join("");
const latin = ascii + "\u00a0°±²³µ·×÷½¼¾ÄÖÜäöüßéèêëàâçñ‘’“”–—…−•†‐‑\u2009\u2012\u202f′″«»§©®";
const greek = "ΩπτωΔφαβμ";
const weights = {wght: {min: 400, max: 700}};

const faces = [
  ["source-serif-4/files/source-serif-4-latin-wght-normal", "serif-latin", latin, weights],
  ["source-serif-4/files/source-serif-4-greek-wght-normal", "serif-greek", greek, weights],
  ["source-serif-4/files/source-serif-4-latin-wght-italic", "serif-italic", ascii + "\u00a0’–", {wght: 400}],
  ["source-serif-4/files/source-serif-4-greek-wght-italic", "serif-greek-italic", greek, {wght: 400}],
  ["commissioner/files/commissioner-latin-wght-normal", "label-latin", latin, weights],
  ["commissioner/files/commissioner-greek-wght-normal", "label-greek", greek, weights],
];

const folder = new URL("../src/styles/fonts/", import.meta.url);
await mkdir(folder, {recursive: true});
for (const [source, name, characters, variationAxes] of faces) {
  const full = await readFile(require.resolve(`@fontsource-variable/${source}.woff2`));
  const subset = await subsetFont(full, characters, {targetFormat: "woff2", variationAxes});
  await writeFile(new URL(`${name}.woff2`, folder), subset);
  process.stdout.write(`${name}: ${full.length} to ${subset.length} bytes\n`);
}
