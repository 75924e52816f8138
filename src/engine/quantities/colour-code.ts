type Band = Readonly<{colour: string; digit?: number; power?: number; tolerancePercent?: number}>;

/** The colours of IEC 60062:2016: digit, power of ten and tolerance either way in percent, each where the colour has one. */
export const colourBands: readonly Band[] = [
  {colour: "pink", power: -3},
  {colour: "silver", power: -2, tolerancePercent: 10},
  {colour: "gold", power: -1, tolerancePercent: 5},
  {colour: "black", digit: 0, power: 0},
  {colour: "brown", digit: 1, power: 1, tolerancePercent: 1},
  {colour: "red", digit: 2, power: 2, tolerancePercent: 2},
  {colour: "orange", digit: 3, power: 3, tolerancePercent: 0.05},
  {colour: "yellow", digit: 4, power: 4, tolerancePercent: 0.02},
  {colour: "green", digit: 5, power: 5, tolerancePercent: 0.5},
  {colour: "blue", digit: 6, power: 6, tolerancePercent: 0.25},
  {colour: "violet", digit: 7, power: 7, tolerancePercent: 0.1},
  {colour: "grey", digit: 8, power: 8, tolerancePercent: 0.01},
  {colour: "white", digit: 9, power: 9},
  {colour: "none", tolerancePercent: 20},
];

/** Ohms and tolerance that four or five bands of colour say; a sentence where a colour can't stand in its place. */
export function readColours(
  colours: readonly string[],
): Readonly<{ok: true; ohms: number; tolerancePercent: number} | {ok: false; message: string}> {
  if (colours.length !== 4 && colours.length !== 5) {
    return {ok: false, message: `A resistor has four or five bands; ${colours.length} are given.`};
  }
  const bands = colours.map((colour) => colourBands.find((each) => each.colour === colour));
  const tolerancePercent = bands.at(-1)?.tolerancePercent;
  const power = bands.at(-2)?.power;
  const digits = bands.slice(0, -2).map((band) => band?.digit);
  const strange = [...digits, power, tolerancePercent].indexOf(undefined);
  if (power === undefined || tolerancePercent === undefined || strange >= 0) {
    return {
      ok: false,
      message: `“${String(colours[strange]).slice(0, 24)}” can't be band ${strange + 1} of ${colours.length}.`,
    };
  }
  return {ok: true, ohms: Number(`${digits.join("")}e${power}`), tolerancePercent};
}
