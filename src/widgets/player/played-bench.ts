import {courseCircuit, startSetting, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {amplitude} from "../../engine/sound/samples.ts";
import {fullScalePerVolt} from "../../engine/sound/volts.ts";
import {sweepHz} from "../../engine/sound/sweep.ts";
import {held, lesson, nowSetting, wireSetting} from "../bench-state/bench-state.ts";
import {liveSound} from "./live/live-sound.ts";
import type {SoundDevice} from "./live/sound-device.ts";
import {soundingSeconds, sweepingHz} from "./heard.ts";
import {slowSweep, type Played} from "./messages.ts";
import type {Level, Mixed, Voice} from "./mix.ts";
import {quickRateHz} from "./quick-loudness.ts";
import {renderedSound} from "./rendered-sound.ts";
import {renderer} from "./renderer.ts";
import type {SaveRequest} from "./save-messages.ts";
import type {SoundSource} from "./sound-source.ts";
import type {Sounding} from "./sounding.ts";
import type {Watched} from "../sound-picture/sound-picture.element.ts";
import {voiceLoudness} from "./voice-loudness.ts";
import {playedLike, startBenches, startPhrase} from "./start-benches.ts";

const warmMilliseconds = 60;
const nextTask = () => new Promise((resolve) => setTimeout(resolve));

/** The bench of a page as it is played: which voice is heard, how loud each is, what goes in. */
export type PlayedBench = Readonly<{
  /**
   * Plays, on this device where there is one that plays live, else what has been worked out as a whole; what is not known yet of how
   * loud each is comes with `follow`. Called from a press only.
   *
   * @throws where there is no way to play sound
   */
  start: (voice: Voice, volume: number, device: SoundDevice | undefined) => Promise<void>;
  hear: (voice: Voice) => void;
  /** Which stage stands beside the three, as the lesson of that stage starts; undefined: none. Heard once it is as loud as they. */
  stage: (lesson: number | undefined) => Promise<void>;
  stop: () => void;
  volume: (gain: number) => void;
  /** Takes up what the bench is now: what is heard at once, how loud it is as soon as that is measured. */
  follow: () => Promise<void>;
  sameLoudness: (same: boolean) => void;
  /** Whether a loudspeaker stands behind the amplifier's input; it does at first. */
  loudspeaker: (on: boolean) => Promise<void>;
  /** Plays an input instead of a phrase, `scale` times as large; undefined goes back. Called while it plays. */
  input: (stream: MediaStream | undefined, scale: number) => void;
  /** What goes into the circuit and comes out of it while it plays; undefined where it is not run live. */
  watched: () => Watched | undefined;
  /** Seconds from an input's arrival to the ear, as far as the browser knows them. */
  latencySeconds: () => number;
  /** What is played from now on. */
  use: (sound: Played) => Promise<void>;
  /** What it takes to save a voice as it is played, or what goes in. */
  toSave: (what: Voice | "dry") => Promise<SaveRequest>;
  /** What each voice plays, worked out as a whole: samples at 48 kHz, no more than the ceiling. */
  renders: () => Promise<Partial<Record<Voice, Mixed>>>;
}>;

export type BenchEvents = Readonly<{
  onLevels: (levels: Partial<Record<Voice, Level>>) => void;
  /** It has fallen silent by itself, and why; `broken`: for good, so that it needs another device. */
  onStopped: (sentence: string, broken: boolean) => void;
  /** It goes on more coarsely, and what that means. */
  onSlow: (sentence: string) => void;
}>;

/** Of the start phrase: how loud each voice is where the lesson starts, in LUFS; how much louder the whole is than its beginning. */
export type StartSound = Readonly<{loudness: Readonly<Partial<Record<Voice, number>>>; leftDb: number}>;

/**
 * A bench with these voices, silent until it is started.
 *
 * @param source makes what is played
 * @param start what is known of the sound before anything has been moved
 */
export function playedBench(
  voices: readonly Exclude<Voice, "stage">[],
  source: SoundSource,
  start: StartSound,
  {onLevels, onStopped, onSlow}: BenchEvents,
): PlayedBench {
  const atStart = startBenches(lesson.peek());
  const worker = renderer(
    voices.flatMap((voice) => {
      const loudness = start.loudness[voice];
      return loudness === undefined ? [] : [{setting: atStart[voice], loudness}];
    }),
  );
  const roughly = () => import("./rough-loudness.ts");
  const put = new Map<Voice, BenchSetting>();
  let sounding: Sounding | undefined;
  let playing = false;
  let starting = false;
  let opening: Promise<Sounding> | undefined;
  /** How often it was started or stopped: a start that was overtaken goes no further. */
  let turn = 0;
  let heard: Voice = voices[0] ?? "now";
  let input: Readonly<{stream: MediaStream; scale: number}> | undefined;
  let played: Played = startPhrase;
  let loudspeaker = true;
  let stage: BenchSetting | undefined;
  /** Wire and stage with the phrase as large as it is now, made anew when that or the stage has changed. */
  let likeNow: Readonly<{volts: number; wire: BenchSetting; stage: BenchSetting | undefined}> | undefined;

  const benches = (): Partial<Record<Voice, BenchSetting>> => {
    const now = nowSetting.peek();
    const volts = courseCircuit(now).phrasePeakVolts;
    if (volts !== likeNow?.volts)
      likeNow = {volts, wire: playedLike(wireSetting, now), stage: stage && playedLike(stage, now)};
    const all = {now, before: held.peek(), wire: likeNow.wire, stage: likeNow.stage};
    return Object.fromEntries(
      [...voices, "stage" as const].flatMap((voice) => (all[voice] ? [[voice, all[voice]]] : [])),
    );
  };
  const present = () => Object.keys(benches()) as Voice[];
  /** From the beginning alone, of the start phrase and through the loudspeaker: how much louder the whole is then is known. */
  const beginning = async (setting: BenchSetting) => {
    if (played !== startPhrase || !loudspeaker) return undefined;
    const [{beginningLoudness}, {samples}] = await Promise.all([roughly(), source.soundAt(quickRateHz)]);
    return start.leftDb + (await beginningLoudness(setting, samples));
  };
  const level = () => {
    const playedLevels = loudness.played();
    for (const voice of present()) {
      const {gainDb, loudness} = playedLevels[voice] ?? {};
      if (gainDb === undefined) continue;
      // Where nothing is to be heard there is nothing to be matched either.
      sounding?.gain(voice, Number.isFinite(loudness) ? amplitude(gainDb) : fullScalePerVolt);
    }
    onLevels(loudness.measured());
  };
  const loudness = voiceLoudness(benches, worker, beginning, level);
  const measured = () => loudness.measure(() => heard);
  const putOne = (voice: Voice) => {
    const setting = benches()[voice];
    if (!setting || put.get(voice) === setting) return;
    put.set(voice, setting);
    sounding?.put(voice, setting);
  };
  const putAll = () => present().forEach(putOne);
  const open = async (device: SoundDevice | undefined): Promise<Sounding> => {
    const opened = device ? await liveSound(device, source.soundAt) : renderedSound(worker);
    opened.onInterrupted(() => {
      playing = false;
      soundingSeconds.value = undefined;
      // Else it would go on by itself once the system lets it.
      opened.stop();
      onStopped("The sound was interrupted by the system. Press play to go on.", false);
    });
    opened.onBroken?.(() => {
      turn++;
      playing = false;
      soundingSeconds.value = undefined;
      [sounding, opening] = [undefined, undefined];
      put.clear();
      onStopped("The sound has failed, or its device is gone. Press play to start it anew.", true);
    });
    opened.onSlow((oversampling) => {
      const rate = oversampling === 1 ? "at" : `${oversampling} times`;
      onSlow(
        `This device cannot keep up, so the sound is worked out more coarsely (${rate} the device’s rate): the highest overtones are less true now.`,
      );
    });
    opened.onPlace?.((seconds) => {
      soundingSeconds.value = input ? undefined : seconds;
      if (played === slowSweep && !input) sweepingHz.value = sweepHz(seconds);
    });
    if (!loudspeaker) opened.loudspeaker(false);
    if (input) opened.input?.(input.stream, input.scale);
    return opened;
  };

  const begin = async (voice: Voice, volume: number, device: SoundDevice | undefined) => {
    const mine = ++turn;
    heard = voice;
    loudness.refresh();
    opening ??= open(device).catch((error: unknown) => {
      opening = undefined;
      throw error;
    });
    // What goes wrong while it is measured roughly is told by the measurement in full.
    [sounding] = await Promise.all([opening, loudness.estimate(heard).catch(() => {})]);
    if (mine !== turn) return;
    playing = true;
    // What is heard comes first; the others join in while it plays.
    putOne(heard);
    level();
    sounding.volume(volume);
    await sounding.resume();
    if (mine !== turn) return;
    sounding.hear(heard);
    await nextTask();
    putAll();
  };

  return {
    async start(voice, volume, device) {
      starting = true;
      try {
        await begin(voice, volume, device);
      } finally {
        starting = false;
      }
    },
    hear(voice) {
      heard = voice;
      if (playing) sounding?.hear(voice);
    },
    async stage(lesson) {
      loudness.forget("stage");
      put.delete("stage");
      stage = lesson === undefined ? undefined : startSetting(lesson);
      likeNow = undefined;
      if (!stage) {
        sounding?.put("stage", undefined);
        return level();
      }
      const asked = stage;
      if (playing) putOne("stage");
      // Meanwhile it runs unheard, so that its capacitors take up the sound.
      await Promise.all([measured(), new Promise((resolve) => setTimeout(resolve, warmMilliseconds))]);
      if (stage !== asked) return;
      heard = "stage";
      if (playing) sounding?.hear("stage");
    },
    stop() {
      turn++;
      playing = false;
      soundingSeconds.value = sweepingHz.value = undefined;
      sounding?.stop();
    },
    volume: (gain) => sounding?.volume(gain),
    async follow() {
      // What starts takes up the bench as it is by then.
      if (starting) return;
      if (playing) putAll();
      await measured();
    },
    sameLoudness(on) {
      loudness.sameLoudness(on);
      level();
    },
    async loudspeaker(on) {
      loudspeaker = on;
      worker.loudspeaker(on);
      sounding?.loudspeaker(on);
      await measured();
    },
    input(stream, scale) {
      input = stream && {stream, scale};
      sounding?.input?.(stream, scale);
    },
    watched: () => (playing ? sounding?.watched?.() : undefined),
    latencySeconds: () => sounding?.latencySeconds?.() ?? 0,
    async use(sound) {
      played = sound;
      soundingSeconds.value = sweepingHz.value = undefined;
      source.use(sound);
      worker.use(sound);
      loudness.forgetAll();
      if (sounding) {
        const {whole} = await source.soundAt(sounding.sampleRateHz);
        sounding.loop(await whole);
      }
      await measured();
    },
    async toSave(what) {
      if (what === "dry") return {sound: played};
      await measured();
      const gainDb = loudness.measured()[what]?.gainDb ?? 0;
      // A bench is rendered with 1 V at −12 dBFS, and measured with 1 V at full scale.
      const setting = benches()[what];
      if (!setting) return {sound: played};
      const bench = {setting, loudspeaker, gainDb: gainDb - 20 * Math.log10(fullScalePerVolt)};
      return {sound: played, bench};
    },
    async renders() {
      const now = benches();
      const renderings = await Promise.all(
        (Object.entries(now) as [Voice, BenchSetting][]).map(
          async ([voice, setting]) => [voice, await worker.render(setting)] as const,
        ),
      );
      const all = loudness.of(Object.fromEntries(renderings.map(([voice, {loudness}]) => [voice, loudness])));
      const mixed = renderings.map(async ([voice, {samples}]) => {
        const level = all[voice];
        return (
          level && ([voice, {...level, samples: await worker.underCeiling(samples, amplitude(level.gainDb))}] as const)
        );
      });
      return Object.fromEntries((await Promise.all(mixed)).filter((each) => each !== undefined));
    },
  };
}
