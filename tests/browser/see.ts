// What a user sees.
import { expect, type Page } from "@playwright/test";
import { figure } from "./find";

/** The first number in a figure, once the figure is there. */
export async function number(page: Page, name: string): Promise<number> {
    await expect(figure(page, name)).toHaveText(/\d/);
    return toNumber((await figure(page, name).textContent()) ?? "");
}

/** The first number in a text: groups set apart by narrow spaces, comma or point, a typographic minus. */
export function toNumber(text: string): number {
    const found = /[−-]?\d[\d\u202f]*(?:[.,]\d+)?/.exec(text);
    if (!found) throw new Error(`no number in "${text}"`);
    return Number(found[0].replaceAll("\u202f", "").replace("−", "-").replace(",", "."));
}

/** The figures that stay: the first ones are from a few flights alone and more cautious. */
export async function settled(page: Page): Promise<void> {
    await expect(page.getByRole("region", { name: "The answer", exact: true })).toHaveAttribute("aria-busy", "false");
}

/** Seconds of "9 min 40 s". */
export async function seconds(page: Page, name: string): Promise<number> {
    await expect(figure(page, name)).toHaveText(/\d/);
    return toSeconds((await figure(page, name).textContent()) ?? "");
}

/** Seconds in a text like "9 min 40 s". */
export function toSeconds(text: string): number {
    const minutes = /(\d+)\s*min/.exec(text)?.[1] ?? "0";
    const rest = /(\d+)\s*s\b/.exec(text)?.[1] ?? "0";
    return Number(minutes) * 60 + Number(rest);
}

/** Nothing on the screen is NaN, undefined or empty. */
export async function sound(page: Page): Promise<void> {
    const text = (await page.locator("main").innerText()) ?? "";
    expect(text.trim().length).toBeGreaterThan(20);
    expect(text).not.toMatch(/NaN|undefined|null|∞|\binf\b/);
}
