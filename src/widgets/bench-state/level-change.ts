import {harmonicDistortion} from "../../engine/analysis/harmonic-distortion.ts";
import {harmonicsOf} from "../../engine/analysis/harmonics.ts";
import {CircuitError} from "../../engine/circuit/circuit-error.ts";
import {courseCircuit, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import type {BenchView} from "./bench-state.ts";
import {levelsToldAt} from "./amplifier-plug.ts";
import {circuitOf} from "./curves.ts";
import {halfSwing, heardCycleOf, swingText} from "./cycles.ts";
import {distortionText, leastDistortion} from "./distortion-text.ts";
import {phraseLoudness} from "./phrase.ts";

/** A note as it is heard: half its swing in volts, and whether it goes up and down alike, so that this half is its peak. */
type Tone = Readonly<{levelVolts: number; peakVolts: number; alike: boolean; distortion: number}>;

/** Less than this is what rounding leaves of silence, in volts. */
const silentVolts = 1e-9;

/** Whether a bench holds anything that could clip. */
const canClip = (setting: BenchSetting) =>
  circuitOf(setting).parts.some(({kind}) => kind === "diode" || kind === "op-amp");

/**
 * What before and now do to one steady note: peak or swing at the amplifier, and distortion; each at its own phrase level. Empty where
 * neither holds anything that could clip, or one of the two is silent. Says so where one has no settled cycle.
 */
export function clippingChange({now, held}: BenchView): string {
  if (!canClip(now) && !canClip(held)) return "";
  const tones = bothSettled(now, held);
  if (!tones)
    return "A steady open A settles into no cycle in one of the two: what it does there changes from cycle to cycle.";
  const [to, from] = tones;
  if (Math.min(to.peakVolts, from.peakVolts) < silentVolts) return "";
  const note = `A steady open A${levels(to, from)}`;
  if (Math.max(to.distortion, from.distortion) < leastDistortion) return `${note} is clipped in neither.`;
  // Two unlike halves have two peaks: what such a note has in one figure is its whole swing.
  const [peaks, swing] = to.alike && from.alike ? ["of peak", 1] : ["from peak to peak", 2];
  const [peak, was] = [to, from].map(({peakVolts}) => formatQuantity(peakVolts * swing, "V"));
  const step = 20 * Math.log10(to.peakVolts / from.peakVolts);
  const level =
    peak === was
      ? `has ${peak} ${peaks} in both`
      : `goes from ${was} to ${peak} ${peaks} ${levelsToldAt(now, held)}, ${decibels(step)} ${step > 0 ? "up" : "down"}`;
  const [share, before] = [to, from].map(({distortion}) => distortionText(distortion));
  const bent = share === before ? `distortion stays at ${share}` : `distortion goes from ${before} to ${share}`;
  return `${note} ${level}; its ${bent}.`;
}

/** The two levels where they differ: the drawings give both states that of now, these sentences each its own. */
function levels({levelVolts: to}: Tone, {levelVolts: from}: Tone): string {
  if (to === from) return "";
  return `, now with ${formatQuantity(to, "V")} from the guitar and before with ${formatQuantity(from, "V")},`;
}

/**
 * By how much the phrase became louder or quieter, before any matching: at the amplifier, where all the circuit's levels are
 * told, and behind the loudspeaker, where the player measures. Takes up to two seconds for circuits that clip.
 */
export function loudnessChange({now, held}: BenchView): string {
  const [to, from] = [phraseLoudness(now), phraseLoudness(held)];
  const change = to.amplifier - from.amplifier;
  if (Number.isNaN(change)) return "Both are silent.";
  if (!Number.isFinite(change)) return change > 0 ? "Before is silent." : "Now is silent.";
  const behind = to.loudspeaker - from.loudspeaker;
  const [here, there] = [louder(change), louder(behind)];
  const where = "behind the loudspeaker, where the player measures";
  if (here === there)
    return `The phrase is ${here}${here === unchanged ? "" : `, ${levelsToldAt(now, held)} as ${where}`}.`;
  // Where both go the same way the word need not come twice.
  const further = change * behind > 0 && here !== unchanged && there !== unchanged ? decibels(behind) : there;
  return `The phrase is ${here} ${levelsToldAt(now, held)}, ${further} ${where}.`;
}

const unchanged = "as loud as before";

/** A twentieth of a loudness unit is half of what a meter may be off by. */
const louder = (db: number) => (Math.abs(db) < 0.05 ? unchanged : `${decibels(db)} ${db > 0 ? "louder" : "quieter"}`);

const decibels = (db: number) => formatQuantity(Math.abs(db), "dB");

/** Both tones; undefined where a rare bench has no settled cycle. */
function bothSettled(now: BenchSetting, held: BenchSetting): readonly [Tone, Tone] | undefined {
  try {
    return [tone(now), tone(held)];
  } catch (error) {
    if (error instanceof CircuitError) return undefined;
    throw error;
  }
}

function tone(setting: BenchSetting): Tone {
  const heard = heardCycleOf(setting);
  const levelVolts = courseCircuit(setting).phrasePeakVolts;
  const {alike} = swingText(heard);
  return {
    levelVolts,
    peakVolts: halfSwing(heard),
    alike,
    distortion: harmonicDistortion(harmonicsOf(heard)).ofFundamental,
  };
}
