import { readFileSync } from "node:fs";
import { expect, test } from "./fixtures";
import { choose, kept, open, press, unfold } from "./act";
import { button, figure, field } from "./find";

// The demo's own table, as a maker would hand it over.
const GOOD = readFileSync(new URL("../../demo-data/bench-eight.csv", import.meta.url), "utf8");
const ROWS = GOOD.trim().split("\n").length - 1;

async function table(page: import("@playwright/test").Page): Promise<void> {
    await open(page, "build");
    await unfold(page, "Airframe");
}

test("a good table is opened, fitted, and the error stands in percent", async ({ page }) => {
    await table(page);
    await page.getByLabel("Open a table (CSV)").setInputFiles({ name: "stand.csv", mimeType: "text/csv", buffer: Buffer.from(GOOD) });
    await press(page, "Use this table");
    await kept(page, '"name":"stand.csv"');
    await expect(figure(page, "fit")).toContainText(new RegExp(`${ROWS} rows.*%`));
});

test("semicolons and decimal commas are understood", async ({ page }) => {
    await table(page);
    const comma = GOOD.replaceAll(",", ";").replaceAll(".", ",");
    await field(page, "Or paste it here").fill(comma);
    await press(page, "Use this table");
    await kept(page, '"voltage_v":49.76');
});

test("unknown titles are chosen by hand", async ({ page }) => {
    await table(page);
    const lines = GOOD.trim().split("\n");
    await field(page, "Or paste it here").fill(["p;q;r;s;t", ...lines.slice(1).map((line) => line.replaceAll(",", ";"))].join("\n"));
    await expect(button(page, "Use this table")).toBeDisabled();
    await choose(page, "Thrust is in", "s");
    await choose(page, "Volts are in", "q");
    await choose(page, "Amperes are in", "r");
    await choose(page, "Throttle is in", "p");
    await choose(page, "Rotor speed (rpm) is in", "t");
    await press(page, "Use this table");
    await kept(page, '"name":"Pasted table"');
});

test("a bad table names the row, and the old one stays", async ({ page }) => {
    await table(page);
    const before = await figure(page, "fit").textContent();
    await field(page, "Or paste it here").fill(GOOD.replace("10.69", "much"));
    await expect(page.getByRole("alert").filter({ hasText: "row 3" })).toContainText("much");
    await expect(button(page, "Use this table")).toBeDisabled();
    await press(page, "Leave it");
    expect(await figure(page, "fit").textContent()).toBe(before);
});
