import type * as PlotLibrary from "@observablehq/plot";
import type {ResponseCurve} from "../bench-state/curves.ts";
import {openStrings} from "./open-strings.ts";
import {axisOf, decibelSteps, plotBox} from "./plot-box.ts";
import {responseMarks} from "./response-marks.ts";

/** What of the drawing library is used: named one by one, so that a page fetches no more of it. */
export type PlotMarks = Pick<typeof PlotLibrary, "line" | "plot" | "ruleX" | "ruleY" | "text" | "tickX">;

/** What a drawing of a frequency response shows. */
export type ResponseView = Readonly<{
  now: ResponseCurve;
  before?: ResponseCurve;
  /** Curves that are not drawn and still fit the axis, so that it holds while a control moves. */
  reach?: readonly ResponseCurve[];
  width: number;
  height: number;
  compact: boolean;
  /** What it is called by those who do not see it. */
  name: string;
}>;

const tickHz = [20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000];
const fewTicksHz = [20, 100, 1000, 10_000];
const outerStrings = [openStrings[0], openStrings.at(-1)];
const tickText = (hz: number) => (hz >= 1000 ? `${hz / 1000}k` : String(hz));
// The small drawing has no room for the unit beside its last number, so the number carries it.
const fewTicksText = (hz: number) => (hz === 10_000 ? "10 kHz" : tickText(hz));

/**
 * A frequency response as the trade draws it: decibels over a logarithmic frequency axis, now solid, before dashed, marks
 * labelled in place, the open strings under the axis. Colours are the page's own properties, so that a change of paper
 * needs no redraw.
 */
export function responsePlot(
  {now, before, reach = [], width, height, compact, name}: ResponseView,
  {document, Plot}: Readonly<{document: Document; Plot: PlotMarks}>,
): SVGSVGElement {
  const curves = before ? [now, before] : [now];
  const box = plotBox([...curves, ...reach], {width, height, compact});
  const ticks = compact ? fewTicksHz : tickHz;
  const text = {fontFamily: "var(--label)", fontSize: 12.5} as const;
  const inside = (curve: ResponseCurve) => points(curve).filter(({db}) => db >= box.lowDb - 1);

  const plot = Plot.plot({
    document,
    width,
    height,
    marginLeft: box.left,
    marginRight: width - box.right,
    marginTop: box.top,
    marginBottom: height - box.bottom,
    style: {background: "none", overflow: "visible", color: "var(--quiet)"},
    x: {type: "log", domain: [20, 20_000], axis: null},
    y: {domain: [box.lowDb, box.highDb], axis: null},
    marks: [
      Plot.ruleX(tickHz, {stroke: "var(--hairline)"}),
      Plot.ruleY(decibelSteps(box), {stroke: "var(--hairline)"}),
      ...(box.lowDb <= 0 ? [Plot.ruleY([0], {stroke: "var(--edge)"})] : []),
      Plot.text(ticks, {
        x: (hz: number) => hz,
        text: compact ? fewTicksText : tickText,
        frameAnchor: "bottom",
        lineAnchor: "top",
        dy: 6,
        fill: "var(--quiet)",
        ...text,
      }),
      Plot.text(decibelSteps(box), {
        y: (db: number) => db,
        text: (db: number) => String(db).replace("-", "−"),
        frameAnchor: "left",
        textAnchor: "end",
        dx: -6,
        fill: "var(--quiet)",
        ...text,
      }),
      Plot.text(["dB"], {
        frameAnchor: "top-left",
        textAnchor: "end",
        lineAnchor: "bottom",
        dx: -6,
        dy: -8,
        fill: "var(--quiet)",
        ...text,
      }),
      Plot.tickX(openStrings, {
        x: "frequencyHz",
        stroke: "var(--ink)",
        strokeWidth: 1.5,
        insetTop: box.bottom - box.top - 5,
      }),
      // On the small drawing the outer two stand for the six: there is no room between them.
      Plot.text(compact ? outerStrings : openStrings, {
        x: "frequencyHz",
        text: "name",
        frameAnchor: "bottom",
        lineAnchor: "top",
        dy: compact ? 20 : 24,
        fill: "var(--ink)",
        ...text,
      }),
      ...(compact
        ? []
        : [
            Plot.text(["Hz"], {
              frameAnchor: "bottom-right",
              textAnchor: "end",
              lineAnchor: "top",
              dy: 24,
              fill: "var(--quiet)",
              ...text,
            }),
            Plot.text(["open strings"], {
              frameAnchor: "bottom-left",
              textAnchor: "start",
              lineAnchor: "top",
              dy: 24,
              dx: -2,
              fill: "var(--quiet)",
              ...text,
            }),
          ]),
      ...(before
        ? [
            Plot.line(inside(before), {
              x: "hz",
              y: "db",
              stroke: "var(--before)",
              strokeWidth: 2.2,
              strokeDasharray: "7 5",
              clip: true,
            }),
          ]
        : []),
      Plot.line(inside(now), {x: "hz", y: "db", stroke: "var(--now)", strokeWidth: 3.2, clip: true}),
    ],
  }) as SVGSVGElement;

  // Labels are placed in pixels, so they are written straight into the drawing.
  plot.append(responseMarks({now, before, compact}, box, document));
  plot.setAttribute("role", "img");
  plot.setAttribute("aria-label", name);
  plot.setAttribute("viewBox", `0 0 ${width} ${height}`);
  plot.setAttribute("data-axis", axisOf(box));
  // Names that a drawing library gives to groups are read out as if they were controls.
  for (const group of plot.querySelectorAll("g[aria-label]")) group.removeAttribute("aria-label");
  return plot;
}

/** Every other point of a curve: more than the drawing has pixels would only weigh. */
function points({frequenciesHz, gainDb}: ResponseCurve): readonly Readonly<{hz: number; db: number}>[] {
  const list = [];
  for (let k = 0; k < frequenciesHz.length; k += 2) {
    list.push({hz: round(frequenciesHz[k] ?? 0, 5), db: Number((gainDb[k] ?? 0).toFixed(3))});
  }
  const last = frequenciesHz.length - 1;
  if (last % 2 === 1) list.push({hz: frequenciesHz[last] ?? 0, db: Number((gainDb[last] ?? 0).toFixed(3))});
  return list;
}

const round = (value: number, figures: number) => Number(value.toPrecision(figures));
