// A builder's questions: one thing over a range, setups side by side, a mass on a slider. By touch on a phone.
import AxeBuilder from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures";
import { choose, open, records } from "./act";
import { demo, first, lens, second } from "./demo";
import { figure } from "./find";
import { number, seconds, settled, toNumber, toSeconds } from "./see";

// Many figures are worked out, on a machine that may be slow.
test.setTimeout(90_000);

const panel = (page: Page, name: string): Locator => page.locator(`[data-panel="${name}"]`);

async function drawn(within: Locator): Promise<void> {
    await expect(within.locator(".curve")).toHaveAttribute("aria-busy", "false", { timeout: 60_000 });
}

async function openSweep(page: Page): Promise<Locator> {
    const sweep = panel(page, "sweep");
    await sweep.locator("summary").first().tap();
    await drawn(sweep);
    return sweep;
}

async function openCompare(page: Page): Promise<Locator> {
    const compare = panel(page, "compare");
    await compare.locator("summary").first().tap();
    await compared(compare);
    return compare;
}

async function compared(compare: Locator): Promise<void> {
    await expect(compare.locator('[data-table="compare"]')).toHaveAttribute("aria-busy", "false", { timeout: 60_000 });
}

/** What stands large in each cell of a row. */
const cells = (compare: Locator, row: string): Promise<string[]> => compare.locator(`[data-row="${row}"] td b`).allTextContents();

async function openSlider(page: Page, name: string): Promise<Locator> {
    const sheet = page.locator('[data-sheet="heavier"]');
    await sheet.locator("summary").first().tap();
    await sheet.getByRole("button", { name }).tap();
    await drawn(sheet);
    return sheet;
}

/** No part of the page is wider than the screen. */
async function fits(page: Page): Promise<void> {
    expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBe(0);
}

test("over a range opens with a picture; wind, rotor and distance too, cautious beside typical, without network", async ({ page, host, problems }) => {
    await open(page, "build");
    await seeReadyForOffline(page);
    await loseNetwork(page, host);
    const sweep = await openSweep(page);
    const drawing = sweep.getByRole("img");
    await expect(drawing).toHaveAccessibleName(/flight time/i);
    for (const [axis, words] of [["Mean wind", /turn back/i], ["Rotor diameter", /thrust-to-weight/i], ["Distance to the set", /time on set/i]] as const) {
        await choose(sweep, "Vary", axis);
        await expect(drawing).toHaveAccessibleName(words);
        await drawn(sweep);
        await expect(sweep.getByRole("columnheader", { name: "Flight time, cautious, min" })).toBeAttached();
        await expect(sweep.getByRole("columnheader", { name: "Flight time, typical, min" })).toBeAttached();
        await expect(sweep.locator('[data-figure="sweep-limits"]')).toHaveText(/it says no|No limit/);
        // Cautious is never bolder than typical.
        const rows = await sweep.locator("tbody tr").evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
        expect(rows.length).toBeGreaterThan(10);
        for (const [, cautious, typical] of rows) expect(toNumber(cautious ?? "")).toBeLessThanOrEqual(toNumber(typical ?? ""));
        await fits(page);
    }
    await expect(sweep.getByText("Only the diameter is varied")).toHaveCount(0);
    await choose(sweep, "Vary", "Rotor diameter");
    await expect(sweep.getByText("any other counts with a wider doubt")).toBeVisible();
    problems.length = 0;
});

test("setups side by side: what differs first, each column its card, no sideways scroll", async ({ page }) => {
    await open(page, "build");
    const compare = await openCompare(page);
    const names = await compare.locator("thead th").first().locator("..").locator("th").allTextContents();
    expect(names).toEqual([first.name, second.name]);
    const place = compare.locator(".compare-place").first();
    expect(await place.evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
    await fits(page);
    // What is on board differs, and stands before what it comes to; what is the same waits for a touch.
    const rows = await place.locator("tbody tr").evaluateAll((all) => all.map((row) => row.getAttribute("data-row")));
    expect(rows.indexOf("on-board")).toBeLessThan(rows.indexOf("verdict"));
    expect(rows).toContain("on-board");
    const same = compare.locator('[data-row="profile.height_m"]');
    await expect(same).toBeHidden();
    await compare.getByText(/^The same in all: \d+ rows$/).tap();
    await expect(same).toBeVisible();
    const [minutes, landBy, mass] = [await cells(compare, "flight-time"), await cells(compare, "land-by"), await cells(compare, "all-up-mass")];
    for (const [column, setup] of [first, second].entries()) {
        await open(page, "card");
        await choose(page, "Setup", setup.name);
        await settled(page);
        expect(toSeconds(minutes[column] ?? "")).toBe(await seconds(page, "flight-time"));
        expect(toNumber(landBy[column] ?? "")).toBe(await number(page, "land-by"));
        expect(toNumber(mass[column] ?? "")).toBe(await number(page, "all-up-mass"));
    }
    expect(await records(page)).toEqual({});
});

test("three setups side by side on a laptop, chosen by touch", async ({ page }) => {
    await page.setViewportSize({ width: 1280, height: 800 });
    await open(page, "build");
    const compare = await openCompare(page);
    await compare.getByText("2 setups side by side: choose").tap();
    await compare.getByRole("switch", { name: demo.setups[2]?.name ?? "" }).tap();
    await expect(compare.locator("thead").first().locator("th")).toHaveCount(3);
    await compared(compare);
    expect((await cells(compare, "flight-time")).length).toBe(3);
    expect(await compare.locator(".compare-place").first().evaluate((box) => box.scrollWidth - box.clientWidth)).toBe(0);
});

test("a mass on a slider: the minutes follow, by touch and by key; zero is the setup as saved", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    const before = await seconds(page, "flight-time");
    const sheet = await openSlider(page, lens.name);
    const slider = sheet.getByRole("slider", { name: `Mass of ${lens.name}` });
    expect((await slider.boundingBox())?.height ?? 0).toBeGreaterThanOrEqual(44);
    await expect(sheet.getByRole("columnheader", { name: "Flight time, cautious, min" })).toBeAttached();
    const table = await sheet.locator("table").textContent();
    await slider.focus();
    for (let step = 0; step < 8; step++) await slider.press("ArrowRight");
    await expect(sheet.locator('[data-figure="tried-mass"]')).toContainText("heavier by 0.40");
    await expect(slider).toHaveAttribute("aria-valuetext", /heavier by 0\.40/);
    await expect(page.locator('[data-band="what-if"]')).toContainText("heavier by 0.40");
    await settled(page);
    expect(await seconds(page, "flight-time")).toBeLessThan(before);
    // The figures beside the slider are those of the card, and the curve stays as it was.
    await expect.poll(() => seconds(page, "tried-flight-time")).toBe(await seconds(page, "flight-time"));
    expect(await number(page, "tried-land-by")).toBe(await number(page, "land-by"));
    expect(await sheet.locator("table").textContent()).toBe(table);
    // To the light end by a touch on the track, and back by steps.
    await slider.evaluate((element) => element.scrollIntoView({ block: "center" }));
    const box = await slider.boundingBox();
    if (!box) throw new Error("no slider");
    await page.touchscreen.tap(box.x + 12, box.y + box.height / 2);
    await expect(sheet.locator('[data-figure="tried-mass"]')).toContainText("lighter by");
    await slider.press("Home");
    for (let step = 0; step < Math.floor(lens.mass_kg / 0.05 + 1e-9); step++) await slider.press("ArrowRight");
    await expect(sheet.locator('[data-figure="tried-mass"]')).toContainText("as saved");
    await expect(page.locator('[data-band="what-if"]')).toHaveCount(0);
    await expect.poll(() => seconds(page, "flight-time")).toBe(before);
    expect(await records(page)).toEqual({});
    await fits(page);
});

test("an extra payload on a slider ends where a check says no", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    const sheet = await openSlider(page, "Extra payload");
    await expect(sheet.locator('[data-figure="sweep-limits"]')).toHaveText(/^Above [\d.]+\skg it says no: /);
    const limit = toNumber((await sheet.locator('[data-figure="sweep-limits"]').textContent()) ?? "");
    const slider = sheet.getByRole("slider", { name: "Mass of extra payload" });
    await slider.fill(String(Math.floor(limit / 0.05) - 1));
    await settled(page);
    await expect(page.locator(".verdict")).not.toContainText("Do not take off");
    await slider.fill(String(Math.ceil((limit + 0.15) / 0.05)));
    await settled(page);
    await expect(page.locator(".verdict")).toContainText("Do not take off");
    await expect(figure(page, "tried-mass")).toHaveText(/\d/);
});

for (const scheme of ["light", "dark"] as const) {
    for (const name of ["build", "card"] as const) {
        test(`the new panels of ${name}, ${scheme}: no fault that axe can find`, async ({ page }) => {
            await page.emulateMedia({ colorScheme: scheme });
            await open(page, name);
            if (name === "card") {
                await openSlider(page, lens.name);
            } else {
                await openSweep(page);
                await openCompare(page);
                await page.locator("details.compare-same").evaluate((fold: HTMLDetailsElement) => (fold.open = true));
            }
            const { violations } = await new AxeBuilder({ page }).include("main").analyze();
            expect(violations.map(({ id, nodes }) => ({ id, where: nodes.map((node) => node.html).slice(0, 3) }))).toEqual([]);
        });
    }
}
