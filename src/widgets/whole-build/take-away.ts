import type {PhraseName} from "../../engine/sound/phrases.ts";
import {required} from "../required.ts";
import {download} from "../whole-sounds/download.ts";
import type {WorkingOut} from "../whole-sounds/working-out.ts";
import type {Stage} from "./whole-build.ts";

const works = () => import("./works.ts");

/** What is to be taken away: the stages, and the phrase they are played with. */
export type TakeAway = Readonly<{
  stages: readonly Stage[];
  phrase: () => Readonly<{name: PhraseName; seconds: number}>;
}>;

/**
 * Makes the links that give the whole build away as a file, or as a list of its stages, work. Returns a function that gives up what
 * is under way.
 */
export function takeAway(element: HTMLElement, {stages, phrase}: TakeAway): () => void {
  let working: WorkingOut | undefined;
  const on = (selector: string, act: () => Promise<void>) =>
    required(element, selector, HTMLElement).addEventListener("click", () => void act());
  /** Told beside what was pressed: the player's own line may lie a screen above. */
  const say = (sentence: string) => (required(element, ".said-of-file", HTMLElement).textContent = sentence);
  const fileName = () => `part-by-part-whole-build-${phrase().name.replaceAll(" ", "-")}`;
  const cues = async () => (await works()).stageCues(stages, phrase().seconds);

  const save = async () => {
    if (working) return;
    const {composedFile, startSetting, workingOut} = await works();
    const shown = required(element, ".of-file .working", HTMLElement);
    const progress = required(shown, "progress", HTMLProgressElement);
    progress.value = 0;
    const name = fileName();
    const settings = stages.map(({lesson}) => startSetting(lesson));
    working = workingOut({phrase: phrase().name, settings, forFile: true}, (share) => (progress.value = share));
    shown.hidden = false;
    shown.scrollIntoView({block: "nearest"});
    say("Working all stages out, closer to the circuit than they are played …");
    try {
      const sounds = await working.sounds;
      if (!sounds) return void say("Given up.");
      download(await composedFile(sounds), `${name}.wav`);
      say("Saved.");
    } catch (error) {
      say(`The file could not be made: ${error instanceof Error ? error.message : String(error)}.`);
    } finally {
      working = undefined;
      const focused = shown.contains(document.activeElement);
      shown.hidden = true;
      if (focused) required(element, ".wav", HTMLElement).focus();
    }
  };

  on(".wav", save);
  on(".of-file .give-up", async () => working?.cancel());
  on(".csv", async () => {
    const {cueListCsv} = await works();
    download(new Blob([cueListCsv(await cues())], {type: "text/csv"}), `${fileName()}.csv`);
  });
  on(".vtt", async () => {
    const {cueListWebVtt} = await works();
    download(new Blob([cueListWebVtt(await cues())], {type: "text/vtt"}), `${fileName()}.vtt`);
  });
  return () => working?.cancel();
}
