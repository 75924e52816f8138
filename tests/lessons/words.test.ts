import {expect, test} from "vitest";
import {words} from "../../src/lessons/words/words.ts";

const entries = Object.entries(words);

test("there are twenty words or more, in the order of the alphabet, each at its own address", () => {
  expect(entries.length).toBeGreaterThanOrEqual(20);
  const names = entries.map(([name]) => name);
  // As a reader looks them up: E12 stands between diode and follower.
  expect(names).toEqual([...names].sort((a, b) => (a.toLowerCase() < b.toLowerCase() ? -1 : 1)));
  for (const [name, {word}] of entries) expect(name, "the address spells the word").toBe(word.replace(/ /g, "-"));
});

test("a meaning is one to three short sentences and does not explain the word by itself alone", () => {
  for (const [name, {word, meaning}] of entries) {
    expect(meaning.split(/[.:] /).length, name).toBeLessThanOrEqual(3);
    expect(meaning.length, name).toBeLessThanOrEqual(220);
    expect(meaning.endsWith("."), name).toBe(true);
    expect(meaning.startsWith(word), name).toBe(false);
  }
});
