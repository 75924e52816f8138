// Every lesson at its worst: gain full where there is one, a hot chord, at 8 × 48 kHz; how many times faster than the sound lasts.
// The mark is that of the whole chain with rails.
import {timeResponse} from "../../src/engine/analysis/time-response.ts";
import {controlsOf, courseCircuit, lessonCount, startSetting} from "../../src/engine/course/course-circuit.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [rateHz, soundSeconds, mark] = [48_000, 0.5, 10];
const chord = phraseSamples("open chords left ringing", rateHz).subarray(0, rateHz * soundSeconds);

let slowest = Infinity;
for (let lesson = 1; lesson <= lessonCount; lesson++) {
  const {settings} = startSetting(lesson);
  const full = controlsOf(lesson).some(({name}) => name === "RV1") ? {RV1: 1} : {};
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit({lesson, settings: {...settings, ...full}});
  const signal = new Float64Array(chord).map((sample) => 2 * phrasePeakVolts * sample);
  const seconds = shortestSeconds(() => timeResponse(circuit, listenAt, signal, rateHz), 3);
  const times = soundSeconds / seconds;
  slowest = Math.min(slowest, times);
  console.log(`figure lesson-${lesson}-at-its-worst,-times-real-time ${times.toFixed(1)}`);
}
console.log(`ratio slowest-lesson-at-its-worst,-times-real-time ${slowest.toFixed(2)} ${mark}`);
