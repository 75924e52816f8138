import {heldResponse, nowResponse} from "../bench-state/figures.ts";
import {required} from "../required.ts";
import {drawingSizes} from "./drawing-sizes.ts";
import {frequencyAt, plotBox, xOf} from "./plot-box.ts";
import {cursorPlaces, readingAt, thirdOctavesHz} from "./summary.ts";

/** The line that reads the curves: by pixel under a pointer, by third octave under a key, by name from a list. */
export type ReadingCursor = Readonly<{
  moveToPixel: (drawing: HTMLElement, clientX: number) => void;
  moveToHz: (frequencyHz: number) => void;
  moveToStop: (thirdOctave: number) => void;
  moveToPlace: (index: string) => void;
  /** Fills the list with the marks as they stand. */
  listPlaces: () => void;
  show: () => void;
  hide: () => void;
  /** Says again what is read, after the curves have moved. */
  say: () => void;
}>;

/** The cursor of a response on the page, at 1 kHz to begin with. */
export function readingCursor(host: HTMLElement): ReadingCursor {
  let frequencyHz = 1000;
  const boxOf = (size: (typeof drawingSizes)[keyof typeof drawingSizes]) =>
    plotBox([nowResponse.peek(), heldResponse.peek()], size);
  const places = () => cursorPlaces(nowResponse.peek(), heldResponse.peek());

  const say = () => {
    const words = readingAt(nowResponse.peek(), heldResponse.peek(), frequencyHz);
    const range = required(host, ".cursor-range", HTMLInputElement);
    range.value = String(Math.round(10 * Math.log10(frequencyHz / 1000)) + 17);
    range.setAttribute("aria-valuetext", words);
    required(host, "output", HTMLOutputElement).textContent = words;
  };

  const moveTo = (hz: number) => {
    frequencyHz = hz;
    for (const [name, size] of Object.entries(drawingSizes)) {
      const line = required(host, `.response-drawing.${name} .cursor-line`, HTMLElement);
      line.hidden = false;
      line.style.left = `${(100 * xOf(boxOf(size), hz)) / size.width}%`;
    }
    say();
  };

  return {
    say,
    moveToPixel: (drawing, clientX) => {
      const {left, width} = drawing.getBoundingClientRect();
      const [, name = "wide"] = drawing.classList;
      const size = drawingSizes[name as keyof typeof drawingSizes];
      moveTo(frequencyAt(boxOf(size), ((clientX - left) / width) * size.width));
    },
    moveToHz: moveTo,
    moveToStop: (thirdOctave) => moveTo(thirdOctavesHz[thirdOctave] ?? 1000),
    moveToPlace: (index) => {
      const place = index === "" ? undefined : places()[Number(index)];
      if (place) moveTo(place.frequencyHz);
    },
    listPlaces: () => {
      const entries = [{name: "go to …", value: ""}, ...places().map(({name}, k) => ({name, value: String(k)}))];
      required(host, "select", HTMLSelectElement).replaceChildren(
        ...entries.map(({name, value}) => new Option(name, value)),
      );
    },
    show: () => moveTo(frequencyHz),
    hide: () => {
      for (const line of host.querySelectorAll<HTMLElement>(".cursor-line")) line.hidden = true;
    },
  };
}
