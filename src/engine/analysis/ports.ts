import type {DiodeModel, OpAmpModel} from "../circuit/part.ts";

/** Index of an unknown in a solution, or −1 for ground, which is always 0 V. */
export type Unknown = number;

/**
 * A nonlinear part seen from the linear rest: what it adds to the left side of G·x + C·dx/dt + Σ ports = b.
 *
 * A diode adds its current to the row of its anode and takes it from the row of its cathode.
 *
 * An op-amp with a slew limit or with rails adds to the row of its own branch, whose linear stamp is
 * (1/A0 + s/ω)·vc − vd with ω = 2π·GBW, vd = v(plus) − v(minus), vc = v(output) + Rout·i:
 *
 *     [vd − U·tanh(vd/U)] + clamp(vc),   U = SR/ω
 *
 * which is nothing while the op-amp works in its linear range.
 */
export type Port = DiodePort | OpAmpPort;

export type DiodePort = Readonly<{
  kind: "diode";
  ref: string;
  anode: Unknown;
  cathode: Unknown;
  model: DiodeModel;
  inSeries: number;
}>;

export type OpAmpPort = Readonly<{
  kind: "op-amp";
  ref: string;
  plus: Unknown;
  minus: Unknown;
  output: Unknown;
  /** The unknown that is the current out of the output, and the row of its equation. */
  branch: Unknown;
  /** Present where the rails are modelled. */
  supply?: Readonly<{positive: Unknown; negative: Unknown}>;
  model: OpAmpModel;
}>;
