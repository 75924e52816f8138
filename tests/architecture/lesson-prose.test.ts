import {expect, test} from "vitest";
import {projectFiles} from "./project-files.ts";
import {proseOf, typedQuantities} from "./lesson-prose.ts";

const lessons = projectFiles("src/lessons").filter(({path}) => path.endsWith(".mdx"));

test("there are lessons, and they have words", () => {
  expect(lessons.length).toBeGreaterThan(0);
  for (const {text} of lessons) expect(proseOf(text).split(/\s+/).length).toBeGreaterThan(300);
});

test.each(lessons)("$path types no quantity that the engine could compute", ({text}) => {
  expect(typedQuantities(text)).toEqual([]);
});

test("a typed quantity is found, in prose alone", () => {
  expect(typedQuantities("The corner is at 709 Hz.")).toEqual(["The corner is at 709 Hz."]);
  expect(typedQuantities("It has lost 3 dB; read it at 10 kHz.")).toEqual([]);
  expect(typedQuantities("It swings 9\u00a0V.")).toHaveLength(1);
  expect(typedQuantities("Swap it for 68 nF now.")).toHaveLength(1);
  expect(typedQuantities("It gains 40dB.")).toHaveLength(1);
  expect(
    typedQuantities('Here `68 nF`, $R = 1 V$, <Guess options={[{label: "1 dB"}]} answer="2 V" /> and 3 Volks.'),
  ).toEqual([]);
});
