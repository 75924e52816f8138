const before = new RegExp(
  [
    String.raw`[A-Za-zτω][A-Za-z0-9_]{0,5}\s*[=≈]`,
    String.raw`<=|>=|=<|=>|[<>≤≥≈~=]`,
    String.raw`(?:approximately|approx|about|around|roughly|circa|nearly|at\s+most|at\s+least|ca)(?![A-Za-z])\.?`,
  ].join("|"),
  "iy",
);

/**
 * An answer without what people write around the number: "≤ 390 pF", "approx. 390 pF", "C = 390 pF" and "390 pF." become
 * "390 pF", and the space of "2 640 Hz" goes. Of a working, "900 mV + 600 mV = 1.5 V", the result stands.
 */
export function plainAnswer(text: string): string {
  let rest = text.normalize("NFC").trim();
  before.lastIndex = 0;
  while (before.test(rest)) {
    rest = rest.slice(before.lastIndex).trimStart();
    before.lastIndex = 0;
  }
  rest = rest
    .replace(/^.*[=≈](?=.*\d)/s, "")
    .replace(/(?<=[^.\s])\.$/, "")
    .trim();
  // Three digits after a space are thousands (ISO 80000-1).
  return rest.replace(/(?<![\d.,])\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?!\d)/g, (digits) =>
    digits.replace(/[^\d]/g, ""),
  );
}
