import type {Unit} from "../quantities/unit.ts";
import {valued} from "../circuit/changes.ts";
import {diodeModels} from "../circuit/models/diodes.ts";
import {opAmpModels} from "../circuit/models/op-amps.ts";
import type {DiodeModel, NodeName, Part, Taper} from "../circuit/part.ts";
import {cableFaradsPerMetre} from "./parts.ts";
import {cableMetres, e12, phrasePeaks, rotations, supplyVolts, trackOhms} from "./stops.ts";

/** Name of a control: a designator where it sets a part's value or rotation ("C1", "RV1"), else what it does. */
export type ControlName = string;

/** What the learner may move, with every stop it has. */
export type Control = Readonly<{
  name: ControlName;
  /** Part in hand while it moves. */
  ref: string;
  /** Further parts that it changes, by reference. */
  also?: readonly string[];
  label: string;
  kind: "part value" | "rotation" | "length" | "level" | "switch" | "choice";
  unit: Unit;
  /** Every stop, ascending. For a switch or choice the places 0, 1, … of `choices`. */
  values: readonly number[];
  start: number;
  choices?: readonly string[];
}>;

/** A control with what it does to the parts of a circuit. */
export type ControlDeclaration = Control &
  Readonly<{apply: (parts: readonly Part[], value: number) => readonly Part[]}>;

type Apply = ControlDeclaration["apply"];

/** Changes the parts called by one of `refs`; undefined takes the part out. */
const onParts =
  (refs: readonly string[], change: (part: Part, value: number) => Part | undefined): Apply =>
  (parts, value) =>
    parts.flatMap((part) => {
      if (!refs.includes(part.ref)) return [part];
      return change(part, value) ?? [];
    });

const value = (
  ref: string,
  label: string,
  unit: Unit,
  values: readonly number[],
  start: number,
  name = ref,
): ControlDeclaration => ({
  name,
  ref,
  label,
  kind: "part value",
  unit,
  values,
  start,
  apply: onParts([ref], valued),
});

const rotation = (ref: string, label: string, start: number, name = ref): ControlDeclaration => ({
  name,
  ref,
  label,
  kind: "rotation",
  unit: "",
  values: rotations,
  start,
  apply: onParts([ref], (part, position) => ("position" in part ? {...part, position} : part)),
});

const choice = (
  name: string,
  ref: string,
  label: string,
  choices: readonly string[],
  start: number,
  apply: Apply,
  kind: "choice" | "switch" = "choice",
): ControlDeclaration => ({name, ref, label, kind, unit: "", values: choices.map((_, k) => k), start, choices, apply});

const tapers: readonly Taper[] = ["linear", "audio", "reverse audio"];

const taper = (ref: string, label: string, start: Taper): ControlDeclaration =>
  choice(
    `${ref}Taper`,
    ref,
    label,
    tapers,
    tapers.indexOf(start),
    onParts([ref], (part, index) => ("taper" in part ? {...part, taper: tapers[index] ?? part.taper} : part)),
  );

const cable = (name: string, ref: string, label: string, start: number): ControlDeclaration => ({
  name,
  ref,
  label,
  kind: "length",
  unit: "m",
  values: cableMetres,
  start,
  apply: onParts([ref], (part, metres) => valued(part, metres * cableFaradsPerMetre)),
});

const fitted = (name: string, refs: readonly string[], label: string): ControlDeclaration => {
  const [ref = name, ...also] = refs;
  const lift = onParts(refs, (part, index) => (index === 0 ? undefined : part));
  return {...choice(name, ref, label, ["out", "in"], 1, lift, "switch"), ...(also.length > 0 ? {also} : {})};
};

const clippers: readonly DiodeModel[] = [
  diodeModels.silicon,
  diodeModels.rectifier,
  diodeModels.germanium,
  diodeModels.schottky,
  diodeModels.greenLed,
  diodeModels.redLed,
  diodeModels.blueLed,
];

/** Which of the clipping diodes each place of their control lifts out. */
const liftedAt: readonly (readonly string[])[] = [["D1", "D2"], [], ["D2"], ["D1"]];

const protections: readonly DiodeModel[] = [diodeModels.rectifier, diodeModels.schottkyRectifier];

const opAmps = Object.values(opAmpModels);

const inSeries = (ref: string): ControlDeclaration => ({
  ...value(ref, `${ref}: diodes in series`, "", [1, 2, 3], 1, `${ref}InSeries`),
  apply: onParts([ref], (part, count) => (part.kind === "diode" ? {...part, inSeries: count} : part)),
});

const ends = (part: Part): readonly [NodeName, NodeName] => [part.nodes[0], part.nodes[1] ?? part.nodes[0]];

/** Every control of the course, in the order in which the signal meets the parts. */
export const allControls: readonly ControlDeclaration[] = [
  {
    name: "phraseLevel",
    ref: "guitar",
    label: "phrase level",
    kind: "level",
    unit: "V",
    values: phrasePeaks,
    start: 0.3,
    apply: (parts) => parts,
  },
  rotation("guitar volume", "guitar volume", 1, "guitarVolume"),
  cable("cable", "cable", "guitar cable", 4.7),
  value("R1", "series resistor", "Ω", e12(100, 1e6), 4.7e3),
  value("C1", "coupling capacitor", "F", e12(100e-12, 1e-6), 33e-9),
  value("R2", "bias resistor", "Ω", e12(10e3, 10e6), 1e6),
  value("battery", "supply voltage", "V", supplyVolts, 9, "batteryVolts"),
  choice(
    "battery",
    "battery",
    "battery",
    ["right way round", "reversed"],
    0,
    onParts(["battery"], (part, index) =>
      part.kind === "voltage source" && index === 1 ? {...part, volts: -part.volts} : part,
    ),
    "switch",
  ),
  choice(
    "D3",
    "D3",
    "reverse-polarity diode",
    ["silicon", "Schottky", "a wire instead"],
    0,
    onParts(["D3"], (part, index) => {
      const model = protections[index];
      if (model === undefined) return {kind: "wire", ref: part.ref, nodes: ends(part)};
      return part.kind === "diode" ? {...part, model} : part;
    }),
  ),
  value("R8", "upper divider resistor", "Ω", e12(1e3, 1e6), 22e3),
  value("R9", "lower divider resistor", "Ω", e12(1e3, 1e6), 22e3),
  value("C8", "reservoir capacitor", "F", e12(1e-6, 470e-6), 47e-6),
  choice(
    "U1",
    "U1",
    "op-amp",
    opAmps.map(({name}) => name),
    0,
    onParts(["U1"], (part, index) => (part.kind === "op-amp" ? {...part, model: opAmps[index] ?? part.model} : part)),
  ),
  rotation("RV1", "gain control", 0.5),
  value("RV1", "gain control's track", "Ω", trackOhms, 330e3, "RV1Ohms"),
  taper("RV1", "gain control's taper", "linear"),
  value("R3", "leg resistor", "Ω", e12(100, 100e3), 3.3e3),
  value("C3", "leg capacitor", "F", e12(1e-9, 10e-6), 68e-9),
  choice(
    "leg",
    "R3",
    "where the leg goes",
    ["to the reference", "to ground"],
    0,
    onParts(["R3"], (part, index) =>
      part.kind === "resistor" && index === 1 ? {...part, nodes: [part.nodes[0], "0"]} : part,
    ),
  ),
  value("C4", "top-cut capacitor", "F", e12(10e-12, 10e-9), 120e-12),
  fitted("C4Fitted", ["C4"], "top-cut capacitor in or out"),
  {
    ...choice(
      "diodes",
      "D1",
      "clipping diodes",
      clippers.map(({name}) => name),
      0,
      onParts(["D1", "D2"], (part, index) =>
        part.kind === "diode" ? {...part, model: clippers[index] ?? part.model} : part,
      ),
    ),
    also: ["D2"],
  },
  inSeries("D1"),
  inSeries("D2"),
  {
    // None and both come first: 0 and 1 mean what they mean for every part that can be lifted out.
    ...choice(
      "diodesFitted",
      "D1",
      "which clipping diodes are in",
      ["none", "both", "D1 only", "D2 only"],
      1,
      (parts, index) => onParts(liftedAt[index] ?? [], () => undefined)(parts, index),
    ),
    also: ["D2"],
  },
  value("R5", "tone resistor", "Ω", e12(100, 100e3), 1e3),
  rotation("RV3", "tone control", 0.5),
  value("RV3", "tone control's track", "Ω", trackOhms, 20e3, "RV3Ohms"),
  taper("RV3", "tone control's taper", "linear"),
  value("C6", "tone capacitor", "F", e12(1e-9, 1e-6), 10e-9),
  value("C5", "output coupling capacitor", "F", e12(10e-9, 47e-6), 1e-6),
  rotation("RV2", "volume control", 1),
  value("RV2", "volume control's track", "Ω", trackOhms, 100e3, "RV2Ohms"),
  taper("RV2", "volume control's taper", "audio"),
  value("amplifier resistance", "amplifier's input resistance", "Ω", e12(10e3, 10e6), 1e6, "amplifierOhms"),
  cable("amplifierCable", "amplifier cable", "amplifier's cable", 3),
  fitted("amplifier", ["amplifier resistance", "amplifier cable"], "amplifier's plug"),
];
