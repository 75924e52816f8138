import type {Played, SoundAnswer, SoundRequest} from "./messages.ts";
import {playedSound} from "./played-sound.ts";
import {startPhrase} from "./start-benches.ts";

let played: Played = startPhrase;

addEventListener("message", ({data}: MessageEvent<SoundRequest>) => {
  if (data.kind === "sound") {
    played = data.sound;
    return;
  }
  try {
    const sound = playedSound(played, data.rateHz);
    postMessage({key: data.key, sound} satisfies SoundAnswer, {transfer: [sound.buffer]});
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    postMessage({key: data.key, message} satisfies SoundAnswer);
  }
});
