/** What the player needs once it is used, in one chunk of its own: the page loads without it. */
export {loudnessSentence} from "./mix.ts";
export {playedBench} from "./played-bench.ts";
