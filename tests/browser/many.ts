// Recordings, and a log of a thousand flights with one each.
import { readFileSync } from "node:fs";
import { expect, type Page } from "@playwright/test";
import { kept, open, press } from "./act";
import { figure } from "./find";

/** A recording of five minutes whose load goes up and down. */
function recording(level: number): Buffer {
    const rows = ["Time (s),Voltage (V),Current (A)"];
    for (let second = 0; second <= 300; second++) {
        const amps = level * (second % 60 < 40 ? 1.1 : 0.7);
        rows.push(`${second},${(50 - second / 100 - amps * 0.012).toFixed(3)},${amps.toFixed(1)}`);
    }
    return Buffer.from(rows.join("\n"));
}

/** Takes a recording in as an entry. */
export async function takeRecording(page: Page, name: string, level: number): Promise<void> {
    await takeTable(page, name, recording(level), "301");
}

/** Takes a recording of so many rows in as an entry. */
export async function takeTable(page: Page, name: string, buffer: Buffer, rows: string): Promise<void> {
    await page.locator('input[type="file"][accept*=".tsv"]').setInputFiles({ name, mimeType: "text/csv", buffer });
    await expect(figure(page, "recording")).toContainText(rows);
    await press(page, "Make an entry of it");
}

/** How many recordings the database holds. */
const keptRecordings = (page: Page): Promise<number> =>
    page.evaluate(
        () =>
            new Promise<number>((done, fail) => {
                const opening = indexedDB.open("liftmargin");
                opening.onerror = () => fail(opening.error);
                opening.onsuccess = () => {
                    const database = opening.result;
                    const count = database.transaction("records").objectStore("records").count(IDBKeyRange.bound("recordings/", "recordings0"));
                    count.onsuccess = () => (database.close(), done(count.result));
                };
            }),
    );

/** Fills the log through the import of a file: about 25 MB of recordings at their full 2,000 points. */
export async function takeInThousand(page: Page): Promise<void> {
    await open(page, "log");
    await takeRecording(page, "first.csv", 90);
    await kept(page, '"name":"first.csv"');
    const download = page.waitForEvent("download");
    await press(page, "Export as JSON");
    const file = JSON.parse(readFileSync(await (await download).path(), "utf8"));
    const [flight, one] = [file.flights[0], file.recordings[0]];
    const points = Array.from({ length: 2000 }, (_, row) => `${row ? 250 : 0},${row ? (row % 7) - 3 : 50000},${row ? (row % 5) - 2 : 9000},${row ? 6 : 0}`).join(";");
    file.flights = Array.from({ length: 1000 }, (_, at) => ({ ...flight, id: `flight-${at}`, lift_off_unix_ms: flight.lift_off_unix_ms - at * 3.6e6 }));
    file.recordings = Array.from({ length: 1000 }, (_, at) => ({ ...one, id: `recording-${at}`, flight: `flight-${at}`, points }));
    await open(page, "settings");
    await page.locator('input[type="file"]').setInputFiles({ name: "many.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(file)) });
    await expect(page.getByText("many.json")).toBeVisible({ timeout: 120_000 });
    await expect(page.locator("[data-note=\"not-saved\"]")).toHaveCount(0);
    await expect(page.getByText("not taken in")).toHaveCount(0);
    // One flight of them is here already: it is asked.
    const take = page.getByRole("button", { name: "Take in", exact: true });
    if (await take.isVisible()) await take.click();
    await expect.poll(() => keptRecordings(page), { timeout: 240_000 }).toBeGreaterThanOrEqual(1000);
}
