// Which modules travel together: a page's scripts come in three files, not in forty, which also pack a third smaller together.

const one = (...names) => new RegExp(`/src/(${names.join("|")})`);

/** On every page; what fetches later scripts is the bundler's own. */
const everywhere = one("layouts/Header", "widgets/(display|fold-away|required|player/volume|carry-on/last-lesson)");
const page = (id) => everywhere.test(id) || id.includes("/preload-helper");

/** Wherever a circuit can be turned and played: the front page and lessons. */
const bench = one("engine/", "widgets/(slider|bench-state|player/player.element|player/Player)");

/** In lessons alone. */
const lesson = one(
  "layouts/Lesson",
  "lessons/words",
  "widgets/(bench|clipping|controls|copy-link|exercise|formula|guess|lesson-text|notebook|reading|response|schematic|what-changed|word)/",
  "widgets/blind-test/(BlindTestLink|blind-test-link)",
);

/** What draws a circuit anew and what plays it, which a first touch and a first press ask for. */
const works = one(
  "engine/(analysis|circuit|course|realtime|solve|sound)/",
  "widgets/player/(works|rough-loudness)",
  "widgets/bench-state/(figures|at-rest-works)",
);

const loadedFirst = ["$initial"];

/** For `output.codeSplitting` of the pages' scripts: each group with all that it imports, the first that wants a module has it. */
export const scriptGroups = {
  groups: [
    {name: "page", test: page, tags: loadedFirst, priority: 3},
    {name: "bench", test: bench, tags: loadedFirst, priority: 2},
    {name: "lesson", test: lesson, tags: loadedFirst, priority: 1},
    {name: "works", test: works, priority: 0},
  ],
};
