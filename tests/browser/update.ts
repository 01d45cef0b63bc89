// Updates by a host that lies. A few of them in each test run, all of them in `cargo xtask endure`.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, type Page } from "@playwright/test";
import { seeReadyForOffline } from "./fixtures";
import { laterBuild, listed, versionOf } from "./release";
import { DIST, type Host, type Lie } from "./serve";

export const screen = (page: Page) => page.locator("[data-screen]:not([data-screen=stopped])");
export const html = (page: Page) => page.locator("html");

const STALE = "the file of the version before";

/** How a host lies about one file; `before` is the folder of the version before. */
export const LIES: Record<string, (content: Buffer, path: string, before: string) => Lie | Promise<Lie>> = {
  "not found": () => ({ status: 404, body: "" }),
  "server fault": () => ({ status: 500, body: "" }),
  "a login page": () => ({ status: 200, type: "text/html", body: "<title>Welcome to our network</title>" }),
  "a cut file": (content) => ({ status: 200, body: content.subarray(0, content.length / 2) }),
  "an empty file": () => ({ status: 200, body: "" }),
  "a hanging file": (content) => ({ status: 200, body: content.subarray(0, content.length / 2), hangs: true }),
  "a wrong type": (content) => ({ status: 200, type: "text/plain", body: content }),
  [STALE]: async (_, path, before) => ({ status: 200, body: await readFile(join(before, await namesake(before, path))) }),
};

/** A file's name without what its content gave it. */
export const plain = (path: string) => path.replace(/-[0-9a-f]{12}(?=\.)/, "");

/** The file of a build that has the same plain name. */
async function namesake(folder: string, path: string): Promise<string> {
  return [...(await listed(folder)), "worker.js"].find((other) => plain(other) === plain(path))!;
}

export function lieAbout(host: Host, part: string, lie: string, before = DIST) {
  const isMeant = (path: string) => plain(path) === part || path.startsWith(part);
  host.lie = (content, path) => (isMeant(path) ? LIES[lie]!(content, path, before) : undefined);
}

/** From now on it tells the truth. */
export function whole(host: Host) {
  host.lie = undefined;
  // The worker's script is the browser's own matter, and until it gives up no other look at the host begins: a network that
  // comes back has let go of the connection. All else is the worker's, which gives up by itself.
  for (const { path, response } of host.hanging.splice(0)) if (path === "worker.js") response.destroy();
}

/** Has the browser look for a new version, and waits for what becomes of it. */
export async function update(page: Page) {
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const looked = registration.update().catch(() => undefined);
    await Promise.race([looked, new Promise((done) => setTimeout(done, 25_000))]);
    const worker = registration.installing;
    if (worker?.state === "installing") await new Promise((done) => worker.addEventListener("statechange", done));
  });
}

/** Until the new version is there: a worker that a lie has doomed may be on its way still, and a look at the host meanwhile is its look. */
async function updateComes(page: Page) {
  const look = async () => (await update(page), html(page).getAttribute("data-update"));
  await expect.poll(look, { timeout: 90_000 }).toBe("waiting");
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
  whole(host);
  await updateComes(page);
  await applyUpdate(page);
  await expect(html(page)).toHaveAttribute("data-release", "later");
  await expect(screen(page)).toBeVisible();
  await host.stop();
  await page.reload();
  await expect(html(page)).toHaveAttribute("data-release", "later");
  await expect(screen(page)).toBeVisible();
}

/** Two builds in turn, each an update of the other that the host lies in about another file; then the host is whole, then
 * there is no network. Gives what went wrong, file by file. `open` are tabs in which a crew is at work. */
export async function updatesUnderLie(
  page: Page, host: Host, builds: [string, string], parts: string[], lie: string, failed: string[],
): Promise<number> {
  host.folder = builds[0];
  await page.goto(host.url);
  await seeReadyForOffline(page);
  for (const [turn, part] of parts.entries()) {
    const [before, next] = turn % 2 ? [builds[1], builds[0]] : builds;
    try {
      host.folder = next;
      lieAbout(host, part, lie, before);
      await page.evaluate(() => ((globalThis as { open?: string }).open = "an edit"));
      await update(page);
      expect(await page.evaluate(() => (globalThis as { open?: string }).open)).toBe("an edit");
      await page.reload();
      await runs(page, before);
      whole(host);
      await page.evaluate(() => ((globalThis as { open?: string }).open = "an edit"));
      await updateComes(page);
      expect(await page.evaluate(() => (globalThis as { open?: string }).open)).toBe("an edit");
      await applyUpdate(page);
      await runs(page, next);
      host.isDown = true;
      await page.reload();
      await runs(page, next);
      host.isDown = false;
    } catch (reason) {
      failed.push(`${part}: ${reason}`);
      return turn + 1;
    }
  }
  return parts.length;
}

/** The app runs, in the version of this build. */
async function runs(page: Page, build: string) {
  await expect(html(page)).toHaveAttribute("data-started", await versionOf(build), { timeout: 60_000 });
  await expect(screen(page)).toBeVisible();
}

/** A first visit that the host lies in: opened again when the host is whole, it starts, and is kept. */
export async function firstVisitUnderLie(page: Page, host: Host, part: string, lie: string, before = DIST) {
  lieAbout(host, part, lie, before);
  // A browser takes an empty answer for no page at all.
  await page.goto(host.url, { waitUntil: "commit" }).catch(() => undefined);
  await page.waitForTimeout(1_500);
  // Never a false word: what is kept is whole, or nothing is said to be.
  const isHarmless = lie === "a wrong type" || (lie === STALE && before === DIST);
  if (!isHarmless) await expect(html(page)).not.toHaveAttribute("data-offline", "ready");
  whole(host);
  // Where the page itself was a lie nothing of ours is in the browser: a reload is all there is.
  await page.reload({ waitUntil: "commit" });
  await expect(screen(page)).toBeVisible({ timeout: 30_000 });
  await expect(html(page)).toHaveAttribute("data-offline", "ready", { timeout: 60_000 });
  await host.stop();
  await page.reload();
  await expect(screen(page)).toBeVisible();
}

/** A first visit whose app starts, under a lie about something else: it is kept when the host is whole, without a reload. */
export async function firstVisitLeftAlone(page: Page, host: Host, part: string, lie: string) {
  lieAbout(host, part, lie);
  await page.goto(host.url);
  await expect(screen(page)).toBeVisible();
  if (lie !== "a hanging file") await expect(html(page)).toHaveAttribute("data-offline", "failed");
  else await page.waitForTimeout(1_500);
  let loads = 0;
  page.on("domcontentloaded", () => (loads += 1));
  whole(host);
  await expect(html(page)).toHaveAttribute("data-offline", "ready", { timeout: 60_000 });
  expect(loads).toBe(0);
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
