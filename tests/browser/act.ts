// What a user does.
import { expect, type Locator, type Page } from "@playwright/test";
import { button, field, list, screen } from "./find";

/** Opens a screen by its address. */
export async function open(page: Page, name: string): Promise<void> {
    await page.goto(`#/${name}`);
    await expect(screen(page, name)).toBeVisible();
}

/** Goes to a screen by the bar. */
export async function goTo(page: Page, name: string): Promise<void> {
    const link = page.getByRole("navigation").getByRole("link", { name, exact: true });
    const more = page.getByRole("navigation").getByRole("button", { name: /^More/ });
    if (!(await link.isVisible())) await more.click();
    await link.click();
    await expect(screen(page, name.toLowerCase())).toBeVisible();
}

/** Unfolds a part of the screen by its heading. */
export async function unfold(within: Page | Locator, heading: string | RegExp): Promise<void> {
    const summary = within.locator("summary").filter({ hasText: heading }).first();
    const isOpen = () => summary.evaluate((element) => (element.parentElement as HTMLDetailsElement).open);
    // What is drawn above it once the figures rest may push it from under the finger.
    await expect(async () => {
        if (!(await isOpen())) await summary.click();
        expect(await isOpen()).toBe(true);
    }).toPass();
}

/** Unfolds all there is to unfold: what folds, then rows that open. */
export async function unfoldAll(page: Page): Promise<void> {
    await page.evaluate(() => {
        document.querySelectorAll("details").forEach((fold) => (fold.open = true));
        document.querySelectorAll<HTMLElement>("[data-holds][aria-expanded=false]").forEach((row) => row.click());
    });
    await expect(page.locator("[data-holds][aria-expanded=false]")).toHaveCount(0);
}

/** Types into a field as a user does: key by key, over what stands there. */
export async function type(within: Page | Locator, label: string | RegExp, text: string): Promise<void> {
    const input = field(within, label).first();
    await input.click();
    await input.press("ControlOrMeta+a");
    await input.press("Delete");
    if (text !== "") await input.pressSequentially(text);
}

/** Chooses from a list by the words. */
export async function choose(within: Page | Locator, label: string | RegExp, words: string): Promise<void> {
    await list(within, label).first().selectOption({ label: words });
}

/** Presses a button. */
export async function press(within: Page | Locator, name: string | RegExp): Promise<void> {
    await button(within, name).first().click();
}

/** Every text in the database by its key, without the line that checks it. */
export const records = (page: Page): Promise<Record<string, string>> =>
    page.evaluate(
        () =>
            new Promise<Record<string, string>>((done, fail) => {
                const opening = indexedDB.open("liftmargin");
                opening.onerror = () => fail(opening.error);
                opening.onsuccess = () => {
                    const database = opening.result;
                    if (!database.objectStoreNames.contains("records")) return database.close(), done({});
                    const store = database.transaction("records").objectStore("records");
                    const [keys, texts] = [store.getAllKeys(), store.getAll()];
                    texts.onsuccess = () => {
                        database.close();
                        done(Object.fromEntries(keys.result.map((key, place) => [key, texts.result[place].split("\n").slice(1).join("\n")])));
                    };
                };
            }),
    );

/** What is kept, view state included, without the spaces between its parts. */
export const stored = async (page: Page): Promise<string> =>
    Object.values(await records(page)).join("\n") + (await page.evaluate(() => localStorage.getItem("liftmargin-view") ?? ""));

/** Waits until all changes are in storage: the app writes when the fingers rest. */
export async function kept(page: Page, part: string): Promise<void> {
    await expect.poll(() => stored(page), { timeout: 20_000 }).toContain(part);
}

/** The test's clock jumps once what was changed is on the disk: with a write in flight the patience for it would run out. */
export async function jump(page: Page, time: string | number): Promise<void> {
    let before = "";
    const atRest = async () => {
        const now = JSON.stringify(await records(page));
        const isSame = now === before;
        before = now;
        return isSame;
    };
    await expect.poll(atRest, { intervals: [400] }).toBe(true);
    await page.clock.fastForward(time);
}
