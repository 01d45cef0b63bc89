// Two builds and a host that lies: every lie for every file, at an update and at the first visit; versions that do not start.
import { expect, test } from "@playwright/test";
import { listed } from "../release";
import { DIST, serve } from "../serve";
import { DEAD, deadVersion, firstVisitUnderLie, LIES, updateUnderLie } from "../update";

for (const [what, run] of Object.entries({ "an update": updateUnderLie, "a first visit": firstVisitUnderLie })) {
  for (const lie of Object.keys(LIES)) {
    test(`${what} with ${lie}, for each file`, async ({ browser }) => {
      const failed: string[] = [];
      const files = [...(await listed(DIST)), "worker.js"];
      for (const part of files) {
        const context = await browser.newContext();
        const host = await serve();
        await run(await context.newPage(), host, part, lie).catch((reason) => failed.push(`${part}: ${reason}`));
        await host.stop();
        await context.close();
      }
      console.log(`${what} with ${lie}: ${files.length - failed.length} of ${files.length} files`);
      expect(failed).toEqual([]);
    });
  }
}

for (const how of Object.keys(DEAD)) {
  test(`a version that ${how}`, async ({ page }) => {
    const host = await serve();
    await deadVersion(page, host, how);
    await host.stop();
  });
}
