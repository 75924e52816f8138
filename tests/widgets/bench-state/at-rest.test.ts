import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {
  inOrder,
  workAtRest,
  type AtRestKind,
  type AtRestRequest,
} from "../../../src/widgets/bench-state/at-rest-works.ts";
import type {Pair} from "../../../src/widgets/bench-state/at-rest-works.ts";
import {cycleOf, type Cycle} from "../../../src/widgets/bench-state/cycles.ts";
import {readingText} from "../../../src/widgets/bench-state/readings.ts";

const view = {now: startSetting(10), held: beforeSetting(10)};
const request = (id: number, round: number, kind: AtRestKind, asked?: unknown): AtRestRequest => ({
  id,
  round,
  kind,
  view,
  asked,
});

test("what is drawn comes before what is read, and loudness last; nothing of an older bench is done", () => {
  const queue = [
    request(1, 1, "cycles"),
    request(2, 2, "loudnessChange"),
    request(3, 2, "reading"),
    request(4, 2, "levelCurves"),
    request(5, 2, "cycles"),
    request(6, 2, "cycles"),
  ];
  expect(inOrder(queue).map(({id}) => id)).toEqual([5, 6, 4, 3, 2]);
  expect(inOrder([])).toEqual([]);
});

test("the worker answers what the page would have computed, in a form that can be sent", () => {
  const read = workAtRest(request(1, 1, "reading", {name: "clippingOutput"}));
  expect(read).toBe(readingText("clippingOutput", view));
  const sent = structuredClone(workAtRest(request(2, 1, "cycles", {frequencyHz: 110, peakVolts: 0.3}))) as Pair<Cycle>;
  expect(sent.now?.output).toEqual(cycleOf(view.now, 0.3, 110)?.output);
  expect(sent.before?.output).toEqual(cycleOf(view.held, 0.3, 110)?.output);
});
