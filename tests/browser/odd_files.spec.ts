// Files that are none: the app goes on, says so in words, and what was entered stays.
import { expect, test } from "./fixtures";
import { kept, open, type, unfold } from "./act";
import { lens } from "./demo";
import { figure } from "./find";
import { sound } from "./see";
import type { Page } from "@playwright/test";

test.describe.configure({ timeout: 180_000 });

/** As a program in trouble writes it. */
const wide = (titles: string) => Buffer.from(`${titles}${",1".repeat(300_000)}\n1,2,3${",2".repeat(300_000)}\n`);

async function chosen(page: Page, label: string, buffer: Buffer): Promise<void> {
    await page.getByLabel(label).setInputFiles({ name: "odd.csv", mimeType: "text/csv", buffer });
}

test("tables of 300,000 columns end in words and the app goes on", async ({ page }) => {
    await open(page, "build");
    await unfold(page, "Airframe");
    await chosen(page, "Open a table (CSV)", wide("Voltage (V),Current (A),Thrust (g)"));
    await expect(page.getByText(/the file has \d+ bytes/i)).toBeVisible();
    await open(page, "log");
    await chosen(page, "Open a recording (CSV)", wide("time (s),voltage (V),current (A)"));
    await expect(figure(page, "recording").or(page.locator("[role=alert]")).first()).toBeVisible();
    await chosen(page, "Import flights (JSON or CSV)", wide("lift_off_utc,airframe,flight_time_s"));
    await open(page, "packs");
    await chosen(page, "Open a CSV file", wide("label,type,cycles"));
    await expect(figure(page, "csv")).toContainText(/bytes/);
    await open(page, "build");
    const row = page.getByRole("listitem").filter({ hasText: lens.name }).last();
    await type(row, "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    await expect(page.locator("[data-screen=stopped]")).toHaveCount(0);
    await sound(page);
});
