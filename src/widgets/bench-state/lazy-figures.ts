type Figures = typeof import("./figures.ts");

let fetched: Promise<Figures> | undefined;

/** All that is worked out from the bench, fetched with the first need: asking again for what has come costs a frame nothing. */
export const lazyFigures = (): Promise<Figures> => (fetched ??= import("./figures.ts"));
