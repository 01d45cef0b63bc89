import { expect, seeReadyForOffline, test } from "./fixtures";
import { choose, kept, open, press, type, unfold } from "./act";
import { field, figure, list } from "./find";
import { number, settled, sound } from "./see";

/** Enters the six cells of the pack that is chosen, one touch a cell. */
async function cells(page: import("@playwright/test").Page, volts: string[]): Promise<void> {
    for (const [index, reading] of volts.entries()) {
        const input = page.locator("#next-cell");
        await expect(page.getByText(`Cell ${index + 1}`, { exact: true })).toBeVisible();
        await input.fill(reading);
        await press(page, "Next cell");
        await expect(input).toHaveValue("");
    }
}

test("twelve packs are registered by keypad, judged, matched, refused where they must not be joined, and flown", async ({ page, context }) => {
    test.slow();
    await open(page, "packs");
    await seeReadyForOffline(page);
    await context.setOffline(true);
    for (let pack = 1; pack <= 12; pack++) {
        await press(page, "New pack");
        // The fifth is at another charge; the ninth has a bad cell.
        const volts = Array<string>(6).fill(pack === 5 ? "3.85" : "4.18");
        if (pack === 9) volts[2] = "3,90";
        await cells(page, volts);
        await expect(figure(page, "cells")).toContainText("6 of 6 cells");
    }
    await expect(figure(page, "fit")).toHaveText("11 of 12");
    await expect(page.locator(".pack-row[data-state=no]")).toContainText("cell 3 is -280 mV off its sisters");
    await press(page, "Match for this setup");
    await expect(figure(page, "gained")).toContainText(/best/);
    await press(page, "Fly these packs");
    await expect(figure(page, "join")).toContainText("They match.");
    await kept(page, '"pack"');
    // The one at another charge goes on board instead.
    await open(page, "build");
    await unfold(page, "Packs and meter");
    await choose(page, "String 1, pack 1", "Pack 5");
    await open(page, "packs");
    await expect(figure(page, "join")).toContainText("Do not join");
    await expect(page.locator("section.verdict[data-state=no]")).toBeVisible();
    await sound(page);
});

test("a table of packs is taken in and flown by the card", async ({ page, context }) => {
    await open(page, "card");
    await settled(page);
    const before = await number(page, "land-by");
    await open(page, "packs");
    await seeReadyForOffline(page);
    await context.setOffline(true);
    await unfold(page, "Packs from and to a table (CSV)");
    const rows = [1, 2, 3, 4, 5, 6].map((pack) => `B${pack};Six cells, 7 Ah;60;5600;3.4;2025-05-01`);
    await field(page, "Rows to paste").fill(["label;type;cycles;capacity_mah;resistance_mohm;bought", ...rows, "B7;none such;1;;;"].join("\n"));
    await press(page, "Take in the rows");
    await expect(figure(page, "csv")).toContainText("6 packs added, 0 brought up to date. Left out: row 8");
    await expect(figure(page, "fit")).toHaveText("6 of 6");
    await press(page, "Match for this setup");
    await press(page, "Fly these packs");
    await open(page, "card");
    // A fifth less in each pack: the card flies these.
    await settled(page);
    await expect.poll(() => number(page, "land-by")).toBeLessThan(0.9 * before);
    await open(page, "build");
    await unfold(page, "Packs and meter");
    await expect(list(page, "String 1, pack 1")).toHaveValue(/^pack /);
});

test("what is typed as a cell but is none stays with words beside it", async ({ page }) => {
    await open(page, "packs");
    await press(page, "New pack");
    await page.locator("#next-cell").fill("41");
    await press(page, "Next cell");
    await expect(page.getByRole("alert").first()).toBeVisible();
    await expect(page.locator("#next-cell")).toHaveValue("41");
    await type(page, "Cell 1", "4.1");
    await press(page, "Next cell");
    await expect(figure(page, "cells")).toContainText("1 of 6 cells 4.1");
});
