// What every test starts from. Import `test` and `expect` from here, never from @playwright/test:
// a console error, an uncaught exception or a request that leaves the page's origin fails the test.
import { test as base, expect, type Page } from "@playwright/test";
import { DIST, type Host, serve } from "./serve.ts";

export { expect };

interface Fixtures {
  /** The path that the page is served below. */
  subPath: string;
  /** This test's own host of dist/. `page.goto("#/build")` is relative to it. */
  host: Host;
  /** What went wrong in any page of this test. A test that provokes something takes it out. */
  problems: string[];
}

export const test = base.extend<Fixtures>({
  subPath: ["/", { option: true }],
  host: async ({ subPath }, use) => {
    const host = await serve(DIST, subPath);
    await use(host);
    await host.stop();
  },
  baseURL: async ({ host }, use) => use(host.url),
  problems: [
    async ({ context, host }, use) => {
      const problems: string[] = [];
      const origin = new URL(host.url).origin;
      context.on("console", (message) => {
        if (message.type() === "error") problems.push(`console: ${message.text()}`);
      });
      context.on("weberror", (error) => problems.push(`exception: ${error.error().message}`));
      context.on("request", (request) => {
        const url = new URL(request.url());
        const inside = ["data:", "blob:"].includes(url.protocol) || url.origin === origin;
        if (!inside) problems.push(`left the origin: ${url.href}`);
      });
      await use(problems);
      expect(problems).toEqual([]);
    },
    { auto: true },
  ],
});

/** Waits until all files are kept: from then on the network may go. */
export async function seeReadyForOffline(page: Page) {
  await expect(page.locator("html")).toHaveAttribute("data-offline", "ready", { timeout: 20_000 });
}

/** Kills the host and takes the network away. */
export async function loseNetwork(page: Page, host: Host) {
  await host.stop();
  await page.context().setOffline(true);
}
