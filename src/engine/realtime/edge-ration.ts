/** Volts that a law may stand from where its last points led to: beyond, a step is an edge. At least and at most. */
const [leastVolts, mostVolts] = [1e-3, 1];
/** Of a stretch of so many steps, so many may be made in shorter ones. */
const [stretch, mostOfStretch] = [256, 64];

/** What edges may cost, whatever is played: where there are more of them, only the sharper ones count. */
export type EdgeRation = Readonly<{
  /** Volts beyond which a step is an edge now; infinite where nothing is left. */
  volts: () => number;
  /** Steps until that may change. */
  steps: () => number;
  /** Whether `steps` may be made in shorter ones; if so, they count. */
  take: (steps: number) => boolean;
  /** Told how many steps have been made, in whatever way. */
  passed: (steps: number) => void;
}>;

/** A ration for stretch after stretch of steps; it does not depend on how the steps come in blocks. */
export function edgeRation(): EdgeRation {
  let [volts, passed, left] = [leastVolts, 0, mostOfStretch];
  return {
    volts: () => (left > 1 ? volts : Infinity),
    steps: () => stretch - passed,
    take(steps) {
      if (left <= 1) return false;
      left -= steps;
      return true;
    },
    passed(steps) {
      passed += steps;
      if (passed < stretch) return;
      if (left <= 1) volts = Math.min(mostVolts, 2 * volts);
      else if (left > mostOfStretch / 2) volts = Math.max(leastVolts, volts / 2);
      [passed, left] = [0, mostOfStretch];
    },
  };
}
