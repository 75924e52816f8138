import {describe, expect, test} from "vitest";
import {evaluate, type Law} from "../../../src/engine/analysis/nonlinearities.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {added, heldBack, lawAtWork, read, readBend, slopeAdded} from "../../../src/engine/realtime/law-at-work.ts";
import type {PlacedLaw} from "../../../src/engine/realtime/step-model.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";

const {silicon} = diodeModels;
const place = {port: 0, sign: 1, column: 0, weight: 1, drop: 0, tangent: 0, shift: 0} as const;
const laws: readonly (readonly [string, Law])[] = [
  ["a diode", {kind: "diode", model: {...silicon, seriesOhms: 0}, inSeries: 2}],
  ["an upper rail", {kind: "clamp", scale: 0.1, width: 0.025, sign: 1}],
  ["a lower rail", {kind: "clamp", scale: 0.1, width: 0.025, sign: -1}],
  ["an input stage", {kind: "slew", volts: 0.05}],
  ["a supply", {kind: "supply", amperes: 2e-3}],
];

describe.each(laws)("%s at work", (_, law) => {
  const points = [...Array.from({length: 400}, (_, k) => (k - 200) / 100), 3, 6, -6, 1e-5, -1e-5];

  test.each([1, -1] as const)("is what it is anywhere, with weight %i", (weight) => {
    const placed: PlacedLaw = {...place, law, weight};
    const ours = lawAtWork(placed, 1);
    for (const volts of points) {
      const theirs = {value: 0, slope: 0};
      evaluate(law, volts, theirs);
      ours.point = volts;
      read(ours);
      // e^z − 1 next to 0 loses digits of the saturation current alone, tanh next to ±1 those of its volt.
      const floor = law.kind === "diode" ? law.model.saturationCurrent : 1;
      expect(Math.abs(weight * added(ours) - theirs.value), `${volts} V`).toBeLessThanOrEqual(
        1e-12 * (floor + Math.abs(theirs.value)),
      );
      expect(Math.abs(weight * slopeAdded(ours) - theirs.slope), `${volts} V`).toBeLessThanOrEqual(
        1e-11 * (1e-6 * floor + Math.abs(theirs.slope)),
      );
    }
  });

  test("a small step from anywhere ends where its series says", () => {
    const ours = lawAtWork({...place, law}, 1);
    const draw = seededNoise(5);
    let bent = 0;
    for (const volts of points) {
      if (!(volts < ours.straightFrom)) continue;
      ours.point = volts;
      read(ours);
      if (ours.slope === 0) continue;
      const {value, slope} = ours;
      ours.step = ours.near * draw();
      readBend(ours);
      const continued = value + slope * ours.step + ours.bend;
      bent = Math.max(bent, Math.abs(ours.bend / (value + ours.base)));
      ours.point += ours.step;
      read(ours);
      const width = law.kind === "slew" ? law.volts : Math.abs(ours.value) + ours.base;
      expect(Math.abs(continued - ours.value), `${volts} V`).toBeLessThanOrEqual(2e-11 * width);
    }
    if (law.kind !== "supply") expect(bent).toBeGreaterThan(1e-6);
  });
});

test("of a diode whose slope the linear part took, its own resistance held apart, the rest is what the whole law lacks", () => {
  const law: Law = {kind: "diode", model: {...silicon, seriesOhms: 40}, inSeries: 2};
  const [tangent, shift] = [1e-3, 0.25];
  const ours = lawAtWork({...place, law, tangent, shift}, 1);
  for (let junction = -2; junction < 1.4; junction += 0.01) {
    ours.point = junction;
    read(ours);
    const whole = {value: 0, slope: 0};
    const volts = junction + ours.ohms * ours.value;
    evaluate(law, volts, whole);
    const lacks = whole.value - tangent * (volts - shift);
    expect(Math.abs(added(ours) - lacks)).toBeLessThan(1e-12 * Math.max(1, Math.abs(volts)));
    // dφ/du by way of the junction: its slope times the share of u that arrives there.
    const slope = slopeAdded(ours) / (1 + ours.ohms * ours.slope);
    expect(Math.abs(slope - (whole.slope - tangent))).toBeLessThan(1e-12);
  }
});

test("a step is held back where an exponential would outrun it, and not where the law is straight", () => {
  const [width, critical, steepest] = [0.025, 0.1, 10];
  expect(heldBack(0.15, 2, width, critical, steepest)).toBeLessThan(0.3);
  // Rails that a reversed supply has crossed stand volts beyond: bit by bit it would take a dozen rounds a step.
  expect(heldBack(6.8, 5.9, width, critical, steepest)).toBe(5.9);
  expect(heldBack(6.8, 0.2, width, critical, steepest)).not.toBe(0.2);
});
