/** Whether a text is a formula to be worked out and not a plain value. */
export const isExpression = (text: string): boolean => /[*/()^×÷·]|\d\s*\+|\bsqrt|√/.test(text.replace(/^\s*[-+]/, ""));

/**
 * The formula in the form its reader knows, and the unit behind it: "1/(2π·3.3k·68n) Hz" becomes
 * "1/(2*pi*3.3e3*68e-9)" with "Hz". A decimal comma becomes a point.
 */
export function plainExpression(text: string): Readonly<{expression: string; suffix: string}> {
  const written = text.normalize("NFC").trim();
  const [, body = "", suffix = ""] =
    /^(.*[\d)kKMGmuµnpfπ])\s*(?:(?<=[)\s])\s*)((?:[kMGmuµnpf]?(?:Hz|Ω|ohms?|F|H|V|A|s|dB))?)$/.exec(written) ?? [];
  const rest = body === "" ? written : body;
  const expression = rest
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/[×·]/g, "*")
    .replace(/÷/g, "/")
    .replace(/−/g, "-")
    .replace(/√\s*\(/g, "sqrt(")
    .replace(/(\d)\s*π/g, "$1*pi")
    .replace(/π/g, "pi")
    .replace(
      /(\d*\.?\d+)\s*([kKMGmuµμnpf])(?:Ω|ohms?|F|H|Hz|V|A)?(?![A-Za-z])/g,
      (_, digits: string, prefix: string) => {
        return `${digits}e${exponents[prefix] ?? 0}`;
      },
    )
    .replace(/(\d)\s*(?:Ω|ohms?|F|Hz|H|V|A)(?![A-Za-z])/g, "$1");
  return {expression, suffix};
}

const exponents: Readonly<Record<string, number>> = {
  k: 3,
  K: 3,
  M: 6,
  G: 9,
  m: -3,
  u: -6,
  µ: -6,
  μ: -6,
  n: -9,
  p: -12,
  f: -15,
};
