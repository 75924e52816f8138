/** One stretch of a recording: where it begins and ends, in seconds, its name, and a few words about it. */
export type Cue = Readonly<{startSeconds: number; endSeconds: number; name: string; about: string}>;

/**
 * A cue list as CSV: a header, then one line a cue; seconds with six decimals, to the nearest sample of any usual rate.
 *
 * Format: RFC 4180 (lines end in CR LF; a field with a comma, a quote or a line break stands in quotes).
 *
 * @throws {RangeError} as `cueListWebVtt`
 */
export function cueListCsv(cues: readonly Cue[]): string {
  check(cues);
  const field = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const lines = cues.map(({startSeconds, endSeconds, name, about}, k) =>
    [String(k + 1), startSeconds.toFixed(6), endSeconds.toFixed(6), name, about].map(field).join(","),
  );
  return ["number,start in seconds,end in seconds,name,about", ...lines].map((line) => `${line}\r\n`).join("");
}

/**
 * The same as WebVTT, for a video's chapters or captions: times to the millisecond, the name on one line, what it is about on the
 * next.
 *
 * Format: WebVTT: The Web Video Text Tracks Format (W3C, TR/webvtt1): "&", "<" and ">" are escaped, and no line of a cue is
 * empty. A browser's own reader reads it back in tests/site/whole-build.spec.ts.
 *
 * @throws {RangeError} if a cue ends before it begins, or begins before the one in front of it has ended
 */
export function cueListWebVtt(cues: readonly Cue[]): string {
  check(cues);
  const blocks = cues.map(({startSeconds, endSeconds, name, about}, k) =>
    [
      String(k + 1),
      `${clock(startSeconds)} --> ${clock(endSeconds)}`,
      ...[name, about].map(plainLine).filter((line) => line !== ""),
    ].join("\n"),
  );
  return `${["WEBVTT", ...blocks].join("\n\n")}\n`;
}

/** Hours, minutes, seconds and thousandths: "00:01:06.380". */
function clock(seconds: number): string {
  const thousandths = Math.round(1000 * seconds);
  const part = (every: number, of: number, digits: number) =>
    String(Math.floor(thousandths / every) % of).padStart(digits, "0");
  return `${part(3_600_000, Infinity, 2)}:${part(60_000, 60, 2)}:${part(1000, 60, 2)}.${part(1, 1000, 3)}`;
}

const plainLine = (text: string) =>
  text.replace(/\s+/g, " ").trim().replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");

function check(cues: readonly Cue[]): void {
  let reached = 0;
  for (const [k, {startSeconds, endSeconds}] of cues.entries()) {
    if (!(startSeconds >= reached && endSeconds > startSeconds)) {
      throw new RangeError(`cue ${k + 1} must follow ${reached} s and last, got ${startSeconds} s to ${endSeconds} s`);
    }
    reached = endSeconds;
  }
}
