import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {countContexts} from "./count-contexts.ts";
import {renders} from "./renders.ts";
import {expect, test} from "./site.ts";
import {tabTo} from "./tab-to.ts";

/** A whole pedal takes seconds to work out, and several times as many where other work goes on beside. */
const patient = {timeout: 120_000};
const wireTold = "The wire is the quieter one; the other is turned down to it.";
const overdriveTold = /The overdrive is played \d+(\.\d+)?\s?dB quieter here, so that louder does not win\./;

test("one press plays the wire, and a switch the overdrive, as loud", async ({page}) => {
  test.setTimeout(300_000);
  const contexts = await countContexts(page);
  await page.goto("");
  const said = page.locator("bench-player .said");
  await expect(said).toHaveText("Start low. Headphones off your ears for the first note.");
  await expect(page.getByRole("slider", {name: "Volume", exact: true})).toHaveAttribute(
    "aria-valuetext",
    "18 decibels below full",
  );
  expect(await contexts()).toEqual([]);
  await page.getByRole("button", {name: "Play"}).click();
  await expect.poll(contexts).toEqual(["running"]);
  await expect(said).toHaveText(wireTold, patient);
  await page.getByRole("radio", {name: "overdrive"}).check();
  await expect(said).toHaveText(overdriveTold, patient);

  const played = await renders(page);
  expect(played.map(({voice}) => voice).sort()).toEqual(["now", "wire"]);
  // Measured here by ITU-R BS.1770, whose meters are built to agree within 0.1 LU (EBU Tech 3341).
  const [one = NaN, other = NaN] = played.map(({samples}) => integratedLoudness(samples, 48_000));
  expect(Math.abs(one - other)).toBeLessThan(0.1);
  // A pedal that let the wire through would be as loud too: the diodes must have held the peaks down by half and more.
  const peak = (wanted: string) =>
    played.find(({voice}) => voice === wanted)?.samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  expect((peak("now") ?? NaN) / (peak("wire") ?? NaN)).toBeLessThan(0.5);
});

test("the picture is of the sound: turned all the way down, the overdrive's peaks come back", async ({page}) => {
  test.setTimeout(300_000);
  await page.goto("");
  const peaks = async () => {
    const text = (await page.locator("wave-picture .sentence").textContent()) ?? "";
    const [, wire, overdrive] = /wire ([\d.]+)\s?dB, overdrive ([\d.]+)\s?dB/.exec(text) ?? [];
    return {wire: Number(wire), overdrive: Number(overdrive)};
  };
  const drawn = () => page.locator("wave-picture [data-part=now]").getAttribute("d");
  const [served, line] = [await peaks(), await drawn()];
  expect(served.wire - served.overdrive).toBeGreaterThan(6);
  const gain = page.getByRole("slider", {name: /gain control/});
  await gain.focus();
  await page.keyboard.press("Home");
  await expect(gain).toHaveAttribute("aria-valuetext", /fully down/);
  // Turned down, such a stage is a follower within 0.2 dB (common practice); the tone control takes a little off the peaks.
  await expect.poll(async () => (await peaks()).overdrive, patient).toBeGreaterThan(served.wire - 3);
  expect((await peaks()).wire).toBe(served.wire);
  expect(await drawn()).not.toBe(line);
  // Another phrase is another picture, and the caption is not of the first.
  const caption = page.locator("wave-picture .caption");
  const riff = (await caption.textContent()) ?? "";
  expect(riff).toMatch(/^The whole phrase, [\d.]+\s?s, and 16\s?ms of it drawn large\.$/);
  await page.locator("bench-player .own > summary").click();
  await page.getByRole("combobox", {name: "Phrase"}).selectOption("open chords left ringing");
  await expect(caption).not.toHaveText(riff, patient);
});

test("the front page is used from first stop to exercise without a pointer", async ({page}) => {
  test.setTimeout(300_000);
  const press = (key: string) => page.keyboard.press(key);
  await page.goto("");
  await press("Tab");
  await expect(page.getByRole("link", {name: "To the text"})).toBeFocused();
  await press("Tab");
  await press("Enter");
  await expect(page.locator("#bench")).toBeFocused();
  await press("Tab");
  await expect(page.getByRole("button", {name: "Play"})).toBeFocused();
  await press("Enter");
  await expect(page.getByRole("button", {name: "Stop"})).toBeFocused();
  await press("Tab");
  await press("ArrowRight");
  await expect(page.getByRole("radio", {name: "overdrive"})).toBeChecked();
  await expect(page.locator("bench-player .said")).toHaveText(overdriveTold, patient);
  const gain = page.getByRole("slider", {name: /gain control/});
  await tabTo(page, gain);
  await press("ArrowUp");
  await expect(gain).toHaveAttribute("aria-valuetext", /^51\s?%/);
  await press("Escape");
  await tabTo(page, page.getByRole("textbox", {name: "Exercise number"}));
  await page.keyboard.type("6.2");
  await press("Enter");
  await expect(page).toHaveURL(/\/lessons\/06-leg-capacitor\/#exercise-6-2$/);
});

test("on a phone the press is in sight at once, and the choice of phrases opens below it", async ({page}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("");
  await expect(page.getByRole("button", {name: "Play"})).toBeInViewport({ratio: 1});
  const summary = page.locator("bench-player .own > summary");
  await summary.click();
  const [handle, choice] = [
    await summary.boundingBox(),
    await page.getByRole("combobox", {name: "Phrase"}).boundingBox(),
  ];
  expect((choice?.y ?? NaN) - (handle?.y ?? NaN)).toBeGreaterThan(0);
  expect((choice?.x ?? NaN) + (choice?.width ?? NaN)).toBeLessThanOrEqual(390);
});

test("a number that leads nowhere gets a sentence", async ({page}) => {
  await page.goto("");
  const number = page.getByRole("textbox", {name: "Exercise number"});
  await number.fill("34.1");
  await page.getByRole("button", {name: "Go"}).click();
  await expect(page.locator("exercise-finder [role=status]")).toHaveText(
    "The lessons are numbered 1 to 21; there is no 34.",
  );
  await expect(number).toBeFocused();
});

test("who has been in a lesson is offered to carry on there", async ({page}) => {
  await page.goto("");
  await expect(page.getByRole("link", {name: "Start with the wire"})).toHaveAttribute(
    "href",
    /lessons\/01-the-wire\/$/,
  );
  await page.goto("lessons/06-leg-capacitor/");
  await page.goto("");
  await page.getByRole("link", {name: "Carry on: 6. The leg capacitor"}).click();
  await expect(page).toHaveURL(/\/lessons\/06-leg-capacitor\/$/);
});

test("under /class/ the front page plays, and finds exercises there", async ({page, served}) => {
  test.setTimeout(300_000);
  await page.goto(served.underClass);
  await page.getByRole("button", {name: "Play"}).click();
  await expect(page.locator("bench-player .said")).toHaveText(wireTold, patient);
  await page.getByRole("textbox", {name: "Exercise number"}).fill("2,1");
  await page.getByRole("button", {name: "Go"}).click();
  await expect(page).toHaveURL(/\/class\/lessons\/02-in-the-way\/#exercise-2-1$/);
});

test.describe("without a script", () => {
  test.use({javaScriptEnabled: false});
  test("both waves are drawn, and a number leads to the list of exercises", async ({page}) => {
    await page.goto("");
    for (const voice of ["wire", "now"])
      await expect(page.locator(`wave-picture [data-part=${voice}]`)).toHaveAttribute(
        "d",
        /^M[\d.]+ [\d.]+(L[\d.]+ [\d.]+){300}/,
      );
    await expect(page.getByText("Sound and knobs need JavaScript.")).toBeVisible();
    await page.getByRole("textbox", {name: "Exercise number"}).fill("6.2");
    await page.getByRole("button", {name: "Go"}).click();
    await page.getByRole("link", {name: "Exercise 6.2"}).click();
    await expect(page.locator("#exercise-6-2")).toBeVisible();
  });
});

for (const width of [1440, 1180, 820]) {
  test(`at ${width} the knobs stay where they are while Watch and In and out are unfolded, and no half of the page is blank`, async ({
    page,
  }) => {
    await page.setViewportSize({width, height: 900});
    await page.goto("");
    const knobs = page.getByRole("group", {name: "Turn the overdrive"});
    const place = () => knobs.evaluate((group) => group.getBoundingClientRect().top + scrollY);
    const at = await place();
    await page.getByText("In and out", {exact: true}).click();
    await page.getByText("Watch", {exact: true}).click();
    expect(await place()).toBeCloseTo(at, 0);
    if (width < 1100) return;
    const boxes = await Promise.all(
      [".for-others", ".whole-path", "#bench"].map((each) => page.locator(each).boundingBox()),
    );
    const [others, path, bench] = boxes.map((box) => ({
      top: box?.y ?? NaN,
      end: (box?.y ?? NaN) + (box?.height ?? NaN),
    }));
    expect(path?.top).toBeLessThan((others?.end ?? NaN) + 60);
    expect((bench?.end ?? NaN) - (path?.end ?? NaN)).toBeLessThan(300);
  });
}

test("while it plays a line goes along the picture where the sound is, and goes when it stops", async ({page}) => {
  await page.goto("");
  const line = page.locator("wave-picture .sounding");
  await expect(line).toBeHidden();
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(line).toBeVisible();
  const x = async () => (await line.boundingBox())?.x ?? NaN;
  const first = await x();
  await expect.poll(x).toBeGreaterThan(first + 5);
  const whole = await page.locator("wave-picture .whole svg").first().boundingBox();
  expect(first).toBeGreaterThanOrEqual(whole?.x ?? NaN);
  await page.getByRole("button", {name: "Stop"}).click();
  await expect(line).toBeHidden();
});
