/** What a blind test needs once it is prepared, in one chunk of its own: the page loads without it. */
export {workingOut} from "../whole-sounds/working-out.ts";
export {blindResult} from "./blind-test.ts";
export {drawnX} from "./draw-x.ts";
export {pairing} from "./pairing.ts";
export {resultFile} from "./result-file.ts";
export {resultHeading, resultSentences} from "./result-text.ts";
export {trialSounds} from "./trial-sounds.ts";
