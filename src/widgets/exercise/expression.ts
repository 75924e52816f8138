/** Whether a text is a formula to be worked out and not a plain value. */
export const isExpression = (text: string): boolean =>
  /[*/()^×÷·²³]|\d\s*\+|\bsqrt|√|\d\s*π/.test(text.replace(/^\s*[-+]/, ""));

/** Whether "1/2π" stands in a formula, which some read as 1/(2π) and some as π/2. */
export const isAmbiguous = (text: string): boolean => /\/\s*\d+(?:\.\d+)?\s*(?:pi|π)/i.test(text);

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
    .replace(/[⁰¹²³⁴-⁹⁻]+/g, (raised) => `^(${[...raised].map((each) => raisedDigits[each] ?? "").join("")})`)
    // The course prints log for the logarithm to base 10.
    .replace(/\b(?:log_?10|log₁₀|log|lg)\s*(?=\()/gi, "log10")
    // What stands side by side is multiplied, as the course prints it.
    .replace(/pi\s*(?=[\d(]|sqrt|log10)/g, "pi*")
    .replace(
      /(\d*\.?\d+)\s*([kKMGmuµμnpf])(?:Ω|ohms?|F|H|Hz|V|A)?(?![A-Za-z])/g,
      (_, digits: string, prefix: string) => {
        return `${digits}e${exponents[prefix] ?? 0}`;
      },
    )
    .replace(/(\d)\s*(?:Ω|ohms?|F|Hz|H|V|A)(?![A-Za-z])/g, "$1")
    .replace(/([\d)])\s+(?=[\d(])/g, "$1*");
  return {expression, suffix};
}

const raisedDigits: Readonly<Record<string, string>> = {
  ...Object.fromEntries([..."⁰¹²³⁴⁵⁶⁷⁸⁹"].map((raised, digit) => [raised, String(digit)])),
  "⁻": "-",
};

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
