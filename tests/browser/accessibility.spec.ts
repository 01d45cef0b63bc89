import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "./fixtures";
import { open, unfoldAll } from "./act";
import { figure } from "./find";

for (const scheme of ["light", "dark"] as const) {
    for (const name of ["card", "build", "site", "sheet", "packs", "day", "settings", "airborne", "log", "take"]) {
        test(`${name}, ${scheme}: no fault that axe can find`, async ({ page }) => {
            await page.emulateMedia({ colorScheme: scheme });
            await open(page, name);
            if (name === "card") await expect(figure(page, "land-by")).toHaveText(/\d/);
            await unfoldAll(page);
            const { violations } = await new AxeBuilder({ page }).analyze();
            expect(violations.map(({ id, nodes }) => ({ id, where: nodes.map((node) => node.html).slice(0, 3) }))).toEqual([]);
        });
    }
}

for (const name of ["card", "build", "site"]) {
    test(`${name} on a laptop: no fault that axe can find`, async ({ page }) => {
        await page.setViewportSize({ width: 1280, height: 800 });
        await open(page, name);
        await expect(page.locator(".flight-beside, .flight-plot").locator("figure.plot")).toBeVisible();
        await unfoldAll(page);
        const { violations } = await new AxeBuilder({ page }).analyze();
        expect(violations.map(({ id, nodes }) => ({ id, where: nodes.map((node) => node.html).slice(0, 3) }))).toEqual([]);
    });
}
