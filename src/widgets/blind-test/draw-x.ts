import type {Side} from "./blind-test.ts";

/** What X is this time: one of the two, each as likely, from the browser's own source of chance. */
export const drawnX = (): Side => ((crypto.getRandomValues(new Uint8Array(1))[0] ?? 0) & 1 ? "b" : "a");
