import type {Control} from "../../engine/course/course-circuit.ts";
import {announce} from "../bench-state/announce.ts";
import {nowSetting} from "../bench-state/bench-state.ts";
import {lazyFigures} from "../bench-state/lazy-figures.ts";
import {placeSpoken} from "./control-text.ts";

/** A place of a control and what it leads to on the bench as it stands: "330 nanofarads, corner 146 hertz". */
export async function spokenPlace(control: Control, value: number): Promise<string> {
  const {consequenceText} = await lazyFigures();
  return [placeSpoken(control, value), consequenceText(nowSetting.peek(), {spoken: true})].filter(Boolean).join(", ");
}

/** Says it, once the control has come to rest. */
export const announcePlace = async (control: Control, value: number) => announce(await spokenPlace(control, value));

/** What stands behind the rotation of a potentiometer on the bench as it stands. */
export async function rotationOf(ref: string): Promise<string> {
  const {circuitOf, rotationDetail} = await lazyFigures();
  return rotationDetail(circuitOf(nowSetting.peek()), ref);
}
