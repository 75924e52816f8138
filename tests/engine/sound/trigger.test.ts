import {expect, test} from "vitest";
import {noteHz} from "../../../src/engine/sound/phrases.ts";
import {pluckedString} from "../../../src/engine/sound/plucked-string.ts";
import {triggerIndex} from "../../../src/engine/sound/trigger.ts";

const rateHz = 48_000;
const span = Math.round(0.025 * rateHz);

const rms = (samples: Float64Array) =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);

test.each([40, 45, 57, 64, 76])("a held note of MIDI number %i stands still from picture to picture", (midi) => {
  const string = pluckedString(
    {
      frequencyHz: noteHz(midi),
      strength: 0.8,
      pickPosition: 0.13,
      pickupPosition: 0.21,
      fundamentalSeconds: 6,
      trebleSeconds: 1.4,
      roughness: 0.35,
      seed: 3,
    },
    2 * rateHz,
    rateHz,
  );
  let last: Float64Array | undefined;
  let worst = 0;
  // Looks at odd times, as a screen does that knows nothing of the note.
  for (let end = rateHz / 2; end < 1.5 * rateHz; end += 811) {
    const recent = string.subarray(end - 3 * span, end);
    const from = triggerIndex(recent, span, rateHz, last);
    const picture = recent.slice(from, from + span);
    if (last) worst = Math.max(worst, rms(picture.map((sample, n) => sample - (last?.[n] ?? 0))) / rms(picture));
    last = picture;
  }
  // One that is not triggered differs by as much as itself. Half a sample beside the crossing at the fifth partial is 0.2.
  expect(worst).toBeLessThan(0.35);
});

test("nothing that crosses is shown as late as can be", () => {
  expect(triggerIndex(new Float64Array(4000), span, rateHz)).toBe(4000 - span);
  expect(() => triggerIndex(new Float64Array(10), 20, rateHz)).toThrow("a picture of 20 samples does not fit into 10");
});
