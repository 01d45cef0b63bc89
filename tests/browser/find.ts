// Where things are, by role and name as a user would look for them.
import type { Locator, Page } from "@playwright/test";

/** The element that holds a computed figure. */
export const figure = (page: Page, name: string): Locator => page.locator(`[data-figure="${name}"]`).first();

/** The root of a screen. */
export const screen = (page: Page, name: string): Locator => page.locator(`[data-screen="${name}"]`);

/** A number or text field by its label. */
export const field = (within: Page | Locator, label: string | RegExp): Locator =>
    within.getByRole("textbox", { name: label, exact: true });

/** A list to choose from by its label. */
export const list = (within: Page | Locator, label: string | RegExp): Locator =>
    within.getByRole("combobox", { name: label, exact: true });

/** A button by its name. */
export const button = (within: Page | Locator, name: string | RegExp): Locator =>
    within.getByRole("button", { name, exact: true });

/** One figure of the what-if before, after, and the change. */
export const change = (page: Page, name: string): Record<"before" | "after" | "change", Locator> => {
    const row = page.locator(`[data-delta="${name}"]`);
    return { before: row.locator(".delta-before"), after: row.locator(".delta-after"), change: row.locator(".delta-change") };
};

/** A note above the screens. */
export const note = (page: Page, name: string): Locator => page.locator(`[data-note="${name}"]`);
