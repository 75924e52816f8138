import {atRoot, documentOf, routesOf} from "./routes.ts";
import {expect, test} from "./site.ts";

const pages = routesOf(atRoot).filter((route) => /^lessons\/./.test(route));

for (const [name, route] of [
  ["front page", ""],
  ["lesson index", "lessons/"],
] as const) {
  test(`the path on the ${name} names all twenty-one lessons, and links to those there are`, () => {
    const stops = [...documentOf(atRoot, route).querySelectorAll("main .path .stop")];
    expect(stops.map((stop) => Number(stop.querySelector(".number")?.textContent))).toEqual(
      Array.from({length: 21}, (_, k) => k + 1),
    );
    const linked = stops.filter((stop) => stop.querySelector("a"));
    const targets = linked.map((stop) => stop.querySelector("a")?.getAttribute("href")?.replace(/^\//, ""));
    expect(targets.sort()).toEqual([...pages].sort());
    for (const stop of stops) {
      const says = /coming/.test(stop.textContent);
      expect(says, `“${stop.textContent.trim().replace(/\s+/g, " ")}” says that it is coming`).toBe(
        !linked.includes(stop),
      );
    }
  });
}
