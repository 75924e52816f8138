import {driveOf, type ReferenceCase} from "./cases.ts";

/**
 * Volts of a case's signal source over time in seconds, from its sines, plain or dying away, or its step at 0.
 *
 * @throws {Error} for a form this reader does not know
 */
export function sourceOf(given: ReferenceCase): (seconds: number) => number {
  const {id, source, analysis} = given;
  if (analysis.kind === "periodic_steady_state") return sines(given);
  const expression = String(source?.["expression"]);
  if (expression === "1 for t>=0") return () => 1;
  const terms = expression.split("+").map((term) => {
    const found = /^([\d.]+)\*(?:exp\(-t\/([\d.]+)\)\*)?sin\(2\*pi\*([\d.]+)\*t\)$/.exec(term.trim());
    if (found === null) throw new Error(`${id}: the source "${expression}" is of an unknown form`);
    const [, peak, decay = "Infinity", hertz] = found;
    return (t: number) => Number(peak) * Math.exp(-t / Number(decay)) * Math.sin(2 * Math.PI * Number(hertz) * t);
  });
  return (t) => terms.reduce((sum, term) => sum + term(t), 0);
}

function sines(given: ReferenceCase): (seconds: number) => number {
  const drive = driveOf(given);
  if (drive.form === "sine") return (t) => drive.peakVolts * Math.sin(2 * Math.PI * drive.frequencyHz * t);
  const [firstHz, secondHz] = drive.frequenciesHz;
  const [first, second] = drive.peaksVolts;
  return (t) => first * Math.sin(2 * Math.PI * firstHz * t) + second * Math.sin(2 * Math.PI * secondHz * t);
}
