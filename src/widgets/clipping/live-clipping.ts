import {courseCircuit} from "../../engine/course/course-circuit.ts";
import {phrasePeaks} from "../../engine/course/stops.ts";
import {atRest, restMilliseconds} from "../bench-state/at-rest.ts";
import type {Pair} from "../bench-state/at-rest-works.ts";
import {behind} from "../bench-state/behind.ts";
import {benchKey} from "../bench-state/bench-key.ts";
import {benchView, note} from "../bench-state/bench-state.ts";
import type {Cycle} from "../bench-state/cycles.ts";
import type {LevelCurve} from "../bench-state/level-curve.ts";
import {drawn, moved} from "../sketch/sketch.ts";
import {clippingFigure} from "./clipping-view.ts";

/** Keeps a clipping figure true: `follow` after a move, `prepare` ahead of one, `halt` when the figure leaves the page. */
export type LiveClipping = Readonly<{follow: () => void; prepare: () => void; halt: () => void}>;

/** What is known of one pair of circuits at one note: cycles by level, and the curves over level. */
type Known = {cycles: Map<number, Pair<Cycle>>; curves?: Pair<LevelCurve>};

/** Where the engine finds no settled cycle, for now or for before. */
const noCycle =
  "With these values this note settles into no cycle that repeats; the curves above still show what was there before the last move.";

/** Drawings that need the curves. */
const overLevel: readonly string[] = ["peak", "gain"];

/**
 * Takes over the figure that the page was served with.
 *
 * Moving the level changes no circuit: once its stops are known, each step of a drag only draws. Everything else waits until
 * the bench rests, is worked out beside the page, and is shown as behind until then.
 */
export function liveClipping(host: HTMLElement): LiveClipping {
  const known = new Map<string, Known>();
  const late = behind(host);
  let rest = 0;

  const here = () => {
    const view = benchView.peek();
    const at = note.peek();
    const key = [benchKey(view.now), benchKey(view.held), at.name].join("|");
    const found = known.get(key) ?? {cycles: new Map<number, Pair<Cycle>>()};
    known.set(key, found);
    const [oldest] = known.keys();
    if (known.size > 12 && oldest !== undefined) known.delete(oldest);
    return {view, note: at, key, known: found, levelVolts: courseCircuit(view.now).phrasePeakVolts};
  };

  const draw = () => {
    const {known: found, levelVolts, note: at} = here();
    for (const place of host.querySelectorAll("[data-unsettled]")) place.removeAttribute("data-unsettled");
    const cycles = found.cycles.get(levelVolts);
    if (cycles && found.curves) late.end();
    else late.begin();
    if (!cycles) return;
    const figure = clippingFigure({note: at, levelVolts, cycles, curves: found.curves ?? {}});
    if (!figure) return;
    for (const place of host.querySelectorAll<HTMLElement>("[data-drawing]")) {
      const name = place.dataset["drawing"] ?? "";
      const sketch = figure.drawings[name];
      if (!sketch || (!found.curves && overLevel.includes(name))) continue;
      const [shown] = place.children;
      if (!(shown instanceof SVGSVGElement) || !moved(shown, sketch)) place.replaceChildren(drawn(sketch, document));
    }
    for (const [name, words] of Object.entries(figure.sentences)) {
      const place = host.querySelector(`[data-sentence="${name}"]`);
      if (place && words && place.textContent !== words) place.textContent = words;
    }
  };

  /** Asks for all that is missing, the level in sight first; draws as it comes. */
  const workOut = (levels: readonly number[]) => {
    const {view, note: at, key, known: found, levelVolts} = here();
    const {frequencyHz} = at;
    const arrived = () => here().key === key && draw();
    /** Curves that cannot be drawn stay dimmed; the sentence below them says why. */
    const unsettled = (sentence: string) => () => {
      const place = host.querySelector(`[data-sentence="${sentence}"]`);
      if (!(place instanceof HTMLElement) || here().key !== key) return undefined;
      place.textContent = noCycle;
      place.dataset["unsettled"] = "";
      return undefined;
    };
    const ask = async (peakVolts: number) => {
      if (found.cycles.has(peakVolts)) return;
      const inSight = peakVolts === here().levelVolts;
      const cycles = await atRest("cycles", view, {frequencyHz, peakVolts}).catch(
        inSight ? unsettled("swing") : () => undefined,
      );
      if (cycles) found.cycles.set(peakVolts, cycles);
      if (cycles && peakVolts === here().levelVolts) arrived();
    };
    const askCurves = async () => {
      if (found.curves) return;
      const curves = await atRest("levelCurves", view, {frequencyHz}).catch(unsettled("levels"));
      if (!curves) return;
      found.curves = curves;
      arrived();
    };
    const [first, ...others] = [levelVolts, ...levels.filter((each) => each !== levelVolts)];
    void ask(first).then(() => {
      if (benchView.peek() !== view) return;
      void askCurves();
      for (const level of others) void ask(level);
    });
  };

  return {
    follow() {
      draw();
      clearTimeout(rest);
      rest = window.setTimeout(() => workOut(phrasePeaks), restMilliseconds);
    },
    prepare: () => workOut(phrasePeaks),
    halt: () => clearTimeout(rest),
  };
}
