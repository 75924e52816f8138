import type {Law, LinearForm, Nonlinearity} from "../analysis/nonlinearities.ts";
import type {PlacedLaw} from "./step-model.ts";

/** A voltage that laws read, or rows that they feed, at one stage of a step. */
export type Place = Readonly<{form: LinearForm; offset: number; stage: number}>;

/** Every law with its port and column; those that differ in nothing but their sign share one. `tangents`: what the linear part takes of each. */
export function placeLaws(
  perLaw: readonly Nonlinearity[],
  stages: number,
  tangents: Float64Array,
): Readonly<{laws: readonly PlacedLaw[]; ports: readonly Place[]; columns: readonly Place[]}> {
  const ports: Place[] = [];
  const columns: Place[] = [];
  const laws: PlacedLaw[] = [];
  for (let stage = 0; stage < stages; stage++) {
    perLaw.forEach((each, k) => {
      const tangent = tangents[k] ?? 0;
      const port = find(ports, {form: each.from, offset: each.offset, stage});
      const column = find(columns, {form: each.into, offset: 0, stage});
      const {law, drop} = junctionOf(each.law, tangent === 0);
      const place = {port: port.at, sign: port.sign, column: column.at, weight: column.sign};
      laws.push({law, ...place, drop, tangent, shift: each.offset});
    });
  }
  return {laws, ports, columns};
}

function find(places: Place[], place: Place): {at: number; sign: 1 | -1} {
  for (let at = 0; at < places.length; at++) {
    const other = places[at] as Place;
    if (other.stage !== place.stage || other.form.length !== place.form.length) continue;
    if (sameUpTo(1, place, other)) return {at, sign: 1};
    if (sameUpTo(-1, place, other)) return {at, sign: -1};
  }
  return {at: places.push(place) - 1, sign: 1};
}

function sameUpTo(sign: 1 | -1, a: Place, b: Place): boolean {
  return (
    a.offset === sign * b.offset &&
    a.form.every(([unknown, factor]) => b.form.some(([other, by]) => unknown === other && factor === sign * by))
  );
}

/** A diode's series resistance is linear: taken out of the law it leaves the junction, a plain exponential. */
function junctionOf(law: Law, plain: boolean): Readonly<{law: Law; drop: number}> {
  if (law.kind !== "diode" || law.model.seriesOhms === 0 || !plain) return {law, drop: 0};
  return {law: {...law, model: {...law.model, seriesOhms: 0}}, drop: law.inSeries * law.model.seriesOhms};
}
