/** The places of the site that every page leads to, in the order of the head of the page. */
export const places = [
  {name: "lessons", path: "/lessons/", label: "Lessons"},
  {name: "words", path: "/words/", label: "Words"},
  {name: "listen", path: "/listen/", label: "Listen"},
  {name: "exercises", path: "/exercises/", label: "Exercises"},
  {name: "safety", path: "/about/safety/", label: "Safety"},
  {name: "about", path: "/about/", label: "About"},
] as const;

/** Which of them a page belongs to. */
export type Place = (typeof places)[number]["name"];
