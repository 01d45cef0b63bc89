// The log: recordings that stay, entries put right, tables out and in.
import { readFileSync } from "node:fs";
import { expect, test } from "./fixtures";
import { choose, kept, open, press, records, type, unfold } from "./act";
import { button, figure, list } from "./find";
import { takeRecording, takeTable } from "./many";
import { sound } from "./see";

test("a recording stays with its entry, and goes and comes back with it", async ({ page }) => {
    test.slow();
    await open(page, "log");
    await takeRecording(page, "first.csv", 90);
    const entry = page.locator("[data-entry]");
    await expect(entry).toHaveCount(1);
    await kept(page, '"name":"first.csv"');
    await page.reload();
    await entry.locator("summary").first().click();
    const plot = entry.locator('[data-figure="kept-recording"]');
    await expect(plot).toContainText("recorded less predicted");
    await press(entry, "Delete this flight");
    await expect(entry).toHaveCount(0);
    await expect.poll(async () => (await records(page))["recordings/flight"] ?? "").toBe("");
    await button(page, "Undo").click();
    await expect(entry).toHaveCount(1);
    await expect.poll(async () => (await records(page))["recordings/flight"] ?? "").toContain("first.csv");
    await sound(page);
});

test("what recordings teach of the packs is shown, taken only when asked, and undone", async ({ page }) => {
    test.slow();
    await open(page, "log");
    // Packs of 1.4 times the demo's resistance, recorded at two powers: tests/it/log_packs.rs.
    for (const name of ["low", "high"]) {
        await takeTable(page, `${name}.csv`, readFileSync(new URL(`recordings/${name}.csv`, import.meta.url)), "481");
        await expect(page.locator("[data-entry]")).toHaveCount(name === "low" ? 1 : 2);
    }
    const packs = async () => JSON.parse((await records(page))["pack_types/six-7"]!);
    await expect.poll(async () => Object.keys(await records(page))).toContain("pack_types/six-7");
    const before = await packs();
    expect(before.measured_cell_resistance_mohm ?? null).toBe(null);
    const entry = page.locator("[data-entry]").first();
    await entry.locator("summary").first().click();
    await press(entry, "Learn these packs from the recording");
    const lesson = entry.locator('[data-figure="pack-lesson"]');
    await expect(lesson).toContainText("resistance");
    // Shown is not taken.
    await press(entry, "Leave it");
    await expect(lesson).toHaveCount(0);
    expect((await packs()).measured_cell_resistance_mohm ?? null).toBe(null);
    await press(entry, "Learn these packs from the recording");
    await press(entry, "Take it for these packs");
    await expect(lesson).toHaveCount(0);
    await expect.poll(async () => (await packs()).measured_cell_resistance_mohm ?? 0).toBeGreaterThan(before.cell_resistance_mohm * 1.3);
    expect((await packs()).measured_cell_resistance_mohm).toBeLessThan(before.cell_resistance_mohm * 1.75);
    await button(page, "Undo").click();
    await expect.poll(async () => (await packs()).measured_cell_resistance_mohm ?? null).toBe(null);
    await sound(page);
});

test("a recording without current teaches no packs, in words", async ({ page }) => {
    test.slow();
    await open(page, "log");
    const rows = ["Time (s),Voltage (V),Used (mAh)", ...Array.from({ length: 301 }, (_, second) => `${second},${49 - second / 100},${25 * second}`)];
    await takeTable(page, "bare.csv", Buffer.from(rows.join("\n")), "301");
    const entry = page.locator("[data-entry]").first();
    await entry.locator("summary").first().click();
    await press(entry, "Learn these packs from the recording");
    await expect(entry.getByText("Nothing is learned")).toBeVisible();
});

test("day, setup and site of an entry are put right", async ({ page }) => {
    test.slow();
    await open(page, "log");
    await takeRecording(page, "first.csv", 90);
    const entry = page.locator("[data-entry]");
    await entry.locator("summary").first().click();
    const before = await records(page);
    await type(entry, "Lift-off", "2026-03-04 05:06");
    await expect(entry.locator("summary").first()).toContainText("05:06");
    await expect(figure(page, "log-entries").getByRole("heading", { name: "2026-03-04" })).toBeVisible();
    const sites = list(entry, "It was at");
    const names = await sites.locator("option").allTextContents();
    await sites.selectOption({ index: names.length - 1 });
    await kept(page, `"place":"${names[names.length - 1]}"`);
    const after = await records(page);
    for (const [key, text] of Object.entries(before)) {
        if (key.startsWith("flown_setups/") && after[key]) expect(after[key]).toBe(text);
    }
    await sound(page);
});

test("the log as a table goes out and comes in again, first shown", async ({ page }) => {
    test.slow();
    await open(page, "log");
    await takeRecording(page, "first.csv", 90);
    const entry = page.locator("[data-entry]");
    await expect(entry).toHaveCount(1);
    const download = page.waitForEvent("download");
    await press(page, "Export as CSV");
    const table = readFileSync(await (await download).path(), "utf8");
    await entry.locator("summary").first().click();
    await press(entry, "Delete this flight");
    await expect(entry).toHaveCount(0);
    const broken = table.trim().split(/\r?\n/)[1].replace(/^[^,]*/, "other").replace(/\d{4}-\d\d-\d\dT/, "never");
    const input = page.locator('input[type="file"][accept*="text/csv"][accept*="json"]');
    await input.setInputFiles({ name: "flights.csv", mimeType: "text/csv", buffer: Buffer.from(`${table.trim()}\n${broken}\n`) });
    await expect(page.getByText("Row 3:")).toContainText("is no time");
    await expect(figure(page, "standing")).toBeVisible();
    await press(page, "Take in");
    await expect(entry).toHaveCount(1);
    await sound(page);
});

test("the list is filtered by setup, and says how often the band held", async ({ page }) => {
    test.slow();
    await open(page, "log");
    await takeRecording(page, "first.csv", 90);
    const entry = page.locator("[data-entry]");
    await expect(entry).toHaveCount(1);
    const setups = list(page, "Setup");
    const names = (await setups.first().locator("option").allTextContents()).filter((name) => name !== "all");
    await setups.first().selectOption({ label: names[1] });
    await expect(entry).toHaveCount(0);
    await expect(figure(page, "log-coverage")).toHaveText("");
    await setups.first().selectOption({ label: names[0] });
    await expect(entry).toHaveCount(1);
    await expect(figure(page, "log-coverage")).toContainText("of 1 flight");
    await setups.first().selectOption({ label: "all" });
    const airframes = list(page, "Airframe").first();
    const others = (await airframes.locator("option").allTextContents()).filter((name) => name !== "all");
    await airframes.selectOption({ label: others.at(-1)! });
    await expect(entry).toHaveCount(0);
});

test("a recording is read in a thread of its own, which ends with it, and on the page where there is none", async ({ page }) => {
    test.slow();
    await open(page, "log");
    const row = (second: number) => `${second},${50 - second / 1000},90`;
    const text = ["time (s),voltage (V),current (A)", ...Array.from({ length: 601 }, (_, second) => row(second))].join("\n");
    const input = page.locator('input[type="file"][accept*=".tsv"]');
    const file = (name: string) => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });
    // The thread for samples is there before.
    await expect.poll(() => page.workers().length).toBe(1);
    const thread = page.waitForEvent("worker");
    await input.setInputFiles(file("aside.csv"));
    const ended = (await thread).waitForEvent("close");
    await expect(figure(page, "recording")).toContainText("601");
    await ended;
    // Read again by another column, in another thread.
    const again = page.waitForEvent("worker");
    await page.locator("summary").filter({ hasText: "Columns" }).click();
    await page.getByLabel("Form of the time").selectOption("minutes");
    await again;
    await expect(figure(page, "recording")).toContainText("600 min");
    await press(page, "Leave it");

    await page.evaluate(() => Object.defineProperty(window, "Worker", { value: class { constructor() { throw new Error("no thread"); } } }));
    await input.setInputFiles(file("here.csv"));
    await expect(figure(page, "recording")).toContainText("601");
});

test("columns that nobody recognises are chosen by hand, each in its own unit", async ({ page }) => {
    test.slow();
    await open(page, "log");
    const rows = ["Zeit;Spannung;Strom"];
    for (let second = 0; second <= 120; second++) rows.push(`${second};${50_000 - 5 * second};20000`);
    await page.locator('input[type="file"][accept*=".tsv"]').setInputFiles({ name: "foreign.csv", mimeType: "text/csv", buffer: Buffer.from(rows.join("\n")) });
    await expect(page.getByText("say which column holds what")).toBeVisible();
    await choose(page, "Time", "Zeit (0)");
    await choose(page, "Voltage", "Spannung (50000)");
    const facts = figure(page, "recording");
    await expect(facts).toContainText("121");
    await unfold(page, "Columns");
    await choose(page, "Current", "Strom (20000)");
    await expect(facts).toContainText("121");
    await expect(facts).toContainText("49.4");
    await expect(facts).toContainText("20 A");
    await press(page, "Make an entry of it");
    await expect(page.locator("[data-entry]")).toHaveCount(1);
    await expect(figure(page, "log-entries").getByRole("heading", { level: 3 })).toHaveText([/^\d{4}-\d\d-\d\d$/]);
    await sound(page);
});
