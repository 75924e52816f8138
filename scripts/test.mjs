// npm test: everything that must hold, on a machine that may be new. The last line counts what passed and what failed.
import {existsSync, mkdirSync, readFileSync, rmSync} from "node:fs";
import {join} from "node:path";
import {gatherAccuracy} from "./accuracy.mjs";
import {browser} from "./browser.mjs";
import {check} from "./check.mjs";
import {installed, root, run} from "./project.mjs";

const output = join(root, "tests", "output");
const total = {passed: 0, failed: 0, skipped: 0};
const add = ({passed, failed, skipped = 0}) => {
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
};

/** Counts from a report; a run that left no report, or that ran nothing, is one failure. */
function counted(name, status, file, read) {
  if (!existsSync(file)) return fail(`${name} left no report`);
  const {passed, failed, skipped} = read(JSON.parse(readFileSync(file, "utf8")));
  console.log(`${name}: ${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`);
  if (passed + failed === 0) return fail(`${name} ran no test`);
  return {passed, failed: failed === 0 && status !== 0 ? 1 : failed, skipped};
}

function fail(sentence) {
  console.log(`NOT OK: ${sentence}`);
  return {passed: 0, failed: 1};
}

async function main() {
  await installed();
  rmSync(output, {recursive: true, force: true});
  mkdirSync(output, {recursive: true});
  add(await check());

  const unitReport = join(output, "unit.json");
  const unit = await run("vitest", ["run", "--reporter=dot", "--reporter=json", `--outputFile.json=${unitReport}`], {
    env: {ACCURACY_FOLDER: join(output, "accuracy")},
  });
  // A file that could not even be read has no failed test in it, and is a failure all the same.
  const unitCounts = (report) => {
    const unread = report.testResults.filter(({status, assertionResults}) => {
      return status === "failed" && !assertionResults.some((each) => each.status === "failed");
    });
    return {
      passed: report.numPassedTests,
      failed: report.numFailedTests + unread.length,
      skipped: report.numPendingTests + report.numTodoTests,
    };
  };
  add(counted("unit tests", unit, unitReport, unitCounts));
  gatherAccuracy();

  for (const [base, folder] of [
    ["/", "dist"],
    ["/class/", "tests/output/dist-class"],
  ]) {
    const status = await run("astro", ["build", "--silent", "--outDir", folder], {env: {BASE_PATH: base}});
    add(status === 0 ? {passed: 1, failed: 0} : fail(`the site does not build under ${base}`));
    if (status !== 0) return;
  }

  const siteReport = join(output, "site.json");
  const env = {CHROMIUM: await browser(), PLAYWRIGHT_JSON_OUTPUT_NAME: siteReport};
  const site = await run("playwright", ["test", "--reporter=dot,json"], {env});
  // A page that passes only at the second try has failed; an error outside every test is a failure.
  const siteCounts = ({stats, errors}) => ({
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
    skipped: stats.skipped,
  });
  add(counted("browser tests", site, siteReport, siteCounts));
}

await main().catch((error) => add(fail(error.message)));
const skipped = total.skipped > 0 ? `, ${total.skipped} skipped` : "";
console.log(`${total.passed} passed, ${total.failed} failed${skipped}`);
process.exitCode = total.failed === 0 && total.passed > 0 ? 0 : 1;
