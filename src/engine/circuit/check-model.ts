import {checkAtLeast, checkWithin} from "./check-value.ts";
import {PartValueError} from "./circuit-error.ts";
import {diodeModels} from "./models/diodes.ts";
import {opAmpModels} from "./models/op-amps.ts";
import type {DiodeModel, OpAmpModel} from "./part.ts";

/** @throws {PartValueError} if the diode is unknown or one of its figures is out of range */
export function checkDiodeModel(ref: string, model: DiodeModel): void {
  checkKnown(ref, "diode", model, diodeModels);
  checkWithin(ref, "saturation current", model.saturationCurrent, 1e-40, 1e-2, "A");
  checkWithin(ref, "emission coefficient", model.emissionCoefficient, 0.1, 10, "");
  checkWithin(ref, "thermal voltage", model.thermalVoltage, 1e-3, 0.1, "V");
  checkWithin(ref, "series resistance", model.seriesOhms, 0, 1e6, "Ω");
}

/** @throws {PartValueError} if the op-amp is unknown or one of its figures is out of range */
export function checkOpAmpModel(ref: string, model: OpAmpModel): void {
  checkKnown(ref, "op-amp", model, opAmpModels);
  checkAtLeast(ref, "open-loop gain", model.openLoopGain, 1);
  checkAtLeast(ref, "gain-bandwidth", model.gainBandwidthHz, 1);
  checkAtLeast(ref, "input resistance", model.inputOhms, 1);
  checkWithin(ref, "output resistance", model.outputOhms, 0, 1e6, "Ω");
  if (model.slewVoltsPerSecond !== undefined) checkAtLeast(ref, "slew rate", model.slewVoltsPerSecond, 1);
  if (model.slewVoltsPerSecond !== undefined && !Number.isFinite(model.gainBandwidthHz)) {
    throw new PartValueError(
      `${ref}: a slew rate needs a finite gain-bandwidth; leave the slew rate out or give both`,
      {ref},
    );
  }
  for (const swing of [model.swingToPositiveVolts, model.swingToNegativeVolts]) {
    if (swing !== undefined) checkWithin(ref, "distance of the output from a supply", swing, 0, 1e3, "V");
  }
  if (model.voltageNoise !== undefined) checkWithin(ref, "voltage noise", model.voltageNoise, 0, 1, "V/√Hz");
  if (model.currentNoise !== undefined) checkWithin(ref, "current noise", model.currentNoise, 0, 1, "A/√Hz");
  if (model.supplyAmperes !== undefined) checkWithin(ref, "supply current", model.supplyAmperes, 0, 10, "A");
}

function checkKnown(ref: string, kind: string, model: unknown, shelf: Readonly<Record<string, object>>): void {
  if (typeof model === "object" && model !== null) return;
  const names = Object.keys(shelf).join(", ");
  throw new PartValueError(
    `${ref}: this ${kind} is unknown; take a model of the shelf (${names}) or give its figures`,
    {
      ref,
    },
  );
}
