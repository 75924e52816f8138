import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {levels, type Level, type Voice} from "./mix.ts";
import type {Renderer} from "./renderer.ts";

type OfVoices<T> = Readonly<Partial<Record<Voice, T>>>;

/** How loud each voice of a bench is, as far as that is known by now. */
export type VoiceLoudness = Readonly<{
  /** How each is to be played: what is measured, and where it is not yet, what is estimated. */
  played: () => OfVoices<Level>;
  /** The same of what has been measured. */
  measured: () => OfVoices<Level>;
  /** How voices of these loudnesses would be played. */
  of: (loudnesses: OfVoices<number>) => OfVoices<Level>;
  /** Lets go of what was measured on benches that have changed since. */
  refresh: () => void;
  forget: (voice: Voice) => void;
  forgetAll: () => void;
  /** Has a voice measured that is about to be heard; resolves when there is something to play it at, or nothing to be had. */
  estimate: (voice: Voice) => Promise<void>;
  /** Measures all, `first` before the others; one that has moved meanwhile is measured again. */
  measure: (first: () => Voice) => Promise<void>;
  sameLoudness: (same: boolean) => void;
}>;

/**
 * Nothing measured yet.
 *
 * @param benches what each voice plays now
 * @param beginning resolves to the loudness in LUFS that the beginning of the sound tells, where it tells any
 * @param onChange is told when a level has changed
 */
export function voiceLoudness(
  benches: () => OfVoices<BenchSetting>,
  renderer: Pick<Renderer, "loudness" | "knownLoudness">,
  beginning: (setting: BenchSetting) => Promise<number | undefined>,
  onChange: () => void,
): VoiceLoudness {
  let loudnesses: OfVoices<number> = {};
  /** The bench that each of them was measured on. */
  let measuredOn: OfVoices<BenchSetting> = {};
  /** Stands in for what has not been measured yet: a bench that comes by a link sounds as soon as any other. */
  let rough: OfVoices<number> = {};
  let same = true;
  let measuring: Promise<void> | undefined;
  let moved = false;

  const measureOne = async (voice: Voice) => {
    const setting = benches()[voice];
    if (!setting) return;
    const loudness = await renderer.loudness(setting);
    // A stage that has been left meanwhile.
    if (voice === "stage" && setting !== benches().stage) return;
    measuredOn = {...measuredOn, [voice]: setting};
    if (loudnesses[voice] === loudness) return;
    loudnesses = {...loudnesses, [voice]: loudness};
    onChange();
  };
  const measureAll = async (first: () => Voice) => {
    do {
      moved = false;
      const order = new Set([first(), ...(Object.keys(benches()) as Voice[])]);
      await Promise.all([...order].map(measureOne));
    } while (moved);
  };
  return {
    played: () => levels({...rough, ...loudnesses}, same),
    measured: () => levels(loudnesses, same),
    of: (others) => levels(others, same),
    refresh() {
      const present = Object.entries(benches()) as [Voice, BenchSetting][];
      const known = present.map(([voice, setting]) => {
        const measured = measuredOn[voice] === setting ? loudnesses[voice] : undefined;
        return [voice, renderer.knownLoudness(setting) ?? measured] as const;
      });
      loudnesses = Object.fromEntries(known.filter(([, loudness]) => loudness !== undefined));
    },
    forget(voice) {
      loudnesses = Object.fromEntries(Object.entries(loudnesses).filter(([each]) => each !== voice));
    },
    forgetAll: () => void ([loudnesses, measuredOn, rough] = [{}, {}, {}]),
    async estimate(voice) {
      const setting = benches()[voice];
      if (!setting || loudnesses[voice] !== undefined) return;
      const loudness = await beginning(setting);
      if (loudness !== undefined) rough = {[voice]: loudness};
    },
    measure(first) {
      moved = true;
      return (measuring ??= measureAll(first).finally(() => (measuring = undefined)));
    },
    sameLoudness: (on) => void (same = on),
  };
}
