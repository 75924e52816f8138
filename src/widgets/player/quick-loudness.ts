import {timeResponse} from "../../engine/analysis/time-response.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {integratedLoudness} from "../../engine/sound/loudness.ts";

/** Not raised to a higher rate: within a tenth of a loudness unit of the sound in full, in an eighth of the time. */
export const quickRateHz = 48_000;

/**
 * Loudness in LUFS of a sound of peak 1 through a bench, where 1 V at the amplifier's input is full scale.
 *
 * @param sound at `quickRateHz`
 */
export function quickLoudness(setting: BenchSetting, sound: Float32Array): number {
  const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
  const volts = Float64Array.from(sound, (sample) => phrasePeakVolts * sample);
  return integratedLoudness(timeResponse(circuit, listenAt, volts, quickRateHz, {oversampling: 1}), quickRateHz);
}
