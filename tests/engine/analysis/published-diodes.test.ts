import {test} from "vitest";
import {outputImpedance} from "../../../src/engine/analysis/impedance.ts";
import {currentThroughSeries} from "../../../src/engine/analysis/nonlinearities.ts";
import {operatingPoint, restVoltage} from "../../../src/engine/analysis/operating-point.ts";
import {boltzmann, elementaryCharge} from "../../../src/engine/analysis/noise-sources.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import type {DiodeModel} from "../../../src/engine/circuit/part.ts";
import {pair} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const diodes = published("05_diodes");

const holdLambert = holder("published-lambert", "Corless et al., Adv. Comput. Math. 5 (1996); DLMF 4.13");

test("Lambert's function, read back from a diode behind a resistor, has the published values", () => {
  // Far in reverse nothing is left but W(0).
  holdLambert("W.0", currentThroughSeries(-1e4, 0.5, 1, 1) + 0.5, Number(diodes.expected("W.0")), 0);
  // With n·VT = R = 1: i = W(Is·exp(v + Is)) − Is, so that v = ln(x/Is) − Is gives W(x).
  const lambert = (x: number, Is: number) => currentThroughSeries(Math.log(x / Is) - Is, Is, 1, 1) + Is;
  for (const [id, x] of [
    ["W.0.001", 0.001],
    ["W.0.01", 0.01],
    ["W.0.1", 0.1],
    ["W.1", 1],
    ["W.e", Math.E],
    ["W.10", 10],
    ["W.1000", 1000],
    ["W.1e10", 1e10],
    ["W.1e100", 1e100],
    ["W.0.01.pub", 0.01],
    ["omega.const", 1],
  ] as const) {
    const expected = Number(diodes.expected(id));
    const tolerance = id === "W.0.01.pub" ? 5e-9 : 1e-12 * expected; // the rows' own
    holdLambert(id, lambert(x, Math.min(x / 2, 0.5)), expected, id === "omega.const" ? 4e-15 : tolerance); // its 1e-15 is 5 roundings of W alone; ours has a logarithm too
  }
});

/** Volts more of a diode alone for ten times the current. */
function voltsADecade(model: DiodeModel): number {
  const at = (amperes: number) =>
    restVoltage(
      operatingPoint(
        circuit([
          {kind: "current source", ref: "I", nodes: ["0", "d"], amperes},
          {kind: "diode", ref: "D", nodes: ["d", "0"], model: {...model, seriesOhms: 0}, inSeries: 1},
        ]),
      ),
      "d",
    );
  return at(10) - at(1);
}

test("forward voltage grows by its decade, of the course's diode and of an ideal one", () => {
  // Shockley's −1 beside 1 A: 2.5e-9 of n·VT.
  holdLambert("decade", voltsADecade(diodeModels.silicon), Number(diodes.expected("decade")), 2e-10);
  const ideal = diodes.expected("decade.ideal") as readonly number[];
  [298.15, 300].forEach((kelvin, k) => {
    const VT = (boltzmann * kelvin) / elementaryCharge;
    const model = {...diodeModels.silicon, saturationCurrent: 1e-14, emissionCoefficient: 1, thermalVoltage: VT};
    holdLambert(`decade.ideal ${kelvin} K`, voltsADecade(model), ideal[k] ?? Number.NaN, 1e-12);
  });
});

test("an anti-parallel pair at rest has the published resistance", () => {
  const expected = Number(diodes.expected("r0"));
  const ours = outputImpedance(circuit(pair("d", "0")), "d", Float64Array.of(1)).re[0] ?? Number.NaN;
  holdLambert("r0", ours, expected, 1e-12 * expected);
});
