import {expect, test as plain, type Response} from "@playwright/test";
import {servedFolder} from "../../scripts/served-folder.mjs";
import {atRoot, underClass} from "./routes.ts";

type Served = Readonly<{atRoot: string; underClass: string}>;

/**
 * `test` with the built site served: `baseURL` is the one at the root, `served` has both addresses. A test fails whose page
 * logs an error, throws, or asks anything of another origin.
 */
export const test = plain.extend<{complaints: string[]}, {served: Served}>({
  served: [
    async ({}, use) => {
      const sites = await Promise.all([atRoot, underClass].map(({folder, base}) => servedFolder(folder, {base})));
      const [first, second] = sites;
      if (!first || !second) throw new Error("the built sites could not be served");
      await use({atRoot: first.address, underClass: second.address});
      for (const {close} of sites) close();
    },
    {scope: "worker"},
  ],
  // Scripts begin after the first paint; a test is quicker than a reader, and waits until the page is alive.
  page: async ({page, javaScriptEnabled}, use) => {
    const alive = async (response: Response | null) => {
      const isPage = response?.headers()["content-type"]?.startsWith("text/html") === true;
      if (javaScriptEnabled !== false && isPage) await page.locator("html[data-alive]").waitFor({state: "attached"});
      return response;
    };
    const [go, reload] = [page.goto.bind(page), page.reload.bind(page)];
    page.goto = async (...given) => alive(await go(...given));
    page.reload = async (...given) => alive(await reload(...given));
    await use(page);
  },
  baseURL: async ({served}, use) => use(served.atRoot),
  complaints: [
    async ({context, served}, use) => {
      const complaints: string[] = [];
      const own = [served.atRoot, served.underClass].map((address) => new URL(address).origin);
      context.on("console", (message) => {
        if (message.type() === "error") complaints.push(`console: ${message.text()}`);
      });
      context.on("weberror", (error) => complaints.push(`thrown: ${error.error().message}`));
      context.on("request", (request) => {
        const {protocol, origin} = new URL(request.url());
        if (!["data:", "blob:"].includes(protocol) && !own.includes(origin)) complaints.push(`asks ${request.url()}`);
      });
      await use(complaints);
      expect(complaints, "the page complains, or asks another origin").toEqual([]);
    },
    {auto: true},
  ],
});

export {expect};

/** Takes from the complaints what a browser says of a line that the test had taken down; at the end, for it may say so late. */
export function forgiveTheLine(complaints: string[]): void {
  const others = complaints.filter((complaint) => complaint !== "console: Failed to load resource: net::ERR_FAILED");
  complaints.splice(0, complaints.length, ...others);
}
