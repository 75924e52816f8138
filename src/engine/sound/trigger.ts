import type {Samples} from "./samples.ts";

/** A note is found by its fundamental: above this the partials make crossings of their own. */
const cornerHz = 250;
const looks = 64;

/**
 * Where in `samples` a picture `span` samples long is to begin, so that a held note stands still: at a rising crossing of its
 * fundamental, the one from which the picture is most like the `last` one, and the latest without one.
 *
 * @param last the picture before, `span` samples long
 * @returns an index from 0 to samples.length − span; the latest possible where nothing crosses
 * @throws {RangeError} if the picture is longer than the samples
 *
 * Method: a second-order low-pass, run forwards, then crossings: common practice, no published source.
 */
export function triggerIndex(samples: Samples, span: number, sampleRateHz: number, last?: Samples): number {
  const latest = samples.length - span;
  if (latest < 0) throw new RangeError(`a picture of ${span} samples does not fit into ${samples.length}`);
  const keep = Math.exp((-2 * Math.PI * cornerHz) / sampleRateHz);
  let [once, twice, before] = [0, 0, 0];
  let [best, least] = [latest, Infinity];
  for (let n = 0; n <= latest; n++) {
    once = (1 - keep) * (samples[n] as number) + keep * once;
    before = twice;
    twice = (1 - keep) * once + keep * twice;
    // The filter starts from rest: until it has forgotten that, a crossing says nothing.
    if (n < (2 * sampleRateHz) / cornerHz || !(before < 0 && twice >= 0)) continue;
    const unlike = last ? difference(samples, n, span, last) : -n;
    if (unlike > least) continue;
    [best, least] = [n, unlike];
  }
  return best;
}

function difference(samples: Samples, from: number, span: number, last: Samples): number {
  let sum = 0;
  for (let k = 0; k < looks; k++) {
    const at = Math.floor((k * span) / looks);
    sum += ((samples[from + at] as number) - (last[at] as number)) ** 2;
  }
  return sum;
}
