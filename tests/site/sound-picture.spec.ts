import type {Page} from "@playwright/test";
import {box, highestDb, highestHz, lowestDb, lowestHz} from "../../src/widgets/sound-picture/lines.ts";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";
import {heldNote, wav} from "./wav.ts";

const noteHz = 441;
type Point = readonly [number, number];

/** What is drawn as one line at this moment. */
async function drawn(page: Page, line: string): Promise<Point[]> {
  const data = (await page.locator(`sound-picture [data-line="${line}"]`).getAttribute("d")) ?? "";
  return data
    .slice(1)
    .split("L")
    .map((point) => point.split(" ").map(Number) as unknown as Point);
}
const highest = (points: readonly Point[]) => points.reduce((best, point) => (point[1] < best[1] ? point : best));

async function playNote(page: Page, slug: string) {
  await openLesson(page, slug);
  await page.getByText("In and out").click();
  await page
    .getByLabel(/sound file from this computer/)
    .setInputFiles({name: "note.wav", mimeType: "audio/wav", buffer: wav(heldNote(noteHz, 2, 48_000), 48_000)});
  await expect(page.locator("bench-player .said")).toContainText("Playing “note.wav”");
  await page.getByText("In and out").click();
  await page.getByText("Watch", {exact: true}).click();
  await page.getByRole("button", {name: "Play", exact: true}).click();
}

test("a held note stands where it is in the spectrum, going in and coming out, and still in the waveform", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await playNote(page, "01-the-wire");
  const sizes = page.locator("sound-picture .sizes");
  // Peak 1 stands for the phrase level of the lesson, 300 mV, of which the guitar volume takes a little.
  await expect(sizes).toHaveText(/In: peak 300\smV, 2[01]0\smV rms\. Out: peak (290|300)\smV/, {timeout: 60_000});
  for (const side of ["in", "out"]) {
    const [x, y] = highest(await drawn(page, `spectrum ${side}`));
    const hertz = lowestHz * (highestHz / lowestHz) ** (x / box.width);
    // A bin of 8192 samples at the device's rate is 6 Hz wide at most.
    expect(Math.abs(hertz - noteHz), `${side}: ${hertz} Hz`).toBeLessThan(6);
    const db = highestDb - ((highestDb - lowestDb) * y) / box.height;
    // 0.3 V of peak is −10.5 dB; between two bins a Blackman window hides 1.1 dB; the guitar volume takes a little.
    expect(db).toBeGreaterThan(-12);
    expect(db).toBeLessThan(-10);
  }
  const first = await drawn(page, "wave in");
  for (let look = 0; look < 5; look++) {
    await page.waitForTimeout(130);
    const now = await drawn(page, "wave in");
    const moved = Math.max(...now.map(([, y], k) => Math.abs(y - (first[k]?.[1] ?? NaN))));
    // A sample beside the crossing moves a sine of this size by a thirtieth of the picture's height.
    expect(moved).toBeLessThan(box.height / 15);
  }
  await expect(page.locator("sound-picture [data-word='edge above']")).toHaveText(/500\smV/);
});

test("the line that comes out is another one when another voice is chosen, and rests when the sound stops", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await playNote(page, "10-two-diodes");
  const size = async () => {
    const words = (await page.locator("sound-picture .sizes").textContent()) ?? "";
    const [, number = "NaN", unit = ""] = /Out: peak ([\d.]+)\s(m?)V/.exec(words) ?? [];
    return Number(number) / (unit === "m" ? 1000 : 1);
  };
  // Half a volt of two diodes' limit, and half of the rails without them.
  await expect.poll(size, {timeout: 60_000}).toBeGreaterThan(0.3);
  expect(await size()).toBeLessThan(1);
  await page.getByRole("radio", {name: "before"}).check();
  await expect.poll(size, {timeout: 20_000}).toBeGreaterThan(1.5);
  await page.getByRole("button", {name: "Stop"}).click();
  await page.waitForTimeout(300);
  const rested = await drawn(page, "wave out");
  await page.waitForTimeout(300);
  expect(await drawn(page, "wave out")).toEqual(rested);
});

test("without motion there are a few pictures a second", async ({page}) => {
  await page.emulateMedia({reducedMotion: "reduce"});
  await openLesson(page, "01-the-wire");
  await page.getByText("Watch", {exact: true}).click();
  await page.getByRole("button", {name: "Play", exact: true}).click();
  const line = page.locator("sound-picture [data-line='wave in']");
  await expect(line).toHaveAttribute("d", /L/);
  const changes = await line.evaluate(
    (path) =>
      new Promise<number>((resolve) => {
        let count = 0;
        new MutationObserver(() => count++).observe(path, {attributes: true});
        setTimeout(() => resolve(count), 2000);
      }),
  );
  expect(changes).toBeGreaterThan(0);
  // Every 400 ms.
  expect(changes).toBeLessThanOrEqual(5);
});

test("nothing of the picture is fetched before it is unfolded", async ({page}) => {
  const asked: string[] = [];
  page.on("request", (request) => asked.push(request.url()));
  await openLesson(page, "01-the-wire");
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
  expect(asked.filter((address) => address.includes("sound-picture"))).toEqual([]);
  await page.getByText("Watch", {exact: true}).click();
  await expect.poll(() => asked.some((address) => address.includes("sound-picture"))).toBe(true);
});

test("the words never say less of a note than is drawn of it", async ({page}) => {
  test.setTimeout(60_000);
  await openLesson(page, "01-the-wire");
  await page.getByText("Watch", {exact: true}).click();
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(page.locator("sound-picture .sizes")).toHaveText(/^In: peak/, {timeout: 30_000});
  const looks = await page.evaluate(async () => {
    const text = (selector: string) => document.querySelector(`sound-picture ${selector}`)?.textContent ?? "";
    const volts = (words: string) => {
      const [, number, unit] = /([\d.]+)\s(mV|V)/.exec(words) ?? [];
      return Number(number) * (unit === "mV" ? 1e-3 : 1);
    };
    const seen: {drawn: number; told: number}[] = [];
    for (let look = 0; look < 80; look++) {
      await new Promise((resolve) => setTimeout(resolve, 50));
      const line = document.querySelector('sound-picture [data-line="wave out"]')?.getAttribute("d") ?? "";
      const ys = line
        .slice(1)
        .split("L")
        .map((point) => Number(point.split(" ")[1]));
      const drawn = Math.max(...ys.map((y) => Math.abs(1 - y / 48))) * volts(text('[data-word="edge above"]'));
      seen.push({drawn, told: volts(text(".sizes").replace(/.*Out: /, ""))});
    }
    return seen;
  });
  // A peak may grow by a tenth before it is told, and two figures are printed.
  for (const {drawn, told} of looks) expect(drawn).toBeLessThan(1.17 * told);
  expect(Math.max(...looks.map(({told}) => told)) / Math.min(...looks.map(({told}) => told))).toBeGreaterThan(2);
});
