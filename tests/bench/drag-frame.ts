// What a frame of a dragged slider computes in lesson 10 and in the last lesson: the circuit derived anew, 400 points of response,
// a settled cycle with its harmonics, and the model that the sound moves to. A clock in milliseconds; the mark is 2.
import {frequencyResponse, logFrequencies} from "../../src/engine/analysis/frequency-response.ts";
import {harmonicsOf} from "../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../src/engine/analysis/steady-cycle.ts";
import {controlsOf, courseCircuit, lessonCount, startSetting} from "../../src/engine/course/course-circuit.ts";
import {voiceCircuit} from "../../src/engine/realtime/voice-circuit.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const frequencies = logFrequencies(20, 20e3, 400);
const milliseconds = (act: () => unknown) => 1000 * shortestSeconds(act, 40);

for (const lesson of [10, lessonCount]) {
  const {settings} = startSetting(lesson);
  const gains = controlsOf(lesson).find(({name}) => name === "RV1")?.values ?? [];
  let turn = 0;
  // Another stop each time: nothing may be remembered from the frame before.
  const moved = () => courseCircuit({lesson, settings: {...settings, RV1: gains[20 + (turn++ % 60)] ?? 0.5}});
  const parts = {
    derive: () => moved(),
    response: () => {
      const {circuit, listenAt} = moved();
      return frequencyResponse(circuit, listenAt, frequencies);
    },
    cycle: () => {
      const {circuit, listenAt} = moved();
      const {at} = steadyCycle(circuit, {frequencyHz: 110, peakVolts: 0.3}, [listenAt], 128, 1, 1e-7);
      return harmonicsOf(at.get(listenAt)!);
    },
    sound: () => {
      const {circuit, listenAt, phrasePeakVolts} = moved();
      return voiceCircuit(circuit, listenAt, phrasePeakVolts, 48e3);
    },
  };
  for (const [name, act] of Object.entries(parts))
    console.log(`figure lesson-${lesson},-drag-frame,-${name},-milliseconds ${milliseconds(act).toFixed(3)}`);
  const whole = milliseconds(() => Object.values(parts).map((act) => act()));
  console.log(`figure lesson-${lesson},-drag-frame,-milliseconds ${whole.toFixed(2)}`);
  console.log(`ratio lesson-${lesson},-2-ms-against-a-drag-frame ${(2 / whole).toFixed(2)} 1`);
}
