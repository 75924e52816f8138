import {operatingPoint, restVoltage} from "../../engine/analysis/operating-point.ts";
import {timeResponse} from "../../engine/analysis/time-response.ts";
import {circuit, type Circuit} from "../../engine/circuit/circuit.ts";
import type {OpAmp, Part} from "../../engine/circuit/part.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {filtered} from "../../engine/sound/biquad.ts";
import {loudnessWhenPlayed} from "../../engine/sound/loudness.ts";
import {loudspeakerFilters} from "../../engine/sound/loudspeaker.ts";
import {phraseSamples} from "../../engine/sound/phrases.ts";
import {fullScalePerVolt} from "../../engine/sound/volts.ts";
import {playedLoudness} from "../player/played-loudness.ts";
import {circuitOf} from "./curves.ts";

/** The phrase that benches are compared by: the one the player starts with. */
const phrase = "riff";

// As the player measures (quick-loudness.ts), so that both say the same number.
const loudnessRateHz = 48_000;
const loudnesses = new WeakMap<BenchSetting, PhraseLoudness>();

/** Loudness of the phrase through a bench in LUFS: as the amplifier gets it, and behind the player's loudspeaker. */
export type PhraseLoudness = Readonly<{amplifier: number; loudspeaker: number}>;

/** How loud the phrase is through a bench. Takes up to a second for circuits that clip. */
export function phraseLoudness(setting: BenchSetting): PhraseLoudness {
  const known = loudnesses.get(setting);
  if (known !== undefined) return known;
  const {listenAt, phrasePeakVolts} = courseCircuit(setting);
  const volts = played(circuitOf(setting), listenAt, phrasePeakVolts, loudnessRateHz, true);
  const amplifier = volts.map((each) => each * fullScalePerVolt);
  const loudspeaker = filtered(amplifier, loudspeakerFilters(loudnessRateHz));
  const found = {
    amplifier: loudnessWhenPlayed(amplifier, loudnessRateHz, playedLoudness),
    loudspeaker: loudnessWhenPlayed(loudspeaker, loudnessRateHz, playedLoudness),
  };
  loudnesses.set(setting, found);
  return found;
}

// A peak needs the whole rate; without rails the circuit is linear, and this is quick.
const peakRateHz = 48_000;

/**
 * Room that the phrase leaves at the op-amp's output before it meets a rail, in decibels; negative where it would pass one.
 * Undefined where the bench has no op-amp with rails.
 *
 * The phrase is played through the same circuit without rails, and each of its two peaks is held against the rail it comes
 * near: the supply at rest, less what the op-amp's datasheet says it cannot reach.
 */
export function phraseHeadroomDb(setting: BenchSetting): number | undefined {
  const whole = circuitOf(setting);
  const opAmp = whole.parts.find((part): part is OpAmp => part.kind === "op-amp");
  if (!opAmp?.supply) return undefined;
  const output = opAmp.nodes[2];
  const point = operatingPoint(whole);
  const rest = restVoltage(point, output);
  const {swingToPositiveVolts = 0, swingToNegativeVolts = 0} = opAmp.model;
  const above = restVoltage(point, opAmp.supply.positive) - swingToPositiveVolts - rest;
  const below = rest - restVoltage(point, opAmp.supply.negative) - swingToNegativeVolts;
  const level = courseCircuit(setting).phrasePeakVolts;
  const volts = played(
    withoutLimits(whole, (node) => restVoltage(point, node)),
    output,
    level,
    peakRateHz,
  );
  let [high, low] = [0, 0];
  for (const each of volts) {
    high = Math.max(high, each - rest);
    low = Math.max(low, rest - each);
  }
  const room = Math.min(above / high, below / low);
  return room > 0 ? 20 * Math.log10(room) : -Infinity;
}

function played(through: Circuit, output: string, peakVolts: number, rateHz: number, fromRest = false): Float64Array {
  const signal = Float64Array.from(phraseSamples(phrase, rateHz), (sample) => peakVolts * sample);
  return timeResponse(through, output, signal, rateHz, {oversampling: 1, fromRest});
}

/** The same circuit with op-amps that have neither rails nor slew, and its supply diode a source of what stands behind it. */
function withoutLimits({parts}: Circuit, at: (node: string) => number): Circuit {
  const supplies = parts.filter((part) => part.kind === "diode" && part.ref === "D3").map(({nodes}) => nodes[1]);
  return circuit(
    parts.flatMap((part): readonly Part[] => {
      if (part.kind === "diode" && part.ref === "D3")
        return [{kind: "voltage source", ref: part.ref, nodes: [part.nodes[1], "0"], volts: at(part.nodes[1])}];
      if (part.kind === "voltage source" && part.ref === "battery" && supplies.length > 0) return [];
      if (part.kind !== "op-amp") return [part];
      const {supply: _, model, ...rest} = part;
      const {slewVoltsPerSecond: _slew, swingToPositiveVolts: _high, swingToNegativeVolts: _low, ...plain} = model;
      return [{...rest, model: plain}];
    }),
  );
}
