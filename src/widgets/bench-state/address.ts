import {controlsOf, lessonCount, type BenchSetting, type Control} from "../../engine/course/course-circuit.ts";
import {beforeSetting, startSetting} from "../../engine/course/course-circuit.ts";
import {parseQuantity} from "../../engine/quantities/parse-quantity.ts";
import {prefixes, unitFacts} from "../../engine/quantities/unit.ts";
import {placeText} from "../slider/control-text.ts";
import {notes, startNote, type Note} from "./notes.ts";

/**
 * What an address says of a bench: where it stands, what 'before' is, the note of its figures, the exercise to do with it, what
 * could not be read, and a sentence for each value that lies between two stops.
 */
export type ReadAddress = Readonly<{
  now: BenchSetting;
  held: BenchSetting;
  note: Note;
  exercise?: string;
  notUnderstood: readonly string[];
  between: readonly string[];
}>;

/**
 * The part of an address behind `#` that brings this bench back: only what differs from the lesson's start, as in
 * `C1=470p&before=1&before.cable=10`. Empty when nothing differs.
 */
export function addressOf(now: BenchSetting, held: BenchSetting, note = startNote): string {
  const entries = differences(now, startSetting(now.lesson)).map(([name, text]) => `${name}=${text}`);
  const start = beforeSetting(now.lesson);
  const heldEntries = differences(held, {
    lesson: held.lesson,
    settings: {...startSetting(held.lesson).settings, ...(held.lesson === start.lesson ? start.settings : {})},
  });
  if (held.lesson !== start.lesson) entries.push(`before=${held.lesson}`);
  for (const [name, text] of heldEntries) entries.push(`before.${name}=${text}`);
  if (note.name !== startNote.name) entries.push(`note=${note.name}`);
  return entries.join("&");
}

/** Reads such an address for lesson `number`. What cannot be read is left at its start and told in `notUnderstood`. */
export function readAddress(hash: string, number: number): ReadAddress {
  const notUnderstood: string[] = [];
  const between: string[] = [];
  const settings: Record<string, number> = {...startSetting(number).settings};
  const start = beforeSetting(number);
  let heldLesson = start.lesson;
  let note = startNote;
  let exercise: string | undefined;
  const heldEntries: [string, string][] = [];
  for (const entry of hash.replace(/^#/, "").split("&").filter(Boolean)) {
    const [name = "", text = ""] = decode(entry).split(/=(.*)/s);
    if (name === "before") {
      const found = Number(text);
      if (Number.isInteger(found) && found >= 1 && found <= lessonCount) heldLesson = found;
      else notUnderstood.push(entry);
    } else if (name === "note") {
      const found = notes.find((each) => each.name === text);
      if (found) note = found;
      else notUnderstood.push(entry);
    } else if (name === "exercise" && /^\d+\.\d+$/.test(text)) exercise = text;
    else if (name.startsWith("before.")) heldEntries.push([name.slice(7), text]);
    else if (!place(settings, {lesson: number, name, text, between})) notUnderstood.push(entry);
  }
  const heldSettings: Record<string, number> = {...(heldLesson === start.lesson ? start.settings : {})};
  for (const [name, text] of heldEntries) {
    const told: string[] = [];
    if (!place(heldSettings, {lesson: heldLesson, name, text, between: told}))
      notUnderstood.push(`before.${name}=${text}`);
    between.push(...told.map((sentence) => `For ‘before’: ${sentence}`));
  }
  return {
    now: {lesson: number, settings},
    held: {lesson: heldLesson, settings: heldSettings},
    note,
    ...(exercise === undefined ? {} : {exercise}),
    notUnderstood,
    between,
  };
}

/** The stop of a control nearest to `value`: by ratio for what can be bought, by distance otherwise. */
export function nearestStop({values, kind}: Control, value: number): number {
  const far = (stop: number) => (kind === "part value" ? Math.abs(Math.log(stop / value)) : Math.abs(stop - value));
  return values.reduce((best, stop) => (far(stop) < far(best) ? stop : best));
}

type Entry = Readonly<{lesson: number; name: string; text: string; between: string[]}>;

/** Sets what an entry asks for, on the nearest stop, and adds a sentence to `between` where that is another value. */
function place(settings: Record<string, number>, {lesson, name, text, between}: Entry): boolean {
  const control = controlsOf(lesson).find((each) => each.name === name);
  if (!control || text === "") return false;
  const read = parseQuantity(text, control.unit);
  if (!read.ok || (control.kind === "part value" && read.value <= 0)) return false;
  const stop = nearestStop(control, read.value);
  const same = Math.abs(stop - read.value) <= 1e-6 * Math.max(Math.abs(stop), Math.abs(read.value));
  // Between two words of a switch there is nothing near.
  if (!same && control.choices) return false;
  settings[name] = stop;
  if (!same) between.push(nearestText(control, read.value, stop));
  return true;
}

function nearestText(control: Control, asked: number, stop: number): string {
  const title = control.ref === control.name ? control.ref : control.label;
  const nearest = control.kind === "part value" ? "the nearest that can be bought here" : "the nearest stop";
  return `${title} at ${placeText(control, asked)} is asked for; ${nearest} is ${placeText(control, stop)}.`;
}

function differences(from: BenchSetting, to: BenchSetting): [string, string][] {
  return controlsOf(from.lesson).flatMap((control): [string, string][] => {
    const value = from.settings[control.name];
    const there = to.settings[control.name] ?? control.start;
    return value === undefined || value === there ? [] : [[control.name, plain(value, control)]];
  });
}

/** "470p" and not "470 pF": short, and it needs no escapes in an address. */
function plain(value: number, {unit}: Control): string {
  if (!unitFacts[unit].prefixed || value === 0) return String(value);
  const exponent = 3 * Math.floor(Math.log10(value * (1 + 1e-12)) / 3);
  const prefix = prefixes.find((each) => each.exponent === exponent);
  if (!prefix) return String(value);
  return `${Number((value / 10 ** exponent).toPrecision(6))}${prefix.symbol === "µ" ? "u" : prefix.symbol}`;
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
