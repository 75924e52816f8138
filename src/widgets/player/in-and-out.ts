// What lies folded away in the player: fetched when it is unfolded, or when a file is dropped.
import {required} from "../required.ts";
import type {InputAsked} from "./live-input.element.ts";
import "./live-input.element.ts";
import type {Played} from "./messages.ts";
import {ownSound} from "./own-sound.ts";
import type {PlayedBench} from "./played-bench.ts";
import type {SaveAsked} from "./save-sound.element.ts";
import "./save-sound.element.ts";
import {startPhrase} from "./start-benches.ts";
import {positionOf} from "./volume.ts";

const liveVolumeDb = -30; // no louder than this when an input is opened

/** What the player around it lets it do. */
export type AroundPlayer = Readonly<{
  element: HTMLElement;
  opened: () => Promise<PlayedBench>;
  /** Does it with the bench; a failure is told. */
  with: (act: (bench: PlayedBench) => unknown) => Promise<void>;
  /** Plays, where it does not already. */
  play: () => Promise<void>;
  /** Told when something else is played. */
  changed: () => void;
  /** `stands`: to be read, not wiped out by what is measured meanwhile. */
  say: (sentence: string, as?: Readonly<{wrong?: boolean; stands?: boolean}>) => void;
}>;

/** Takes up the controls in the fold. @returns how a file that has been dropped is opened */
export function inAndOut(around: AroundPlayer): (file: File | undefined) => Promise<void> {
  const {element, say} = around;
  const input = required(element, "input[type=file]", HTMLInputElement);
  const phrase = required(element, ".phrase select", HTMLSelectElement);
  let live: MediaStream | undefined;

  const use = async (sound: Played) => {
    await around.with((bench) => bench.use(sound));
    around.changed();
  };
  const open = async (file: File | undefined) => {
    if (!file) return;
    say("Reading the file …");
    const own = await ownSound(file);
    say(own.message, {wrong: !own.ok, stands: true});
    if (!own.ok) return;
    phrase.value = "";
    await use(own.sound);
  };
  const choose = () => {
    input.value = "";
    void use(phrase.value as Played);
  };
  /** An input is opened by a press, so it is played at once: quietly, however high the volume stood. */
  const playInput = async ({detail: {stream, scale}, target}: InputAsked) => {
    if (stream && stream !== live) {
      const volume = required(element, ".volume input", HTMLInputElement);
      volume.value = String(Math.min(Number(volume.value), positionOf(liveVolumeDb)));
      volume.dispatchEvent(new Event("input"));
      await around.play();
    }
    live = stream;
    await around.with((bench) => {
      bench.input(stream, scale);
      if (stream && target instanceof HTMLElement) Object.assign(target, {latencySeconds: bench.latencySeconds()});
    });
  };

  input.addEventListener("change", () => void open(input.files?.[0]));
  phrase.addEventListener("change", choose);
  element.addEventListener("saveasked", (event) => {
    const {detail} = event as SaveAsked;
    detail.request = around.opened().then((bench) => bench.toSave(detail.what));
  });
  element.addEventListener("inputasked", (event) => void playInput(event as InputAsked));
  // What was chosen before this had been fetched.
  if (input.files?.[0]) void open(input.files[0]);
  else if (phrase.value !== startPhrase) choose();
  return open;
}
