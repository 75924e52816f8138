import {courseCircuit, lessonCount, type BenchSetting} from "../../src/engine/course/course-circuit.ts";
import {voiceCircuit} from "../../src/engine/realtime/voice-circuit.ts";
import {integratedLoudness} from "../../src/engine/sound/loudness.ts";
import {phraseNames, phraseSamples} from "../../src/engine/sound/phrases.ts";
import {amplitude, peak} from "../../src/engine/sound/samples.ts";
import {levels} from "../../src/widgets/player/mix.ts";
import {playedLoudness} from "../../src/widgets/player/played-loudness.ts";
import {quickLoudness, quickRateHz} from "../../src/widgets/player/quick-loudness.ts";
import {startBenches} from "../../src/widgets/player/start-benches.ts";
import {renderedThere, worklet} from "./rendered-there.ts";
import {expect, test} from "./site.ts";

const rateHz = quickRateHz;
// Every lesson, and every phrase thrice; EVERY_PHRASE has each lesson play all of them, which takes some minutes.
const pairs = Array.from({length: lessonCount}, (_, k) => k + 1).flatMap((lesson) =>
  phraseNames
    .filter((_, k) => process.env["EVERY_PHRASE"] || k === lesson % phraseNames.length)
    .map((name) => [lesson, name] as const),
);

for (const [lesson, name] of pairs) {
  test(`lesson ${lesson}: before and now leave the sound thread equally loud, with the ${name}`, async ({
    page,
    baseURL,
  }) => {
    test.setTimeout(120_000);
    await page.goto("about/safety/");
    const sound = phraseSamples(name, rateHz);
    const benches = startBenches(lesson);
    const measured = {
      now: quickLoudness(benches.now, sound),
      before: quickLoudness(benches.before, sound),
      wire: quickLoudness(benches.wire, sound),
    };
    const gains = levels(measured, true);
    const heard = async (setting: BenchSetting, gainDb: number) => {
      const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
      const voice = voiceCircuit(circuit, listenAt, phrasePeakVolts, rateHz);
      const address = new URL(worklet(), baseURL).href;
      const options = {perVolt: amplitude(gainDb), rateHz, length: sound.length, waitMilliseconds: 100};
      const samples = await renderedThere(page, address, voice, sound, options);
      expect(peak(samples)).toBeLessThanOrEqual(amplitude(-1));
      return integratedLoudness(samples, rateHz);
    };
    const now = await heard(benches.now, gains.now?.gainDb ?? NaN);
    const before = await heard(benches.before, gains.before?.gainDb ?? NaN);
    expect(Math.abs(now - before)).toBeLessThan(0.1);
    expect(Math.abs(now - playedLoudness)).toBeLessThan(0.1);
  });
}
