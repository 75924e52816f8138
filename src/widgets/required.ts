/** The element that `selector` finds inside `parent`. Throws, with the parent's name, if the page was built without it. */
export function required<T extends Element>(parent: Element, selector: string, type: new () => T): T {
  const found = parent.querySelector(selector);
  if (found instanceof type) return found;
  throw new Error(`<${parent.localName}> needs ${selector}`);
}
