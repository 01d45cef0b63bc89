// A new aircraft from nothing, on a phone, by touch, with a table pasted from a maker's sheet: touches and entries are counted.
import { readFileSync } from "node:fs";
import { expect, test } from "./fixtures";
import { open, unfold, unfoldAll } from "./act";
import { button, field, figure, screen } from "./find";
import { settled } from "./see";
import type { Locator, Page } from "@playwright/test";

const TABLE = readFileSync(new URL("../../demo-data/bench-tables/04-pdf-columns.txt", import.meta.url), "utf8");
const MOST = 30;

/** Counts what a finger does: a touch, or one field filled. */
class Finger {
    count = 0;
    constructor(private readonly page: Page) {}

    async touch(what: Locator): Promise<void> {
        this.count += 1;
        await what.first().tap();
    }

    async enter(label: string | RegExp, text: string): Promise<void> {
        this.count += 1;
        await field(this.page, label).first().fill(text);
    }

    async choose(label: string, words: string): Promise<void> {
        this.count += 1;
        await this.page.getByRole("combobox", { name: label, exact: true }).first().selectOption({ label: words });
    }
}

test("a new aircraft from nothing, with a pasted table, counted", async ({ page }) => {
    test.setTimeout(120_000);
    await open(page, "card");
    await settled(page);
    const finger = new Finger(page);
    const missing = (words: RegExp): Locator => page.locator('[data-guide="missing"]').getByRole("button", { name: words });
    await finger.touch(button(page, "Begin my own aircraft"));
    await expect(screen(page, "build")).toBeVisible();

    await finger.touch(missing(/^Airframe/));
    await finger.touch(button(page, "New airframe"));
    await finger.choose("Rotor layout", "quad X");
    await finger.enter("Mass", "9.2 kg");
    await finger.enter("Arm length", "700 mm");
    await finger.enter("Motor current limit", "100");
    await finger.enter("Speed controller current limit", "120 A");
    await finger.enter("Or paste it here", TABLE);
    await finger.touch(button(page, "Use this table"));
    await finger.touch(button(page, "Fly the rotor of the table"));
    await expect(figure(page, "fit")).toContainText("7 rows");

    await finger.touch(missing(/^Packs/));
    await finger.touch(button(page, "New pack type"));
    await finger.touch(page.locator("summary", { hasText: /^New pack$/ }));
    await finger.enter("Cells in series", "12");
    await finger.enter("Capacity", "16 Ah");
    await finger.enter("Pack mass", "4.6");
    await finger.touch(button(page, "Add a string in parallel"));

    await finger.touch(button(page, "New item"));
    await finger.enter("Name of the item", "Camera and stabiliser");
    await finger.enter("Mass", "5.5");

    await finger.touch(missing(/^Site/));
    await expect(screen(page, "site")).toBeVisible();
    await finger.touch(button(page, "New site"));
    await finger.enter("Site elevation", "650");
    await finger.enter("Outside air temperature", "18");
    await finger.enter("Mean wind", "3 m/s");
    await finger.enter("Gust", "6 m/s");

    await finger.touch(page.getByRole("navigation").getByRole("link", { name: "Card", exact: true }));
    await settled(page);
    await expect(figure(page, "land-by")).toHaveText(/\d/);
    await expect(figure(page, "assumed")).toContainText("Assumed");
    await expect(figure(page, "assumed")).not.toContainText("Motor current limit");
    console.log(`touches and entries: ${finger.count}`);
    expect(finger.count).toBeLessThanOrEqual(MOST);
});

test("what nobody has entered is marked, and is settled by one touch", async ({ page }) => {
    await open(page, "site");
    await button(page, "New site").click();
    await expect(page.locator(".assumed").first()).toBeVisible();
    await open(page, "build");
    await page.locator('[data-guide="assumed"] > summary').click();
    await button(page, "All of them are right").click();
    await expect(page.locator('[data-guide="assumed"]')).toHaveCount(0);
    await open(page, "card");
    await expect(figure(page, "assumed")).toHaveCount(0);
});

test("Site says which setups share it", async ({ page }) => {
    await open(page, "site");
    await expect(figure(page, "shared-by")).toContainText(/Shared by \d+ setups/);
});

test("a refused value stands above every screen until it is mended", async ({ page }) => {
    await open(page, "site");
    await field(page, "Mean wind").fill("much");
    for (const name of ["card", "build", "settings", "site"]) {
        await open(page, name);
        await expect(page.locator('[data-band="refused"]')).toContainText("Mean wind");
    }
});

test("a refused voltage of one string and a refused mass of the what-if stand there too, with the way to the field", async ({ page }) => {
    const band = page.locator('[data-band="refused"]');
    await open(page, "build");
    await unfoldAll(page);
    const voltage = field(page, "Rest voltage").first();
    await voltage.fill("9");
    await open(page, "card");
    await expect(band).toContainText("string 1: ");
    await unfold(page, "What if");
    await page.locator("#what-if-extra-mass").fill("heavy");
    await expect(band).toContainText("What if, extra mass");
    await open(page, "site");
    await expect(band.getByRole("button", { name: "Go to the field" })).toHaveCount(2);
    await band.getByRole("button", { name: "Go to the field" }).first().click();
    await expect(voltage).toBeFocused();
    await voltage.fill("");
    await expect(band.getByRole("button", { name: "Go to the field" })).toHaveCount(1);
});
