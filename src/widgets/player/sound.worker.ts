import type {Played, SoundAnswer, SoundRequest} from "./messages.ts";
import {phraseInStretches, playedSound} from "./played-sound.ts";
import {startPhrase} from "./start-benches.ts";

let played: Played = startPhrase;

const answer = (made: SoundAnswer) => postMessage(made, {transfer: "samples" in made ? [made.samples.buffer] : []});

/** Lets a question that has come meanwhile in. */
const pause = () =>
  new Promise((resolve) => {
    const {port1, port2} = new MessageChannel();
    port1.onmessage = resolve;
    port2.postMessage(undefined);
  });

async function make(key: number, rateHz: number, peak: number | undefined) {
  if (played !== startPhrase || peak === undefined) {
    const samples = playedSound(played, rateHz);
    return answer({key, from: 0, samples, length: samples.length});
  }
  for (const stretch of phraseInStretches(startPhrase, rateHz, peak)) {
    if (stretch) answer({key, ...stretch});
    await pause();
  }
}

addEventListener("message", ({data}: MessageEvent<SoundRequest>) => {
  if (data.kind === "sound") {
    played = data.sound;
    return;
  }
  const {key, rateHz, peak} = data;
  make(key, rateHz, peak).catch((error: unknown) =>
    answer({key, message: error instanceof Error ? error.message : String(error)}),
  );
});
