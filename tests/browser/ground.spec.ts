// Single packs from the charging table to the landing and back, and what goes out of Packs and Day: tables, paper.
import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { parse } from "csv-parse/sync";
import { choose, goTo, jump, open, press, type, unfold } from "./act";
import { groundFile, takeInNews } from "./crew";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures";
import { field, figure, screen } from "./find";
import { number, settled, sound } from "./see";

/** The row of a pack among those that are judged. */
const pack = (page: Page, name: string) => page.locator(".pack-row").filter({ has: page.locator("strong", { hasText: new RegExp(`^${name}$`) }) });

async function chosen(page: Page, setup: string): Promise<void> {
    await open(page, "card");
    await choose(page, "Setup", setup);
    await settled(page);
}

test("a landing counts the cycle and the charge of the packs on board, offline, until they are charged", async ({ page, host }) => {
    test.slow();
    await page.clock.install({ time: new Date("2026-11-26T09:00:00Z") });
    await open(page, "card");
    await seeReadyForOffline(page);
    await loseNetwork(page, host);
    await takeInNews(page, groundFile());
    await chosen(page, "Shot 1");
    // Four of six came back from a flight: the card flies what is left.
    await expect(page.locator(".counted")).toContainText("taken out by landings");
    const left = await number(page, "land-by");
    await open(page, "packs");
    await expect(pack(page, "A1")).toContainText(/4800 mAh taken out, \d\d % left/);
    await expect(figure(page, "join")).toContainText("Do not join");
    await open(page, "airborne");
    await expect(figure(page, "flown-packs")).toContainText("A1, A2, A3, A4: up to 5000 mAh taken out by landings.");
    await press(page, "They are charged now");
    await expect(page.locator('[data-figure="flown-packs"]')).toHaveCount(0);
    await chosen(page, "Shot 1");
    const full = await number(page, "land-by");
    expect(full).toBeGreaterThan(2 * left);
    await open(page, "airborne");
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:\d\d$/);
    await jump(page, "06:00");
    await press(page, "Landed");
    await field(page, "Meter on board").fill("9000");
    await press(page, "Write the entry");
    await expect(screen(page, "log")).toBeVisible();
    await open(page, "packs");
    // Some 3 Ah out of each string, by the register in whole fifties.
    for (const name of ["A1", "A2", "A6"]) await expect(pack(page, name)).toContainText(/(2[89]|3[0-3])[05]0 mAh taken out, 5\d % left/);
    await expect(pack(page, "A9")).not.toContainText("taken out,");
    await unfold(page.locator("section").filter({ hasText: "The register" }), /^A1$/);
    await expect(field(page, "Cycles").first()).toHaveValue("31");
    await press(page, "All are charged");
    await expect(pack(page, "A1")).not.toContainText("taken out");
    await sound(page);
});

test("the cursor stays at the cells: Enter and the button lead on", async ({ page }) => {
    await open(page, "packs");
    await press(page, "New pack");
    const input = page.locator("#next-cell");
    await input.click();
    await page.keyboard.type("4.18");
    await page.keyboard.press("Enter");
    await expect(page.getByText("Cell 2", { exact: true })).toBeVisible();
    await expect(input).toBeFocused();
    await page.keyboard.type("4.17");
    await page.getByRole("button", { name: "Next cell" }).tap();
    await expect(page.getByText("Cell 3", { exact: true })).toBeVisible();
    await expect(input).toBeFocused();
    await page.keyboard.type("4.16");
    await page.keyboard.press("Enter");
    await expect(figure(page, "cells")).toContainText("3 of 6 cells 4.18 4.17 4.16");
});

test("limits of fitness are set by the crew", async ({ page }) => {
    await open(page, "card");
    await takeInNews(page, groundFile());
    await open(page, "packs");
    await expect(figure(page, "fit")).toHaveText("11 of 12");
    await expect(pack(page, "A11")).toHaveAttribute("data-state", "watch");
    const limits = page.locator("section").filter({ has: page.getByRole("heading", { name: "Limits of fitness" }) });
    // The crew's own type comes after the demo's of the same name.
    await limits.locator("summary").filter({ hasText: /^Six cells, 7 Ah$/ }).last().click();
    const own = limits.locator("details[open]");
    await expect(own).toContainText("80 %: common practice, no source");
    await type(own, "Capacity: watch below", "70");
    await expect(pack(page, "A11")).toHaveAttribute("data-state", "fine");
    await type(own, "Capacity: not fit below", "97");
    await expect(pack(page, "A4")).toHaveAttribute("data-state", "no");
    await expect(figure(page, "fit")).not.toHaveText("11 of 12");
});

test("the tables of packs and day come back by another reader, in the user's decimal mark", async ({ page }) => {
    await open(page, "card");
    await takeInNews(page, groundFile());
    await page.getByRole("radio", { name: "1,4" }).check();
    const saved = async (name: string): Promise<Record<string, string>[]> => {
        const [download] = await Promise.all([page.waitForEvent("download"), press(page, name)]);
        const text = await readFile(await download.path(), "utf8");
        return parse(text, { bom: true, columns: true, delimiter: ";", record_delimiter: "\r\n" }) as Record<string, string>[];
    };
    await goTo(page, "Packs");
    await unfold(page, "Packs from and to a table (CSV)");
    const packs = await saved("Export as CSV");
    expect(packs).toHaveLength(12);
    expect(packs[5]).toMatchObject({ label: "A6", type: "Six cells, 7 Ah", cycles: "65", cells_v: Array(6).fill("4,17").join("/"), used_mah: "" });
    expect(packs[1]).toMatchObject({ label: "A2", used_mah: "4860", cells_v: "" });
    await goTo(page, "Day");
    const events = await saved("As CSV");
    const flights = events.filter((event) => event.event === "flight");
    await expect(figure(page, "flights-done")).toHaveText(`${flights.length} of 9`);
    for (const event of events) expect(event.start < event.end).toBe(true);
});

test("the drawn day is touched where it is read", async ({ page }) => {
    await open(page, "card");
    await takeInNews(page, groundFile());
    await open(page, "day");
    const drawing = page.locator(".day-drawing");
    await drawing.scrollIntoViewIfNeeded();
    const box = (await drawing.boundingBox())!;
    // From 08:00 to 16:30: a quarter of the way is 10:07:30.
    await page.touchscreen.tap(box.x + 0.25 * box.width, box.y + 0.5 * box.height);
    await expect(figure(page, "moment")).toContainText(/^10:0[6-9] · .*supply \d+ W/);
    await page.touchscreen.tap(box.x + 0.999 * box.width, box.y + 0.3 * box.height);
    await expect(figure(page, "moment")).toContainText(/^16:(29|30) · supply 0 W/);
});

test("packs and a day print on one page each, A4 and Letter, without forms", async ({ page }) => {
    await open(page, "card");
    await takeInNews(page, groundFile());
    for (const name of ["packs", "day"]) {
        await open(page, name);
        await expect(figure(page, name === "day" ? "flights-done" : "fit")).toHaveText(/\d+ of \d+/);
        for (const format of ["A4", "Letter"]) {
            const paper = await page.pdf({ format });
            const pages = paper.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
            expect(pages, `${name}, ${format}`).toHaveLength(1);
        }
    }
    await page.emulateMedia({ media: "print" });
    await expect(page.getByText("Bend and ridge, 2026-11-30")).toBeVisible();
    await expect(figure(page, "flights").getByRole("row")).toHaveCount(10);
    await expect(field(page, "Wrap (18:00)")).toBeHidden();
    await expect(page.getByRole("button").first()).toBeHidden();
});
