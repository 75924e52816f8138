import {parseHTML} from "linkedom";
import {expect, test} from "vitest";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {describeCircuit} from "../../../src/widgets/schematic/describe-circuit.ts";
import {refreshDrawing} from "../../../src/widgets/schematic/refresh-drawing.ts";
import {schematicFragment} from "../../../src/widgets/schematic/schematic-fragment.ts";
import {schematicView, type ViewOptions} from "../../../src/widgets/schematic/schematic-view.ts";
import {lessons, sizes} from "./every-view.ts";

const {document} = parseHTML("<html><body></body></html>");

const draw = (lesson: number, settings = {}, options: ViewOptions = {}) =>
  schematicFragment(schematicView({lesson, settings: {...startSetting(lesson).settings, ...settings}}, options), {
    document,
  });

const part = (svg: SVGSVGElement, ref: string) => svg.querySelector(`.part[data-ref="${ref}"]`);
const grip = (svg: SVGSVGElement, ref: string) => svg.querySelector(`.part[data-ref="${ref}"] > .grip`);

test("a part says its name and its value", () => {
  expect(grip(draw(2), "C1")?.getAttribute("aria-label")).toBe("C1, coupling capacitor, 33 nanofarads");
  expect(grip(draw(1), "cable")?.getAttribute("aria-label")).toBe("cable, 4.7 metres long, 470 picofarads");
  expect(grip(draw(1), "guitar volume")?.getAttribute("aria-label")).toBe(
    "guitar volume, 250 kilohms, at 100 percent of its travel",
  );
});

test("value and unit beside a part are kept together by a no-break space", () => {
  for (const lesson of lessons)
    for (const size of sizes)
      for (const value of draw(lesson, {}, {size}).querySelectorAll(".value"))
        expect(value.textContent).not.toMatch(/\d [a-zA-ZµΩ]/);
});

test("every drawing is one group with a name, and has one part in the tab order", () => {
  for (const lesson of lessons)
    for (const size of sizes) {
      const svg = draw(lesson, {}, {size});
      expect(svg.getAttribute("role")).toBe("group");
      expect(svg.getAttribute("aria-label")).toBeTruthy();
      expect(svg.querySelectorAll('.part > [role="button"][tabindex="0"]').length).toBe(1);
    }
});

test("the part in hand is lit and first in the tab order, in both drawings of every lesson that has one", () => {
  for (const lesson of lessons.filter((number) => number < 16))
    for (const size of sizes) {
      const lit = draw(lesson, {}, {size}).querySelectorAll("[data-lit] > .grip");
      // Lesson 10 is about two diodes, and lights both.
      const places = lesson === 10 ? ["0", "-1"] : ["0"];
      expect(Array.from(lit, (each) => each.getAttribute("tabindex"))).toEqual(places);
    }
});

test("parts of earlier lessons are drawn quiet, the new ones are not, later ones are absent", () => {
  const svg = draw(2);
  expect(part(svg, "cable")?.classList.contains("earlier")).toBe(true);
  expect(part(svg, "R1")?.classList.contains("earlier")).toBe(false);
  expect(part(svg, "C3")).toBeNull();
});

test("a resistor carries both of its symbols", () => {
  const resistor = part(draw(2), "R1");
  expect(resistor?.querySelectorAll(".box-resistor").length).toBe(1);
  expect(resistor?.querySelectorAll(".zigzag-resistor").length).toBe(1);
});

test("a new value changes its own text and nothing else", () => {
  const svg = draw(2);
  document.body.replaceChildren(svg);
  const others = () =>
    Array.from(svg.children)
      .filter((element) => element.getAttribute("data-ref") !== "C1")
      .map(({outerHTML}) => outerHTML);
  const before = others();
  const place = () => part(svg, "C1")?.querySelectorAll("text")[1]?.getAttribute("x");
  const [at, group] = [place(), part(svg, "C1")];
  refreshDrawing(svg, schematicView({lesson: 2, settings: {...startSetting(2).settings, C1: 470e-12}}));
  expect(part(svg, "C1")?.querySelector(".value")?.textContent).toBe("470\u00a0pF");
  expect(grip(svg, "C1")?.getAttribute("aria-label")).toBe("C1, coupling capacitor, 470 picofarads");
  expect(others()).toEqual(before);
  expect(place()).toBe(at);
  expect(part(svg, "C1")).toBe(group);
});

test("a wiper stands at the top of its track when turned up, and 24 px lower when turned down", () => {
  const y = (guitarVolume: number) =>
    Number(
      /V([\d.]+)H/.exec(
        part(draw(1, {guitarVolume}), "guitar volume")?.querySelector(".wiper")?.getAttribute("d") ?? "",
      )?.[1],
    );
  expect(y(0) - y(1)).toBe(24);
  expect(y(0) - y(0.5)).toBe(12);
});

test("a switch changes the drawing with the circuit", () => {
  const svg = draw(5);
  document.body.replaceChildren(svg);
  expect(svg.querySelectorAll(".mark.reference").length).toBe(1);
  refreshDrawing(svg, schematicView({lesson: 5, settings: {...startSetting(5).settings, leg: 1}}));
  expect(svg.querySelectorAll(".mark.reference").length).toBe(0);
});

test("a part lifted out stays as an outline that says so", () => {
  const diode = part(draw(10, {diodesFitted: 0}), "D1");
  expect(diode?.classList.contains("lifted")).toBe(true);
  expect(diode?.querySelector(".grip")?.getAttribute("aria-label")).toBe("D1, clipping diode, lifted out");
});

test("the circuit in words follows the netlist", () => {
  const words = (lesson: number) =>
    describeCircuit(schematicView(startSetting(lesson)), courseCircuit(startSetting(lesson)).listenAt);
  expect(words(2)).toContain(
    "R1, series resistor, 4.7 kilohms; and C1, coupling capacitor, 33 nanofarads to the amplifier.",
  );
  expect(words(2)).toContain("R2, bias resistor, 1 megohm, leads from the point after C1 to ground.");
  expect(words(6)).toContain(
    "R3, leg resistor, 3.3 kilohms; and C3, leg capacitor, 68 nanofarads, in series, lead from U1's inverting input to ground.",
  );
});

test("no description of a drawing is at a loss for a node", () => {
  for (const lesson of lessons)
    expect(
      describeCircuit(schematicView(startSetting(lesson)), courseCircuit(startSetting(lesson)).listenAt),
    ).not.toContain("the next part");
});
