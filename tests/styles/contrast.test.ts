import {readFileSync} from "node:fs";
import {expect, test} from "vitest";

const css = readFileSync(new URL("../../src/styles/tokens.css", import.meta.url), "utf8");

/** Colours that a rule of the tokens names, by their name. */
function colours(selector: string): ReadonlyMap<string, string> {
  const rule = css.slice(css.indexOf(`${selector} {`)).split("}")[0] ?? "";
  return new Map([...rule.matchAll(/--([\w-]+): (#[\da-f]{6})/g)].map(([, name = "", value = ""]) => [name, value]));
}

// Relative luminance and contrast ratio as WCAG 2.2 defines them.
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

for (const [paper, selector] of [
  ["light", ":root"],
  ["dark", ':root[data-theme="dark"]'],
  ["dark by the system's wish", ':root:not([data-theme="light"])'],
] as const) {
  const found = colours(selector);
  const between = (one: string, other: string) => contrast(found.get(one) ?? "", found.get(other) ?? "");

  test(`text stands out by 4.6 to 1 or more on ${paper} paper`, () => {
    // Above the 4.5 to 1 of WCAG 2.2, 1.4.3, so that rounding of a shade on a screen keeps it.
    for (const text of ["ink", "quiet", "now", "before", "hand"])
      for (const ground of ["paper", "panel"])
        expect(between(text, ground), `${text} on ${ground}`).toBeGreaterThanOrEqual(4.6);
    expect(between("on-now", "now"), "on a button").toBeGreaterThanOrEqual(4.6);
    expect(between("hand", "hand-tint"), "part in hand").toBeGreaterThanOrEqual(4.6);
  });

  test(`edges of controls and the focus ring stand out by 3 to 1 or more on ${paper} paper`, () => {
    // WCAG 2.2, 1.4.11.
    for (const line of ["edge", "focus"])
      for (const ground of ["paper", "panel"])
        expect(between(line, ground), `${line} on ${ground}`).toBeGreaterThanOrEqual(3);
  });
}
