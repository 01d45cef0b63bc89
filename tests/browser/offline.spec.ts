// Without a network: after one visit everything works, and a new version comes only when it is asked for.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures.ts";
import { copyOfDist, secondRelease } from "./release.ts";
import { DIST } from "./serve.ts";

/** The kept versions, without what the worker remembers of them. */
const versions = (page: Page) => page.evaluate(async () => (await caches.keys()).filter((name) => !name.endsWith("state")));
const screen = (page: Page) => page.locator("[data-screen]");

test("after one visit the page opens with the host gone", async ({ page, host }) => {
  await page.goto("");
  await seeReadyForOffline(page);
  await loseNetwork(page, host);
  await page.reload();
  await expect(screen(page)).toBeVisible();
});

for (const route of ["#/card", "#/build", "#/site"]) {
  test(`${route} opens from a link in a new tab with the host gone`, async ({ page, host, context }) => {
    await page.goto("");
    await seeReadyForOffline(page);
    await loseNetwork(page, host);
    const other = await context.newPage();
    await other.goto(host.url + route);
    await expect(screen(other)).toBeVisible();
  });
}

test("what it is built from is told in Settings, with the host gone", async ({ page, host, context, problems }) => {
  await page.goto("#/settings");
  await seeReadyForOffline(page);
  await loseNetwork(page, host);
  const [notice] = await Promise.all([context.waitForEvent("page"), page.getByRole("link", { name: /licences/ }).click()]);
  await expect(notice.locator("body")).toContainText("leptos 0.");
  await expect(notice.locator("body")).toContainText("Permission is hereby granted");
  // The browser looks for an icon of a text by itself.
  for (const problem of problems.splice(0)) expect(problem).toContain("Failed to load resource");
});

test.describe("below a sub-path", () => {
  test.use({ subPath: "/crew/tools/" });

  test("the page works, with the host and without", async ({ page, host }) => {
    await page.goto("");
    await expect(screen(page)).toBeVisible();
    await seeReadyForOffline(page);
    expect(host.asked.filter((path) => !path.startsWith("/crew/tools/"))).toEqual([]);
    await loseNetwork(page, host);
    await page.reload();
    await expect(screen(page)).toBeVisible();
  });
});

test("a file that cannot be fetched leaves no half of a version behind", async ({ page, host, problems }) => {
  const broken = await copyOfDist("copy");
  await rm(join(broken, "icons"), { recursive: true });
  host.folder = broken;
  await page.goto("");
  await expect(page.locator("html")).toHaveAttribute("data-offline", "failed");
  await expect(screen(page)).toBeVisible();
  expect(await page.evaluate(() => caches.keys())).toEqual([]);
  // The browser reports the missing files themselves.
  for (const problem of problems.splice(0)) expect(problem).toContain("404");

  host.folder = DIST;
  await page.reload();
  await seeReadyForOffline(page);
});

test("a new version waits, and comes with one reload when it is asked for", async ({ page, host }) => {
  await page.goto("");
  await seeReadyForOffline(page);
  await page.evaluate(() => localStorage.setItem("kept", "by the user"));
  const before = await versions(page);
  expect(before).toHaveLength(1);
  const html = page.locator("html");

  host.folder = await secondRelease("second");
  await page.reload();
  await expect(html).toHaveAttribute("data-update", "waiting");
  await page.reload();
  await expect(html).toHaveAttribute("data-update", "waiting");
  await expect(html).not.toHaveAttribute("data-release");

  let loads = 0;
  page.on("load", () => (loads += 1));
  await page.evaluate(() => dispatchEvent(new Event("apply-update")));
  await expect(html).toHaveAttribute("data-release", "second");
  await seeReadyForOffline(page);
  await expect(screen(page)).toBeVisible();
  await expect(html).not.toHaveAttribute("data-update");
  expect(loads).toBe(1);
  expect(await page.evaluate(() => localStorage.getItem("kept"))).toBe("by the user");
  await expect.poll(() => versions(page)).toHaveLength(1);
  expect(await versions(page)).not.toEqual(before);

  await loseNetwork(page, host);
  await page.reload();
  await expect(html).toHaveAttribute("data-release", "second");
});

test("a second tab is not reloaded by the first one's update", async ({ page, host, context }) => {
  await page.goto("");
  await seeReadyForOffline(page);
  const other = await context.newPage();
  await other.goto(host.url);
  await seeReadyForOffline(other);
  host.folder = await secondRelease("second");
  await page.reload();
  await expect(page.locator("html")).toHaveAttribute("data-update", "waiting");
  await expect(other.locator("html")).toHaveAttribute("data-update", "waiting");
  // Listened for before it can happen.
  await other.evaluate(() => {
    navigator.serviceWorker.addEventListener("controllerchange", () => (document.documentElement.dataset.taken = "yes"));
  });
  await page.evaluate(() => dispatchEvent(new Event("apply-update")));
  await expect(page.locator("html")).toHaveAttribute("data-release", "second");
  await expect(other.locator("html")).toHaveAttribute("data-taken", "yes");
  await expect(other.locator("html")).not.toHaveAttribute("data-release");
});

test("a browser that cannot run the app says so in words", async ({ page, problems }) => {
  await page.addInitScript(() => Reflect.deleteProperty(globalThis, "WebAssembly"));
  await page.goto("");
  await expect(page.getByText("could not start in this browser")).toBeVisible();
  expect(problems.splice(0).join()).toContain("WebAssembly");
});


test("a room that cannot be fetched says so, and comes when it is asked for again", async ({ browser, host }) => {
  const context = await browser.newContext({ serviceWorkers: "block" });
  const page = await context.newPage();
  const rooms = (url: URL) => url.pathname.includes("split_crew");
  await page.route(rooms, (route) => route.abort());
  await page.goto(`${host.url}#/card`);
  await expect(page.locator("[data-screen=card]")).toBeVisible();
  await page.goto(`${host.url}#/day`);
  await expect(page.getByRole("alert")).toContainText("Day is not on this device yet");
  await page.unroute(rooms);
  await page.getByRole("button", { name: "Try again" }).click();
  await expect(page.locator("[data-screen=day]")).toBeVisible();
  await context.close();
});
