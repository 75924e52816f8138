import type {PlacedLaw} from "./step-model.ts";

/** A law, or two that are read at a voltage and its opposite, with opposite effect: i = f(u) − f(−u). */
export type TableLaw = PlacedLaw & Readonly<{members: readonly number[]}>;

/** The laws of one stage, equal diodes back to back as one where they have no resistance of their own. */
export function tableLaws(placed: readonly PlacedLaw[]): readonly TableLaw[] {
  const laws: TableLaw[] = [];
  placed.forEach((each, at) => {
    const other = laws.findIndex((law) => law.members.length === 1 && backToBack(law, each));
    const found = laws[other];
    if (found) laws[other] = {...found, members: [...found.members, at]};
    else laws.push({...each, members: [at]});
  });
  return laws;
}

function backToBack(a: PlacedLaw, b: PlacedLaw): boolean {
  if (a.law.kind !== "diode" || b.law.kind !== "diode") return false;
  const [one, two] = [a.law.model, b.law.model];
  return (
    one.saturationCurrent === two.saturationCurrent &&
    one.emissionCoefficient === two.emissionCoefficient &&
    one.thermalVoltage === two.thermalVoltage &&
    a.law.inSeries === b.law.inSeries &&
    [one.seriesOhms, two.seriesOhms, a.drop, b.drop, a.tangent, b.tangent].every((value) => value === 0) &&
    a.port === b.port &&
    a.column === b.column &&
    a.sign === -b.sign &&
    a.weight === -b.weight
  );
}
