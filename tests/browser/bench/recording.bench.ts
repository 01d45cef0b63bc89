// A recording of half a million rows taken in: how long the page does not answer on a processor that is four times slower.
import { writeFileSync } from "node:fs";
import { expect, test } from "../fixtures";
import { open } from "../act";
import { figure } from "../find";
import { note } from "./report.ts";
import { Tasks } from "./tasks.ts";

const ROWS = 500_000;
const SLOWDOWN = 4;

test("a recording of 500,000 rows", async ({ page }) => {
    test.setTimeout(900_000);
    await open(page, "log");
    const rows = ["Time (s),Voltage (V),Current (A),Altitude (m),Speed (m/s)"];
    for (let row = 0; row < ROWS; row += 1) {
        const amps = 90 + (row % 50) - (row % 7);
        rows.push(`${(row / 500).toFixed(3)},${(50 - row / 100_000 - amps * 0.012).toFixed(3)},${amps.toFixed(2)},${(row % 400) / 10},${(row % 90) / 10}`);
    }
    // As a file on the disk: bytes handed over would be made a file inside the page, which is no part of what is measured.
    const path = test.info().outputPath("long.csv");
    writeFileSync(path, rows.join("\n"));
    const input = page.locator('input[type="file"][accept*=".tsv"]');
    const tasks = await Tasks.of(page);
    const begun = Date.now();
    await input.setInputFiles(path);
    await expect(figure(page, "recording")).toContainText(String(ROWS), { timeout: 600_000 });
    const seconds = (Date.now() - begun) / 1000;
    await page.waitForTimeout(2000);
    const longest = SLOWDOWN * Math.max(0, ...(await tasks.stop()));
    note("longest task while 500,000 rows come in, 4×", longest, 100, "ms", 1);
    console.log(`taken in within ${seconds.toFixed(1)} s, not slowed down`);
});
