import {expect, test} from "vitest";
import {beforeSetting, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {whatChanged} from "../../../src/widgets/what-changed/what-changed.ts";

const plain = (text: string) => text.replaceAll("\u00a0", " ");

test("equal benches have changed nothing", () => {
  expect(whatChanged({now: startSetting(2), held: startSetting(2)})).toMatch(/^Nothing has changed yet/);
});

test("one part moved is named with both values, its corner and the gain at three places", () => {
  const now = {lesson: 2, settings: {...startSetting(2).settings, C1: 470e-12}};
  const sentence = plain(whatChanged({now, held: startSetting(2)}));
  expect(sentence).toMatch(/^C1: 33 nF to 470 pF\. The corner moves from 9\.56 Hz to 671 Hz\./); // 1/(2πRC), R = 504.7 kΩ
  expect(sentence).toMatch(/\d dB down at the low E, \d.* at 1 kHz, \d.* at 5 kHz\.$/);
});

test("parts that a lesson adds are told first", () => {
  expect(whatChanged({now: startSetting(2), held: beforeSetting(2)})).toMatch(/^R1, C1, R2 put in\./);
});
