import {magnitude} from "../../engine/analysis/frequency-response.ts";
import {outputImpedance} from "../../engine/analysis/impedance.ts";
import {without} from "../../engine/circuit/changes.ts";
import {controlsOf, courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {
  faradsOf,
  inputCornerHz,
  legCornerHz,
  loadOhms,
  lowerLegCornerHz,
  ohmsOf,
} from "../../engine/course/formulas.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "./bench-state.ts";
import {heardAtPlug, isPlugged} from "./amplifier-plug.ts";
import {axisHz, circuitOf, gainDbAt, responseOf} from "./curves.ts";
import {
  changeText,
  gainText,
  humpOf,
  isSilent,
  lowEHz,
  middleHz,
  placeOf,
  printedDifferenceDb,
  trebleHz,
} from "./read-curve.ts";

/** Nearer than this two levels look and sound alike, in decibels: our choice. */
const hairDb = 1;

const hertz = (value: number) => formatQuantity(value, "Hz");
const ohms = (value: number) => formatQuantity(value, "Ω");

/** |Z| of everything before the amplifier, seen from where the amplifier hangs; in ohms. */
function sourceOhms(now: BenchSetting, frequencyHz: number): number {
  const {circuit, listenAt} = courseCircuit(now);
  const alone = ["amplifier resistance", "amplifier cable"].reduce(
    (left, ref) => (left.parts.some((part) => part.ref === ref) ? without(left, ref) : left),
    circuit,
  );
  return magnitude(outputImpedance(alone, listenAt, Float64Array.of(frequencyHz)))[0] ?? Number.NaN;
}

const unplugged = (setting: BenchSetting): BenchSetting => ({
  ...setting,
  settings: {...setting.settings, amplifier: 0},
});
const changeDb = ({now, held}: BenchView, frequencyHz: number) =>
  Math.abs(printedDifferenceDb(gainDbAt(now, frequencyHz), gainDbAt(held, frequencyHz)));

/**
 * Clauses of lessons 1, 2 and 6 that depend on where the bench stands: a sentence that a move would make untrue is worded anew
 * with its numbers.
 */
export const clauseReadings = {
  shareAtLowE: ({now}) => {
    const gainDb = gainDbAt(now, lowEHz);
    if (gainDb === -Infinity) return "nothing of what the coil makes";
    return `${gainDb > -hairDb ? "all but a little" : "only part"} of what the coil makes, ${gainText(gainDb)}`;
  },
  humpAndFall: ({now}) => {
    if (isSilent(now)) return "The volume is all the way down, and nothing comes through";
    const [hump, high] = [humpOf(now), gainText(gainDbAt(now, 10_000))];
    if (!hump) return `It has no hump as the bench stands: the curve only falls, at 10\u00a0kHz to ${high}`;
    return `Then the curve rises to a hump of ${gainText(hump.gainDb)} at ${hertz(hump.frequencyHz)}, and beyond it falls steeply: at 10\u00a0kHz it is down to ${high}`;
  },
  humpBefore: ({now, held}) => {
    const [here, there] = [humpOf(now), humpOf(held)];
    const cable = formatQuantity(placeOf(held, "cable"), "m");
    if (!there) return `The dashed curve, with ${cable} of cable, has no hump`;
    const at = hertz(there.frequencyHz);
    if (!here) return `The dashed curve, with ${cable} of cable, has its hump at ${at}`;
    if (at === hertz(here.frequencyHz)) return "The hump of the dashed curve stands at the same place";
    const side = there.frequencyHz > here.frequencyHz ? "higher up" : "further down";
    return `On the dashed curve, with ${cable} of cable, it stands ${side}, at ${at}`;
  },
  humpAgainstFormula: ({now}) => {
    const hump = humpOf(now);
    return hump
      ? `On the curve the hump stands at ${hertz(hump.frequencyHz)}, a little below, for the formula leaves the resistors out, and they pull the peak down`
      : "On the curve there is no hump as the bench stands: the resistors, which the formula leaves out, have pressed it flat";
  },
  capacitancesInAll: ({now}) => {
    const circuit = circuitOf(now);
    const cable = formatQuantity(faradsOf(circuit, "cable"), "F");
    return isPlugged(now)
      ? `the coil’s own, the cable’s ${cable}, and the amplifier’s ${formatQuantity(faradsOf(circuit, "amplifier cable"), "F")}`
      : `the coil’s own and the cable’s ${cable}; the amplifier’s is gone while it is unplugged`;
  },
  sourceImpedance: ({now}) => {
    const hump = humpOf(now);
    const [middle, above] = [middleHz, hump?.frequencyHz ?? trebleHz].map((hz) => sourceOhms(now, hz));
    if (middle === undefined || above === undefined || isSilent(now))
      return "Here the volume control has shorted that something to ground";
    const at = `Here that something is ${ohms(middle)} at ${hertz(middleHz)}`;
    if (!hump) return `${at} and ${ohms(above)} at ${hertz(trebleHz)}`;
    return `${at} and ${above > middle ? "climbs to" : "falls to"} ${ohms(above)} at the resonance`;
  },
  resonanceHere: ({now}) => {
    const hump = humpOf(now);
    return hump
      ? `here at ${hertz(hump.frequencyHz)}`
      : "though as the bench stands resistors have pressed the hump flat";
  },

  /** What 'before' is on a bench that starts with the wire of lesson 1. */
  beforeHere: ({held}) => (held.lesson === 1 ? "the wire of lesson 1" : "the bench that you kept"),

  solidAgainstDashed: (view) => {
    if (isSilent(view.now)) return "The volume is all the way down, and nothing comes through.";
    const [low, middle] = [changeDb(view, lowEHz), changeDb(view, middleHz)];
    if (low === 0 && middle === 0 && changeDb(view, trebleHz) === 0)
      return "The solid curve lies over the dashed one: there is nothing between now and before.";
    if (low < hairDb && middle < hairDb)
      return `The solid curve is flat from the low strings to the hump you know from lesson 1, and lies over the dashed one but for a hair: at ${hertz(middleHz)} the two differ by ${changeText(middle)}. Most of that hair is not C1 at all.`;
    return `The solid curve has come away from the dashed one: they differ by ${changeText(low)} at the low E and by ${changeText(middle)} at ${hertz(middleHz)}. Not all of that need be C1.`;
  },
  whereItBends: ({now}) => {
    const corner = responseOf(now).lowMark?.frequencyHz ?? Number.NaN;
    if (corner < (axisHz[0] ?? 0))
      return "To the left, below the strings and off the edge of the graph, the curve bends";
    return corner < lowEHz
      ? "To the left, below the strings, the curve bends"
      : "To the left, and now as high as the strings or higher, the curve bends";
  },
  bendAgainstFormula: ({now}) => {
    const corner = hertz(inputCornerHz(circuitOf(now)));
    const {lowMark} = responseOf(now);
    return lowMark?.kind === "bend"
      ? `as the bench stands, at ${hertz(lowMark.frequencyHz)}, where the formula says ${corner}`
      : `as the bench stands, it still says “corner”, for at ${corner} they agree`;
  },
  loadTogether: ({now}) => {
    const circuit = circuitOf(now);
    const R2 = ohms(ohmsOf(circuit, "R2"));
    return isPlugged(now)
      ? `the ${R2} of R2 and the amplifier’s ${ohms(ohmsOf(circuit, "amplifier resistance"))} count together as ${ohms(loadOhms(circuit))}`
      : `the amplifier beside R2 would count with it. Just now its plug is pulled, and the ${R2} of R2 stand alone`;
  },
  cornerUnplugged: ({now}) => {
    const corner = hertz(inputCornerHz(circuitOf(unplugged(now))));
    return isPlugged(now)
      ? `Pull the amplifier’s plug and the corner drops to ${corner}`
      : `Without the amplifier the corner is down to ${corner}. ${heardAtPlug}`;
  },
  amplifierAtBench: ({now}) =>
    isPlugged(now) ? "the amplifier still plugged in" : "the amplifier unplugged, as the bench stands",

  lossOfR1: ({now}) => {
    if (isSilent(now)) return "nothing while all is silent";
    const least = controlsOf(2).find(({name}) => name === "R1")?.values[0] ?? 0;
    const bare = {...now, settings: {...now.settings, R1: least}};
    const lost = (hz: number) => gainText(gainDbAt(bare, hz) - gainDbAt(now, hz));
    return `${lost(lowEHz)} at the low E and ${lost(trebleHz)} at ${formatQuantity(trebleHz, "Hz")}, against ${formatQuantity(least, "Ω")} in its place`;
  },

  lowerCornerWalks: ({now}) => {
    const corner = lowerLegCornerHz(circuitOf({...now, settings: {...now.settings, RV1: 1}}));
    if (corner < (axisHz[0] ?? 0)) return `off to the left, under the strings and off the drawing, to ${hertz(corner)}`;
    return `to the left, ${corner < lowEHz ? "under the strings, " : ""}to ${hertz(corner)}`;
  },
  whereItLeans: ({now}) => {
    const corner = legCornerHz(circuitOf(now));
    const [low = 0, high = 0] = [axisHz[0], axisHz.at(-1)];
    if (corner < low || corner > high)
      return `${hertz(corner)}, off the ${corner < low ? "left" : "right"} of the drawing`;
    return responseOf(now).corners.some(({kind}) => kind === "high corner")
      ? `${hertz(corner)}, at the marker that carries this number`
      : `${hertz(corner)}, though with so little gain that no marker stands there`;
  },
} satisfies Record<string, (view: BenchView) => string>;
