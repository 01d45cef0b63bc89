// Two builds and a host that lies: every lie for every file, at an update and at the first visit, with a flight and an edit open in
// other tabs; versions that do not start.
//
// LATER in the environment is the folder of another real build; besides it, and without it alone, the later build is the same one
// with every file changed under its own name, which is worse: the browser's cache holds the file before.
import { expect, test, type Browser, type Page } from "@playwright/test";
import { field, figure, screen as screenOf } from "../find";
import { laterBuild, listed } from "../release";
import { DIST, serve, type Host } from "../serve";
import { DEAD, deadVersion, firstVisitUnderLie, LIES, plain, updatesUnderLie } from "../update";

/** Browsers' contexts at once. */
const AT_ONCE = Number(process.env.AT_ONCE ?? 3);
const LATER = process.env.LATER;

const wanted = (process.env.LIES ?? Object.keys(LIES).join()).split(",");
const filesOf = async (folder: string) => [...(await listed(folder)), "worker.js"];

for (const lie of wanted) {
  test(`an update with ${lie}, for each file`, async ({ browser }) => {
    const failed: string[] = [];
    const mine = await filesOf(DIST);
    let count = await updates(browser, [DIST, await laterBuild("later")], mine.map(plain), lie, failed);
    if (LATER) {
      const theirs = await filesOf(LATER);
      // A file that both builds have under one name is not fetched at all.
      const changed = mine.filter((path) => path === plain(path) || !theirs.includes(path)).map(plain);
      count += await updates(browser, [DIST, LATER], changed, lie, failed);
    }
    console.log(`an update with ${lie}: ${count - failed.length} of ${count} well`);
    expect(failed).toEqual([]);
  });

  test(`a first visit with ${lie}, for each file`, async ({ browser }) => {
    const failed: string[] = [];
    const files = await filesOf(DIST);
    const left = [...files];
    const before = await laterBuild("before");
    const worker = async () => {
      for (let part = left.shift(); part; part = left.shift()) {
        const context = await browser.newContext();
        const host = await serve();
        await firstVisitUnderLie(await context.newPage(), host, part, lie, before).catch((reason) => failed.push(`${part}: ${reason}`));
        await host.stop();
        await context.close();
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, worker));
    console.log(`a first visit with ${lie}: ${files.length - failed.length} of ${files.length} well`);
    expect(failed).toEqual([]);
  });
}

/** All parts, in some browsers' contexts at once: most of a hanging file is waiting. */
async function updates(browser: Browser, builds: [string, string], parts: string[], lie: string, failed: string[]) {
  const chains = Array.from({ length: AT_ONCE }, (_, at) => parts.filter((_, place) => place % AT_ONCE === at));
  const counts = await Promise.all(chains.map((chain) => inTurn(browser, builds, chain, lie, failed)));
  return counts.reduce((sum, count) => sum + count);
}

/** These parts in turn in one context, which is begun anew after a fault. */
async function inTurn(browser: Browser, builds: [string, string], parts: string[], lie: string, failed: string[]) {
  for (let done = 0; done < parts.length; ) {
    const context = await browser.newContext();
    const host = await serve(builds[0]);
    const crew = await atWork(await context.newPage(), await context.newPage(), host);
    done += await updatesUnderLie(await context.newPage(), host, builds, parts.slice(done), lie, failed);
    await crew.isUndisturbed().catch((reason) => failed.push(`a tab at work: ${reason}`));
    await host.stop();
    await context.close();
  }
  return parts.length;
}

/** A flight in one tab, a number half typed in another. */
async function atWork(flight: Page, edit: Page, host: Host) {
  await flight.goto(`${host.url}#/card`);
  await expect(figure(flight, "land-by")).toHaveText(/\d/);
  await flight.goto(`${host.url}#/airborne`);
  await screenOf(flight, "airborne").getByRole("button", { name: "Lift off" }).click();
  await expect(figure(flight, "airborne-time")).toHaveText(/\d/);
  // Every tab opens in the flight; a crew may leave it.
  await edit.goto(`${host.url}#/site`);
  await edit.getByRole("button", { name: "Leave this view…" }).click();
  await edit.getByRole("button", { name: "Leave it all the same" }).click();
  const elevation = field(edit, "Site elevation").first();
  await elevation.fill("12e");
  let loads = 0;
  for (const page of [flight, edit]) page.on("domcontentloaded", () => (loads += 1));
  return {
    async isUndisturbed() {
      expect(loads).toBe(0);
      await expect(elevation).toHaveValue("12e");
      await expect(figure(flight, "airborne-time")).toHaveText(/\d/);
    },
  };
}

for (const how of Object.keys(DEAD)) {
  test(`a version that ${how}`, async ({ page }) => {
    const host = await serve();
    await deadVersion(page, host, how);
    await host.stop();
  });
}
