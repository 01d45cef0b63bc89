// How a picture is taken: a width, a colour scheme, a folder.
import type { Browser, Page } from "@playwright/test";
import { open } from "../act";
import { settled } from "../see";
import { expect } from "../fixtures";

/** Where they go: `cargo xtask pictures` names the folder. */
export const FOLDER = process.env.PICTURES ?? "results/pictures";

export type Scheme = "light" | "dark";

export interface Look {
    width: number;
    height: number;
    scheme: Scheme;
    /** Dots of the picture for one of the page. */
    scale?: number;
}

/** A page of that look: below 900 px a phone, or a tablet in the hand. */
export async function pageOf(browser: Browser, baseURL: string, { width, height, scheme, scale = 1 }: Look): Promise<Page> {
    const inHand = width < 900;
    const context = await browser.newContext({
        baseURL,
        viewport: { width, height },
        colorScheme: scheme,
        deviceScaleFactor: scale,
        hasTouch: inHand,
        isMobile: inHand,
        reducedMotion: "reduce",
    });
    return context.newPage();
}

/** Opens a screen and waits for the figures that stay. */
export async function show(page: Page, screen: string): Promise<void> {
    await open(page, screen);
    if (screen === "card") await settled(page);
    if (screen === "sheet") await expect(page.locator(".sheet-progress")).toHaveAttribute("data-busy", "false");
    // What is drawn once the fingers rest.
    await page.waitForTimeout(1500);
}

/** What stands in view. */
export async function inView(page: Page, name: string): Promise<void> {
    await page.screenshot({ path: `${FOLDER}/${name}.png`, animations: "disabled" });
}

/** The whole screen, in a window as high as it is: what stays in view stands once, and all of it is laid out. */
export async function whole(page: Page, name: string): Promise<void> {
    const window = page.viewportSize()!;
    // What was not in view yet has its height only once it is.
    for (let round = 0; round < 3; round += 1) {
        const height = await page.evaluate(() => document.documentElement.scrollHeight);
        await page.setViewportSize({ width: window.width, height: Math.max(height, window.height) });
        await page.waitForTimeout(300);
    }
    await inView(page, name);
    await page.setViewportSize(window);
}
