// Samples are flown in a thread of their own; a browser that gives none, or one that breaks or is silent, changes no figure.
import type { Page } from "@playwright/test";
import { expect, test } from "./fixtures";
import { choose, open, unfold } from "./act";
import { figure } from "./find";

/** What stands in the place of the browser's threads: how each begins, and what a message does. */
type Thread = "none" | "broken" | "silent";

async function withThread(page: Page, thread: Thread): Promise<void> {
    await page.addInitScript((thread) => {
        class Stub extends EventTarget {
            onerror: ((event: Event) => void) | null = null;
            asked = 0;
            constructor() {
                super();
                if (thread === "none") throw new Error("no thread");
            }
            postMessage() {
                document.documentElement.dataset.asked = String(++this.asked);
                if (thread === "broken") setTimeout(() => this.onerror?.(new Event("error", { cancelable: true })));
            }
            terminate() {
                document.documentElement.dataset.ended = "yes";
            }
        }
        Object.defineProperty(window, "Worker", { value: Stub });
    }, thread);
}

async function figures(page: Page): Promise<string[]> {
    await open(page, "card");
    await expect(page.getByLabel("The answer")).toHaveAttribute("aria-busy", "false", { timeout: 20_000 });
    await expect(figure(page, "doubt").getByRole("listitem").first()).toContainText("%");
    const names = ["land-by", "turn-back", "flight-time", "doubt"];
    return Promise.all(names.map(async (name) => (await figure(page, name).textContent()) ?? ""));
}

test("samples are flown in one thread of their own, which stays", async ({ page }) => {
    const threads: string[] = [];
    page.on("worker", (thread) => threads.push(thread.url()));
    await figures(page);
    await unfold(page, "What if");
    await page.locator("#what-if-extra-mass").fill("2.5");
    await expect(page.getByLabel("The answer")).toHaveAttribute("aria-busy", "true");
    await expect(page.getByLabel("The answer")).toHaveAttribute("aria-busy", "false");
    expect(threads).toHaveLength(1);
    expect(threads[0]).toContain("aside");
    expect(page.workers()).toHaveLength(1);
});

for (const thread of ["none", "broken", "silent"] as const) {
    test(`the figures of the thread are those of the page: thread ${thread}`, async ({ page, context }) => {
        const expected = await figures(page);
        const alone = await context.newPage();
        await withThread(alone, thread);
        expect(await figures(alone)).toEqual(expected);
        if (thread !== "none") await expect(alone.locator("html")).toHaveAttribute("data-asked", "1");
        if (thread === "silent") await expect(alone.locator("html")).toHaveAttribute("data-ended", "yes");

        await alone.goto("#/build");
        await unfold(alone, "Over a range");
        await choose(alone, "Vary", "Payload mass");
        await expect(alone.locator("figure.plot", { hasText: "Payload mass" }).locator("polyline")).toHaveCount(5);
        await expect(figure(alone, "sweep-limits")).toContainText(/it says no: /);
        // What was given up is asked no more.
        if (thread !== "none") await expect(alone.locator("html")).toHaveAttribute("data-asked", "1");
    });
}
