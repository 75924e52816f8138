import {floatingNodes} from "../circuit/check-structure.ts";
import type {Circuit} from "../circuit/circuit.ts";
import type {Stamps} from "./stamps.ts";

/** What a node has of its own against ground, in farads: less than any pin. */
const strayFarads = 1e-15;

/**
 * The stamps with a femtofarad at every node that only diodes join to ground: without it such a node has no voltage to speak of over
 * time while they block. Other circuits are returned as they are. For the time domain; over frequency the diodes' slopes do.
 */
export function withStrays({parts, nodes}: Circuit, stamps: Stamps): Stamps {
  const others = parts.filter(({kind}) => kind !== "diode");
  if (others.length === parts.length) return stamps;
  const lost = new Set(floatingNodes(others, nodes).map((node) => stamps.unknownOf.get(node) ?? -1));
  if (lost.size === 0) return stamps;
  const unknowns = [...lost];
  const {storage, stores} = stamps;
  return {
    ...stamps,
    storage: {
      rows: Int32Array.from([...storage.rows, ...unknowns]),
      columns: Int32Array.from([...storage.columns, ...unknowns]),
      values: Float64Array.from([...storage.values, ...unknowns.map(() => strayFarads)]),
    },
    stores: [
      ...stores,
      ...unknowns.map((unknown) => ({
        from: [[unknown, 1] as const],
        into: [[unknown, 1] as const],
        value: strayFarads,
      })),
    ],
  };
}
