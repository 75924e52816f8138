import {schematicFragment} from "./schematic-fragment.ts";
import type {SchematicView} from "./view.ts";

/**
 * Brings a drawing up to what `view` says and moves nothing that has not changed: values, names and wipers are replaced
 * in place. Where a switch has changed the circuit itself the groups that differ are drawn anew, the focus kept.
 */
export function refreshDrawing(svg: SVGSVGElement, view: SchematicView): void {
  const document = svg.ownerDocument;
  const describedBy = svg.getAttribute("aria-describedby");
  const fresh = schematicFragment(view, {document, ...(describedBy ? {describedBy} : {})});
  if (shapeOf(fresh) !== shapeOf(svg)) {
    const focused = svg.contains(document.activeElement)
      ? document.activeElement?.closest(".part")?.getAttribute("data-ref")
      : undefined;
    svg.replaceChildren(...fresh.childNodes);
    if (focused) svg.querySelector<SVGGElement>(`[data-ref="${focused}"] .grip`)?.focus();
    return;
  }
  const news = Array.from(fresh.querySelectorAll(changing));
  for (const [index, element] of Array.from(svg.querySelectorAll(changing)).entries()) bring(element, news[index]);
}

/** What values change: label texts, spoken names, wipers, and the plates that fit round the labels. */
const changing = "text, .grip, .wiper, .plate";
const values = ["aria-label", "d", "x", "y", "width", "height"];

function bring(element: Element, news: Element | undefined): void {
  if (!news) return;
  for (const name of values) {
    const value = news.getAttribute(name);
    if (value !== null && value !== element.getAttribute(name)) element.setAttribute(name, value);
  }
  if (element.localName === "text" && element.textContent !== news.textContent)
    element.replaceChildren(...news.childNodes);
}

/** A drawing without what values change: two that agree in it differ in nothing else. */
const shapeOf = (svg: SVGSVGElement): string => Array.from(svg.querySelectorAll("*"), shapeOfStroke).join("\n");

const shapeOfStroke = (element: Element): string =>
  element.matches(changing) || element.localName === "tspan"
    ? `${element.localName} ${element.getAttribute("class")}`
    : `${element.getAttribute("class")} ${element.getAttribute("d")} ${element.getAttribute("transform")}`;
