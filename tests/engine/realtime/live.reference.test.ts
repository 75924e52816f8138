import {expect} from "vitest";
import {innerRateHz} from "../../../src/engine/realtime/rates.ts";
import {accuracyTable} from "../../reference-cases/accuracy.ts";
import {eachCase} from "../../reference-cases/each-case.ts";
import {playedCases, playedWave, rms} from "../../reference-cases/played-wave.ts";

// Source: tests/reference/independent, 04 and 05 (Kirchhoff's equations by hand, scipy).
const note = accuracyTable("live");

eachCase("live sound comes within −90 dB", playedCases, (given) => {
  const play = (corrects: boolean) => {
    const {node, wanted, ours} = playedWave(given, innerRateHz, corrects);
    return {node, size: rms(wanted), ours: rms(ours), off: rms(wanted.map((volts, k) => volts - (ours[k] ?? NaN)))};
  };
  const [plain, corrected] = [play(false), play(true)];
  const {node, size, ours, off} = corrected;
  const tolerance = 10 ** (-90 / 20);
  const source = "independent/04 and 05, stepped as live sound is";
  note({id: `${given.id} ${node}`, source, expected: size, ours, difference: off / size, tolerance});
  expect(off / size).toBeLessThan(tolerance);
  expect(off).toBeLessThan(plain.off);
});
