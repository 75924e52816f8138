// The sound itself: runs in the browser's sound thread, and does nothing but the engine's work.
import {liveBench} from "../../../engine/realtime/live-bench.ts";
import {limiter} from "../../../engine/sound/limiter.ts";
import {loudspeakerFilters} from "../../../engine/sound/loudspeaker.ts";
import {switchedFilter} from "../../../engine/sound/switched-filter.ts";
import type {FromSound, RunningVoice, ToSound} from "./live-messages.ts";

// The names of this thread, which the browser's own types leave out (Web Audio API 1.0, AudioWorkletGlobalScope).
declare const sampleRate: number;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, made: new () => AudioWorkletProcessor): void;

/** A block has 128 samples today; where it may have more, up to this. */
const longest = 2048;
const fadeSeconds = 0.01;
/** How often the page is told where the loop is, and over how long a time it is measured how busy the sound is, in seconds. */
const [placeSeconds, shareSeconds] = [0.04, 0.25];

class BenchSound extends AudioWorkletProcessor {
  readonly #bench = liveBench<RunningVoice>(sampleRate, longest);
  readonly #loudspeaker = switchedFilter(loudspeakerFilters(sampleRate), fadeSeconds * sampleRate);
  readonly #limiter = limiter(sampleRate);
  #loop: Float32Array | undefined;
  /** Whether somebody looks at the volts, which leave by outputs of their own. */
  #watched = false;
  #milliseconds = 0;
  #samples = 0;
  #untold = 0;

  constructor() {
    super();
    this.port.onmessage = ({data}: MessageEvent<ToSound>) => this.#take(data);
  }

  #take(message: ToSound) {
    switch (message.kind) {
      case "loop":
        this.#loop = message.samples;
        return this.#bench.loop(message.samples);
      case "rest of loop":
        // The loop as it has been made meanwhile, in the place of what was there of it.
        return this.#loop?.set(message.samples);
      case "circuit":
        return this.#bench.set(message.voice, message.circuit);
      case "gain":
        return this.#bench.gain(message.voice, message.perVolt);
      case "loudspeaker":
        return this.#loudspeaker.turn(message.on);
      case "hear":
        return this.#bench.hear(message.voice);
      case "drop":
        return this.#bench.drop(message.voice);
      case "watch":
        this.#watched = message.on;
    }
  }

  process(inputs: readonly Float32Array[][], outputs: readonly Float32Array[][]): boolean {
    const [first, ...others] = outputs[0] ?? [];
    if (!first) return true;
    // The only clock here counts whole milliseconds; summed over many blocks it tells the share all the same.
    const start = Date.now();
    const [source, output] = [outputs[1]?.[0], outputs[2]?.[0]];
    this.#bench.process(first, inputs[0]?.[0], this.#watched && source && output ? {source, output} : undefined);
    this.#loudspeaker.run(first);
    this.#limiter.run(first);
    for (const other of others) other.set(first);
    this.#milliseconds += Date.now() - start;
    this.#samples += first.length;
    this.#untold += first.length;
    if (this.#untold >= placeSeconds * sampleRate) this.#report();
    return true;
  }

  #report() {
    this.#untold = 0;
    const place = {placeSeconds: this.#bench.place() / sampleRate};
    if (this.#samples < shareSeconds * sampleRate) return this.#tell(place);
    this.#tell({...place, share: (this.#milliseconds * sampleRate) / (1000 * this.#samples)});
    this.#milliseconds = this.#samples = 0;
  }

  #tell(message: FromSound) {
    this.port.postMessage(message);
  }
}

registerProcessor("bench-sound", BenchSound);
