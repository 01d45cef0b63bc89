import { expect, test } from "./fixtures";
import { choose, kept, open, press, records, type, unfold } from "./act";
import { first, heavierLens, lens } from "./demo";
import { change, figure, list } from "./find";
import { number, seconds, settled, toNumber, toSeconds } from "./see";

test("a heavier lens: the minutes fall, the saved setup stays", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    const minutes = await seconds(page, "flight-time");
    const mass = await number(page, "all-up-mass");
    await unfold(page, "What if");
    await choose(page, lens.name, `swap for ${heavierLens.name}`);
    const row = change(page, "flight-time");
    await expect(row.after).toHaveText(/\d/);
    expect(toSeconds((await row.before.textContent()) ?? "")).toBe(minutes);
    expect(toSeconds((await row.after.textContent()) ?? "")).toBeLessThan(minutes);
    await expect.poll(() => seconds(page, "flight-time")).toBeLessThan(minutes);
    expect(await number(page, "all-up-mass")).toBeGreaterThan(mass);
    expect(await records(page)).toEqual({});
    await press(page, "Discard");
    await expect.poll(() => seconds(page, "flight-time")).toBe(minutes);
    await page.reload();
    await expect.poll(() => seconds(page, "flight-time")).toBe(minutes);
});

test("a changed mass and an extra mass, on Build too", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "What if");
    const panel = page.locator(".what-if");
    await type(panel.getByRole("listitem").filter({ hasText: lens.name }).first(), "Mass", String(lens.mass_kg + 0.6));
    const row = change(page, "thrust-to-weight");
    await expect(row.before).toHaveText(/\d/);
    const before = toNumber((await row.before.textContent()) ?? "");
    const extra = panel.locator("#what-if-extra-mass");
    await extra.fill("4");
    await expect.poll(async () => toNumber((await row.after.textContent()) ?? "")).toBeLessThan(before);
});

test("a what-if kept is a new setup, the old one stays", async ({ page }) => {
    await open(page, "card");
    const mass = await number(page, "all-up-mass");
    await unfold(page, "What if");
    await choose(page, lens.name, `swap for ${heavierLens.name}`);
    await press(page, "Keep as new setup");
    await kept(page, `${first.name} (what-if)`);
    await expect(list(page, "Setup").getByRole("option", { name: `${first.name} (what-if)` })).toHaveCount(1);
    await expect.poll(() => number(page, "all-up-mass")).toBeGreaterThan(mass);
    await choose(page, "Setup", first.name);
    await expect.poll(() => number(page, "all-up-mass")).toBe(mass);
    await expect(figure(page, "land-by")).toHaveText(/\d/);
});

test("a heavier lens in three touches on a phone; the band on every screen; nothing saved unasked", async ({ page }) => {
    await page.setViewportSize({ width: 390, height: 844 });
    await open(page, "card");
    await settled(page);
    const landBy = await number(page, "land-by");
    const sheet = page.locator('[data-sheet="heavier"]');
    await sheet.locator("summary").click();
    await sheet.getByRole("button", { name: lens.name }).click();
    await sheet.getByRole("button", { name: heavierLens.name }).click();
    const band = page.locator('[data-band="what-if"]');
    await expect(band.locator('[data-figure="after-land-by"]')).toHaveText(/\d/);
    await expect(band.locator('[data-figure="after-land-by"]')).toBeInViewport({ ratio: 1 });
    expect(await page.evaluate(() => scrollY)).toBe(0);
    expect(await number(page, "before-land-by")).toBe(landBy);
    await expect.poll(() => number(page, "land-by")).toBe(await number(page, "after-land-by"));
    await expect(page.locator(".verdict .what-if-tag")).toBeVisible();
    await expect(band).toContainText(`${heavierLens.name} instead of ${lens.name}`);
    for (const name of ["build", "site", "settings", "card"]) {
        await page.goto(`#/${name}`);
        await expect(band).toBeVisible();
    }
    await press(page, "Discard");
    await expect(band).toHaveCount(0);
    await expect.poll(() => number(page, "land-by")).toBe(landBy);
});

test("the answer follows on Site with each keystroke and says what moved; a refused field is told above the verdict", async ({ page }) => {
    await open(page, "site");
    const bar = page.locator('[data-bar="answer"]');
    await expect(bar.locator('[data-figure="land-by"]')).toHaveText(/\d/);
    const before = await bar.locator('[data-figure="flight-time"]').textContent();
    await type(page, "Site elevation", "3200");
    await expect(bar.locator('[data-figure="flight-time"]')).not.toHaveText(before ?? "");
    await expect(bar.locator('[data-figure="moved"]')).toHaveText(/\S/);
    await type(page, "Site elevation", "99999");
    await page.goto("#/card");
    const refused = page.locator('[data-band="refused"]');
    await expect(refused).toContainText("Still counting with");
    await refused.getByRole("button", { name: "Go to the field" }).first().click();
    const elevation = page.getByRole("textbox", { name: "Site elevation", exact: true });
    await expect(elevation).toHaveValue("99999");
    await type(page, "Site elevation", "1000");
    await page.goto("#/card");
    await expect(page.locator('[data-band="refused"]')).toHaveCount(0);
});
