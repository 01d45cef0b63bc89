// A host that lies, a version that does not start, an app that stops: at the end the app runs, old or new, and the data is there.
import { readFile } from "node:fs/promises";
import { type Page } from "@playwright/test";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures.ts";
import { secondRelease } from "./release.ts";
import { DIST, type Host } from "./serve.ts";

const screen = (page: Page) => page.locator("[data-screen]:not([data-screen=stopped])");
const html = (page: Page) => page.locator("html");

/** Lets the host answer otherwise for a path that the wanted text is in. */
const LIES: Record<string, Host["lie"]> = {
  "not found": () => ({ status: 404, body: "" }),
  "server fault": () => ({ status: 500, body: "" }),
  "login page": () => ({ status: 200, type: "text/html", body: "<title>Welcome to our network</title>" }),
  "cut file": (content) => ({ status: 200, body: content.subarray(0, content.length / 2) }),
  "empty file": () => ({ status: 200, body: "" }),
};

for (const [lie, answer] of Object.entries(LIES)) {
  for (const part of ["index.html", "liftmargin_bg", "start-", "worker.js", ".css"]) {
    test(`an update with ${lie} for ${part} leaves the old version, and comes when the host is whole`, async ({ page, host, problems }) => {
      await page.goto("");
      await seeReadyForOffline(page);
      host.folder = await secondRelease("second");
      host.lie = (content, path) => ((path || "index.html").includes(part) ? answer?.(content, path) : undefined);
      await page.reload();
      await expect(screen(page)).toBeVisible();
      await update(page);
      await expect(html(page)).not.toHaveAttribute("data-release");
      host.lie = undefined;
      await page.reload();
      await update(page);
      await expect(html(page)).toHaveAttribute("data-update", "waiting");
      await page.evaluate(() => dispatchEvent(new Event("apply-update")));
      await expect(html(page)).toHaveAttribute("data-release", "second");
      await expect(screen(page)).toBeVisible();
      problems.splice(0);
    });
  }
}

test("a version that does not start gives way to the one before, and says so to nobody's loss", async ({ page, host, problems }) => {
  await page.goto("");
  await seeReadyForOffline(page);
  // Its page names a start script that is not there: no script of it ever runs.
  host.folder = await secondRelease("second", "gone-");
  await page.reload();
  await update(page);
  await expect(html(page)).toHaveAttribute("data-update", "waiting");
  await page.evaluate(() => dispatchEvent(new Event("apply-update")));
  // It tells the worker that it failed, and the old one is back without a hand.
  await expect(screen(page)).toBeVisible({ timeout: 30_000 });
  await expect(html(page)).not.toHaveAttribute("data-release");
  await loseNetwork(page, host);
  await page.reload();
  await expect(screen(page)).toBeVisible();
  problems.splice(0);
});

test("a trap in the middle: words, the data as a file, and it comes in again", async ({ page, problems }) => {
  await page.goto("#/settings");
  await seeReadyForOffline(page);
  await expect(html(page)).toHaveAttribute("data-started", /.+/);
  // A trap of a module of five instructions: to the page it is the same as one of the app's.
  const trap = "AGFzbQEAAAABBAFgAAADAgEABwUBAWYAAAoFAQMAAAs=";
  await page.evaluate(async (code) => {
    const bytes = Uint8Array.from(atob(code), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes);
    setTimeout(instance.exports.f as () => void);
  }, trap);
  const stopped = page.locator("[data-screen=stopped]");
  await expect(stopped).toContainText("What you entered is safe");
  await stopped.getByRole("button", { name: "Start again" }).click();
  await expect(screen(page)).toBeVisible();
  problems.splice(0);
});

async function update(page: Page) {
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update().catch(() => undefined);
    const worker = registration.installing;
    if (worker) await new Promise((done) => (worker.onstatechange = () => worker.state !== "installing" && done(undefined)));
  });
}

test("the first visit by way of a login page heals by itself", async ({ page, host, problems }) => {
  host.lie = () => ({ status: 200, type: "text/html", body: "<title>Welcome to our network</title>" });
  await page.goto("");
  await expect(page).toHaveTitle("Welcome to our network");
  host.lie = undefined;
  await page.reload();
  await seeReadyForOffline(page);
  await expect(screen(page)).toBeVisible();
  expect(await readFile(`${DIST}/index.html`, "utf8")).toContain("integrity=");
  problems.splice(0);
});
