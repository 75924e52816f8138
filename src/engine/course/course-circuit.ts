import {circuit, type Circuit} from "../circuit/circuit.ts";
import {CircuitError} from "../circuit/circuit-error.ts";
import type {NodeName, Part} from "../circuit/part.ts";
import {allControls, type Control, type ControlDeclaration, type ControlName} from "./controls.ts";
import {lessonTable, type LessonDeclaration} from "./lessons.ts";
import {courseParts} from "./parts.ts";

export type {Control, ControlName} from "./controls.ts";

/** Places of controls, in the unit of each. */
export type Settings = Readonly<Record<ControlName, number>>;

/** A lesson's bench with some of its controls moved; a control that is left out stands where the lesson starts it. */
export type BenchSetting = Readonly<{lesson: number; settings: Settings}>;

/** A circuit to listen to: the node, and the peak of the phrase in volts at the ideal source. */
export type CourseCircuit = Readonly<{circuit: Circuit; listenAt: NodeName; phrasePeakVolts: number}>;

/** How many lessons there are. */
export const lessonCount = lessonTable.length;

/** What the lesson adds, removes and turns. @throws {RangeError} if there is no such lesson */
export function lessonDeclaration(lesson: number): LessonDeclaration {
  const found = lessonTable.find((each) => each.lesson === lesson);
  if (found === undefined) throw new RangeError(`there are lessons 1 to ${lessonCount}, got ${lesson}`);
  return found;
}

/** Every control of the parts that are on the lesson's bench, each starting where the lesson starts it. */
export function controlsOf(lesson: number): readonly Control[] {
  return declaredControls(lesson).map(({apply: _, ...control}) => control);
}

/** The controls that the lesson is about, in the order it speaks of them. */
export function turnedControls(lesson: number): readonly Control[] {
  const controls = controlsOf(lesson);
  return lessonDeclaration(lesson).turns.flatMap((name) => controls.find((control) => control.name === name) ?? []);
}

/** Where the lesson starts: every control at its start value. */
export function startSetting(lesson: number): BenchSetting {
  return {lesson, settings: Object.fromEntries(declaredControls(lesson).map(({name, start}) => [name, start]))};
}

/** What the lesson compares with at first. */
export function beforeSetting(lesson: number): BenchSetting {
  return lessonDeclaration(lesson).before;
}

/** The wire: guitar, cable, amplifier, nothing between. */
export const wireSetting: BenchSetting = {lesson: 1, settings: {}};

/**
 * The circuit of a lesson with its controls where `settings` puts them; the same setting gives the same circuit.
 *
 * @throws {RangeError} if there is no such lesson
 * @throws {CircuitError} if a control is not on the lesson's bench, or its value is beyond what the part can have
 */
export function courseCircuit(setting: BenchSetting): CourseCircuit {
  const known = made.get(setting);
  if (known) return known;
  const turned = turnedCircuit(setting);
  made.set(setting, turned);
  return turned;
}

// A setting never changes; curve, cycle and sound of one share what has been worked out of its circuit, its rest above all.
const made = new WeakMap<BenchSetting, CourseCircuit>();

function turnedCircuit({lesson, settings}: BenchSetting): CourseCircuit {
  const controls = declaredControls(lesson);
  for (const name of Object.keys(settings)) {
    if (controls.some((control) => control.name === name)) continue;
    throw new CircuitError(
      `lesson ${lesson} has no control "${name}"; it has ${controls.map((each) => each.name).join(", ")}`,
    );
  }
  const {parts, listenAt} = benchOf(lesson);
  const place = ({name, start}: ControlDeclaration) => settings[name] ?? start;
  const turned = controls.reduce<readonly Part[]>((before, control) => control.apply(before, place(control)), parts);
  const level = controls.find(({name}) => name === "phraseLevel");
  return {circuit: circuit(turned), listenAt, phrasePeakVolts: level === undefined ? 0 : place(level)};
}

/** Parts before the pedal: the guitar and its cable, by reference. */
export const guitarRefs: readonly string[] = lessonDeclaration(1).adds.filter((ref) => !ref.startsWith("amplifier"));

/**
 * A lesson's circuit with the guitar and its cable taken away: what stands at node `in` for them to drive, for an input impedance.
 *
 * @throws as `courseCircuit`, and {CircuitError} for lesson 1, which has nothing between guitar and amplifier
 */
export function pedalAlone(setting: BenchSetting): Circuit {
  const {parts} = courseCircuit(setting).circuit;
  return circuit(parts.filter(({ref}) => !guitarRefs.includes(ref)));
}

type Bench = Readonly<{parts: readonly Part[]; listenAt: NodeName}>;

const benches = new Map<number, Bench>();

/** Parts of a lesson before any control is applied, in the order of the course's parts; the amplifier hangs at `listenAt`. */
function benchOf(lesson: number): Bench {
  const known = benches.get(lesson);
  if (known !== undefined) return known;
  const {from, adds, removes = [], places = {}, listenAt: moved} = lessonDeclaration(lesson);
  const earlier = from === undefined ? undefined : benchOf(from);
  const listenAt = moved ?? earlier?.listenAt ?? "out";
  const parts = courseParts.flatMap((part) => {
    const kept = removes.includes(part.ref) ? undefined : earlier?.parts.find(({ref}) => ref === part.ref);
    const present = kept ?? (adds.includes(part.ref) ? part : undefined);
    if (present === undefined) return [];
    if (part.ref.startsWith("amplifier")) return [{...present, nodes: [listenAt, "0"]} as Part];
    const nodes = places[part.ref];
    return [nodes === undefined ? present : ({...present, nodes} as Part)];
  });
  const bench = {parts, listenAt};
  benches.set(lesson, bench);
  return bench;
}

function declaredControls(lesson: number): readonly ControlDeclaration[] {
  const {starts = {}, phrasePeakVolts, lesson: number} = lessonDeclaration(lesson);
  const refs = new Set(benchOf(lesson).parts.map(({ref}) => ref));
  return allControls
    .filter(({name, ref}) => refs.has(ref) && (name !== "leg" || number === 5))
    .map((control) => {
      const start = control.name === "phraseLevel" ? phrasePeakVolts : (starts[control.name] ?? control.start);
      return {...control, start};
    });
}
