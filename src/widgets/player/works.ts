/** What the player needs once it is used, in one chunk of its own: the page loads without it. */
export {loop} from "./loop.ts";
export {loudnessSentence, mixed} from "./mix.ts";
export {ownSound} from "./own-sound.ts";
export {renderer} from "./renderer.ts";
