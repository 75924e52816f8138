/** A press or a picture of the page waits no longer than this for what is worked out beside it. */
const sliceMilliseconds = 12;
const breath = () => new Promise((resolve) => setTimeout(resolve));

/** What `parts` returns in the end; whatever else the page does comes in between two of its parts. */
export async function betweenTasks<Result>(parts: Generator<unknown, Result>): Promise<Result> {
  for (let since = performance.now(); ;) {
    const {done, value} = parts.next();
    if (done === true) return value;
    if (performance.now() - since < sliceMilliseconds) continue;
    await breath();
    since = performance.now();
  }
}
