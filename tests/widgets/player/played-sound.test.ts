import {expect, test} from "vitest";
import {phrasePeak, phraseSamples} from "../../../src/engine/sound/phrases.ts";
import {phraseInStretches} from "../../../src/widgets/player/played-sound.ts";
import {startPhrase} from "../../../src/widgets/player/start-benches.ts";
import {startPeaks} from "../../../src/widgets/player/start-loudness.ts";

test("the start phrase comes in two stretches: a first note long enough to make the rest in, then the rest", () => {
  for (const [rate, highest] of Object.entries(startPeaks())) {
    const rateHz = Number(rate);
    expect(highest).toBe(phrasePeak(startPhrase, rateHz));
    const sent = [...phraseInStretches(startPhrase, rateHz, highest)].filter((stretch) => stretch !== undefined);
    const whole = phraseSamples(startPhrase, rateHz);
    expect(sent.map(({from}) => from)).toEqual([0, sent[0]?.samples.length]);
    expect(sent[0]?.samples.length).toBeGreaterThanOrEqual(0.4 * rateHz);
    const joined = new Float32Array(whole.length);
    for (const {from, samples, length} of sent) {
      expect(length).toBe(whole.length);
      joined.set(samples, from);
    }
    expect(joined).toEqual(whole);
  }
});
