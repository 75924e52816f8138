import {formatQuantity} from "../../engine/quantities/format-quantity.ts";
import {box, spanSeconds, xOfHz, yOfDb} from "./lines.ts";

const svgNames = "http://www.w3.org/2000/svg";
/** In words short enough for half of a phone's width: the last one carries the unit. */
const decades = [
  {hertz: 100, words: "100"},
  {hertz: 1000, words: "1k"},
  {hertz: 10_000, words: formatQuantity(10_000, "Hz")},
];
const levels = [0, -40, -80];

/** Words at an axis, and how far along it they stand, in per cent of the box. */
type Mark = Readonly<{at: number; words: string; name?: string}>;

export const waiting = "Drawn while it plays.";

/** The two pictures and the words beside them, empty; what moves carries `data-line` or `data-word`. */
export function soundPicture(document: Document): DocumentFragment {
  const key = html(document, "p", "sides");
  key.append(
    html(document, "span", "side-in", "in"),
    html(document, "span", "side-out", "out, at the amplifier"),
    html(document, "span", "", "0\u00a0dB: 1\u00a0V peak"),
  );
  const pictures = html(document, "div", "pictures");
  pictures.setAttribute("aria-hidden", "true");
  pictures.append(
    picture(document, "wave", `M0 ${box.height / 2}H${box.width}`, {
      x: [
        {at: 0, words: "0"},
        {at: 100, words: formatQuantity(spanSeconds, "s")},
      ],
      y: [
        {at: 0, words: "", name: "edge above"},
        {at: 50, words: "0"},
        {at: 100, words: "", name: "edge below"},
      ],
    }),
    picture(
      document,
      "spectrum",
      [
        ...decades.map(({hertz}) => `M${xOfHz(hertz)} 0V${box.height}`),
        ...levels.map((db) => `M0 ${yOfDb(db)}H${box.width}`),
      ].join(""),
      {
        x: decades.map(({hertz, words}) => ({at: (100 * xOfHz(hertz)) / box.width, words})),
        y: levels.map((db) => ({at: (100 * yOfDb(db)) / box.height, words: formatQuantity(db, "dB")})),
      },
    ),
  );
  const sizes = html(document, "p", "sizes", waiting);
  sizes.dataset["word"] = "sizes";
  const whole = document.createDocumentFragment();
  whole.append(key, pictures, sizes);
  return whole;
}

function picture(
  document: Document,
  name: string,
  grid: string,
  marks: Readonly<{x: readonly Mark[]; y: readonly Mark[]}>,
): HTMLElement {
  const svg = document.createElementNS(svgNames, "svg");
  svg.setAttribute("viewBox", `0 0 ${box.width} ${box.height}`);
  // As wide as there is room for; words stand beside it, so that none is stretched.
  svg.setAttribute("preserveAspectRatio", "none");
  for (const [className, data] of [
    ["grid", grid],
    ["in", ""],
    ["out", ""],
  ] as const) {
    const path = document.createElementNS(svgNames, "path");
    path.setAttribute("class", className);
    path.setAttribute("d", data);
    path.setAttribute("data-line", `${name} ${className}`);
    svg.append(path);
  }
  const plot = html(document, "div", name);
  plot.append(svg);
  for (const axis of ["x", "y"] as const) {
    for (const {at, words, name: word} of marks[axis]) {
      const mark = html(document, "span", `mark-${axis}`, words);
      mark.style.setProperty(axis === "x" ? "left" : "top", `${at.toFixed(2)}%`);
      if (word) mark.dataset["word"] = word;
      plot.append(mark);
    }
  }
  return plot;
}

function html(document: Document, tag: string, className: string, words = ""): HTMLElement {
  const made = document.createElement(tag);
  made.className = className;
  made.textContent = words;
  return made;
}
