// Large text, a phone on its side, paper, forced colours: nothing is cut, the answer stays in view.
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "./fixtures";
import { open, unfoldAll } from "./act";
import { figure, screen } from "./find";
import { settled } from "./see";
import type { Page } from "@playwright/test";

const SCREENS = ["card", "build", "site", "sheet", "packs", "day", "log", "airborne", "settings"];

const largeText = (page: Page, percent: number) =>
    page.evaluate((size) => document.documentElement.style.setProperty("font-size", `${size}%`), percent);

/** Elements whose words do not fit in them, or that stand out of the window, but for what scrolls on its own. */
const cut = (page: Page): Promise<string[]> =>
    page.evaluate(() => {
        const wide = window.innerWidth;
        return [...document.querySelectorAll<HTMLElement>("body *")].flatMap((element) => {
            const scrolls = element.closest(".table-place, .only-read, textarea, select, svg, input");
            const box = element.getBoundingClientRect();
            if (scrolls || box.width === 0 || getComputedStyle(element).visibility === "hidden") return [];
            const words = element.textContent?.trim().slice(0, 40) ?? "";
            const out = box.right > wide + 1 || box.left < -1;
            const hidden = getComputedStyle(element).overflowX === "hidden" && element.scrollWidth > element.clientWidth + 1;
            return out || hidden ? [`${element.tagName}.${element.className} ${words}`] : [];
        });
    });

for (const name of SCREENS) {
    test(`${name}: nothing is cut at 200 % text on 390 px, and axe finds nothing`, async ({ page }) => {
        await open(page, name);
        if (name === "card") await settled(page);
        await unfoldAll(page);
        await largeText(page, 200);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
        expect(await cut(page)).toEqual([]);
        const { violations } = await new AxeBuilder({ page }).analyze();
        expect(violations.map(({ id, nodes }) => ({ id, where: nodes.map((node) => node.html).slice(0, 3) }))).toEqual([]);
    });
}

test("on its side, verdict and land by stand in view beside each other", async ({ page }) => {
    await page.setViewportSize({ width: 844, height: 390 });
    await open(page, "card");
    await settled(page);
    const [verdict, landBy] = [await page.locator(".verdict").boundingBox(), await figure(page, "land-by").boundingBox()];
    const bottom = (await page.getByRole("navigation", { name: "Screens" }).boundingBox())!.y;
    expect(verdict!.y + verdict!.height).toBeLessThanOrEqual(bottom);
    expect(landBy!.y + landBy!.height).toBeLessThanOrEqual(bottom);
    expect(landBy!.x).toBeGreaterThanOrEqual(verdict!.x + verdict!.width - 1);
});

test("paper: a card is one light page with its date, and no controls", async ({ page }) => {
    await page.emulateMedia({ colorScheme: "dark", media: "print" });
    await open(page, "card");
    await settled(page);
    await expect(figure(page, "printed-at")).toHaveText(/\d{4}-\d\d-\d\d \d\d:\d\d UTC/);
    await expect(page.getByRole("navigation", { name: "Screens" })).toBeHidden();
    for (const name of ["land-by", "turn-back", "counts-with", "strings-lost"]) await expect(figure(page, name)).toBeVisible();
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe("rgb(255, 255, 255)");
    const paper = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString("latin1");
    expect(paper.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
});

test("forced colours keep the current screen and the legend", async ({ page }) => {
    await page.emulateMedia({ forcedColors: "active" });
    await open(page, "card");
    await settled(page);
    const back = (selector: string): Promise<string> =>
        page.locator(selector).first().evaluate((element) => getComputedStyle(element).backgroundColor);
    expect(await back('.bar a[aria-current="page"]')).not.toBe(await back('.bar a[aria-current="false"]'));
    await expect(screen(page, "card")).toBeVisible();
});
