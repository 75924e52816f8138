import {controlsOf, courseCircuit, type BenchSetting, type Control} from "../../engine/course/course-circuit.ts";
import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {heardAtPlug, isPlugged} from "../bench-state/amplifier-plug.ts";
import {consequenceOf} from "../bench-state/consequence.ts";
import {gainDbAt} from "../bench-state/curves.ts";
import type {BenchView} from "../bench-state/bench-state.ts";
import {isSilent, lowEHz, middleHz, printedDifferenceDb, trebleHz} from "../bench-state/read-curve.ts";
import {placeText} from "../slider/control-text.ts";

/** Whether before and now are the same bench, told by what a reader could have moved. */
export const nothingChanged = ({now, held}: BenchView) =>
  partsAdded(now, held).length === 0 && placesMoved(now, held).length === 0;

/** What is said of before and now at once: which part, which corner, and the gain of a quiet note at three places. */
export function whatChanged({now, held}: BenchView): string {
  if (nothingChanged({now, held})) return "Nothing has changed yet: now and before are the same circuit.";
  const parts = [...partsAdded(now, held), ...placesMoved(now, held)];
  const plug = isPlugged(now) ? "" : `The amplifier’s plug is out. ${heardAtPlug}.`;
  return [`${parts.join("; ")}.`, plug, frequencyMoved(now, held), gainMoved(now, held)].filter(Boolean).join(" ");
}

function partsAdded(now: BenchSetting, held: BenchSetting): string[] {
  const refs = (setting: BenchSetting) => new Set(courseCircuit(setting).circuit.parts.map(({ref}) => ref));
  const [here, there] = [refs(now), refs(held)];
  const added = [...here].filter((ref) => !there.has(ref));
  const gone = [...there].filter((ref) => !here.has(ref));
  return [
    added.length > 0 ? `${added.join(", ")} put in` : "",
    gone.length > 0 ? `${gone.join(", ")} taken out` : "",
  ].filter(Boolean);
}

function placesMoved(now: BenchSetting, held: BenchSetting): string[] {
  const there = new Map(controlsOf(held.lesson).map((control) => [control.name, control]));
  const place = ({settings}: BenchSetting, {name, start}: Control) => settings[name] ?? start;
  return controlsOf(now.lesson).flatMap((control) => {
    const was = there.get(control.name);
    if (!was) return [];
    const [from, to] = [place(held, was), place(now, control)];
    if (from === to) return [];
    const name = control.ref === control.name ? `${control.ref}:` : `${control.label}:`;
    return [`${name} ${placeText(control, from)} to ${placeText(control, to)}`];
  });
}

function frequencyMoved(now: BenchSetting, held: BenchSetting): string {
  const [to, from] = [consequenceOf(now), consequenceOf(held)];
  if (!to) return "";
  const text = formatQuantity(to.frequencyHz, "Hz");
  const bend = to.bendHz === undefined ? "" : `; the curve bends at ${formatQuantity(to.bendHz, "Hz")}`;
  if (from?.name !== to.name) return `The ${to.name} is at ${text}${bend}.`;
  const was = formatQuantity(from.frequencyHz, "Hz");
  return `The ${to.name} ${was === text ? `stays at ${text}` : `moves from ${was} to ${text}`}${bend}.`;
}

function gainMoved(now: BenchSetting, held: BenchSetting): string {
  const [silent, wasSilent] = [isSilent(now), isSilent(held)];
  if (silent) return wasSilent ? "Nothing comes through, as before." : "Nothing comes through any more.";
  if (wasSilent) return "Before was silent.";
  const places = [
    {at: "the low E", frequencyHz: lowEHz},
    {at: formatQuantity(middleHz, "Hz"), frequencyHz: middleHz},
    {at: formatQuantity(trebleHz, "Hz"), frequencyHz: trebleHz},
  ].map(({at, frequencyHz}) => `${change(gainDbAt(now, frequencyHz), gainDbAt(held, frequencyHz))} at ${at}`);
  return `Gain: ${places.join(", ")}.`;
}

/** A change in words: signs alone are easily misread. */
function change(to: number, from: number): string {
  const db = printedDifferenceDb(to, from);
  // A fiftieth of a decibel is below what any bench or ear resolves.
  if (Math.abs(to - from) < 0.02) return "unchanged";
  return `${formatQuantity(Math.abs(db), "dB")} ${db > 0 ? "up" : "down"}`;
}
