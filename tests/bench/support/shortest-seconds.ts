/** Shortest of `runs` timings of `act`, in seconds, after one run to warm up: other work on the machine only adds. */
export function shortestSeconds(act: () => unknown, runs = 7): number {
  act();
  let shortest = Infinity;
  for (let run = 0; run < runs; run++) {
    const start = performance.now();
    act();
    shortest = Math.min(shortest, performance.now() - start);
  }
  return shortest / 1e3;
}
