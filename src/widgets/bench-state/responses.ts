import {computed, type ReadonlySignal} from "@preact/signals-core";
import {held, nowSetting} from "./bench-state.ts";
import {responseOf, type ResponseCurve} from "./curves.ts";

/** The curve of the bench as it stands. */
export const nowResponse: ReadonlySignal<ResponseCurve> = computed(() => responseOf(nowSetting.value));

/** The curve of what comparisons call 'before'. */
export const heldResponse: ReadonlySignal<ResponseCurve> = computed(() => responseOf(held.value));
