// Every screen at five widths, light and dark: what stands in view when it opens, and all of it, parts that fold open too.
import { test } from "../fixtures";
import { inView, pageOf, type Scheme, show, whole } from "./look";

const SIZES = [
    { width: 320, height: 568 },
    { width: 390, height: 844 },
    { width: 820, height: 1180 },
    { width: 1280, height: 800 },
    { width: 1920, height: 1080 },
];
const SCHEMES: Scheme[] = ["light", "dark"];
const SCREENS = ["card", "build", "site", "sheet", "packs", "day", "log", "airborne", "settings"];

for (const size of SIZES) {
    for (const scheme of SCHEMES) {
        test(`${size.width} px, ${scheme}`, async ({ browser, baseURL }) => {
            const page = await pageOf(browser, baseURL!, { ...size, scheme });
            for (const screen of SCREENS) {
                const name = `${size.width}-${scheme}/${screen}`;
                await show(page, screen);
                await inView(page, name);
                await whole(page, `${name}-whole`);
                await page.evaluate(() => document.querySelectorAll("main details").forEach((fold) => fold.setAttribute("open", "")));
                await page.waitForTimeout(500);
                await whole(page, `${name}-unfolded`);
            }
            await page.context().close();
        });
    }
}
