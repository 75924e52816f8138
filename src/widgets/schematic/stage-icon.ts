/** Two leads and what is between: most icons start from the line of the signal at half their height. */
const plates = "M2 12H10M10 5V19M14 5V19M14 12H22";
const follower = "M6 4V20L19 12ZM2 12H6M19 12H22";
const boxUpright = "M9 6H15V18H9ZM12 2V6M12 18V22";
const boxLevel = "M6 9H18V15H6ZM2 12H6M18 12H22";

/** One icon for each lesson, in order: lines of 2 px on a square of 24 px, made of the symbols of the drawings. */
const icons: readonly string[] = [
  // A plug and its wire.
  "M2 12H9M9 12A3.5 3.5 0 1 0 16 12A3.5 3.5 0 1 0 9 12M16 12H22",
  plates,
  // A divider with its tap.
  "M8 4H14V10H8ZM8 14H14V20H8ZM11 2V4M11 10V14M11 20V22M11 12H20",
  follower,
  // The triangle with its feedback resistor.
  "M7 9V21L18 15ZM2 12H7M18 15H21V4H18M12 1.5H18V6.5H12ZM12 4H4V18H7",
  // A capacitor standing on ground.
  "M12 2V8M5 8H19M5 12H19M12 12V17M7 17H17M10 21H14",
  // A potentiometer.
  `${boxUpright}M22 12H16M18.5 9.5L16 12L18.5 14.5`,
  // A wave with its tops cut flat.
  "M2 12H4L6.5 5H10.5L14.5 19H18.5L20.5 12H22",
  // A capacitor bridging the line.
  "M2 18H22M5 18V9H10M10 4V14M14 4V14M14 9H19V18",
  // Two diodes that point opposite ways.
  "M2 7H22M8 3V11L15 7ZM15 3V11M2 17H22M16 13V21L9 17ZM9 13V21M2 7V17M22 7V17",
  // A diode that shines.
  "M2 15H22M8 10V20L16 15ZM16 10V20M12 8L16 3M16 3L13.5 3.5M16 3L16 5.8M17 9L21 4M21 4L18.5 4.5M21 4L21 6.8",
  // A wider leg capacitor.
  "M12 2V7M3 7H21M3 12H21M12 12V17M7 17H17M10 21H14",
  // A diode across the line.
  "M2 5H22M12 5V9M7 9H17L12 17ZM7 17H17M12 17V22M8 22H16",
  // A variable resistor.
  `${boxLevel}M5 19L19 5M14 5.5L19 5L18.5 10`,
  // A capacitor to ground behind the line, and its arrow.
  "M2 5H22M12 5V10M5 10H19M5 14H19M12 14V19M8 19H16M10 22.5H14",
  // Wire, triangle, wire: the whole.
  "M2 12H5M5 6V18L13 12ZM13 12H15M15 9H20V15H15ZM20 12H22",
  // Hiss.
  "M2 12L4 9L6 15L8 6L10 17L12 8L14 15L16 10L18 14L20 11L22 12",
  // A resistor and its tolerance.
  "M6 8H18V14H6ZM2 11H6M18 11H22M6 19H18M6 17V21M18 17V21",
  // A board with parts on it.
  "M3 4H21V20H3ZM7 9H12V12H7ZM12 10.5H17M16 14V18M13 14V18M7 16H13M16 16H18",
  // A broken lead.
  "M2 12H8M16 12H22M9 16L15 8",
  // An empty place in the line.
  "M2 12H6M18 12H22M6 7H10M14 7H18M6 17H10M14 17H18M6 7V10M18 7V10M6 14V17M18 14V17",
];

/**
 * Path data of the icon of lesson `lesson`, for a line of 2 px without fill in a view box of 24 by 24.
 *
 * @throws {RangeError} if the course has no such lesson
 */
export function stageIcon(lesson: number): string {
  const icon = icons[lesson - 1];
  if (icon === undefined) throw new RangeError(`there are icons for lessons 1 to ${icons.length}, got ${lesson}`);
  return icon;
}
