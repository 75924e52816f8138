// What a field of the JSON form may hold: a test, the words of a message, and the same as JSON schema.

export type FieldKind = Readonly<{holds: (value: unknown) => boolean; words: string; schema: object}>;

export const isNumber = (value: unknown): value is number => typeof value === "number" && Number.isFinite(value);
export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isRow = (value: unknown) =>
  Array.isArray(value) && value.length > 0 && value.length <= longestRow && value.every(isNumber);
const isText = (value: unknown) => typeof value === "string" && value !== "";

/** Longest row of numbers that is taken: twenty seconds of sound. */
const longestRow = 1_000_000;

/** A whole number within limits. */
const whole = (least: number, most: number): FieldKind => ({
  holds: (value) => Number.isInteger(value) && (value as number) >= least && (value as number) <= most,
  words: `a whole number from ${least} to ${most}`,
  schema: {type: "integer", minimum: least, maximum: most},
});

const oneOf = (...words: readonly string[]): FieldKind => ({
  holds: (value) => words.includes(value as string),
  words: `${words.slice(0, -1).map(quoted).join(", ")} or ${quoted(words.at(-1) ?? "")}`,
  schema: {enum: words},
});
const quoted = (word: string) => `"${word}"`;

/** The shelf's name of a model, or figures of one's own; `needs` and `may` are the figures. */
export const model = (needs: readonly string[], may: readonly string[] = []): FieldKind => ({
  holds: (value) => typeof value === "string" || isObject(value),
  words: "the name of a model on the shelf, or its figures",
  schema: {
    description: "A model of the shelf by its name, or its own figures in SI units.",
    anyOf: [
      {type: "string", minLength: 1},
      {
        type: "object",
        required: ["name", "source", ...needs],
        properties: Object.fromEntries([
          ...["name", "source"].map((name) => [name, {type: "string", minLength: 1}]),
          ...[...needs, ...may].map((name) => [name, {type: "number"}]),
        ]),
      },
    ],
  },
});

/** Kinds of part that have a value to be off by. */
const valuedKinds: readonly string[] = [
  ...["resistor", "capacitor", "inductor", "variable resistor", "potentiometer"],
  ...["voltage source", "current source"],
];

export const fieldKinds = {
  text: {holds: isText, words: "a text", schema: {type: "string", minLength: 1}},
  number: {holds: isNumber, words: "a number", schema: {type: "number"}},
  /** A value whose size the engine judges. */
  positive: {holds: isNumber, words: "a number", schema: {type: "number", exclusiveMinimum: 0}},
  share: {holds: isNumber, words: "a number", schema: {type: "number", minimum: 0, maximum: 1}},
  notNegative: {holds: isNumber, words: "a number", schema: {type: "number", minimum: 0}},
  switch: {holds: (value: unknown) => typeof value === "boolean", words: "true or false", schema: {type: "boolean"}},
  numbers: {
    holds: isRow,
    words: "a row of one number or more, a million at most",
    schema: {type: "array", items: {type: "number"}, minItems: 1, maxItems: longestRow},
  },
  points: whole(2, 100_000),
  cyclePoints: whole(41, 65_536),
  count: whole(1, 100),
  order: whole(1, 12),
  runs: whole(20, 10_000),
  seed: whole(0, 2 ** 31),
  oversampling: {
    holds: (value: unknown) => [1, 2, 4, 8, 16, 32].includes(value as number),
    words: "1, 2, 4, 8, 16 or 32",
    schema: {enum: [1, 2, 4, 8, 16, 32]},
  },
  taper: oneOf("linear", "audio", "reverse audio", "two-segment audio"),
  side: oneOf("low", "high"),
  fault: oneOf("open", "short", "reversed", "wrong value", "leaking"),
  supply: {
    holds: (value: unknown) => isObject(value) && isText(value["positive"]) && isText(value["negative"]),
    words: 'two nodes, such as {"positive": "vcc", "negative": "0"}',
    schema: {
      type: "object",
      required: ["positive", "negative"],
      properties: {positive: {type: "string", minLength: 1}, negative: {type: "string", minLength: 1}},
      additionalProperties: false,
    },
  },
  sharesByKind: {
    holds: (value: unknown) =>
      isObject(value) && Object.entries(value).every(([kind, each]) => valuedKinds.includes(kind) && isNumber(each)),
    words: `shares by kind of part, such as {"resistor": 0.05}; there are ${valuedKinds.join(", ")}`,
    schema: {
      type: "object",
      properties: Object.fromEntries(
        valuedKinds.map((kind) => [kind, {type: "number", minimum: 0, exclusiveMaximum: 1}] as const),
      ),
      additionalProperties: false,
    },
  },
  shares: {
    holds: (value: unknown) => isObject(value) && Object.values(value).every(isNumber),
    words: 'shares by reference, such as {"R1": 0.01}',
    schema: {type: "object", additionalProperties: {type: "number", minimum: 0, exclusiveMaximum: 1}},
  },
  /** Checked by the reader itself: they are analyses again. */
  analyses: {
    holds: (value: unknown) => Array.isArray(value) && value.length > 0,
    words: "a row with at least one analysis",
    schema: {type: "array", minItems: 1, items: {$ref: "#/$defs/analysis"}},
  },
} as const satisfies Readonly<Record<string, FieldKind>>;
