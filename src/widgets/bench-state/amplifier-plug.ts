import type {BenchSetting} from "../../engine/course/course-circuit.ts";
import {ohmsOf} from "../../engine/course/formulas.ts";
import {circuitOf} from "./curves.ts";

/** Whether the amplifier hangs on the circuit of a bench. */
export const isPlugged = (setting: BenchSetting): boolean =>
  Number.isFinite(ohmsOf(circuitOf(setting), "amplifier resistance"));

/** What is listened to with the amplifier's plug out, where nothing is connected that could sound. */
export const heardAtPlug = "What you hear then is the voltage at the open plug, with nothing drawing current from it";

/** Where the levels of these benches are told. */
export const levelsToldAt = (...benches: readonly BenchSetting[]): string =>
  benches.every(isPlugged) ? "at the amplifier" : "at its plug";
