import {courseCircuit, type BenchSetting} from "../../../engine/course/course-circuit.ts";
import {usualOversampling} from "../../../engine/realtime/rates.ts";
import {voiceCircuit} from "../../../engine/realtime/voice-circuit.ts";
import type {Voice} from "../mix.ts";
import type {Watched} from "../../sound-picture/sound-picture.element.ts";
import type {SoundInMaking} from "../sound-source.ts";
import type {Sounding} from "../sounding.ts";
import type {FromSound, RunningVoice, ToSound} from "./live-messages.ts";
import type {SoundDevice} from "./sound-device.ts";

/** Time share beyond which a device is about to be late. */
const fullShare = 0.8;
const slowReports = 3;
/** Within this a stage that has been left is faded out. */
const clearMilliseconds = 200;

/**
 * Plays live on an open device.
 *
 * @param soundAt gives what is to be played, at the device's rate
 */
export async function liveSound(
  {context, threadReady}: SoundDevice,
  soundAt: (rateHz: number) => Promise<SoundInMaking>,
): Promise<Sounding> {
  const [{samples, whole}] = await Promise.all([soundAt(context.sampleRate), threadReady]);
  const node = new AudioWorkletNode(context, "bench-sound", {numberOfOutputs: 3, outputChannelCount: [1, 1, 1]});
  const master = context.createGain();
  master.gain.value = 0;
  node.connect(master).connect(context.destination);
  const tell = (message: ToSound, transfer: Transferable[] = []) => node.port.postMessage(message, transfer);

  const settings = new Map<Voice, BenchSetting>();
  let oversampling = usualOversampling(context.sampleRate);
  let heard: Voice | undefined;
  let place: 0 | 1 = 0;
  let clearing: ReturnType<typeof setTimeout> | undefined;
  let resting: ReturnType<typeof setTimeout> | undefined;
  let input: {stream: MediaStream; source: MediaStreamAudioSourceNode; scale: GainNode} | undefined;
  let watched: Watched | undefined;
  let looped = samples;
  let late = 0;
  let slow = (_: number) => {};
  let tellPlace = (_: number) => {};

  tell({kind: "loop", samples});
  void whole.then(() => {
    if (looped === samples && !input) tell({kind: "rest of loop", samples});
  });
  const unplug = () => {
    input?.source.disconnect();
    input?.scale.disconnect();
    input = undefined;
  };

  const running = (voice: Voice): RunningVoice => (voice === "stage" ? `stage ${place}` : voice);
  const run = (voice: Voice, setting: BenchSetting) => {
    const {circuit, listenAt, phrasePeakVolts} = courseCircuit(setting);
    const made = voiceCircuit(circuit, listenAt, phrasePeakVolts, context.sampleRate, oversampling);
    tell({kind: "circuit", voice: running(voice), circuit: made});
  };
  /** Takes the stages away that are not heard any more. */
  const clear = () => {
    for (const each of [0, 1] as const)
      if (each !== place || !settings.has("stage")) tell({kind: "drop", voice: `stage ${each}`});
  };
  const put = (voice: Voice, setting: BenchSetting | undefined) => {
    if (voice === "stage") {
      clearTimeout(clearing);
      if (settings.has(voice)) place = place === 0 ? 1 : 0;
    }
    if (!setting) return void settings.delete(voice);
    settings.set(voice, setting);
    run(voice, setting);
  };
  node.port.onmessage = ({data}: MessageEvent<FromSound>) => {
    if (heard !== undefined) tellPlace(data.placeSeconds);
    if (data.share === undefined) return;
    late = data.share > fullShare ? late + 1 : 0;
    if (late < slowReports || oversampling === 1) return;
    late = 0;
    oversampling /= 2;
    for (const [voice, setting] of settings) run(voice, setting);
    slow(oversampling);
  };
  return {
    sampleRateHz: context.sampleRate,
    loop(samples) {
      looped = samples;
      if (!input) tell({kind: "loop", samples});
    },
    input(stream, scale) {
      if (input && input.stream !== stream) unplug();
      if (!stream) return tell({kind: "loop", samples: looped});
      if (!input) {
        input = {stream, source: context.createMediaStreamSource(stream), scale: context.createGain()};
        input.scale.gain.value = 0;
        input.source.connect(input.scale).connect(node);
        tell({kind: "loop", samples: undefined});
      }
      input.scale.gain.setTargetAtTime(scale, context.currentTime, 0.02);
    },
    watched() {
      if (!watched) {
        const analyser = (output: number) => {
          const made = context.createAnalyser();
          made.fftSize = 8192;
          made.smoothingTimeConstant = 0.5;
          node.connect(made, output);
          return made;
        };
        watched = {in: analyser(1), out: analyser(2)};
        tell({kind: "watch", on: true});
      }
      return watched;
    },
    latencySeconds: () => context.baseLatency + context.outputLatency,
    put,
    gain: (voice, perVolt) => tell({kind: "gain", voice: running(voice), perVolt}),
    hear(voice) {
      heard = voice;
      tell({kind: "hear", voice: running(voice)});
      clearTimeout(clearing);
      clearing = setTimeout(clear, clearMilliseconds);
    },
    loudspeaker: (on) => tell({kind: "loudspeaker", on}),
    volume: (gain) => void master.gain.setTargetAtTime(gain, context.currentTime, 0.02),
    async resume() {
      clearTimeout(resting);
      if (context.state !== "running") await context.resume();
    },
    stop() {
      heard = undefined;
      tell({kind: "hear", voice: undefined});
      clearTimeout(resting);
      // After the fade: a bench that nobody hears takes no time.
      resting = setTimeout(() => void context.suspend(), 100);
    },
    onInterrupted(act) {
      context.addEventListener("statechange", () => {
        if (context.state !== "running" && heard !== undefined) act();
      });
    },
    onBroken(act) {
      const fail = () => {
        if (context.state === "closed") return;
        heard = undefined;
        clearTimeout(resting);
        void context.close();
        act();
      };
      node.addEventListener("processorerror", fail);
      // The device is gone and no other took its place (Web Audio API 1.1).
      context.addEventListener("error", fail);
    },
    onPlace: (act) => void (tellPlace = act),
    onSlow: (act) => void (slow = act),
  };
}
