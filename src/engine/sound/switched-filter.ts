import type {Biquad} from "./biquad.ts";

/** Filters that a stream runs through, or past. */
export type SwitchedFilter = Readonly<{
  /** Fades over to the filtered sound, or to the sound as it came. */
  turn: (on: boolean) => void;
  /** Writes over the block. */
  run: (block: Float32Array) => void;
}>;

/** Filters in a row for a stream, switched on and off without a click: the two are faded into each other in `fadeSamples`. */
export function switchedFilter(filters: readonly Biquad[], fadeSamples: number, on = true): SwitchedFilter {
  const memory = filters.map(() => new Float64Array(2));
  let share = on ? 1 : 0;
  let step = 0;
  return {
    turn(on) {
      step = (on ? 1 : -1) / Math.max(1, fadeSamples);
    },
    run(block) {
      for (let n = 0; n < block.length; n++) {
        const x = block[n] ?? 0;
        let y = x;
        filters.forEach(({b0, b1, b2, a1, a2}, k) => {
          const held = memory[k] as Float64Array;
          const out = b0 * y + (held[0] ?? 0);
          held[0] = b1 * y - a1 * out + (held[1] ?? 0);
          held[1] = b2 * y - a2 * out;
          y = out;
        });
        // A filter that has been fed something that is no number forgets it.
        if (!Number.isFinite(y)) {
          for (const held of memory) held.fill(0);
          y = 0;
        }
        share = Math.max(0, Math.min(1, share + step));
        block[n] = share * y + (1 - share) * x;
      }
    },
  };
}
