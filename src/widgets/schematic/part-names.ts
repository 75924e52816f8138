/** How a part of the course is called beside its symbol, and in words. */
export type PartName = Readonly<{shown: string; name: string}>;

const designated: Readonly<Record<string, string>> = {
  R1: "series resistor",
  C1: "coupling capacitor",
  R2: "bias resistor",
  D3: "reverse-polarity diode",
  R8: "upper divider resistor",
  R9: "lower divider resistor",
  C8: "reservoir capacitor",
  U1: "op-amp",
  RV1: "gain control",
  R3: "leg resistor",
  C3: "leg capacitor",
  C4: "top-cut capacitor",
  D1: "clipping diode",
  D2: "clipping diode the other way round",
  R5: "tone resistor",
  RV3: "tone control",
  C6: "tone capacitor",
  C5: "output coupling capacitor",
  RV2: "volume control",
};

const named: Readonly<Record<string, PartName>> = {
  guitar: {shown: "", name: "the strings' voltage in the pickup"},
  "pickup resistance": {shown: "", name: "resistance of the pickup"},
  "pickup inductance": {shown: "", name: "inductance of the pickup"},
  "pickup capacitance": {shown: "", name: "capacitance of the pickup"},
  "guitar volume": {shown: "volume", name: "guitar volume"},
  cable: {shown: "cable", name: "cable"},
  battery: {shown: "battery", name: "battery"},
  "bench coupling": {shown: "stand-in", name: "stand-in coupling capacitor"},
  "amplifier resistance": {shown: "", name: "the amplifier's input resistance"},
  "amplifier cable": {shown: "", name: "the amplifier's cable"},
};

/** @throws {RangeError} if the course has no such part */
export function partName(ref: string): PartName {
  const name = designated[ref];
  const found = name === undefined ? named[ref] : {shown: ref, name};
  if (!found) throw new RangeError(`${ref}: no name to write beside its symbol`);
  return found;
}
