import {expect, test} from "vitest";
import {integratedNoise, noiseDensity} from "../../../src/engine/analysis/noise.ts";
import {boltzmann, elementaryCharge} from "../../../src/engine/analysis/noise-sources.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import {diodeModels} from "../../../src/engine/circuit/models/diodes.ts";
import {courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {casesOfKind, type ReferenceCase} from "../../reference-cases/cases.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {published} from "../../reference-cases/published.ts";
import {numbers, probeNode, readCircuit} from "../../reference-cases/read-case.ts";

const record = accuracyTable("noise");

/** Our name of a source for the data's: op-amp sources are named by what they are, parts by their reference. */
const names: Readonly<Record<string, string>> = {
  opamp_en: "op-amp voltage",
  opamp_in_plus: "op-amp current, + input",
  opamp_in_minus: "op-amp current, − input",
};

function noisyCircuit(given: ReferenceCase): Circuit {
  const {parts, nodes} = readCircuit(given);
  const opAmp = given.conditions["opamp"] as Readonly<Record<string, number>> | null;
  const noise = {voltageNoise: opAmp?.["en_V_per_rtHz"] ?? 0, currentNoise: opAmp?.["in_A_per_rtHz"] ?? 0};
  return {
    parts: parts.map((part) => (part.kind === "op-amp" ? {...part, model: {...part.model, ...noise}} : part)),
    nodes,
  };
}

// Source: tests/reference/independent/06 (transfer functions by hand, 40 digits). Tolerance and its reason: each case's own.
eachCase("noise agrees with the independent data", casesOfKind("noise"), (given) => {
  const {id} = given;
  const whole = noisyCircuit(given);
  const temperatureKelvin = Number(given.conditions["temperature_K"]);
  const frequencies = numbers(id, given.analysis.freqs_hz);
  const output = probeNode(given);
  const {density, contributions} = noiseDensity(whole, output, frequencies, {temperatureKelvin});
  const {rel = 0, abs = 0} = given.tolerance;
  let worst = 0;
  const near = (ours: number, expected: number, relative: number, what: string) => {
    worst = Math.max(worst, Math.abs(ours - expected) / (relative * Math.abs(expected) + abs));
    expect(Math.abs(ours - expected), `${id} ${what}: ${ours} for ${expected}`).toBeLessThanOrEqual(
      relative * Math.abs(expected) + abs,
    );
  };
  numbers(id, given.expected["density_V_per_rtHz"]).forEach((value, k) =>
    near(density[k] ?? Number.NaN, value, rel, `density ${k}`),
  );
  const of = <T extends {ref: string; kind: string}>(rows: readonly T[], name: string) =>
    rows.find(({ref, kind}) => (names[name] === undefined ? ref === name : kind === names[name]));
  for (const [name, values] of Object.entries(given.expected["contribution_V2_per_Hz"] as Record<string, unknown>)) {
    // Squares of volts are far below the data's absolute term, so that the relative one alone is applied to them.
    numbers(id, values).forEach((value, k) => {
      const ours = of(contributions, name)?.squared[k] ?? Number.NaN;
      expect(Math.abs(ours - value), `${id} ${name} ${k}`).toBeLessThanOrEqual(rel * value);
    });
  }
  const [lowHz, highHz] = numbers(id, given.analysis["integrate_hz"]);
  const band = integratedNoise(whole, output, {temperatureKelvin, lowHz: lowHz ?? 0, highHz: highHz ?? 0});
  const relIntegral = Number(given.tolerance["rel_integral"]);
  near(band.volts, Number(given.expected["integrated_rms_V"]), relIntegral, "integrated");
  for (const [name, value] of Object.entries(given.expected["integrated_contribution_V2"] as Record<string, number>)) {
    const ours = of(band.contributions, name)?.squaredVolts ?? Number.NaN;
    expect(Math.abs(ours - value), `${id} ${name}`).toBeLessThanOrEqual(relIntegral * value);
  }
  record({
    id,
    source: given.title,
    expected: "density, shares, integral",
    ours: "largest share of the tolerance",
    difference: worst * rel,
    tolerance: rel,
  });
});

// tests/reference/published/03_constants_noise.json; tolerances in the rows.
const facts = published("03_constants_noise");
const resistorAlone = (ohms: number) => circuit([{kind: "resistor", ref: "R", nodes: ["out", "0"], ohms}]);
const nanovolts = (of: Circuit) => 1e9 * (noiseDensity(of, "out", Float64Array.of(1e3)).density[0] ?? Number.NaN);

test("a resistor's noise is what the handbooks print", () => {
  facts.check("const.k", boltzmann);
  facts.check("const.q", elementaryCharge);
  facts.check("johnson.1k.300K", nanovolts(resistorAlone(1e3)));
  facts.check("johnson.law", nanovolts(resistorAlone(2e3)) / nanovolts(resistorAlone(1e3)));
  const two = circuit([
    {kind: "resistor", ref: "R1", nodes: ["out", "0"], ohms: 10e3},
    {kind: "resistor", ref: "R2", nodes: ["out", "0"], ohms: 10e3},
  ]);
  facts.check("johnson.parallel", nanovolts(two));
});

test("all the noise of an RC low-pass is √(kT/C), whatever the R", () => {
  for (const {id, inputs} of facts.rows("kTC.")) {
    for (const ohms of [1e3, 1e6]) {
      const farads = Number(inputs["C"]);
      const filter = circuit([
        {kind: "resistor", ref: "R", nodes: ["out", "0"], ohms},
        {kind: "capacitor", ref: "C", nodes: ["out", "0"], farads},
      ]);
      const corner = 1 / (2 * Math.PI * ohms * farads);
      const {volts} = integratedNoise(filter, "out", {lowHz: corner * 1e-7, highHz: corner * 1e7});
      // The band leaves out 2/π·1e-7 of the square at either end; 48 steps over 14 decades add 1e-7.
      expect(Math.abs(volts / Number(facts.expected(id)) - 1)).toBeLessThan(1e-6);
    }
  }
});

test("A-weighting lowers white noise from 20 Hz to 20 kHz by the published 2.05 dB", () => {
  const {volts, aWeightedVolts} = integratedNoise(resistorAlone(1e4), "out");
  facts.check("noise.A.dB", 20 * Math.log10(aWeightedVolts / volts));
});

test("A-weighting leaves white noise its published bandwidths", () => {
  const bandwidth = (lowHz: number, highHz: number) => {
    const {aWeightedVolts} = integratedNoise(resistorAlone(1e4), "out", {lowHz, highHz, temperatureKelvin: 300});
    return aWeightedVolts ** 2 / (4 * boltzmann * 300 * 1e4);
  };
  facts.check("noise.A.bw.20k", bandwidth(20, 20e3));
  facts.check("noise.A.bw.full", bandwidth(0.1, 1e8)); // beyond lies less than 12 kHz/100 MHz of it
});

test("a diode at rest is as noisy as a resistor of its slope, halved by n", () => {
  const {saturationCurrent: Is, emissionCoefficient: n, thermalVoltage: VT} = diodeModels.silicon;
  const bare = {...diodeModels.silicon, seriesOhms: 0};
  const junction = circuit([
    {kind: "diode", ref: "D", nodes: ["out", "0"], model: bare, inSeries: 1},
    {kind: "resistor", ref: "R", nodes: ["out", "0"], ohms: 1e12},
  ]);
  // Shot noise 2q·2Is through r = n·VT/Is: 4kT·r·n, as kT/q = VT; closed form beside 1 TΩ, 1e-5 of the conductance.
  const expected = Math.sqrt(4 * elementaryCharge * VT * ((n * VT) / Is) * n) * 1e9;
  expect(Math.abs(nanovolts(junction) / expected - 1)).toBeLessThan(1e-4);
});

test("the shares of the pedal's noise add up to one, and the top-cut capacitor lowers the hiss", () => {
  const {circuit: pedal, listenAt} = courseCircuit(startSetting(17));
  const {shares, volts} = integratedNoise(pedal, listenAt);
  expect(shares.reduce((sum, {share}) => sum + share, 0)).toBeCloseTo(1, 12);
  const without = courseCircuit({lesson: 17, settings: {C4Fitted: 0}});
  expect(integratedNoise(without.circuit, without.listenAt).volts).toBeGreaterThan(volts);
});
