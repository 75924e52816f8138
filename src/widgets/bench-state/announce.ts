let waiting: ReturnType<typeof setTimeout> | undefined;

/** Says a sentence in the page's one polite region, once there has been 400 ms of quiet. */
export function announce(sentence: string): void {
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    const region = document.querySelector("#announcer");
    if (region) region.textContent = sentence;
  }, 400);
}
