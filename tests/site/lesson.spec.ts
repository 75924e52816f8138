import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

// Worked out here, apart from the engine: f = 1/(2π(R1 + R2∥Ramp)C1), network theory.
const cornerHz = (farads: number, ohms = 4.7e3 + 500e3) => 1 / (2 * Math.PI * ohms * farads);
const hertz = (text: string) => {
  const [, digits = "", prefix = ""] = /([\d.]+)\s*(k?)Hz/.exec(text) ?? [];
  return Number(digits) * (prefix === "k" ? 1000 : 1);
};

/** Lowest point that the drawn curve of 'now' reaches at its left end, in pixels from the top of the drawing. */
const leftEnd = (d: string) => Number(/^M[\d.]+,([\d.]+)/.exec(d)?.[1]);

test("a smaller C1 moves the curve, the formula, the readings and the sentence", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const curve = page
    .locator(".response-drawing.wide svg path[stroke='var(--now)'], .response-drawing.wide g[stroke='var(--now)'] path")
    .first();
  const before = leftEnd((await curve.getAttribute("d")) ?? "");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("470p");
  await entry.press("Enter");
  const expected = cornerHz(470e-12);
  const formula = page.locator("#formula-inputCorner [data-reading=inputCorner]");
  await expect.poll(async () => hertz((await formula.textContent()) ?? "")).toBeGreaterThan(600);
  // Three significant figures are printed.
  expect(Math.abs(hertz((await formula.textContent()) ?? "") / expected - 1)).toBeLessThan(0.005);
  await expect.poll(async () => leftEnd((await curve.getAttribute("d")) ?? "")).toBeGreaterThan(before + 10);
  await expect(page.locator("what-changed p")).toContainText("C1");
  await expect(page.getByRole("slider", {name: /coupling capacitor/})).toHaveAttribute(
    "aria-valuetext",
    /470 picofarads, corner by the formula 671 hertz/,
  );
});

test("typed values snap to what can be bought, and bad text is kept with a sentence", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("0,05 µF");
  await entry.press("Enter");
  await expect(entry).toHaveValue("47\u00a0nF");
  await expect(page.locator("#control-C1-note")).toContainText("The nearest that can be bought here is 47");
  await entry.fill("lots");
  await entry.press("Enter");
  await expect(entry).toHaveValue("lots");
  await expect(page.locator("#control-C1-note")).toHaveText(
    "I can't read a number in “lots”. Write a capacitance, such as 68 nF or 0.068 µF.",
  );
});

test("a rotation is typed as a share, a percentage or a resistance, and where it was before is marked", async ({
  page,
}) => {
  await openLesson(page, "06-leg-capacitor");
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  const entry = page.getByRole("textbox", {name: "RV1: type a rotation"});
  const note = page.locator("#control-RV1-note");
  const type = async (text: string) => {
    await entry.fill(text);
    await entry.press("Enter");
  };
  await type("0.35");
  await expect(entry).toHaveValue("35\u00a0%");
  await expect(note).toHaveText("I read this as 35\u00a0% of the turn.");
  await expect(page.locator("[data-control=RV1] .was-text")).toHaveText("was 9\u00a0%");
  await type("47k");
  await expect(entry).toHaveValue("14\u00a0%");
  await expect(page.getByRole("slider", {name: /gain control$/})).toHaveAttribute("aria-valuetext", /^14\u00a0%/);
  await type("blue");
  await expect(entry).toHaveValue("blue");
  await expect(note).toContainText("I can't read a rotation in “blue”.");
  await expect(page.getByRole("slider", {name: /gain control$/})).toHaveAttribute("aria-valuetext", /^14\u00a0%/);
});

test("the words on where a control was stand under their mark", async ({page}) => {
  await page.goto("lessons/01-the-wire/#before.cable=8");
  await page.getByRole("button", {name: "Carry on without one"}).click();
  const cable = page.locator("[data-control=cable]");
  await expect(cable.locator(".was-text")).toHaveText("was 8\u00a0m");
  const [words, mark] = await Promise.all([
    cable.locator(".was-text").boundingBox(),
    cable.locator(".ticks .was").boundingBox(),
  ]);
  expect(Math.abs((words?.x ?? NaN) + (words?.width ?? NaN) / 2 - (mark?.x ?? NaN))).toBeLessThan(3);
});

test("what stands in no 'before' says so, and a switch shows where it was", async ({page}) => {
  await openLesson(page, "10-two-diodes");
  const panel = page.locator("[data-control=diodesFitted]");
  await expect(panel.locator(".was-text")).toHaveText("before has no D1 or D2");
  await page.getByRole("button", {name: "Keep as before"}).click();
  await expect(panel.locator(".was-text")).toHaveText("");
  await page.locator("bench-controls").getByRole("combobox", {name: "Other controls"}).selectOption("C4Fitted");
  await page.getByRole("switch", {name: /top-cut capacitor in or out/}).click();
  await expect(page.locator("[data-control=C4Fitted] .was-text")).toHaveText("was in");
});

test("the keys of a slider do what the W3C pattern says, and Escape goes back to before", async ({page}) => {
  await openLesson(page, "01-the-wire");
  const cable = page.getByRole("slider", {name: /guitar cable/});
  await cable.focus();
  await page.keyboard.press("ArrowRight");
  await expect(cable).toHaveAttribute("aria-valuetext", /^6 metres/);
  await page.keyboard.press("End");
  await expect(cable).toHaveAttribute("aria-valuetext", /^20 metres/);
  await page.keyboard.press("Home");
  await expect(cable).toHaveAttribute("aria-valuetext", /^0.5 metres/);
  await page.keyboard.press("PageUp");
  await page.keyboard.press("Escape");
  await expect(cable).toHaveAttribute("aria-valuetext", /^0.5 metres/);
});

test("nothing moves until there is a guess, and the guess is kept", async ({page}) => {
  await openLesson(page, "02-in-the-way", {guess: "wait"});
  await expect(page.locator(".bench .controls")).toHaveJSProperty("inert", true);
  // Kept as before, the curve that is kept back would be drawn; a picture of the sound and a sweep would show it as well.
  for (const waits of [".keep", ".watch", ".own"])
    await expect(page.locator(`.bench ${waits}`)).toHaveJSProperty("inert", true);
  await page.getByRole("button", {name: "Play", exact: true}).click();
  await expect(page.locator(".bench .said")).toHaveText("Now plays. What to compare it with comes after your guess.");
  await page.getByRole("button", {name: "Stop", exact: true}).click();
  await page.getByRole("radio", {name: /less than anyone can hear/}).check();
  await page.getByRole("button", {name: "Keep my guess"}).click();
  await expect(page.getByText("Your guess is kept, and it is what happens.")).toBeVisible();
  for (const free of [".controls", ".keep", ".watch", ".own"])
    await expect(page.locator(`.bench ${free}`)).toHaveJSProperty("inert", false);
  await page.reload();
  await expect(page.getByRole("radio", {name: /less than anyone can hear/})).toBeChecked();
});

for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
  test(`${slug} keeps back the curve of now while its guess is open, and moves nothing when it shows it`, async ({
    page,
  }) => {
    await openLesson(page, slug, {guess: "wait"});
    const drawing = page.locator(".response-drawing.wide, .response-drawing.middle").filter({visible: true});
    const now = drawing.locator("svg [stroke='var(--now)']").first();
    const places = () =>
      Promise.all(
        [".response", ".controls", ".player", "#guess-first h2"].map((each) => page.locator(each).boundingBox()),
      );
    await expect(drawing).toContainText("Now is drawn after your guess.");
    await expect(now).toBeHidden();
    await expect(page.getByRole("slider", {name: "Reading cursor on the curve"})).toBeHidden();
    // What a screen reader is told of the curve would answer as well.
    await expect(page.getByRole("img", {name: /^Frequency response/})).toHaveCount(0);
    const comparisonAnswers = slug < "03";
    await expect(page.locator(".bench .voices")).toHaveJSProperty("inert", comparisonAnswers);
    const before = await places();
    await page.getByRole("button", {name: "Go on without", exact: true}).click();
    await expect(now).toBeVisible();
    await expect(page.getByRole("img", {name: /^Frequency response/}).filter({visible: true})).toHaveCount(1);
    await expect(page.getByText("drawn after your guess").filter({visible: true})).toHaveCount(0);
    await expect(page.locator(".bench .voices")).toHaveJSProperty("inert", false);
    expect(await places()).toEqual(before);
  });
}

test("an answer is marked: right, 2π too big, a wrong prefix, without its unit, as a formula", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const exercise = page.locator("#exercise-2-1");
  const answer = async (text: string) => {
    await exercise.getByLabel("Your answer").fill(text);
    await exercise.getByRole("button", {name: "Check"}).click();
  };
  const feedback = exercise.locator(".feedback");
  const right = cornerHz(5.1e-9);
  await answer(`${right.toFixed(1)} Hz`);
  await expect(feedback).toContainText("Right.");
  await expect(feedback).toContainText("Counted right:");
  await answer(`${(right * 2 * Math.PI).toFixed(0)} Hz`);
  await expect(feedback).toContainText("Not yet. Your number is 2π times too big.");
  await answer(`${right.toFixed(1)} kHz`);
  await expect(feedback).toContainText("the prefix slipped");
  await answer(right.toFixed(1));
  await expect(feedback).toContainText("without its unit");
  await answer(`${right.toFixed(1).replace(".", ",")} Hz`);
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(4.7k+500k)*5.1n) Hz");
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(4.7 kΩ + 500 kΩ)*5.1 nF)");
  await expect(feedback).toContainText("Right.");
  await answer("1/(2*pi*(R1+R2)*C1) Hz");
  await expect(feedback).toContainText("I don’t know “R1”: names of parts and other words are not read.");
  await answer("alert(1)");
  await expect(feedback).toContainText("I can't work out");
  // What was said of an answer does not pass for a word on the next one.
  await answer(`${right.toFixed(1)} Hz`);
  await expect(feedback).toHaveClass(/right/);
  await exercise.getByLabel("Your answer").fill("999 Hz");
  await expect(feedback).toContainText(`To your answer before, ${right.toFixed(1)} Hz:`);
  await expect(feedback).not.toHaveClass(/right/);
  await exercise.getByLabel("Your answer").fill(`${right.toFixed(1)} Hz`);
  await expect(feedback).not.toContainText("To your answer before");
  await expect(feedback).toHaveClass(/right/);
});

test("a link brings the bench back, and what cannot be read is told", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await expect.poll(() => page.url()).toContain("#C1=1n");
  const url = page.url();
  await page.goto("about:blank");
  await page.goto(`${url}&nonsense=7&R2=blue`);
  await expect(page.getByRole("textbox", {name: "C1: type a value"})).toHaveValue("1\u00a0nF");
  const notice = page.locator("bench-address p");
  await expect(notice).toContainText("“nonsense=7”, “R2=blue”");
  await expect(notice).toBeInViewport({ratio: 1});
  await notice.getByRole("button", {name: "Close"}).click();
  await expect(notice).toBeHidden();
});

test("the decibel axis of lesson 6 holds while the gain is turned from stop to stop", async ({page}) => {
  await openLesson(page, "06-leg-capacitor");
  await page.locator(".picker").getByRole("button", {name: "RV1", exact: true}).click();
  const drawing = page.locator(".response-drawing.wide svg");
  const axis = await drawing.getAttribute("data-axis");
  expect(axis).toMatch(/ to \d+ by /);
  await page.getByRole("slider", {name: /gain control$/}).focus();
  for (const key of ["Home", "PageUp", "PageUp", "End"]) {
    const label = await drawing.getAttribute("aria-label");
    await page.keyboard.press(key);
    await expect(drawing).not.toHaveAttribute("aria-label", label ?? "");
    expect(await drawing.getAttribute("data-axis"), key).toBe(axis);
  }
});

test("back to start puts every control where the lesson begins", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await page.locator("bench-controls").getByRole("button", {name: "Back to start"}).click();
  await expect(entry).toHaveValue("33\u00a0nF");

  await entry.fill("0,05 µF");
  await entry.press("Enter");
  await expect(page.locator("#control-C1-note")).toContainText("The nearest that can be bought here");
  await page.locator("bench-controls").getByRole("button", {name: "Back to start"}).click();
  await expect(entry).toHaveValue("33\u00a0nF");
  await expect(page.locator("#control-C1-note")).toHaveText("");
});

test("a part named in the text is taken in hand and lights up in the drawing", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  await page.locator("#what-we-add").getByRole("button", {name: "R2"}).click();
  await expect(page.locator("#what-we-add").getByRole("button", {name: "R2"})).toHaveClass(/in-hand/);
  await expect(page.getByRole("slider", {name: /bias resistor/})).toBeVisible();
  await expect(page.locator("lesson-schematic svg").first().locator("[data-ref=R2]").first()).toHaveAttribute(
    "data-lit",
  );
});

test("paper and resistor symbol are a choice that is kept", async ({page}) => {
  await page.goto(`lessons/02-in-the-way/`);
  await page.getByText("Display", {exact: true}).click();
  await page.getByRole("radio", {name: "dark"}).check();
  await page.getByRole("radio", {name: /zigzag/}).check();
  await page.reload();
  await expect(page.locator("html")).toHaveAttribute("data-theme", "dark");
  await expect(page.locator("html")).toHaveAttribute("data-resistor", "zigzag");
});

test.describe("without a script", () => {
  test.use({javaScriptEnabled: false});
  test("prose, schematic and curve are on the page, with their numbers", async ({page}) => {
    await page.goto(`lessons/02-in-the-way/`);
    await expect(page.getByRole("heading", {level: 1})).toHaveText("A resistor and a capacitor in the way");
    await expect(page.locator("lesson-schematic svg").first()).toBeVisible();
    await expect(page.locator(".response-drawing.wide svg")).toBeVisible();
    const printed = (await page.locator("#remember live-reading").first().textContent()) ?? "";
    expect(Math.abs(hertz(printed) / cornerHz(33e-9) - 1)).toBeLessThan(0.005); // three figures are printed
    await expect(page.getByText("Sliders and sound need JavaScript.")).toBeVisible();
    await expect(page.getByRole("button", {name: "Check"})).toHaveCount(0);
  });
});

test("who comes by a link to a setting or to an exercise is not asked to guess first", async ({page}) => {
  for (const place of ["#C1=1n", "#exercise-2-1", "#before=1&exercise=2.2"]) {
    await page.goto("about:blank");
    await page.goto(`lessons/02-in-the-way/${place}`);
    await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
    await expect(page.getByText("The controls wait for your guess.")).toBeHidden();
  }
  for (const place of ["", "#why", "#nonsense=1", "#C1=banana", "#before=99", "#exercise-10-1"]) {
    await page.goto("about:blank");
    await page.goto(`lessons/02-in-the-way/${place}`);
    await expect(page.locator("bench-controls")).toHaveAttribute("inert", "");
  }
  await page.getByRole("button", {name: "Go on without", exact: true}).click();
  await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
});

for (const width of [1440, 1180, 820, 390]) {
  test(`at ${width} a link to the bench as it stands is copied`, async ({page, context}) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.setViewportSize({width, height: 844});
    await openLesson(page, "02-in-the-way");
    const entry = page.getByRole("textbox", {name: "C1: type a value"});
    await entry.fill("1n");
    await entry.press("Enter");
    await expect(entry).toHaveValue("1\u00a0nF");
    // In sight where there is room for it, else behind 'In and out'.
    if (width < 480) {
      await page.getByRole("button", {name: "More controls of the sound"}).click();
      await page.getByText("In and out").click();
    }
    const name = width < 480 ? "Copy a link to this bench" : "Copy link to this bench";
    await page.getByRole("button", {name}).click();
    await expect(page.locator(width < 480 ? "bench-player copy-link .told" : "bench-player .said")).toHaveText(
      "Copied. Whoever opens it finds the bench as it stands now.",
    );
    expect(await page.evaluate(() => navigator.clipboard.readText())).toMatch(/\/lessons\/02-in-the-way\/#C1=1n$/);
  });
}

test("at 1180 by 800 the whole bench is in sight, and the player's second row is one row", async ({page}) => {
  await page.setViewportSize({width: 1180, height: 800});
  for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor", "10-two-diodes"]) {
    await openLesson(page, slug);
    const bench = page.locator("#bench");
    expect(await bench.evaluate(({scrollHeight, clientHeight}) => scrollHeight - clientHeight), slug).toBe(0);
    const [keep, own] = await Promise.all([".keep", ".own"].map((each) => bench.locator(each).boundingBox()));
    expect(Math.abs((keep?.y ?? 0) - (own?.y ?? NaN)), slug).toBeLessThan(12);
  }
});

test("at 1440 by 900 the words under a scale keep clear of the rule below them", async ({page}) => {
  for (const slug of ["01-the-wire", "02-in-the-way", "06-leg-capacitor"]) {
    await openLesson(page, slug);
    const [words, rule] = await Promise.all([
      page.locator(".bench .panel .ends").filter({visible: true}).first().boundingBox(),
      page.locator(".bench .player").boundingBox(),
    ]);
    expect((rule?.y ?? NaN) - (words?.y ?? NaN) - (words?.height ?? NaN), slug).toBeGreaterThanOrEqual(8);
  }
});

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const) {
  test(`at ${width} one link holds the bench and an exercise: opened, it sets the one and shows the other`, async ({
    page,
    context,
  }) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await openLesson(page, "02-in-the-way");
    const entry = page.getByRole("textbox", {name: "C1: type a value"});
    await entry.fill("1n");
    await entry.press("Enter");
    await expect(entry).toHaveValue("1\u00a0nF");
    await page.getByRole("button", {name: "Copy a link to 2.2 and this bench"}).click();
    await expect(page.locator("#exercise-2-2 .told")).toContainText(
      "finds exercise 2.2 and the bench as it stands now",
    );
    const link = await page.evaluate(() => navigator.clipboard.readText());
    expect(link).toMatch(/#C1=1n&exercise=2\.2$/);
    await page.setViewportSize({width, height});
    await page.evaluate(() => localStorage.clear());
    await page.goto("about:blank");
    await page.goto(link);
    await expect(entry).toHaveValue("1\u00a0nF");
    await expect(page.locator("bench-controls")).not.toHaveAttribute("inert", "");
    await expect(page.locator("#exercise-2-2 h3")).toBeFocused();
    const [pinned, question] = [page.locator(".bench-view"), page.locator("#exercise-2-2 h3")];
    await expect
      .poll(async () => {
        const [bench, heading] = await Promise.all([pinned.boundingBox(), question.boundingBox()]);
        const covered = width < 1100 ? (bench?.y ?? NaN) + (bench?.height ?? NaN) : 0;
        return (heading?.y ?? NaN) >= covered && (heading?.y ?? NaN) < height / 2;
      })
      .toBe(true);
    await expect(page.locator("bench-address p")).toBeHidden();
  });
}

test("the address goes on naming the exercise it led to when a control moves", async ({page}) => {
  await page.goto("lessons/02-in-the-way/#exercise-2-2");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await entry.fill("1n");
  await entry.press("Enter");
  await expect(page).toHaveURL(/#C1=1n&exercise=2\.2$/);
});

test("going to a place on the page keeps the bench in the address", async ({page}) => {
  await page.goto("lessons/02-in-the-way/#C1=1n");
  const entry = page.getByRole("textbox", {name: "C1: type a value"});
  await expect(entry).toHaveValue("1\u00a0nF");
  await page.evaluate(() => (location.hash = "exercise-2-2"));
  await expect(page).toHaveURL(/#C1=1n&exercise=2\.2$/);
  await page.reload();
  await expect(entry).toHaveValue("1\u00a0nF");
});

test("on a small screen, where a list names the control, its slider and its entry have names of their own", async ({
  page,
}) => {
  await page.setViewportSize({width: 390, height: 844});
  await openLesson(page, "06-leg-capacitor");
  const list = page.getByRole("combobox", {name: "Other controls"});
  await list.selectOption("C3");
  await expect(page.getByRole("slider", {name: /leg capacitor/})).toBeVisible();
  await list.selectOption("RV1");
  await expect(page.getByRole("slider", {name: /gain control$/})).toBeVisible();
  await expect(page.getByRole("textbox", {name: "RV1: type a rotation"})).toBeVisible();
});

test("on a small screen a link to an exercise shows its question below the pinned bench", async ({page}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("lessons/06-leg-capacitor/#exercise-6-3");
  await expect
    .poll(async () => {
      const [pinned, question] = await Promise.all([
        page.locator("bench-frame").boundingBox(),
        page.locator("#exercise-6-3").boundingBox(),
      ]);
      return (question?.y ?? NaN) - ((pinned?.y ?? NaN) + (pinned?.height ?? NaN));
    })
    .toBeGreaterThanOrEqual(0);
});

test("on a small screen what is said of an answer, and an opened hint, show above the pinned player", async ({
  page,
}) => {
  await page.setViewportSize({width: 390, height: 844});
  await page.goto("lessons/10-two-diodes/#exercise-10-3");
  const exercise = page.locator("#exercise-10-3");
  const [feedback, hint, tray] = [
    exercise.locator(".feedback"),
    exercise.locator("details").first(),
    page.locator(".bench-tray"),
  ];
  const room = async (shown: typeof feedback) => {
    const [above, below] = await Promise.all([shown.boundingBox(), tray.boundingBox()]);
    return (below?.y ?? NaN) - (above?.y ?? NaN) - (above?.height ?? NaN);
  };
  await exercise.getByLabel("Your answer").fill("5 dB");
  await exercise.getByLabel("Your answer").press("Enter");
  await expect(feedback).toContainText("Not yet.");
  await expect.poll(() => room(feedback)).toBeGreaterThanOrEqual(0);
  await hint.locator("summary").click();
  await expect(hint).toHaveAttribute("open", "");
  await expect.poll(() => room(hint)).toBeGreaterThanOrEqual(0);
});

test("a word is explained behind its paragraph, whose sentence stays whole", async ({page}) => {
  await openLesson(page, "02-in-the-way");
  const word = page.locator("explained-word a").first();
  const paragraph = page.locator("p", {has: word}).first();
  const before = await paragraph.innerText();
  await word.click();
  await expect(paragraph.locator("xpath=following-sibling::*[1]")).toHaveClass("word-meaning");
  expect(await paragraph.innerText()).toBe(before);
});
