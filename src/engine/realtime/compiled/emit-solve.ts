/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is below the size the arrays are made with */
import {add, div, f64, get, mul, set, sub, total, type Code, type Local} from "./wasm-code.ts";

/**
 * Solves matrix·x = right in place of `right`; `matrix`, row-major, is used up. No rows are exchanged: a pivot or determinant that
 * vanishes makes numbers that do not settle, and whoever iterates on them must see that.
 *
 * Up to three unknowns by Cramer's rule: one division, where elimination waits for three, one after the other.
 *
 * @param scratch as many locals as there are unknowns
 */
export function solved(matrix: readonly Local[], right: readonly Local[], scratch: readonly Local[]): Code {
  if (right.length === 0) return [];
  return right.length <= 3 ? byCramer(matrix, right, scratch) : byElimination(matrix, right, scratch);
}

function byCramer(matrix: readonly Local[], right: readonly Local[], scratch: readonly Local[]): Code {
  const size = right.length;
  const rows = Array.from({length: size}, (_, i) => matrix.slice(i * size, (i + 1) * size).map(get));
  const sides = right.map(get);
  const replaced = (column: number) => rows.map((row, i) => row.map((each, j) => (j === column ? sides[i]! : each)));
  return [
    ...scratch.flatMap((each, column) => set(each, determinant(replaced(column)))),
    ...set(matrix[0]!, div(f64(1), determinant(rows))),
    ...right.flatMap((each, column) => set(each, mul(get(scratch[column]!), get(matrix[0]!)))),
  ];
}

function determinant(rows: readonly (readonly Code[])[]): Code {
  const [first = [], ...others] = rows;
  if (others.length === 0) return first[0]!;
  if (others.length === 1) return sub(mul(first[0]!, others[0]![1]!), mul(first[1]!, others[0]![0]!));
  const minor = (column: number) => determinant(others.map((row) => row.filter((_, j) => j !== column)));
  const terms = first.map((each, column) => mul(each, minor(column)));
  return sub(add(terms[0]!, terms[2]!), terms[1]!);
}

function byElimination(matrix: readonly Local[], right: readonly Local[], scratch: readonly Local[]): Code {
  const size = right.length;
  const at = (i: number, j: number) => matrix[i * size + j]!;
  const less = (target: Local, factor: Code, by: Local) => set(target, sub(get(target), mul(factor, get(by))));
  const down = right.flatMap((_, k) => [
    ...set(scratch[k]!, div(f64(1), get(at(k, k)))),
    ...right.slice(k + 1).flatMap((_, below) => {
      const i = k + 1 + below;
      return [
        ...set(at(i, k), mul(get(at(i, k)), get(scratch[k]!))),
        ...right.slice(k + 1).flatMap((_, beyond) => less(at(i, k + 1 + beyond), get(at(i, k)), at(k, k + 1 + beyond))),
        ...less(right[i]!, get(at(i, k)), right[k]!),
      ];
    }),
  ]);
  const up = right
    .map((each, k) => {
      const known = right.slice(k + 1).map((other, beyond) => mul(get(at(k, k + 1 + beyond)), get(other)));
      return set(each, mul(sub(get(each), total(known)), get(scratch[k]!)));
    })
    .toReversed()
    .flat();
  return [...down, ...up];
}
