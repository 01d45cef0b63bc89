// A log of a thousand flights with whole recordings: what an edit writes.
import { expect, test } from "./fixtures";
import { open } from "./act";
import { field } from "./find";
import { takeInThousand } from "./many";

test("a thousand recordings: an edit of a mass writes one record", async ({ page }) => {
    test.setTimeout(600_000);
    await page.addInitScript(() => {
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (value: unknown, key?: IDBValidKey) {
            ((window as unknown as { puts: string[] }).puts ??= []).push(`${this.name} ${String(key)}`);
            return put.call(this, value, key);
        };
    });
    await takeInThousand(page);
    await page.goto("#/build");
    await page.reload();
    await expect(page.locator('[data-screen="build"]')).toBeVisible();
    // What is read late is read.
    await page.waitForTimeout(15_000);
    await page.evaluate(() => ((window as unknown as { puts: string[] }).puts = []));
    const mass = field(page, /mass/i).first();
    await expect(mass).toBeVisible();
    const was = await mass.inputValue();
    await mass.fill((Number(was.replace(",", ".")) + 0.1).toFixed(2));
    await page.waitForTimeout(5_000);
    const puts = await page.evaluate(() => (window as unknown as { puts: string[] }).puts);
    expect(puts.length).toBeGreaterThan(0);
    expect(puts.filter((put) => /flights|recordings|flown/.test(put))).toEqual([]);
    expect(puts.length).toBeLessThanOrEqual(4);
});
