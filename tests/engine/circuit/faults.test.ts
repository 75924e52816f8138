import {expect, test} from "vitest";
import {frequencyResponse, magnitudeDb} from "../../../src/engine/analysis/frequency-response.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {buyable} from "../../../src/engine/circuit/buyable.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {valued, valueOf} from "../../../src/engine/circuit/changes.ts";
import {faultsOf, withFault, type Fault} from "../../../src/engine/circuit/faults.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";

const {circuit: pedal, listenAt} = courseCircuit(startSetting(20));
const db = (of: typeof pedal, hz = 1e3) =>
  magnitudeDb(frequencyResponse(of, listenAt, Float64Array.of(hz)))[0] ?? Number.NaN;
const rest = (fault: Fault, node: string) => restVoltage(operatingPoint(withFault(pedal, fault)), node);
const faultFor = (ref: string, kind: Fault["kind"]): Fault => {
  const part = pedal.parts.find((each) => each.ref === ref);
  const value = part === undefined ? undefined : valueOf(part);
  return kind === "wrong value" ? {ref, kind, value: value === 0 ? 1 : (value ?? 1) * 10} : ({ref, kind} as Fault);
};

test("every fault of every part leaves a circuit that rests and has a finite response", () => {
  let count = 0;
  for (const part of pedal.parts) {
    for (const kind of faultsOf(part)) {
      const broken = withFault(pedal, faultFor(part.ref, kind));
      const point = operatingPoint(broken);
      // Kirchhoff to 1e-12 A, or to rounding of the largest current where a solder bridge carries amperes.
      const largest = Math.max(
        ...[...point.stamps.branchOf.values()].map((unknown) => Math.abs(point.x[unknown] ?? 0)),
      );
      expect(point.residualAmperes, `${part.ref} ${kind}`).toBeLessThan(Math.max(1e-12, 1e-12 * largest));
      if (!(part.ref === "guitar")) expect(Number.isNaN(db(broken)), `${part.ref} ${kind}`).toBe(false);
      count += 1;
    }
  }
  expect(count).toBeGreaterThan(60);
});

test("faults do what they do at the bench", () => {
  expect(db(withFault(pedal, {ref: "C5", kind: "open"}))).toBeLessThan(db(pedal) - 60); // silence
  expect(rest({ref: "R9", kind: "short"}, "ref")).toBe(0);
  expect(rest({ref: "R8", kind: "open"}, "ref")).toBeLessThan(0.1);
  expect(rest({ref: "D3", kind: "reversed"}, "vcc")).toBeLessThan(0.1);
  // The leg now amplifies the reference, until a clipping diode carries the current of R3: one drop above where it rested.
  expect(rest({ref: "C3", kind: "short"}, "o") - restVoltage(operatingPoint(pedal), "o")).toBeGreaterThan(0.4);
  expect(rest({ref: "C5", kind: "leaking"}, "w")).toBeGreaterThan(1); // direct voltage on the volume control: it crackles
  expect(db(withFault(pedal, {ref: "R3", kind: "wrong value", value: 33e3}))).toBeLessThan(db(pedal) - 10);
  expect(db(withFault(pedal, {ref: "RV2", kind: "reversed"}))).toBeLessThan(-60); // full up is now full down
});

test("faults that mean nothing are errors that say so", () => {
  expect(() => withFault(pedal, {ref: "R1", kind: "reversed"})).toThrow("R1: turning a resistor round changes nothing");
  expect(() => withFault(pedal, {ref: "R1", kind: "leaking"})).toThrow("R1: only a capacitor leaks, not a resistor");
  expect(() => withFault(pedal, {ref: "R1", kind: "wrong value", value: 4.7e3})).toThrow(
    "R1: the wrong value is the right one",
  );
  expect(() => withFault(pedal, {ref: "R99", kind: "open"})).toThrow(/^no part is called "R99"; the parts are /);
});

test("the nearest values that can be bought are the course's own values again", () => {
  const off = circuit(
    pedal.parts.map((part) => {
      const value = part.kind === "resistor" || part.kind === "capacitor" ? valueOf(part) : undefined;
      return value === undefined || /cable|pickup/.test(part.ref) ? part : valued(part, value * 1.015);
    }),
  );
  const bought = new Map(buyable(off).parts.map((part) => [part.ref, valueOf(part)]));
  for (const ref of ["R1", "R2", "R3", "R5", "R8", "R9", "C1", "C3", "C4", "C5", "C6", "C8", "RV1", "RV2"]) {
    expect(bought.get(ref), ref).toBe(pedal.parts.filter((part) => part.ref === ref).map(valueOf)[0]);
  }
});
