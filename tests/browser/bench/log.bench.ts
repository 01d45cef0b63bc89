// What a long log costs: the start beside that of an empty one.
import { type Page } from "@playwright/test";
import { expect, test } from "../fixtures";
import { open } from "../act";
import { takeInThousand } from "../many";
import { median, note } from "./report.ts";

const RUNS = 5;

/** Milliseconds from the start of loading until the land-by is a figure, the processor slowed down four times. */
async function start(page: Page): Promise<number> {
    const session = await page.context().newCDPSession(page);
    await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
    const times: number[] = [];
    for (let run = 0; run <= RUNS; run += 1) {
        await page.reload();
        const time = await page.evaluate(async () => {
            const there = () => /\d.*mAh/.test(document.querySelector('[data-figure="land-by"]')?.textContent ?? "");
            while (!there()) await new Promise((drawn) => requestAnimationFrame(drawn));
            return performance.now();
        });
        // What is read late must not reach into the next run.
        await page.waitForTimeout(1500);
        if (run > 0) times.push(time);
    }
    await session.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    return median(times);
}

test("start with a thousand flights and recordings, over that with none", async ({ page }) => {
    test.setTimeout(900_000);
    await open(page, "card");
    await expect(page.locator('[data-figure="land-by"]')).toHaveText(/\d.*mAh/);
    const empty = await start(page);
    await takeInThousand(page);
    await open(page, "card");
    const full = await start(page);
    note("start with a thousand flights over an empty log, 4×", (100 * (full - empty)) / empty, 20, "%", RUNS);
});
