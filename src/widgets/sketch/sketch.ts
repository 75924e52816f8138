/** One element of a drawing: its tag, attributes, and words. */
export type Shape = Readonly<{tag: string; attributes: Readonly<Record<string, string | number>>; words?: string}>;

/**
 * A drawing as data, in pixels of its own box: what stays while its axes stay, and what moves. `axes` names the first: two
 * sketches with the same name differ in what moves alone.
 */
export type Sketch = Readonly<{
  width: number;
  height: number;
  /** What it is called by those who do not see it. */
  name: string;
  axes: string;
  fixed: readonly Shape[];
  moving: readonly Shape[];
}>;

const svg = "http://www.w3.org/2000/svg";

/** A shape with an attribute for each entry; numbers are written with one decimal, finer than a pixel of any screen. */
export const shape = (tag: string, attributes: Shape["attributes"], words?: string): Shape => ({
  tag,
  attributes,
  ...(words === undefined ? {} : {words}),
});

/** A path through points given in pixels. */
export const path = (points: readonly (readonly [number, number])[], kind: string): Shape =>
  shape("path", {d: `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`, class: kind});

/** Draws a sketch. */
export function drawn(sketch: Sketch, document: Document): SVGSVGElement {
  const root = document.createElementNS(svg, "svg");
  root.setAttribute("viewBox", `0 0 ${sketch.width} ${sketch.height}`);
  root.setAttribute("role", "img");
  root.setAttribute("aria-label", sketch.name);
  root.setAttribute("data-axes", sketch.axes);
  for (const [layer, shapes] of [
    ["fixed", sketch.fixed],
    ["moving", sketch.moving],
  ] as const) {
    const group = document.createElementNS(svg, "g");
    group.setAttribute("class", layer);
    for (const each of shapes) {
      const element = document.createElementNS(svg, each.tag);
      write(element, each);
      group.append(element);
    }
    root.append(group);
  }
  return root;
}

/**
 * Moves a drawing to where a sketch has it, and writes nothing that is already so: a frame of a drag costs a fraction of
 * drawing anew. Returns false, having done nothing, where axes or kinds of shapes differ.
 */
export function moved(root: SVGSVGElement, sketch: Sketch): boolean {
  const elements = root.querySelector("g.moving")?.children;
  if (root.getAttribute("data-axes") !== sketch.axes || elements?.length !== sketch.moving.length) return false;
  if (sketch.moving.some(({tag}, k) => elements[k]?.localName !== tag)) return false;
  sketch.moving.forEach((each, k) => {
    const element = elements[k];
    if (element) write(element, each);
  });
  if (root.getAttribute("aria-label") !== sketch.name) root.setAttribute("aria-label", sketch.name);
  return true;
}

function write(element: Element, {attributes, words}: Shape) {
  for (const [name, value] of Object.entries(attributes)) {
    const text = typeof value === "number" ? value.toFixed(1) : value;
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
  if (words !== undefined && element.textContent !== words) element.textContent = words;
}
