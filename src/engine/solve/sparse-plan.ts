/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index comes from the sizes the arrays were made with */
/**
 * How to eliminate a sparse matrix of one structure: the order of pivots and every multiply-subtract, written down once.
 *
 * A slot is a place in the matrix that is not always 0, fill-in included; the given entries come first, in the order given.
 */
export type SparsePlan = Readonly<{
  size: number;
  slots: number;
  /** Slot of each given entry: entries of one place share a slot. */
  slotOf: Int32Array;
  /** Row and column taken at each step of the elimination. */
  pivotRow: Int32Array;
  pivotColumn: Int32Array;
  pivotSlot: Int32Array;
  /** Entries right of each pivot: where step k's begin, their slots and columns. */
  upperStart: Int32Array;
  upperSlot: Int32Array;
  upperColumn: Int32Array;
  /** Entries below each pivot: where step k's begin, their slots and rows. */
  lowerStart: Int32Array;
  lowerSlot: Int32Array;
  lowerRow: Int32Array;
  /** Slots to subtract from, for each step, each lower entry, each upper entry in turn. */
  target: Int32Array;
  /** Rows and columns of the slots. */
  slotRow: Int32Array;
  slotColumn: Int32Array;
}>;

/** A pivot may be this much smaller than the largest entry of its row: small enough to keep fill-in low, and checked later. */
const threshold = 1e-2;

/**
 * Plans the elimination of a matrix with entries at `rows`, `columns`; entries of one place add up.
 *
 * @param re typical values of the entries, real and imaginary part, that tell which pivots are safe
 * @returns the plan, or undefined if the matrix is singular with these values
 *
 * Method: the pivot of least (r − 1)·(c − 1), r and c the entries left in its row and column, Markowitz (1957), among those
 * not too small in their row [from memory].
 */
export function sparsePlan(
  size: number,
  rows: Int32Array,
  columns: Int32Array,
  re: Float64Array,
  im: Float64Array,
): SparsePlan | undefined {
  const slotAt = new Int32Array(size * size).fill(-1);
  const [valueRe, valueIm] = [new Float64Array(size * size), new Float64Array(size * size)];
  const slotRow: number[] = [];
  const slotColumn: number[] = [];
  const slotFor = (row: number, column: number): number => {
    const place = row * size + column;
    if (slotAt[place]! < 0) {
      slotAt[place] = slotRow.length;
      slotRow.push(row);
      slotColumn.push(column);
    }
    return slotAt[place]!; // in range throughout: row and column are below size
  };
  const slotOf = rows.map((row, k) => slotFor(row, columns[k]!));
  rows.forEach((row, k) => {
    valueRe[row * size + columns[k]!]! += re[k]!;
    valueIm[row * size + columns[k]!]! += im[k]!;
  });

  const rowLeft = new Uint8Array(size).fill(1);
  const columnLeft = new Uint8Array(size).fill(1);
  const order = {row: [] as number[], column: [] as number[], slot: [] as number[]};
  const upper = {start: [0], slot: [] as number[], column: [] as number[]};
  const lower = {start: [0], slot: [] as number[], row: [] as number[]};
  const target: number[] = [];
  const present = (row: number, column: number) => slotAt[row * size + column]! >= 0;
  const squared = (place: number) => valueRe[place]! ** 2 + valueIm[place]! ** 2;

  for (let step = 0; step < size; step++) {
    const pivot = choosePivot();
    if (pivot === undefined) return undefined;
    const [row, column] = pivot;
    rowLeft[row] = 0;
    columnLeft[column] = 0;
    order.row.push(row);
    order.column.push(column);
    order.slot.push(slotFor(row, column));
    const right: number[] = [];
    for (let j = 0; j < size; j++) if (columnLeft[j] === 1 && present(row, j)) right.push(j);
    for (const j of right) {
      upper.slot.push(slotFor(row, j));
      upper.column.push(j);
    }
    const place = row * size + column;
    const scale = 1 / squared(place);
    for (let i = 0; i < size; i++) {
      if (rowLeft[i] !== 1 || !present(i, column)) continue;
      lower.slot.push(slotFor(i, column));
      lower.row.push(i);
      const at = i * size + column;
      const fr = (valueRe[at]! * valueRe[place]! + valueIm[at]! * valueIm[place]!) * scale;
      const fi = (valueIm[at]! * valueRe[place]! - valueRe[at]! * valueIm[place]!) * scale;
      for (const j of right) {
        target.push(slotFor(i, j));
        const [from, to] = [row * size + j, i * size + j];
        valueRe[to]! -= fr * valueRe[from]! - fi * valueIm[from]!;
        valueIm[to]! -= fr * valueIm[from]! + fi * valueRe[from]!;
      }
    }
    upper.start.push(upper.slot.length);
    lower.start.push(lower.slot.length);
  }

  function choosePivot(): readonly [number, number] | undefined {
    const inRow = new Int32Array(size);
    const inColumn = new Int32Array(size);
    const largest = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      if (rowLeft[i] !== 1) continue;
      for (let j = 0; j < size; j++) {
        if (columnLeft[j] !== 1 || !present(i, j)) continue;
        inRow[i]! += 1;
        inColumn[j]! += 1;
        largest[i] = Math.max(largest[i]!, squared(i * size + j));
      }
    }
    let best: readonly [number, number] | undefined;
    let bestCost = Infinity;
    let bestShare = 0;
    for (let i = 0; i < size; i++) {
      if (rowLeft[i] !== 1) continue;
      for (let j = 0; j < size; j++) {
        if (columnLeft[j] !== 1 || !present(i, j)) continue;
        const share = squared(i * size + j) / largest[i]!;
        if (!(share >= threshold * threshold)) continue;
        const cost = (inRow[i]! - 1) * (inColumn[j]! - 1);
        if (cost > bestCost || (cost === bestCost && share <= bestShare)) continue;
        [best, bestCost, bestShare] = [[i, j], cost, share];
      }
    }
    return best;
  }

  return {
    size,
    slots: slotRow.length,
    slotOf,
    pivotRow: Int32Array.from(order.row),
    pivotColumn: Int32Array.from(order.column),
    pivotSlot: Int32Array.from(order.slot),
    upperStart: Int32Array.from(upper.start),
    upperSlot: Int32Array.from(upper.slot),
    upperColumn: Int32Array.from(upper.column),
    lowerStart: Int32Array.from(lower.start),
    lowerSlot: Int32Array.from(lower.slot),
    lowerRow: Int32Array.from(lower.row),
    target: Int32Array.from(target),
    slotRow: Int32Array.from(slotRow),
    slotColumn: Int32Array.from(slotColumn),
  };
}
