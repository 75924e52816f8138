/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
/** Earlier points that the next is drawn from. */
const remembered = 8;

/** What rounding leaves of an entry, relative to the largest of all; an entry that small is as close as it can come. */
const rounding = 1e-14;
/** Maps without a closer point after which what is left is taken for rounding. */
const patience = 3;

/**
 * Looks for x = map(x), where a map is costly and forgets most of what it is given: few maps are made, and no derivative.
 *
 * `x` is moved in place to the best point found. Every entry is measured by the largest size it has had so far.
 *
 * @param map writes its value for `x` into `into`
 * @param close largest miss of an entry, relative to its size, that is as good as none
 * @param besides the largest number that takes part beside the entries: rounding leaves a share of that as well
 * @returns whether it came that close within `maps` maps, or as close as rounding lets it
 *
 * Method: Anderson, Iterative procedures for nonlinear integral equations, J. ACM 12 (1965) [from memory]: the next point is the
 * combination of the last ones whose misses cancel best, by orthogonalising their differences.
 */
export function fixedPoint(
  x: Float64Array,
  map: (x: Float64Array, into: Float64Array) => void,
  close: number,
  maps: number,
  besides: number,
): boolean {
  const size = x.length;
  const scale = new Float64Array(size);
  const [value, miss, lastValue, lastMiss, best] = Array.from({length: 5}, () => new Float64Array(size)) as Five;
  /** Differences of misses, made orthogonal, and of values, combined in the same way. */
  const directions: {miss: Float64Array; value: Float64Array}[] = [];
  let bestMiss = Infinity;
  let bestMade = 0;
  let bestIsRounded = false;
  for (let made = 0; made < maps; made++) {
    map(x, value);
    let largest = 0;
    for (let i = 0; i < size; i++) {
      scale[i] = Math.max(scale[i]!, Math.abs(value[i]!), Math.abs(x[i]!), 1e-300);
      miss[i] = value[i]! - x[i]!;
      largest = Math.max(largest, Math.abs(miss[i]!) / scale[i]!);
    }
    if (!(largest < Infinity)) break;
    if (largest < bestMiss) {
      bestMiss = largest;
      bestMade = made;
      best.set(value);
      const least = rounding * scale.reduce((most, each) => Math.max(most, each), besides);
      bestIsRounded =
        besides !== undefined && miss.every((each, i) => Math.abs(each) <= Math.max(close * scale[i]!, least));
    }
    if (largest <= close || (bestIsRounded && made - bestMade >= patience)) break;
    if (made > 0) {
      directions.push({miss: difference(miss, lastMiss), value: difference(value, lastValue)});
      if (directions.length > Math.min(remembered, size)) directions.shift();
    }
    lastMiss.set(miss);
    lastValue.set(value);
    x.set(value);
    for (const direction of orthogonal(directions, scale)) {
      let share = 0;
      for (let i = 0; i < size; i++) share += (direction.miss[i]! * miss[i]!) / scale[i]! ** 2;
      for (let i = 0; i < size; i++) x[i]! -= share * direction.value[i]!;
    }
  }
  x.set(best);
  return bestMiss <= close || bestIsRounded;
}

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

function difference(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((each, k) => each - b[k]!);
}

/** The same directions with misses orthogonal and of length 1 in units of `scale`, the newest first; repetitions left out. */
function orthogonal(directions: readonly {miss: Float64Array; value: Float64Array}[], scale: Float64Array) {
  const made: {miss: Float64Array; value: Float64Array}[] = [];
  for (const {miss: m, value: v} of directions.toReversed()) {
    const [miss, value] = [Float64Array.from(m), Float64Array.from(v)];
    const before = length(miss, scale);
    for (const other of made) {
      let share = 0;
      for (let i = 0; i < miss.length; i++) share += (miss[i]! * other.miss[i]!) / scale[i]! ** 2;
      for (let i = 0; i < miss.length; i++) {
        miss[i]! -= share * other.miss[i]!;
        value[i]! -= share * other.value[i]!;
      }
    }
    const left = length(miss, scale);
    if (!(left > 1e-9 * before)) continue;
    made.push({miss: miss.map((each) => each / left), value: value.map((each) => each / left)});
  }
  return made;
}

function length(a: Float64Array, scale: Float64Array): number {
  return Math.sqrt(a.reduce((sum, each, i) => sum + (each / scale[i]!) ** 2, 0));
}
