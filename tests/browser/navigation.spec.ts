// The way to every screen: a bar of four and More under the thumb, all of them at the side on a laptop.
import { expect, test } from "./fixtures";
import { goTo, open } from "./act";
import { screen } from "./find";
import { settled } from "./see";
import type { Locator, Page } from "@playwright/test";

const bar = (page: Page): Locator => page.getByRole("navigation", { name: "Screens" });
const more = (page: Page): Locator => bar(page).getByRole("button", { name: "More" });

/** Text of that size, as a person sets it in the browser. */
const largeText = (page: Page, percent: number) =>
    page.evaluate((size) => document.documentElement.style.setProperty("font-size", `${size}%`), percent);

/** Every label that is shown stands whole in its place, and its place in the window. */
async function labelsWhole(page: Page): Promise<void> {
    const cut = await bar(page).evaluate((nav) =>
        [...nav.querySelectorAll("a, button")].flatMap((place) => {
            const [outside, inside] = [place.getBoundingClientRect(), place.querySelector("span")!.getBoundingClientRect()];
            if (outside.width === 0) return [];
            const whole = inside.left >= outside.left - 0.5 && inside.right <= outside.right + 0.5 && outside.left >= 0
                && outside.right <= window.innerWidth + 0.5 && outside.bottom <= window.innerHeight + 0.5 && outside.height >= 44;
            return whole ? [] : [place.textContent];
        }),
    );
    expect(cut).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
}

for (const width of [390, 320]) {
    for (const percent of [100, 200]) {
        test(`every label is whole at ${width} px and ${percent} % text`, async ({ page }) => {
            await page.setViewportSize({ width, height: 844 });
            await open(page, "settings");
            await largeText(page, percent);
            await labelsWhole(page);
            await more(page).click();
            await expect(bar(page).getByRole("link", { name: "Settings" })).toBeVisible();
            await labelsWhole(page);
        });
    }
}

test("the bar stays under the thumb, More opens above it and closes by choice, by Escape and by a touch beside it", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    await page.evaluate(() => window.scrollTo(0, 1500));
    const place = await bar(page).boundingBox();
    expect(place!.y + place!.height).toBeCloseTo(844, 0);
    const settings = bar(page).getByRole("link", { name: "Settings" });
    await expect(settings).toBeHidden();
    await more(page).tap();
    await expect(more(page)).toHaveAttribute("aria-expanded", "true");
    expect((await settings.boundingBox())!.y).toBeGreaterThan(844 / 2);
    await page.keyboard.press("Escape");
    await expect(settings).toBeHidden();
    await more(page).tap();
    await page.touchscreen.tap(100, 200);
    await expect(settings).toBeHidden();
    await more(page).tap();
    await settings.tap();
    await expect(screen(page, "settings")).toBeVisible();
    await expect(settings).toBeHidden();
    await expect(more(page)).toHaveAttribute("data-current", "yes");
});

test("a screen opens at its top", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    await page.evaluate(() => window.scrollTo(0, 2000));
    await goTo(page, "Build");
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBe(0);
});

test("on a laptop every screen stands at the side, none behind More", async ({ page }) => {
    await page.setViewportSize({ width: 1280, height: 800 });
    await open(page, "card");
    await expect(more(page)).toBeHidden();
    for (const name of ["Card", "Build", "Site", "Settings"]) {
        await bar(page).getByRole("link", { name, exact: true }).click();
        await expect(screen(page, name.toLowerCase())).toBeVisible();
        await expect(bar(page).getByRole("link", { name, exact: true })).toHaveAttribute("aria-current", "page");
    }
    await labelsWhole(page);
});

test("by keyboard alone: to More, into it, to Settings", async ({ page }) => {
    await open(page, "site");
    await more(page).focus();
    await page.keyboard.press("Enter");
    // Settings is the last in the list.
    for (let left = await bar(page).locator("#more-screens a").count(); left > 0; left--) await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await expect(screen(page, "settings")).toBeVisible();
});
