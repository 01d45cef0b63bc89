// A log of a thousand flights with whole recordings: what an edit writes, what a start reads.
import { expect, test } from "./fixtures";
import { open, press } from "./act";
import { field, figure, screen } from "./find";
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

test("a thousand flights: a start reads none but the one in the air, and what needs the log waits for it", async ({ page }) => {
    test.setTimeout(600_000);
    // What the first transaction, that of the start, read.
    await page.addInitScript(() => {
        const seen = window as unknown as { read: string[] };
        seen.read = [];
        let start: IDBTransaction | undefined;
        const note = (store: IDBObjectStore, keys: unknown[]) => store.transaction === (start ??= store.transaction) && seen.read.push(...keys.map(String));
        const { getAllKeys, get } = IDBObjectStore.prototype;
        IDBObjectStore.prototype.getAllKeys = function (...asked: Parameters<typeof getAllKeys>) {
            const request = getAllKeys.apply(this, asked);
            request.addEventListener("success", () => note(this, request.result));
            return request;
        };
        IDBObjectStore.prototype.get = function (key: IDBValidKey) {
            note(this, [key]);
            return get.call(this, key);
        };
    });
    const ofLog = (): Promise<string[]> =>
        page.evaluate(() => [...new Set((window as unknown as { read: string[] }).read)].filter((key) => /^(flights|flown_setups|recordings)\//.test(key)));
    await takeInThousand(page);
    await open(page, "card");
    await page.reload();
    await expect(figure(page, "land-by")).toHaveText(/\d/);
    expect(await ofLog()).toEqual([]);
    // At once, before the log is read: it waits for it.
    await page.getByRole("link", { name: "Airborne", exact: true }).click();
    await press(screen(page, "airborne"), "Lift off");
    await expect(figure(page, "airborne-time")).toHaveText(/^0:/, { timeout: 60_000 });
    await page.waitForTimeout(2_000);
    await page.reload();
    await expect(figure(page, "airborne-time")).toHaveText(/^\d+:/, { timeout: 60_000 });
    expect((await ofLog()).map((key) => key.split("/")[0])).toEqual(["flights", "flown_setups"]);
    await press(page, "Landed");
    await press(page, "Write the entry");
    await expect(page.locator("[data-entry]")).toHaveCount(1002, { timeout: 60_000 });
});
