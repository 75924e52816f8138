import {signal} from "@preact/signals-core";
import {beforeEach, expect, test, vi} from "vitest";
import {onChange} from "../../../src/widgets/bench-state/on-change.ts";
import {afterSound, soundFirst, soundServed} from "../../../src/widgets/bench-state/sound-first.ts";

const frame = () => vi.advanceTimersByTimeAsync(17);

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("requestAnimationFrame", (act: () => void) => setTimeout(act, 16));
  vi.stubGlobal("cancelAnimationFrame", (frame: number) => clearTimeout(frame));
  return () => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  };
});

/** A bench whose drawing notes what it was asked to show. */
function drawnBench() {
  const bench = signal(0);
  const drawn: number[] = [];
  return {bench, drawn, stop: onChange(bench, (value) => drawn.push(value))};
}

test("a drawing waits for a sound that is awaited, and shows the newest bench then", async () => {
  const {bench, drawn} = drawnBench();
  let sounds = () => {};
  soundFirst(new Promise<void>((resolve) => (sounds = resolve)));
  bench.value = 1;
  await frame();
  bench.value = 2;
  await frame();
  expect(drawn).toEqual([]);
  sounds();
  await frame();
  expect(drawn).toEqual([2]);
  expect(soundServed()).toBeUndefined();
  bench.value = 3;
  await frame();
  expect(drawn).toEqual([2, 3]);
});

test("a sound that fails, or never comes, keeps no drawing waiting for good", async () => {
  const {bench, drawn} = drawnBench();
  soundFirst(Promise.reject(new Error("no device")));
  bench.value = 1;
  await frame();
  await frame();
  expect(drawn).toEqual([1]);
  soundFirst(new Promise(() => {}));
  bench.value = 2;
  await frame();
  expect(drawn).toEqual([1]);
  await vi.advanceTimersByTimeAsync(1000);
  expect(drawn).toEqual([1, 2]);
});

test("a drawing that has gone from the page meanwhile is not asked any more", async () => {
  const {bench, drawn, stop} = drawnBench();
  let sounds = () => {};
  soundFirst(new Promise<void>((resolve) => (sounds = resolve)));
  bench.value = 1;
  await frame();
  stop();
  sounds();
  await frame();
  expect(drawn).toEqual([]);
});

test("what has been fetched to draw with waits too, for a sound asked for while it was on its way", async () => {
  const told: string[] = [];
  let fetched = (_: string) => {};
  void afterSound(new Promise<string>((resolve) => (fetched = resolve))).then((drawing) => told.push(drawing));
  let sounds = () => {};
  soundFirst(new Promise<void>((resolve) => (sounds = resolve)));
  fetched("drawing");
  await frame();
  expect(told).toEqual([]);
  sounds();
  await frame();
  expect(told).toEqual(["drawing"]);
});
