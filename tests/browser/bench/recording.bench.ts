// A recording of half a million rows taken in: how long the page does not answer, and how long the whole takes.
import { writeFileSync } from "node:fs";
import { expect, test } from "../fixtures";
import { open } from "../act";
import { figure } from "../find";
import { note } from "./report.ts";

const ROWS = 500_000;

test("a recording of 500,000 rows", async ({ page }) => {
    test.setTimeout(900_000);
    await page.addInitScript(() => {
        const seen: number[] = [];
        (window as unknown as { long: number[] }).long = seen;
        new PerformanceObserver((list) => list.getEntries().forEach((entry) => seen.push(entry.duration))).observe({ type: "longtask" });
    });
    await open(page, "log");
    const rows = ["Time (s),Voltage (V),Current (A),Altitude (m),Speed (m/s)"];
    for (let row = 0; row < ROWS; row += 1) {
        const amps = 90 + (row % 50) - (row % 7);
        rows.push(`${(row / 500).toFixed(3)},${(50 - row / 100_000 - amps * 0.012).toFixed(3)},${amps.toFixed(2)},${(row % 400) / 10},${(row % 90) / 10}`);
    }
    const session = await page.context().newCDPSession(page);
    await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
    await page.evaluate(() => (window as unknown as { long: number[] }).long.splice(0));
    // As a file on the disk: bytes handed over would be made a file inside the page, which is no part of what is measured.
    const path = test.info().outputPath("long.csv");
    writeFileSync(path, rows.join("\n"));
    const input = page.locator('input[type="file"][accept*=".tsv"]');
    const begun = Date.now();
    await input.setInputFiles(path);
    await expect(figure(page, "recording")).toContainText(String(ROWS), { timeout: 600_000 });
    const seconds = (Date.now() - begun) / 1000;
    await page.waitForTimeout(2000);
    const long = await page.evaluate(() => (window as unknown as { long: number[] }).long);
    await session.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    note("longest task while 500,000 rows come in, 4×", Math.max(0, ...long), 100, "ms", long.length);
    note("500,000 rows taken in, 4×", seconds, 60, "s", 1);
});
