import {peak} from "./samples.ts";
import type {Samples} from "./samples.ts";
import {resample} from "./resample.ts";

/**
 * The largest magnitude of the continuous signal behind the samples, in full scale; at least that of the samples.
 *
 * Method: four times oversampling, ITU-R BS.1770-5 Annex 2, with this project's own interpolation filter.
 */
export const truePeak = (samples: Samples): number => Math.max(peak(samples), peak(resample(samples, 1, 4)));
