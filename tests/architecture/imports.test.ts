import {describe, expect, test} from "vitest";
import {importsOf, wrongImports} from "./imports.ts";
import {projectFiles} from "./project-files.ts";

const source = projectFiles("src");

describe("imports point left only: engine, widgets, lessons, layouts, pages", () => {
  test("every import of the house does", () => {
    expect(source.flatMap(importsOf).length).toBeGreaterThan(100);
    expect(source.flatMap(wrongImports)).toEqual([]);
  });

  test("an engine that asks a widget is told so", () => {
    const text = 'import type {Part} from "./part.ts";\nimport {plot} from "../widgets/plot.ts";\n';
    expect(wrongImports({path: "src/engine/diode.ts", text})).toEqual([
      "src/engine/diode.ts imports ../widgets/plot.ts",
    ]);
  });

  test("an engine that takes a package is told so, in whatever form it asks", () => {
    const text =
      'import "a";\nexport {b} from "b";\nimport {\n  c,\n} from "node:fs";\nconst d = await import("mathjs");\n';
    expect(wrongImports({path: "src/engine/solve/x.ts", text})).toEqual(
      ["a", "b", "node:fs", "mathjs"].map((name) => `src/engine/solve/x.ts imports ${name}`),
    );
  });

  test("a lesson may place a widget, and a widget may not read a lesson", () => {
    const lesson = {path: "src/lessons/a.ts", text: 'import {slider} from "../widgets/slider/slider.ts";'};
    const widget = {path: "src/widgets/path/path.ts", text: 'import {contents} from "../../lessons/contents.ts";'};
    expect(wrongImports(lesson)).toEqual([]);
    expect(wrongImports(widget)).toEqual(["src/widgets/path/path.ts imports ../../lessons/contents.ts"]);
  });
});
