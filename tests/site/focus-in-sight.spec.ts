import {openLesson} from "./open-lesson.ts";
import {expect, test} from "./site.ts";

type Stop = Readonly<{name: string; coveredBy: string | undefined; again: boolean; inBench: boolean}>;

/** What has the focus, and what of the pinned bench lies over it. */
function stop(): Stop | undefined {
  const focused = document.activeElement;
  if (!(focused instanceof HTMLElement || focused instanceof SVGElement) || focused === document.body) return undefined;
  const again = focused.dataset["seen"] === "yes";
  focused.dataset["seen"] = "yes";
  const {left, top, width, height} = focused.getBoundingClientRect();
  const over = document.elementFromPoint(left + width / 2, top + Math.min(height / 2, 12));
  const pinned = over?.closest(".bench-view, .bench-tray");
  const inBench = focused.closest("#bench") !== null;
  const coveredBy = !over ? "the edge of the window" : pinned && !inBench ? pinned.className : undefined;
  const name = `${focused.tagName.toLowerCase()} “${(focused.getAttribute("aria-label") ?? focused.textContent).trim().slice(0, 40)}”`;
  return {name, coveredBy, again, inBench};
}

for (const [slug, width, height] of [
  ["06-leg-capacitor", 390, 844],
  ["10-two-diodes", 820, 1180],
] as const) {
  test(`${slug} at ${width}: the pinned bench never lies over what has the focus (WCAG 2.2, 2.4.11)`, async ({
    page,
  }) => {
    test.slow();
    await page.setViewportSize({width, height});
    await page.emulateMedia({reducedMotion: "reduce"});
    await openLesson(page, slug);
    const found: Stop[] = [];
    for (let presses = 0; presses < 300; presses++) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(stop);
      if (at?.again) break;
      if (at) found.push(at);
    }
    // Both sides of the page must have been seen for the walk to say anything.
    expect(found.filter(({inBench}) => inBench).length).toBeGreaterThan(5);
    expect(found.filter(({inBench}) => !inBench).length).toBeGreaterThan(20);
    expect(found.flatMap(({name, coveredBy}) => (coveredBy ? [`${name} under ${coveredBy}`] : []))).toEqual([]);
  });
}
