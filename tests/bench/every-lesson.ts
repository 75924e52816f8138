// Every lesson at its worst: gain full where there is one, a hot chord, at 8 × 48 kHz; how many times faster than the sound lasts,
// as machine code and as a browser without WebAssembly steps it. The marks are those of the whole chain with rails, and of the
// general way.
import {timeResponse} from "../../src/engine/analysis/time-response.ts";
import {controlsOf, courseCircuit, lessonCount, startSetting} from "../../src/engine/course/course-circuit.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [rateHz, soundSeconds] = [48_000, 0.5];
const chord = phraseSamples("open chords left ringing", rateHz).subarray(0, rateHz * soundSeconds);

/** The slowest lesson, in times real time. */
function slowest(about: string): number {
  let least = Infinity;
  for (let lesson = 1; lesson <= lessonCount; lesson++) {
    const {settings} = startSetting(lesson);
    const full = controlsOf(lesson).some(({name}) => name === "RV1") ? {RV1: 1} : {};
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit({lesson, settings: {...settings, ...full}});
    const signal = new Float64Array(chord).map((sample) => 2 * phrasePeakVolts * sample);
    const seconds = shortestSeconds(() => timeResponse(circuit, listenAt, signal, rateHz), 3);
    const times = soundSeconds / seconds;
    least = Math.min(least, times);
    console.log(`figure lesson-${lesson}-at-its-worst${about},-times-real-time ${times.toFixed(1)}`);
  }
  return least;
}

console.log(`ratio slowest-lesson-at-its-worst,-times-real-time ${slowest("").toFixed(2)} 10`);
Reflect.deleteProperty(globalThis, "WebAssembly");
const without = "-without-WebAssembly";
console.log(`ratio slowest-lesson-at-its-worst${without},-times-real-time ${slowest(without).toFixed(2)} 3.5`);
