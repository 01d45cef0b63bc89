import { expect, test } from "./fixtures";
import { choose, kept, open, press, records, type, unfold } from "./act";
import { first, heavierLens, lens } from "./demo";
import { change, figure, list } from "./find";
import { number, seconds, toNumber, toSeconds } from "./see";

test("a heavier lens: the minutes fall, the saved setup stays", async ({ page }) => {
    await open(page, "card");
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
