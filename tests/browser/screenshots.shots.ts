// Pictures of every screen, phone and laptop, light and dark, to be looked at. Not part of the tests:
//   npx playwright test --project=shots
import { test } from "./fixtures";
import { choose, open, unfold } from "./act";
import { heavierLens, lens } from "./demo";
import { figure } from "./find";
import { expect } from "@playwright/test";

const SIZES = { phone: { width: 390, height: 844 }, laptop: { width: 1280, height: 800 } };

for (const scheme of ["light", "dark"] as const) {
    for (const [device, viewport] of Object.entries(SIZES)) {
        for (const name of ["card", "card-what-if", "build", "build-unfolded", "site", "settings"]) {
            test(`${name} ${device} ${scheme}`, async ({ page }) => {
                await page.setViewportSize(viewport);
                await page.emulateMedia({ colorScheme: scheme });
                await open(page, name.split("-")[0]!);
                if (name.startsWith("card")) await expect(figure(page, "land-by")).toHaveText(/\d/);
                if (name === "card-what-if") {
                    await unfold(page, "What if");
                    await choose(page, lens.name, `swap for ${heavierLens.name}`);
                    await expect(page.locator('[data-delta="flight-time"] .delta-after')).toHaveText(/\d/);
                }
                if (name === "build-unfolded") {
                    await page.evaluate(() => document.querySelectorAll("details.fold").forEach((fold) => ((fold as HTMLDetailsElement).open = true)));
                }
                const folder = process.env.SHOTS ?? "results/shots";
                await page.screenshot({ path: `${folder}/${name}-${device}-${scheme}-first.png` });
                await page.screenshot({ path: `${folder}/${name}-${device}-${scheme}.png`, fullPage: true });
            });
        }
    }
}
