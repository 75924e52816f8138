// What may be typed is no result of a circuit: the definition of a corner, and the place on the axis where one reads.
const definitions = [/\b3 dB\b/g, /\bat \d+ kHz\b/g];

/** The words of a lesson as a reader gets them: without code, formulas, comments, and tags with what they hold. */
export function proseOf(mdx: string): string {
  return mdx
    .replace(/^---\n[\s\S]*?\n---\n/, (front) => /^description:(.*)$/m.exec(front)?.[1] ?? "")
    .replace(/```[\s\S]*?```|`[^`\n]*`|\$\$[\s\S]*?\$\$|\$[^$\n]*\$|\{\/\*[\s\S]*?\*\/\}/g, " ")
    .replace(/^import .*$/gm, " ")
    .replace(/<\/?[A-Za-z](?:"[^"]*"|\{(?:[^{}]|\{[^{}]*\})*\}|[^>"{])*>/g, " ");
}

/** Quantities that were typed where the engine should have computed them, each with the words around it. */
export function typedQuantities(mdx: string): readonly string[] {
  const prose = definitions.reduce((text, each) => text.replace(each, ""), proseOf(mdx));
  return [...prose.matchAll(/.{0,30}\d[ \u00a0]?[kMmµnp]?(?:Hz|V|F|Ω|dB|A|H)(?![A-Za-z]).{0,20}/g)].map(([words]) =>
    words.trim(),
  );
}
