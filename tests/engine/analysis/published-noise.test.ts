import {test} from "vitest";
import {integratedNoise, noiseDensity} from "../../../src/engine/analysis/noise.ts";
import {circuit} from "../../../src/engine/circuit/circuit.ts";
import {opAmpModels} from "../../../src/engine/circuit/models/op-amps.ts";
import {resistor} from "../../reference-cases/course-stages.ts";
import {holder} from "../../reference-cases/hold.ts";
import {published} from "../../reference-cases/published.ts";

// Expected values, sources and tolerances: tests/reference/published, by the ids given beside each.
const noise = published("03_constants_noise");

const holdNoise = holder("published-noise", "Johnson, Phys. Rev. 32, 97 (1928); Nyquist, Phys. Rev. 32, 110 (1928)");

test("noise bandwidth, worked examples and an amplifier's total noise come out as printed", () => {
  const resistorAlone = (ohms: number) => circuit([resistor("R", "out", "0", ohms)]);
  const volts = (id: string, ohms: number, highHz: number, rel: number) => {
    const expected = Number(noise.expected(id));
    const band = integratedNoise(resistorAlone(ohms), "out", {temperatureKelvin: 300, lowHz: 1e-6, highHz});
    holdNoise(id, band.volts, expected, rel * expected);
  };
  // Tolerances are the rows': the first calculates with k = 1.38e-23, the second is rounded to one figure.
  volts("johnson.100k.1MHz", 1e5, 1e6, 5e-4);
  volts("johnson.1k.10kHz", 1e3, 1e4, 0.03);
  const density = (ohms: number) =>
    1e9 *
    (noiseDensity(resistorAlone(ohms), "out", Float64Array.of(1e3), {temperatureKelvin: 300}).density[0] ?? Number.NaN);
  holdNoise("johnson.rule", density(1), Number(noise.expected("johnson.rule")), 0.002);
  holdNoise("johnson.50R", density(50), Number(noise.expected("johnson.50R")), 0.12);
  for (const row of noise.table("johnson_density_nV_per_rtHz") as readonly {R: number; nV_300K: number}[])
    holdNoise(`johnson ${row.R} Ω`, density(row.R), row.nV_300K, 1e-9 * row.nV_300K); // the same closed form
  const follower = (en: number, in_: number, Rs: number) =>
    circuit([
      resistor("Rs", "p", "0", Rs),
      {
        kind: "op-amp",
        ref: "U",
        nodes: ["p", "out", "out"],
        model: {...opAmpModels.ideal, voltageNoise: en, currentNoise: in_},
      },
    ]);
  for (const {en, in_, Rs, T, total_nV} of noise.table("total_input_noise_examples") as readonly Readonly<
    Record<"en" | "in_" | "Rs" | "T" | "total_nV", number>
  >[]) {
    const ours =
      1e9 *
      (noiseDensity(follower(en, in_, Rs), "out", Float64Array.of(1e3), {temperatureKelvin: T}).density[0] ??
        Number.NaN);
    holdNoise(`amplifier ${en}, ${in_}, ${Rs} Ω`, ours, total_nV, 1e-9 * total_nV); // the same sum of squares
  }
});
