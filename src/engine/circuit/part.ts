/** A point of a circuit where parts meet. `"0"` is ground. */
export type NodeName = string;

/** How the resistance of a potentiometer follows its rotation: see taper.ts. */
export type Taper = "linear" | "audio" | "reverse audio" | "two-segment audio";

/**
 * One part of a circuit: immutable data, values in SI units.
 *
 * `ref` is the schematic designator (`"C3"`), `nodes` are in the order given beside each kind. Nothing here is checked;
 * `circuit()` checks a list of parts once, and everything behind it trusts what it let through.
 */
export type Part =
  | Resistor
  | Capacitor
  | Inductor
  | VariableResistor
  | Potentiometer
  | VoltageSource
  | CurrentSource
  | Wire
  | Diode
  | OpAmp;

export type Resistor = Readonly<{kind: "resistor"; ref: string; nodes: readonly [NodeName, NodeName]; ohms: number}>;

export type Capacitor = Readonly<{
  kind: "capacitor";
  ref: string;
  nodes: readonly [NodeName, NodeName];
  farads: number;
}>;

export type Inductor = Readonly<{kind: "inductor"; ref: string; nodes: readonly [NodeName, NodeName]; henries: number}>;

/**
 * A potentiometer with two of its terminals used. `position` runs from 0 to 1; its resistance is
 * `ohms · law(position) + endOhms`, where `law` is the taper, run backwards when `reversed`. `middle`: the share of the track that an
 * audio taper has passed half way, 0.15 by default.
 */
export type VariableResistor = Readonly<{
  kind: "variable resistor";
  ref: string;
  nodes: readonly [NodeName, NodeName];
  ohms: number;
  position: number;
  taper: Taper;
  middle?: number;
  endOhms: number;
  reversed?: boolean;
}>;

/**
 * Nodes: top, wiper, bottom. At position 1 the wiper is at the top. `endOhms`, 0 by default, is what is left at either end of the
 * track beyond the wiper's reach. An arm of 0 Ω is a short, and legal. `middle` as for a variable resistor.
 */
export type Potentiometer = Readonly<{
  kind: "potentiometer";
  ref: string;
  nodes: readonly [NodeName, NodeName, NodeName];
  ohms: number;
  position: number;
  taper: Taper;
  middle?: number;
  endOhms?: number;
}>;

/**
 * Nodes: plus, minus. `volts` is its steady part; the one marked `signal` also carries the analysis' signal. `seriesOhms` is the
 * resistance inside, 0 by default: a battery's, or a generator's.
 */
export type VoltageSource = Readonly<{
  kind: "voltage source";
  ref: string;
  nodes: readonly [NodeName, NodeName];
  volts: number;
  seriesOhms?: number;
  signal?: boolean;
}>;

/** Nodes: from, to. `amperes` flow inside the source from the first node to the second. */
export type CurrentSource = Readonly<{
  kind: "current source";
  ref: string;
  nodes: readonly [NodeName, NodeName];
  amperes: number;
  signal?: boolean;
}>;

/** Two nodes joined: a lead, a closed switch, a short. */
export type Wire = Readonly<{kind: "wire"; ref: string; nodes: readonly [NodeName, NodeName]}>;

/**
 * Shockley's law: i = Is·(exp(v/(n·VT)) − 1), with a series resistance.
 *
 * Units: amperes, plain number, volts, ohms. `source` names where the figures were read.
 */
export type DiodeModel = Readonly<{
  name: string;
  saturationCurrent: number;
  emissionCoefficient: number;
  thermalVoltage: number;
  seriesOhms: number;
  source: string;
}>;

/** Nodes: anode, cathode. `inSeries` equal diodes in a row. */
export type Diode = Readonly<{
  kind: "diode";
  ref: string;
  nodes: readonly [NodeName, NodeName];
  model: DiodeModel;
  inSeries: number;
}>;

/**
 * What a datasheet says of one op-amp, SI units. `openLoopGain` of Infinity with an infinite `gainBandwidthHz` is the
 * ideal op-amp: its inputs are held equal. A limit that is absent is not modelled.
 */
export type OpAmpModel = Readonly<{
  name: string;
  /** What its input transistors are. */
  inputs?: "bipolar" | "JFET" | "CMOS";
  openLoopGain: number;
  gainBandwidthHz: number;
  inputOhms: number;
  outputOhms: number;
  slewVoltsPerSecond?: number;
  /** How near the output comes to the positive and the negative supply, in volts. */
  swingToPositiveVolts?: number;
  swingToNegativeVolts?: number;
  voltageNoise?: number;
  currentNoise?: number;
  supplyAmperes?: number;
  source: string;
}>;

/** Nodes: non-inverting input, inverting input, output; supply nodes where its rails are modelled. */
export type OpAmp = Readonly<{
  kind: "op-amp";
  ref: string;
  nodes: readonly [NodeName, NodeName, NodeName];
  supply?: Readonly<{positive: NodeName; negative: NodeName}>;
  model: OpAmpModel;
}>;
