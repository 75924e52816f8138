import {PartValueError} from "./circuit-error.ts";
import type {DiodeModel, OpAmpModel, Part} from "./part.ts";

/** Least and greatest value that a part can be bought or made with, and then some. */
const limits = {
  resistance: {least: 1e-3, greatest: 1e12, unit: "Ω"},
  capacitance: {least: 1e-15, greatest: 10, unit: "F"},
  inductance: {least: 1e-12, greatest: 1e5, unit: "H"},
} as const;

/** @throws {PartValueError} naming the part, what is wrong with it and what was given */
export function checkPart(part: Part): void {
  const {ref} = part;
  if (ref.trim() === "") throw new PartValueError(`a ${part.kind} has an empty reference; give it one, such as "R1"`);
  for (const node of part.nodes) {
    if (node.trim() === "") throw new PartValueError(`${ref}: one of its nodes has no name; name it or use "0"`, {ref});
  }
  switch (part.kind) {
    case "resistor":
      return value(ref, "resistance", part.ohms, "; use a wire for 0 Ω");
    case "capacitor":
      return value(ref, "capacitance", part.farads, "; leave the part out for 0 F");
    case "inductor":
      return value(ref, "inductance", part.henries, "; use a wire for 0 H");
    case "variable resistor":
      value(ref, "resistance", part.ohms, "");
      within(ref, "rotation", part.position, 0, 1, "");
      return within(ref, "end resistance", part.endOhms, 0, part.ohms, "Ω");
    case "potentiometer":
      value(ref, "resistance", part.ohms, "");
      return within(ref, "rotation", part.position, 0, 1, "");
    case "voltage source":
      return within(ref, "voltage", part.volts, -1e4, 1e4, "V");
    case "current source":
      return within(ref, "current", part.amperes, -1e3, 1e3, "A");
    case "diode":
      if (!Number.isInteger(part.inSeries) || part.inSeries < 1 || part.inSeries > 100) {
        throw new PartValueError(
          `${ref}: diodes in series must be a whole number from 1 to 100, got ${part.inSeries}`,
          {ref},
        );
      }
      return checkDiode(ref, part.model);
    case "op-amp":
      return checkOpAmp(ref, part.model);
    case "wire":
      return;
    default:
      throw unknownKind(part);
  }
}

function checkDiode(ref: string, model: DiodeModel): void {
  within(ref, "saturation current", model.saturationCurrent, 1e-40, 1e-2, "A");
  within(ref, "emission coefficient", model.emissionCoefficient, 0.1, 10, "");
  within(ref, "thermal voltage", model.thermalVoltage, 1e-3, 0.1, "V");
  within(ref, "series resistance", model.seriesOhms, 0, 1e6, "Ω");
}

function checkOpAmp(ref: string, model: OpAmpModel): void {
  atLeast(ref, "open-loop gain", model.openLoopGain, 1);
  atLeast(ref, "gain-bandwidth", model.gainBandwidthHz, 1);
  atLeast(ref, "input resistance", model.inputOhms, 1);
  within(ref, "output resistance", model.outputOhms, 0, 1e6, "Ω");
  if (model.slewVoltsPerSecond !== undefined) atLeast(ref, "slew rate", model.slewVoltsPerSecond, 1);
  if (model.slewVoltsPerSecond !== undefined && !Number.isFinite(model.gainBandwidthHz)) {
    throw new PartValueError(
      `${ref}: a slew rate needs a finite gain-bandwidth; leave the slew rate out or give both`,
      {ref},
    );
  }
  for (const swing of [model.swingToPositiveVolts, model.swingToNegativeVolts]) {
    if (swing !== undefined) within(ref, "distance of the output from a supply", swing, 0, 1e3, "V");
  }
}

function value(ref: string, what: keyof typeof limits, given: number, hint: string): void {
  const {least, greatest, unit} = limits[what];
  if (!(given > 0))
    throw new PartValueError(`${ref}: ${what} must be positive, got ${written(given, unit)}${hint}`, {ref});
  if (given >= least && given <= greatest) return;
  throw new PartValueError(
    `${ref}: ${what} must be from ${written(least, unit)} to ${written(greatest, unit)}, got ${written(given, unit)}; check its prefix`,
    {ref},
  );
}

function within(ref: string, what: string, given: number, least: number, greatest: number, unit: string): void {
  if (given >= least && given <= greatest) return;
  const range = `from ${written(least, unit)} to ${written(greatest, unit)}`;
  throw new PartValueError(`${ref}: ${what} must be ${range}, got ${written(given, unit)}`, {ref});
}

function atLeast(ref: string, what: string, given: number, least: number): void {
  if (given >= least) return;
  throw new PartValueError(`${ref}: ${what} must be ${least} or more, got ${given}`, {ref});
}

function unknownKind(part: never): PartValueError {
  const {ref, kind} = part as {ref: string; kind: string};
  return new PartValueError(`${ref}: "${kind}" is not a kind of part this engine knows`, {ref});
}

const prefixes: Readonly<Record<number, string>> = {
  "-15": "f",
  "-12": "p",
  "-9": "n",
  "-6": "µ",
  "-3": "m",
  0: "",
  3: "k",
  6: "M",
  9: "G",
  12: "T",
};

// Written out here, and not by formatQuantity, so that parts depend on nothing: a message needs three figures and a prefix.
function written(given: number, unit: string): string {
  if (given === 0 || !Number.isFinite(given) || unit === "") return `${given} ${unit}`.trim();
  const power = Math.max(-15, Math.min(12, Math.floor(Math.log10(Math.abs(given)) / 3 + 1e-9) * 3));
  return `${Number((given / 10 ** power).toPrecision(3))} ${prefixes[power] ?? ""}${unit}`;
}
