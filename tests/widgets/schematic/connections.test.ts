import {describe, expect, test} from "vitest";
import {type BenchSetting, courseCircuit, startSetting} from "../../../src/engine/course/course-circuit.ts";
import {crossingsOf, junctionsOf, netsOf, terminalsOf} from "../../../src/widgets/schematic/connections.ts";
import type {Drawing} from "../../../src/widgets/schematic/drawing.ts";
import {drawingOf} from "../../../src/widgets/schematic/drawings/drawings.ts";
import {toPx} from "../../../src/widgets/schematic/geometry.ts";
import {lessons, sizes} from "./every-view.ts";

/** Nodes of the circuit, those joined by a wire taken as one. */
function joinedNodes(setting: BenchSetting): (node: string) => string {
  const joined = new Map<string, string>();
  const find = (node: string): string => (joined.has(node) ? find(joined.get(node) ?? node) : node);
  for (const part of courseCircuit(setting).circuit.parts)
    if (part.kind === "wire" && find(part.nodes[0]) !== find(part.nodes[1]))
      joined.set(find(part.nodes[0]), find(part.nodes[1]));
  return find;
}

/** Pairs of [what the drawing joins, what the circuit joins], one for each terminal and mark. */
function meetings(drawing: Drawing, setting: BenchSetting) {
  const parts = new Map(courseCircuit(setting).circuit.parts.map((part) => [part.ref, part]));
  const nodeOf = joinedNodes(setting);
  const netOf = netsOf(drawing);
  return [
    ...terminalsOf(drawing).map(({ref, index, point}) => {
      const node = parts.get(ref)?.nodes[index];
      expect(node, `${ref} has a terminal ${index} in the circuit`).toBeDefined();
      return {what: `${ref} terminal ${index}`, net: netOf(point), node: nodeOf(node ?? "")};
    }),
    ...drawing.marks.map((mark) => ({what: mark.kind, net: netOf(toPx(mark.at)), node: nodeOf(mark.node), mark})),
  ];
}

const cases = [...lessons.map(startSetting), {lesson: 5, settings: {...startSetting(5).settings, leg: 1}}].flatMap(
  (setting) => sizes.map((size) => ({setting, size, title: `lesson ${setting.lesson}, ${size}`})),
);

describe.each(cases)("the drawing of $title", ({setting, size}) => {
  const drawing = drawingOf(setting, size);
  const all = meetings(drawing, setting);

  test("joins nothing that the circuit keeps apart", () => {
    const nodes = new Map<string, string>();
    for (const {what, net, node} of all) {
      expect(`${what}: ${nodes.get(net) ?? node}`).toBe(`${what}: ${node}`);
      nodes.set(net, node);
    }
  });

  test("joins all that the circuit joins, by wires or by marks of one name", () => {
    // Two nets of one node are one conductor where each carries a mark that says so.
    for (const node of new Set(all.map((each) => each.node))) {
      const nets = new Set(all.filter((each) => each.node === node).map(({net}) => net));
      const marked = new Set(all.filter((each) => each.node === node && "mark" in each).map(({net}) => net));
      if (nets.size > 1) expect([...nets].filter((net) => !marked.has(net))).toEqual([]);
    }
  });

  test("says where something is left out", () => {
    const nodeOf = joinedNodes(setting);
    const drawn = new Set(drawing.parts.map(({ref}) => ref));
    const shown = new Set(all.filter((each) => !("mark" in each)).map(({node}) => node));
    const marked = new Set(all.filter((each) => "mark" in each).map(({node}) => node));
    for (const part of courseCircuit(setting).circuit.parts) {
      if (drawn.has(part.ref) || part.kind === "wire") continue;
      const met = part.nodes.map(nodeOf).filter((node) => shown.has(node));
      expect({left: part.ref, unsaid: met.filter((node) => !marked.has(node))}).toEqual({left: part.ref, unsaid: []});
    }
  });

  test("crosses no wires", () => expect(crossingsOf(drawing)).toEqual([]));

  test("places each part once", () => {
    const refs = drawing.parts.map(({ref}) => ref);
    expect(new Set(refs).size).toBe(refs.length);
  });
});

test("a wire moved off its terminal is found out", () => {
  const setting = startSetting(2);
  const drawing = drawingOf(setting, "wide");
  const broken = {...drawing, wires: drawing.wires.filter(([first]) => first?.[0] !== 5.5)};
  const nets = (of: Drawing) =>
    new Set(
      meetings(of, setting)
        .filter(({node}) => node === "y")
        .map(({net}) => net),
    ).size;
  expect([nets(drawing), nets(broken)]).toEqual([1, 2]);
});

test("a dot stands where three lines meet, and not where two do", () => {
  const drawing: Drawing = {
    title: "",
    size: [4, 4],
    parts: [],
    wires: [
      [
        [0, 1],
        [2, 1],
        [2, 3],
      ],
      [
        [1, 1],
        [1, 3],
      ],
    ],
    marks: [],
  };
  expect(junctionsOf(drawing)).toEqual([{x: 24, y: 24}]);
});

test("wires that cross in the open are reported", () => {
  const wires = [
    [
      [0, 1],
      [2, 1],
    ],
    [
      [1, 0],
      [1, 2],
    ],
  ] as const;
  expect(crossingsOf({title: "", size: [2, 2], parts: [], wires, marks: []})).toEqual([{x: 24, y: 24}]);
});

test("the wide drawings of the first two lessons leave no part out", () => {
  for (const lesson of [1, 2]) {
    const setting = startSetting(lesson);
    const drawn = drawingOf(setting, "wide")
      .parts.map(({ref}) => ref)
      .toSorted();
    expect(drawn).toEqual(
      courseCircuit(setting)
        .circuit.parts.map(({ref}) => ref)
        .toSorted(),
    );
  }
});
