import {expect, test} from "vitest";
import {proseOf} from "../architecture/lesson-prose.ts";
import {projectFiles} from "../architecture/project-files.ts";

const lessons = projectFiles("src/lessons").filter(({path}) => path.endsWith(".mdx"));

test.each(lessons)("$path keeps to its length, readings counted as two words each", ({text}) => {
  const prose = proseOf(text.replace(/^description:.*$/m, ""));
  const words = prose.match(/[\p{L}\p{N}]+(?:[’'-][\p{L}\p{N}]+)*/gu)?.length ?? 0;
  const readings = text.match(/<Reading /g)?.length ?? 0;
  expect(words).toBeGreaterThan(600);
  expect(words + 2 * readings).toBeLessThanOrEqual(1100);
});
