import {circuitProcessor, type CircuitProcessor} from "./circuit-processor.ts";
import {sameShape, type StepModel} from "./step-model.ts";

/** What a voice needs to sound: plain data, so that it can be sent to where the sound is made. */
export type VoiceCircuit = Readonly<{
  /** Trapezoidal, made at `oversampling` times the sample rate; its first output is what is heard. */
  model: StepModel;
  /** The memory at the operating point. */
  memory: Float64Array;
  /** The output's voltage there: what is heard is told from it, for a steady voltage has no sound. */
  restVolts: number;
  oversampling: number;
  /** Volts of the signal source for an input of 1. */
  peakVolts: number;
}>;

/** Several circuits played side by side by one input, one of them heard. */
export type LiveBench<Voice extends string> = Readonly<{
  /** Plays this over and over from now on, at the sample rate; undefined: `process` is given the input. */
  loop: (samples: Float32Array | undefined) => void;
  /** Puts a circuit under a voice: one of the same shape by moving there, another by a cross-fade. */
  set: (voice: Voice, circuit: VoiceCircuit) => void;
  /** Takes a voice away that is not heard any more: what nobody will hear need not run. */
  drop: (voice: Voice) => void;
  /** Which voice is heard; undefined is silence. Changes by a cross-fade at the same place. */
  hear: (voice: Voice | undefined) => void;
  /** Gain of a voice, full scale for each volt; moves there smoothly. */
  gain: (voice: Voice, perVolt: number) => void;
  /** Samples into the loop. */
  place: () => number;
  /**
   * Fills `output`, and `watched` with what goes into the voice that is heard and comes out of it.
   *
   * @returns how many inner steps found no solution: the output was held over them
   */
  process: (output: Float32Array, input?: Float32Array, watched?: WatchedVolts) => number;
}>;

/** Volts at the ideal source, and where one listens, from rest, before any gain; as long as the output. */
export type WatchedVolts = Readonly<{source: Float32Array; output: Float32Array}>;

const fadeSeconds = 0.01;
/** How long a control's move takes to be heard in full. */
const moveSeconds = 0.02;
/** How long the voltage of rest takes to follow a control: slower than any ear, as the capacitors behind it are. */
const restSeconds = 1;
/** How long another circuit runs unheard before it is faded in, so that its capacitors have taken up the sound. */
const warmSeconds = 0.05;

type Played = {
  circuit: VoiceCircuit;
  processor: CircuitProcessor;
  volts: Ramp;
  rest: Ramp;
};
type VoiceState = {
  now?: Played;
  /** What `now` replaces, until its fade is over. */
  last?: Played | undefined;
  /** What was asked for during a fade, and begins after it. */
  next?: VoiceCircuit | undefined;
  fade: Ramp;
  heard: Ramp;
  perVolt: Ramp;
};

/**
 * A bench that plays at `sampleRateHz`. All voices run all the time, so that each keeps its memory of the phrase: who changes over
 * hears the other as if it had always been there.
 */
export function liveBench<Voice extends string>(sampleRateHz: number, longest = 128): LiveBench<Voice> {
  const voices = new Map<Voice, VoiceState>();
  const dry = new Float64Array(longest);
  const source = new Float64Array(longest);
  const volts = new Float64Array(longest);
  const mixed = new Float64Array(longest);
  const fadeSamples = Math.round(fadeSeconds * sampleRateHz);
  const moveSamples = Math.round(moveSeconds * sampleRateHz);
  let sound: Float32Array | undefined;
  let at = 0;
  let heard: Voice | undefined;

  const voiceOf = (voice: Voice): VoiceState => {
    const known = voices.get(voice);
    if (known) return known;
    const made = {fade: ramp(1), heard: ramp(voice === heard ? 1 : 0), perVolt: ramp(0)};
    voices.set(voice, made);
    return made;
  };
  /** Adds `played` to `mixed`, weighed sample by sample by its fade and its gain, and to `watched` by its fade alone. */
  const play = (played: Played, count: number, fade: (n: number) => number, watched?: WatchedVolts): number => {
    for (let n = 0; n < count; n++) source[n] = (dry[n] ?? 0) * played.volts.next();
    const unsolved = played.processor.process(source, volts, count);
    for (let n = 0; n < count; n++) volts[n] = (volts[n] ?? 0) - played.rest.next();
    for (let n = 0; n < count; n++) mixed[n] = (mixed[n] ?? 0) + fade(n) * (perVolts[n] ?? 0) * (volts[n] ?? 0);
    if (!watched) return unsolved;
    for (let n = 0; n < count; n++) {
      watched.source[n] = (watched.source[n] ?? 0) + fade(n) * (source[n] ?? 0);
      watched.output[n] = (watched.output[n] ?? 0) + fade(n) * (volts[n] ?? 0);
    }
    return unsolved;
  };
  const put = (state: VoiceState, circuit: VoiceCircuit): void => {
    const {now, last} = state;
    if (now && movesTo(now.circuit, circuit)) {
      now.processor.moveTo(circuit.model, moveSamples);
      now.volts.to(circuit.peakVolts, moveSamples);
      now.rest.to(circuit.restVolts, Math.round(restSeconds * sampleRateHz));
      now.circuit = circuit;
      state.next = undefined;
    } else if (now && last) state.next = circuit;
    else {
      const {model, memory, restVolts, oversampling, peakVolts} = circuit;
      const processor = circuitProcessor(model, memory, oversampling, longest, {corrects: true, live: true});
      state.last = now;
      state.now = {circuit, processor, volts: ramp(peakVolts), rest: ramp(restVolts)};
      state.fade = ramp(now ? 0 : 1);
      state.fade.to(1, fadeSamples, Math.round(warmSeconds * sampleRateHz));
    }
  };
  const weights = new Float64Array(longest);
  const perVolts = new Float64Array(longest);
  const fades = new Float64Array(longest);

  return {
    loop(samples) {
      sound = samples;
      at = 0;
    },
    set: (voice, circuit) => put(voiceOf(voice), circuit),
    drop: (voice) => void voices.delete(voice),
    hear(voice) {
      heard = voice;
      if (voice !== undefined) voiceOf(voice);
      for (const [name, state] of voices) state.heard.to(name === voice ? 1 : 0, fadeSamples);
    },
    gain(voice, perVolt) {
      voiceOf(voice).perVolt.to(perVolt, moveSamples);
    },
    place: () => at,
    process(output, input, watched) {
      const count = output.length;
      if (count > longest) throw new RangeError(`a block may have ${longest} samples, got ${count}`);
      for (let n = 0; n < count; n++) {
        const given = sound ? (sound[at] ?? 0) : (input?.[n] ?? 0);
        // A circuit would remember what is no number for ever.
        dry[n] = Number.isFinite(given) ? given : 0;
        if (sound) at = at + 1 < sound.length ? at + 1 : 0;
      }
      mixed.fill(0);
      watched?.source.fill(0);
      watched?.output.fill(0);
      let unsolved = 0;
      for (const state of voices.values()) {
        for (let n = 0; n < count; n++) {
          weights[n] = state.heard.next();
          perVolts[n] = state.perVolt.next();
          fades[n] = state.fade.next();
        }
        if (state.now) unsolved += play(state.now, count, (n) => (weights[n] ?? 0) * (fades[n] ?? 0), watched);
        if (!state.last) continue;
        unsolved += play(state.last, count, (n) => (weights[n] ?? 0) * (1 - (fades[n] ?? 0)), watched);
        if (fades[count - 1] !== 1) continue;
        const {next} = state;
        state.last = state.next = undefined;
        if (next) put(state, next);
      }
      for (let n = 0; n < count; n++) output[n] = mixed[n] ?? 0;
      return unsolved;
    },
  };
}

/** Whether one circuit can become the other step by step; where another diode is put in, it cannot. */
function movesTo(from: VoiceCircuit, to: VoiceCircuit): boolean {
  return (
    from.oversampling === to.oversampling &&
    sameShape(from.model, to.model) &&
    JSON.stringify(from.model.laws) === JSON.stringify(to.model.laws)
  );
}

/** A number that moves to another in a straight line, after a wait. */
type Ramp = Readonly<{next: () => number; to: (value: number, samples: number, wait?: number) => void}>;

function ramp(start: number): Ramp {
  let [value, target, step, left, waiting] = [start, start, 0, 0, 0];
  return {
    next() {
      if (left === 0) return value;
      if (waiting > 0) waiting--;
      else value = --left === 0 ? target : value + step;
      return value;
    },
    to(to, samples, wait = 0) {
      [target, left, waiting] = [to, Math.max(1, samples), wait];
      step = (to - value) / left;
    },
  };
}
