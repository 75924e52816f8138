// A small writer of WebAssembly: code is a list of bytes, and every function here returns a piece of it.
// Source: WebAssembly Core Specification 1.0 (W3C Recommendation, 2019), chapter 5 "Binary Format".

/** Bytes of instructions. */
export type Code = readonly number[];

/** A local variable of a function, by its index. */
export type Local = number;

/** Types of values as the format writes them. */
export const valueTypes = {i32: 0x7f, i64: 0x7e, f64: 0x7c} as const;
export type ValueType = keyof typeof valueTypes;

/** An unsigned number in LEB128. */
export function unsigned(value: number): Code {
  const bytes: number[] = [];
  for (let left = value; ; left = Math.floor(left / 128)) {
    if (left < 128) return [...bytes, left];
    bytes.push((left % 128) + 128);
  }
}

/** A signed number of up to 32 bits in LEB128. */
export function signed(value: number): Code {
  const bytes: number[] = [];
  for (let left = value; ; left >>= 7) {
    if (left >= -64 && left < 64) return [...bytes, left & 127];
    bytes.push((left & 127) | 128);
  }
}

export const get = (local: Local): Code => [0x20, ...unsigned(local)];
export const set = (local: Local, value: Code): Code => [...value, 0x21, ...unsigned(local)];
export const i32 = (value: number): Code => [0x41, ...signed(value)];
export const i64 = (value: number): Code => [0x42, ...signed(value)];
export const f64 = (value: number): Code => [0x44, ...new Uint8Array(Float64Array.of(value).buffer)];

const one =
  (opcode: number) =>
  (a: Code): Code => [...a, opcode];
const two =
  (opcode: number) =>
  (a: Code, b: Code): Code => [...a, ...b, opcode];

export const add = two(0xa0);
export const sub = two(0xa1);
export const mul = two(0xa2);
export const div = two(0xa3);
export const min = two(0xa4);
export const max = two(0xa5);
export const abs = one(0x99);
export const neg = one(0x9a);
export const less = two(0x63);
export const greater = two(0x64);
export const atMost = two(0x65);

export const addI32 = two(0x6a);
export const mulI32 = two(0x6c);
export const andI32 = two(0x71);
export const lessI32 = two(0x48);
export const shiftLeftI32 = two(0x74);
export const notI32 = one(0x45);
export const addI64 = two(0x7c);
export const shiftLeftI64 = two(0x86);
export const shiftRightI64 = two(0x87);
export const lowHalf = one(0xa7);
export const bitsOf = one(0xbd);
export const fromBits = one(0xbf);

/** The number at `address` + `offset` bytes of the memory. */
export const load = (address: Code, offset: number): Code => [...address, 0x2b, 3, ...unsigned(offset)];
export const loadBits = (address: Code, offset: number): Code => [...address, 0x29, 3, ...unsigned(offset)];
export const store = (address: Code, offset: number, value: Code): Code => [
  ...address,
  ...value,
  0x39,
  3,
  ...unsigned(offset),
];

export const call = (index: number, ...values: readonly Code[]): Code => [...values.flat(), 0x10, ...unsigned(index)];

/** Code that is left at its end by `leave(depth)`. */
export const block = (...body: readonly Code[]): Code => [0x02, 0x40, ...body.flat(), 0x0b];
/** Code that is begun again by `leave(depth)`. */
export const loop = (...body: readonly Code[]): Code => [0x03, 0x40, ...body.flat(), 0x0b];
/** To the end (or, of a loop, the start) of the piece of code `depth` levels out. */
export const leave = (depth: number): Code => [0x0c, ...unsigned(depth)];
export const leaveIf = (depth: number, condition: Code): Code => [...condition, 0x0d, ...unsigned(depth)];
export const either = (condition: Code, then: Code, otherwise: Code = []): Code => [
  ...condition,
  0x04,
  0x40,
  ...then,
  ...(otherwise.length > 0 ? [0x05, ...otherwise] : []),
  0x0b,
];

/** Adds up pieces of code, halves apart, so that no addition waits for all before it; none is 0. */
export function total(terms: readonly Code[]): Code {
  const [only] = terms;
  if (only === undefined) return f64(0);
  if (terms.length === 1) return only;
  const half = terms.length >> 1;
  return add(total(terms.slice(0, half)), total(terms.slice(half)));
}

export type Signature = Readonly<{takes: readonly ValueType[]; gives: readonly ValueType[]}>;
export type Imported = Readonly<{name: string; signature: Signature}>;
/** A function to be written: its body, and its locals beyond those it takes. */
export type Written = Readonly<{name: string; signature: Signature; locals: readonly ValueType[]; body: Code}>;

/**
 * A module of functions over one memory that is handed in as "engine" "memory", beside the functions of `imported`, which
 * have the first indices. Every function that is written is exported by its name.
 */
export function wasmModule(imported: readonly Imported[], written: readonly Written[]): Uint8Array<ArrayBuffer> {
  const types = [...imported, ...written].map(({signature: {takes, gives}}) => [
    0x60,
    ...list(takes.map((type) => [valueTypes[type]])),
    ...list(gives.map((type) => [valueTypes[type]])),
  ]);
  const memory = [...text("engine"), ...text("memory"), 2, 0, 1];
  const imports = imported.map(({name}, k) => [...text("engine"), ...text(name), 0, ...unsigned(k)]);
  const exports = written.map(({name}, k) => [...text(name), 0, ...unsigned(imported.length + k)]);
  const bodies = written.map(({locals, body}) => {
    const code = [...list(locals.map((type) => [1, valueTypes[type]])), ...body, 0x0b];
    return [...unsigned(code.length), ...code];
  });
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, types),
    ...section(2, [memory, ...imports]),
    ...section(
      3,
      written.map((_, k) => unsigned(imported.length + k)),
    ),
    ...section(7, exports),
    ...section(10, bodies),
  ]);
}

function section(id: number, entries: readonly Code[]): Code {
  const bytes = list(entries);
  return [id, ...unsigned(bytes.length), ...bytes];
}

function list(entries: readonly Code[]): Code {
  return [...unsigned(entries.length), ...entries.flat()];
}

function text(name: string): Code {
  const bytes = Array.from(name, (letter) => letter.charCodeAt(0));
  return [...unsigned(bytes.length), ...bytes];
}
