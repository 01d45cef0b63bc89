// A laptop: the answer and the flight stay in view beside what is entered. Rows that open: what they hold is a touch away.
import { expect, test } from "./fixtures";
import { open, unfold } from "./act";
import { lens } from "./demo";
import { field, figure } from "./find";
import { settled } from "./see";
import type { Locator, Page } from "@playwright/test";

const SIZES = [
    { width: 1280, height: 800 },
    { width: 1920, height: 1080 },
];

/** The top of it stands in the window, right of and left of nothing that is cut. */
async function seen(page: Page, place: Locator): Promise<void> {
    await expect(place).toBeVisible();
    const [box, window] = [(await place.boundingBox())!, page.viewportSize()!];
    expect(box.y).toBeGreaterThanOrEqual(-1);
    expect(box.y).toBeLessThan(window.height / 2);
    expect(box.x + box.width).toBeLessThanOrEqual(window.width);
}

for (const size of SIZES) {
    test(`at ${size.width} px the answer and the flight stay in view on Card`, async ({ page }) => {
        await page.setViewportSize(size);
        await open(page, "card");
        await settled(page);
        const plot = page.locator("figure.plot").first();
        for (const depth of [0, 900, 1800]) {
            await page.evaluate((to) => window.scrollTo(0, to), depth);
            // Further, where what is drawn late above keeps the place of what is read.
            await expect.poll(() => page.evaluate(() => window.scrollY)).toBeGreaterThanOrEqual(depth);
            for (const place of [figure(page, "verdict"), figure(page, "land-by"), figure(page, "flight-time"), plot]) await seen(page, place);
        }
    });

    test(`at ${size.width} px the flight stays beside what is entered on Build and Site`, async ({ page }) => {
        await page.setViewportSize(size);
        for (const name of ["build", "site"]) {
            await open(page, name);
            await page.evaluate(() => document.querySelectorAll("main details").forEach((fold) => fold.setAttribute("open", "")));
            await expect(page.locator(".flight-beside figure.plot")).toBeVisible();
            await page.evaluate(() => window.scrollTo(0, 400));
            await seen(page, page.locator(".flight-beside figure.plot"));
            await seen(page, page.locator('[data-bar="answer"]'));
            expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(size.width);
        }
    });
}

test("on a phone no second flight is drawn", async ({ page }) => {
    await open(page, "build");
    await expect(page.getByRole("listitem").filter({ hasText: lens.name })).not.toHaveCount(0);
    await expect(page.locator(".flight-beside")).toHaveCount(0);
});

test("what is on board is a row each; the rest of an item opens by its name and stays open while it is typed", async ({ page }) => {
    await open(page, "build");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    const name = row.getByRole("button", { name: lens.name });
    await expect(name).toHaveAttribute("aria-expanded", "false");
    await expect(field(row, "Power draw")).toHaveCount(0);
    await name.click();
    await field(row, "Power draw").fill("12");
    await expect(name).toHaveAttribute("aria-expanded", "true");
    await expect(field(row, "Power draw")).toHaveValue("12");
    for (const target of [name, field(row, "Mass"), row.locator(".switch-row")]) {
        expect((await target.boundingBox())!.height).toBeGreaterThanOrEqual(44);
    }
    await name.click();
    await expect(field(row, "Power draw")).toHaveCount(0);
});

test("strings that are alike are entered once, and apart when they differ, each with its own temperature", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Packs and meter");
    const strings = page.locator(".strings > li");
    await expect(strings).toHaveCount(1);
    await expect(strings.first().getByRole("button").first()).toHaveText(/^3 strings of 2 × /);
    await page.getByText("Enter each string on its own").click();
    await expect(strings).toHaveCount(3);
    await strings.nth(1).getByRole("button", { name: /String 2: 2 × / }).click();
    await field(strings.nth(1), "Pack temperature").fill("12");
    await expect(strings.nth(1)).toContainText("12 °C");
    await page.getByText("Enter each string on its own").click();
    await expect(strings).toHaveCount(3);
    await field(strings.nth(1), "Pack temperature").fill("25");
    await expect(strings).toHaveCount(1);
});

test("a fault in what a row holds is one touch from the card", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "On board");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await row.getByRole("button", { name: lens.name }).click();
    await field(row, "Power draw").fill("much");
    await row.getByRole("button", { name: lens.name }).click();
    await open(page, "card");
    await page.locator('[data-band="refused"]').getByRole("button").first().click();
    await expect(page.locator('[data-screen="build"]')).toBeVisible();
    await expect(field(page, "Power draw").first()).toBeFocused();
});
