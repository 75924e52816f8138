import type {BenchView} from "./bench-state.ts";
import {cycleOf, type Cycle} from "./cycles.ts";
import {clippingChange, loudnessChange} from "./level-change.ts";
import {levelCurveOf, type LevelCurve} from "./level-curve.ts";
import {readingText, type ReadingName} from "./readings.ts";

/** Two of a kind: of the bench now, and of before where it has one. */
export type Pair<T> = Readonly<{now?: T | undefined; before?: T | undefined}>;

/**
 * What is worked out off the page's own thread, by kind, in the order in which it is wanted: each takes from milliseconds to
 * seconds, and a frame has sixteen.
 */
export const atRestWorks = {
  /** A cycle of now and of before under the same input. */
  cycles: (
    {now, held}: BenchView,
    {frequencyHz, peakVolts}: {frequencyHz: number; peakVolts: number},
  ): Pair<Cycle> => ({
    now: cycleOf(now, peakVolts, frequencyHz),
    before: cycleOf(held, peakVolts, frequencyHz),
  }),
  levelCurves: ({now, held}: BenchView, {frequencyHz}: {frequencyHz: number}): Pair<LevelCurve> => ({
    now: levelCurveOf(now, frequencyHz),
    before: levelCurveOf(held, frequencyHz),
  }),
  reading: (view: BenchView, {name}: {name: ReadingName}): string => readingText(name, view),
  clippingChange: (view: BenchView): string => clippingChange(view),
  loudnessChange: (view: BenchView): string => loudnessChange(view),
} as const;

export type AtRestWorks = typeof atRestWorks;
export type AtRestKind = keyof AtRestWorks;
export type AtRestAsked<K extends AtRestKind> = Parameters<AtRestWorks[K]>[1];
export type AtRestAnswer<K extends AtRestKind> = ReturnType<AtRestWorks[K]>;

/** One piece of work on its way: `round` grows when the bench moves, and what is left of older rounds is dropped. */
export type AtRestRequest = Readonly<{id: number; round: number; kind: AtRestKind; view: BenchView; asked: unknown}>;
export type AtRestReply = Readonly<{id: number; answer: unknown} | {id: number; message: string}>;

/** Does one piece of work. */
export function workAtRest({kind, view, asked}: AtRestRequest): unknown {
  const work = atRestWorks[kind] as (view: BenchView, asked: unknown) => unknown;
  return work(view, asked);
}

const order = Object.keys(atRestWorks);

/** What is still worth doing, first things first: nothing of an older round; equal kinds in the order they were asked for. */
export const inOrder = (queue: readonly AtRestRequest[]): readonly AtRestRequest[] => {
  const newest = Math.max(...queue.map(({round}) => round));
  return queue
    .filter(({round}) => round === newest)
    .sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind) || a.id - b.id);
};
