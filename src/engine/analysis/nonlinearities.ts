import type {DiodeModel} from "../circuit/part.ts";
import type {Port, Stamps, Unknown} from "./stamps.ts";

/** A sum of unknowns, each with a factor; ground is left out. */
export type LinearForm = readonly (readonly [unknown: Unknown, factor: number])[];

/**
 * One scalar law f(u) of a nonlinear part, u = `from`·x + `offset`, added `into` rows: every port of a circuit is one or
 * more of these, so that a solver needs to know nothing else of it.
 */
export type Nonlinearity = Readonly<{ref: string; from: LinearForm; offset: number; into: LinearForm; law: Law}>;

export type Law = DiodeLaw | SlewLaw | ClampLaw | SupplyLaw;

/** `inSeries` equal diodes as one: i = Is·(exp((u/k − i·Rs)/(n·VT)) − 1). */
export type DiodeLaw = Readonly<{kind: "diode"; model: DiodeModel; inSeries: number}>;

/** What the input stage holds back: u − U·tanh(u/U), with U = SR/(2π·GBW) in volts. */
export type SlewLaw = Readonly<{kind: "slew"; volts: number}>;

/** The current a rail takes: ±scale·exp(u/width), u the distance of the output beyond the rail. */
export type ClampLaw = Readonly<{kind: "clamp"; scale: number; width: number; sign: 1 | -1}>;

/** What an op-amp's supply current lacks when the supply is low or reversed: amperes·(tanh(u/1 V) − 1). */
export type SupplyLaw = Readonly<{kind: "supply"; amperes: number}>;

/** Softness of a rail in volts: the clamp grows e-fold for each, like the base-emitter junction it stands for. */
export const clampWidth = 0.025;

/** Scale of the clamp in volts where no slew limit sets it. */
const clampScale = 1e-3;

/**
 * The nonlinear parts of a circuit as scalar laws, in the order of the ports.
 *
 * Op-amp macromodel after Boyle, Cohn, Pederson and Solomon, IEEE JSSC 9, 353–364 (1974) [from memory]: a limited input stage
 * drives the compensation capacitor, and exponential clamps hold its voltage between the rails, so that it recovers from a rail
 * at the slew rate. With C·dvc/dt = I·tanh(vd/U) − vc/R − clamp(vc) divided by 2π·GBW·C this is the row that Port describes.
 */
export function nonlinearities({ports}: Pick<Stamps, "ports">): readonly Nonlinearity[] {
  return ports.flatMap(lawsOf);
}

/**
 * All laws that count at rest: those of `nonlinearities`, and for each supplied op-amp that its current, a steady source in the
 * stamps, dies away with its supply, for a chip drives no current out of a reversed one. With 5 V or more the correction is
 * under a ten-thousandth of the supply current, so that an analysis of sound may leave it out.
 */
export function lawsAtRest({ports}: Pick<Stamps, "ports">): readonly Nonlinearity[] {
  return ports.flatMap((port) => [...lawsOf(port), ...supplyLawsOf(port)]);
}

function supplyLawsOf(port: Port): readonly Nonlinearity[] {
  if (port.kind !== "op-amp" || port.supply === undefined || port.model.supplyAmperes === undefined) return [];
  const across = form([port.supply.positive, 1], [port.supply.negative, -1]);
  return [
    {ref: port.ref, from: across, offset: 0, into: across, law: {kind: "supply", amperes: port.model.supplyAmperes}},
  ];
}

function lawsOf(port: Port): readonly Nonlinearity[] {
  const {ref} = port;
  if (port.kind === "diode") {
    const across = form([port.anode, 1], [port.cathode, -1]);
    return [
      {ref, from: across, offset: 0, into: across, law: {kind: "diode", model: port.model, inSeries: port.inSeries}},
    ];
  }
  const {plus, minus, output, branch, supply, model} = port;
  const into = form([branch, 1]);
  const laws: Nonlinearity[] = [];
  const {slewVoltsPerSecond, gainBandwidthHz, outputOhms} = model;
  const volts = slewVoltsPerSecond === undefined ? undefined : slewVoltsPerSecond / (2 * Math.PI * gainBandwidthHz);
  if (volts !== undefined) {
    laws.push({ref, from: form([plus, 1], [minus, -1]), offset: 0, into, law: {kind: "slew", volts}});
  }
  if (supply !== undefined) {
    const scale = volts ?? clampScale;
    const rail = (node: Unknown, offset: number, sign: 1 | -1): Nonlinearity => ({
      ref,
      from: form([output, sign], [branch, sign * outputOhms], [node, -sign]),
      offset,
      into,
      law: {kind: "clamp", scale, width: clampWidth, sign},
    });
    laws.push(
      rail(supply.positive, model.swingToPositiveVolts ?? 0, 1),
      rail(supply.negative, model.swingToNegativeVolts ?? 0, -1),
    );
  }
  return laws;
}

const form = (...terms: LinearForm): LinearForm => terms.filter(([unknown, factor]) => unknown >= 0 && factor !== 0);

/** Value and slope of a law at one point; written in place, so that a solver allocates nothing. */
export type LawPoint = {value: number; slope: number};

/**
 * Writes f(u) and df/du into `point`. Beyond `exp(60)` exponentials go on as straight lines: no solution lies there, and
 * nothing on the way to one overflows.
 */
export function evaluate(law: Law, u: number, point: LawPoint): void {
  switch (law.kind) {
    case "diode":
      return diode(law, u, point);
    case "slew": {
      const x = u / law.volts;
      if (Math.abs(x) < slewSeriesBelow) {
        // x − tanh x by its series (DLMF 4.33.3): the difference itself would lose its digits here.
        const square = x * x;
        const cube = x * square;
        point.value = law.volts * cube * (1 / 3 - square * (2 / 15 - square * (17 / 315)));
        point.slope = square * (1 - square * (2 / 3 - square * (17 / 45)));
        return;
      }
      const t = Math.tanh(x);
      point.value = u - law.volts * t;
      point.slope = t * t;
      return;
    }
    case "supply": {
      const t = Math.tanh(u);
      point.value = law.amperes * (t - 1);
      point.slope = law.amperes * (1 - t * t);
      return;
    }
    case "clamp": {
      // A volt and more within its rail a clamp takes less than a double of a volt can tell: e^−45 is 3e-20.
      if (u < lowestClamp * law.width) {
        point.value = 0;
        point.slope = 0;
        return;
      }
      exponential(u / law.width, point, steepestClamp);
      point.value *= law.sign * law.scale;
      // A falling output meets the lower rail: du/dv = −1 is in `from`, so the sign here is that of the value.
      point.slope *= (law.sign * law.scale) / law.width;
      return;
    }
  }
}

/** Below this share of its width, the slew law is taken from its series. */
export const slewSeriesBelow = 0.05;

const steepest = 60;

/**
 * Working rails never take more than e^1 times their scale. Those of a chip whose supply is gone or reversed cross and pull
 * against each other; beyond e^10 they go on straight, so that their difference keeps its digits.
 */
const steepestClamp = 10;
const lowestClamp = -45;

/** Widths between which a law is an exponential: below the first it no longer changes, beyond the second it is straight. */
export const diodeRange = [-45, steepest] as const;
export const clampRange = [lowestClamp, steepestClamp] as const;

function exponential(z: number, point: LawPoint, steepest: number): void {
  const e = Math.exp(Math.min(z, steepest));
  point.value = z > steepest ? e * (1 + z - steepest) : e;
  point.slope = e;
}

function diode({model, inSeries}: DiodeLaw, u: number, point: LawPoint): void {
  const {saturationCurrent: Is, emissionCoefficient: n, thermalVoltage: VT, seriesOhms: Rs} = model;
  const nVT = n * VT;
  const v = u / inSeries;
  if (Rs === 0) {
    exponential(v / nVT, point, steepest);
    point.value = v / nVT > steepest ? Is * (point.value - 1) : Is * Math.expm1(v / nVT);
    point.slope *= Is / (nVT * inSeries);
    return;
  }
  point.value = currentThroughSeries(v, Is, nVT, Rs);
  point.slope = 1 / (inSeries * (Rs + nVT / (point.value + Is)));
}

/**
 * Current of a diode with a resistance in series, in amperes.
 *
 * With w = Rs·(i + Is)/(n·VT) the law reads w + ln w = ln(Is·Rs/(n·VT)) + (v + Is·Rs)/(n·VT), Lambert's function:
 * Banwell and Jayakumar, Electronics Letters 36(4), 291–292 (2000). Solved for ln w, where Newton cannot overshoot.
 */
export function currentThroughSeries(v: number, Is: number, nVT: number, Rs: number): number {
  const a = (Is * Rs) / nVT;
  const right = Math.log(a) + v / nVT + a;
  // For small w, w ≈ exp(right); for large, w ≈ right − ln(right).
  let y = right < 1 ? right : Math.log(right);
  for (let k = 0; k < 30; k++) {
    const e = Math.exp(y);
    const step = (e + y - right) / (e + 1);
    y -= step;
    if (Math.abs(step) < 1e-16 * Math.abs(y)) break;
  }
  const w = Math.exp(y);
  // Near 0 V i is the small difference of two currents; the other form of the same law keeps its digits.
  const i = (w * nVT) / Rs - Is;
  return Math.abs(i) < Is ? Is * Math.expm1((v - i * Rs) / nVT) : i;
}

/**
 * A step from `from` towards `to` that an exponential law can follow: beyond the critical voltage it grows like a logarithm.
 *
 * Method: junction voltage limiting as in SPICE2, Nagel, UCB/ERL M520 (1975) [from memory].
 */
export function limited(law: Law, from: number, to: number): number {
  if (law.kind === "slew" || law.kind === "supply") return to;
  const {width, critical} = junctionOf(law);
  return to <= critical || Math.abs(to - from) <= 2 * width ? to : limitedJunction(from, to, width, critical);
}

/** Volts over which a law grows e-fold, and the voltage from which on it outruns a step. */
export function junctionOf(law: DiodeLaw | ClampLaw): Readonly<{width: number; critical: number}> {
  const width =
    law.kind === "clamp" ? law.width : law.inSeries * law.model.emissionCoefficient * law.model.thermalVoltage;
  const scale = law.kind === "clamp" ? law.scale : law.model.saturationCurrent;
  return {width, critical: width * Math.log(width / (Math.SQRT2 * scale))};
}

/** Where a step that is too long for a junction ends instead. */
export function limitedJunction(from: number, to: number, width: number, critical: number): number {
  if (from > 0) {
    const relative = 1 + (to - from) / width;
    return relative > 0 ? from + width * Math.log(relative) : critical;
  }
  return Math.max(critical, Math.min(to, width * Math.log(Math.max(1, to / width))));
}
