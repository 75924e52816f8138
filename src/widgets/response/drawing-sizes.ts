/** The two drawings of a curve, in pixels: beside the text, and pinned on top of it on a small screen. */
export const drawingSizes = {
  wide: {width: 480, height: 268, compact: false},
  compact: {width: 210, height: 138, compact: true},
} as const;
