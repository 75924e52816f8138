const key = "part-by-part.last-lesson";

/** The number of the lesson last open in this browser; undefined when none is known or storage is refused. */
export function lastLesson(): number | undefined {
  try {
    const number = Number(localStorage.getItem(key));
    return Number.isInteger(number) && number > 0 ? number : undefined;
  } catch {
    return undefined;
  }
}

/** Remembers that lesson `number` is open. Does nothing where storage is refused. */
export function rememberLesson(number: number): void {
  try {
    localStorage.setItem(key, String(number));
  } catch {
    // The lesson works without; only 'carry on' is lost.
  }
}
