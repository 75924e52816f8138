const before = new RegExp(
  [
    String.raw`[A-Za-zτω][A-Za-z0-9_]{0,5}\s*[=≈]`,
    String.raw`<=|>=|=<|=>|[<>≤≥≈~=]`,
    String.raw`(?:approximately|approx|about|around|roughly|circa|nearly|at\s+most|at\s+least|ca)(?![A-Za-z])\.?`,
  ].join("|"),
  "iy",
);

/**
 * An answer without what people write around the number: "≤ 390 pF", "approx. 390 pF" and "C = 390 pF" become "390 pF", and
 * the space of "2 640 Hz" goes.
 */
export function plainAnswer(text: string): string {
  let rest = text.normalize("NFC").trim();
  before.lastIndex = 0;
  while (before.test(rest)) {
    rest = rest.slice(before.lastIndex).trimStart();
    before.lastIndex = 0;
  }
  // Three digits after a space are thousands (ISO 80000-1).
  return rest.replace(/(?<![\d.,])\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?!\d)/g, (digits) =>
    digits.replace(/[^\d]/g, ""),
  );
}
