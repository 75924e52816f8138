import {describe, expect, test} from "vitest";
import {beforeSetting, controlsOf, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {responseOf} from "../../../src/widgets/bench-state/curves.ts";
import {drawingSizes} from "../../../src/widgets/response/drawing-sizes.ts";
import {
  between,
  onZeroLine,
  overlap,
  pixelsOf,
  placeLabels,
  rings,
  type Wanted,
} from "../../../src/widgets/response/place-labels.ts";
import {plotBox} from "../../../src/widgets/response/plot-box.ts";

const wantedAt = (text: string, frequencyHz: number, gainDb: number, leftShoulder = false): Wanted => ({
  text,
  frequencyHz,
  gainDb,
  leftShoulder,
});

describe("labels of the curves", () => {
  for (const lesson of [1, 2]) {
    for (const {name, values} of controlsOf(lesson)) {
      test(`cover neither each other nor the edge at any stop of ${name} in lesson ${lesson}`, () => {
        const before = responseOf(beforeSetting(lesson));
        for (const value of values) {
          const {settings} = startSetting(lesson);
          const now = responseOf({lesson, settings: {...settings, [name]: value}});
          const wanted = [
            ...now.corners.map(({kind, ...mark}) =>
              wantedAt("now: corner 999 Hz", mark.frequencyHz, mark.gainDb, kind === "low corner"),
            ),
            ...before.corners.map((mark) => wantedAt("before: hump 9.99 kHz", mark.frequencyHz, mark.gainDb)),
          ];
          const box = plotBox([now, before], drawingSizes.wide);
          const placed = placeLabels(wanted, [now, before], box);
          expect(placed.map(({text}) => text)).toEqual(wanted.map(({text}) => text));
          placed.forEach((label, k) => {
            expect(label.x - label.width / 2).toBeGreaterThanOrEqual(box.left);
            expect(label.x + label.width / 2).toBeLessThanOrEqual(box.right);
            expect(rings(label, [now, before], box), "markers under a label").toBe(0);
            expect(label.y + 7.5, "clear of the open strings' ticks").toBeLessThan(box.bottom - 5);
            expect(label.y - 7.5, "inside the drawing").toBeGreaterThan(0);
            for (const other of placed.slice(k + 1)) expect(overlap(label, other)).toBe(false);
          });
        }
      });
    }
  }

  test.each([{RV1: 1}, {R3: 100}, {RV1: 0.5}, {C3: 4.7e-9}, {}])(
    "before's hump in lesson 6 with %o is named neither on the line of 0 dB nor from beyond the curve of now",
    (moved) => {
      const before = responseOf(beforeSetting(6));
      const now = responseOf({lesson: 6, settings: {...startSetting(6).settings, ...moved}});
      const box = plotBox([now, before], drawingSizes.wide);
      const wanted = [
        ...now.corners.map(({kind, ...mark}) =>
          wantedAt("now: corner 999 Hz", mark.frequencyHz, mark.gainDb, kind === "low corner"),
        ),
        ...before.corners.map((mark) => wantedAt("before: hump 9.99 kHz", mark.frequencyHz, mark.gainDb)),
      ];
      const curves = [now, before].map((curve) => pixelsOf(curve, box));
      placeLabels(wanted, [now, before], box).forEach((label, k) => {
        expect(onZeroLine(label, box), label.text).toBe(false);
        expect(between(label, wanted[k] ?? wantedAt("", 20, 0), curves, box), label.text).toBe(0);
      });
    },
  );

  test("a left shoulder is labelled above and to its left while there is room", () => {
    const curve = responseOf({lesson: 2, settings: {C1: 470e-12}});
    const box = plotBox([curve], drawingSizes.wide);
    const [placed] = placeLabels([wantedAt("now", 1000, -15, true)], [], box);
    const [plain] = placeLabels([wantedAt("now", 1000, -15)], [], box);
    expect(placed?.x).toBeLessThan(plain?.x ?? 0);
  });
});
