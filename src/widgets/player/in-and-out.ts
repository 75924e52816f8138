// What lies folded away in the player: fetched when it is unfolded.
import "./live-input.element.ts";
import "./save-sound.element.ts";
