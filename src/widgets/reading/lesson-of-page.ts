/** The number of the lesson that an address belongs to, as in `/lessons/02-in-the-way/`. Throws if it is no lesson's. */
export function lessonOfPage(pathname: string): number {
  const number = /\/lessons\/(\d\d)-/.exec(pathname)?.[1];
  if (number === undefined) throw new RangeError(`${pathname} is no lesson: give the reading its lesson`);
  return Number(number);
}
