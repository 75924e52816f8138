import {existsSync} from "node:fs";
import {join} from "node:path";
import {allExercises} from "../../src/lessons/exercises/exercises.ts";
import {atRoot, documentOf, routesOf, underClass, type Site} from "./routes.ts";
import {expect, test} from "./site.ts";

/** Each address in the pages of a build that leads to no file, or to no element of the page it leads to. */
function deadLinks(site: Site): {dead: string[]; followed: number} {
  const dead: string[] = [];
  let followed = 0;
  for (const route of routesOf(site)) {
    const here = new URL(site.base + route, "http://site");
    const elements = documentOf(site, route).querySelectorAll("[href], [src]");
    for (const element of elements) {
      const written = element.getAttribute("href") ?? element.getAttribute("src") ?? "";
      const {origin, pathname, hash} = new URL(written, here);
      if (origin !== here.origin) continue;
      followed++;
      const inside = pathname.startsWith(site.base) ? decodeURIComponent(pathname.slice(site.base.length)) : undefined;
      const isPage = inside !== undefined && (inside === "" || inside.endsWith("/"));
      if (inside === undefined || !existsSync(join(site.folder, inside, isPage ? "index.html" : ""))) {
        dead.push(`/${route}: ${written} leads nowhere`);
      } else if (isPage && hash.length > 1 && !hash.includes("=")) {
        // A hash with "=" in it is the state of a bench and no place on the page.
        const target = documentOf(site, inside).getElementById(decodeURIComponent(hash.slice(1)));
        if (!target) dead.push(`/${route}: ${written} names no element`);
      }
    }
  }
  return {dead, followed};
}

for (const [name, site] of [
  ["at the root", atRoot],
  ["under /class/", underClass],
] as const) {
  test(`every link ${name} leads to a page, a file or an element`, () => {
    const {dead, followed} = deadLinks(site);
    expect(followed).toBeGreaterThan(20);
    expect(dead).toEqual([]);
  });
}

test("no id stands twice on a page", () => {
  for (const route of routesOf(atRoot)) {
    const ids = [...documentOf(atRoot, route).querySelectorAll("[id]")].map(({id}) => id);
    expect(
      ids.filter((id, index) => ids.indexOf(id) !== index),
      `/${route}`,
    ).toEqual([]);
  }
});

test("the list of exercises names a question's choices in one sentence, and each heading leads to its lesson", () => {
  const list = documentOf(atRoot, "exercises/");
  for (const exercise of allExercises) {
    const place = [...list.querySelectorAll("dt a")].find(({textContent}) => textContent?.trim() === exercise.id);
    const said = place?.closest("div")?.querySelector("dd");
    const choices = exercise.kind === "choice" ? exercise.options.map(({label}) => label).join("; ") : "";
    expect(said?.querySelector(".to-choose")?.textContent?.trim() ?? "", exercise.id).toBe(
      choices && `To choose from, in the lesson: ${choices}.`,
    );
  }
  for (const heading of list.querySelectorAll("main h2")) {
    expect(heading.querySelector("a")?.getAttribute("href"), heading.textContent ?? "").toMatch(
      /\/lessons\/\d\d-[a-z-]+\/$/,
    );
  }
});

test("each word that a lesson explains in place leads from the list of words to that lesson", () => {
  const list = documentOf(atRoot, "words/");
  const lessons = routesOf(atRoot).filter((route) => /^lessons\/./.test(route));
  for (const lesson of lessons) {
    const explained = [...documentOf(atRoot, lesson).querySelectorAll("explained-word a")];
    const ids = explained.map((link) => link.getAttribute("href")?.replace(/^.*#/, "") ?? "");
    expect(ids.length, lesson).toBeGreaterThan(0);
    for (const id of ids) {
      const places = [...(list.getElementById(id)?.querySelectorAll("a") ?? [])].map((link) =>
        link.getAttribute("href"),
      );
      expect(places, id).toContain(`/${lesson}`);
    }
  }
});
