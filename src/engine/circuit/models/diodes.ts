import type {DiodeModel} from "../part.ts";

/** Thermal voltage kT/q at 300 K, in volts. */
export const thermalVoltage = 0.025852;

/** Is that puts a diode at `volts` for `amperes`: Shockley's law read backwards, its −1 kept. */
function through(volts: number, amperes: number, emissionCoefficient: number, seriesOhms: number): number {
  return amperes / Math.expm1((volts - amperes * seriesOhms) / (emissionCoefficient * thermalVoltage));
}

const card = (name: string, Is: number, n: number, Rs: number, source: string): DiodeModel => ({
  name,
  saturationCurrent: Is,
  emissionCoefficient: n,
  thermalVoltage,
  seriesOhms: Rs,
  source,
});

const fitted = (name: string, volts: number, amperes: number, n: number, Rs: number, source: string): DiodeModel =>
  card(name, through(volts, amperes, n, Rs), n, Rs, source);

/**
 * The diodes on the shelf: parameters of Shockley's law. Figures and what is known of where they come from:
 * tests/reference/published/05_diodes.json.
 */
export const diodeModels = {
  silicon: card(
    "silicon small-signal (1N4148)",
    2.52e-9,
    1.752,
    0.568,
    "widely distributed public model card; no standard behind it",
  ),
  rectifier: card(
    "silicon rectifier (1N4001)",
    14.11e-9,
    1.984,
    0.0339,
    "public model card, from memory; inside Diodes Inc. DS28002 Rev. E-2 (1.0 V at most at 1 A)",
  ),
  germanium: card(
    "germanium (1N34A)",
    2e-7,
    1.3,
    7,
    "public model card, from memory; under the 1.0 V at 5 mA of makers' sheets, from memory",
  ),
  schottky: fitted(
    "Schottky small-signal (BAT41)",
    0.4,
    1e-3,
    1.05,
    2.2,
    "0.4 V typical at 1 mA: ST DS4884 Rev 3, table 3; n and Rs from memory",
  ),
  schottkyRectifier: fitted(
    "Schottky rectifier (1N5817)",
    0.32,
    0.1,
    1.05,
    0.067,
    "0.32 V at most at 0.1 A: onsemi 1N5817/D Rev. 11, from memory; n and Rs from memory",
  ),
  redLed: fitted(
    "red LED (TLHR5400)",
    2.0,
    0.02,
    2,
    5,
    "2.0 V typical at 20 mA: Vishay Doc 83012 Rev. 2.3; n and Rs from memory",
  ),
  greenLed: fitted(
    "green LED (TLHG4400)",
    2.4,
    0.02,
    2,
    6,
    "2.4 V typical at 20 mA: Vishay Doc 83006 Rev. 2.2; n and Rs from memory",
  ),
  blueLed: fitted(
    "blue LED (LC503TBL1)",
    3.4,
    0.02,
    2.5,
    8,
    "3.4 V typical at 20 mA: Cree CLD-CT063.000; n and Rs from memory",
  ),
} as const satisfies Readonly<Record<string, DiodeModel>>;

export type DiodeName = keyof typeof diodeModels;
