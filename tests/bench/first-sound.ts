// From the press to the first sample that is not 0 leaving the sound thread, on a page just loaded by a browser that has never seen
// it; the mark is 300 ms. Needs the site as it was built last (SITE_FOLDER names another build) and a Chromium.
import {firstSound, watchFirstSound} from "../site/first-sound.ts";
import {withSite} from "./support/site-page.ts";

const [runs, markMilliseconds] = [7, 300];
const routes = {
  "the front page": "",
  "lesson 10": "lessons/10-two-diodes/",
  "a bench by a link": "lessons/10-two-diodes/#RV1=0.3",
};

await withSite("The first sound", async (browser, address) => {
  for (const [name, route] of Object.entries(routes)) {
    const times: number[] = [];
    for (let run = 0; run < runs; run++) {
      const context = await browser.newContext({viewport: {width: 1440, height: 900}});
      const page = await context.newPage();
      await watchFirstSound(page);
      await page.goto(address + route);
      // Straight to the button: the hand gives no more warning than it must.
      await page.getByRole("button", {name: "Play", exact: true}).click({force: true});
      const {pressed, sounded} = await firstSound(page);
      times.push(sounded - pressed);
      await context.close();
    }
    const median = times.sort((a, b) => a - b)[runs >> 1] ?? Infinity;
    const words = name.replaceAll(" ", "-");
    console.log(`figure first-sound-on-${words},-milliseconds-after-the-press ${median.toFixed(0)}`);
    console.log(
      `ratio ${markMilliseconds}-ms-against-the-first-sound-on-${words} ${(markMilliseconds / median).toFixed(2)} 1`,
    );
  }
});
