// Lesson 10's level slider dragged through its stops in the built site: frame times as they come and with the processor slowed
// four times, and what a step takes of the main thread; and in Node, the sweep and the cycle that a worker works out for it.
import {existsSync} from "node:fs";
import {join, resolve} from "node:path";
import {chromium} from "@playwright/test";
import {servedFolder} from "../../scripts/served-folder.mjs";
import {startSetting} from "../../src/engine/course/course-circuit.ts";
import {steadyCycle} from "../../src/engine/analysis/steady-cycle.ts";
import {levelSweep} from "../../src/engine/analysis/level-sweep.ts";
import {circuitOf} from "../../src/widgets/bench-state/curves.ts";
import {curveLevels} from "../../src/widgets/bench-state/level-curve.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const milliseconds = (seconds: number) => (1000 * seconds).toFixed(1);
const circuit = circuitOf(startSetting(10));
const openA = {frequencyHz: 110, peakVolts: 0.3};
const coarse = {input: "p", points: 64, stepsPerPoint: 2};
const sweep = shortestSeconds(() => levelSweep(circuit, "o", openA.frequencyHz, curveLevels, coarse), 5);
const cycle = shortestSeconds(() => steadyCycle(circuit, openA, ["p", "o"], 128, 2), 5);
console.log(`figure level-sweep-of-${curveLevels.length},-milliseconds ${milliseconds(sweep)}`);
console.log(`figure drawn-cycle,-milliseconds ${milliseconds(cycle)}`);

const stops = [5, 6, 7, 6, 5, 4, 3, 2, 1, 0, 1, 2, 3, 4, 5, 6, 7, 6, 5, 4, 3, 2, 1, 0];

/** Moves the slider through the stops, one each tenth of a second; the milliseconds between frames meanwhile. */
const drag = async (through: readonly number[]) => {
  const slider = document.querySelector<HTMLInputElement>("[data-control=phraseLevel] input[type=range]");
  if (!slider) throw new Error("lesson 10 has a phrase level");
  const frames: number[] = [];
  let last = performance.now();
  let going = true;
  const tick = (now: number) => {
    frames.push(now - last);
    last = now;
    if (going) requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
  for (const stop of through) {
    slider.value = String(stop);
    slider.dispatchEvent(new Event("input", {bubbles: true}));
    await new Promise((done) => setTimeout(done, 100));
  }
  going = false;
  return frames.slice(2).sort((a, b) => a - b);
};

const folder = resolve(process.env["SITE_FOLDER"] ?? join(import.meta.dirname, "..", "..", "dist"));
if (existsSync(join(folder, "lessons"))) await browse();
else console.log(`frames are left out: no site is built in ${folder}`);

async function browse() {
  const {address, close} = await servedFolder(folder, {base: "/"});
  const executablePath = process.env["CHROMIUM"];
  const browser = await chromium.launch({args: ["--no-sandbox"], ...(executablePath ? {executablePath} : {})});
  const page = await browser.newPage({viewport: {width: 1440, height: 900}});
  await page.goto(`${address}lessons/10-two-diodes/`);
  await page.getByRole("button", {name: "Carry on without one"}).click();
  await page.getByRole("button", {name: "phrase level"}).click();
  await page.getByRole("slider", {name: /phrase level/}).focus();
  await page.locator("clipping-figure").scrollIntoViewIfNeeded();
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", {timeDomain: "threadTicks"});
  const spent = async () => {
    const {metrics} = await session.send("Performance.getMetrics");
    const of = (name: string) => metrics.find((metric) => metric.name === name)?.value ?? Number.NaN;
    return of("ScriptDuration") + of("LayoutDuration") + of("RecalcStyleDuration");
  };
  // Once through, so that every stop is known; then until sounds and sentences of the last one are done.
  await page.evaluate(drag, stops);
  await page.getByText(/The phrase is [\d.]+/).waitFor({timeout: 120_000});
  for (const slowed of [1, 4]) {
    await session.send("Emulation.setCPUThrottlingRate", {rate: slowed});
    const before = await spent();
    const frames = await page.evaluate(drag, stops);
    const perStep = ((await spent()) - before) / stops.length;
    const at = (share: number) => (frames[Math.floor(share * frames.length)] ?? Number.NaN).toFixed(1);
    const name = `dragged-level${slowed === 1 ? "" : `,-processor-slowed-${slowed}-times`}`;
    console.log(`figure ${name},-median-frame-in-milliseconds ${at(0.5)}`);
    console.log(`figure ${name},-95th-percentile-in-milliseconds ${at(0.95)}`);
    if (slowed === 1) console.log(`figure ${name},-script-and-layout-a-step-in-milliseconds ${milliseconds(perStep)}`);
  }
  await browser.close();
  close();
}
