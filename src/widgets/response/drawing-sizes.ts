/** The drawings of a curve, in pixels: where there is height, in a low window, pinned above the text on a phone. */
export const drawingSizes = {
  wide: {width: 480, height: 216, compact: false},
  middle: {width: 460, height: 170, compact: false},
  compact: {width: 176, height: 116, compact: true},
} as const;
