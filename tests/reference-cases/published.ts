import {readFileSync} from "node:fs";
import {join} from "node:path";
import {expect} from "vitest";

type Row = Readonly<{
  id: string;
  what: string;
  expected: unknown;
  tol: Readonly<{type: string; value?: number | readonly number[]}>;
  source: string;
  verified: string;
  inputs?: Readonly<Record<string, unknown>>;
}>;

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
    /** The limits of a row whose tolerance is a range. */
    range: (id: string): readonly number[] => row(id).tol.value as readonly number[],
    /** Rows whose id begins so, with their inputs. */
    rows: (start: string) => checks.filter(({id}) => id.startsWith(start)).map(({id, inputs = {}}) => ({id, inputs})),
    table: (name: string): unknown => {
      if (!(name in tables)) throw new Error(`${topic} has no table "${name}"`);
      return tables[name];
    },
    parameters,
  };
}
