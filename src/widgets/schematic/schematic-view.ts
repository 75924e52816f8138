import type {Part} from "../../engine/circuit/part.ts";
import {
  type BenchSetting,
  courseCircuit,
  lessonDeclaration,
  type Settings,
  startSetting,
} from "../../engine/course/course-circuit.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";
import {allControls} from "../../engine/course/controls.ts";
import type {DrawingSize} from "./drawing.ts";
import {drawingOf} from "./drawings/drawings.ts";
import {alsoInHandOf, partInHandOf} from "./drawings/part-in-hand.ts";
import {partName} from "./part-names.ts";
import {partWords} from "./part-view.ts";
import type {PartView, SchematicView} from "./view.ts";

export type ViewOptions = Readonly<{
  size?: DrawingSize;
  /** The part drawn lit; the lesson's own new part by default, none where undefined is given. */
  partInHand?: string | undefined;
  volts?: ReadonlyMap<string, string>;
}>;

/**
 * What the drawing shows for a lesson's bench with its controls where `setting` puts them.
 *
 * A part that a switch has lifted out stays on the drawing, dashed and marked "out".
 *
 * @throws {RangeError} if the course has no such lesson
 */
export function schematicView(setting: BenchSetting, options: ViewOptions = {}): SchematicView {
  const {lesson} = setting;
  const {size = "wide", volts} = options;
  const partInHand = "partInHand" in options ? options.partInHand : partInHandOf(lesson);
  return {
    lesson,
    size,
    drawing: drawingOf(setting, size),
    parts: partViews(setting),
    partInHand,
    alsoInHand: partInHand !== undefined && partInHand === partInHandOf(lesson) ? alsoInHandOf(lesson) : [],
    ...(volts ? {volts} : {}),
  };
}

function partViews(setting: BenchSetting): ReadonlyMap<string, PartView> {
  const now = courseCircuit(setting);
  const fitted = new Map(now.circuit.parts.map((part) => [part.ref, part]));
  // A wire that is there from the start is drawn as a wire, not as a part.
  const whole = courseCircuit(startSetting(setting.lesson)).circuit.parts.filter(({kind}) => kind !== "wire");
  return new Map(whole.map((start) => [start.ref, viewOf(fitted.get(start.ref), start, setting, now.phrasePeakVolts)]));
}

function viewOf(part: Part | undefined, start: Part, {lesson, settings}: BenchSetting, peakVolts: number): PartView {
  const {ref} = start;
  const {adds} = lessonDeclaration(lesson);
  // A lesson about the whole pedal has no part in hand, and draws none of them quiet.
  const earlier = partInHandOf(lesson) !== undefined && !adds.includes(ref);
  const common = {...partName(ref), ref, earlier, nodes: (part ?? start).nodes};
  if (!part) return {...common, values: ["out"], spoken: "lifted out", lifted: true};
  const {values, spoken, symbol} = partWords(part, peakVolts);
  return {
    ...common,
    ...withLength(ref, settings, values, spoken),
    ...(symbol ? {symbol} : {}),
    ...("position" in part ? {position: part.position} : {}),
  };
}

/** Controls that set a cable by its length, by the part they change. */
const lengths: Readonly<Record<string, string>> = {cable: "cable", "amplifier cable": "amplifierCable"};

/** A cable also tells its length. */
function withLength(ref: string, settings: Settings, values: readonly string[], spoken: string) {
  const control = allControls.find(({name}) => name === lengths[ref]);
  if (!control) return {values, spoken};
  const metres = settings[control.name] ?? control.start;
  return {
    values: [...values, formatQuantity(metres, "m")],
    spoken: `${spokenQuantity(metres, "m")} long, ${spoken}`,
  };
}
