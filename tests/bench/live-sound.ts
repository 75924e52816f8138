// Live sound at its worst: the whole pedal at full gain, a hot chord, before, now and wire side by side at an inner rate of
// 384 kHz. Shares of one core; the marks are a quarter for all three, and a twenty-fifth more while a control moves.
import {
  courseCircuit,
  lessonCount,
  startSetting,
  wireSetting,
  type BenchSetting,
} from "../../src/engine/course/course-circuit.ts";
import {liveBench} from "../../src/engine/realtime/live-bench.ts";
import {voiceCircuit} from "../../src/engine/realtime/voice-circuit.ts";
import {phraseSamples} from "../../src/engine/sound/phrases.ts";
import {shortestSeconds} from "./support/shortest-seconds.ts";

const [rateHz, block, soundSeconds] = [48_000, 128, 1];
// The second that begins with the hardest strum, over and over: of a phrase that rings on, a quiet one would be the shortest.
const chords = hardestSecond(phraseSamples("open chords left ringing", rateHz));

const voice = (setting: BenchSetting) => {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  return voiceCircuit(circuit, listenAt, 2 * phrasePeakVolts, rateHz);
};
const full = (gain: number): BenchSetting => {
  const {lesson, settings} = startSetting(lessonCount);
  return {lesson, settings: {...settings, RV1: gain}};
};

function hardestSecond(phrase: Float32Array): Float32Array {
  const loudest = phrase.indexOf(phrase.reduce((most, sample) => Math.max(most, sample), 0));
  const start = Math.min(Math.max(0, loudest - rateHz / 100), phrase.length - soundSeconds * rateHz);
  return phrase.subarray(start, start + soundSeconds * rateHz);
}

/** Share of one core that a second of sound takes. */
function share(moving: boolean): number {
  const bench = liveBench<string>(rateHz, block);
  bench.loop(chords);
  bench.set("now", voice(full(1)));
  bench.set("before", voice(full(1)));
  bench.set("wire", voice(wireSetting));
  for (const name of ["now", "before", "wire"]) bench.gain(name, 0.1);
  bench.hear("now");
  const out = new Float32Array(block);
  const stops = [voice(full(0.95)), voice(full(1))];
  return (
    shortestSeconds(() => {
      for (let n = 0; n < (soundSeconds * rateHz) / block; n++) {
        // Within every 20 ms a new place: the circuit is under way all the time.
        if (moving && n % 6 === 0) bench.set("now", stops[(n / 6) % 2]!);
        bench.process(out);
      }
    }, 5) / soundSeconds
  );
}

const [still, moved] = [share(false), share(true)];
console.log(`figure live,-before,-now-and-wire,-share-of-a-core ${still.toFixed(3)}`);
console.log(`figure live,-more-of-it-while-a-control-moves ${(moved - still).toFixed(3)}`);
console.log(`ratio a-quarter-of-a-core-against-three-benches-live ${(0.25 / still).toFixed(2)} 1`);
console.log(
  `ratio a-twenty-fifth-of-a-core-against-a-moving-control ${(0.04 / Math.max(1e-3, moved - still)).toFixed(2)} 1`,
);
