// npm test: everything that must hold, on a machine that may be new. The last line counts what passed and what failed.
import {existsSync, mkdirSync, readFileSync, rmSync} from "node:fs";
import {join} from "node:path";
import {browser} from "./browser.mjs";
import {check} from "./check.mjs";
import {installed, root, run} from "./project.mjs";

const output = join(root, "tests", "output");
const total = {passed: 0, failed: 0};
const add = ({passed, failed}) => {
  total.passed += passed;
  total.failed += failed;
};

/** Counts from a report; a run that left no report, or that ran nothing, is one failure. */
function counted(name, status, file, read) {
  if (!existsSync(file)) return fail(`${name} left no report`);
  const {passed, failed} = read(JSON.parse(readFileSync(file, "utf8")));
  console.log(`${name}: ${passed} passed, ${failed} failed`);
  if (passed + failed === 0) return fail(`${name} ran no test`);
  return {passed, failed: failed === 0 && status !== 0 ? 1 : failed};
}

function fail(sentence) {
  console.log(`NOT OK: ${sentence}`);
  return {passed: 0, failed: 1};
}

async function main() {
  await installed();
  rmSync(output, {recursive: true, force: true});
  mkdirSync(output, {recursive: true});
  // The types of content come with the first look at it.
  add(await check());

  const unitReport = join(output, "unit.json");
  const unit = await run("vitest", ["run", "--reporter=default", "--reporter=json", `--outputFile.json=${unitReport}`]);
  add(counted("unit tests", unit, unitReport, ({numPassedTests, numFailedTests, numFailedTestSuites}) => ({
    passed: numPassedTests,
    failed: numFailedTests + (numFailedTests === 0 ? numFailedTestSuites : 0),
  })));

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
  const site = await run("playwright", ["test", "--reporter=list,json"], {env});
  add(counted("browser tests", site, siteReport, ({stats}) => ({passed: stats.expected + stats.flaky, failed: stats.unexpected})));
}

await main().catch((error) => add(fail(error.message)));
console.log(`${total.passed} passed, ${total.failed} failed`);
process.exitCode = total.failed === 0 && total.passed > 0 ? 0 : 1;
