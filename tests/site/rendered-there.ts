import {readdirSync} from "node:fs";
import {join} from "node:path";
import type {Page} from "@playwright/test";
import type {VoiceCircuit} from "../../src/engine/realtime/live-bench.ts";
import {atRoot} from "./routes.ts";

/** The file of the sound thread as it was built. */
export function worklet(): string {
  const folder = join(atRoot.folder, "_astro");
  const name = readdirSync(folder).find((file) => file.startsWith("live.worklet"));
  if (!name) throw new Error(`${folder} has no sound thread in it`);
  return `_astro/${name}`;
}

const text = (samples: Float32Array) =>
  Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength).toString("base64");

export type ThereOptions = Readonly<{perVolt: number; rateHz: number; length: number; waitMilliseconds?: number}>;

/**
 * What the sound thread makes of a circuit, rendered by the browser without a device, as fast as it can.
 *
 * @param address of the sound thread's program
 */
export async function renderedThere(
  page: Page,
  address: string,
  circuit: VoiceCircuit,
  sound: Float32Array,
  {waitMilliseconds = 500, ...options}: ThereOptions,
): Promise<Float32Array> {
  const {model, ...rest} = circuit;
  const names = Object.entries(model).flatMap(([name, value]) => (value instanceof Float64Array ? [name] : []));
  const plain = Object.fromEntries(Object.entries(model).filter(([name]) => !names.includes(name)));
  const arrays = names.map((name) => [name, Array.from(model[name as "A"])] as const);
  const given = {
    address,
    plain,
    arrays,
    rest: {...rest, memory: Array.from(rest.memory)},
    waitMilliseconds,
    ...options,
  };
  const made = await page.evaluate(
    async ({address, plain, arrays, rest, perVolt, rateHz, length, waitMilliseconds, sound}) => {
      const context = new OfflineAudioContext(1, length, rateHz);
      await context.audioWorklet.addModule(address);
      const node = new AudioWorkletNode(context, "bench-sound", {numberOfInputs: 0, outputChannelCount: [1]});
      node.connect(context.destination);
      const typed = Object.fromEntries(arrays.map(([name, values]) => [name, Float64Array.from(values)]));
      const circuit = {...rest, memory: Float64Array.from(rest.memory), model: {...plain, ...typed}};
      const bytes = Uint8Array.from(atob(sound), (letter) => letter.charCodeAt(0));
      // The thread reads its messages before the first block.
      void context.suspend(0).then(() => {
        node.port.postMessage({kind: "loop", samples: new Float32Array(bytes.buffer)});
        node.port.postMessage({kind: "circuit", voice: "now", circuit});
        node.port.postMessage({kind: "hear", voice: "now"});
        node.port.postMessage({kind: "gain", voice: "now", perVolt});
        setTimeout(() => void context.resume(), waitMilliseconds);
      });
      const samples = (await context.startRendering()).getChannelData(0);
      return new Promise<string>((resolve) => {
        const reader = new FileReader();
        reader.addEventListener("load", () => resolve(String(reader.result)));
        reader.readAsDataURL(new Blob([samples]));
      });
    },
    {...given, sound: text(sound)},
  );
  const samples = new Float32Array(Uint8Array.from(Buffer.from(made.slice(made.indexOf(",") + 1), "base64")).buffer);
  const begins = samples.findIndex((sample) => sample !== 0);
  if ((begins >= 0 && begins < options.rateHz / 50) || waitMilliseconds > 5000) return samples;
  // On a busy machine the thread had begun before it had read its messages.
  return renderedThere(page, address, circuit, sound, {waitMilliseconds: 4 * waitMilliseconds, ...options});
}
