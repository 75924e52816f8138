/**
 * Advance widths in hundredths of an em, the larger of weights 500 and 600, read from the site's own font files with a
 * browser's canvas. Kerning is left out: it only ever makes a label narrower.
 */
const characters =
  "0123456789 !#$%&'()*+,-./:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_abcdefghijklmnopqrstuvwxyz{|}~\u00a0\u00b5Ω−°∞…’·\u03bc×";

// prettier-ignore
const widths = {
  serif: [55,55,55,55,55,55,55,55,55,55,24,32,55,54,95,74,21,39,39,46,55,31,34,31,37,31,31,55,55,55,43,87,72,67,67,75,64,62,73,82,39,40,73,62,94,77,75,64,75,71,56,65,76,71,102,68,67,60,36,37,36,55,53,56,64,53,63,54,38,58,65,34,32,62,34,97,66,59,64,62,48,48,37,64,59,85,59,60,50,37,31,37,55,24,63,77,55,35,72,86,24,31,63,55],
  label: [66,45,57,58,61,58,62,55,62,62,20,26,70,57,92,76,22,41,41,49,60,25,43,26,46,26,26,58,58,58,45,89,71,66,69,74,60,58,74,75,31,31,69,58,97,76,82,65,82,69,60,65,73,71,104,70,68,69,40,46,40,63,42,53,60,50,59,53,41,55,58,28,27,57,27,88,58,60,60,59,41,47,42,57,54,82,56,54,51,44,28,44,58,20,58,83,58,50,72,77,25,26,58,58],
};

/** The face a text is set in: values in the book serif, names in the label face. */
export type Face = keyof typeof widths;

/** Width in CSS pixels that `text` takes at `sizePx`; a character outside the table counts as the widest one. */
export function textWidth(text: string, face: Face, sizePx: number): number {
  let hundredths = 0;
  for (const character of text) hundredths += widths[face][characters.indexOf(character)] ?? 104;
  return (hundredths * sizePx) / 100;
}
