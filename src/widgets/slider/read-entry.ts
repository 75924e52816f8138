import {variableOhms} from "../../engine/circuit/resistance.ts";
import type {Part, VariableResistor} from "../../engine/circuit/part.ts";
import type {Control} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {parseQuantity} from "../../engine/quantities/parse-quantity.ts";
import {prefixes, unitFacts} from "../../engine/quantities/unit.ts";
import {nearestStop} from "../bench-state/address.ts";
import {placeText, rotationText} from "./control-text.ts";

/** The stop that a typed text leads to and a sentence on how it was read, empty where it says what stands there now; or what to write instead. */
export type ReadEntry = Readonly<{ok: true; value: number; note: string}> | Readonly<{ok: false; message: string}>;

/** Reads what was typed for a control. `part` is what it turns, as it stands: a rotation may be asked for by its resistance. */
export function readEntry(text: string, control: Control, part?: Part): ReadEntry {
  return control.kind === "rotation" ? readRotation(text.trim(), control, part) : readValue(text, control);
}

function readValue(text: string, control: Control): ReadEntry {
  const read = parseQuantity(text, control.unit);
  if (!read.ok) return read;
  if (read.value <= 0)
    return {ok: false, message: `A value above zero is needed, such as ${placeText(control, control.start)}.`};
  const unclear = askForUnit(text.trim(), read.value, control);
  if (unclear) return {ok: false, message: unclear};
  const value = nearestStop(control, read.value);
  const nearest = control.kind === "part value" ? "The nearest that can be bought here" : "The nearest stop";
  const same = Math.abs(value / read.value - 1) < 1e-6;
  return {
    ok: true,
    value,
    note: same ? "" : `I read this as ${read.readAs}. ${nearest} is ${placeText(control, value)}.`,
  };
}

/** A bare number is taken as it stands where the control goes so far; else most likely its prefix was left out. */
function askForUnit(text: string, number: number, {unit, values, start}: Control): string | undefined {
  const within = (value: number) => value >= (values[0] ?? 0) * 0.999 && value <= (values.at(-1) ?? 0) * 1.001;
  if (!unitFacts[unit].prefixed || !/^[-+\d.,]+$/.test(text) || within(number)) return undefined;
  const shown = formatQuantity(start, unit).split("\u00a0")[1] ?? "";
  const meant = prefixes
    .filter(({exponent}) => within(number * 10 ** exponent))
    .map(({symbol}) => `${symbol}${unit}`)
    .sort((a, b) => Number(b === shown) - Number(a === shown));
  const example = meant[0] ? `${text}\u00a0${meant[0]}` : formatQuantity(start, unit);
  return `${text} what? Write it with its unit, such as ${example}.`;
}

const named = [
  ...[0, 0.5, 1].map((position) => ({position, words: rotationText(position)})),
  {position: 0, words: "all the way down"},
];

function readRotation(text: string, control: Control, part: Part | undefined): ReadEntry {
  const word = named.find(({words}) => words === text.toLowerCase());
  if (word) return {ok: true, value: word.position, note: ""};
  const share = parseQuantity(text, "%");
  if (share.ok) return readShare(share.value, share.unitGiven, control);
  const ohms = parseQuantity(text, "Ω");
  if (ohms.ok) return readResistance(ohms.value, control, part);
  // A comma that can be read in two ways is asked about in the sentence that says so.
  if (share.message.includes("can be read as")) return share;
  const resistance = part?.kind === "variable resistor" ? ", or the resistance you want, such as 47\u00a0kΩ" : "";
  return {
    ok: false,
    message: `I can't read a rotation in “${text.slice(0, 24)}”. Write one such as 35\u00a0%${resistance}.`,
  };
}

/** Up to one a bare number is a share of the turn, above it is percent. */
function readShare(number: number, percent: boolean, control: Control): ReadEntry {
  const position = percent || Math.abs(number) > 1 ? number / 100 : number;
  const readAs = formatQuantity(100 * position, "%", {figures: 6});
  if (position < 0 || position > 1)
    return {
      ok: false,
      message: `I read this as ${readAs}, and the control turns from 0 to 100\u00a0%. Write one such as 35\u00a0%.`,
    };
  const value = nearestStop(control, position);
  if (Math.abs(value - position) > 1e-9)
    return {
      ok: true,
      value,
      note: `I read this as ${readAs}. The nearest hundredth of the turn is ${placeText(control, value)}.`,
    };
  if (number === 1 && !percent)
    return {ok: true, value, note: "I read this as the whole turn. A hundredth of it is written 1\u00a0%."};
  return {ok: true, value, note: percent ? "" : `I read this as ${readAs} of the turn.`};
}

function readResistance(ohms: number, control: Control, part: Part | undefined): ReadEntry {
  if (part?.kind !== "variable resistor")
    return {
      ok: false,
      message:
        "This control divides its track in two, and no single resistance sets it. Write a rotation such as 35\u00a0%.",
    };
  const stops = control.values.map((position) => ({position, ohms: ohmsAt(part, position)}));
  const written = (value: number) => formatQuantity(value, "Ω");
  const [low, high] = [Math.min, Math.max].map((end) => end(...stops.map((stop) => stop.ohms)));
  const readAs = formatQuantity(ohms, "Ω", {figures: 6});
  if (low === undefined || high === undefined || ohms < low * 0.999 || ohms > high * 1.001)
    return {
      ok: false,
      message: `I read this as ${readAs}, and ${part.ref} goes from ${written(low ?? 0)} to ${written(high ?? 0)}. Write a resistance between them, or a rotation such as 35\u00a0%.`,
    };
  const nearest = stops.reduce((best, stop) => (Math.abs(stop.ohms - ohms) < Math.abs(best.ohms - ohms) ? stop : best));
  return {
    ok: true,
    value: nearest.position,
    note: `I read this as ${readAs}. The nearest here is ${written(nearest.ohms)}, at ${formatQuantity(100 * nearest.position, "%")}.`,
  };
}

const ohmsAt = (part: VariableResistor, position: number) => variableOhms({...part, position});
