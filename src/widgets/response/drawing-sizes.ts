/** The drawings of a curve, in pixels: beside the text, pinned above it on a tablet, pinned above it on a phone. */
export const drawingSizes = {
  wide: {width: 480, height: 216, compact: false},
  middle: {width: 460, height: 170, compact: false},
  compact: {width: 176, height: 124, compact: true},
} as const;
