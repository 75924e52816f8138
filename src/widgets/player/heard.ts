import {signal} from "@preact/signals-core";
import type {Mixed, Voice} from "./mix.ts";

/** What the player plays, voice by voice, once it has been worked out; a picture of the sound follows it. */
export const heard = signal<Readonly<Partial<Record<Voice, Mixed>>>>({});

/** Whether there is such a picture on the page: working out whole sounds for nobody would only take time. */
export const pictured = signal(false);

/** Frequency of the slow sweep at this moment, in hertz, while it plays. */
export const sweepingHz = signal<number | undefined>(undefined);

/** How far into its loop the sound of the bench is at this moment, in seconds, while it plays. */
export const soundingSeconds = signal<number | undefined>(undefined);
