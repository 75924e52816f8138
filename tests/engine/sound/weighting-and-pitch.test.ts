import {expect, test} from "vitest";
import {aWeightingDb} from "../../../src/engine/sound/a-weighting.ts";
import {noteHz} from "../../../src/engine/sound/phrases.ts";
import {published} from "../../reference-cases/published.ts";

const weighting = published("10_weighting_frequencies"); // IEC 61672-1:2013
const pitch = published("11_pitch"); // ISO 16, equal temperament

test("A-weighting is the standard's table at its exact frequencies", () => {
  const nominal = weighting.expected("iso266.nominal") as readonly number[];
  const exact = weighting.expected("iso266.exact") as readonly number[];
  const table = weighting.expected("A.table") as Readonly<Record<string, number>>;
  nominal.forEach((name, k) => {
    // The table is printed to 0.1 dB: half of that, and a hair for what lies right between.
    expect(Math.abs(aWeightingDb(exact[k] ?? NaN) - (table[String(name)] ?? NaN)), `${name} Hz`).toBeLessThanOrEqual(
      0.0501,
    );
  });
});

test("A-weighting is the standard's formula, at exact and at nominal frequencies", () => {
  type Row = Readonly<Record<"nominal_Hz" | "exact_Hz" | "A_dB_formula_at_exact" | "A_dB_formula_at_nominal", number>>;
  const rows = weighting.table("table3") as readonly Row[];
  expect(rows).toHaveLength(34);
  for (const row of rows) {
    expect(aWeightingDb(row.exact_Hz)).toBeCloseTo(row.A_dB_formula_at_exact, 9); // the same closed form
    expect(aWeightingDb(row.nominal_Hz)).toBeCloseTo(row.A_dB_formula_at_nominal, 9);
  }
});

test("A-weighting climbs 24 dB an octave far below and falls 12 dB far above", () => {
  // Four zeros at 0 Hz, two poles left over: 40 log10(2) each pair. At 0.1 Hz and 10 MHz the poles are far away.
  weighting.check("A.slope.low", [aWeightingDb(0.2) - aWeightingDb(0.1), aWeightingDb(2e7) - aWeightingDb(1e7)]);
  expect(aWeightingDb(1000)).toBe(0);
});

test("every note has its published frequency", () => {
  const notes = pitch.table("midi_21_108") as readonly {midi: number; hz: number}[];
  expect(notes).toHaveLength(88);
  for (const {midi, hz} of notes) expect(noteHz(midi) / hz).toBeCloseTo(1, 12); // rounding of one power
  const open = {E2: 40, A2: 45, D3: 50, G3: 55, B3: 59, E4: 64};
  for (const [name, midi] of Object.entries(open)) pitch.check(`guitar.${name}`, noteHz(midi));
  pitch.check("bass", [28, 33, 38, 43].map(noteHz));
  pitch.check("A4", noteHz(69));
  pitch.check("midi.69", [69, noteHz(69)]);
  pitch.check("C4", noteHz(60));
  pitch.check("fret12", [noteHz(64 + 12) / noteHz(64), noteHz(64 + 5) / noteHz(64), noteHz(64 + 24)]);
  pitch.check("semitone", [noteHz(70) / noteHz(69), noteHz(69.01) / noteHz(69)]);
});
