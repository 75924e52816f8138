import {expect, test} from "vitest";
import {frequencyResponse, logFrequencies, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restCurrent, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {buildParts, builtCircuit} from "../../../src/engine/course/build-parts.ts";
import {controlsOf, courseCircuit} from "../../../src/engine/course/course-circuit.ts";
import {nearestPreferred} from "../../../src/engine/quantities/preferred-values.ts";

/** Largest difference in decibels between the built pedal and the lesson's. */
function apart(
  settings: Readonly<Record<string, number>>,
  frequencies: Float64Array,
  without: readonly string[] = [],
): number {
  const {parts, nodes} = builtCircuit({lesson: 19, settings});
  const built = {parts: parts.filter(({ref}) => !without.includes(ref)), nodes};
  const [ours, plain] = [
    magnitudeDb(frequencyResponse(built, "output jack", frequencies)),
    magnitudeDb(frequencyResponse(courseCircuit({lesson: 19, settings}).circuit, "out", frequencies)),
  ];
  return ours.reduce((most, level, k) => Math.max(most, Math.abs(level - (plain[k] ?? NaN))), 0);
}

test("the parts that only a build has change the sound by less than 0.1 dB, wherever the pots stand", () => {
  for (const settings of [{}, {RV1: 0}, {RV1: 1}, {RV3: 0}, {RV3: 1, RV2: 0.5}]) {
    expect(apart(settings, logFrequencies(40, 1e3, 40))).toBeLessThan(0.1);
    // The pull-down at the input lies beside the pickup's resonance, and takes something off its peak; nothing else does.
    expect(apart(settings, logFrequencies(40, 12e3, 60), ["R4"])).toBeLessThan(0.1);
    // R4 beside the guitar's 250 kΩ and R2 with the rest, 1 MΩ: 200 kΩ become 183 kΩ, 20·log(183/200) = −0.76 dB, less the pickup's own loss.
    expect(apart(settings, logFrequencies(1e3, 12e3, 200))).toBeLessThan(0.76);
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
