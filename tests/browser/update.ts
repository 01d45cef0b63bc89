// Updates by a host that lies. A few of them in each test run, all of them in `cargo xtask endure`.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, type Page } from "@playwright/test";
import { seeReadyForOffline } from "./fixtures";
import { laterBuild } from "./release";
import { DIST, type Host, type Lie } from "./serve";

export const screen = (page: Page) => page.locator("[data-screen]:not([data-screen=stopped])");
export const html = (page: Page) => page.locator("html");

/** How a host lies about one file. */
export const LIES: Record<string, (content: Buffer, path: string) => Lie | Promise<Lie>> = {
  "not found": () => ({ status: 404, body: "" }),
  "server fault": () => ({ status: 500, body: "" }),
  "a login page": () => ({ status: 200, type: "text/html", body: "<title>Welcome to our network</title>" }),
  "a cut file": (content) => ({ status: 200, body: content.subarray(0, content.length / 2) }),
  "an empty file": () => ({ status: 200, body: "" }),
  "a hanging file": (content) => ({ status: 200, body: content.subarray(0, content.length / 2), hangs: true }),
  "a wrong type": (content) => ({ status: 200, type: "text/plain", body: content }),
  "the file of the version before": async (_, path) => ({ status: 200, body: await readFile(join(DIST, path)) }),
};

/** At a first visit the content is right all the same. */
const HARMLESS = ["a wrong type", "the file of the version before"];

export function lieAbout(host: Host, part: string, lie: string) {
  host.lie = (content, path) => (path.startsWith(part) ? LIES[lie]!(content, path) : undefined);
}

/** Has the browser look for a new version, and waits for what becomes of it. */
export async function update(page: Page) {
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update().catch(() => undefined);
    const worker = registration.installing;
    if (worker?.state === "installing") await new Promise((done) => (worker.onstatechange = done));
  });
}

export const applyUpdate = (page: Page) => page.evaluate(() => dispatchEvent(new Event("apply-update")));

/** An update that the host lies in: the old version stays and nobody is disturbed; with a whole host the new one comes. */
export async function updateUnderLie(page: Page, host: Host, part: string, lie: string) {
  await page.goto(host.url);
  await seeReadyForOffline(page);
  await page.evaluate(() => ((globalThis as { open?: string }).open = "an edit"));
  host.folder = await laterBuild("later");
  lieAbout(host, part, lie);
  await update(page);
  expect(await page.evaluate(() => (globalThis as { open?: string }).open)).toBe("an edit");
  await page.reload();
  await expect(screen(page)).toBeVisible();
  await expect(html(page)).not.toHaveAttribute("data-release");
  host.lie = undefined;
  await update(page);
  await expect(html(page)).toHaveAttribute("data-update", "waiting");
  await applyUpdate(page);
  await expect(html(page)).toHaveAttribute("data-release", "later");
  await expect(screen(page)).toBeVisible();
  await host.stop();
  await page.reload();
  await expect(html(page)).toHaveAttribute("data-release", "later");
  await expect(screen(page)).toBeVisible();
}

/** A first visit that the host lies in: opened again when the host is whole, it starts, and is kept. */
export async function firstVisitUnderLie(page: Page, host: Host, part: string, lie: string) {
  lieAbout(host, part, lie);
  // A browser takes an empty answer for no page at all.
  await page.goto(host.url, { waitUntil: "commit" }).catch(() => undefined);
  await page.waitForTimeout(1_500);
  // Never a false word: what is kept is whole, or nothing is said to be.
  if (!HARMLESS.includes(lie)) await expect(html(page)).not.toHaveAttribute("data-offline", "ready");
  host.lie = undefined;
  // Where the page itself was a lie nothing of ours is in the browser: a reload is all there is.
  await page.reload({ waitUntil: "commit" });
  await expect(screen(page)).toBeVisible({ timeout: 30_000 });
  await expect(html(page)).toHaveAttribute("data-offline", "ready", { timeout: 60_000 });
  await host.stop();
  await page.reload();
  await expect(screen(page)).toBeVisible();
}

/** Versions that are whole and do not start. */
export const DEAD: Record<string, Record<string, string>> = {
  "throws at once": { "start-": "throw new Error('dead');" },
  "never comes to an end": { "start-": "await new Promise(() => {});" },
  "does nothing at all": { "start-": "", "stopped-": "" },
};

/** A version that does not start: the one before is back, says so, and works without a network. */
export async function deadVersion(page: Page, host: Host, how: string) {
  await page.goto(host.url);
  await seeReadyForOffline(page);
  host.folder = await laterBuild("later", DEAD[how]);
  await update(page);
  await expect(html(page)).toHaveAttribute("data-update", "waiting");
  await applyUpdate(page);
  if (how === "does nothing at all") {
    await expect(html(page)).toHaveAttribute("data-release", "later");
    // A person opens it again.
    await page.reload();
  }
  await expect(screen(page)).toBeVisible({ timeout: 40_000 });
  await expect(html(page)).not.toHaveAttribute("data-release");
  await expect(html(page)).toHaveAttribute("data-fallback", "used");
  await host.stop();
  await page.reload();
  await expect(screen(page)).toBeVisible();
}
