// What a frame of a dragged slider computes in lesson 10 and in the last lesson, one thing after the other on one circuit: the circuit
// and its rest, 400 points of response, a settled cycle (transfer curve and waveform) with its harmonics, the numbers that are
// read off, and the model that the sound moves to. A clock in milliseconds; the mark is 2.
import {cornersOf} from "../../src/engine/analysis/corners.ts";
import {frequencyResponse, logFrequencies, magnitudeDb} from "../../src/engine/analysis/frequency-response.ts";
import {harmonicDistortion} from "../../src/engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../src/engine/analysis/harmonics.ts";
import {operatingPoint} from "../../src/engine/analysis/operating-point.ts";
import {steadyCycle} from "../../src/engine/analysis/steady-cycle.ts";
import {controlsOf, courseCircuit, lessonCount, startSetting} from "../../src/engine/course/course-circuit.ts";
import {voiceCircuit} from "../../src/engine/realtime/voice-circuit.ts";

const frequencies = logFrequencies(20, 20e3, 400);
const frames = 400;

for (const lesson of [10, lessonCount]) {
  const {settings} = startSetting(lesson);
  const gains = controlsOf(lesson).find(({name}) => name === "RV1")?.values ?? [];
  const shortest = new Map<string, number>();
  let since = 0;
  const took = (what: string, milliseconds: number) =>
    shortest.set(what, Math.min(shortest.get(what) ?? Infinity, milliseconds));
  const done = (what: string) => {
    took(what, performance.now() - since);
    since = performance.now();
  };
  for (let frame = 0; frame < frames; frame++) {
    const start = (since = performance.now());
    // Another stop each time: nothing may be remembered from the frame before.
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit({
      lesson,
      settings: {...settings, RV1: gains[20 + (frame % 60)] ?? 0.5},
    });
    operatingPoint(circuit);
    done("derive");
    const gainDb = magnitudeDb(frequencyResponse(circuit, listenAt, frequencies));
    done("response");
    const {at} = steadyCycle(circuit, {frequencyHz: 110, peakVolts: 0.3}, [listenAt], 128, 1, 1e-7);
    done("cycle");
    const harmonics = harmonicsOf(at.get(listenAt) ?? new Float64Array());
    harmonicDistortion(harmonics);
    cornersOf(frequencies, gainDb);
    done("readings");
    voiceCircuit(circuit, listenAt, phrasePeakVolts, 48e3);
    done("sound");
    took("all", performance.now() - start);
  }
  for (const [what, milliseconds] of shortest)
    console.log(`figure lesson-${lesson},-drag-frame,-${what},-milliseconds ${milliseconds.toFixed(3)}`);
  console.log(`ratio lesson-${lesson},-2-ms-against-a-drag-frame ${(2 / (shortest.get("all") ?? 0)).toFixed(2)} 1`);
}
