import type {Rendering} from "../player/rendering.ts";
import {fairPair, type FairPair} from "./fair-pair.ts";

const post = (pair: FairPair) => postMessage(pair, {transfer: pair.ok ? [pair.a.buffer, pair.b.buffer] : []});

addEventListener("message", ({data: [a, b]}: MessageEvent<readonly [Rendering, Rendering]>) => {
  try {
    post(fairPair(a, b));
  } catch (error) {
    post({
      ok: false,
      message: `The sounds could not be made: ${error instanceof Error ? error.message : String(error)}.`,
    });
  }
});
