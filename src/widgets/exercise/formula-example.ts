import type {Unit} from "../../engine/quantities/unit.ts";

const examples: Readonly<Record<Unit, string>> = {
  Ω: "2*4.7 kΩ",
  F: "3*2.2 nF",
  H: "2*1.3 H",
  Hz: "1.5*440 Hz",
  V: "4*0.25 V",
  A: "2*0.9 mA",
  s: "3*2.2 ms",
  dB: "2*4.5 dB",
  LU: "2*1.5 LU",
  m: "3*1.5 m",
  "%": "100*3/8 %",
  "°": "360/8 °",
  "": "3*12/5",
};

/** A formula that works out to this unit and is nobody's way to an answer: it shows how one is typed. */
export const formulaExample = (unit: Unit): string => examples[unit];
