import {readFileSync, writeFileSync} from "node:fs";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {startSetting, wireSetting} from "../../src/engine/course/course-circuit.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {quickLoudness, quickRateHz} from "../../src/widgets/player/quick-loudness.ts";
import {playedLike, startPhrase} from "../../src/widgets/player/start-benches.ts";
import {countContexts} from "./count-contexts.ts";
import {openLesson} from "./open-lesson.ts";
import {renders} from "./renders.ts";
import {expect, test} from "./site.ts";
import {heldNote, wav} from "./wav.ts";

const ceiling = 10 ** (-1 / 20);

for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor"]) {
  test(`${slug}: before, now and wire are equally loud and under the ceiling`, async ({page}) => {
    // An op-amp with rails costs more than a filter to render.
    test.slow();
    await openLesson(page, slug);
    const played = await renders(page);
    expect(played.map(({voice}) => voice).sort()).toEqual(["before", "now", "wire"]);
    // Measured here by ITU-R BS.1770, whose meters are built to agree within 0.1 LU (EBU Tech 3341).
    const loudnesses = played.map(({samples}) => integratedLoudness(samples, 48_000));
    expect(Math.max(...loudnesses) - Math.min(...loudnesses)).toBeLessThan(0.1);
    for (const {samples} of played) {
      const highest = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
      expect(highest).toBeGreaterThan(0.05);
      expect(highest).toBeLessThanOrEqual(ceiling);
    }
  });
}

test("a thin sound is brought to the loudness of the wire, and the amount is told", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("470p");
  await entry.press("Enter");
  const loudnesses = (await renders(page)).map(({samples}) => integratedLoudness(samples, 48_000));
  expect(Math.max(...loudnesses) - Math.min(...loudnesses)).toBeLessThan(0.1);
  await page.getByRole("button", {name: "Play"}).click();
  await page.getByRole("radio", {name: "wire"}).check();
  await expect(page.locator("bench-player .said")).toHaveText(
    /The wire is played \d+(\.\d+)?\s?dB quieter here, so that louder does not win\./,
  );
  await page.getByRole("switch", {name: "same loudness"}).click();
  await expect(page.locator("bench-player .said")).toContainText("True levels");
});

test("at true levels every voice gets the phrase equally large: a stage with gain is louder than the wire", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await openLesson(page, "06-leg-capacitor");
  await page.getByRole("switch", {name: "same loudness"}).click();
  const loudness = new Map(
    (await renders(page)).map(({voice, samples}) => [voice, integratedLoudness(samples, 48_000)]),
  );
  const [now = NaN, wire = NaN] = [loudness.get("now"), loudness.get("wire")];
  const sound = phraseSamples(startPhrase, quickRateHz);
  const start = startSetting(6);
  // The level one plays at there, on the wire as on the stage: what is heard is the gain of the stage.
  const expected = quickLoudness(start, sound) - quickLoudness(playedLike(wireSetting, start), sound);
  expect(expected).toBeGreaterThan(10);
  expect(Math.abs(now - wire - expected)).toBeLessThan(0.2);
});

test("nothing sounds before the press, and the volume starts low", async ({page}) => {
  const contexts = await countContexts(page);
  await openLesson(page, "01-the-wire");
  await renders(page);
  expect(await contexts()).toEqual([]);
  await expect(page.getByRole("slider", {name: "Volume", exact: true})).toHaveAttribute(
    "aria-valuetext",
    "18 decibels below full",
  );
  await expect(page.getByText("Start low. Headphones off your ears for the first note.")).toBeVisible();
  await page.getByRole("button", {name: "Play"}).click();
  await expect.poll(contexts).toEqual(["running"]);
  await expect(page.getByRole("button", {name: "Stop"})).toBeVisible();
  await page.getByRole("button", {name: "Stop"}).click();
  await expect(page.getByRole("button", {name: "Play"})).toBeVisible();
});

test("a sound of one's own goes through the same circuit", async ({page}) => {
  await openLesson(page, "01-the-wire");
  await page.getByText("In and out").click();
  await page
    .getByLabel(/sound file from this computer/)
    .setInputFiles({name: "tone.wav", mimeType: "audio/wav", buffer: wav(heldNote(440, 2, 44_100), 44_100)});
  await expect(page.locator("bench-player .said")).toContainText("Playing “tone.wav” through the circuit.");
  const now = (await renders(page)).find(({voice}) => voice === "now");
  // Two seconds at the rendering rate, and 440 rising zero crossings in the second in the middle.
  expect(now?.samples.length).toBe(96_000);
  let crossings = 0;
  for (let n = 24_000; n < 72_000; n++) if ((now?.samples[n - 1] ?? 0) < 0 && (now?.samples[n] ?? 0) >= 0) crossings++;
  expect(Math.abs(crossings - 440)).toBeLessThanOrEqual(1);
});

for (const canBeCut of [true, false])
  test(`of a long file only the first half minute is ${canBeCut ? "decoded" : "used where it cannot be decoded in part"}`, async ({
    page,
  }) => {
    await page.addInitScript((canBeCut) => {
      const decoded: number[] = [];
      Object.assign(globalThis, {decoded});
      const decode = BaseAudioContext.prototype.decodeAudioData;
      BaseAudioContext.prototype.decodeAudioData = function (this: BaseAudioContext, bytes: ArrayBuffer) {
        decoded.push(bytes.byteLength);
        if (!canBeCut && decoded.length === 1) return Promise.reject(new DOMException("cut", "EncodingError"));
        return decode.call(this, bytes);
      };
    }, canBeCut);
    await openLesson(page, "01-the-wire");
    await page.getByText("In and out").click();
    const long = test.info().outputPath("long.wav");
    const file = wav(heldNote(440, 300, 8000), 8000);
    writeFileSync(long, file);
    await page.getByLabel(/sound file from this computer/).setInputFiles(long);
    await expect(page.locator("bench-player .said")).toHaveText(
      "Playing “long.wav” through the circuit. Its first 30 seconds are used.",
    );
    expect((await renders(page)).find(({voice}) => voice === "now")?.samples.length).toBe(30 * 48_000);
    const decoded = await page.evaluate(() => (globalThis as unknown as {decoded: number[]}).decoded);
    expect(decoded).toEqual(canBeCut ? [Math.ceil(file.length / 5)] : [Math.ceil(file.length / 5), file.length]);
  });

test("files that cannot be used get a sentence each, and the page stays as it was", async ({page}) => {
  await openLesson(page, "01-the-wire");
  await page.getByText("In and out").click();
  const said = page.locator("bench-player .said");
  const give = (name: string, buffer: Buffer) =>
    page.getByLabel(/sound file from this computer/).setInputFiles({name, mimeType: "audio/wav", buffer});
  await give("notes.wav", readFileSync("README.md"));
  await expect(said).toHaveText("“notes.wav” could not be read as sound. Try a WAV, MP3, OGG or M4A file.");
  await give("empty.wav", Buffer.alloc(0));
  await expect(said).toHaveText("“empty.wav” is empty. Choose a file with sound in it.");
  await give("silent.wav", wav(new Float64Array(48_000), 48_000));
  await expect(said).toHaveText("“silent.wav” is silent. Choose a file with sound in it.");
  // Too large to hand over in memory: the browser opens it from disk, as it would a reader's.
  const hour = test.info().outputPath("hour.wav");
  writeFileSync(hour, wav(new Float64Array(8000 * 3600), 8000));
  await page.getByLabel(/sound file from this computer/).setInputFiles(hour);
  await expect(said).toHaveText(
    "“hour.wav” lasts 60 minutes. Up to 10 can be opened: cut out the half minute you want to hear.",
  );
  expect((await renders(page)).find(({voice}) => voice === "now")?.samples.length).toBeGreaterThan(48_000 * 5);
});

test("what is said of loudness follows the bench after the sound has been stopped", async ({page}) => {
  await openLesson(page, "01-the-wire");
  const said = page.locator("bench-player .said");
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(said).toHaveText(/^Now is played .* quieter here/, {timeout: 60_000});
  await page.getByRole("button", {name: "Stop", exact: true}).click();
  const first = (await said.textContent()) ?? "";
  await page.getByRole("slider", {name: /cable/}).focus();
  await page.keyboard.press("End");
  await expect(said).not.toHaveText(first);
  await expect(said).toHaveText(/^Now is played .* quieter here/);
});
