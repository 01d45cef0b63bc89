import { readFile } from "node:fs/promises";
import { expect, test } from "./fixtures";
import { goTo, open, press } from "./act";
import { demo, first } from "./demo";
import { figure, list, note } from "./find";

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
