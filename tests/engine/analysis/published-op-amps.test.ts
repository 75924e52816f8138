import {expect, test} from "vitest";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {responseCorners} from "../../../src/engine/analysis/response-corners.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import type {OpAmpModel} from "../../../src/engine/circuit/part.ts";
import {resistor, signalAt} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const filters = published("04_filters_gain");
const opAmps = published("06_opamps");

const holdOpAmp = holder("published-op-amps", "gain-bandwidth over noise gain; NEETS module 8; TI SLOD006B");

const withGain = (gainBandwidthHz: number, openLoopGain = Infinity): OpAmpModel => ({
  ...opAmpModels.ideal,
  name: "test",
  openLoopGain,
  gainBandwidthHz,
});

test("closed-loop bandwidth is gain-bandwidth over noise gain, for every row", () => {
  const bandwidth = (model: OpAmpModel, Rf: number, Rg: number) =>
    responseCorners(
      circuit([
        signalAt("p"),
        {kind: "op-amp", ref: "U", nodes: ["p", "m", "out"], model},
        resistor("Rf", "out", "m", Rf),
        resistor("Rg", "m", "0", Rg),
      ]),
      "out",
      {lowHz: 0.01},
    ).high ?? Number.NaN;
  for (const id of ["0.7_MHz", "2.2", "3", "4", "8", "10"]) {
    const expected = Number(opAmps.expected(`bw101.${id}`));
    holdOpAmp(`bw101.${id}`, bandwidth(withGain(1e6 * Number.parseFloat(id)), 330050, 3300), expected, 1e-8 * expected); // 1e-9, and the level at rest read at 0.01 Hz
  }
  for (const [id, Rf] of [
    ["gbw.neets.gain100", 99e3],
    ["gbw.neets.gain10", 9e3],
  ] as const) {
    const expected = Number(filters.expected(id));
    holdOpAmp(id, bandwidth(withGain(1e6), Rf, 1e3), expected, 1e-8 * expected);
  }
});

/** The settled cycle of a follower with a slew rate, driven at a frequency: its fundamental in volts, its slope in volts a second. */
function follower(slewVoltsPerSecond: number, limitHz: number, peakVolts: number) {
  const model = {...withGain(100 * limitHz), slewVoltsPerSecond};
  const circuitOf = circuit([signalAt("p"), {kind: "op-amp", ref: "U", nodes: ["p", "out", "out"], model}]);
  return (frequencyHz: number) => {
    const cycle = steadyCycle(circuitOf, {frequencyHz, peakVolts}, ["out"], 256).at.get("out") ?? new Float64Array();
    return {
      fundamental: harmonicsOf(cycle, 1).amplitude[1] ?? Number.NaN,
      slope: Math.max(...cycle.map((v, n) => v - (cycle.at(n - 1) ?? 0))) * 256 * frequencyHz,
    };
  };
}

test("a follower goes on following up to its full-power bandwidth, and lags behind beyond it", () => {
  // Slew rate over 2π·peak: at half of it the output is nearly whole, at twice it a triangle of SR/(4f) remains.
  for (const {id, inputs} of opAmps.rows("fullpower.")) {
    const slew = 1e6 * Number(inputs["SR_V_per_us"]);
    const limits = opAmps.expected(id) as readonly number[];
    [0.5, 1, 4].forEach((peakVolts, k) => {
      const limitHz = limits[k] ?? Number.NaN;
      const steepest = follower(slew, limitHz, peakVolts);
      expect(steepest(limitHz / 2).fundamental / peakVolts, id).toBeGreaterThan(0.99); // half the slope: it follows
      // Driven four times too fast it runs at its slew rate, but near the turns.
      const ours = steepest(4 * limitHz).slope / (2 * Math.PI * peakVolts);
      holdOpAmp(`${id}, ${peakVolts} V`, ours, limitHz, 1e-9 * limitHz);
    });
  }
});

test("20 kHz at a peak of 1 V and of 4 V needs the published slew rates", () => {
  const rates = opAmps.expected("slew.inverse") as readonly number[];
  [1, 4].forEach((peakVolts, k) => {
    const slew = 1e6 * (rates[k] ?? Number.NaN);
    const steepest = follower(slew, 20e3, peakVolts);
    expect(steepest(10e3).fundamental / peakVolts).toBeGreaterThan(0.99);
    const ours = steepest(80e3).slope / (2 * Math.PI * peakVolts);
    holdOpAmp(`slew.inverse, ${peakVolts} V`, ours, 20e3, 1e-9 * 20e3);
  });
});
