// The four pole frequencies, from the derivation in Annex E: fr = 1 kHz, fL = 10^1.5, fH = 10^3.9, fA = 10^2.45 Hz.
const [f1, f4] = outerPoles(1000, 10 ** 1.5, 10 ** 3.9);
const f2 = 10 ** 2.45 * ((3 - Math.sqrt(5)) / 2);
const f3 = 10 ** 2.45 * ((3 + Math.sqrt(5)) / 2);

function outerPoles(fr: number, fL: number, fH: number): readonly [number, number] {
  const D = Math.SQRT1_2;
  const c = fL ** 2 * fH ** 2;
  const b = (1 / (1 - D)) * (fr ** 2 + c / fr ** 2 - D * (fL ** 2 + fH ** 2));
  const root = Math.sqrt(b * b - 4 * c);
  return [Math.sqrt((-b - root) / 2), Math.sqrt((-b + root) / 2)].sort((a, z) => a - z) as [number, number];
}

const response = (f: number) =>
  (f4 ** 2 * f ** 4) /
  ((f ** 2 + f1 ** 2) * Math.sqrt(f ** 2 + f2 ** 2) * Math.sqrt(f ** 2 + f3 ** 2) * (f ** 2 + f4 ** 2));

/**
 * A-weighting in decibels at a frequency in hertz: 0 dB at 1 kHz, −∞ at 0 Hz.
 *
 * Method: IEC 61672-1:2013, Annex E.
 */
export const aWeightingDb = (frequencyHz: number): number => 20 * Math.log10(response(frequencyHz) / response(1000));
