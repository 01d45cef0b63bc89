import { expect, test } from "./fixtures";
import { open, unfold } from "./act";
import { figure } from "./find";

/** Notes what stands in the land-by at every drawn frame, from before the app starts. */
async function watch(page: import("@playwright/test").Page): Promise<() => Promise<string[]>> {
    await page.addInitScript(() => {
        const seen: string[] = [];
        Object.assign(window, { landBySeen: seen });
        const look = () => {
            const text = document.querySelector('[data-figure="land-by"]')?.textContent;
            if (text && seen.at(-1) !== text) seen.push(text);
            requestAnimationFrame(look);
        };
        look();
    });
    return () => page.evaluate(() => (window as unknown as { landBySeen: string[] }).landBySeen);
}

const MAH = /\d[\d\u202f]*\s*mAh/;

test("the land-by is a figure from the first frame on, never a promise of one, and never bolder than the last", async ({ page }) => {
    const seen = await watch(page);
    await open(page, "card");
    const answer = page.getByLabel("The answer");
    await expect(answer).toHaveAttribute("aria-busy", "false");
    const charges = (await seen()).map((text) => Number(/[\d\u202f]+/.exec(text.replace(/^\D+/, ""))?.[0]?.replaceAll("\u202f", "")));
    expect((await seen()).filter((text) => !MAH.test(text))).toEqual([]);
    // The first one, of a few flights, then the one of all samples.
    expect(charges.length).toBeGreaterThan(1);
    for (const charge of charges) expect(charge).toBeLessThanOrEqual(charges.at(-1)!);
});

test("a change that takes time away leaves a figure in the land-by at every frame", async ({ page }) => {
    const seen = await watch(page);
    await open(page, "card");
    await expect(page.getByLabel("The answer")).toHaveAttribute("aria-busy", "false");
    await unfold(page, "What if");
    await page.locator("#what-if-extra-mass").fill("2.5");
    await expect(figure(page, "land-by")).toHaveText(MAH);
    await expect(page.getByLabel("The answer")).toHaveAttribute("aria-busy", "false");
    expect((await seen()).filter((text) => !MAH.test(text))).toEqual([]);
});

test("on the smallest phone the card opens with the verdict and the land-by in sight", async ({ page }) => {
    await page.setViewportSize({ width: 320, height: 568 });
    await open(page, "card");
    await expect(figure(page, "land-by")).toHaveText(MAH);
    const [bar, verdict, landBy] = await Promise.all(
        [page.getByRole("navigation"), page.locator(".verdict-word"), figure(page, "land-by")].map(async (seen) => (await seen.first().boundingBox())!),
    );
    for (const seen of [verdict!, landBy!]) {
        expect(seen.y).toBeGreaterThanOrEqual(0);
        expect(seen.y + seen.height).toBeLessThanOrEqual(bar!.y);
    }
});
