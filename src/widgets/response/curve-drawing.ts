import {line, plot, ruleX, ruleY, text, tickX} from "@observablehq/plot";
import {startSetting} from "../../engine/course/course-circuit.ts";
import {lesson, partInHand} from "../bench-state/bench-state.ts";
import {heldResponse, nowResponse} from "../bench-state/figures.ts";
import {responseOf, type ResponseCurve} from "../bench-state/curves.ts";
import {required} from "../required.ts";
import {drawingSizes} from "./drawing-sizes.ts";
import {lessonReach} from "./lesson-reach.ts";
import {moveResponse} from "./move-response.ts";
import {responsePlot} from "./response-plot.ts";
import {responseSummary} from "./summary.ts";

/** Keeps the drawings of a response true. `follow` brings them to where the bench is, `halt` leaves them where they are. */
export type CurveDrawing = Readonly<{follow: () => void; halt: () => void}>;

const morphMilliseconds = 160;
const drawingNames = ["wide", "middle", "compact"] as const;

/** Asking the drawings which of them shows would lay the page out twice a frame; the style sheet goes by these widths. */
const shownDrawing = () =>
  matchMedia("(width < 480px)").matches ? "compact" : matchMedia("(height < 860px)").matches ? "middle" : "wide";

/** Takes over the drawings that the page was served with. */
export function curveDrawing(host: HTMLElement): CurveDrawing {
  let shown: ResponseCurve = responseOf(startSetting(lesson.peek()));
  const reach = lessonReach(lesson.peek());
  let aim = shown;
  let ghost: ResponseCurve | undefined;
  let frame = 0;

  const draw = (names: readonly (keyof typeof drawingSizes)[], name: string, afresh = false) => {
    for (const size of names) {
      const view = {now: shown, before: heldResponse.peek(), reach, ...drawingSizes[size], name};
      const place = required(host, `.response-drawing.${size} .plot`, HTMLElement);
      const drawn = required(place, "svg", SVGSVGElement);
      if (afresh || !moveResponse(drawn, view))
        place.replaceChildren(responsePlot(view, {document, Plot: {line, plot, ruleX, ruleY, text, tickX}}));
    }
    for (const ring of host.querySelectorAll<SVGElement>(".mark-ring"))
      ring.toggleAttribute("data-lit", ring.dataset["ref"] === partInHand.peek());
  };

  const rest = (afresh: boolean) => {
    const summary = responseSummary(nowResponse.peek(), heldResponse.peek());
    required(host, ".summary", HTMLElement).textContent = summary;
    // Those out of sight follow when the curve has come to rest: paper and a turned screen may show them.
    draw(drawingNames, `Frequency response. ${summary}`, afresh);
  };

  /** From the curve that is shown to the one that is true, in 160 ms; at once where motion is not wanted. */
  const follow = () => {
    const from = shown;
    const to = nowResponse.peek();
    // A move that changes no curve, such as that of the phrase level, draws none.
    if (to === aim && ghost === heldResponse.peek()) return;
    aim = to;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const begun = performance.now();
    const newGhost = ghost !== heldResponse.peek();
    ghost = heldResponse.peek();
    cancelAnimationFrame(frame);
    const step = () => {
      const share = still ? 1 : Math.min(1, (performance.now() - begun) / morphMilliseconds);
      shown = share === 1 ? to : between(from, to, 1 - (1 - share) ** 3);
      if (share === 1) return rest(newGhost);
      draw([shownDrawing()], "Frequency response");
      frame = requestAnimationFrame(step);
    };
    step();
  };

  return {follow, halt: () => cancelAnimationFrame(frame)};
}

function between(from: ResponseCurve, to: ResponseCurve, share: number): ResponseCurve {
  const gainDb = to.gainDb.map((db, k) => {
    const was = from.gainDb[k] ?? db;
    // There is no way from silence to a level, or back.
    return Number.isFinite(was) && Number.isFinite(db) ? was * (1 - share) + db * share : db;
  });
  return {...to, gainDb};
}
