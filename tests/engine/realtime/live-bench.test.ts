import {describe, expect, test} from "vitest";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {courseCircuit, startSetting, type BenchSetting} from "../../../src/engine/course/course-circuit.ts";
import {liveBench} from "../../../src/engine/realtime/live-bench.ts";
import {voiceCircuit} from "../../../src/engine/realtime/voice-circuit.ts";
import {phraseSamples} from "../../../src/engine/sound/phrases.ts";

const rateHz = 48_000;
const block = 128;
const phrase = phraseSamples("riff", rateHz).subarray(0, rateHz);

function voice(setting: BenchSetting, oversampling = 8) {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  return voiceCircuit(circuit, listenAt, phrasePeakVolts, rateHz, oversampling);
}

/** Plays `blocks` blocks; `before` is called ahead of each. */
function played(bench: ReturnType<typeof liveBench<string>>, blocks: number, before: (n: number) => void = () => {}) {
  const out = new Float32Array(blocks * block);
  for (let n = 0; n < blocks; n++) {
    before(n);
    expect(bench.process(out.subarray(n * block, (n + 1) * block))).toBe(0);
  }
  return out;
}

const changed = (setting: BenchSetting, settings: Record<string, number>): BenchSetting => ({
  ...setting,
  settings: {...setting.settings, ...settings},
});

/** Largest second difference: a click is a corner in the curve that the sound itself has not. */
const sharpest = (samples: Float32Array) => {
  let most = 0;
  for (let n = 2; n < samples.length; n++)
    most = Math.max(most, Math.abs((samples[n] ?? 0) - 2 * (samples[n - 1] ?? 0) + (samples[n - 2] ?? 0)));
  return most;
};

describe.each([2, 6, 10, 20])("lesson %i played live", (lesson) => {
  test("is the time response of its circuit, sample for sample", () => {
    const setting = startSetting(lesson);
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
    const bench = liveBench<string>(rateHz, block);
    bench.loop(phrase);
    bench.set("now", voice(setting));
    bench.hear("now");
    bench.gain("now", 1);
    // The gain takes 20 ms to be there, the oversampling filters their latency.
    const live = played(bench, 200);
    const expected = timeResponse(circuit, listenAt, Float64Array.from(phrase, (x) => phrasePeakVolts * x), rateHz);
    const late = (1 + expected.findIndex((x) => Math.abs(x) > 1e-3)) * 0 + latencyOf(live, expected);
    for (let n = 2000; n < 20_000; n++)
      expect(Math.abs((live[n + late] ?? NaN) - (expected[n] ?? NaN)), `sample ${n}`).toBeLessThan(1e-6);
  });
});

/** By how many samples one signal is late after another. */
function latencyOf(late: Float32Array, early: Float64Array): number {
  const missAt = (lag: number) => {
    let sum = 0;
    for (let n = 2000; n < 4000; n++) sum += ((late[n + lag] ?? 0) - (early[n] ?? 0)) ** 2;
    return sum;
  };
  return Array.from({length: 80}, (_, lag) => lag).reduce((best, lag) => (missAt(lag) < missAt(best) ? lag : best));
}
