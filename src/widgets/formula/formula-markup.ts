import katex from "katex";
import type {BenchView} from "../bench-state/bench-state.ts";
import {readingText, readings, type ReadingName} from "../bench-state/readings.ts";

/**
 * MathML of a formula with its live quantities printed from `view`, one element for each step after an equals sign, so
 * that a narrow column can break the line there. Runs while the site is built; a slip in the TeX or an
 * unknown reading throws and stops the build.
 */
export function formulaMarkup(tex: string, view: BenchView): string {
  const [left = "", ...steps] = tex.split(" = ");
  return steps.map((step, k) => mathOf(k === 0 ? `${left} = ${step}` : `{} =\\; ${step}`, view)).join(" ");
}

function mathOf(tex: string, view: BenchView): string {
  const markup = katex.renderToString(tex, {output: "mathml", displayMode: true, throwOnError: true, strict: "error"});
  const math = /<math[^]*<\/math>/.exec(markup)?.[0];
  if (math === undefined) throw new Error(`no formula came of ${tex}`);
  return math.replace(/<annotation[^]*?<\/annotation>/, "").replace(/<mtext>\[(\w+)\]<\/mtext>/g, (_, name: string) => {
    if (!isReading(name)) throw new Error(`the formula quotes an unknown reading: "${name}"`);
    return `<mtext class="live" data-reading="${name}">${readingText(name, view)}</mtext>`;
  });
}

const isReading = (name: string): name is ReadingName => name in readings;
