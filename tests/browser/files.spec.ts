import { readFile } from "node:fs/promises";
import { expect, test } from "./fixtures";
import { choose, goTo, kept, open, press, type } from "./act";
import { demo, first, lens, second } from "./demo";
import { figure, list, note } from "./find";
import { number } from "./see";

test("a bad file is refused with the reason and nothing changes", async ({ page }) => {
    await open(page, "settings");
    for (const bad of ["{", '{"liftmargin_schema": 99}', "[]", ""]) {
        await page.getByLabel("Import a file").setInputFiles({ name: "bad.json", mimeType: "application/json", buffer: Buffer.from(bad) });
        await expect(page.getByRole("alert")).toContainText("your data is unchanged");
    }
    await goTo(page, "Card");
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
    await expect(figure(page, "land-by")).toHaveText(/\d/);
});

test("one broken record hides no other, and is kept until it is let go", async ({ page }) => {
    await open(page, "settings");
    const file = JSON.stringify({ ...demo, items: [...demo.items, { id: "x", name: "Odd one", mass_kg: "heavy" }] });
    await page.getByLabel("Import a file").setInputFiles({ name: "half.json", mimeType: "application/json", buffer: Buffer.from(file) });
    await expect(note(page, "rescue")).toContainText("Odd one");
    await page.reload();
    await expect(note(page, "rescue")).toContainText("Odd one");
    await goTo(page, "Card");
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
});

test("an export is the demo word for word, and comes back in", async ({ page }) => {
    await open(page, "settings");
    const [download] = await Promise.all([page.waitForEvent("download"), press(page, "Export all to a file")]);
    const text = await readFile(await download.path(), "utf8");
    expect(JSON.parse(text)).toEqual(demo);
    await press(page, "Start empty");
    await goTo(page, "Card");
    await expect(figure(page, "land-by")).toHaveCount(0);
    await goTo(page, "Settings");
    await page.getByLabel("Import a file").setInputFiles({ name: "back.json", mimeType: "application/json", buffer: Buffer.from(text) });
    await goTo(page, "Card");
    await expect(figure(page, "land-by")).toHaveText(/\d/);
});

test("starting empty is taken back by the undo bar", async ({ page }) => {
    await open(page, "settings");
    await press(page, "Start empty");
    await press(page, "Undo");
    await goTo(page, "Card");
    await expect(list(page, "Setup")).toHaveValue(first.id);
});

test("storage that cannot be read is set aside, never overwritten, and can be saved as a file", async ({ page }) => {
    await open(page, "card");
    const broken = '{"bundle": {"liftmargin_schema": 1, "items": [our only copy';
    await page.evaluate((text) => localStorage.setItem("liftmargin-workspace", text), broken);
    await page.reload();
    await expect(note(page, "rescue")).toBeVisible();
    const [download] = await Promise.all([page.waitForEvent("download"), press(note(page, "rescue"), "Save file")]);
    expect(await readFile(await download.path(), "utf8")).toBe(broken);
    await choose(page, "Setup", second.name);
    await kept(page, `"selected":"${second.id}"`);
    await page.reload();
    await expect(note(page, "rescue")).toBeVisible();
    const set_aside = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.startsWith("liftmargin-rescue-")));
    expect(set_aside.map(([, text]) => text)).toEqual([broken]);
});

test("two tabs: an idle one follows, one with changes asks, nothing is lost", async ({ page, context }) => {
    await open(page, "card");
    const mass = await number(page, "all-up-mass");
    const other = await context.newPage();
    await other.goto(page.url());
    await goTo(other, "Build");
    const row = other.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", String(lens.mass_kg + 2));
    await kept(other, `"mass_kg":${lens.mass_kg + 2}`);
    await expect.poll(() => number(page, "all-up-mass")).toBeCloseTo(mass + 2, 1);

    // Written behind this tab's back, with no event: what it would have overwritten is offered instead.
    await other.evaluate(() => {
        const kept = JSON.parse(localStorage.getItem("liftmargin-workspace") ?? "{}");
        kept.stamp_ms += 1;
        localStorage.setItem("liftmargin-workspace", JSON.stringify(kept));
    });
    await type(row, "Mass", String(lens.mass_kg + 3));
    await expect(note(other, "other-tab")).toBeVisible();
    await press(note(other, "other-tab"), "Keep this tab's");
    await kept(other, `"mass_kg":${lens.mass_kg + 3}`);
    await expect(note(other, "other-tab")).toHaveCount(0);
});
