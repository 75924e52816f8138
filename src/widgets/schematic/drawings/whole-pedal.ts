import {inputRow} from "./before-the-first-part.ts";
import {lower, type Pair, together} from "./fragment.ts";
import {gainRow} from "./gain.ts";
import {supply} from "./half-supply.ts";
import {lesson14, toneRow} from "./tone.ts";

/** The whole pedal in four rows: in, gain, out, supply. */
export const wholePedal: Pair = {
  wide: together("The whole pedal", [20, 36], inputRow, lower(gainRow, 9), lower(toneRow, 19.25), lower(supply, 28), {
    wires: [
      [
        [10.5, 32.5],
        [16.5, 32.5],
      ],
    ],
    marks: [{kind: "end", node: "ref", at: [16.5, 32.5], text: "half supply", side: "right"}],
  }),
  compact: lesson14.compact,
};
