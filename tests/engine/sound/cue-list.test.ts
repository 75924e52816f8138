import {expect, test} from "vitest";
import {cueListCsv, cueListWebVtt, type Cue} from "../../../src/engine/sound/cue-list.ts";

const cues: readonly Cue[] = [
  {startSeconds: 0, endSeconds: 6.38, name: "The wire", about: "guitar, cable, amplifier"},
  {startSeconds: 6.38, endSeconds: 3725.0614583, name: 'Said "soft" & <hard>', about: ""},
];

// The forms are worked out by hand from RFC 4180 and the W3C's WebVTT.
test("the CSV quotes what holds a comma or a quote, and ends its lines as RFC 4180 has it", () => {
  expect(cueListCsv(cues)).toBe(
    "number,start in seconds,end in seconds,name,about\r\n" +
      '1,0.000000,6.380000,The wire,"guitar, cable, amplifier"\r\n' +
      '2,6.380000,3725.061458,"Said ""soft"" & <hard>",\r\n',
  );
});

test("the WebVTT tells times by the clock, escapes its marks and has no empty line inside a cue", () => {
  expect(cueListWebVtt(cues)).toBe(
    "WEBVTT\n\n" +
      "1\n00:00:00.000 --> 00:00:06.380\nThe wire\nguitar, cable, amplifier\n\n" +
      '2\n00:00:06.380 --> 01:02:05.061\nSaid "soft" &amp; &lt;hard&gt;\n',
  );
});

test("times are rounded as a whole: no minute has sixty seconds", () => {
  expect(cueListWebVtt([{startSeconds: 59.9996, endSeconds: 119.9999, name: "a", about: "b\n\nc"}])).toContain(
    "00:01:00.000 --> 00:02:00.000\na\nb c\n",
  );
});

test("a list that runs backwards is refused, and an empty one is a header", () => {
  expect(() => cueListCsv([...cues].reverse())).toThrow(
    new RangeError("cue 2 must follow 3725.0614583 s and last, got 0 s to 6.38 s"),
  );
  expect(() => cueListWebVtt([{startSeconds: 1, endSeconds: 1, name: "", about: ""}])).toThrow(RangeError);
  expect(cueListWebVtt([])).toBe("WEBVTT\n");
  expect(cueListCsv([])).toBe("number,start in seconds,end in seconds,name,about\r\n");
});
