import {checkDiodeModel, checkOpAmpModel} from "./check-model.ts";
import {checkNumber, checkWithin, written} from "./check-value.ts";
import {PartValueError} from "./circuit-error.ts";
import type {Part, Potentiometer, VariableResistor} from "./part.ts";
import {tapers} from "./taper.ts";

/** Least and greatest value that a part can be bought or made with, and then some. */
const limits = {
  resistance: {least: 1e-3, greatest: 1e12, unit: "Ω"},
  capacitance: {least: 1e-15, greatest: 10, unit: "F"},
  inductance: {least: 1e-12, greatest: 1e5, unit: "H"},
} as const;

/** How many nodes each kind of part has. */
const nodeCounts: Readonly<Record<Part["kind"], number>> = {
  resistor: 2,
  capacitor: 2,
  inductor: 2,
  "variable resistor": 2,
  potentiometer: 3,
  "voltage source": 2,
  "current source": 2,
  wire: 2,
  diode: 2,
  "op-amp": 3,
};

/** @throws {PartValueError} naming the part, what is wrong with it and what was given */
export function checkPart(part: Part): void {
  const {ref} = part;
  if (ref.trim() === "") throw new PartValueError(`a ${part.kind} has an empty reference; give it one, such as "R1"`);
  if (!Object.hasOwn(nodeCounts, part.kind)) throw unknownKind(part as never);
  checkNodes(part);
  switch (part.kind) {
    case "resistor":
      return value(ref, "resistance", part.ohms, "; use a wire for 0 Ω");
    case "capacitor":
      return value(ref, "capacitance", part.farads, "; leave the part out for 0 F");
    case "inductor":
      return value(ref, "inductance", part.henries, "; use a wire for 0 H");
    case "variable resistor":
      value(ref, "resistance", part.ohms, "");
      rotation(part);
      return checkWithin(ref, "end resistance", part.endOhms, 0, part.ohms, "Ω");
    case "potentiometer":
      value(ref, "resistance", part.ohms, "");
      if (part.endOhms !== undefined) checkWithin(ref, "end resistance", part.endOhms, 0, part.ohms, "Ω");
      return rotation(part);
    case "voltage source":
      if (part.seriesOhms !== undefined) checkWithin(ref, "internal resistance", part.seriesOhms, 0, 1e12, "Ω");
      return checkWithin(ref, "voltage", part.volts, -1e4, 1e4, "V");
    case "current source":
      return checkWithin(ref, "current", part.amperes, -1e3, 1e3, "A");
    case "diode":
      if (!Number.isInteger(part.inSeries) || part.inSeries < 1 || part.inSeries > 100) {
        throw new PartValueError(
          `${ref}: diodes in series must be a whole number from 1 to 100, got ${part.inSeries}`,
          {ref},
        );
      }
      return checkDiodeModel(ref, part.model);
    case "op-amp":
      return checkOpAmpModel(ref, part.model);
    case "wire":
      return;
    default:
      throw unknownKind(part);
  }
}

function checkNodes(part: Part): void {
  const {ref, kind} = part;
  const nodes: unknown = part.nodes;
  const count = nodeCounts[kind];
  if (!Array.isArray(nodes) || nodes.length !== count) {
    const got = Array.isArray(nodes) ? nodes.length : "none";
    throw new PartValueError(`${ref}: a ${kind} joins ${count} nodes, got ${got}; name them in their order`, {ref});
  }
  const supply =
    part.kind === "op-amp" && part.supply !== undefined ? [part.supply.positive, part.supply.negative] : [];
  for (const node of [...nodes, ...supply] as unknown[]) {
    if (typeof node === "string" && node.trim() !== "") continue;
    throw new PartValueError(`${ref}: one of its nodes has no name; name it or use "0"`, {ref});
  }
}

function rotation({ref, position, taper, middle}: VariableResistor | Potentiometer): void {
  checkWithin(ref, "rotation", position, 0, 1, "");
  if (middle !== undefined) checkWithin(ref, "middle of its taper", middle, 0.01, 0.5, "");
  if (tapers.includes(taper)) return;
  throw new PartValueError(
    `${ref}: a taper is linear, audio, reverse audio or two-segment audio, got ${JSON.stringify(taper)}`,
    {ref},
  );
}

function value(ref: string, what: keyof typeof limits, given: number, hint: string): void {
  const {least, greatest, unit} = limits[what];
  checkNumber(ref, what, given);
  if (!(given > 0))
    throw new PartValueError(`${ref}: ${what} must be positive, got ${written(given, unit)}${hint}`, {ref});
  if (given >= least && given <= greatest) return;
  throw new PartValueError(
    `${ref}: ${what} must be from ${written(least, unit)} to ${written(greatest, unit)}, got ${written(given, unit)}; check its prefix`,
    {ref},
  );
}

function unknownKind(part: never): PartValueError {
  const {ref, kind} = part as {ref: string; kind: string};
  return new PartValueError(`${ref}: "${kind}" is not a kind of part this engine knows`, {ref});
}
