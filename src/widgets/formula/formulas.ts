import type {ReadingName} from "../bench-state/readings.ts";

/** A live quantity inside a formula: the name of its reading between two marks that TeX carries through untouched. */
const live = (name: ReadingName) => String.raw`\text{[${name}]}`;

/** The formulas of the lessons in TeX, as a reader would write them, and spoken for those who listen. */
export const formulas = {
  resonance: {
    tex: String.raw`f = \frac{1}{2\pi\sqrt{L\,C}} = \frac{1}{2\pi\sqrt{${live("pickupInductance")} \cdot ${live("wireCapacitance")}}} = ${live("resonanceByFormula")}`,
    part: "pickup inductance",
  },
  inputCorner: {
    tex: String.raw`f = \frac{1}{2\pi\,(R_1 + R_\text{load})\,C_1} = \frac{1}{2\pi\,(${live("R1")} + ${live("loadOhms")}) \cdot ${live("C1")}} = ${live("inputCorner")}`,
    part: "C1",
  },
  legCorner: {
    tex: String.raw`f = \frac{1}{2\pi\,R_3\,C_3} = \frac{1}{2\pi \cdot ${live("R3")} \cdot ${live("C3")}} = ${live("legCorner")}`,
    part: "C3",
  },
} as const satisfies Record<string, {tex: string; part: string}>;

export type FormulaName = keyof typeof formulas;
