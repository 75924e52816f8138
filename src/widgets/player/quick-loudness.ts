import {finished, timeResponsePart} from "../../engine/analysis/time-response.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {filtered} from "../../engine/sound/biquad.ts";
import {loudnessWhenPlayed} from "../../engine/sound/loudness.ts";
import {loudspeakerFilters} from "../../engine/sound/loudspeaker.ts";
import {playedLoudness} from "./played-loudness.ts";

/** Not raised to a higher rate: within a tenth of a loudness unit of the sound in full, in an eighth of the time. */
export const quickRateHz = 48_000;

/**
 * Loudness in LUFS of a sound of peak 1 through a bench, where 1 V at the amplifier's input is full scale.
 *
 * @param sound at `quickRateHz`
 */
export function quickLoudness(setting: BenchSetting, sound: Float32Array, loudspeaker = true): number {
  return finished(quickLoudnessPart(setting, sound, loudspeaker));
}

/** The same, giving now and then the share that is done. */
export function* quickLoudnessPart(
  setting: BenchSetting,
  sound: Float32Array,
  loudspeaker = true,
): Generator<number, number> {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  const volts = new Float64Array(sound).map((sample) => phrasePeakVolts * sample);
  const atAmplifier = yield* timeResponsePart(circuit, listenAt, volts, quickRateHz, {oversampling: 1, fromRest: true});
  const heard = loudspeaker ? filtered(atAmplifier, loudspeakerFilters(quickRateHz)) : atAmplifier;
  return loudnessWhenPlayed(heard, quickRateHz, playedLoudness);
}
