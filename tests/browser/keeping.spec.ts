// What the browser keeps: nothing that was entered is lost. The long runs are in `cargo xtask endure`.
import { readFile } from "node:fs/promises";
import { expect, test } from "./fixtures";
import { goTo, kept, open, press, records, type } from "./act";
import { demo, demoText, lens, second } from "./demo";
import { figure, list, note, screen } from "./find";
import { number } from "./see";
import type { Locator, Page } from "@playwright/test";

const lensRow = (page: Page) => page.getByRole("listitem").filter({ hasText: lens.name }).last();

/** Changes a stored text behind the app's back. */
const hurt = (page: Page, key: string, text: string) =>
    page.evaluate(
        ([key, text]) =>
            new Promise<void>((done) => {
                const opening = indexedDB.open("liftmargin");
                opening.onsuccess = () => {
                    const transaction = opening.result.transaction("records", "readwrite");
                    transaction.objectStore("records").put(text, key);
                    transaction.oncomplete = () => (opening.result.close(), done());
                };
            }),
        [key, text] as const,
    );

/** Types into a field at a moment. */
const typeAt = (field: Locator, text: string, at: number) =>
    field.evaluate(
        (input: HTMLInputElement, { text, at }) =>
            new Promise<void>((done) =>
                setTimeout(() => {
                    input.value = text;
                    input.dispatchEvent(new InputEvent("input", { bubbles: true }));
                    done();
                }, at - Date.now()),
            ),
        { text, at },
    );

test("an edit writes its own record, not the others", async ({ page }) => {
    await open(page, "build");
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    const before = await records(page);
    await type(lensRow(page), "Mass", "2.75");
    await kept(page, '"mass_kg":2.75');
    const after = await records(page);
    const changed = Object.keys(after).filter((key) => after[key] !== before[key]);
    expect(changed).toEqual([`items/${lens.id}`]);
    expect(Object.keys(after).length).toBeGreaterThan(demo.items.length + demo.setups.length);
});

test("an edit survives a reload in the same moment", async ({ page }) => {
    await open(page, "build");
    await type(lensRow(page), "Mass", "3.125");
    await page.reload();
    await kept(page, '"mass_kg":3.125');
});

test("what an older version kept comes into the database once, and its text goes", async ({ page }) => {
    const old = { stamp_ms: 1, selected: second.id, units: null, bundle: JSON.parse(demoText), broken: [] };
    old.bundle.items[0].mass_kg = 9.875;
    // There before the app is, once: as an older version left it.
    await page.addInitScript((text) => {
        if (!sessionStorage.getItem("left")) localStorage.setItem("liftmargin-workspace", text);
        sessionStorage.setItem("left", "yes");
    }, JSON.stringify(old));
    await page.goto("");
    await kept(page, '"mass_kg":9.875');
    await expect(list(page, "Setup")).toHaveValue(second.id);
    await expect.poll(() => page.evaluate(() => localStorage.getItem("liftmargin-workspace"))).toBeNull();
    await page.reload();
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
});

test("an old text that cannot be read is set aside once, never overwritten, and can be saved as a file", async ({ page }) => {
    await open(page, "card");
    const broken = '{"bundle": {"liftmargin_schema": 1, "items": [our only copy';
    await page.evaluate((text) => localStorage.setItem("liftmargin-workspace", text), broken);
    for (let visit = 0; visit < 3; visit++) {
        await page.reload();
        await expect(note(page, "rescue")).toBeVisible();
        await kept(page, "our only copy");
    }
    const [download] = await Promise.all([page.waitForEvent("download"), press(note(page, "rescue"), "Save file")]);
    expect(await readFile(await download.path(), "utf8")).toBe(broken);
    expect(Object.keys(await records(page)).filter((key) => key.startsWith("rescue/"))).toHaveLength(1);
    await press(note(page, "rescue"), "I have the file: remove it from this browser");
    await expect(note(page, "rescue")).toHaveCount(0);
});

test("a damaged record hides no other, and its copy before stands in", async ({ page }) => {
    await open(page, "build");
    for (const mass of ["2.5", "2.75"]) {
        await lensRow(page).getByRole("textbox", { name: "Mass" }).fill(mass);
        await kept(page, `"mass_kg":${mass}`);
    }
    await hurt(page, `items/${lens.id}`, "lm1 0000 cut");
    await hurt(page, `sites/${demo.sites[0]!.id}`, "");
    await page.reload();
    await expect(note(page, "rescue")).toContainText("damaged on this device");
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).toHaveValue("2.5");
    await goTo(page, "Card");
    await expect(list(page, "Setup").getByRole("option")).toHaveCount(demo.setups.length);
});

test("a database that cannot be opened is not an empty one", async ({ page }) => {
    await open(page, "build");
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    await page.addInitScript(() => {
        if (sessionStorage.getItem("blocked")) IDBFactory.prototype.open = () => { throw new DOMException("no", "UnknownError"); };
    });
    await page.evaluate(() => sessionStorage.setItem("blocked", "yes"));
    await page.reload();
    await expect(screen(page, "unread")).toContainText("nothing has been changed");
    await expect(figure(page, "land-by")).toHaveCount(0);
    await page.evaluate(() => sessionStorage.removeItem("blocked"));
    await press(page, "Try again");
    await expect(screen(page, "build")).toBeVisible();
    await kept(page, '"mass_kg":2.5');
});

test("storage that answers late starts the app, with nobody touching anything", async ({ page, context }) => {
    await open(page, "build");
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    // Another page holds the store for longer than the patience for it.
    const holder = await context.newPage();
    await holder.goto(page.url());
    await holder.evaluate(
        () => new Promise<void>((held) => {
            const until = performance.now() + 14_000;
            const opening = indexedDB.open("liftmargin");
            opening.onsuccess = () => {
                const store = opening.result.transaction("records", "readwrite").objectStore("records");
                const hold = () => {
                    if (performance.now() < until) store.get("nothing").onsuccess = hold;
                };
                hold();
                held();
            };
        }),
    );
    await page.reload();
    // Until there is something to show, words stand there.
    await page.waitForTimeout(1_500);
    await expect(page.getByText("is starting")).toBeVisible();
    await expect(screen(page, "unread")).toContainText("does not answer", { timeout: 20_000 });
    await expect(page.getByText("is starting")).toHaveCount(0);
    // As long as it does not answer the page stays as it is, for a file to be saved.
    await page.evaluate(() => void Object.assign(window, { isSame: true }));
    await page.waitForTimeout(4_000);
    expect(await page.evaluate(() => "isSame" in window)).toBe(true);
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).toHaveValue("2.5", { timeout: 30_000 });
});

test("where nothing can be kept the crew is told, and storage that is blocked is not called full", async ({ page }) => {
    await page.addInitScript(() => {
        Storage.prototype.getItem = () => { throw new DOMException("no", "SecurityError"); };
    });
    await page.goto("#/card");
    await expect(screen(page, "unread")).toBeVisible();
    await press(page, /^Go on with the invented demo/);
    await expect(note(page, "not-saved")).toBeVisible();
    await expect(note(page, "not-saved")).not.toContainText("full");
    await expect(figure(page, "land-by")).toHaveText(/\d/);
});

test("a full storage is told, changes nothing, and takes the edit when there is room again", async ({ page, context, host }) => {
    await open(page, "build");
    // Before the first write: a browser that has just asked how much room there is writes on without asking again.
    const before = await records(page);
    const session = await context.newCDPSession(page);
    const origin = new URL(host.url).origin;
    await session.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 1 });
    await type(lensRow(page), "Mass", "2.75");
    await expect(note(page, "not-saved")).toContainText("full");
    expect(await records(page)).toEqual(before);
    await session.send("Storage.overrideQuotaForOrigin", { origin });
    await type(lensRow(page), "Mass", "2.875");
    await kept(page, '"mass_kg":2.875');
    await expect(note(page, "not-saved")).toHaveCount(0);
    await page.reload();
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).toHaveValue("2.875");
});

test("two tabs: different records merge, the same record is told with both values, an undo is the tab's own", async ({ page, context }) => {
    test.slow();
    await open(page, "build");
    const other = await context.newPage();
    await other.goto(page.url());
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    await expect(lensRow(other).getByRole("textbox", { name: "Mass" })).toHaveValue("2.5");
    await goTo(other, "Site");
    await type(other, "Site elevation", "1234.5");
    await kept(page, '"elevation_m":1234.5');
    await press(page, /^Undo/);
    await kept(page, `"mass_kg":${lens.mass_kg}`);
    await kept(page, '"elevation_m":1234.5');

    // Both change the same field before they hear of each other.
    await goTo(other, "Build");
    const [here, there] = [page, other].map((tab) => lensRow(tab).getByRole("textbox", { name: "Mass" }));
    // At one moment by the clock: a slow machine may take longer from one to the other than the app to write.
    const at = Date.now() + 500;
    await Promise.all([typeAt(here!, "4.5", at), typeAt(there!, "5.5", at)]);
    const told = async () => [await note(page, "other-tab").count(), await note(other, "other-tab").count()];
    await expect.poll(async () => (await told()).reduce((sum, one) => sum + one)).toBe(1);
    const asking = (await told())[0] === 1 ? page : other;
    await expect(note(asking, "other-tab")).toContainText("4.5");
    await expect(note(asking, "other-tab")).toContainText("5.5");
    await press(note(asking, "other-tab"), "Keep this tab's");
    await expect(note(asking, "other-tab")).toHaveCount(0);
    const chosen = asking === page ? "4.5" : "5.5";
    await expect(here!).toHaveValue(chosen);
    await expect(there!).toHaveValue(chosen);
});

test("which setup is open is each tab's own", async ({ page, context }) => {
    await open(page, "card");
    const mass = await number(page, "all-up-mass");
    const other = await context.newPage();
    await other.goto(page.url());
    await list(other, "Setup").selectOption({ label: second.name });
    await expect.poll(() => number(other, "all-up-mass")).not.toBe(mass);
    expect(await number(page, "all-up-mass")).toBe(mass);
    await page.reload();
    expect(await number(page, "all-up-mass")).toBe(mass);
});

/** From the word on the browser holds each writing open for so long: puts are taken, and the end comes late. */
const slowToWrite = (page: Page) =>
    page.addInitScript(() => {
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (...given) {
            const asked = put.apply(this, given);
            const until = (globalThis as { slowUntil?: number }).slowUntil ?? 0;
            const hold = () => {
                if (performance.now() < until) this.get("nothing").onsuccess = hold;
            };
            hold();
            return asked;
        };
    });
const slowFor = (page: Page, ms: number) =>
    page.evaluate((ms) => void ((globalThis as { slowUntil?: number }).slowUntil = performance.now() + ms), ms);

test("a write that ends after the patience for it is told, then found, and is no other tab's edit", async ({ page, context }) => {
    test.slow();
    await slowToWrite(page);
    await open(page, "build");
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    const other = await context.newPage();
    await other.goto(page.url());
    await slowFor(page, 9_000);
    await type(lensRow(page), "Mass", "2.75");
    await expect(note(page, "not-saved")).toContainText("does not answer", { timeout: 20_000 });
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).toHaveValue("2.75");
    // With nothing typed after it, it is found as it is.
    await expect(note(page, "not-saved")).toHaveCount(0, { timeout: 30_000 });
    await kept(page, '"mass_kg":2.75');
    await expect(lensRow(other).getByRole("textbox", { name: "Mass" })).toHaveValue("2.75");

    // Edited again, and taken back, before it is known what became of it.
    await slowFor(page, 9_000);
    await type(lensRow(page), "Mass", "3.25");
    await expect(note(page, "not-saved")).toBeVisible({ timeout: 20_000 });
    await type(lensRow(page), "Mass", "3.5");
    await kept(page, '"mass_kg":3.5');
    await expect(note(page, "not-saved")).toHaveCount(0, { timeout: 30_000 });
    await press(page, /^Undo/);
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).not.toHaveValue("3.5");
    const undone = await lensRow(page).getByRole("textbox", { name: "Mass" }).inputValue();
    await kept(page, `"mass_kg":${undone}`);
    await expect(lensRow(other).getByRole("textbox", { name: "Mass" })).toHaveValue(undone);
    for (const tab of [page, other]) await expect(note(tab, "other-tab")).toHaveCount(0);
    expect(Object.keys(await records(page)).filter((key) => key.startsWith("broken/"))).toEqual([]);
});

test("a page left in the middle of a write leaves its last word, set aside by nobody", async ({ page }) => {
    // What is written is on the disk, and the page hears of it late.
    await page.addInitScript(() => {
        const { set } = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "oncomplete")!;
        Object.defineProperty(IDBTransaction.prototype, "oncomplete", {
            set(told: (event: Event) => void) {
                const late = (globalThis as { hearsLate?: boolean }).hearsLate;
                set!.call(this, late ? (event: Event) => setTimeout(() => told.call(this, event), 3_000) : told);
            },
        });
    });
    await open(page, "build");
    await type(lensRow(page), "Mass", "2.5");
    await kept(page, '"mass_kg":2.5');
    await page.evaluate(() => void ((globalThis as { hearsLate?: boolean }).hearsLate = true));
    await type(lensRow(page), "Mass", "2.75");
    await kept(page, '"mass_kg":2.75');
    await type(lensRow(page), "Mass", "2.875");
    await page.reload();
    await kept(page, '"mass_kg":2.875');
    await expect(lensRow(page).getByRole("textbox", { name: "Mass" })).toHaveValue("2.875");
    await expect(note(page, "rescue")).toHaveCount(0);
});

test.describe("on an iPhone", () => {
    test.use({ userAgent: "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 Version/18.0 Mobile/15E148 Safari/604.1" });

    test("the seven days are told once there is data of the crew's own, with the way to install", async ({ page }) => {
        await page.addInitScript(() => (StorageManager.prototype.persist = async () => false));
        await open(page, "build");
        await expect(note(page, "keeping")).toHaveCount(0);
        await type(lensRow(page), "Mass", "2.5");
        await expect(note(page, "keeping")).toContainText("not visited for seven days");
        await expect(note(page, "keeping")).toContainText("Add to Home Screen");
        await press(note(page, "keeping"), "Later");
        await expect(note(page, "keeping")).toHaveCount(0);
    });
});

for (const promises of [false, true]) {
    test(`data in no file for days ${promises ? "is told nothing where the browser promises" : "with no promise"} to keep it`, async ({ page }) => {
        await page.addInitScript((promises) => {
            StorageManager.prototype.persist = StorageManager.prototype.persisted = async () => promises;
        }, promises);
        await open(page, "build");
        await type(lensRow(page), "Mass", "2.5");
        await kept(page, '"mass_kg":2.5');
        await expect(note(page, "keeping")).toHaveCount(0);
        await page.clock.install({ time: Date.now() + 4 * 86_400_000 + 3_600_000 });
        await page.reload();
        if (promises) {
            await expect(screen(page, "build")).toBeVisible();
            await type(lensRow(page), "Mass", "2.75");
            await page.clock.runFor(1_000);
            await kept(page, '"mass_kg":2.75');
            return expect(note(page, "keeping")).toHaveCount(0);
        }
        await expect(note(page, "keeping")).toContainText("in no file for 4 days");
        await Promise.all([page.waitForEvent("download"), press(note(page, "keeping"), "Export file")]);
        await expect(note(page, "keeping")).toHaveCount(0);
    });
}
