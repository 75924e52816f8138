import {expect, test} from "vitest";
import {fullPosition, positionOf, spokenVolume, startPosition, volumeDb} from "../../../src/widgets/player/volume.ts";

const places = Array.from({length: fullPosition + 1}, (_, place) => place);

test("the volume opens at 18 dB below full, clearly below the middle of the travel", () => {
  expect(volumeDb(startPosition)).toBe(-18);
  expect(startPosition / fullPosition).toBeLessThan(0.4);
  expect(spokenVolume(startPosition)).toBe("18 decibels below full");
});

test("it rises from silence to full, and never above", () => {
  const heard = places.map(volumeDb);
  expect(heard).toEqual(heard.toSorted((a, b) => a - b));
  expect(new Set(heard).size).toBe(heard.length);
  expect([heard[0], heard.at(-1)]).toEqual([-Infinity, 0]);
  expect([spokenVolume(0), spokenVolume(1), spokenVolume(fullPosition)]).toEqual([
    "silent",
    "45 decibels below full",
    "full",
  ]);
});

test("the place of a level is the nearest that is no louder", () => {
  for (const place of places) expect(positionOf(volumeDb(place))).toBe(place);
  expect(volumeDb(positionOf(-30))).toBe(-30);
  expect(volumeDb(positionOf(-31))).toBe(-33);
  expect(positionOf(-60)).toBe(0);
});
