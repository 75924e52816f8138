import {scaled} from "../../engine/sound/samples.ts";
import type {Answer, Played, Request} from "./messages.ts";
import {underCeiling} from "./mix.ts";
import {playedSound} from "./played-sound.ts";
import {quickLoudness, quickRateHz} from "./quick-loudness.ts";
import {rendered, renderRateHz} from "./rendering.ts";
import {startPhrase} from "./start-benches.ts";

let played: Played = startPhrase;
const atRate = new Map<number, Float32Array>();

/** What is played, at any rate, made once. */
function soundAt(rateHz: number): Float32Array {
  const known = atRate.get(rateHz);
  if (known) return known;
  const sound = playedSound(played, rateHz);
  atRate.set(rateHz, sound);
  return sound;
}

function answered(request: Exclude<Request, {kind: "sound"}>): Answer {
  const {key} = request;
  switch (request.kind) {
    case "render":
      return {key, rendering: rendered(request.setting, soundAt(renderRateHz), request.loudspeaker)};
    case "under ceiling":
      return {key, samples: underCeiling(scaled(request.samples, request.gain))};
    case "loudness":
      return {key, loudness: quickLoudness(request.setting, soundAt(quickRateHz), request.loudspeaker)};
  }
}

addEventListener("message", ({data}: MessageEvent<Request>) => {
  if (data.kind === "sound") {
    played = data.sound;
    atRate.clear();
    return;
  }
  let answer: Answer;
  try {
    answer = answered(data);
  } catch (error) {
    answer = {key: data.key, message: error instanceof Error ? error.message : String(error)};
  }
  const made = "rendering" in answer ? answer.rendering.samples : "samples" in answer ? answer.samples : undefined;
  postMessage(answer, {transfer: made ? [made.buffer] : []});
});
