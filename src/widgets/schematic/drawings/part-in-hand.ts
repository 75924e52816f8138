/** The part each lesson is about, lit until the reader takes another. The last six are about all of them. */
const partsInHand: Readonly<Record<number, string>> = {
  1: "cable",
  2: "C1",
  3: "R8",
  4: "U1",
  5: "RV1",
  6: "C3",
  7: "RV2",
  8: "RV1",
  9: "C4",
  10: "D1",
  11: "D1",
  12: "C3",
  13: "D1",
  14: "RV3",
  15: "C6",
};

/** Further parts that come with it, where a lesson is about two. */
export const alsoInHandOf = (lesson: number): readonly string[] => (lesson === 10 ? ["D2"] : []);

/** The part that lesson `lesson` puts in the reader's hand, if it is about one. */
export const partInHandOf = (lesson: number): string | undefined => partsInHand[lesson];
