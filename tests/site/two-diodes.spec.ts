import type {Page} from "@playwright/test";
import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

const slug = "10-two-diodes";
// Cycles are settled by a worker that shares the machine with everything else.
const patient = {timeout: 30_000};

/** All that the clipping figure shows of a bench: places of its marks, its curves, its bars, its sentences. */
const shown = (page: Page) =>
  page.locator("clipping-figure").evaluate((figure) => {
    const all = (selector: string, name: string) =>
      Array.from(figure.querySelectorAll(selector), (each) => each.getAttribute(name)).join(" ");
    return {
      transfer: all("[data-drawing=transfer] path.now", "d"),
      wave: all("[data-drawing=wave] path.now", "d"),
      bars: all("[data-drawing=wide] rect", "height"),
      peakMark: all("[data-drawing=peak] .mark-now", "cx"),
      gainMark: all("[data-drawing=gain] .mark-now", "cx"),
      gainCurve: all("[data-drawing=gain] path.now", "d"),
      swing: figure.querySelector("[data-sentence=swing]")?.textContent ?? "",
    };
  });
const settled = (page: Page) => expect(page.locator("clipping-figure")).not.toHaveAttribute("aria-busy", patient);

test("one move of the level moves cycle, wave, harmonics, both marks and the words, and no curve over level", async ({
  page,
}) => {
  test.slow();
  await openLesson(page, slug);
  const before = await shown(page);
  await page.getByRole("button", {name: "phrase level"}).click();
  const level = page.getByRole("slider", {name: /phrase level/});
  await level.focus();
  await page.keyboard.press("Home");
  await expect.poll(async () => (await shown(page)).swing, patient).not.toBe(before.swing);
  await settled(page);
  const after = await shown(page);
  for (const name of ["transfer", "wave", "bars", "peakMark", "gainMark"] as const) {
    expect(after[name], name).not.toBe(before[name]);
    expect(after[name].length, name).toBeGreaterThan(0);
  }
  expect(after.gainCurve).toBe(before.gainCurve);
  await expect(page.locator("what-changed p")).toContainText("The phrase is", patient);
  await expect(page.locator("what-changed p")).toContainText("distortion");
  await expect.poll(() => page.url(), patient).toContain("phraseLevel=10m");
});

test("what answers the guess, the curves over level, is kept back until there is one", async ({page}) => {
  // Who goes straight to the drawings finds them, but for these.
  await page.goto(`lessons/${slug}/#see-it`);
  for (const name of ["peak", "gain"]) await expect(page.locator(`[data-drawing=${name}] path.now`)).toBeHidden();
  await expect(page.locator("[data-sentence=levels]")).toBeHidden();
  await expect(page.locator("[data-drawing=wave] path.now")).toBeVisible();
  await page.getByRole("radio", {name: "it rises tenfold as well"}).check();
  await page.getByRole("button", {name: "Keep my guess"}).click();
  for (const name of ["peak", "gain"]) await expect(page.locator(`[data-drawing=${name}] path.now`)).toBeVisible();
  await expect(page.locator("[data-sentence=levels]")).toBeVisible();
});

test("another note is chosen by the arrow keys, drawn, kept in the address and brought back", async ({page}) => {
  test.slow();
  await openLesson(page, slug);
  const before = await shown(page);
  await page.getByRole("radio", {name: "open A"}).focus();
  await page.keyboard.press("ArrowRight");
  await expect(page.getByRole("radio", {name: "open e"})).toBeChecked();
  const swing = page.locator("[data-sentence=swing]");
  // 440 · 2^(−5/12) = 329.6 Hz (equal temperament, ISO 16), printed with three figures.
  await expect(swing).toContainText("At 330", patient);
  await settled(page);
  expect((await shown(page)).gainCurve).not.toBe(before.gainCurve);
  await expect.poll(() => page.url(), patient).toContain("note=e");
  await page.reload();
  await expect(page.getByRole("radio", {name: "open e"})).toBeChecked();
  await expect(swing).toContainText("At 330", patient);
});

test("the figure's sentences are all about one note: none is seen until every one is new", async ({page}) => {
  await openLesson(page, slug);
  const seen = await page.evaluate(async () => {
    const figure = document.querySelector("clipping-figure");
    const [swing, levels] = ["swing", "levels"].map((name) => figure?.querySelector(`[data-sentence=${name}]`));
    const start = [swing?.textContent, levels?.textContent];
    figure?.querySelector<HTMLInputElement>("input[name=note][value=e]")?.click();
    const mixed: string[] = [];
    for (let frame = 0; frame < 1200 && levels?.textContent === start[1]; frame++) {
      await new Promise(requestAnimationFrame);
      const isNew = [swing, levels].map((each, k) => each?.textContent !== start[k]);
      if (isNew[0] !== isNew[1] && swing?.checkVisibility({visibilityProperty: true})) mixed.push(swing.textContent);
    }
    return {mixed, moved: levels?.textContent !== start[1]};
  });
  expect(seen).toEqual({mixed: [], moved: true});
});

test("where a bench has no settled cycle the figure says so in sight, until it has one", async ({page}) => {
  // A bench that does not settle is too rare to turn to: the worker is made to answer as it would for one.
  await page.addInitScript(() => {
    Object.assign(globalThis, {refuses: false});
    const post = Worker.prototype.postMessage as (message: unknown, ...rest: unknown[]) => void;
    Worker.prototype.postMessage = function (this: Worker, message: unknown, ...rest: unknown[]) {
      const {kind, id} = (message ?? {}) as {kind?: string; id?: number};
      const {refuses} = globalThis as unknown as {refuses: boolean};
      if (!refuses || (kind !== "cycles" && kind !== "levelCurves")) return post.call(this, message, ...rest);
      setTimeout(() => this.dispatchEvent(new MessageEvent("message", {data: {id, message: "it does not settle"}})));
    } as typeof Worker.prototype.postMessage;
  });
  await openLesson(page, slug);
  const swing = page.locator("[data-sentence=swing]");
  await page.evaluate(() => Object.assign(globalThis, {refuses: true}));
  await page.getByRole("radio", {name: "open e"}).check();
  // What else the figure says is hidden by then.
  await expect(page.locator("clipping-figure")).toHaveAttribute("aria-busy", "true");
  await expect(swing).toContainText("settles into no cycle", patient);
  await expect(swing).toBeVisible();
  await page.evaluate(() => Object.assign(globalThis, {refuses: false}));
  await page.getByRole("radio", {name: "1 kHz"}).check();
  await expect(swing).toContainText("At 1\u00a0kHz", patient);
  await settled(page);
  await expect(swing).toBeVisible();
  await expect(page.locator("[data-unsettled]")).toHaveCount(0);
});

test("where a browser gives no worker the figure follows all the same", async ({page}) => {
  test.slow();
  await page.addInitScript(() => {
    window.Worker = function () {
      throw new Error("workers are switched off");
    } as unknown as typeof Worker;
  });
  await openLesson(page, slug);
  const before = await shown(page);
  await page.getByRole("radio", {name: "1 kHz"}).check();
  await expect(page.locator("[data-sentence=swing]")).toContainText("At 1\u00a0kHz", patient);
  await settled(page);
  expect((await shown(page)).gainCurve).not.toBe(before.gainCurve);
});

test("with the switch of both diodes in hand both are lit, with the name of one that one alone", async ({page}) => {
  const lit = () =>
    page
      .locator(".schematic-drawing.wide .part[data-lit]")
      .evaluateAll((all) => all.map((each) => each.getAttribute("data-ref")));
  await page.goto(`lessons/${slug}/`);
  expect(await lit()).toEqual(["D1", "D2"]);
  await page.getByRole("button", {name: "Carry on without one"}).click();
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  expect(await lit()).toEqual(["RV1"]);
  await page.getByRole("button", {name: "diodes in/out"}).click();
  expect(await lit()).toEqual(["D1", "D2"]);
  for (const name of ["D1", "D2"]) {
    await expect(page.locator("#what-we-add").getByRole("button", {name})).toHaveClass(/in-hand/);
  }
  await page.locator("#what-we-add").getByRole("button", {name: "D2"}).click();
  expect(await lit()).toEqual(["D2"]);
});

test("D2 in hand shows the switch of both diodes", async ({page}) => {
  await openLesson(page, slug);
  await page.getByRole("button", {name: "RV1", exact: true}).last().click();
  await expect(page.getByRole("radiogroup", {name: /clipping diodes/})).toBeHidden();
  await page.locator("#what-we-add").getByRole("button", {name: "D2"}).click();
  await expect(page.getByRole("radiogroup", {name: "D1, D2 which clipping diodes are in"})).toBeVisible();
});

test("with the diodes lifted out the text still says what they do, and the figure shows them out", async ({page}) => {
  test.slow();
  await openLesson(page, slug);
  const text = page.locator("#turn-it > p").first();
  const changed = page.locator("what-changed [data-says=level]");
  // Loudness comes after every reading; until it has come, a sentence says that it follows.
  const atRest = async (was: string) => {
    await expect(changed).not.toHaveText(was, patient);
    await expect(changed).not.toContainText("follow", patient);
  };
  const start = await changed.innerText();
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  await page.getByRole("slider", {name: /gain control$/}).focus();
  await page.keyboard.press("ArrowUp");
  await atRest(start);
  const [fitted, said] = [await text.innerText(), await changed.innerText()];
  expect(fitted).toMatch(/from \d+\smV to [\d.]+\sV, and its distortion falls from \d+\s% to less than 0\.1\s%/);
  await page.getByRole("button", {name: "diodes in/out"}).click();
  await page.getByRole("radio", {name: "none"}).check();
  await atRest(said);
  expect(await text.innerText()).toBe(fitted);
  await expect(page.locator("[data-sentence=distortion]")).toContainText("fundamental: less than 0.1", patient);
});

test("one diode alone brings up the even harmonics, is said in numbers and kept in the address", async ({page}) => {
  test.slow();
  await openLesson(page, slug);
  const even = () =>
    page
      .locator("[data-drawing=wide] rect.even")
      .evaluateAll((bars) => Math.max(0, ...bars.map((bar) => Number(bar.getAttribute("height")))));
  const said = page.locator("#turn-it live-reading[name=halves]");
  await expect(said).toContainText(/with both diodes in.*alike.*does not reach/);
  expect(await even()).toBeLessThan(1);
  await page.getByRole("button", {name: "diodes in/out"}).click();
  await page.getByRole("radio", {name: "D1 only"}).check();
  await expect(said).toContainText(/with D1 alone in.*stands at/, patient);
  await settled(page);
  expect(await even()).toBeGreaterThan(20);
  await expect(page.locator(".schematic-drawing.wide [data-ref=D2]")).toHaveClass(/lifted/);
  await expect(page.locator(".schematic-drawing.wide [data-ref=D1]")).not.toHaveClass(/lifted/);
  await expect.poll(() => page.url(), patient).toContain("diodesFitted=2");
  await page.reload();
  await expect(page.getByRole("radio", {name: "D1 only"})).toBeChecked();
  // An address that was handed out when both could only be lifted out together.
  await page.goto("about:blank");
  await page.goto(`lessons/${slug}/#diodesFitted=0`);
  await expect(page.getByRole("radio", {name: "none"})).toBeChecked();
});

test("the whole bench fits a laptop's window, the player's last line with it", async ({page}) => {
  await openLesson(page, slug);
  const words = await page.locator("bench-player .said").evaluate((said) => {
    const range = document.createRange();
    range.selectNodeContents(said);
    return range.getBoundingClientRect().bottom;
  });
  expect(words).toBeLessThanOrEqual(page.viewportSize()?.height ?? 0);
});

test("on paper the bench stands after what the lesson adds, with its wide drawings", async ({page}) => {
  await page.goto(`lessons/${slug}/`);
  await page.setViewportSize({width: 680, height: 960});
  await page.emulateMedia({media: "print"});
  const top = async (selector: string) => (await page.locator(selector).boundingBox())?.y ?? Number.NaN;
  expect(await top("#bench")).toBeGreaterThan(await top("#what-we-add"));
  expect(await top("#bench")).toBeLessThan(await top("#guess-first"));
  await expect(page.locator(".response-drawing.wide svg")).toBeVisible();
  await expect(page.locator(".schematic-drawing.wide")).toBeVisible();
});

test.describe("without a script", () => {
  test.use({javaScriptEnabled: false});
  test("the figure stands as drawn for the start, without a choice that would do nothing", async ({page}) => {
    await page.goto(`lessons/${slug}/`);
    for (const name of ["transfer", "wave", "wide", "peak", "gain"]) {
      await expect(page.locator(`[data-drawing=${name}] svg`)).toBeVisible();
    }
    await expect(page.locator("[data-drawing=peak] :is(.mark-now, .mark-before)")).toHaveCount(2);
    await expect(page.locator("[data-sentence=levels]")).toContainText("the output rises by");
    await expect(page.locator("clipping-figure .notes")).toBeHidden();
  });
});

test("each drawing has what to do with it right under it, in a narrow column as well", async ({page}) => {
  for (const width of [390, 1440]) {
    await page.setViewportSize({width, height: 844});
    await openLesson(page, slug);
    const gapUnder = async (drawing: string, words: RegExp) => {
      const [above, below] = await Promise.all([
        page.locator("clipping-figure figure", {has: page.locator(`[data-drawing=${drawing}]`)}).boundingBox(),
        page.locator("clipping-figure > p", {hasText: words}).boundingBox(),
      ]);
      return (below?.y ?? NaN) - (above?.y ?? NaN) - (above?.height ?? NaN);
    };
    expect(await gapUnder("wave", /go down one stop at a time/), `${width}`).toBeLessThan(300);
    expect(await gapUnder("wide", /the bars sink/), `${width}`).toBeLessThan(60);
    expect(await gapUnder("gain", /the round mark climbs/), `${width}`).toBeLessThan(400);
    await page.evaluate(() => localStorage.clear());
  }
});
