import {modelPlaces} from "../radau-five-model.ts";
import {guessLength, stages, type RadauFiveSizes} from "../radau-five-step.ts";
import {tableLength} from "./emit-exponential.ts";
import {parametersPerLaw} from "./layout.ts";

/** Where everything stands in the memory of a compiled step of three-stage Radau IIA, in doubles from its start. */
export type RadauFiveLayout = Readonly<
  Record<
    | "parameters"
    | "relative"
    | "limit"
    | "volts"
    | "absolute"
    | "state"
    | "slope"
    | "points"
    | "input"
    | "output"
    | "error"
    | "guesses"
    | "models"
    | "end",
    number
  >
>;

/** The layout for so many guesses and models. */
export function radauFiveLayout(sizes: RadauFiveSizes, guesses: number, models: number): RadauFiveLayout {
  const {states, outputs, laws} = sizes;
  let end = 0;
  const take = (length: number): number => (end += length) - length;
  take(tableLength);
  return {
    parameters: take(parametersPerLaw * laws),
    relative: take(1),
    limit: take(1),
    volts: take(1),
    absolute: take(states),
    state: take(states),
    slope: take(states),
    points: take((stages + 1) * laws),
    input: take(stages),
    output: take((stages + 2) * outputs),
    error: take(1),
    guesses: take(guessLength * guesses),
    models: take(modelPlaces(sizes).length * models),
    end,
  };
}
