import {readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";

const folder = join(import.meta.dirname, "../reference/published");

/** Which test file runs a row, or why none does. `rows`: an id, "table NAME", or the beginning of either with a star. */
export type Entry = Readonly<{rows: readonly string[]} & ({heldIn: string} | {outside: string})>;

const text = "a definition in words: no number to hold";

/** Every row of tests/reference/published, by the first entry of its topic that names it. */
export const ledger: Readonly<Record<string, readonly Entry[]>> = {
  "01_preferred_numbers": [
    {
      rows: ["eseries.tolerance"],
      outside: "the engine takes a part's tolerance from its letter or its buyer, not from its series",
    },
    {rows: ["*"], heldIn: "engine/quantities/preferred-values.test.ts"},
  ],
  "02_marking_codes": [{rows: ["*"], heldIn: "engine/quantities/marking-code.test.ts"}],
  "03_constants_noise": [
    {rows: ["const.zeroC"], outside: "the engine counts temperatures in kelvin alone"},
    {rows: ["const.c20uPa"], outside: "no sound pressure is computed"},
    {rows: ["VT.*", "enb.rc"], heldIn: "engine/analysis/published-rest.test.ts"},
    {
      rows: ["johnson.1k.300K", "johnson.law", "johnson.parallel", "const.*", "kTC.*", "noise.A*"],
      heldIn: "engine/analysis/noise.test.ts",
    },
    {rows: ["*"], heldIn: "engine/analysis/published-noise.test.ts"},
  ],
  "04_filters_gain": [
    {rows: ["gbw.rule"], outside: `${text}; gbw.course and bw101 are its numbers`},
    {rows: ["step.1tau", "rise*", "gbw.neets.open"], heldIn: "engine/analysis/published-rest.test.ts"},
    {rows: ["gbw.neets*"], heldIn: "engine/analysis/published-op-amps.test.ts"},
    {
      rows: ["butter2", "table course_*", "table pickup*", "table loaded*", "table second_order", "table bilinear*"],
      heldIn: "engine/analysis/published-filters.test.ts",
    },
    {rows: ["*"], heldIn: "engine/analysis/filters.test.ts"},
  ],
  "05_diodes": [
    {rows: ["lambert.table"], outside: "names the table diode_plus_resistor, which is held"},
    {rows: ["feedback.static"], outside: "names the table feedback_clipper_static, which is held to its tolerance"},
    {rows: ["W.-0.1", "W.-0.3"], outside: "a diode behind a resistor asks for W of positive numbers only"},
    {rows: ["W.*", "omega.const", "decade*", "r0"], heldIn: "engine/analysis/published-diodes.test.ts"},
    {rows: ["table shunt*", "table feedback*"], heldIn: "engine/analysis/published-cycles.test.ts"},
    {
      rows: ["feedback.floor", "model.vs.ds*", "table shockley_I_to_V"],
      heldIn: "engine/analysis/published-rest.test.ts",
    },
    {rows: ["*"], heldIn: "engine/circuit/models.test.ts"},
  ],
  "06_opamps": [
    {rows: ["table published_opamp_data"], heldIn: "engine/circuit/models.test.ts"},
    {rows: ["*"], heldIn: "engine/analysis/published-op-amps.test.ts"},
  ],
  "07_fourier_thd": [
    {rows: ["thd.definition"], outside: `${text}; thd.convert and the waves hold both definitions`},
    {rows: ["hardclip.formula"], outside: "names the table symmetric_hard_clip, which is held"},
    {
      rows: ["thd.convert", "thd.halfwave*", "thd.fullwave*", "table one_sided_clip"],
      heldIn: "engine/analysis/published-rest.test.ts",
    },
    {rows: ["gibbs", "table series", "chebyshev", "odd.symmetry"], heldIn: "engine/analysis/published-waves.test.ts"},
    {rows: ["table course_gain_stage_static_sine"], heldIn: "engine/analysis/levels.test.ts"},
    {rows: ["*"], heldIn: "engine/analysis/harmonics.test.ts"},
  ],
  "08_intermodulation": [
    {
      rows: ["smpte.signal", "ccif.signal", "tdfd.signal", "dim.signal"],
      outside: "test signals of measuring instruments; the reader chooses the two tones here",
    },
    {
      rows: ["md.formula", "dfd.formula", "imd.sidebands", "dfd.reference"],
      outside: `${text}; polynomial_examples holds it`,
    },
    {rows: ["imd.poly"], outside: "names the table polynomial_examples, which is held"},
    {rows: ["imd.count", "imd.power.chord"], heldIn: "engine/analysis/published-waves.test.ts"},
    {rows: ["*"], heldIn: "engine/analysis/harmonics.test.ts"},
  ],
  "09_loudness": [
    {rows: ["weights", "ebu3341.case6"], outside: "the engine's sound has one channel"},
    {rows: ["lra.def", "ebu3342*"], outside: "no loudness range is computed"},
    {rows: ["false.friend"], outside: text},
    {rows: ["windows"], outside: "gate.block holds the momentary window; no short-term loudness is computed"},
    {rows: ["r128"], heldIn: "engine/sound/limiter-resample-wav.test.ts"},
    {rows: ["*"], heldIn: "engine/sound/loudness.test.ts"},
  ],
  "10_weighting_frequencies": [
    {rows: ["C.table"], outside: "no C-weighting is computed"},
    {rows: ["A.class"], outside: "limits of sound level meters"},
    {
      rows: ["A.poles", "A.norm", "A.poles.exact"],
      outside: "figures inside the formula; table3 holds what comes of them",
    },
    {rows: ["iso266.octave", "octave.ratio"], outside: "curves are read by thirds of an octave"},
    {rows: ["*"], heldIn: "engine/sound/weighting-and-pitch.test.ts"},
  ],
  "11_pitch": [
    {rows: ["cents.just"], outside: "phrases are in equal temperament"},
    {rows: ["fret.rule"], outside: "where frets lie is no matter of the circuit or its sound"},
    {rows: ["name.convention"], outside: text},
    {rows: ["*"], heldIn: "engine/sound/weighting-and-pitch.test.ts"},
  ],
  "12_potentiometers": [
    {rows: ["letters*"], outside: "the project prints the taper's word and reads no letter"},
    {rows: ["taper.loaded*"], heldIn: "engine/analysis/published-filters.test.ts"},
    {rows: ["*"], heldIn: "engine/circuit/taper.test.ts"},
  ],
  "13_listening_tests": [
    {rows: ["abx.report", "bs1116", "bs1534", "loudness.match"], outside: "rules of procedure: no number to hold"},
    {rows: ["*"], heldIn: "engine/answers/binomial-tail.test.ts"},
  ],
  "14_safety": [
    {
      rows: ["osha*", "eu", "eu.peak", "who.mode2", "who.venues"],
      outside: "limits of other kinds of listening, which the site does not quote",
    },
    {rows: ["who.dose", "who.week*", "exchange.exact"], outside: "the engine computes times by the day, after NIOSH"},
    {rows: ["table bench_facts"], outside: "cautions in words"},
    {rows: ["*"], heldIn: "engine/sound/exposure.test.ts"},
  ],
  "15_plucked_string": [
    {
      rows: ["ks.recursion", "ks.pitch", "js.stretch", "js.allpass", "js.choose", "js.pick"],
      outside: "a rule in words; the tuning table and the tests of the string hold it",
    },
    {
      rows: ["ks.f*", "ks.poles", "ks.decay*", "ks.sim", "table decay", "table pole_check"],
      outside: "of the plain string by Karplus and Strong; the engine's has a tuned loop and a loss of its own",
    },
    {rows: ["js.allpass.exact"], outside: "names the table tuning, which is held"},
    {rows: ["*"], heldIn: "engine/sound/plucked-string.test.ts"},
  ],
  "16_symbols_access": [{rows: ["*"], outside: "of drawings and pages, not of the engine"}],
  "17_pickups": [
    {rows: ["pickup.inrange"], outside: "names the table published, which is held"},
    {rows: ["pickup.velocity"], outside: text},
    {rows: ["pickup.position"], outside: "a formula; a test of the string hears its comb"},
    {rows: ["table resonance_examples"], heldIn: "engine/analysis/published-rest.test.ts"},
    {rows: ["*"], heldIn: "engine/analysis/filters.test.ts"},
  ],
  "18_time_domain_reference": [
    {rows: ["td.stage"], outside: "names the table gain_stage, which is held to its tolerance"},
    {rows: ["td.pedal"], outside: "names the table whole_chain, which is held to its tolerance"},
    {rows: ["td.linear.limit", "table small_signal"], heldIn: "engine/analysis/published-rest.test.ts"},
    {rows: ["*"], heldIn: "engine/analysis/published-cycles.test.ts"},
  ],
};

/** Ids of all checks and "table NAME" of all tables of a topic. */
export function rowsOf(topic: string): readonly string[] {
  const {checks, tables = {}} = JSON.parse(readFileSync(join(folder, `${topic}.json`), "utf8")) as {
    checks: readonly {id: string}[];
    tables?: Readonly<Record<string, unknown>>;
  };
  return [...checks.map(({id}) => id), ...Object.keys(tables).map((name) => `table ${name}`)];
}

export const topics: readonly string[] = readdirSync(folder)
  .filter((name) => name.endsWith(".json"))
  .map((name) => name.slice(0, -".json".length));

export function entryOf(topic: string, row: string): Entry | undefined {
  const names = (pattern: string) => (pattern.endsWith("*") ? row.startsWith(pattern.slice(0, -1)) : row === pattern);
  return ledger[topic]?.find(({rows}) => rows.some(names));
}

/** All rows that the ledger gives to a test file, each with its topic. */
export function rowsHeldIn(path: string): readonly string[] {
  return topics.flatMap((topic) =>
    rowsOf(topic)
      .filter((row) => {
        const entry = entryOf(topic, row);
        return entry !== undefined && "heldIn" in entry && path.endsWith(`/tests/${entry.heldIn}`);
      })
      .map((row) => `${topic} ${row}`),
  );
}
