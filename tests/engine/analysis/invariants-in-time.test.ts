import {expect, test} from "vitest";
import {harmonicsOf} from "../../../src/engine/analysis/harmonics.ts";
import {steadyCycle} from "../../../src/engine/analysis/steady-cycle.ts";
import {timeResponse} from "../../../src/engine/analysis/time-response.ts";
import {circuit, type Circuit} from "../../../src/engine/circuit/circuit.ts";
import type {Part} from "../../../src/engine/circuit/part.ts";
import {seededNoise} from "../../../src/engine/sound/seeded-noise.ts";
import {gainStage, inputNetwork, pair, resistor, signalAt, toneAndVolume} from "../../reference-cases/course-stages.ts";

const rate = 48_000;

/** The whole chain with ideal op-amp and matched diodes: odd in its signal. */
const odd: readonly Part[] = [
  signalAt("g"),
  ...inputNetwork,
  ...gainStage(0.5, 68e-9, 120e-12),
  ...pair("o", "m"),
  ...toneAndVolume(0.5, 10e-9, 0.5),
];
const linear = circuit(odd.filter(({kind}) => kind !== "diode"));
const clipping = circuit(odd);

/** A fifth of a second of noise that dies away at both ends, so that filters meet no edge. */
function burst(seed: number, peak: number, samples = 2000): Float64Array {
  const draw = seededNoise(seed);
  return Float64Array.from({length: samples}, (_, n) => peak * draw() * Math.sin((Math.PI * n) / samples) ** 2);
}
const play = (of: Circuit, signal: Float64Array, node = "out") => timeResponse(of, node, signal, rate);
const peakOf = (samples: Float64Array) => samples.reduce((most, volts) => Math.max(most, Math.abs(volts)), 0);
const apart = (a: Float64Array, b: Float64Array) =>
  peakOf(a.map((volts, n) => volts - (b[n] ?? NaN))) / Math.max(peakOf(a), 1e-300);

test("in a linear circuit the sound of two signals together is the sum of what each makes alone", () => {
  const [one, other] = [burst(1, 0.2), burst(2, 0.1)];
  const together = play(
    linear,
    one.map((volts, n) => 3 * volts - 2 * (other[n] ?? 0)),
  );
  const [first, second] = [play(linear, one), play(linear, other)];
  // Rounding of some thousand steps.
  expect(
    apart(
      together,
      first.map((volts, n) => 3 * volts - 2 * (second[n] ?? 0)),
    ),
  ).toBeLessThan(1e-11);
});

test("matched diodes are odd: the signal turned over gives the sound turned over", () => {
  const signal = burst(3, 1);
  const [up, down] = [
    play(clipping, signal),
    play(
      clipping,
      signal.map((volts) => -volts),
    ),
  ];
  // Live sound stops Newton at steps of 1e-5 V, whose square over 50 mV is left: 2e-9 V; a hundred times that for memory.
  expect(
    apart(
      up,
      down.map((volts) => -volts),
    ),
  ).toBeLessThan(1e-6);
  // The check can fail: one diode less, and it does.
  const lopsided = circuit(odd.filter(({ref}) => ref !== "D2"));
  const turned = play(
    lopsided,
    signal.map((volts) => -volts),
  ).map((volts) => -volts);
  expect(apart(play(lopsided, signal), turned)).toBeGreaterThan(0.1);
});

test("a settled cycle of matched diodes is odd: its second half is the first turned over, and has no even harmonics", () => {
  const cycle = steadyCycle(clipping, {frequencyHz: 220, peakVolts: 0.3}, ["out"]).at.get("out") ?? new Float64Array();
  const half = cycle.length / 2;
  // Curves and figures reach −120 dB of the signal: 1e-6 of its peak.
  expect(
    apart(
      cycle,
      Float64Array.from(cycle, (_, n) => -(cycle[(n + half) % cycle.length] ?? NaN)),
    ),
  ).toBeLessThan(1e-6);
  const {amplitude} = harmonicsOf(cycle);
  for (let k = 0; k <= 20; k += 2) expect(Math.abs(amplitude[k] ?? NaN)).toBeLessThan(1e-6 * (amplitude[1] ?? 0));
});

test("a sound that comes later is the same sound later", () => {
  const signal = burst(4, 0.3, 1500);
  const later = (by: number) => Float64Array.from({length: 2000}, (_, n) => signal[n - by] ?? 0);
  const [now, then] = [play(clipping, later(0)), play(clipping, later(400))];
  // From rest nothing moves, so that the delay is exact but for Newton's last steps.
  expect(apart(now.subarray(0, 1600), then.subarray(400))).toBeLessThan(1e-6);
});

test("multiplying every impedance by 10 leaves every voltage alone, diodes included", () => {
  const tenfold = circuit(
    odd.map((part): Part => {
      switch (part.kind) {
        case "resistor":
        case "potentiometer":
          return {...part, ohms: part.ohms * 10};
        case "capacitor":
          return {...part, farads: part.farads / 10};
        case "diode":
          return {...part, model: {...part.model, saturationCurrent: part.model.saturationCurrent / 10}};
        default:
          return part;
      }
    }),
  );
  const cycle = (of: Circuit) =>
    steadyCycle(of, {frequencyHz: 440, peakVolts: 0.2}, ["out"]).at.get("out") ?? new Float64Array();
  // The same steps with the same numbers but for rounding, and shooting to 1e-11 of the largest memory.
  expect(apart(cycle(clipping), cycle(tenfold))).toBeLessThan(1e-8);
  const signal = burst(5, 0.5);
  expect(apart(play(clipping, signal), play(tenfold, signal))).toBeLessThan(1e-6); // Newton's last steps, as above
});

test("renaming the nodes and shuffling the parts leaves sound and settled cycle alone", () => {
  const renamed = (node: string) => (node === "0" ? node : `node ${[...node].reverse().join("")}`);
  const other = circuit(
    [...odd].reverse().map((part) => ({...part, nodes: part.nodes.map(renamed)}) as unknown as Part),
  );
  const signal = burst(6, 0.5);
  expect(apart(play(clipping, signal), play(other, signal, renamed("out")))).toBeLessThan(1e-6); // Newton's last steps
  const cycle = (of: Circuit, node: string) =>
    steadyCycle(of, {frequencyHz: 440, peakVolts: 0.2}, [node]).at.get(node) ?? new Float64Array();
  expect(apart(cycle(clipping, "out"), cycle(other, renamed("out")))).toBeLessThan(1e-8); // another order of rounding
});

test("a passive network is reciprocal over time: current in here and voltage there, or the other way round", () => {
  const drive = (at: string): Part => ({kind: "current source", ref: "I", nodes: ["0", at], amperes: 0, signal: true});
  const network = [...inputNetwork, ...toneAndVolume(0.5, 10e-9, 0.5), resistor("joins", "p", "o", 10e3)];
  const signal = burst(7, 1e-3);
  const there = play(circuit([drive("g"), resistor("source", "g", "0", 10e3), ...network]), signal, "out");
  const back = play(circuit([drive("out"), resistor("source", "g", "0", 10e3), ...network]), signal, "g");
  expect(apart(there, back)).toBeLessThan(1e-10); // rounding of some thousand steps
});
