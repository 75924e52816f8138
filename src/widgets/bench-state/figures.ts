/**
 * All that is worked out from the bench, as one chunk: a page as served already shows it for the start values, so a reader
 * fetches the engine with the first touch and not before.
 */
export {consequenceText} from "./consequence.ts";
export {circuitOf} from "./curves.ts";
export {readingText, type ReadingName} from "./readings.ts";
export {rotationDetail} from "./rotation-detail.ts";
export {heldResponse, nowResponse} from "./responses.ts";
