import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {fullScalePerVolt} from "../../engine/sound/volts.ts";
import {loop} from "./loop.ts";
import type {Voice} from "./mix.ts";
import type {Renderer} from "./renderer.ts";
import {renderRateHz} from "./rendering.ts";
import type {Sounding} from "./sounding.ts";

/**
 * The bench as it sounds where a browser cannot play live (a page that is not served securely): every voice is worked out as a
 * whole, and a change is heard once that is done. Called from a press only: nothing sounds by itself.
 */
export function renderedSound({render, underCeiling}: Renderer): Sounding {
  const player = loop();
  const settings = new Map<Voice, BenchSetting>();
  const samples = new Map<Voice, Float32Array>();
  const gains = new Map<Voice, number>();
  let heard: Voice | undefined;
  const play = async (voice: Voice) => {
    const [whole, perVolt] = [samples.get(voice), gains.get(voice)];
    if (voice !== heard || !whole || perVolt === undefined) return;
    const ready = await underCeiling(whole, perVolt / fullScalePerVolt);
    // Another voice, another circuit or another gain may have been asked for meanwhile.
    if (voice === heard && samples.get(voice) === whole && gains.get(voice) === perVolt) player.play(ready);
  };
  const work = async (voice: Voice) => {
    const setting = settings.get(voice);
    if (!setting) return;
    const rendering = await render(setting);
    if (settings.get(voice) !== setting) return;
    samples.set(voice, rendering.samples);
    await play(voice);
  };
  return {
    sampleRateHz: renderRateHz,
    // The renderer knows the sound already; what was worked out from another is worked out again.
    loop: () => void Promise.all([...settings.keys()].map(work)),
    put(voice, setting) {
      if (voice === "stage") samples.delete(voice);
      if (!setting) return void settings.delete(voice);
      settings.set(voice, setting);
      void work(voice);
    },
    gain(voice, perVolt) {
      gains.set(voice, perVolt);
      void play(voice);
    },
    hear(voice) {
      heard = voice;
      void play(voice);
    },
    // The renderer knows this too.
    loudspeaker: () => void Promise.all([...settings.keys()].map(work)),
    volume: player.volume,
    resume: player.resume,
    stop() {
      heard = undefined;
      player.stop();
    },
    onInterrupted: player.onInterrupted,
    onSlow: () => {},
  };
}
