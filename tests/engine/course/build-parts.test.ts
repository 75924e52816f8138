import {expect, test} from "vitest";
import {frequencyResponse, logFrequencies, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restCurrent, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {buildParts, builtCircuit} from "../../../src/engine/course/build-parts.ts";
import {controlsOf, courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {nearestPreferred} from "../../../src/engine/quantities/preferred-values.ts";

type Settings = Readonly<Record<string, number>>;
const everywhere: readonly Settings[] = [{}, {RV1: 0}, {RV1: 1}, {RV3: 0}, {RV3: 1, RV2: 0.5}];

/** Largest difference in decibels between the built pedal and the lesson's. */
function apart(settings: Settings, frequencies: Float64Array, without: readonly string[] = []): number {
  const built = circuit(builtCircuit({lesson: 19, settings}).parts.filter(({ref}) => !without.includes(ref)));
  const [ours, plain] = [
    magnitudeDb(frequencyResponse(built, "output jack", frequencies)),
    magnitudeDb(frequencyResponse(courseCircuit({lesson: 19, settings}).circuit, "out", frequencies)),
  ];
  return ours.reduce((most, level, k) => Math.max(most, Math.abs(level - (plain[k] ?? NaN))), 0);
}

const added = ["R4", "R6", "R7", "LED", "C7", "C9", "U1 unused"];

// The lamp hangs on its resistor, and is one addition with it.
test.each(["R6", "R7 and LED", "C7", "C9", "U1 unused"])("%s changes the level by less than 0.1 dB", (only) => {
  const without = added.filter((ref) => !only.split(" and ").includes(ref));
  for (const settings of everywhere) expect(apart(settings, logFrequencies(40, 12e3, 60), without)).toBeLessThan(0.1);
});

test("all that a build adds but R4 changes the level by less than 0.1 dB, and R4 no more away from the pickup's peak", () => {
  for (const settings of everywhere) {
    expect(apart(settings, logFrequencies(40, 12e3, 60), ["R4"])).toBeLessThan(0.1);
    expect(apart(settings, logFrequencies(40, 1e3, 40))).toBeLessThan(0.1);
  }
});

test("R4 takes 0.6 dB off the pickup's peak, as it lies across a resonance whose height is a matter of megohms", () => {
  // The guitar with its cable by hand: 6.8 kΩ and 2.6 H into 570 pF, the 250 kΩ volume and R1 with R2, C1 being a short up there.
  const gainDb = (hertz: number, ohms: number) => {
    const w = 2 * Math.PI * hertz;
    const [g, b] = [1 / 250e3 + 1 / 1004.7e3 + 1 / ohms, w * 570e-12];
    return -20 * Math.log10(Math.hypot(1 + 6.8e3 * g - w * 2.6 * b, 6.8e3 * b + w * 2.6 * g));
  };
  const peak = logFrequencies(3e3, 5e3, 400);
  const byHand = Math.max(...peak.map((hertz) => gainDb(hertz, Infinity) - gainDb(hertz, 2.2e6)));
  expect(byHand).toBeGreaterThan(0.55);
  expect(byHand).toBeLessThan(0.65);
  for (const settings of everywhere) {
    const ours = apart(
      settings,
      peak,
      added.filter((ref) => ref !== "R4"),
    );
    // C1 is not quite a short, and what follows it not quite 1 MΩ.
    expect(Math.abs(ours - byHand)).toBeLessThan(0.01);
  }
});

test("the built pedal rests as Ohm's law says: lamp, spare half and battery", () => {
  const built = builtCircuit({lesson: 19, settings: {}});
  const point = operatingPoint(built);
  const at = (node: string) => restVoltage(point, node);
  expect(point.residualAmperes).toBeLessThan(1e-12);
  expect(at("spare")).toBeCloseTo(at("ref"), 3); // a follower: its offset is not modelled
  expect(at("lamp")).toBeGreaterThan(1.5); // a red LED at a milliampere or so
  expect(at("lamp")).toBeLessThan(2);
  const lamp = (at("vcc") - at("lamp")) / 4.7e3;
  // Out of the battery go the lamp, the divider and two op-amps: Kirchhoff at the rail.
  const drawn = lamp + (at("vcc") - at("ref")) / 22e3 + 2 * (opAmpModels.tl072.supplyAmperes ?? NaN);
  expect(-(restCurrent(point, "battery") ?? NaN)).toBeCloseTo(drawn, 6);
  expect(at("supply")).toBeCloseTo(9 - 2 * drawn, 6);
});

test("every build part has a value that is sold", () => {
  for (const part of buildParts) {
    if (part.kind === "resistor") expect(nearestPreferred(part.ohms, "E12")).toBe(part.ohms);
    if (part.kind === "capacitor") expect(nearestPreferred(part.farads, "E6")).toBeCloseTo(part.farads, 12);
  }
  expect(controlsOf(19).length).toBeGreaterThan(10);
});
