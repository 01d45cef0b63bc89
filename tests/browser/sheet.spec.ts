// The producer's sheet: many setups at two sites, offline, as a file and on paper.
import { readFile } from "node:fs/promises";
import { parse } from "csv-parse/sync";
import { expect, loseNetwork, seeReadyForOffline, test } from "./fixtures.ts";
import { choose, goTo, open, press, unfold } from "./act";
import { crewFile, takeInNews } from "./crew";
import { demo } from "./demo";
import { figure } from "./find";
import { settled, sound, toNumber, toSeconds } from "./see";

const rows = "[data-setup]";
const done = { timeout: 120_000 };

test("twenty setups at two sites, offline, sorted", async ({ page, host }) => {
    test.setTimeout(240_000);
    await page.goto("");
    await seeReadyForOffline(page);
    await loseNetwork(page, host);
    await takeInNews(page, crewFile(20));
    await goTo(page, "Sheet");
    await unfold(page, /setups;/);
    for (const setup of demo.setups) await page.getByRole("switch", { name: setup.name }).uncheck({ force: true });
    for (const site of demo.sites) await page.getByRole("switch", { name: site.name }).first().check({ force: true });
    await expect(page.locator(rows)).toHaveCount(40);
    // Worked out in pieces: the page answers meanwhile.
    await expect(page.getByRole("status").first()).toContainText(/Worked out \d+ of 40/);
    await page.getByRole("link", { name: "Card" }).first().click({ trial: true });
    await expect(page.getByRole("status").first()).toBeEmpty(done);
    await choose(page, "Sort by", "In the air, cautious, most first");
    const seconds = (await page.locator(`${rows} [data-figure="cautious"]`).allTextContents()).map(toSeconds);
    expect(seconds).toHaveLength(40);
    expect(seconds).toEqual([...seconds].sort((a, b) => b - a));
    await choose(page, "Sort by", "All-up weight, least first");
    const masses = (await page.locator(`${rows} [data-figure="all-up-mass"]`).allTextContents()).map(toNumber);
    expect(masses).toEqual([...masses].sort((a, b) => a - b));
    await sound(page);
});

test("a row says what the card says", async ({ page }) => {
    await open(page, "card");
    await settled(page);
    const [minutes, mass] = [await figure(page, "flight-time").textContent(), await figure(page, "all-up-mass").textContent()];
    await goTo(page, "Sheet");
    const row = page.locator(`[data-setup="${demo.setups[0]?.id}"]`);
    await expect(row.locator('[data-figure="verdict"]')).toHaveText(/Fine|Watch|No/, done);
    await expect(row.locator('[data-figure="cautious"]')).toHaveText(minutes ?? "");
    await expect(row.locator('[data-figure="all-up-mass"]')).toHaveText(mass ?? "");
});

test("the table comes back from its file by another reader, in the user's decimal mark", async ({ page }) => {
    await open(page, "settings");
    await page.getByRole("radio", { name: "1,4" }).check();
    await goTo(page, "Sheet");
    await expect(page.getByRole("status").first()).toBeEmpty(done);
    const [download] = await Promise.all([page.waitForEvent("download"), press(page, "Save as a table (CSV)")]);
    const text = await readFile(await download.path(), "utf8");
    const records = parse(text, { bom: true, columns: true, delimiter: ";", record_delimiter: "\r\n" }) as Record<string, string>[];
    expect(records).toHaveLength(demo.setups.length);
    const shown = await page.locator(`${rows} [data-figure="all-up-mass"]`).allTextContents();
    for (const [at, record] of records.entries()) {
        expect(record.Setup).toBe(demo.setups[at]?.name);
        expect(record["All-up weight (kg)"]).toMatch(/^\d+,\d\d$/);
        expect(toNumber(record["All-up weight (kg)"] ?? "")).toBe(toNumber(shown[at] ?? ""));
    }
});

test("eight setups print on one page, A4 and Letter", async ({ page }) => {
    await open(page, "card");
    await takeInNews(page, crewFile(3));
    await goTo(page, "Sheet");
    await expect(page.locator(rows)).toHaveCount(8);
    await expect(page.getByRole("status").first()).toBeEmpty(done);
    for (const format of ["A4", "Letter"]) {
        const paper = await page.pdf({ format });
        const pages = paper.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
        expect(pages, format).toHaveLength(1);
    }
    await page.emulateMedia({ media: "print" });
    await expect(page.getByRole("navigation")).toBeHidden();
    await expect(page.getByText("Share this setup")).toBeHidden();
    await expect(page.getByText("The pilot in command decides, on the day, at the place.")).toBeVisible();
    await expect(page.locator(".only-print").first()).toHaveText(/20\d\d/);
});
