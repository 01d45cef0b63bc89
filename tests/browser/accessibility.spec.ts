import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "./fixtures";
import { open } from "./act";
import { figure } from "./find";

for (const scheme of ["light", "dark"] as const) {
    for (const name of ["card", "build", "site", "sheet", "settings", "airborne", "log"]) {
        test(`${name}, ${scheme}: no fault that axe can find`, async ({ page }) => {
            await page.emulateMedia({ colorScheme: scheme });
            await open(page, name);
            if (name === "card") await expect(figure(page, "land-by")).toHaveText(/\d/);
            await page.evaluate(() => document.querySelectorAll("details").forEach((fold) => (fold.open = true)));
            const { violations } = await new AxeBuilder({ page }).analyze();
            expect(violations.map(({ id, nodes }) => ({ id, where: nodes.map((node) => node.html).slice(0, 3) }))).toEqual([]);
        });
    }
}
