import {heldBack} from "../law-at-work.ts";
import {modelPlaces} from "../radau-five-model.ts";
import {
  guessLength,
  stages,
  type RadauFiveMemory,
  type RadauFiveSizes,
  type RadauFiveStep,
} from "../radau-five-step.ts";
import type {TableLaw} from "../table-laws.ts";
import {assembled} from "./assembler.ts";
import {powersOfTwo} from "./emit-exponential.ts";
import {lawParameters} from "./emit-laws.ts";
import {radauFiveModule} from "./emit-radau-five.ts";
import {parametersPerLaw} from "./layout.ts";
import {radauFiveLayout} from "./radau-five-layout.ts";

/**
 * The step of three-stage Radau IIA as WebAssembly, one module for all circuits of a shape; undefined where there can be none.
 *
 * @param places how many guesses and models its memory has room for
 */
export function compiledRadauFive(
  sizes: RadauFiveSizes,
  laws: readonly TableLaw[],
  places: Readonly<{guesses: number; models: number}>,
): Readonly<{memory: RadauFiveMemory; attempt: RadauFiveStep["attempt"]}> | undefined {
  if (sizes.columns > mostColumns) return undefined;
  const layout = radauFiveLayout(sizes, places.guesses, places.models);
  const shape = laws.map(({law, port, sign, column, weight, tangent, members}) => [
    ...[law.kind, port, sign, column],
    ...[weight, tangent !== 0, members.length],
  ]);
  const key = JSON.stringify(["Radau IIA of order 5", sizes, places, shape]);
  const code = assembled(key, () => radauFiveModule(sizes, laws, layout), layout.end, {
    limit: limitedOneWay,
    limitPair: limitedBothWays,
  });
  if (code === undefined) return undefined;
  const {memory} = code;
  const run = code.run as unknown as (modelBytes: number, guessBytes: number) => number;
  memory.set(powersOfTwo());
  laws.forEach((law, k) => memory.set(lawParameters(law), layout.parameters + parametersPerLaw * k));
  const part = (from: number, length: number) => memory.subarray(from, from + length);
  const {states, outputs, laws: count} = sizes;
  const {length} = modelPlaces(sizes);
  return {
    memory: {
      tolerance: part(layout.relative, 3 + states),
      state: part(layout.state, states),
      slope: part(layout.slope, states),
      points: part(layout.points, (stages + 1) * count),
      input: part(layout.input, stages),
      output: part(layout.output, (stages + 2) * outputs),
      error: part(layout.error, 1),
      guess: (place) => part(layout.guesses + guessLength * place, guessLength),
      model: (place) => part(layout.models + length * place, length),
    },
    attempt: (model, guess) => run(8 * (layout.models + length * model), 8 * (layout.guesses + guessLength * guess)),
  };
}

/** The code grows with the cube of the columns: beyond so many, writing it takes longer than a run in TypeScript. */
const mostColumns = 12;

/** Where a step beyond two widths may end: of a law that grows one way, and of two diodes back to back. */
function limitedOneWay(from: number, to: number, width: number, critical: number, steepest: number): number {
  return to > critical ? heldBack(from, to, width, critical, steepest) : to;
}

function limitedBothWays(from: number, to: number, width: number, critical: number, steepest: number): number {
  return to < 0
    ? -limitedOneWay(-from, -to, width, critical, steepest)
    : limitedOneWay(from, to, width, critical, steepest);
}
