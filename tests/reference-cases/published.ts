import {readFileSync} from "node:fs";
import {join} from "node:path";
import {afterAll, expect} from "vitest";
import {rowsHeldIn} from "./published-ledger.ts";

type Row = Readonly<{
  id: string;
  what: string;
  expected: unknown;
  tol: Readonly<{type: string; value?: number | readonly number[]}>;
  source: string;
  verified: string;
  inputs?: Readonly<Record<string, unknown>>;
}>;

// Rows that this test file has looked at. When it is over, all that the ledger says it holds must be among them.
const seen = new Set<string>();
afterAll(({}, suite) => {
  const file = expect.getState().testPath ?? "";
  // Part of a file was asked for: what it leaves out is no omission.
  if (JSON.stringify(statesOf(suite)).includes("skip")) return;
  const missed = rowsHeldIn(file).filter((row) => !seen.has(row));
  expect(missed, "published rows that this file should run, and does not").toEqual([]);
});

type Tree = Readonly<{mode?: string; tasks?: readonly Tree[]}>;
const statesOf = ({mode, tasks = []}: Tree): unknown => [mode, tasks.map(statesOf)];

/** The published facts of one topic: tests/reference/published/INDEX.md explains the form. */
export function published(topic: string) {
  const path = join(import.meta.dirname, `../reference/published/${topic}.json`);
  const {
    checks,
    tables = {},
    parameters = {},
  } = JSON.parse(readFileSync(path, "utf8")) as {
    checks: readonly Row[];
    tables?: Readonly<Record<string, unknown>>;
    parameters?: Readonly<Record<string, number>>;
  };
  const row = (id: string): Row => {
    const found = checks.find((each) => each.id === id);
    if (found === undefined) throw new Error(`${topic} has no check "${id}"`);
    seen.add(`${topic} ${id}`);
    return found;
  };
  /** Fails unless `ours` is what the row expects, to the row's own tolerance; `atLeast` loosens an "exact" one, with a reason beside it. */
  const check = (id: string, ours: unknown, atLeast = 0): void => {
    const {expected, tol} = row(id);
    const wanted = (Array.isArray(expected) ? expected : [expected]) as readonly unknown[];
    const given = (Array.isArray(ours) ? ours : [ours]) as readonly unknown[];
    expect(given.length, id).toBe(wanted.length);
    wanted.forEach((value, k) => {
      if (typeof value !== "number") return expect(given[k], id).toEqual(value);
      const size = typeof tol.value === "number" ? tol.value : 0;
      const tolerance = Math.max(atLeast, tol.type === "rel" ? size * Math.abs(value) : size);
      const number = given[k];
      if (typeof number !== "number") throw new Error(`${id}: expected ${value}, got ${String(number)}`);
      expect(Math.abs(number - value), `${id}: expected ${value}, got ${number}`).toBeLessThanOrEqual(tolerance);
    });
  };
  return {
    check,
    expected: (id: string): unknown => row(id).expected,
    what: (id: string): string => row(id).what,
    /** The limit of a row whose tolerance is the most there may be. */
    most: (id: string): number => Number(row(id).tol.value),
    /** The limits of a row whose tolerance is a range. */
    range: (id: string): readonly number[] => row(id).tol.value as readonly number[],
    /** Rows whose id begins so, with their inputs. */
    rows: (start: string) => checks.filter(({id}) => id.startsWith(start)).map(({id, inputs = {}}) => ({id, inputs})),
    table: (name: string): unknown => {
      seen.add(`${topic} table ${name}`);
      if (!(name in tables)) throw new Error(`${topic} has no table "${name}"`);
      return tables[name];
    },
    parameters,
  };
}
