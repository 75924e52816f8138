import {beforeSetting, lessonCount, startSetting, type BenchSetting} from "../../engine/course/course-circuit.ts";
import {phraseNames, type PhraseName} from "../../engine/sound/phrases.ts";
import {addressOf, readAddress} from "../bench-state/address.ts";
import {sameBench} from "../bench-state/same-bench.ts";
import {trialCounts, type TrialCount} from "./blind-test.ts";

export {sameBench};

/** A blind test as it is set up: two benches, the phrase, how many trials. */
export type TestSetting = Readonly<{now: BenchSetting; held: BenchSetting; phrase: PhraseName; trials: TrialCount}>;

/** What is offered at first. */
export const startPhrase: PhraseName = "riff";
export const startTrials: TrialCount = 16;

/** The test of a lesson as it starts. */
export const testOfLesson = (lesson: number): Pick<TestSetting, "now" | "held"> => ({
  now: startSetting(lesson),
  held: beforeSetting(lesson),
});

/** The part of an address behind `#` that brings this test back: `lesson=2&C1=470p&trials=12`. */
export function testAddress({now, held, phrase, trials}: TestSetting): string {
  const entries = [`lesson=${now.lesson}`, addressOf(now, held)];
  if (phrase !== startPhrase) entries.push(`phrase=${phrase.replaceAll(" ", "-")}`);
  if (trials !== startTrials) entries.push(`trials=${trials}`);
  return entries.filter(Boolean).join("&");
}

/** Reads such an address; undefined where it names no lesson. What cannot be read is left out and told in `notUnderstood`. */
export function readTestAddress(
  hash: string,
): (TestSetting & Readonly<{notUnderstood: readonly string[]}>) | undefined {
  const entries = hash.replace(/^#/, "").split("&").filter(Boolean);
  const valueOf = (name: string) => entries.find((entry) => entry.startsWith(`${name}=`))?.slice(name.length + 1);
  const lesson = Number(valueOf("lesson"));
  if (!Number.isInteger(lesson) || lesson < 1 || lesson > lessonCount) return undefined;
  const phrase = phraseNames.find((name) => name.replaceAll(" ", "-") === valueOf("phrase"));
  const trials = trialCounts.find((count) => String(count) === valueOf("trials"));
  const own = ["lesson=", ...(phrase ? ["phrase="] : []), ...(trials ? ["trials="] : [])];
  const bench = entries.filter((entry) => !own.some((name) => entry.startsWith(name)));
  const {now, held, notUnderstood} = readAddress(bench.join("&"), lesson);
  return {now, held, phrase: phrase ?? startPhrase, trials: trials ?? startTrials, notUnderstood};
}
