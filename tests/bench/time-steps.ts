// Time response of four lessons at 8 × 48 kHz: nanoseconds a step, filters included, and how many times faster than the sound lasts; and
// the last lesson as a sound file has it.
import {fileResponsePart} from "../../src/engine/analysis/file-response.ts";
import {finished, timeResponse} from "../../src/engine/analysis/time-response.ts";
import {opAmpModels} from "../../src/engine/circuit/models/op-amps.ts";
import {courseCircuit, lessonCount} from "../../src/engine/course/course-circuit.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [rate, oversampling, soundSeconds] = [48e3, 8, 0.5];

/** A chord's two lowest notes: no period fits the length, so that the ports never see the same step twice. */
const chord = (peakVolts: number) =>
  Float64Array.from(
    {length: rate * soundSeconds},
    (_, n) =>
      (peakVolts / 2) * (Math.sin((2 * Math.PI * 82.41 * n) / rate) + Math.sin((2 * Math.PI * 123.5 * n) / rate)),
  );

function timesRealTime(label: string, lesson: number, settings: Readonly<Record<string, number>>): number {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit({lesson, settings});
  const signal = chord(phrasePeakVolts);
  const seconds = shortestSeconds(() => timeResponse(circuit, listenAt, signal, rate, {oversampling}), 3);
  const steps = signal.length * oversampling;
  console.log(`figure ${label},-nanoseconds-a-step ${((seconds / steps) * 1e9).toFixed(0)}`);
  console.log(`figure ${label},-times-real-time ${(soundSeconds / seconds).toFixed(1)}`);
  return soundSeconds / seconds;
}

for (const lesson of [2, 6, 10]) timesRealTime(`lesson-${lesson}`, lesson, {});
const ideal = Object.keys(opAmpModels).indexOf("ideal");
const full = timesRealTime(`lesson-${lessonCount}`, lessonCount, {});
const loud = timesRealTime(`lesson-${lessonCount}-at-full-gain`, lessonCount, {RV1: 1});
const plain = timesRealTime(`lesson-${lessonCount}-at-full-gain-with-the-ideal-op-amp`, lessonCount, {
  RV1: 1,
  U1: ideal,
});
console.log(`ratio whole-chain-with-rails,-times-real-time ${Math.min(full, loud).toFixed(2)} 10`);
console.log(`ratio whole-chain-with-the-ideal-op-amp,-times-real-time ${plain.toFixed(2)} 20`);
const {circuit, listenAt, phrasePeakVolts} = courseCircuit({lesson: lessonCount, settings: {}});
const asFile = shortestSeconds(() => finished(fileResponsePart(circuit, listenAt, chord(phrasePeakVolts), rate)), 3);
console.log(`figure lesson-${lessonCount}-as-a-file,-times-real-time ${(soundSeconds / asFile).toFixed(1)}`);
