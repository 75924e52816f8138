import {batch, computed, signal, type ReadonlySignal} from "@preact/signals-core";
import {
  beforeSetting,
  controlsOf,
  startSetting,
  wireSetting,
  type BenchSetting,
  type ControlName,
  type Settings,
} from "../../engine/course/course-circuit.ts";
import {startNote, type Note} from "./notes.ts";
import {sameBench} from "./same-bench.ts";

/** The one reactive state of a page. Controls write it, everything else reads it. */

const onPage = typeof document === "undefined" ? undefined : document.querySelector<HTMLElement>("main[data-lesson]");

/** The lesson whose bench this is. */
export const lesson = signal(Number(onPage?.dataset["lesson"] ?? 1));

/** Where every control stands now. */
export const now = signal<Settings>(startSetting(lesson.value).settings);

/** What comparisons call 'before'. */
export const held = signal<BenchSetting>(beforeSetting(lesson.value));

/** The steady note that cycles and level curves are drawn at. */
export const note = signal<Note>(startNote);

const [firstInHand, ...othersInHand] = (onPage?.dataset["partInHand"] ?? "").split(" ");

/** The one part that prose, drawing, slider and curve highlight together, by its reference. */
export const partInHand = signal<string | undefined>(firstInHand || undefined);

/** Parts that are in hand together with that one, as two diodes are behind one switch. */
export const alsoInHand = signal<readonly string[]>(othersInHand);

/** Whether the part called `ref` is in hand, alone or with others. */
export const isInHand = (ref: string | undefined): boolean =>
  ref !== undefined && (ref === partInHand.value || alsoInHand.value.includes(ref));

/** Whether a press has fixed the part in hand; while it is, scrolling does not change it. */
export const pinned = signal(false);

export const nowSetting: ReadonlySignal<BenchSetting> = computed(() => ({lesson: lesson.value, settings: now.value}));

/** What a reading is read from: the bench now, and what comparisons call 'before'. */
export type BenchView = Readonly<{now: BenchSetting; held: BenchSetting}>;
export const benchView: ReadonlySignal<BenchView> = computed(() => ({now: nowSetting.value, held: held.value}));
export {wireSetting};

/** Moves a control. A name that the lesson's bench has not, or a value that is no number, is a RangeError. */
export function turn(control: ControlName, value: number): void {
  if (!(control in now.value)) throw new RangeError(`lesson ${lesson.value} has no control "${control}"`);
  if (!Number.isFinite(value)) throw new RangeError(`${control} must be set to a number, got ${value}`);
  if (now.value[control] !== value) now.value = {...now.value, [control]: value};
}

/** Holds the present state as the new 'before'. */
export function keepAsBefore(): void {
  held.value = nowSetting.value;
}

/** Every control, the 'before' and the note back to where the lesson starts. */
export function backToStart(): void {
  batch(() => {
    note.value = startNote;
    now.value = {...startSetting(lesson.value).settings};
    held.value = beforeSetting(lesson.value);
  });
}

/** Whether every control stands where the lesson starts. */
export const nowIsAtStart: ReadonlySignal<boolean> = computed(() =>
  sameBench(nowSetting.value, startSetting(lesson.value)),
);

/** Whether the bench stands, and 'before' with it, where the lesson starts. */
export const isAtStart: ReadonlySignal<boolean> = computed(
  () => nowIsAtStart.value && sameBench(held.value, beforeSetting(lesson.value)),
);

/** Where `control` stood in 'before', or undefined where that bench did not have it. */
export function heldPlace(control: ControlName): number | undefined {
  const {lesson: of, settings} = held.value;
  return settings[control] ?? controlsOf(of).find(({name}) => name === control)?.start;
}

/** Takes a part in hand, with those of `also`. `pin` keeps it there until another is pinned or `letGo` is called. */
export function takeInHand(
  ref: string,
  {pin = false, also = []}: Readonly<{pin?: boolean; also?: readonly string[] | undefined}> = {},
): void {
  batch(() => {
    if (pin) pinned.value = true;
    if (!pin && pinned.value) return;
    partInHand.value = ref;
    alsoInHand.value = also;
  });
}

/** Lets the part in hand follow the paragraph being read again. */
export function letGo(): void {
  pinned.value = false;
}
