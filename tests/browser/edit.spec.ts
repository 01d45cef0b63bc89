import { expect, test } from "./fixtures";
import { goTo, kept, open, press, stored, type, unfold } from "./act";
import { lens } from "./demo";
import { field, figure } from "./find";
import { number, settled, sound } from "./see";

test("an item's mass is edited, changes the card, and is kept over a reload", async ({ page }) => {
    await open(page, "card");
    const before = await number(page, "all-up-mass");
    await goTo(page, "Build");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", String(lens.mass_kg + 1.25));
    await kept(page, `"mass_kg":${lens.mass_kg + 1.25}`);
    await goTo(page, "Card");
    await expect.poll(() => number(page, "all-up-mass")).toBeCloseTo(before + 1.25, 1);
    await page.reload();
    await expect.poll(() => number(page, "all-up-mass")).toBeCloseTo(before + 1.25, 1);
});

test("a comma is a decimal mark", async ({ page }) => {
    await open(page, "build");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", "2,75");
    await kept(page, '"mass_kg":2.75');
});

for (const wrong of ["abc", "-1", "", "1e9"]) {
    test(`"${wrong}" as a mass gives words beside the field and never a blank`, async ({ page }) => {
        await open(page, "card");
        const before = await number(page, "all-up-mass");
        await goTo(page, "Build");
        const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
        await type(row, "Mass", wrong);
        const input = field(row, "Mass").first();
        await expect(input).toHaveAttribute("aria-invalid", "true");
        await expect(row).toContainText(/between 0 and 60/);
        await sound(page);
        await goTo(page, "Card");
        expect(await number(page, "all-up-mass")).toBe(before);
        await sound(page);
    });
}

for (const wrong of ["abc", "-500000", "", "1e9"]) {
    test(`"${wrong}" as an elevation gives words and keeps the figure`, async ({ page }) => {
        await open(page, "site");
        const before = await number(page, "density-altitude");
        await type(page, "Site elevation", wrong);
        await expect(field(page, "Site elevation")).toHaveAttribute("aria-invalid", "true");
        expect(await number(page, "density-altitude")).toBe(before);
        await sound(page);
    });
}

test("a hotter day raises the density altitude as it is typed", async ({ page }) => {
    await open(page, "site");
    await type(page, "Outside air temperature", "10");
    const cool = await number(page, "density-altitude");
    await type(page, "Outside air temperature", "35");
    await expect.poll(() => number(page, "density-altitude")).toBeGreaterThan(cool + 500);
});

test("an edit is taken back", async ({ page }) => {
    await open(page, "build");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", "3.5");
    await kept(page, '"mass_kg":3.5');
    await press(page, /^Undo/);
    await expect(field(row, "Mass").first()).toHaveValue(String(lens.mass_kg));
});

test("units: pounds on the card, kilograms in the file", async ({ page }) => {
    await open(page, "card");
    const kilograms = await number(page, "all-up-mass");
    await goTo(page, "Settings");
    await press(page, "All US");
    await goTo(page, "Card");
    await expect(figure(page, "all-up-mass")).toContainText("lb");
    expect(await number(page, "all-up-mass")).toBeCloseTo(kilograms / 0.45359237, 0);
    await goTo(page, "Build");
    await unfold(page, "On board");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", "2.2046");
    await expect.poll(() => stored(page)).toMatch(/"mass_kg":0\.99998/);
});

test("a name changed while flights are sampled does not stop the sampling", async ({ page }) => {
    await open(page, "site");
    const [temperature, name] = [field(page, "Outside air temperature"), page.getByLabel("Name of the site")];
    await temperature.fill("31");
    for (let letter = 0; letter < 8; letter += 1) {
        await name.fill(`Pass ${letter}`);
        await page.waitForTimeout(60);
    }
    await open(page, "card");
    await settled(page);
});
