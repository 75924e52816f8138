import type {DiodeModel, OpAmpModel, Part} from "../../engine/circuit/part.ts";
import {variableOhms} from "../../engine/circuit/resistance.ts";
import {formatQuantity, spokenQuantity} from "../../engine/quantities/format-quantity.ts";
import type {Unit} from "../../engine/quantities/unit.ts";
import type {SymbolName} from "./drawing.ts";

/** The lines that stand beside a part, what a voice says for them, and the symbol that the part now wants. */
export type PartWords = Readonly<{values: readonly string[]; spoken: string; symbol?: SymbolName}>;

const quantity = (value: number, unit: Unit): PartWords => ({
  values: [formatQuantity(value, unit)],
  spoken: spokenQuantity(value, unit),
});

/** What to write and say of a part as it stands. The ideal source says its peak, which the caller knows. */
export function partWords(part: Part, peakVolts: number): PartWords {
  switch (part.kind) {
    case "resistor":
      return quantity(part.ohms, "Ω");
    case "capacitor":
      return quantity(part.farads, "F");
    case "inductor":
      return quantity(part.henries, "H");
    case "potentiometer":
      return {...quantity(part.ohms, "Ω"), spoken: `${spokenQuantity(part.ohms, "Ω")}, at ${percent(part.position)}`};
    case "variable resistor":
      return quantity(variableOhms(part), "Ω");
    case "voltage source":
      return part.signal ? peak(peakVolts) : battery(part.volts);
    case "current source":
      return quantity(part.amperes, "A");
    case "diode":
      return diode(part.model, part.inSeries);
    case "op-amp":
      return {values: [shortOpAmp(part.model)], spoken: part.model.name};
    case "wire":
      return {values: ["a wire"], spoken: "a wire in its place", symbol: "wire"};
  }
}

const percent = (position: number) => `${Math.round(position * 100)} percent of its travel`;

const peak = (volts: number): PartWords => ({
  values: [formatQuantity(volts, "V")],
  spoken: `${spokenQuantity(volts, "V")} at its peak`,
});

const battery = (volts: number): PartWords => {
  const {values, spoken} = quantity(Math.abs(volts), "V");
  return volts < 0 ? {values: [...values, "reversed"], spoken: `${spoken}, reversed`} : {values, spoken};
};

function diode({name}: DiodeModel, inSeries: number): PartWords {
  const isLed = /LED/.test(name);
  const type = isLed ? name.replace(/ \(.+/, "") : (/\((.+)\)/.exec(name)?.[1] ?? name);
  const symbol = isLed ? "led" : /Schottky/.test(name) ? "schottky diode" : "diode";
  // Several LEDs are told by colour alone: their symbol says the rest, and the label keeps its room.
  const kind = isLed && inSeries > 1 ? type.replace(" LED", "") : type;
  const times = inSeries === 1 ? "" : `${inSeries} × `;
  const several = inSeries === 1 ? "" : `${inSeries} in series, `;
  return {values: [`${times}${kind}`], spoken: `${several}${name.replace(/[()]/g, "")}`, symbol};
}

const shortOpAmp = ({name}: OpAmpModel) => name.split(/,| op-amp/)[0] ?? name;
